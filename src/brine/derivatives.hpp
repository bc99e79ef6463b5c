// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <vector>

#include "base/result.hpp"
#include "brine/reference_totals.hpp"
#include "brine/speciation.hpp"
#include "num/dual.hpp"
#include "num/linear_solve.hpp"

/// Exact derivatives of an equilibrium by whatever its conditions depend on: the theorem of the
/// implicit function, with the full Jacobian of mass action, balances and activity coefficients.
namespace bw::brine {

inline constexpr int kEquations = static_cast<int>(kBasisSize + kMadeSize);

/// The amounts of a state's unknowns, basis first.
template <class S>
struct Unknowns {
    std::array<S, static_cast<std::size_t>(kEquations)> ln_m;
    std::array<bool, static_cast<std::size_t>(kEquations)> present{};
};

[[nodiscard]] constexpr Species unknown_species(std::size_t u) {
    return u < kBasisSize ? kBasis[u] : kMade[u - kBasisSize];
}

/// All molalities from the unknowns: strong ions from the totals, weak traces by the field.
template <class C, class S>
[[nodiscard]] PerSpecies<S> molalities(const Conditions<C>& c, const Unknowns<S>& y) {
    using std::exp;
    PerSpecies<S> m;
    m.fill(S(0.0));
    for (std::size_t t = 0; t < index(Total::P); ++t) {
        m[index(kTotalFacts[t].acts_as)] = S(c.molal[t]);
    }
    for (std::size_t u = 0; u < y.ln_m.size(); ++u) {
        m[index(unknown_species(u))] = y.present[u] ? S(exp(y.ln_m[u])) : S(0.0);
    }
    const S hydrogen = m[index(Species::H)] + m[index(Species::HSO4)];
    static_cast<void>(weak_traces(c, hydrogen, m));
    return m;
}

/// The residual of a closing statement, in the form in which it is nearly linear.
template <class C, class S>
[[nodiscard]] S closing_residual(const Conditions<C>& c, Closure kind, const C& value,
                                 const PerSpecies<S>& m, const Activities<S>& a) {
    using std::log;
    switch (kind) {
        case Closure::Alkalinity:
            return alkalinity_sum(m) - value / c.water_share;
        case Closure::Carbon:
            return log(carbon_sum(m)) - log(C(value / c.water_share));
        case Closure::Fugacity:
            return log(m[index(Species::CO2)]) + a.ln_gamma[index(Species::CO2)] - c.ln_k0 -
                   log(value);
        default:
            return log(hydrogen_on_scale(kind, c, m)) + value * std::numbers::ln10;
    }
}

/// All equations at given unknowns; absent unknowns give 0.
template <class P, class C, class S>
[[nodiscard]] std::array<S, static_cast<std::size_t>(kEquations)> equations(
    const EquilibriumModel<P>& model, const Conditions<C>& c, const Closing<C>& closing,
    const Unknowns<S>& y) {
    using std::log;
    std::array<S, static_cast<std::size_t>(kEquations)> out;
    out.fill(S(0.0));
    const PerSpecies<S> m = molalities(c, y);
    Activities<S> a;
    activities(model, c, m, a);
    const auto constants = made_constants(model, c, a);
    for (std::size_t k = 0; k < kMadeSize; ++k) {
        if (y.present[kBasisSize + k]) {
            S sum = constants[k] - y.ln_m[kBasisSize + k];
            for (const auto& term : model.made[k].formed_from()) {
                sum += term.coefficient * y.ln_m[term.place];
            }
            out[kBasisSize + k] = sum;
        }
    }
    for (std::size_t e = 0; e < kBasisSize; ++e) {
        if (!y.present[e]) {
            continue;
        }
        if (e < kFirstBalanced) {
            out[e] = closing_residual(c, closing.kind[e], closing.value[e], m, a);
            continue;
        }
        S sum = m[index(kBasis[e])];
        for (std::size_t k = 0; k < kMadeSize; ++k) {
            if (model.made[k].basis[e] != 0) {
                sum += model.made[k].basis[e] * m[index(kMade[k])];
            }
        }
        out[e] = log(sum) - log(c.molal[index(kTotalOfBasis[e])]);
    }
    return out;
}

/// A solved state with the derivatives that its conditions, closing statements and model carry.
///
/// Inputs     the model and conditions in scalars that carry derivatives; the same in double, and
///            the state solved with them.
/// Accuracy   exact but for the residual of the solved state (1e-12).
/// Errors     none: a singular Jacobian gives derivatives that are not numbers.
template <class P, int N>
[[nodiscard]] Speciation<num::Dual<N>> with_derivatives(const EquilibriumModel<P>& model,
                                                        const Conditions<num::Dual<N>>& c,
                                                        const Closing<num::Dual<N>>& closing,
                                                        const EquilibriumModel<double>& plain,
                                                        const Closing<double>& plain_closing,
                                                        const Speciation<double>& at) {
    using S = num::Dual<N>;
    using Full = num::Dual<kEquations>;
    constexpr auto kSize = static_cast<std::size_t>(kEquations);
    Unknowns<Full> y;
    Unknowns<S> fixed;
    for (std::size_t u = 0; u < kSize; ++u) {
        const double amount = at.molality[index(unknown_species(u))];
        constexpr double kLeast = 1e-300;
        y.present[u] = fixed.present[u] = amount > kLeast;
        const double ln_m = y.present[u] ? std::log(amount) : 0;
        y.ln_m[u] = Full::variable(ln_m, static_cast<int>(u));
        fixed.ln_m[u] = S(ln_m);
    }
    const auto rows = equations(plain, at.conditions, plain_closing, y);
    const auto by_input = equations(model, c, closing, fixed);
    std::array<double, kSize * kSize> jacobian{};
    std::vector<double> sides(kSize * static_cast<std::size_t>(N), 0.0);
    for (std::size_t e = 0; e < kSize; ++e) {
        for (std::size_t u = 0; u < kSize; ++u) {
            jacobian[e * kSize + u] = y.present[e] ? rows[e].g[u] : (e == u ? 1.0 : 0.0);
        }
        for (std::size_t n = 0; n < static_cast<std::size_t>(N); ++n) {
            sides[e * static_cast<std::size_t>(N) + n] = y.present[e] ? -by_input[e].g[n] : 0.0;
        }
    }
    const bool solved = num::solve_dense(kSize, jacobian, sides, static_cast<std::size_t>(N));
    for (std::size_t u = 0; u < kSize; ++u) {
        for (std::size_t n = 0; n < static_cast<std::size_t>(N); ++n) {
            fixed.ln_m[u].g[n] = solved ? sides[u * static_cast<std::size_t>(N) + n]
                                        : std::numeric_limits<double>::quiet_NaN();
        }
    }
    Speciation<S> out;
    out.conditions = c;
    out.molality = molalities(c, fixed);
    activities(model, c, out.molality, out.activity);
    out.iterations = at.iterations;
    out.residual = at.residual;
    return out;
}

/// The values of a model whose constants carry derivatives.
[[nodiscard]] EquilibriumModel<double> values_of(const EquilibriumModel<num::Dual<1>>& model);

/// Reference-Composition Seawater in a model, by alkalinity and carbon.
[[nodiscard]] Speciation<double> speciation_of_reference(const EquilibriumModel<double>& model,
                                                         const ReferenceTotals& water, Route route);
[[nodiscard]] Speciation<num::Dual<1>> speciation_of_reference(
    const EquilibriumModel<num::Dual<1>>& model, const ReferenceTotals& water, Route route);

}  // namespace bw::brine
