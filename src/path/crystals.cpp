// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "path/crystals.hpp"

#include <numbers>

#include "unit/factors.hpp"

namespace bw::path {
namespace {

constexpr double kGramPerMol = 100.087;  // CaCO3
constexpr double kAreaOfSphere = 4 * std::numbers::pi;
constexpr double kVolumeOfSphere = kAreaOfSphere / 3;

}  // namespace

double Crystals::area_m2_per_kg() const { return kAreaOfSphere * radius_m2; }

double Crystals::mol_per_kg(CarbonateSolid solid) const {
    return kVolumeOfSphere * radius_m3 / molar_volume_m3(solid);
}

Crystals seed(double kg_per_kg, double area_m2_per_g, CarbonateSolid solid) {
    if (!(kg_per_kg > 0)) {
        return {};
    }
    const double volume_m3_per_g = molar_volume_m3(solid) / kGramPerMol;
    const double radius = 3 * volume_m3_per_g / area_m2_per_g;
    const double volume = kg_per_kg * unit::kGramPerKg * volume_m3_per_g;
    const double number = volume / (kVolumeOfSphere * radius * radius * radius);
    return {number, number * radius, number * radius * radius, number * radius * radius * radius};
}

Crystals grown(const Crystals& c, double by) {
    return {c.number, c.radius_m + c.number * by,
            c.radius_m2 + by * (2 * c.radius_m + by * c.number),
            c.radius_m3 + by * (3 * c.radius_m2 + by * (3 * c.radius_m + by * c.number))};
}

Crystals slopes(const Crystals& c, double speed, double births) {
    return {births, c.number * speed, 2 * c.radius_m * speed, 3 * c.radius_m2 * speed};
}

double uptake_mol_per_kg_h(const Crystals& crystals, double umol_per_m2_h) {
    return crystals.area_m2_per_kg() * umol_per_m2_h * kMolPerMicromol;
}

}  // namespace bw::path
