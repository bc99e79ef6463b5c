// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "path/onset.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/result.hpp"
#include "brine/reference_totals.hpp"

namespace bw::path {
namespace {

// log10 t[h] = kLog10AtInfinity + kBarrier / (ln Omega)^2 at kOfTheLaw.
constexpr double kLog10AtInfinity = -0.89;
constexpr double kBarrier = 15.85;
constexpr unit::Celsius kOfTheLaw{22};
constexpr double kEnergy_J_per_mol = 71e3;
constexpr double kFactor = 5, kFactorUnknownParticles = 10;
constexpr double kEvidenceOmegaLow = 5, kEvidenceOmegaHigh = 30;
constexpr double kEvidenceLow_degC = 19, kEvidenceHigh_degC = 25;
constexpr double kMgPerCaOfAragonite = 2;
constexpr double kDelayMagnesium = 29.2, kDelaySulfate = 12.4, kDelayBoth = 39.8;
constexpr double kSeawaterSalinity = 35;
constexpr double kDetected_kg_per_kg = 0.3e-6;

double share(double mol_per_kg_water, brine::Total of) {
    static const brine::ReferenceTotals kSea = brine::reference_totals(kSeawaterSalinity);
    return mol_per_kg_water * (1 - kSea.dissolved_kg_per_kg) / kSea.mol_per_kg[brine::index(of)];
}

}  // namespace

double magnesium_share(double mol_per_kg_water) {
    return share(mol_per_kg_water, brine::Total::Mg);
}

double sulfate_share(double mol_per_kg_water) { return share(mol_per_kg_water, brine::Total::SO4); }

double delay(double magnesium_share, double sulfate_share) {
    const double mg = std::clamp(magnesium_share, 0.0, 1.0);
    const double so4 = std::clamp(sulfate_share, 0.0, 1.0);
    return std::pow(kDelayMagnesium, mg) * std::pow(kDelaySulfate, so4) *
           std::pow(kDelayBoth / (kDelayMagnesium * kDelaySulfate), mg * so4);
}

double onset_per_h(const OnsetWater& water) {
    if (!(water.omega_aragonite > 1)) {
        return 0;
    }
    const double ln_omega = std::log(water.omega_aragonite);
    const double in_seawater = std::pow(10, -(kLog10AtInfinity + kBarrier / (ln_omega * ln_omega)));
    return in_seawater * quickening(water.temperature, kOfTheLaw, kEnergy_J_per_mol) *
           water.particles * kDelayBoth / delay(water.magnesium_share, water.sulfate_share);
}

Onset onset(const OnsetWater& water) {
    Onset out;
    const double per_h = onset_per_h(water);
    out.hours = per_h > 0 ? 1 / per_h : std::numeric_limits<double>::infinity();
    out.factor = water.particles_known ? kFactor : kFactorUnknownParticles;
    out.within_a_year = out.hours <= kHoursPerYear;
    out.solid = water.magnesium_per_calcium < kMgPerCaOfAragonite ? CarbonateSolid::Calcite
                                                                  : CarbonateSolid::Aragonite;
    out.in_evidence = water.omega_aragonite >= kEvidenceOmegaLow &&
                      water.omega_aragonite <= kEvidenceOmegaHigh &&
                      water.temperature.value() >= kEvidenceLow_degC &&
                      water.temperature.value() <= kEvidenceHigh_degC;
    return out;
}

std::optional<double> onset_hour(std::span<const double> hours, std::span<const double> per_h) {
    base::expect(hours.size() == per_h.size(), "a rate for every hour");
    double reached = 0;
    for (std::size_t i = 1; i < hours.size(); ++i) {
        const double span = hours[i] - hours[i - 1];
        const double more = span * (per_h[i - 1] + per_h[i]) / 2;
        if (reached + more >= 1) {
            // span (x r0 + x^2 (r1 - r0) / 2) = what is missing, in the form without cancellation.
            const double missing = (1 - reached) / span;
            const double root =
                std::sqrt(per_h[i - 1] * per_h[i - 1] + 2 * missing * (per_h[i] - per_h[i - 1]));
            return hours[i - 1] + span * 2 * missing / (per_h[i - 1] + root);
        }
        reached += more;
    }
    return std::nullopt;
}

Crystals crystals_at_onset(CarbonateSolid solid) {
    return seed(kDetected_kg_per_kg, kSeedArea_m2_per_g, solid);
}

}  // namespace bw::path
