// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/calibration_fluid.hpp"

#include <array>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "brine/bracket.hpp"
#include "brine/nacl_law.hpp"
#include "brine/practical_salinity.hpp"
#include "brine/refractometer_dial.hpp"
#include "brine/temperature_scale.hpp"
#include "unit/factors.hpp"

namespace bw::brine {
namespace {

constexpr double kMolarMassKCl = 39.0983 + 35.45;  // [ciaaw-2021]

// Conductivity, uS/cm, of 0.01, 0.1 and 1 mol per kg of water at 15, 20, 25, 30 degC [pratt-2001].
constexpr std::array kKclMolality = {0.01, 0.1, 1.0};
constexpr std::array kKclCelsius = {15.0, 20.0, 25.0, 30.0};
constexpr std::array<std::array<double, 3>, 4> kKcl = {{{1141.45, 10437.1, 89900},
                                                        {1273.03, 11615.9, 99170},
                                                        {1408.23, 12824.6, 108620},
                                                        {1546.63, 14059.2, 118240}}};

template <std::size_t N>
double through(const std::array<double, N>& xs, const std::array<double, N>& ys, double x) {
    double sum = 0;
    for (std::size_t i = 0; i < N; ++i) {
        double term = ys[i];
        for (std::size_t j = 0; j < N; ++j) {
            term *= i == j ? 1 : (x - xs[j]) / (xs[i] - xs[j]);
        }
        sum += term;
    }
    return sum;
}

double kcl_by_table(double molality, double celsius) {
    std::array<double, kKclMolality.size()> roots{};
    std::array<double, kKclCelsius.size()> at{};
    for (std::size_t i = 0; i < roots.size(); ++i) {
        roots[i] = std::sqrt(kKclMolality[i]);
    }
    for (std::size_t t = 0; t < at.size(); ++t) {
        std::array<double, kKclMolality.size()> over_molality{};
        for (std::size_t i = 0; i < roots.size(); ++i) {
            over_molality[i] = kKcl[t][i] / kKclMolality[i] / unit::kGramPerKg;
        }
        at[t] = through(roots, over_molality, std::sqrt(molality)) * molality;
    }
    return through(kKclCelsius, at, celsius);
}

double kcl_molality(double g_per_kg) {
    return g_per_kg / kMolarMassKCl / (1 - g_per_kg / unit::kGramPerKg);
}

/// The property that sets the instrument, of the salt's water and of the fluid.
enum class Sets { Index, Density, Conductivity };

Result<Sets> property_set(const Instrument& instrument) {
    if (std::holds_alternative<WeighedIn>(instrument)) {
        return fail(ProblemCode::BadInput, "weighing in needs no calibration fluid");
    }
    if (std::holds_alternative<Refractometer>(instrument)) {
        return Sets::Index;
    }
    return std::holds_alternative<Hydrometer>(instrument) ||
                   std::holds_alternative<DensityMeter>(instrument)
               ? Sets::Density
               : Sets::Conductivity;
}

Result<double> value_of(Sets sets, const SaltLaw& law, double w, unit::Celsius t) {
    const unit::GramPerKg dissolved(w);
    if (sets == Sets::Density) {
        return law.density_kg_per_m3(dissolved, t);
    }
    if (sets == Sets::Conductivity) {
        return law.conductivity_mS_per_cm(dissolved, t);
    }
    // Above that of water, for the instrument was zeroed there.
    BW_TRY(n, law.refractive_index(dissolved, t));
    BW_TRY(water, law.refractive_index(unit::GramPerKg(0), t));
    return n - water;
}

double uncertainty_of(Sets sets, const LawUncertainty& u, double value) {
    return sets == Sets::Density        ? u.density_kg_per_m3
           : sets == Sets::Conductivity ? u.conductivity_part * value
                                        : u.refractive_index;
}

Result<double> fluid_value(Sets sets, FluidSalt salt, double w, unit::Celsius t) {
    if (salt == FluidSalt::PotassiumChloride) {
        return kcl_conductivity_mS_per_cm(unit::GramPerKg(w), t);
    }
    return value_of(sets, NaclBrine(), w, t);
}

Result<double> strength_for(Sets sets, FluidSalt salt, double value, unit::Celsius t) {
    const bool kcl = salt == FluidSalt::PotassiumChloride;
    const double low = kcl ? 0.8 : 0;
    const double high = kcl ? 69 : kHighestBrineGramPerKg;
    const auto of = [&](double w) { return fluid_value(sets, salt, w, t); };
    BW_TRY(least, of(low));
    BW_TRY(most, of(high));
    if (!(value >= least && value <= most)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("no such fluid of {} to {} g/kg imitates this water",
                                base::format_exact(low), base::format_exact(high)));
    }
    return bracketed_root(of, value, {low, least}, {high, most});
}

void add_notices(CalibrationFluid& fluid, Sets sets, const WeighedSalt& salt, unit::Celsius t) {
    fluid.notices.push_back(
        {"one_instrument_only",
         "This fluid serves this kind of instrument only: index, density and conductivity of a "
         "single salt equal those of a sea salt at three different strengths."});
    if (sets == Sets::Conductivity) {
        fluid.notices.push_back(
            {"temperature_of_use", fmt::format("Set the meter in it at {} degC: elsewhere its "
                                               "conductivity goes with temperature otherwise than "
                                               "that of the water.",
                                               base::format_exact(t.value()))});
    }
    if (salt.salt == FluidSalt::PotassiumChloride) {
        // A ten-thousandth of it is 0.003 of salinity, beneath the budget's 0.15 % of conductivity.
        constexpr double kSamePart = 1e-4;
        const bool same = std::abs(fluid.strength.value() / kKclStandardGramPerKg - 1) < kSamePart;
        fluid.notices.push_back(
            {"kcl_standard",
             same
                 ? "This is the potassium chloride standard of practical salinity."
                 : "The potassium chloride standard of practical salinity, 32.4356 g/kg, stands "
                   "for 35 "
                   "at 15 degC (IPTS-68) only: at 25 degC a meter shows 34.4 in it. It is not this "
                   "fluid."});
    }
    fluid.notices.push_back(
        {"buoyancy",
         fmt::format("Weighed in air without correction the fluid comes out {} g/kg weaker; both "
                     "masses here are those in vacuum.",
                     base::format_significant(-fluid.buoyancy_g_per_kg, 2))});
}

/// The property wanted, and how it goes with the strength of the water and of the fluid.
struct Meeting {
    double value = 0, per_water = 0, per_fluid = 0;
};

void add_budget(CalibrationFluid& out, Sets sets, const SaltLaw& law, const WeighedSalt& salt,
                const Meeting& at, double u_weighing_part) {
    const double strength = out.strength.value();
    const double weighing =
        strength * (1 - strength / unit::kGramPerKg) * u_weighing_part * std::sqrt(2.0);
    const double purity =
        std::hypot(salt.u_assay / salt.assay, salt.u_moisture / (1 - salt.moisture));
    const double assay = strength * purity;
    out.u_salt_g = out.salt_g * purity;
    out.u_strength_g_per_kg = std::hypot(weighing, assay);
    constexpr double kKclPart = 0.0015;
    const LawUncertainty of_fluid = salt.salt == FluidSalt::PotassiumChloride
                                        ? LawUncertainty{0, kKclPart, 0}
                                        : NaclBrine().formula();
    const double fluid = std::hypot(uncertainty_of(sets, of_fluid, at.value),
                                    sets == Sets::Index ? kTwoLaboratories : 0);
    out.budget = {
        {"weighing", weighing * at.per_fluid / at.per_water},
        {"assay", assay * at.per_fluid / at.per_water},
        {"fluid", fluid / at.per_water},
        {"formula", uncertainty_of(sets, law.formula(), at.value) / at.per_water},
        {"composition", uncertainty_of(sets, law.composition(), at.value) / at.per_water}};
    for (const BudgetPart& p : out.budget) {
        out.u_stands_for_g_per_kg = std::hypot(out.u_stands_for_g_per_kg, p.g_per_kg);
    }
}

}  // namespace

Result<double> kcl_conductivity_mS_per_cm(unit::GramPerKg dissolved, unit::Celsius temperature) {
    const double w = dissolved.value();
    const double t = temperature.value();
    constexpr double kLeast = 0.75;
    constexpr double kMost = 69.3;
    if (!(w >= kLeast && w <= kMost) || !(t >= kKclCelsius.front() && t <= kKclCelsius.back())) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("the conductivity of potassium chloride is known from 0.8 to 69 "
                                "g/kg and 15 to 30 degC, not for {} g/kg at {} degC",
                                base::format_significant(w, 5), base::format_exact(t)));
    }
    constexpr double kT90OfT68Fifteen = 15 / kIpts68PerIts90;
    const double standard = kcl_by_table(kcl_molality(kKclStandardGramPerKg), kT90OfT68Fifteen);
    return kcl_by_table(kcl_molality(w), t) * kConductivityAt35_mS_per_cm / standard;
}

Result<CalibrationFluid> calibration_fluid(const SaltLaw& law, const Instrument& instrument,
                                           unit::GramPerKg dissolved, unit::Celsius temperature,
                                           const WeighedSalt& salt, double fluid_g,
                                           double u_weighing_part) {
    BW_TRY(sets, property_set(instrument));
    const bool kcl = salt.salt == FluidSalt::PotassiumChloride;
    if (kcl && sets != Sets::Conductivity) {
        return fail(ProblemCode::BadInput,
                    "potassium chloride sets meters of conductivity only: take sodium chloride");
    }
    if (!(fluid_g > 0) || !(salt.assay > 0 && salt.assay <= 1) ||
        !(salt.moisture >= 0 && salt.moisture < 1)) {
        return fail(ProblemCode::OutOfRange,
                    "the amount of fluid and the assay are above 0, the assay at most 100 % and "
                    "the moisture below 100 %");
    }
    const auto* optical = std::get_if<Refractometer>(&instrument);
    const unit::Celsius t = optical != nullptr && optical->compensated ? kDialCelsius : temperature;
    BW_TRY(value, value_of(sets, law, dissolved.value(), t));
    BW_TRY(strength, strength_for(sets, salt.salt, value, t));
    constexpr double kStep = 0.01;
    const bool at_the_end = dissolved.value() + kStep > law.highest().value();
    const double step = at_the_end ? -kStep : kStep;
    BW_TRY(moved, value_of(sets, law, dissolved.value() + step, t));
    BW_TRY(fluid_moved, fluid_value(sets, salt.salt, strength + step, t));
    const double slope = (moved - value) / step;
    const double fluid_slope = (fluid_moved - value) / step;

    CalibrationFluid out;
    out.strength = unit::GramPerKg(strength);
    const double part = strength / unit::kGramPerKg;
    const double pure = salt.assay * (1 - salt.moisture);
    out.salt_g = fluid_g * part / pure;
    out.water_g = fluid_g - out.salt_g;
    if (!(out.water_g > 0)) {
        return fail(ProblemCode::OutOfRange,
                    "the salt as weighed is weaker than the fluid it should make");
    }
    BW_TRY(shows, expected_reading(law, instrument, dissolved, temperature));
    out.shows = shows;
    add_budget(out, sets, law, salt, {value, slope, fluid_slope}, u_weighing_part);
    // Air lifts water by 0.105 % of what brass-calibrated scales show, salt by 0.041 %.
    constexpr double kWaterLift = 0.00105;
    constexpr double kSaltLift = 0.00041;
    out.buoyancy_g_per_kg = strength * (1 - part) * (kSaltLift - kWaterLift);
    add_notices(out, sets, salt, temperature);
    return out;
}

}  // namespace bw::brine
