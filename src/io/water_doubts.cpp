// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/water_doubts.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <string>

#include <fmt/format.h>

#include "base/decimal.hpp"

namespace bw::io {
namespace {

using matter::Amounts;
using matter::Constituent;

constexpr double kMostImbalance = 5;  // percent
constexpr double kThousand = 1000;
constexpr auto kMajors = std::to_array<std::string_view>({"Na", "Cl", "Mg", "SO4", "Ca", "K"});
constexpr auto kSuspects =
    std::to_array<std::string_view>({"Na", "Cl", "Mg", "SO4", "Ca", "K", "alkalinity"});
constexpr auto kConstant = std::to_array<std::string_view>(
    {"Na", "Cl", "Mg", "SO4", "Ca", "K", "Sr", "Br", "F", "B", "alkalinity"});

const Amounts& natural() {
    static const Amounts kNatural = matter::reference_seawater(ref::reference_salinity_g_per_kg());
    return kNatural;
}

/// How strong the water is, as natural seawater of 35 has it: the middle of the major ions' ratios,
/// one left out. Nothing where there is no other.
std::optional<double> strength_without(const Amounts& a, Constituent left_out) {
    std::vector<double> ratios;
    for (const std::string_view symbol : kMajors) {
        const Constituent c = matter::constituent(symbol);
        if (c != left_out && a[c] > 0) {
            ratios.push_back(a[c] / natural()[c]);
        }
    }
    if (ratios.empty()) {
        return std::nullopt;
    }
    std::sort(ratios.begin(), ratios.end());
    return ratios[(ratios.size() - 1) / 2];
}

bool near(double ratio, double wanted, double within) {
    return ratio > 0 && std::abs(std::log(ratio / wanted)) < std::log(within);
}

/// A slip of units that would turn the natural proportion into `ratio` times it.
std::optional<std::string> slip_of_units(Constituent c, double ratio) {
    constexpr double kWithin = 1.6;       // of a thousand
    constexpr double kWithinMass = 1.25;  // of the molar mass
    if (near(ratio, kThousand, kWithin)) {
        return "about a thousand times its natural proportion: is its unit a thousand times too "
               "large (mmol for umol, g for mg)?";
    }
    if (near(ratio, 1 / kThousand, kWithin)) {
        return "about a thousandth of its natural proportion: is its unit a thousand times too "
               "small (umol for mmol, mg for g)?";
    }
    if (c.is_alkalinity()) {
        return std::nullopt;
    }
    const double mass = matter::counted_molar_mass_g(c);
    if (near(ratio, mass, kWithinMass)) {
        return fmt::format(
            "about {:.0f} times its natural proportion: is the number in mg rather "
            "than mmol?",
            ratio);
    }
    if (near(ratio, 1 / mass, kWithinMass)) {
        return fmt::format(
            "about 1/{:.0f} of its natural proportion: is the number in mmol rather "
            "than mg?",
            1 / ratio);
    }
    return std::nullopt;
}

/// What the ions would be if mg and mmol of all of them were exchanged.
Amounts exchanged(const Amounts& a, bool mmol_for_mg) {
    Amounts out = a;
    for (std::size_t i = 0; i < matter::constituent_count(); ++i) {
        const Constituent c(i);
        if (!c.is_alkalinity()) {
            const double mass = matter::counted_molar_mass_g(c);
            out[c] *= mmol_for_mg ? mass : 1 / mass;
        } else {
            out[c] = 0;
        }
    }
    return out;
}

struct Suspect {
    Constituent ion;
    double natural = 0;  ///< in proportion to the others [mol/kg]
    double left = 0;     ///< charge that it does not explain, relative
};

std::optional<Suspect> likely_ion(const Amounts& a) {
    const double excess = a.charge();
    std::optional<Suspect> best;
    for (const std::string_view symbol : kSuspects) {
        const Constituent c = matter::constituent(symbol);
        const auto strength = strength_without(a, c);
        if (!strength) {
            continue;
        }
        const double expected = *strength * natural()[c];
        const double explained = c.charge() * (a[c] - expected);
        const double left = std::abs(1 - explained / excess);
        if (!best || left < best->left) {
            best = Suspect{c, expected, left};
        }
    }
    constexpr double kExplains = 0.5;
    return best && best->left < kExplains ? best : std::nullopt;
}

std::string amount(Constituent c, double mol_per_kg) {
    return base::format_significant(mol_per_kg * kThousand, 4) +
           (c.is_alkalinity() ? " meq/kg" : " mmol/kg");
}

std::string reason(const Amounts& a) {
    constexpr double kBalanced = 1;  // percent
    for (const bool mmol_for_mg : {true, false}) {
        const Amounts other = exchanged(a, mmol_for_mg);
        if (other.half_of_charges() > 0 && std::abs(other.charge_imbalance_percent()) < kBalanced) {
            return fmt::format("the same numbers balance in {}: is the unit of the table right?",
                               mmol_for_mg ? "mmol" : "mg");
        }
    }
    const auto suspect = likely_ion(a);
    if (!suspect) {
        return "no single ion explains it by natural proportions: check the analysis";
    }
    const Constituent c = suspect->ion;
    if (a[c] == 0) {
        return fmt::format("{} is probably missing, about {} in natural proportion to the others",
                           c.symbol(), amount(c, suspect->natural));
    }
    if (const auto slip = slip_of_units(c, a[c] / suspect->natural)) {
        return fmt::format("{} is {}, {}", c.symbol(), amount(c, a[c]), *slip);
    }
    return fmt::format(
        "{} is probably too {}, {} where {} would be in natural proportion to the "
        "others",
        c.symbol(), a[c] < suspect->natural ? "low" : "high", amount(c, a[c]),
        amount(c, suspect->natural));
}

}  // namespace

Result<void> check_charge(const Amounts& mol_per_kg, const Place& place) {
    const double percent = mol_per_kg.charge_imbalance_percent();
    if (std::abs(percent) <= kMostImbalance) {
        return {};
    }
    return fail(
        ProblemCode::OutOfRange,
        fmt::format("charges do not balance: {} % more {} than {} charge, 5 % is allowed; {}",
                    base::format_significant(std::abs(percent), 3),
                    percent > 0 ? "positive" : "negative", percent > 0 ? "negative" : "positive",
                    reason(mol_per_kg)),
        place);
}

base::Notices doubtful_units(const Amounts& mol_per_kg, const std::vector<Constituent>& named) {
    base::Notices out;
    for (const std::string_view symbol : kConstant) {
        const Constituent c = matter::constituent(symbol);
        const auto strength = strength_without(mol_per_kg, c);
        if (!strength || std::find(named.begin(), named.end(), c) == named.end()) {
            continue;
        }
        const double ratio = mol_per_kg[c] / (*strength * natural()[c]);
        if (const auto slip = slip_of_units(c, ratio)) {
            out.push_back({"unit_doubtful",
                           fmt::format("{} is {}, {}", symbol, amount(c, mol_per_kg[c]), *slip)});
        }
    }
    constexpr double kWithin = 1.6;
    const auto strength = strength_without(mol_per_kg, matter::constituent("alkalinity"));
    if (!named.empty() && strength && near(*strength, 1 / kThousand, kWithin)) {
        out.push_back(
            {"unit_doubtful",
             fmt::format("The ions together are about a thousandth of seawater's ({} g/kg "
                         "dissolved): is the unit of the table a thousand times too small?",
                         base::format_significant(mol_per_kg.dissolved_mass_g(), 3))});
    }
    return out;
}

}  // namespace bw::io
