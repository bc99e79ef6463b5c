// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <vector>

#include "brine/aqueous_species.hpp"
#include "ref/brine_tables.hpp"

namespace bw::brine {

/// The coefficients of one interaction set at one temperature, laid out for speed.
template <class Scalar>
struct InteractionParameters {
    struct Pair {
        std::uint8_t cation, anion;
        std::uint8_t exponent1, exponent2, exponent_c;  ///< indices below; kNone: no such term
        Scalar beta0, beta1, beta2, c0, c1;
    };
    struct Two {
        std::uint8_t a, b;
        Scalar value;
    };
    struct Three {
        std::uint8_t a, b, c;
        Scalar value;
    };
    static constexpr std::uint8_t kNone = 255;

    ref::InteractionSet set = ref::InteractionSet::Seawater;
    Scalar slope{};                 ///< A_phi
    std::vector<Scalar> exponents;  ///< alphas and omegas in use
    std::vector<Pair> pairs;
    std::vector<Two> thetas;
    std::vector<Two> lambdas;  ///< neutral, other
    std::vector<Three> psis;   ///< two of like sign, one of the other
    std::vector<Three> zetas;  ///< neutral, cation, anion
};

/// Evaluates a set's coefficients.
/// Inputs   temperature in K.
/// Valid    273.15 to 313.15 K; rows hold over their own ranges, see row_range_notice.
template <class Scalar>
[[nodiscard]] InteractionParameters<Scalar> interaction_parameters(ref::InteractionSet set,
                                                                   const Scalar& kelvin);

/// Activity coefficients and water activity of one solution.
template <class Scalar>
struct Excess {
    PerSpecies<Scalar> ln_gamma;  ///< molal, single-ion, unscaled
    Scalar excess_energy;         ///< G / (w R T), per kg of water
    Scalar osmotic_coefficient;
    Scalar ln_water_activity;
    Scalar ionic_strength;  ///< mol/kg-water
};

/// The Pitzer equations with unsymmetrical mixing.
///
/// Definition   G/(wRT) = -(4 A I/b) ln(1 + b sqrt I) + sum m_c m_a (2 B + Z C)
///              + sum_{i<j} m_i m_j (2 Phi + sum_k m_k psi) + 2 sum m_n m_i lambda
///              + sum m_n m_c m_a zeta; ln gamma_i is its derivative by m_i, and
///              phi - 1 = (sum m_i ln gamma_i - G) / sum m.
/// Inputs       mol/kg-water of every species, none negative, not all zero.
/// Valid        ionic strength up to 8 mol/kg-water with the brine set, 2 with the seawater set.
/// Accuracy     of the equations: round-off. Of the sets: docs/explanation/water.md.
/// Source       [pitzer-1991] chapter 3; b = 1.2; J of the set's authors.
/// Complexity   one pass over the rows; allocates nothing.
/// P is the scalar of the parameters: double, or Scalar itself when temperature is a variable.
template <class P, class Scalar>
void excess(const InteractionParameters<P>& parameters, const PerSpecies<Scalar>& molality,
            Excess<Scalar>& out);

inline constexpr double kWaterKgPerMol = 0.01801528;  ///< [ciaaw-2005]: H 1.00794, O 15.9994

}  // namespace bw::brine

#include "brine/ion_interaction.inl"

namespace bw::brine {
extern template void excess(const InteractionParameters<double>&, const PerSpecies<double>&,
                            Excess<double>&);  // plain_equilibrium.cpp
}
