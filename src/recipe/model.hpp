// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "opt/linear_program.hpp"
#include "recipe/target.hpp"

namespace bw::recipe {

/// The recipe problem as a linear program.
///
/// Per kilogram of finished water, with every row divided by its target so that all numbers are
/// about 1:
///
///   goal i:    sum_j (a_ij - p_i) x_j / t_i + (p_i / t_i - 1) s - up_i + down_i - over_i + under_i
///   = 0 miss:      up_i + down_i - T_k <= 0      for every goal i with a target in priority k
///   ratio:     low * den - num - under <= 0,   num - high * den - over <= 0
///   ceiling:   sum_j (w_ij - p_i) x_j / high_i + p_i s / high_i - over_i <= s
///   cut:       sum_j (sum_i g_i (a_ij - p_i) + d_j) x_j + (sum_i g_i p_i - high) s - over <= 0
///
/// x_j doses, s the size of the batch relative to its nominal size (1 unless whole packages let it
/// swing), up and down the miss inside the band, over and under the breach of a band: held at 0
/// unless the problem is to be relaxed. All are per kilogram of water of the nominal batch, so that
/// a miss is up / s; where s may move, the band is a row, up <= (high_i / t_i - 1) s.
struct Model {
    /// A demand that may conflict with others: one goal's band, a ratio, a ceiling, the salinity.
    struct Demand {
        std::string what;    ///< "Ca between 440 and 450 mg/L"
        std::string symbol;  ///< "Ca", "Mg/Ca", "salinity"
        int priority = kDefaultPriority;
        std::vector<int> breach_columns;
        double limit_kg_per_kg = 0;  ///< of a material's least or most: what a breach of 1 is
    };
    struct Priority {
        int level = 0;
        int largest_miss = -1;    ///< column T
        std::vector<int> misses;  ///< columns up and down
        int sum_row = -1;         ///< sum of misses, free until frozen
    };

    opt::LinearProgram lp;
    std::vector<int> dose;           ///< column of each supply
    std::vector<double> dose_scale;  ///< kg per kg of finished water per unit of the column
    int size = -1;                   ///< column s
    bool swings = false;             ///< whether s may move
    std::vector<int> off_mass;       ///< columns: how far the batch is from the mass asked, over it
    std::vector<int> goal_row;       ///< row of each constituent goal
    std::vector<Demand> demands;
    std::vector<Priority> priorities;  ///< in the order in which they are served
    std::vector<double> cost;          ///< objective: money per kg of finished water, scaled
    double cost_scale = 1;
    std::vector<double> mass;       ///< objective: kg of blend
    int cost_row = -1;              ///< free until frozen
    std::vector<double> most_dose;  ///< upper bound of each dose that its goals imply [kg/kg]

    [[nodiscard]] std::vector<double> doses(const std::vector<double>& x) const;
};

struct ModelOptions {
    double size_low = 1;
    double size_high = 1;
    /// Finished water that the batch makes at size 1, when known: a stock then limits kilograms,
    /// not shares.
    std::optional<double> water_kg;
};

/// Builds the program. Supplies must be sorted by label, so that their order in the files does not
/// matter.
[[nodiscard]] Model build_model(const Target& target, const std::vector<Supply>& supplies,
                                const ModelOptions& options = {});

/// Amount by which a goal's rows are divided: a breach of 1 is this much [mol/kg].
[[nodiscard]] double reference_of(const ConstituentGoal& goal);

/// Price used for a material without one: the highest given, so that it is never chosen for being
/// unpriced; 1 per kg when none is priced.
[[nodiscard]] std::vector<double> prices_per_kg(const std::vector<Supply>& supplies);

/// "440 to 450 mg/L", "at most 3 ug/L", in the unit the user speaks of.
[[nodiscard]] std::string band_text(std::optional<double> low, std::optional<double> high,
                                    double factor, const std::string& unit);
/// "440 mg/L".
[[nodiscard]] std::string amount_text(double value, double factor, const std::string& unit);
[[nodiscard]] std::string unit_text(const unit::TypedQuantity& shown);

}  // namespace bw::recipe
