// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "blend/bag_salts.hpp"
#include "blend/film.hpp"
#include "ref/dry_bag_tables.hpp"

namespace bw::blend {

/// A relative humidity [% of saturation] and how it is known.
struct Humidity {
    double low = 0, high = 0;
    std::string_view mark;    ///< read, memory, computed, estimate; or model: worked out here
    std::string_view source;  ///< key of data/sources.toml
};

/// Humidity of a table row at a temperature.
/// Inputs   degC. Valid 5 to 40. Errors none. Source of each row.
[[nodiscard]] Humidity humidity_at(const ref::DeliquescenceRow& row, double celsius);
[[nodiscard]] Humidity humidity_at(const ref::HydrateStepRow& row, double celsius);

/// The row of a salt: its own hydrate, else any of its hydrates.
[[nodiscard]] const ref::DeliquescenceRow* deliquescence_row(const BagSalt& salt);

/// Salts of one pair and the humidity above which they make a common brine.
struct PairHumidity {
    std::string first, second;  ///< formulas
    Humidity humidity;
    std::optional<double> ionic_strength_mol_per_kg_water;  ///< of the model's brine
};

/// The humidities of a blend.
struct BlendHumidities {
    struct Single {
        std::string formula, name;
        Humidity humidity;
    };
    std::vector<Single> singles;  ///< lowest first
    std::vector<PairHumidity> pairs;
    std::optional<Film> at_rest;  ///< of the Na, K, Mg, Cl, SO4 salts, double salts free to form
    Humidity lowest;              ///< the blend is wet above it
    std::string lowest_of;        ///< which salts
    std::vector<std::string> traces;  ///< salts too few to rule the bag
};

/// A salt below this share of the blend is named, but does not rule it [kg/kg]; a judgement.
inline constexpr double kTraceShare = 1e-3;

/// At which humidity the salts of a blend grow wet: each alone, each pair as it lies, the mixture.
///
/// Definition   pairs: both salts dissolve whole in one film (FilmModel); calcium chloride by the
///              published table, for no parameters here hold in its brine.
/// Inputs       salts; a model of the temperature.
/// Accuracy     1 % humidity for pairs by the model, the stated range else.
/// Errors       none; a pair that is not known is left out.
[[nodiscard]] BlendHumidities blend_humidities(const BagSalts& salts, const FilmModel& model,
                                               double celsius);

}  // namespace bw::blend
