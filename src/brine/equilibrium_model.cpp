// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/equilibrium_model.hpp"

#include <cmath>
#include <numbers>

#include "base/result.hpp"
#include "brine/conditions.hpp"
#include "brine/derivatives.hpp"
#include "brine/reference_totals.hpp"
#include "brine/speciation.hpp"
#include "brine/temperature_function.hpp"
#include "num/dual.hpp"

namespace bw::brine {
namespace {

template <class P>
void list_terms(MassAction<P>& r) {
    r.term_count = 0;
    for (std::size_t j = 0; j < kBasisSize; ++j) {
        if (r.basis[j] != 0) {
            base::expect(r.term_count < r.kMostTerms, "a species is made of few others");
            r.terms[r.term_count++] = {j, r.basis[j]};
        }
    }
}

template <class P>
void read_reactions(ref::InteractionSet set, const P& kelvin,
                    std::array<MassAction<P>, kMadeSize>& made) {
    for (const ref::ReactionRow& row : ref::reactions(set)) {
        const auto product = find_species(row.product);
        for (std::size_t k = 0; k < kMadeSize; ++k) {
            if (!product || kMade[k] != *product) {
                continue;
            }
            MassAction<P>& r = made[k];
            r.basis.fill(0);
            r.water = 0;
            for (const ref::ReactionTerm& term : row.terms) {
                if (term.species == "H2O") {
                    r.water = term.coefficient;
                    continue;
                }
                for (std::size_t j = 0; j < kBasisSize; ++j) {
                    if (!term.species.empty() && facts(kBasis[j]).symbol == term.species) {
                        r.basis[j] = term.coefficient;
                    }
                }
            }
            list_terms(r);
            const bool sea = set == ref::InteractionSet::Seawater;
            (sea ? r.ln_k_seawater : r.ln_k_brine) =
                std::numbers::ln10 * evaluate_log10(row, kelvin);
            (sea ? r.in_seawater : r.in_brine) = true;
        }
    }
}

template <class P>
SolidAction<P> solid_action(const ref::MineralRow& row, const P& kelvin) {
    SolidAction<P> out;
    out.by_brine_set = true;
    for (const ref::ReactionTerm& term : row.dissolves_to) {
        if (term.species.empty()) {
            continue;
        }
        if (term.species == "H2O") {
            out.water = term.coefficient;
            continue;
        }
        const auto species = find_species(term.species);
        base::expect(species.has_value(), "a solid dissolves to species of the model");
        out.terms.push_back({*species, term.coefficient});
        switch (*species) {
            case Species::Na:
            case Species::K:
            case Species::Mg:
            case Species::Ca:
            case Species::Sr:
            case Species::Ba:
            case Species::Cl:
            case Species::SO4:
                break;
            default:
                out.by_brine_set = false;
        }
    }
    const double factor = row.natural_log ? 1.0 : std::numbers::ln10;
    out.ln_k_seawater = factor * evaluate(row.log_k, kelvin);
    out.ln_k_brine = factor * evaluate(row.log_k_brine, kelvin);
    return out;
}

template <class P>
void read_solids(const P& kelvin, EquilibriumModel<P>& model) {
    const auto rows = ref::minerals();
    for (std::size_t i = 0; i < rows.size(); ++i) {
        model.solids.push_back(solid_action(rows[i], kelvin));
        if (rows[i].key == "calcite") {
            model.calcite = i;
        } else if (rows[i].key == "aragonite") {
            model.aragonite = i;
        }
    }
}

template <class P>
P ln_gas_constant(const P& kelvin) {
    for (const ref::GasRow& row : ref::gases()) {
        if (row.dissolved == "CO2") {
            return std::numbers::ln10 * evaluate_log10(row.log_k, kelvin);
        }
    }
    base::expect(false, "the table of gases holds CO2");
    return P{};
}

/// ln of the model's stoichiometric constants, free scale, per kg of solution.
template <class P>
std::array<P, kAnchors> model_anchors(const Speciation<P>& s) {
    using std::log;
    const auto m = [&](Species i) { return s.molality[index(i)]; };
    const auto g = [&](Species i) { return s.activity.ln_gamma[index(i)]; };
    const P ln_w = log(s.conditions.water_share);
    const P ln_h = log(m(Species::H));
    const P carbonate = m(Species::CO3) + m(Species::MgCO3) + m(Species::CaCO3) + m(Species::SrCO3);
    const P borate = m(Species::BOH4) + m(Species::MgBOH4) + m(Species::CaBOH4);
    const P fluoride = m(Species::F) + m(Species::MgF) + m(Species::CaF);
    const P calcium = m(Species::Ca) + m(Species::CaF) + m(Species::CaCO3) + m(Species::CaBOH4);
    const P ln_product = log(calcium * carbonate / (m(Species::Ca) * m(Species::CO3))) -
                         g(Species::Ca) - g(Species::CO3) + 2.0 * ln_w;
    return {ln_h + log(m(Species::HCO3) / m(Species::CO2)) + ln_w,
            ln_h + log(carbonate / m(Species::HCO3)) + ln_w,
            ln_h + log(borate / m(Species::BOH3)) + ln_w,
            ln_h + log(m(Species::OH) + m(Species::MgOH)) + 2.0 * ln_w,
            ln_h + log(m(Species::SO4) / m(Species::HSO4)) + ln_w,
            ln_h + log(fluoride / m(Species::HF)) + ln_w,
            s.conditions.ln_k0 - g(Species::CO2) + ln_w,
            s.conditions.ln_calcite + ln_product,
            s.conditions.ln_aragonite + ln_product};
}

template <class P>
AnchorSeries<P> anchor_series(const EquilibriumModel<P>& model, Route route) {
    AnchorSeries<P> out;
    for (auto& series : out) {
        series.fill(P(0.0));
    }
    const double low = std::sqrt(kAnchorFrom);
    const double high = std::sqrt(kAnchorLast);
    for (std::size_t node = 0; node < kAnchorNodes; ++node) {
        const double angle = std::numbers::pi * (static_cast<double>(node) + 0.5) /
                             static_cast<double>(kAnchorNodes);
        const double root = 0.5 * (low + high) + 0.5 * (high - low) * std::cos(angle);
        const ReferenceTotals water = reference_totals(root * root);
        const auto values = model_anchors(speciation_of_reference(model, water, route));
        for (std::size_t a = 0; a < kAnchors; ++a) {
            for (std::size_t k = 0; k < kAnchorNodes; ++k) {
                const double weight = (k == 0 ? 1.0 : 2.0) / static_cast<double>(kAnchorNodes) *
                                      std::cos(static_cast<double>(k) * angle);
                out[a][k] += weight * values[a];
            }
        }
    }
    return out;
}

}  // namespace

StrengthOfSalinity strength_of_salinity() {
    // With m = c S / (1 - q S): I = (1/2) sum z^2 m, so k = 1000 x the strength per unit of
    // salinity and kg of solution, d = 1000 q.
    static const StrengthOfSalinity kScale = [] {
        constexpr double kNormal = 35;
        const ReferenceTotals water = reference_totals(kNormal);
        const double per_salinity = formal_strength(water.mol_per_kg) / kNormal;
        return StrengthOfSalinity{1000 * per_salinity, 1000 * water.dissolved_kg_per_kg / kNormal};
    }();
    return kScale;
}

template <class P>
EquilibriumModel<P> prepare_model(const P& kelvin, const SeawaterFits& fits) {
    EquilibriumModel<P> model;
    model.kelvin = kelvin;
    model.fits = fits;
    model.seawater = interaction_parameters(ref::InteractionSet::Seawater, kelvin);
    model.brine = interaction_parameters(ref::InteractionSet::Brine, kelvin);
    read_reactions(ref::InteractionSet::Seawater, kelvin, model.made);
    read_reactions(ref::InteractionSet::Brine, kelvin, model.made);
    model.ln_k0 = ln_gas_constant(kelvin);
    read_solids(kelvin, model);
    model.anchor_seawater = anchor_series(model, Route::SeawaterSet);
    model.anchor_brine = anchor_series(model, Route::BrineSet);
    return model;
}

template EquilibriumModel<double> prepare_model(const double&, const SeawaterFits&);
template EquilibriumModel<num::Dual<1>> prepare_model(const num::Dual<1>&, const SeawaterFits&);

}  // namespace bw::brine
