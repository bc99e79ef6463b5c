// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/conductivity.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "brine/dissolved_ions.hpp"
#include "brine/physical_constants.hpp"
#include "brine/practical_salinity.hpp"
#include "brine/reference_density.hpp"
#include "brine/solvent.hpp"
#include "brine/temperature_scale.hpp"

namespace bw::brine {
namespace {

constexpr double kHighestSalinity = 60;  // of the extrapolated scale
constexpr double kLowestSalinity = 0.1;  // below, the scale loses its sense: see the header
constexpr double kStrongSalinity = 42;   // [unesco-44]
// Standard uncertainties, parts of one; see the header.
constexpr double kNatural = 1e-4;
constexpr double kPerDisplaced = 1.5e-3;
constexpr double kPerStrong = 2e-4;
// Water's own ions and those of carbonic acid, left out: 0.001 mS/cm in pure water at the air.
constexpr double kOwn_mS_per_cm = 0.001;
constexpr double kOther_mS_per_cm_per_eq = 50;  // most ions conduct 30 to 80 S cm2/eq
constexpr double kMilli = 1e3;
constexpr double kLitrePerCm3 = 1e-3;
constexpr double kCm2PerM2 = 1e4;

// [appelo-2017]: factor of the square root term of Jones and Dole, [kg/eq]^0.5; and how the mean
// charge of the cations acts on the size of an anion [angstrom] and on its exponent.
constexpr double kJonesDoleA = 0.0062;
constexpr double kAnionByCationCharge = 0.126;
constexpr double kLowestVolumeFactor = 1e-9;

/// Sums over the ions of one sign.
struct Side {
    double moles = 0;
    double equivalents = 0;
    double equivalents_by_diffusion = 0;
    [[nodiscard]] double mean_charge() const { return equivalents / moles; }
    [[nodiscard]] double diffusion_by_mole() const { return equivalents_by_diffusion / moles; }
    /// Their contribution to twice the ionic strength, were all charges 1 and 2.
    [[nodiscard]] double strength() const { return moles * (1 + 3 * (mean_charge() - 1)); }
};

double diffusion(const IonRow& ion, const Solvent& water) {
    return ion.mobility[0] * std::exp(ion.mobility[1] * (1 / water.t_K - 1 / kTwentyFive_K)) *
           water.viscosity_at_25_mPa_s / water.viscosity_mPa_s;
}

Side side_of(const DissolvedIons& ions, const Solvent& water, int sign) {
    Side side;
    for (std::size_t i = 0; i < kIonCount; ++i) {
        const IonRow& ion = ion_table()[i];
        const double m = ions.molality[i];
        if (ion.charge * sign <= 0 || m == 0) {
            continue;
        }
        const double z = sign * ion.charge;
        side.moles += m;
        side.equivalents += z * m;
        side.equivalents_by_diffusion += z * m * diffusion(ion, water);
    }
    return side;
}

/// eta / eta0 of the solution, [appelo-2017] extension of the law of Jones and Dole.
double relative_viscosity(const DissolvedIons& ions, const Solvent& water) {
    const double I = ions.ionic_strength;
    const double t = water.t_K - kKelvinAtZeroCelsius;
    double terms = 0;
    double equivalents = 0;
    double anions = 0;
    double anion_volume = 0;
    for (std::size_t i = 0; i < kIonCount; ++i) {
        const IonRow& ion = ion_table()[i];
        const double m = ions.molality[i];
        if (m == 0) {
            continue;
        }
        const auto& v = ion.viscosity;
        const int z = std::abs(ion.charge);
        equivalents += z * m / 2;
        if (ion.charge < 0) {
            anions += m;
            anion_volume += m * v[6] * ion_volume(ion, water, I).total;
        }
        const double B = v[0] + v[1] * std::exp(-v[2] * t);
        const double D = v[3] * std::exp(-v[4] * t);
        const double n =
            D == 0 ? 0 : (std::pow(I, v[5]) + std::pow((z * z + z) / 2.0 * m, v[5])) / 2;
        terms += m * (B + D * n);
    }
    const double chloride = ion_volume(row_of(Ion::Cl), water, I).total;
    const double anion_factor = anions > 0 ? 2 - anion_volume / anions / chloride : 1;
    return 1 + kJonesDoleA * std::sqrt(equivalents) + anion_factor * terms;
}

/// Relaxation (parts of one) and electrophoresis (S cm2/eq), each per sqrt(I).
struct Slowing {
    double relaxation, electrophoresis;
};

Slowing slowing(const Side& plus, const Side& minus, const Solvent& water) {
    const double zp = plus.mean_charge();
    const double zm = minus.mean_charge();
    const double share =
        plus.diffusion_by_mole() / (plus.diffusion_by_mole() + minus.diffusion_by_mole());
    const double q = 1 / ((share / zp + (1 - share) / zm) * (zp + zm));
    const double charge2 = kElementaryCharge_C * kElementaryCharge_C / (6 * std::numbers::pi);
    const double screening = water.screening_per_angstrom * kAngstromPerMetre;
    const double relaxation = charge2 /
                              (2 * kVacuumPermittivity_F_per_m * water.dielectric_constant *
                               kBoltzmann_J_per_K * water.t_K) *
                              q / (1 + std::sqrt(q)) * screening * zp * zm;
    const double viscosity_Pa_s = water.viscosity_mPa_s / kMilli;
    return {relaxation, charge2 * kAvogadro_per_mol / viscosity_Pa_s * screening * kCm2PerM2};
}

/// Equivalent conductivity of an ion in the solution, before the viscosity [S cm2/eq].
double slowed(const IonRow& ion, const DissolvedIons& ions, const Solvent& water, const Slowing& by,
              double cation_charge) {
    const double root = std::sqrt(ions.ionic_strength);
    const double z = std::abs(ion.charge);
    double size = ion.mobility[2];
    double exponent = ion.mobility[3];
    if (ion.charge < 0) {
        size -= kAnionByCationCharge * z * (cation_charge - 1);
        exponent += kAnionByCationCharge * z * (cation_charge - 1);
    }
    double swelling = 1;
    if (exponent != 0) {
        const double grown = 1 + ion_volume(ion, water, ions.ionic_strength).by_strength;
        swelling = std::max(1.0, std::pow(std::max(grown, kLowestVolumeFactor), exponent));
    }
    const double ka = water.screening_per_angstrom * size * swelling * root;
    const double limiting = diffusion(ion, water) * z * kCm2PerM2 * kFaraday_C_per_mol *
                            kFaraday_C_per_mol / (kGasConstant_J_per_mol_K * kTwentyFive_K);
    return (limiting - by.electrophoresis * z * root / (1 + ka)) *
           (1 - by.relaxation * root / ((1 + ka) * (1 + ka)));
}

double volume_l_per_kg_water(const DissolvedIons& ions, const Solvent& water) {
    double litre = kMilli / water.density_kg_per_m3;
    for (std::size_t i = 0; i < kIonCount; ++i) {
        if (ions.molality[i] != 0) {
            litre += kLitrePerCm3 * ions.molality[i] *
                     ion_volume(ion_table()[i], water, ions.ionic_strength).total;
        }
    }
    return litre;
}

double by_ions(const DissolvedIons& ions, const Solvent& water) {
    const Side plus = side_of(ions, water, 1);
    const Side minus = side_of(ions, water, -1);
    if (plus.moles == 0 || minus.moles == 0) {
        return 0;
    }
    const Slowing by = slowing(plus, minus, water);
    const double eta = relative_viscosity(ions, water);
    const double mean = (plus.equivalents + minus.equivalents) / 2;
    double sum = 0;
    for (std::size_t i = 0; i < kIonCount; ++i) {
        const IonRow& ion = ion_table()[i];
        if (ion.charge == 0 || ions.molality[i] == 0) {
            continue;
        }
        const Side& side = ion.charge > 0 ? plus : minus;
        const double share = side.strength() * mean / side.equivalents;
        sum += slowed(ion, ions, water, by, plus.mean_charge()) * std::pow(eta, -ion.mobility[4]) *
               ions.molality[i] * ion.charge * ion.charge * mean / share;
    }
    const double litre = volume_l_per_kg_water(ions, water);
    return sum / (litre * litre);
}

/// Dissolved mass of the natural seawater of an ionic strength [g/kg].
double natural_g_per_kg(double ionic_strength) {
    static const double kStrengthPerGram = [] {
        constexpr double kAny = 10;  // g/kg; strength is proportional to w / (1 - w)
        const DissolvedIons ions = natural_ions(kAny);
        return ions.ionic_strength * ions.water_kg_per_kg / kAny;
    }();
    return ionic_strength / (kStrengthPerGram + ionic_strength / kMilli);
}

}  // namespace

Result<double> conductivity_by_ions_mS_per_cm(const matter::Amounts& mol_per_kg,
                                              unit::Celsius temperature) {
    BW_CHECK(check_temperature(temperature, "the conductivity of a water"));
    BW_TRY(ions, dissolved_ions(mol_per_kg));
    return by_ions(ions, solvent(temperature));
}

Result<Estimate> conductivity_mS_per_cm(const matter::Amounts& mol_per_kg,
                                        unit::Celsius temperature) {
    BW_CHECK(check_temperature(temperature, "the conductivity of a water"));
    BW_TRY(ions, dissolved_ions(mol_per_kg));
    Estimate out;
    note_unknown(ions, out.notices);
    const Solvent water = solvent(temperature);
    const double equivalent =
        natural_g_per_kg(ions.ionic_strength) / kGramPerKgPerPracticalSalinity;
    const double S = std::clamp(equivalent, kLowestSalinity, kHighestSalinity);
    const DissolvedIons natural = natural_ions(S * kGramPerKgPerPracticalSalinity);
    BW_TRY(scale, conductivity_of_salinity(unit::PracticalSalinity(S), temperature));
    out.value = scale.kappa_mS_per_cm * by_ions(ions, water) / by_ions(natural, water);
    const double part = std::sqrt(
        kNatural * kNatural + std::pow(kPerDisplaced * displaced_g_per_kg(mol_per_kg), 2) +
        std::pow(kPerStrong * std::max(0.0, equivalent - kStrongSalinity), 2));
    const double other =
        kOther_mS_per_cm_per_eq * (ions.other_mol_per_kg + std::fabs(ions.imbalance_eq_per_kg)) / 2;
    out.standard_uncertainty = std::hypot(part * out.value, other, kOwn_mS_per_cm);
    const bool strong = equivalent > kStrongSalinity * (1 + kRoundedWeights);
    out.extrapolated = strong || scale.extrapolated;
    if (strong) {
        out.notices.push_back(
            {"conductivity_strong",
             fmt::format(
                 "The water is stronger than the practical salinity scale reaches (42); the "
                 "conductivity carries {:.2g} mS/cm.",
                 out.standard_uncertainty)});
    }
    return out;
}

}  // namespace bw::brine
