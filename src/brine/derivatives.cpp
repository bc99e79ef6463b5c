// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/derivatives.hpp"

namespace bw::brine {
namespace {

using Dual1 = num::Dual<1>;

std::vector<double> values(const std::vector<Dual1>& from) {
    std::vector<double> out;
    out.reserve(from.size());
    for (const Dual1& d : from) {
        out.push_back(d.v);
    }
    return out;
}

InteractionParameters<double> values(const InteractionParameters<Dual1>& from) {
    InteractionParameters<double> out;
    out.set = from.set;
    out.slope = from.slope.v;
    out.exponents = values(from.exponents);
    for (const auto& p : from.pairs) {
        out.pairs.push_back({p.cation, p.anion, p.exponent1, p.exponent2, p.exponent_c, p.beta0.v,
                             p.beta1.v, p.beta2.v, p.c0.v, p.c1.v});
    }
    const auto two = [](const auto& rows, auto& to) {
        for (const auto& r : rows) {
            to.push_back({r.a, r.b, r.value.v});
        }
    };
    const auto three = [](const auto& rows, auto& to) {
        for (const auto& r : rows) {
            to.push_back({r.a, r.b, r.c, r.value.v});
        }
    };
    two(from.thetas, out.thetas);
    two(from.lambdas, out.lambdas);
    three(from.psis, out.psis);
    three(from.zetas, out.zetas);
    return out;
}

AnchorSeries<double> values(const AnchorSeries<Dual1>& from) {
    AnchorSeries<double> out{};
    for (std::size_t a = 0; a < kAnchors; ++a) {
        for (std::size_t k = 0; k < kAnchorNodes; ++k) {
            out[a][k] = from[a][k].v;
        }
    }
    return out;
}

template <class P>
Closing<P> closing_of(const ReferenceTotals& water) {
    return {{Closure::Alkalinity, Closure::Carbon},
            {P(water.alkalinity_eq_per_kg), P(water.carbon_mol_per_kg)}};
}

template <class P>
Conditions<P> conditions_of(const EquilibriumModel<P>& model, const ReferenceTotals& water,
                            Route route) {
    PerTotal<P> totals;
    for (std::size_t t = 0; t < kTotals; ++t) {
        totals[t] = P(water.mol_per_kg[t]);
    }
    return conditions(model, totals, P(water.dissolved_kg_per_kg), route);
}

}  // namespace

EquilibriumModel<double> values_of(const EquilibriumModel<Dual1>& model) {
    EquilibriumModel<double> out;
    out.kelvin = model.kelvin.v;
    out.fits = model.fits;
    out.seawater = values(model.seawater);
    out.brine = values(model.brine);
    for (std::size_t k = 0; k < kMadeSize; ++k) {
        const MassAction<Dual1>& r = model.made[k];
        MassAction<double>& plain = out.made[k];
        plain = {r.basis, r.water, r.ln_k_seawater.v, r.ln_k_brine.v, r.in_seawater, r.in_brine};
        for (const auto& term : r.formed_from()) {
            plain.terms[plain.term_count++] = {term.place, term.coefficient};
        }
    }
    out.ln_k0 = model.ln_k0.v;
    for (const auto& solid : model.solids) {
        SolidAction<double> plain;
        for (const auto& term : solid.terms) {
            plain.terms.push_back({term.species, term.coefficient});
        }
        plain.water = solid.water;
        plain.ln_k_seawater = solid.ln_k_seawater.v;
        plain.ln_k_brine = solid.ln_k_brine.v;
        plain.by_brine_set = solid.by_brine_set;
        out.solids.push_back(std::move(plain));
    }
    out.calcite = model.calcite;
    out.aragonite = model.aragonite;
    out.anchor_seawater = values(model.anchor_seawater);
    out.anchor_brine = values(model.anchor_brine);
    out.field_share = model.field_share;
    return out;
}

Speciation<double> speciation_of_reference(const EquilibriumModel<double>& model,
                                           const ReferenceTotals& water, Route route) {
    auto found = speciate(model, conditions_of(model, water, route), closing_of<double>(water));
    base::expect(found.has_value(), "seawater has a state in every model");
    return *found;
}

Speciation<Dual1> speciation_of_reference(const EquilibriumModel<Dual1>& model,
                                          const ReferenceTotals& water, Route route) {
    const EquilibriumModel<double> plain = values_of(model);
    return with_derivatives(model, conditions_of(model, water, route), closing_of<Dual1>(water),
                            plain, closing_of<double>(water),
                            speciation_of_reference(plain, water, route));
}

}  // namespace bw::brine
