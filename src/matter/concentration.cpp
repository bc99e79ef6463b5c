// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "matter/concentration.hpp"

#include <cstdlib>

#include <fmt/format.h>

#include "matter/element.hpp"
#include "unit/factors.hpp"

namespace bw::matter {
namespace {

using unit::Dimension;

tl::unexpected<Problem> cannot_state(const unit::TypedQuantity& typed, Constituent c,
                                     std::string_view why) {
    return fail(ProblemCode::BadUnit,
                fmt::format("{} cannot be given in {}: {}", c.symbol(), typed.unit.symbol, why));
}

/// mol (eq) of the constituent per kg of the stated form.
Result<double> mol_per_kg_of_form(const unit::TypedQuantity& typed, Constituent c) {
    if (typed.as.empty()) {
        if (c.is_alkalinity()) {
            return cannot_state(typed, c, "say as what, for example \"125 mg/L as CaCO3\"");
        }
        return unit::kGramPerKg / counted_molar_mass_g(c);
    }
    // The ion that is meant by a bare HCO3 or CO3 is charged; for constituents other than
    // alkalinity the charge makes no difference.
    const std::string form = typed.as == "HCO3" ? "HCO3-" : typed.as == "CO3" ? "CO3-2" : typed.as;
    // An element that has no form of its own in water still counts: N of nitrate, P of phosphate, S
    // of sulfate.
    const std::string_view element = typed.as;
    const bool counted_element =
        (element == "N" &&
         (c == constituent("NO3") || c == constituent("NO2") || c == constituent("NH4"))) ||
        (element == "P" && c == constituent("PO4")) ||
        (element == "S" && c == constituent("SO4")) ||
        (element == "C" && c == constituent("carbon"));
    if (counted_element) {
        return unit::kGramPerKg / atomic_weight(element)->value_g_per_mol;
    }
    BW_TRY(formula, parse_formula(form));
    BW_TRY(mass, molar_mass_g_per_mol(formula));
    double count = 0;
    if (const auto dissolved = dissolve(formula)) {
        count = dissolved->per_mol[c];
    } else if (find_constituent(c.symbol()) && is_element(c.symbol())) {
        count = formula.count(c.symbol());  // SiO2 as a form of Si, Al2O3 of Al
    } else if (c == constituent("carbon")) {
        count = formula.count("C");
    }
    if (!(count > 0)) {
        return fail(ProblemCode::BadUnit,
                    fmt::format("{} holds no {}, so {} cannot be stated as it", typed.as,
                                c.row().name, c.symbol()));
    }
    return count * unit::kGramPerKg / mass;
}

/// mol (eq) of the constituent in one mol of the form that a molar unit names; 1 when it names
/// none.
Result<double> count_in_form(const unit::TypedQuantity& typed, Constituent c) {
    if (typed.as.empty()) {
        return 1.0;
    }
    BW_TRY(per_kg, mol_per_kg_of_form(typed, c));
    const std::string form = typed.as == "HCO3" ? "HCO3-" : typed.as == "CO3" ? "CO3-2" : typed.as;
    BW_TRY(formula, parse_formula(form));
    BW_TRY(mass, molar_mass_g_per_mol(formula));
    return per_kg * mass / unit::kGramPerKg;
}

}  // namespace

Result<double> mol_per_kg_per_unit(const unit::TypedQuantity& typed, Constituent c,
                                   const WaterBasis& basis) {
    const double litre_per_kg = unit::kLitrePerM3 / basis.density.value();
    const double water_share = 1 - basis.dissolved.value() / unit::kGramPerKg;
    const double factor = typed.unit.factor;
    switch (typed.unit.dimension) {
        case Dimension::AmountPerMass: {
            BW_TRY(count, count_in_form(typed, c));
            return factor * count;
        }
        case Dimension::AmountPerVolume: {
            BW_TRY(count, count_in_form(typed, c));
            return factor * litre_per_kg * count;
        }
        case Dimension::AmountPerWaterMass: {
            BW_TRY(count, count_in_form(typed, c));
            return factor * water_share * count;
        }
        case Dimension::EquivalentPerMass:
        case Dimension::EquivalentPerVolume:
        case Dimension::EquivalentPerWaterMass: {
            if (c.charge() == 0) {
                return cannot_state(typed, c, "it carries no charge; use mmol/kg or mg/L");
            }
            const double share = typed.unit.dimension == Dimension::EquivalentPerMass ? 1
                                 : typed.unit.dimension == Dimension::EquivalentPerVolume
                                     ? litre_per_kg
                                     : water_share;
            return factor * share / std::abs(c.charge());
        }
        case Dimension::MassPerMass: {
            BW_TRY(per_kg, mol_per_kg_of_form(typed, c));
            return factor * per_kg;
        }
        case Dimension::MassPerVolume: {
            BW_TRY(per_kg, mol_per_kg_of_form(typed, c));
            return factor * litre_per_kg * per_kg;
        }
        default:
            return cannot_state(typed, c, "use mg/L, mg/kg, mmol/kg, or meq/L for alkalinity");
    }
}

Result<double> mol_per_kg(const unit::TypedQuantity& typed, Constituent c,
                          const WaterBasis& basis) {
    BW_TRY(factor, mol_per_kg_per_unit(typed, c, basis));
    return factor * typed.number;
}

Amounts normalised_to(const Amounts& mol_per_kg, unit::GramPerKg dissolved) {
    Amounts out = mol_per_kg;
    const double now = mol_per_kg.dissolved_mass_g();
    base::expect(now > 0, "a water without salt cannot be brought to a salinity");
    out.scale(dissolved.value() / now);
    return out;
}

double chlorinity_g_per_kg(const Amounts& mol_per_kg) {
    constexpr double kChlorinityPerSilver = 0.3285234;  // definition of 1937, [millero-2008]
    constexpr double kMolarMassSilver = 107.8682;       // g/mol, [ciaaw-2005]
    const double halide = mol_per_kg[constituent("Cl")] + mol_per_kg[constituent("Br")] +
                          mol_per_kg[constituent("I")];
    return kChlorinityPerSilver * kMolarMassSilver * halide;
}

}  // namespace bw::matter
