// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/water_notices.hpp"

#include <cmath>
#include <string>

#include <fmt/format.h>

#include "unit/factors.hpp"

namespace bw::brine {
namespace {

void note_stand_ins(const WaterState& state, const Speciation<double>& s, base::Notices& out) {
    std::string names;
    for (const ConstituentState& c : state.constituents) {
        if (c.stand_in) {
            names += (names.empty() ? "" : ", ") + std::string(c.constituent.symbol());
        }
    }
    if (names.empty()) {
        return;
    }
    double strength = 0;
    for (const Total t : kOtherTotals) {
        const int z = kTotalFacts[index(t)].charge;
        strength += 0.5 * z * z * s.conditions.molal[index(t)];
    }
    const double share = strength / std::max(s.conditions.formal_strength, 1e-12);
    constexpr double kMuch = 0.01;
    out.push_back(
        {share > kMuch ? "stand_in_much" : "stand_in",
         fmt::format("The interaction sets do not hold {}; each acts here like potassium, "
                     "magnesium, bromide or sulfate, whichever has its charge.{}",
                     names,
                     share > kMuch ? fmt::format(" They make {:.1f} % of the ionic strength: read "
                                                 "activities and saturation with care.",
                                                 unit::kPercent * share)
                                   : "")});
}

void note_buffers(const matter::Amounts& amounts, base::Notices& out) {
    for (const std::string_view symbol : {"tris", "citrate", "EDTA", "organic", "NH4"}) {
        const matter::Constituent c = matter::constituent(symbol);
        constexpr double kWorthSaying = 1e-6;
        if (amounts[c] > kWorthSaying) {
            out.push_back({"buffer_not_modelled",
                           fmt::format("The acid-base balance leaves out {}: pH and what hangs on "
                                       "it are those of the water without it.",
                                       symbol)});
        }
    }
}

void note_ranges(const WaterInput& input, const Speciation<double>& s, base::Notices& out) {
    const double t = input.temperature.value();
    const Conditions<double>& c = s.conditions;
    if (c.field_share > 0) {
        const unit::PracticalSalinity salinity{c.salinity};
        constexpr double kLow = 5;
        if (c.salinity < kLow) {
            out.push_back({"weak_water",
                           fmt::format("Strength of a water of salinity {:.1f}: below 5 the acid "
                                       "constants pass from those measured in seawater to the "
                                       "ion-interaction model alone.",
                                       c.salinity)});
        } else if (!in_range(SeawaterConstant::Carbonic, salinity, input.temperature, input.fits)) {
            out.push_back(
                {"carbonic_range",
                 input.fits.carbonic == CarbonicFit::Lueker2000
                     ? fmt::format("Carbonic acid was measured by Lueker et al. (2000) at salinity "
                                   "19 to 43 and 2 to 35 degC; this water ({:.1f}, {:g} degC) lies "
                                   "outside{}.",
                                   c.salinity, t,
                                   c.salinity < kLuekerLow || c.salinity > kLuekerHigh
                                       ? ", and the constants of Waters et al. (2014) are used"
                                       : "; the fit is extended")
                     : fmt::format("This water ({:.1f}, {:g} degC) lies outside the range of the "
                                   "chosen constants of carbonic acid.",
                                   c.salinity, t)});
        }
    }
    if (c.brine_share > 0) {
        out.push_back(
            {"brine",
             fmt::format(
                 "Ionic strength of the strong ions {:.2f} mol/kg-water: {} Calcium carbonate in "
                 "such brines is "
                 "known to a factor of 1.5 only.",
                 c.formal_strength,
                 c.brine_share < 1
                     ? "between the two sets of ion-interaction parameters, which are joined."
                     : "the brine set of ion-interaction parameters alone.")});
    }
    if (c.molal[index(Total::P)] > 0 || c.molal[index(Total::Si)] > 0) {
        out.push_back({"weak_traces",
                       "Phosphate and silicate follow constants of seawater of the same strength; "
                       "saturation of phosphates is known only to an order of magnitude."});
    }
}

/// Above one atmosphere the gas leaves in bubbles; usually a unit of carbon is mixed up.
void note_gas(const WaterState& state, base::Notices& out) {
    if (state.partial_pressure_co2_atm > 1 + 1e-9) {
        out.push_back(
            {"co2_above_one_atmosphere",
             fmt::format("CO2 presses with {:.3g} atm, so that it would leave in bubbles: "
                         "check carbon and its unit, and pH.",
                         state.partial_pressure_co2_atm)});
    }
}

void note_charge(const WaterState& state, base::Notices& out) {
    constexpr double kWorthSaying = 0.5;  // percent
    if (std::abs(state.charge_balance_percent) > kWorthSaying) {
        out.push_back(
            {"charge_balance",
             fmt::format("Charges do not balance: {:.2f} % more {}. An ion is missing or one "
                         "is wrong; all else is uncertain by as much.",
                         std::abs(state.charge_balance_percent),
                         state.charge_balance_percent > 0 ? "positive than negative"
                                                          : "negative than positive")});
    }
}

}  // namespace

base::Notices water_notices(const WaterInput& input, const matter::Amounts& amounts,
                            const Speciation<double>& s, const WaterState& state) {
    base::Notices out;
    note_ranges(input, s, out);
    note_stand_ins(state, s, out);
    note_buffers(amounts, out);
    note_gas(state, out);
    note_charge(state, out);
    return out;
}

}  // namespace bw::brine
