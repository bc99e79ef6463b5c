// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <functional>
#include <string>
#include <vector>

#include "path/order.hpp"
#include "path/pile.hpp"
#include "service/path_run.hpp"

namespace bw::service {

/// What one way of making the vat comes to.
struct WayResult {
    std::string name;
    bool run = false;           ///< false: the integrator could not finish, or never began
    double peak_aragonite = 0;  ///< largest Omega until the vat is mixed
    std::string worst_solid;    ///< the one with the largest score
    double worst_peak = 0;      ///< its largest Omega
    double score_h = 0;         ///< of that solid, until a step after the last addition
    path::Risk risk = path::Risk::Clear;
    path::SafeTime safe;
    double omega_at_end = 0;
};

/// A vat of the grid.
struct GridCell {
    std::size_t order;
    double celsius;
    double seed_mg_per_kg;
    WayResult result;
};

/// A strong solution of some of the parts, as when supplements are poured together.
struct Concentrate {
    std::string name;
    double strength = 0;                    ///< times that of the finished vat
    std::optional<double> omega_aragonite;  ///< nothing where the model does not reach
    std::optional<double> minutes_to_onset;
    double brucite = 0, gypsum = 0;
};

/// Water that comes onto salt: the brine between the grains at W kg of water per kg of salt.
struct PileRow {
    double kg_water_per_kg_salt = 0;
    bool in_model = false;
    double omega_aragonite = 0, omega_gypsum = 0, omega_celestite = 0, fugacity_co2_atm = 0;
};

struct PathComparison {
    std::string recipe;
    bool invented = false;
    path::VatPlan plan;
    double keep_h = 24, air_pressure_atm = 420e-6;
    double step_h = 0.5, pour_h = 1.0 / 3, warm_celsius = 28;
    WayResult salt_into_water, water_onto_salt;
    std::vector<PileRow> pile;
    std::vector<WayResult> orders;        ///< best first
    std::size_t orders_alike = 0;         ///< of them, from the first, no worse than it
    std::vector<WayResult> temperatures;  ///< kept at them
    WayResult cool_then_warm, warm_from_start;
    WayResult open, closed;
    std::vector<WayResult> carbonate;  ///< all hydrogencarbonate, as the recipe, neutral, half
    std::optional<double> neutral_carbonate_share;
    std::vector<Concentrate> concentrates;
    std::vector<GridCell> grid;
    base::Notices notices;
};

inline constexpr std::array kComparedTemperatures{20.0, 23.0, 25.0, 28.0};
inline constexpr std::array kComparedSeeds{0.0, 0.01, 0.1, 1.0, 10.0};

struct PathCompareRequest {
    PathRequest run;
    double step_h = 0.5;       ///< between two additions
    double pour_h = 1.0 / 3;   ///< in which the water comes onto the salt
    double warm_celsius = 28;  ///< of the tank that the water is for
    /// Called now and then, from any thread, one at a time, with the share done; false calls the
    /// comparison off.
    std::function<bool(double)> progress;
};

/// The ways of making one recipe's vat, side by side.
///
/// Definition   runs as in path_run, held at the vat's temperature unless the plan drifts. Orders
/// are ranked by their verdict, then by the largest product, over
///              the path and the solids, of ln(S / critical) and the time at S or above
///              (path::exposures), to 0.05 h: what 10 % of Omega make in half an hour. Water onto
///              salt: path::pile_path, W rising evenly over the pour, from where the model begins.
/// Errors       those of path_run.
/// Complexity   some 180 runs on all cores.
[[nodiscard]] Result<PathComparison> path_compare(const PathCompareRequest& request);

}  // namespace bw::service
