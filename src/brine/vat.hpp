// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <vector>

#include "base/result.hpp"
#include "brine/salt_law.hpp"
#include "unit/quantity.hpp"

namespace bw::brine {

/// A dry blend: the share of its mass that dissolves as salt free of water. The rest is water of
/// hydration, moisture, and what does not dissolve (taken for water here, see plan()).
struct Blend {
    double anhydrous_fraction = 1;
    double u_anhydrous_fraction = 0;
};
struct PurifiedWater {
    unit::Celsius temperature{25};
    unit::GramPerKg solids;  ///< dissolved in it
};

/// A water in a vat. Mass and volume belong together by the law's density.
struct Vat {
    double mass_kg = 0;
    unit::GramPerKg dissolved;
    unit::Celsius temperature{25};
};
/// A vat by its volume.
/// Inputs   litres above 0. Errors OutOfRange.
[[nodiscard]] Result<Vat> vat_of_volume(const SaltLaw& law, double litres,
                                        unit::GramPerKg dissolved, unit::Celsius temperature);
/// Litres that the vat's water takes at its temperature.
[[nodiscard]] Result<double> litres_of(const SaltLaw& law, const Vat& vat);
/// Litres of purified water of a mass, its solids counted.
[[nodiscard]] Result<double> litres_of_water(double kg, const PurifiedWater& water);

struct VatPlan {
    Vat finished;
    double blend_kg = 0;
    double u_blend_kg = 0;  ///< from the blend's anhydrous fraction, as all the others
    double water_kg = 0;
    double u_water_kg = 0;  ///< 0 where the purified water is given
    double water_L = 0;     ///< at its own temperature
    double finished_L = 0;
    double bound_water_kg = 0;  ///< water that the blend brings
    double u_bound_water_kg = 0;
    double u_finished_kg = 0;  ///< 0 where the finished water is given
    double salt_from_water_kg = 0;
    double density_kg_per_m3 = 0;
    double blend_g_per_kg_water = 0;
    double blend_g_per_L_water = 0;
    double blend_g_per_L_finished = 0;
    double salt_g_per_L_finished = 0;  ///< free of water
    double u_per_water_part = 0;       ///< parts of the rates per purified water
    double u_per_finished_part = 0;    ///< parts of the rate per finished water
    double u_dissolved_g_per_kg = 0;   ///< of the finished water: blend and weighing
};

/// What to weigh for a vat of a given mass, dissolved mass and temperature.
///
/// Definition   blend x, purified water y of solids s: x + y = M and f x + s y = w M.
/// Inputs       finished water; blend with 0 < f <= 1; purified water; relative standard
///              uncertainty of each weighing.
/// Valid        w below f, and not below s.
/// Accuracy     a balance of mass, exact; masses are those in vacuum: weighed in air, water shows
///              0.10 % and salt 0.04 % too little, 0.06 % of the ratio.
/// Errors       OutOfRange.
/// Source       conservation of mass.
/// Deviates     what does not dissolve counts as water.
[[nodiscard]] Result<VatPlan> plan(const SaltLaw& law, const Vat& finished, const Blend& blend,
                                   const PurifiedWater& water, double u_weighing_part = 0);

/// The same when it is the purified water that is given. Inputs kg of purified water.
[[nodiscard]] Result<VatPlan> plan_for_water(const SaltLaw& law, double water_kg,
                                             unit::GramPerKg dissolved, unit::Celsius temperature,
                                             const Blend& blend, const PurifiedWater& water,
                                             double u_weighing_part = 0);

/// How a vat is brought from what it holds to what it should: something is added, and either the
/// vat grows or as much is drained first as keeps its volume.
struct Mending {
    double drain_kg = 0, drain_L = 0;
    double add_kg = 0;
    /// From the vat's and the added matter's dissolved mass. What is drained, or what the vat grows
    /// to, has the same: the vat's own mass counts as exact.
    double u_add_kg = 0;
    Vat after;
    double after_L = 0;
};
struct Added {
    double dissolved_fraction = 0;  ///< kg/kg: f of a blend, w of a concentrate, s of water
    double u_dissolved_fraction = 0;
};

/// Definition   growing: x = M (w1 - w0) / (a - w1). Fixed volume V: M1 = rho1 V,
///              x = M1 (w1 - w0) / (a - w0), drained M0 + x - M1, before adding.
/// Inputs       vat, standard uncertainty of its dissolved mass (g/kg), wanted dissolved mass, and
///              what is added, a above w1 for a weak vat and below for a strong one.
/// Accuracy     a balance of mass, exact, of the law's density for a fixed volume.
/// Errors       OutOfRange, also when what is added cannot get there or there is nothing to mend.
/// Source       conservation of mass.
/// Deviates     the temperature is taken to be the same before and after.
[[nodiscard]] Result<Mending> mend_growing(const SaltLaw& law, const Vat& vat, double u_dissolved,
                                           unit::GramPerKg wanted, const Added& added);
[[nodiscard]] Result<Mending> mend_in_place(const SaltLaw& law, const Vat& vat, double u_dissolved,
                                            unit::GramPerKg wanted, const Added& added);

/// A vat that lost pure water to the air.
/// Definition   w1 = w0 M / (M - lost); the top-up is as much purified water.
/// Inputs       kg lost, 0 to less than the vat's water. Errors OutOfRange.
[[nodiscard]] Result<Vat> evaporate(const Vat& vat, double lost_kg);

/// One of the waters that are mixed, with standard uncertainties.
struct MixedIn {
    Vat vat;
    double u_mass_kg = 0;
    double u_dissolved_g_per_kg = 0;
    const SaltLaw* law = nullptr;  ///< of its own salt; that of the mixture where there is none
};
struct Mixed {
    Vat vat;  ///< temperature by mass, heats taken as equal
    double u_dissolved_g_per_kg = 0;
    double litres = 0;
    unit::GramPerKg weighted_by_volume;  ///< what weighting by volume would have said
};
/// Definition   w = sum(M w) / sum(M); u(w) by first order, the waters independent.
/// Inputs       the law of the mixture; two waters or more, each by its own law where it has one.
/// Accuracy     exact in mass; heats of mixing left out.
/// Errors       BadInput for fewer than two, OutOfRange.
[[nodiscard]] Result<Mixed> mix(const SaltLaw& law, const std::vector<MixedIn>& waters);

}  // namespace bw::brine
