// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "matter/material.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "unit/factors.hpp"

namespace bw::matter {
namespace {

constexpr double kHighestAssay =
    1.10;  // a hydrate that lost water can pass 100 %, not by more than this
constexpr double kHighestDrySum = 1.01;     // rounding of certificates
constexpr double kLargestImbalance = 0.05;  // of the positive charge of an analysis
constexpr double kRectangleDivisor =
    12;                          // variance of a rectangle is width^2 / 12 (JCGM 100, 4.3.7)
constexpr double kCoverage = 2;  // k for about 95 %

std::string percent(double share) { return base::format_significant(share * 100, 4) + " %"; }

tl::unexpected<Problem> bad(const Material& m, std::string_view field, const std::string& why) {
    return fail(ProblemCode::BadInput, why, {"", 0, fmt::format("{}: {}", m.name, field)});
}

Problem in_field(Problem problem, const Material& m, std::string_view field) {
    problem.place.field = fmt::format("{}: {}", m.name, field);
    return problem;
}

/// What one unit (kg, or mol) of a component brings, and its dry mass.
struct Effect {
    Amounts amounts;
    double dry_kg = 0;
    bool insoluble = false;
};

Result<Effect> effect_of(const Component& component) {
    Effect out;
    if (component.of == "insoluble") {
        out.insoluble = true;
        out.dry_kg = component.by_mass ? 1 : 0;
        return out;
    }
    if (const auto c = find_constituent(component.of)) {
        const double molar_kg = counted_molar_mass_g(*c) / unit::kGramPerKg;
        out.amounts[*c] = component.by_mass ? 1 / molar_kg : 1;
        out.dry_kg = c->is_alkalinity() ? 0 : component.by_mass ? 1 : molar_kg;
        if (c->is_alkalinity() && component.by_mass) {
            return fail(ProblemCode::BadUnit, "the alkalinity of a material is given in meq/kg");
        }
        return out;
    }
    auto formula = parse_formula(component.of);
    if (!formula) {
        return fail(ProblemCode::UnknownName,
                    fmt::format("{} is neither a constituent, nor a formula, nor \"insoluble\"",
                                base::quoted(component.of)));
    }
    BW_TRY(dissolved, dissolve(*formula));
    const double molar_kg = dissolved.molar_mass_g / unit::kGramPerKg;
    const double mol = component.by_mass ? 1 / molar_kg : 1;
    out.amounts = dissolved.per_mol;
    out.amounts.scale(mol);
    BW_TRY(water, parse_formula("H2O"));
    BW_TRY(water_mass, molar_mass_g_per_mol(water));
    const bool is_water = dissolved.water_mol == 0 && formula->atoms.size() == 2 &&
                          formula->count("H") == 2 && formula->count("O") == 1;
    out.dry_kg =
        is_water ? 0 : mol * (molar_kg - dissolved.water_mol * water_mass / unit::kGramPerKg);
    return out;
}

/// mol of the formula per kg of the stated form, e.g. MgSO4.7H2O assayed as MgSO4, or as Mg.
Result<double> mol_per_kg_assayed(const Material& m, const Formula& formula,
                                  const std::string& as) {
    if (as.empty() || as == m.formula) {
        BW_TRY(mass, molar_mass_g_per_mol(formula));
        return unit::kGramPerKg / mass;
    }
    BW_TRY(form, parse_formula(as));
    BW_TRY(mass, molar_mass_g_per_mol(form));
    for (const AtomCount& atom : form.atoms) {
        const bool common =
            atom.element != "H" && atom.element != "O" && formula.count(atom.element) > 0;
        if (common) {
            return atom.count / formula.count(atom.element) * unit::kGramPerKg / mass;
        }
    }
    return fail(ProblemCode::BadInput,
                fmt::format("{} cannot be assayed as {}: they share no element but H and O",
                            m.formula, as));
}

struct Builder {
    const Material& m;
    MakeUp out;
    double dry = 0;
    double impurity_charge = 0;  // of what is stated as ions
    double positive_charge = 0;
    Constituent closing{};

    Result<void> add_main(const Formula& formula) {
        const Assay assay = m.assay.value_or(Assay{Stated::exactly(1), "", std::nullopt});
        if (!m.assay) {
            out.notices.push_back({"assay_not_stated",
                                   fmt::format("{}: no assay is stated; 100 % is taken.", m.name)});
        }
        if (!(assay.share.value > 0)) {
            return bad(
                m, "assay",
                fmt::format("the assay is {}: it must be above 0", percent(assay.share.value)));
        }
        if (assay.share.value > kHighestAssay || assay.share.high > kHighestAssay) {
            return bad(m, "assay",
                       fmt::format("the assay is {}: at most 110 % is possible",
                                   percent(std::max(assay.share.value, assay.share.high))));
        }
        const AssayBasis basis = assay.basis.value_or(AssayBasis::AsIs);
        const std::optional<Stated> loss = loss_for(basis);
        if (basis != AssayBasis::AsIs && !loss) {
            return bad(
                m, "assay",
                basis == AssayBasis::Dried
                    ? std::string(
                          "the assay is on the dried basis: give moisture, the loss on drying")
                    : std::string("the assay is on the ignited basis: give loss_on_ignition"));
        }
        const double kept = loss ? 1 - loss->value : 1;
        auto mol_or = mol_per_kg_assayed(m, formula, assay.as);
        if (!mol_or) {
            return tl::make_unexpected(in_field(mol_or.error(), m, "assay"));
        }
        auto dissolved_or = dissolve(formula);
        if (!dissolved_or) {
            return tl::make_unexpected(in_field(dissolved_or.error(), m, "formula"));
        }
        Amounts per_unit_assay = dissolved_or->per_mol;
        per_unit_assay.scale(*mol_or);
        const double mol = *mol_or * assay.share.value * kept;
        out.main_mol_per_kg = dissolved_or->per_mol;
        out.main_mol_per_kg.scale(mol);
        out.mol_per_kg.add(out.main_mol_per_kg, 1);
        out.worst_mol_per_kg.add(out.main_mol_per_kg, 1);
        constexpr double kMolarWaterKg =
            0.018015;  // H2O, g/mol / 1000: 2 * 1.008 + 15.999 [ciaaw-2021]
        dry += mol * (dissolved_or->molar_mass_g / unit::kGramPerKg -
                      dissolved_or->water_mol * kMolarWaterKg);
        if (assay.share.u > 0) {
            per_unit_assay.scale(kept);
            out.inputs.push_back(
                {UncertainInput::Kind::Assay, "assay", assay.share, per_unit_assay});
        }
        if (loss && loss->u > 0) {
            Amounts effect = out.main_mol_per_kg;
            effect.scale(-1 / kept);
            out.inputs.push_back({UncertainInput::Kind::Loss,
                                  basis == AssayBasis::Dried ? "moisture" : "loss on ignition",
                                  *loss, effect});
        }
        return {};
    }

    [[nodiscard]] std::optional<Stated> loss_for(AssayBasis basis) const {
        switch (basis) {
            case AssayBasis::AsIs:
                return std::nullopt;
            case AssayBasis::Dried:
                return m.moisture;
            case AssayBasis::Ignited:
                return m.loss_on_ignition;
        }
        return std::nullopt;
    }

    Result<void> add_components(const std::vector<Component>& components, std::string_view field) {
        for (const Component& component : components) {
            auto effect = effect_of(component);
            if (!effect) {
                return tl::make_unexpected(in_field(effect.error(), m, field));
            }
            dry += component.amount.value * effect->dry_kg;
            if (effect->insoluble) {
                out.insoluble_share += component.amount.value * effect->dry_kg;
                continue;
            }
            out.mol_per_kg.add(effect->amounts, component.amount.value);
            out.worst_mol_per_kg.add(effect->amounts, component.amount.worst());
            const double charge = effect->amounts.charge();
            impurity_charge += component.amount.value * charge;
            positive_charge += component.amount.value * std::max(charge, 0.0);
            if (component.amount.u > 0) {
                out.inputs.push_back({UncertainInput::Kind::Amount, component.of, component.amount,
                                      effect->amounts});
            }
        }
        return {};
    }

    /// The ion that makes the whole neutral: what the file says, else an ion of the main salt, else
    /// Cl or Na.
    Result<void> close_charge() {
        for (const ref::ConstituentRow& row : ref::constituents()) {
            const Constituent c = constituent(row.symbol);
            positive_charge += std::max(0.0, c.charge() * out.main_mol_per_kg[c]);
        }
        const bool needs_anion = impurity_charge > 0;
        if (!m.balance.empty()) {
            BW_TRY(named, require_constituent(m.balance));
            closing = named;
            if (closing.charge() == 0 || closing.is_alkalinity()) {
                return bad(
                    m, "balance",
                    fmt::format("{} cannot close a charge: name an ion such as Cl", m.balance));
            }
        } else {
            closing = constituent(needs_anion ? "Cl" : "Na");
            double most = 0;
            for (std::size_t i = 0; i < constituent_count(); ++i) {
                const Constituent c(i);
                const bool right_sign = needs_anion ? c.charge() < 0 : c.charge() > 0;
                if (right_sign && !c.is_alkalinity() && out.main_mol_per_kg[c] > most) {
                    most = out.main_mol_per_kg[c];
                    closing = c;
                }
            }
            if (std::abs(impurity_charge) > kLargestImbalance * positive_charge &&
                m.formula.empty()) {
                return bad(
                    m, "composition",
                    fmt::format(
                        "the ions given leave a charge of {} meq/kg, {} of the cations': an ion is "
                        "missing, or say balance = \"Cl\" to have it closed",
                        base::format_significant(impurity_charge * unit::kGramPerKg, 4),
                        percent(std::abs(impurity_charge) / std::max(positive_charge, 1e-300))));
            }
        }
        const double mol = -impurity_charge / closing.charge();
        const double molar_kg = counted_molar_mass_g(closing) / unit::kGramPerKg;
        if (out.mol_per_kg[closing] + mol < -1e-9) {
            return bad(m, "balance",
                       fmt::format("to be neutral it would need a negative amount of {}",
                                   closing.symbol()));
        }
        out.mol_per_kg[closing] += mol;
        out.worst_mol_per_kg[closing] += std::max(mol, 0.0);
        dry += mol * molar_kg;
        for (UncertainInput& input : out.inputs) {
            input.effect[closing] -= input.effect.charge() / closing.charge();
        }
        return {};
    }
};

}  // namespace

Stated Stated::normal(double value, double u) {
    return {Shape::Normal, value, u, value - kCoverage * u, value + kCoverage * u};
}

Stated Stated::between(double low, double high) {
    return {Shape::Rectangular, (low + high) / 2, (high - low) / std::sqrt(kRectangleDivisor), low,
            high};
}

double Stated::worst() const { return high; }

Result<MakeUp> make_up(const Material& material) {
    Builder builder{material, {}, 0, 0, 0, {}};
    if (material.formula.empty() && material.composition.empty()) {
        return bad(material, "formula", "give a formula with an assay, or a composition");
    }
    if (!material.formula.empty() && !material.composition.empty()) {
        return bad(material, "composition",
                   "give either a formula with an assay, or a composition, not both");
    }
    if (!material.formula.empty()) {
        auto formula = parse_formula(material.formula);
        if (!formula) {
            return tl::make_unexpected(in_field(formula.error(), material, "formula"));
        }
        if (formula->charge != 0) {
            return bad(material, "formula",
                       fmt::format("{} is an ion; a material is neutral", material.formula));
        }
        BW_CHECK(builder.add_main(*formula));
    }
    BW_CHECK(builder.add_components(material.composition, "composition"));
    BW_CHECK(builder.add_components(material.impurities, "impurities"));
    BW_CHECK(builder.close_charge());
    constexpr double kRoundOff = 1e-9;  // 101 % written down is 101 %
    if (builder.dry > kHighestDrySum + kRoundOff) {
        return bad(material, material.formula.empty() ? "composition" : "assay",
                   fmt::format("its dry parts add up to {} (the main salt and all that stands "
                               "beside it): at most 101 % is possible",
                               percent(builder.dry)));
    }
    builder.out.water_share = std::max(0.0, 1 - builder.dry);
    return std::move(builder.out);
}

Material with_lot(const Material& catalogue, const Material& lot) {
    Material out = catalogue;
    out.lot = lot.lot;
    if (lot.assay) {
        out.assay = lot.assay;
        if (out.assay->as.empty() && catalogue.assay) {
            out.assay->as = catalogue.assay->as;
        }
        if (!out.assay->basis && catalogue.assay) {
            out.assay->basis = catalogue.assay->basis;
        }
    }
    if (lot.moisture) {
        out.moisture = lot.moisture;
    }
    if (lot.loss_on_ignition) {
        out.loss_on_ignition = lot.loss_on_ignition;
    }
    if (!lot.composition.empty()) {
        out.composition = lot.composition;
    }
    for (const Component& component : lot.impurities) {
        const auto same = std::find_if(out.impurities.begin(), out.impurities.end(),
                                       [&](const Component& c) { return c.of == component.of; });
        if (same != out.impurities.end()) {
            *same = component;
        } else {
            out.impurities.push_back(component);
        }
    }
    out.price_per_kg = lot.price_per_kg ? lot.price_per_kg : catalogue.price_per_kg;
    out.currency = lot.price_per_kg ? lot.currency : catalogue.currency;
    out.package_kg = lot.package_kg ? lot.package_kg : catalogue.package_kg;
    out.stock_kg = lot.stock_kg ? lot.stock_kg : catalogue.stock_kg;
    return out;
}

}  // namespace bw::matter
