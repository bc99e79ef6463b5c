// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/dissolved_ions.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "brine/physical_constants.hpp"
#include "brine/solvent.hpp"
#include "unit/factors.hpp"

namespace bw::brine {
namespace {

using matter::Amounts;
using matter::Constituent;

constexpr double kBorateShare = 0.0000900 / (0.0000900 + 0.0002807);  // [millero-2008]
// Guesses for what has no row: most inorganic solutes fill 0 to 0.6 cm3/g, organic ones 0.65 to
// 0.75.
constexpr double kOtherVolume_cm3_per_g = 0.3;
constexpr double kOrganicVolume_cm3_per_g = 0.7;
constexpr double kWorthMentioning_g_per_kg = 0.02;
constexpr double kImbalanceWorthMentioning = 0.005;  // part of the equivalents
// What carbonic acid itself brings in pure water at the air; less is no missing salt.
constexpr double kLeastImbalance_eq_per_kg = 1e-5;

// Volumes of [appelo-2014]; see ion_volumes.hpp for the form.
constexpr double kCm3BarPerCalorie = 41.84;
constexpr double kPsi_bar = 2600;
constexpr double kTheta_K = 228;
constexpr double kA1 = 0.1;
constexpr double kA2 = 100;
constexpr double kA4 = 1e4;
constexpr double kW = 1e5;

const std::vector<int>& ion_of_constituent() {
    static const std::vector<int> kMap = [] {
        std::vector<int> map(matter::constituent_count(), -1);
        for (std::size_t i = 0; i < kIonCount; ++i) {
            if (const auto c = matter::find_constituent(ion_table()[i].symbol)) {
                map[c->index()] = static_cast<int>(i);
            }
        }
        map[matter::constituent("Si").index()] = static_cast<int>(Ion::SiOH4);
        return map;
    }();
    return kMap;
}

struct Totals {
    Constituent alkalinity = matter::constituent("alkalinity");
    Constituent carbon = matter::constituent("carbon");
    Constituent boron = matter::constituent("B");
};
const Totals& totals() {
    static const Totals kTotals;
    return kTotals;
}

Result<void> check(const Amounts& amounts) {
    for (std::size_t i = 0; i < amounts.values().size(); ++i) {
        const double value = amounts.values()[i];
        const bool may_be_negative = Constituent(i) == totals().alkalinity;
        if (!std::isfinite(value) || (value < 0 && !may_be_negative)) {
            return fail(ProblemCode::OutOfRange,
                        fmt::format("the amount of {} is {}, and must be a number of at least 0",
                                    Constituent(i).symbol(), base::format_exact(value)));
        }
    }
    const double g = amounts.dissolved_mass_g();
    if (!(g >= 0 && g <= kMostDissolved_g_per_kg)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("the properties of waters are known for 0 to 300 g/kg of salt, "
                                "not for {:.6g} g/kg",
                                g));
    }
    return {};
}

/// Alkalinity over borate, carbonate and hydroxide; amounts per kg of solution.
void split_alkalinity(const Amounts& amounts, DissolvedIons& out) {
    const double alkalinity = amounts[totals().alkalinity];
    const double boron = amounts[totals().boron];
    const double borate = std::clamp(kBorateShare * boron, 0.0, std::max(alkalinity, 0.0));
    out[Ion::BOH4] = borate;
    out[Ion::BOH3] = boron - borate;
    if (alkalinity < 0) {
        out[Ion::H] = -alkalinity;
        out[Ion::CO2] = amounts[totals().carbon];
        return;
    }
    const double rest = alkalinity - borate;
    const double carbon = amounts[totals().carbon] > 0 ? amounts[totals().carbon] : rest;
    const double carbonate = std::clamp(rest - carbon, 0.0, carbon);
    out[Ion::CO3] = carbonate;
    out[Ion::HCO3] = std::min(rest, carbon) - carbonate;
    out[Ion::CO2] = carbon - out[Ion::HCO3] - carbonate;
    out[Ion::OH] = std::max(rest - 2 * carbon, 0.0);
}

void add_other(Constituent c, double amount, DissolvedIons& out) {
    const double g = amount * matter::counted_molar_mass_g(c);
    const bool organic = c.row().group == "organic";
    out.other_g_per_kg += g;
    out.other_mol_per_kg += amount;
    out.other_volume_cm3_per_kg +=
        g * (organic ? kOrganicVolume_cm3_per_g : kOtherVolume_cm3_per_g);
    out.ionic_strength += c.charge() * c.charge() * amount / 2;
    out.imbalance_eq_per_kg += c.charge() * amount;
}

void finish(DissolvedIons& out) {
    double positive = 0;
    double negative = 0;
    for (std::size_t i = 0; i < kIonCount; ++i) {
        out.molality[i] /= out.water_kg_per_kg;
        const int z = ion_table()[i].charge;
        out.ionic_strength += z * z * out.molality[i] / 2;
        (z > 0 ? positive : negative) += std::abs(z) * out.molality[i];
    }
    out.imbalance_eq_per_kg += positive - negative;
    out.equivalents_per_kg = std::max(positive, negative);
}

DissolvedIons distribute(const Amounts& amounts) {
    DissolvedIons out;
    out.dissolved_g_per_kg = amounts.dissolved_mass_g();
    out.water_kg_per_kg = 1 - out.dissolved_g_per_kg / unit::kGramPerKg;
    split_alkalinity(amounts, out);
    for (std::size_t i = 0; i < amounts.values().size(); ++i) {
        const Constituent c(i);
        const double amount = amounts.values()[i];
        const int ion = ion_of_constituent()[i];
        const bool done = c == totals().alkalinity || c == totals().carbon || c == totals().boron;
        if (amount == 0 || done) {
            continue;
        }
        if (ion >= 0) {
            out.molality[static_cast<std::size_t>(ion)] += amount;
        } else {
            add_other(c, amount / out.water_kg_per_kg, out);
        }
    }
    finish(out);
    return out;
}

const Amounts& natural_unit() {
    static const Amounts kUnit = matter::reference_seawater(1);
    return kUnit;
}

}  // namespace

Result<DissolvedIons> dissolved_ions(const Amounts& mol_per_kg) {
    BW_CHECK(check(mol_per_kg));
    return distribute(mol_per_kg);
}

DissolvedIons natural_ions(double g_per_kg) {
    base::expect(g_per_kg >= 0 && g_per_kg <= kMostDissolved_g_per_kg,
                 "natural seawater is asked for above 300 g/kg");
    Amounts amounts = natural_unit();
    amounts.scale(g_per_kg / natural_unit().dissolved_mass_g());
    return distribute(amounts);
}

double displaced_g_per_kg(const Amounts& mol_per_kg) {
    const double scale = mol_per_kg.dissolved_mass_g() / natural_unit().dissolved_mass_g();
    double sum = 0;
    for (std::size_t i = 0; i < mol_per_kg.values().size(); ++i) {
        const Constituent c(i);
        if (c == totals().alkalinity) {
            continue;
        }
        sum += std::fabs(mol_per_kg.values()[i] - scale * natural_unit().values()[i]) *
               matter::counted_molar_mass_g(c);
    }
    return sum / 2;
}

IonVolume ion_volume(const IonRow& ion, const Solvent& water, double ionic_strength) {
    if (ion.volume[0] == 0) {
        return {ion.fixed_volume, 0};
    }
    const auto& c = ion.volume;
    const double pressure = kPsi_bar + kAtmosphere_bar;
    const double above = water.t_K - kTheta_K;
    const double dilute =
        kCm3BarPerCalorie * (kA1 * c[0] + kA2 * c[1] / pressure + c[2] / above +
                             kA4 * c[3] / pressure / above - kW * c[4] * water.born_per_bar);
    if (ionic_strength <= 0) {
        return {dilute, 0};
    }
    const double root = std::sqrt(ionic_strength);
    const int z = ion.charge;
    const double by_strength =
        z * z * water.volume_slope * root / (2 * (1 + c[5] * water.screening_per_angstrom * root)) +
        (c[6] + c[7] / above + c[8] * above) * std::pow(ionic_strength, c[9]) * (z == 0 ? 0 : 1);
    return {dilute + by_strength, by_strength};
}

void note_unknown(const DissolvedIons& ions, base::Notices& notices) {
    if (ions.other_g_per_kg > kWorthMentioning_g_per_kg) {
        notices.push_back({"property_unknown_ions",
                           fmt::format("{:.2g} g/kg are constituents whose volume and mobility are "
                                       "guessed from their mass.",
                                       ions.other_g_per_kg)});
    }
    const double imbalance = std::fabs(ions.imbalance_eq_per_kg);
    if (imbalance > kImbalanceWorthMentioning * ions.equivalents_per_kg &&
        imbalance > kLeastImbalance_eq_per_kg) {
        notices.push_back({"property_charge",
                           fmt::format("The charges of the composition differ by {:.2g} meq/kg, so "
                                       "it is not a real water; its properties are uncertain by as "
                                       "much.",
                                       ions.imbalance_eq_per_kg * unit::kGramPerKg)});
    }
}

}  // namespace bw::brine
