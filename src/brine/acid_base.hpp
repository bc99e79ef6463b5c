// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>

#include "brine/conditions.hpp"
#include "num/linear_solve.hpp"

/// The equations of a water at equilibrium with itself, for any scalar.
namespace bw::brine {

/// The two closing statements with their values: eq/kg, mol/kg, atm, or pH.
template <class S>
struct Closing {
    std::array<Closure, 2> kind{Closure::Alkalinity, Closure::Carbon};
    std::array<S, 2> value{};
};

/// Activities of one composition under given conditions.
template <class S>
struct Activities {
    PerSpecies<S> ln_gamma;
    S ln_water;
    S osmotic;
};

/// Molalities as the sets see them: other ions act as their stand-ins, and the seawater set knows
/// lithium as sodium and barium as strontium.
template <class C, class S>
[[nodiscard]] PerSpecies<S> acting_molality(const PerSpecies<S>& m, const PerTotal<C>& totals,
                                            ref::InteractionSet set) {
    PerSpecies<S> out = m;
    for (const Total t : kOtherTotals) {
        out[index(kTotalFacts[index(t)].acts_as)] += totals[index(t)];
    }
    if (set == ref::InteractionSet::Seawater) {
        out[index(Species::Na)] += m[index(Species::Li)];
        out[index(Species::Sr)] += m[index(Species::Ba)];
        out[index(Species::Li)] = S(0.0);
        out[index(Species::Ba)] = S(0.0);
    }
    return out;
}

/// Coefficients of the joined sets. C is the scalar of the conditions: double, or S itself.
template <class P, class C, class S>
void activities(const EquilibriumModel<P>& model, const Conditions<C>& c,
                const PerSpecies<S>& molality, Activities<S>& out) {
    out.ln_gamma.fill(S(0.0));
    out.ln_water = S(0.0);
    out.osmotic = S(0.0);
    const auto add = [&](const InteractionParameters<P>& set, const C& share) {
        Excess<S> e;
        excess(set, acting_molality(molality, c.molal, set.set), e);
        if (set.set == ref::InteractionSet::Seawater) {
            e.ln_gamma[index(Species::Li)] = e.ln_gamma[index(Species::Na)];
            e.ln_gamma[index(Species::Ba)] = e.ln_gamma[index(Species::Sr)];
        }
        for (std::size_t i = 0; i < kSpecies; ++i) {
            out.ln_gamma[i] += share * e.ln_gamma[i];
        }
        out.ln_water += share * e.ln_water_activity;
        out.osmotic += share * e.osmotic_coefficient;
    };
    if (c.brine_share < 1.0) {
        add(model.seawater, 1.0 - c.brine_share);
    }
    if (c.brine_share > 0.0) {
        add(model.brine, c.brine_share);
    }
}

/// ln m of a made species less the sum over its basis.
template <class P, class C, class S>
[[nodiscard]] std::array<S, kMadeSize> made_constants(const EquilibriumModel<P>& model,
                                                      const Conditions<C>& c,
                                                      const Activities<S>& a) {
    std::array<S, kMadeSize> out;
    for (std::size_t k = 0; k < kMadeSize; ++k) {
        const MassAction<P>& r = model.made[k];
        out[k] = c.ln_k[k] + r.water * a.ln_water - a.ln_gamma[index(kMade[k])];
        for (const auto& term : r.formed_from()) {
            out[k] += term.coefficient * a.ln_gamma[index(kBasis[term.place])];
        }
    }
    return out;
}

/// Forms of phosphate and silicate by the field's constants, and what they add to alkalinity.
///
/// They stand outside the interaction sets: their constants are those of natural seawater of the
/// same strength, total scale, per kg of solution.
template <class S>
struct WeakTraces {
    S alkalinity;        ///< eq/kg-water
    S alkalinity_slope;  ///< by ln of the hydrogen ion
};

template <class C, class S>
[[nodiscard]] WeakTraces<S> weak_traces(const Conditions<C>& c, const S& hydrogen_total,
                                        PerSpecies<S>& m) {
    const S h = hydrogen_total * c.water_share;
    const SeawaterConstantsOf<C>& k = c.field;
    const S p3 = h * h * h;
    const S p2 = h * h * k.kp1;
    const S p1 = h * k.kp1 * k.kp2;
    const C p0 = k.kp1 * k.kp2 * k.kp3;
    const S all = p3 + p2 + p1 + p0;
    const C& phosphate = c.molal[index(Total::P)];
    const C& silicate = c.molal[index(Total::Si)];
    m[index(Species::H3PO4)] = phosphate * p3 / all;
    m[index(Species::H2PO4)] = phosphate * p2 / all;
    m[index(Species::HPO4)] = phosphate * p1 / all;
    m[index(Species::PO4)] = phosphate * p0 / all;
    m[index(Species::H4SiO4)] = silicate * h / (h + k.ksi);
    m[index(Species::H3SiO4)] = silicate * k.ksi / (h + k.ksi);
    const S protons = (3.0 * p3 + 2.0 * p2 + p1) / all;
    const S squares = (9.0 * p3 + 4.0 * p2 + p1) / all;
    WeakTraces<S> out;
    out.alkalinity = phosphate * (2.0 - protons) + m[index(Species::H3SiO4)];
    out.alkalinity_slope =
        -phosphate * (squares - protons * protons) - m[index(Species::H3SiO4)] * h / (h + k.ksi);
    return out;
}

/// Alkalinity, by definition, of the species of the model [eq/kg-water].
template <class S>
[[nodiscard]] S alkalinity_sum(const PerSpecies<S>& m) {
    S out(0.0);
    for (std::size_t i = 0; i < kSpecies; ++i) {
        if (kSpeciesFacts[i].alkalinity != 0) {
            out += static_cast<double>(kSpeciesFacts[i].alkalinity) * m[i];
        }
    }
    return out;
}

template <class S>
[[nodiscard]] S carbon_sum(const PerSpecies<S>& m) {
    return m[index(Species::CO2)] + m[index(Species::HCO3)] + m[index(Species::CO3)] +
           m[index(Species::MgCO3)] + m[index(Species::CaCO3)] + m[index(Species::SrCO3)];
}

/// Hydrogen ion of a pH scale, mol per kg of solution [free] or of its defining sum.
template <class C, class S>
[[nodiscard]] S hydrogen_on_scale(Closure scale, const Conditions<C>& c, const PerSpecies<S>& m) {
    const S& free = m[index(Species::H)];
    switch (scale) {
        case Closure::PhFree:
            return free * c.water_share;
        case Closure::PhNbs:
            return (free + m[index(Species::HSO4)] + m[index(Species::HF)]) * c.water_share *
                   c.field.hydrogen_activity;
        default:
            return (free + m[index(Species::HSO4)]) * c.water_share;
    }
}

}  // namespace bw::brine
