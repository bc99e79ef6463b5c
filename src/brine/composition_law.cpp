// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/composition_law.hpp"

#include <cmath>
#include <utility>

#include "brine/natural_seawater.hpp"
#include "brine/practical_salinity.hpp"

namespace bw::brine {
namespace {

constexpr unit::GramPerKg kUsual{35};
constexpr unit::Celsius kRoom{25};

double beyond(double all, double formula) {
    return std::sqrt(std::max(0.0, all * all - formula * formula));
}

}  // namespace

Result<CompositionLaw> CompositionLaw::of(const matter::Amounts& mol_per_kg, std::string name) {
    BW_TRY(curve, SaltCurve::of(mol_per_kg));
    BW_TRY(density, curve.density(kUsual, kRoom));
    BW_TRY(conductivity, curve.conductivity_mS_per_cm(kUsual, kRoom));
    BW_TRY(index, curve.refractive_index(kUsual, kRoom));
    CompositionLaw out(curve, std::move(name));
    const LawUncertainty formula = out.formula();
    out.composition_ = {
        beyond(density.standard_uncertainty, formula.density_kg_per_m3),
        beyond(conductivity.standard_uncertainty / conductivity.value, formula.conductivity_part),
        beyond(index.standard_uncertainty, formula.refractive_index)};
    return out;
}

Result<double> CompositionLaw::density_kg_per_m3(unit::GramPerKg dissolved,
                                                 unit::Celsius temperature) const {
    BW_TRY(found, curve_.density(dissolved, temperature));
    return found.value;
}

Result<double> CompositionLaw::conductivity_mS_per_cm(unit::GramPerKg dissolved,
                                                      unit::Celsius temperature) const {
    BW_TRY(found, curve_.conductivity_mS_per_cm(dissolved, temperature));
    return found.value;
}

Result<double> CompositionLaw::refractive_index(unit::GramPerKg dissolved,
                                                unit::Celsius temperature) const {
    BW_TRY(found, curve_.refractive_index(dissolved, temperature));
    return found.value;
}

Result<unit::PracticalSalinity> CompositionLaw::practical_salinity_of(
    unit::GramPerKg dissolved) const {
    BW_TRY(conductivity, curve_.conductivity_mS_per_cm(dissolved, kRoom));
    BW_TRY(reading, salinity_of_conductivity(conductivity.value, kRoom));
    return reading.salinity;
}

unit::GramPerKg CompositionLaw::highest() const {
    constexpr double kHighest = 50;
    return unit::GramPerKg(kHighest);
}

LawUncertainty CompositionLaw::formula() const { return NaturalSeawater().formula(); }

}  // namespace bw::brine
