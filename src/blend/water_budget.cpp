// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "blend/water_budget.hpp"

#include <algorithm>

namespace bw::blend {
namespace {

constexpr double kWaterGPerMol = 18.0153;
constexpr double kNothing = 1e-9;

/// Waters of the salt between the two ends of a step.
double above(const BagSalt& salt, const ref::HydrateStepRow& step) {
    return std::clamp(salt.waters - step.lower, 0.0, step.upper - step.lower);
}

}  // namespace

BlendWater blend_water(const BagSalts& bag, const BlendHumidities& humidities,
                       double ingress_g_per_kg, double celsius) {
    BlendWater out;
    out.loose = bag.loose_water_g_per_kg;
    out.ingress = ingress_g_per_kg;
    const double lowest = humidities.lowest.low;
    for (const BagSalt& salt : bag.salts) {
        for (const ref::HydrateStepRow& step : ref::hydrate_steps()) {
            if (step.salt != salt.dry) {
                continue;
            }
            const Humidity humidity = humidity_at(step, celsius);
            const double there = above(salt, step);
            const double room = step.upper - step.lower - there;
            if (humidity.low > lowest && there > kNothing) {
                const double grams = salt.mol_per_kg * there * kWaterGPerMol;
                (step.slow != 0 ? out.released_slowly : out.released) += grams;
                out.givers.push_back({salt.formula, step.lower + there, step.lower, grams,
                                      step.slow != 0, humidity});
            }
            if (step.counted != 0 && humidity.high < lowest && room > kNothing) {
                const double grams = salt.mol_per_kg * room * kWaterGPerMol;
                out.capacity += grams;
                out.takers.push_back({salt.formula, step.lower + there, step.upper, grams,
                                      step.slow != 0, humidity});
            }
        }
    }
    return out;
}

std::vector<Wetting> wettings(const BagSalts& bag, const BlendHumidities& humidities,
                              double celsius) {
    std::vector<Wetting> out;
    const auto dry_of = [](const std::string& formula) {
        return formula.substr(0, formula.find('.'));
    };
    for (const BagSalt& giver : bag.salts) {
        for (const ref::HydrateStepRow& step : ref::hydrate_steps()) {
            const bool gives = step.salt == giver.dry && step.slow == 0 &&
                               above(giver, step) > kNothing && giver.kg_per_kg >= kTraceShare;
            if (!gives) {
                continue;
            }
            const Humidity below = humidity_at(step, celsius);
            for (const auto& single : humidities.singles) {
                if (dry_of(single.formula) != giver.dry && single.humidity.low < below.low) {
                    out.push_back({giver.formula, single.formula, below, single.humidity});
                }
            }
            for (const PairHumidity& pair : humidities.pairs) {
                const bool own =
                    dry_of(pair.first) == giver.dry || dry_of(pair.second) == giver.dry;
                const bool chlorides =
                    pair.humidity.mark != "model";  // calcium with magnesium, sodium
                if (!own && chlorides && pair.humidity.low < below.low) {
                    out.push_back(
                        {giver.formula, pair.first + " with " + pair.second, below, pair.humidity});
                }
            }
        }
    }
    return out;
}

}  // namespace bw::blend
