// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/water_properties.hpp"

#include <cmath>
#include <limits>
#include <utility>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "brine/conductivity.hpp"
#include "brine/dissolved_ions.hpp"
#include "brine/practical_salinity.hpp"
#include "brine/refractive_index.hpp"
#include "brine/water_density.hpp"
#include "num/bracketed_root.hpp"

namespace bw::brine {
namespace {

constexpr double kMostByConductivity = 200;
constexpr double kTolerance_g_per_kg = 1e-9;
constexpr double kRoundOff = 1e-12;  // relative, at the upper end of the range

template <class Property>
Result<unit::GramPerKg> strength_where(const Property& property, double wanted, double most,
                                       std::string_view what) {
    BW_TRY(lowest, property(unit::GramPerKg(0)));  // checks the temperature
    const auto difference = [&](double w) {
        const auto found = property(unit::GramPerKg(w));
        return found ? found->value - wanted : std::numeric_limits<double>::quiet_NaN();
    };
    const auto root = std::isfinite(wanted)
                          ? num::bracketed_root(difference, 0, most, kTolerance_g_per_kg)
                          : std::nullopt;
    if (!root) {
        return fail(
            ProblemCode::OutOfRange,
            fmt::format("no water of this salt of up to {} g/kg has a {} of {}; pure water "
                        "has {:.7g}",
                        base::format_exact(most), what, base::format_exact(wanted), lowest.value));
    }
    return unit::GramPerKg(*root);
}

unit::PracticalSalinity as_salinity(unit::GramPerKg strength) {
    return unit::PracticalSalinity(strength.value() / kGramPerKgPerPracticalSalinity);
}

}  // namespace

Result<SaltCurve> SaltCurve::of(const matter::Amounts& mol_per_kg) {
    BW_TRY(ions, dissolved_ions(mol_per_kg));
    if (!(ions.dissolved_g_per_kg > 0)) {
        return fail(ProblemCode::OutOfRange, "a water without dissolved salt tells no salt");
    }
    matter::Amounts per_gram = mol_per_kg;
    per_gram.scale(1 / ions.dissolved_g_per_kg);
    return SaltCurve(std::move(per_gram));
}

SaltCurve SaltCurve::natural() {
    matter::Amounts per_gram = matter::reference_seawater(1);
    per_gram.scale(1 / per_gram.dissolved_mass_g());
    return SaltCurve(std::move(per_gram));
}

matter::Amounts SaltCurve::amounts(unit::GramPerKg strength) const {
    matter::Amounts out = per_gram_;
    // At the end of the range round-off must not lead out of it.
    const double w = strength.value();
    out.scale(w == kMostDissolved_g_per_kg ? w * (1 - kRoundOff) : w);
    return out;
}

Result<Estimate> SaltCurve::density(unit::GramPerKg strength, unit::Celsius t) const {
    return brine::density(amounts(strength), t);
}

Result<Estimate> SaltCurve::conductivity_mS_per_cm(unit::GramPerKg strength,
                                                   unit::Celsius t) const {
    return brine::conductivity_mS_per_cm(amounts(strength), t);
}

Result<Estimate> SaltCurve::refractive_index(unit::GramPerKg strength, unit::Celsius t) const {
    return brine::refractive_index(amounts(strength), t);
}

Result<unit::GramPerKg> SaltCurve::strength_of_density(unit::KgPerM3 density,
                                                       unit::Celsius t) const {
    return strength_where([&](unit::GramPerKg w) { return this->density(w, t); }, density.value(),
                          kMostDissolved_g_per_kg, "density in kg/m3");
}

Result<unit::GramPerKg> SaltCurve::strength_of_conductivity(double kappa_mS_per_cm,
                                                            unit::Celsius t) const {
    return strength_where([&](unit::GramPerKg w) { return conductivity_mS_per_cm(w, t); },
                          kappa_mS_per_cm, kMostByConductivity, "conductivity in mS/cm");
}

Result<unit::GramPerKg> SaltCurve::strength_of_refractive_index(double index,
                                                                unit::Celsius t) const {
    return strength_where([&](unit::GramPerKg w) { return refractive_index(w, t); }, index,
                          kMostDissolved_g_per_kg, "refractive index");
}

Result<WaterProperties> water_properties(const matter::Amounts& mol_per_kg,
                                         unit::Celsius temperature) {
    WaterProperties out;
    BW_TRY(ions, dissolved_ions(mol_per_kg));
    out.dissolved = unit::GramPerKg(ions.dissolved_g_per_kg);
    out.ionic_strength_mol_per_kg_water = ions.ionic_strength;
    BW_TRY(rho, density(mol_per_kg, temperature));
    BW_TRY(kappa, conductivity_mS_per_cm(mol_per_kg, temperature));
    BW_TRY(index, refractive_index(mol_per_kg, temperature));
    BW_TRY(expansion, thermal_expansion_per_K(mol_per_kg, temperature));
    out.density_kg_per_m3 = rho;
    out.conductivity_mS_per_cm = kappa;
    out.refractive_index = index;
    out.thermal_expansion_per_K = expansion;
    out.salinity_by_mass = as_salinity(out.dissolved);
    const SaltCurve sea = SaltCurve::natural();
    if (const auto w = sea.strength_of_density(unit::KgPerM3(rho.value), temperature)) {
        out.salinity_by_density = as_salinity(*w);
    }
    if (const auto S = salinity_of_conductivity(kappa.value, temperature)) {
        out.salinity_by_conductivity = S->salinity;
        if (S->salinity.value() > 0) {
            out.gram_per_kg_by_conductivity = ions.dissolved_g_per_kg / S->salinity.value();
        }
    }
    if (const auto w = sea.strength_of_refractive_index(index.value, temperature)) {
        out.salinity_by_refractive_index = as_salinity(*w);
    }
    return out;
}

}  // namespace bw::brine
