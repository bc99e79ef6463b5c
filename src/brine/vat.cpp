// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/vat.hpp"

#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "brine/practical_salinity.hpp"
#include "brine/seawater_density.hpp"
#include "unit/factors.hpp"

namespace bw::brine {
namespace {

double fraction(unit::GramPerKg w) { return w.value() / unit::kGramPerKg; }

std::string percent(double part) {
    return base::format_significant(part * unit::kPercent, 4) + " %";
}

Result<void> check_amount(double amount, std::string_view what) {
    if (!(amount > 0 && std::isfinite(amount))) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("the {} is above 0, not {}", what, base::format_exact(amount)));
    }
    return {};
}

Result<void> check_plan(unit::GramPerKg dissolved, const Blend& blend, const PurifiedWater& water) {
    if (!(blend.anhydrous_fraction > 0 && blend.anhydrous_fraction <= 1)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("the blend's anhydrous share is above 0 and at most 100 %, not {}",
                                percent(blend.anhydrous_fraction)));
    }
    if (!(fraction(dissolved) < blend.anhydrous_fraction)) {
        return fail(ProblemCode::OutOfRange, "the water wanted is stronger than the blend itself");
    }
    if (!(water.solids.value() >= 0 && water.solids.value() <= dissolved.value())) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("the purified water holds 0 to the {1} g/kg wanted, not {0} g/kg",
                                base::format_exact(water.solids.value()),
                                base::format_significant(dissolved.value(), 5)));
    }
    return {};
}

/// What is added must lie beyond the wanted water as seen from the vat.
Result<void> check_mending(double w0, double w1, double a) {
    if (w0 == w1) {
        return fail(ProblemCode::OutOfRange,
                    "the vat holds what is wanted: there is nothing to add");
    }
    if (w1 > w0 ? !(a > w1) : !(a < w1)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("adding something of {} g/kg cannot bring {} to {} g/kg",
                                base::format_significant(a * unit::kGramPerKg, 5),
                                base::format_significant(w0 * unit::kGramPerKg, 5),
                                base::format_significant(w1 * unit::kGramPerKg, 5)));
    }
    return {};
}

}  // namespace

Result<Vat> vat_of_volume(const SaltLaw& law, double litres, unit::GramPerKg dissolved,
                          unit::Celsius temperature) {
    BW_CHECK(check_amount(litres, "volume"));
    BW_TRY(rho, law.density_kg_per_m3(dissolved, temperature));
    return Vat{litres * rho / unit::kLitrePerM3, dissolved, temperature};
}

Result<double> litres_of(const SaltLaw& law, const Vat& vat) {
    BW_TRY(rho, law.density_kg_per_m3(vat.dissolved, vat.temperature));
    return vat.mass_kg / rho * unit::kLitrePerM3;
}

Result<double> litres_of_water(double kg, const PurifiedWater& water) {
    // The traces of purified water add to its density as those of seawater would.
    const unit::PracticalSalinity s(water.solids.value() * kPracticalSalinityPerGramPerKg);
    BW_TRY(rho, seawater_density(s, water.temperature));
    return kg / rho.value() * unit::kLitrePerM3;
}

Result<VatPlan> plan(const SaltLaw& law, const Vat& finished, const Blend& blend,
                     const PurifiedWater& water, double u_weighing_part) {
    BW_CHECK(check_amount(finished.mass_kg, "mass of the vat"));
    BW_CHECK(check_plan(finished.dissolved, blend, water));
    const double f = blend.anhydrous_fraction;
    const double w = fraction(finished.dissolved);
    const double s = fraction(water.solids);
    VatPlan out;
    out.finished = finished;
    BW_TRY(rho, law.density_kg_per_m3(finished.dissolved, finished.temperature));
    out.density_kg_per_m3 = rho;
    out.finished_L = finished.mass_kg / rho * unit::kLitrePerM3;
    out.blend_kg = finished.mass_kg * (w - s) / (f - s);
    out.u_blend_kg = out.blend_kg * blend.u_anhydrous_fraction / (f - s);
    out.water_kg = finished.mass_kg - out.blend_kg;
    BW_TRY(litres, litres_of_water(out.water_kg, water));
    out.water_L = litres;
    out.bound_water_kg = out.blend_kg * (1 - f);
    out.salt_from_water_kg = out.water_kg * s;
    out.blend_g_per_kg_water = out.blend_kg / out.water_kg * unit::kGramPerKg;
    out.blend_g_per_L_water = out.blend_kg / out.water_L * unit::kGramPerKg;
    out.blend_g_per_L_finished = out.blend_kg / out.finished_L * unit::kGramPerKg;
    out.salt_g_per_L_finished = finished.mass_kg * w / out.finished_L * unit::kGramPerKg;
    // By differentials of x = M (w - s)/(f - s) and y = M - x, and of x/y = (w - s)/(f - w).
    const double u_f = blend.u_anhydrous_fraction;
    out.u_water_kg = out.u_blend_kg;
    out.u_bound_water_kg = out.blend_kg * (1 - s) / (f - s) * u_f;
    out.u_per_water_part = u_f / (f - w);
    out.u_per_finished_part = u_f / (f - s);
    // w = s + (f - s) x of the blend's share x; the two weighings are independent.
    const double x = out.blend_kg / finished.mass_kg;
    const double from_blend = unit::kGramPerKg * x * blend.u_anhydrous_fraction;
    const double from_weighing =
        unit::kGramPerKg * (f - s) * x * (1 - x) * u_weighing_part * std::sqrt(2.0);
    out.u_dissolved_g_per_kg = std::hypot(from_blend, from_weighing);
    return out;
}

Result<VatPlan> plan_for_water(const SaltLaw& law, double water_kg, unit::GramPerKg dissolved,
                               unit::Celsius temperature, const Blend& blend,
                               const PurifiedWater& water, double u_weighing_part) {
    BW_CHECK(check_amount(water_kg, "mass of purified water"));
    BW_CHECK(check_plan(dissolved, blend, water));
    const double w = fraction(dissolved);
    const double added = water_kg * (w - fraction(water.solids)) / (blend.anhydrous_fraction - w);
    BW_TRY(out,
           plan(law, Vat{water_kg + added, dissolved, temperature}, blend, water, u_weighing_part));
    // Here y is given: x = y (w - s)/(f - w), and the finished water follows.
    const double f = blend.anhydrous_fraction;
    out.u_blend_kg = added * blend.u_anhydrous_fraction / (f - w);
    out.u_water_kg = 0;
    out.u_finished_kg = out.u_blend_kg;
    out.u_bound_water_kg = added * (1 - w) / (f - w) * blend.u_anhydrous_fraction;
    return out;
}

Result<Mending> mend_growing(const SaltLaw& law, const Vat& vat, double u_dissolved,
                             unit::GramPerKg wanted, const Added& added) {
    BW_CHECK(check_amount(vat.mass_kg, "mass of the vat"));
    const double w0 = fraction(vat.dissolved);
    const double w1 = fraction(wanted);
    const double a = added.dissolved_fraction;
    BW_CHECK(check_mending(w0, w1, a));
    Mending out;
    out.add_kg = vat.mass_kg * (w1 - w0) / (a - w1);
    out.u_add_kg = std::hypot(vat.mass_kg / (a - w1) * u_dissolved / unit::kGramPerKg,
                              out.add_kg / (a - w1) * added.u_dissolved_fraction);
    out.after = Vat{vat.mass_kg + out.add_kg, wanted, vat.temperature};
    BW_TRY(litres, litres_of(law, out.after));
    out.after_L = litres;
    return out;
}

Result<Mending> mend_in_place(const SaltLaw& law, const Vat& vat, double u_dissolved,
                              unit::GramPerKg wanted, const Added& added) {
    BW_CHECK(check_amount(vat.mass_kg, "mass of the vat"));
    const double w0 = fraction(vat.dissolved);
    const double w1 = fraction(wanted);
    const double a = added.dissolved_fraction;
    BW_CHECK(check_mending(w0, w1, a));
    BW_TRY(litres, litres_of(law, vat));
    BW_TRY(after, vat_of_volume(law, litres, wanted, vat.temperature));
    Mending out;
    out.after = after;
    out.after_L = litres;
    out.add_kg = after.mass_kg * (w1 - w0) / (a - w0);
    const double by_vat = after.mass_kg * (a - w1) / ((a - w0) * (a - w0));
    out.u_add_kg = std::hypot(by_vat * u_dissolved / unit::kGramPerKg,
                              out.add_kg / (a - w0) * added.u_dissolved_fraction);
    out.drain_kg = vat.mass_kg + out.add_kg - after.mass_kg;
    out.drain_L = litres * out.drain_kg / vat.mass_kg;
    return out;
}

Result<Vat> evaporate(const Vat& vat, double lost_kg) {
    const double water = vat.mass_kg * (1 - fraction(vat.dissolved));
    if (!(lost_kg >= 0 && lost_kg < water)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("a vat of {} kg of water cannot lose {} kg",
                                base::format_significant(water, 5), base::format_exact(lost_kg)));
    }
    Vat out = vat;
    out.mass_kg = vat.mass_kg - lost_kg;
    out.dissolved = unit::GramPerKg(vat.dissolved.value() * vat.mass_kg / out.mass_kg);
    return out;
}

Result<Mixed> mix(const SaltLaw& law, const std::vector<MixedIn>& waters) {
    if (waters.size() < 2) {
        return fail(ProblemCode::BadInput, "two waters or more are needed to mix");
    }
    Mixed out;
    double salt = 0;
    double heat = 0;
    double volume = 0;
    double salt_by_volume = 0;
    for (const MixedIn& water : waters) {
        const Vat& v = water.vat;
        BW_CHECK(check_amount(v.mass_kg, "mass of a water"));
        BW_TRY(litres, litres_of(water.law != nullptr ? *water.law : law, v));
        out.vat.mass_kg += v.mass_kg;
        salt += v.mass_kg * v.dissolved.value();
        heat += v.mass_kg * v.temperature.value();
        volume += litres;
        salt_by_volume += litres * v.dissolved.value();
    }
    out.vat.dissolved = unit::GramPerKg(salt / out.vat.mass_kg);
    out.vat.temperature = unit::Celsius(heat / out.vat.mass_kg);
    double variance = 0;
    for (const MixedIn& water : waters) {
        const double apart = (water.vat.dissolved - out.vat.dissolved).value();
        variance += std::pow(water.vat.mass_kg * water.u_dissolved_g_per_kg, 2) +
                    std::pow(apart * water.u_mass_kg, 2);
    }
    out.u_dissolved_g_per_kg = std::sqrt(variance) / out.vat.mass_kg;
    out.weighted_by_volume = unit::GramPerKg(salt_by_volume / volume);
    BW_TRY(litres, litres_of(law, out.vat));
    out.litres = litres;
    return out;
}

}  // namespace bw::brine
