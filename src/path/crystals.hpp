// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "path/growth.hpp"

namespace bw::path {

/// Crystals in a kilogram of something, as moments of their radii; taken for spheres.
///
/// Definition   the k-th moment is the sum of radius^k. Faces that move outwards at one speed G for
///              all sizes give d(mu_k)/dt = k mu_(k-1) G, whatever the sizes are.
struct Crystals {
    double number = 0;     ///< per kg
    double radius_m = 0;   ///< sum of radii, m/kg
    double radius_m2 = 0;  ///< sum of squares, m2/kg
    double radius_m3 = 0;  ///< sum of cubes, m3/kg

    [[nodiscard]] double area_m2_per_kg() const;
    [[nodiscard]] double mol_per_kg(CarbonateSolid solid) const;
};

/// Seed of one size, of so many kg per kg and m2 per g of solid.
///
/// Inputs   both at least 0; area above 0 where there is seed. An area of 2 m2/g, as of a fine
///          powder, means a radius of 0.5 um: an assumption where nothing was measured.
[[nodiscard]] Crystals seed(double kg_per_kg, double area_m2_per_g, CarbonateSolid solid);
inline constexpr double kSeedArea_m2_per_g = 2;

/// The crystals after every face has moved outwards by so much: exact, for any course of speed.
/// Inputs   m, at least 0.
[[nodiscard]] Crystals grown(const Crystals& crystals, double by_m);

/// Changes per hour of the moments while faces move at a speed and crystals are born of radius 0.
/// Inputs   m/h, per kg and h.
[[nodiscard]] Crystals slopes(const Crystals& crystals, double speed_m_per_h,
                              double births_per_kg_h = 0);

/// What growth takes from the water [mol of Ca and of carbon, and half the eq of alkalinity, per
/// kg and h], at a rate of growth [umol m-2 h-1].
[[nodiscard]] double uptake_mol_per_kg_h(const Crystals& crystals, double umol_per_m2_h);

}  // namespace bw::path
