// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Included by ion_interaction.hpp alone.
#include <array>
#include <cmath>

#include "base/result.hpp"
#include "brine/temperature_function.hpp"
#include "brine/unsymmetrical_mixing.hpp"
#include "num/dual.hpp"

namespace bw::brine {
namespace interaction_detail {

// b of the Debye-Hueckel term and the usual exponents [pitzer-1991].
inline constexpr double kB = 1.2;
inline constexpr double kAlpha = 2.0;
inline constexpr double kAlpha22 = 1.4;
inline constexpr double kAlphaTwo = 12.0;

/// g(x) = 2 (1 - (1 + x) e^-x) / x^2 and its slope by ln I, x g'(x) / 2.
/// h(x) = (6 - (6 + 6x + 3x^2 + x^3) e^-x) / x^4 and its slope by ln I.
template <class Scalar>
struct Decay {
    Scalar g, g_slope, h, h_slope;
};

template <class Scalar>
Decay<Scalar> decay(const Scalar& x) {
    using std::exp;
    const Scalar e = exp(-x);
    const Scalar x2 = x * x;
    Decay<Scalar> d;
    constexpr double kSmall = 1e-3;  // below it the closed forms lose digits: series
    if (x < kSmall) {
        d.g = 1.0 - (2.0 / 3.0) * x + 0.25 * x2;
        d.g_slope = -x / 3.0 + 0.25 * x2;
        d.h = 0.25 - 0.2 * x + x2 / 12.0;
        d.h_slope = -0.1 * x + x2 / 12.0;
        return d;
    }
    d.g = 2.0 * (1.0 - (1.0 + x) * e) / x2;
    d.g_slope = e - d.g;
    d.h = (6.0 - (6.0 + x * (6.0 + x * (3.0 + x))) * e) / (x2 * x2);
    d.h_slope = 0.5 * (e - 4.0 * d.h);
    return d;
}

template <class Scalar>
struct PairBuilder {
    std::size_t cation, anion;
    Scalar beta0{0.0}, beta1{0.0}, beta2{0.0}, c0{0.0}, c1{0.0};
    Scalar alpha1, alpha2{kAlphaTwo}, omega{0.0};
    // Whether the table has a row: a value of 0 at one temperature may still change with it.
    bool has_beta1 = false, has_beta2 = false, has_c1 = false;
};

/// Equal with all derivatives, so that an exponent that only passes through a constant at this
/// temperature keeps its own slope.
template <class Scalar>
bool identical(const Scalar& a, const Scalar& b) {
    return a == b;
}
template <int N>
bool identical(const num::Dual<N>& a, const num::Dual<N>& b) {
    return a.v == b.v && a.g == b.g;
}

template <class Scalar>
std::uint8_t exponent_index(std::vector<Scalar>& exponents, const Scalar& value) {
    for (std::size_t k = 0; k < exponents.size(); ++k) {
        if (identical(exponents[k], value)) {
            return static_cast<std::uint8_t>(k);
        }
    }
    exponents.push_back(value);
    return static_cast<std::uint8_t>(exponents.size() - 1);
}

inline std::size_t species_of(std::string_view symbol) {
    const auto found = find_species(symbol);
    base::expect(found.has_value(), "the tables name species of the model only");
    return index(*found);
}

template <class Scalar>
PairBuilder<Scalar>& pair_of(std::vector<PairBuilder<Scalar>>& pairs, std::size_t cation,
                             std::size_t anion) {
    for (auto& p : pairs) {
        if (p.cation == cation && p.anion == anion) {
            return p;
        }
    }
    PairBuilder<Scalar> p;
    p.cation = cation;
    p.anion = anion;
    const bool both_two =
        kSpeciesFacts[cation].charge == 2 && kSpeciesFacts[anion].charge == -2;
    p.alpha1 = Scalar(both_two ? kAlpha22 : kAlpha);
    pairs.push_back(p);
    return pairs.back();
}

template <class Scalar>
void set_pair(PairBuilder<Scalar>& p, ref::InteractionKind kind, const Scalar& value) {
    using Kind = ref::InteractionKind;
    const double charges = std::abs(static_cast<double>(kSpeciesFacts[p.cation].charge *
                                                        kSpeciesFacts[p.anion].charge));
    switch (kind) {
        case Kind::Beta0: p.beta0 = value; break;
        case Kind::Beta1: p.beta1 = value; p.has_beta1 = true; break;
        case Kind::Beta2: p.beta2 = value; p.has_beta2 = true; break;
        case Kind::CPhi: p.c0 = value / (2.0 * std::sqrt(charges)); break;
        case Kind::C0: p.c0 = value; break;
        case Kind::C1: p.c1 = value; p.has_c1 = true; break;
        case Kind::Alpha1: p.alpha1 = value; break;
        case Kind::Alpha2: p.alpha2 = value; break;
        case Kind::Omega: p.omega = value; break;
        default: base::expect(false, "a coefficient of a cation and an anion");
    }
}

}  // namespace interaction_detail

template <class Scalar>
InteractionParameters<Scalar> interaction_parameters(ref::InteractionSet set,
                                                     const Scalar& kelvin) {
    using namespace interaction_detail;
    using Kind = ref::InteractionKind;
    InteractionParameters<Scalar> out;
    constexpr auto kNone = InteractionParameters<Scalar>::kNone;
    out.set = set;
    out.slope = evaluate(ref::limiting_slope(set), kelvin);
    std::vector<PairBuilder<Scalar>> pairs;
    const auto narrow = [](std::size_t i) { return static_cast<std::uint8_t>(i); };
    for (const ref::InteractionRow& row : ref::interactions(set)) {
        const Scalar value = evaluate(row.value, kelvin);
        const std::size_t a = species_of(row.species[0]);
        const std::size_t b = species_of(row.species[1]);
        switch (row.kind) {
            case Kind::Theta: out.thetas.push_back({narrow(a), narrow(b), value}); break;
            case Kind::Lambda: out.lambdas.push_back({narrow(a), narrow(b), value}); break;
            case Kind::Psi:
            case Kind::Zeta:
                (row.kind == Kind::Psi ? out.psis : out.zetas)
                    .push_back({narrow(a), narrow(b), narrow(species_of(row.species[2])), value});
                break;
            default: set_pair(pair_of(pairs, a, b), row.kind, value);
        }
    }
    for (const PairBuilder<Scalar>& p : pairs) {
        typename InteractionParameters<Scalar>::Pair q{
            narrow(p.cation), narrow(p.anion), kNone, kNone, kNone,
            p.beta0, p.beta1, p.beta2, p.c0, p.c1};
        if (p.has_beta1) {
            q.exponent1 = exponent_index(out.exponents, p.alpha1);
        }
        if (p.has_beta2) {
            q.exponent2 = exponent_index(out.exponents, p.alpha2);
        }
        if (p.has_c1) {
            q.exponent_c = exponent_index(out.exponents, p.omega);
        }
        out.pairs.push_back(q);
    }
    return out;
}

namespace interaction_detail {

/// Running derivatives of G: by each molality at fixed I and Z, by I, and by Z.
template <class Scalar>
struct Sums {
    Scalar energy{0.0}, by_strength{0.0}, by_charge{0.0};
};

template <class P, class Scalar>
void add_pairs(const InteractionParameters<P>& p, const PerSpecies<Scalar>& m,
               const Scalar& strength, const Scalar& charge, PerSpecies<Scalar>& direct,
               Sums<Scalar>& sums) {
    using std::sqrt;
    constexpr auto kNone = InteractionParameters<P>::kNone;
    constexpr std::size_t kMostExponents = 8;
    std::array<Decay<Scalar>, kMostExponents> decays;
    base::expect(p.exponents.size() <= kMostExponents, "a set has few exponents");
    const Scalar root = sqrt(strength);
    for (std::size_t k = 0; k < p.exponents.size(); ++k) {
        decays[k] = decay<Scalar>(root * p.exponents[k]);
    }
    Scalar by_ln_strength{0.0};
    for (const auto& q : p.pairs) {
        Scalar b(q.beta0);
        Scalar c(q.c0);
        Scalar slope{0.0};  // of 2 B + Z C by ln I
        if (q.exponent1 != kNone) {
            b += q.beta1 * decays[q.exponent1].g;
            slope += 2.0 * q.beta1 * decays[q.exponent1].g_slope;
        }
        if (q.exponent2 != kNone) {
            b += q.beta2 * decays[q.exponent2].g;
            slope += 2.0 * q.beta2 * decays[q.exponent2].g_slope;
        }
        if (q.exponent_c != kNone) {
            c += 4.0 * q.c1 * decays[q.exponent_c].h;
            slope += 4.0 * charge * q.c1 * decays[q.exponent_c].h_slope;
        }
        const Scalar both = 2.0 * b + charge * c;
        const Scalar product = m[q.cation] * m[q.anion];
        direct[q.cation] += m[q.anion] * both;
        direct[q.anion] += m[q.cation] * both;
        sums.energy += product * both;
        sums.by_charge += product * c;
        by_ln_strength += product * slope;
    }
    sums.by_strength += by_ln_strength / strength;
}

/// E-theta of charges 1 and 2 for all cations among each other, and all anions.
template <class P, class Scalar>
void add_unsymmetrical(const InteractionParameters<P>& p, const PerSpecies<Scalar>& m,
                       const Scalar& strength, PerSpecies<Scalar>& direct, Sums<Scalar>& sums) {
    using std::sqrt;
    std::array<Scalar, 5> of_charge{};  // molality by charge -2 .. 2
    for (auto& sum : of_charge) {
        sum = Scalar(0.0);
    }
    for (std::size_t i = 0; i < kSpecies; ++i) {
        const int z = kSpeciesFacts[i].charge;
        if (z >= -2 && z <= 2) {
            of_charge[static_cast<std::size_t>(z + 2)] += m[i];
        }
    }
    const auto j = [&](double charges) {
        constexpr double kSix = 6.0;
        const Scalar x = (kSix * charges) * p.slope * sqrt(strength);
        return p.set == ref::InteractionSet::Seawater ? mixing_integral_closed<Scalar>(x)
                                                      : mixing_integral_series<Scalar>(x);
    };
    const auto j11 = j(1.0);
    const auto j12 = j(2.0);
    const auto j22 = j(4.0);
    const Scalar theta = (j12.j - 0.5 * (j11.j + j22.j)) * (2.0 / 4.0) / strength;
    const Scalar slope = -theta / strength + (j12.x_slope - 0.5 * (j11.x_slope + j22.x_slope)) *
                                                 (2.0 / 8.0) / (strength * strength);
    const Scalar products = of_charge[3] * of_charge[4] + of_charge[1] * of_charge[0];
    sums.energy += 2.0 * products * theta;
    sums.by_strength += 2.0 * products * slope;
    for (std::size_t i = 0; i < kSpecies; ++i) {
        const int z = kSpeciesFacts[i].charge;
        if (z != 0 && z >= -2 && z <= 2) {
            const int partner = z > 0 ? 3 - z : -3 - z;
            direct[i] += 2.0 * theta * of_charge[static_cast<std::size_t>(partner + 2)];
        }
    }
}

template <class P, class Scalar>
void add_constants(const InteractionParameters<P>& p, const PerSpecies<Scalar>& m,
                   PerSpecies<Scalar>& direct, Sums<Scalar>& sums) {
    const auto two = [&](const auto& rows) {
        for (const auto& t : rows) {
            const P v = 2.0 * t.value;
            direct[t.a] += m[t.b] * v;
            direct[t.b] += m[t.a] * v;
            sums.energy += m[t.a] * m[t.b] * v;
        }
    };
    const auto three = [&](const auto& rows) {
        for (const auto& t : rows) {
            direct[t.a] += m[t.b] * m[t.c] * t.value;
            direct[t.b] += m[t.a] * m[t.c] * t.value;
            direct[t.c] += m[t.a] * m[t.b] * t.value;
            sums.energy += m[t.a] * m[t.b] * m[t.c] * t.value;
        }
    };
    two(p.thetas);
    two(p.lambdas);
    three(p.psis);
    three(p.zetas);
}

}  // namespace interaction_detail

template <class P, class Scalar>
void excess(const InteractionParameters<P>& p, const PerSpecies<Scalar>& m,
            Excess<Scalar>& out) {
    using namespace interaction_detail;
    using std::log;
    using std::sqrt;
    Scalar strength{0.0};
    Scalar charge{0.0};
    Scalar solutes{0.0};
    for (std::size_t i = 0; i < kSpecies; ++i) {
        const int z = kSpeciesFacts[i].charge;
        strength += (0.5 * z * z) * m[i];
        charge += static_cast<double>(std::abs(z)) * m[i];
        solutes += m[i];
    }
    constexpr double kLeast = 1e-9;  // below: round-off of water's own ions
    if (strength < kLeast) {
        strength = strength * 0.0 + kLeast;
    }
    PerSpecies<Scalar> direct;
    direct.fill(Scalar(0.0));
    Sums<Scalar> sums;
    add_pairs(p, m, strength, charge, direct, sums);
    add_unsymmetrical(p, m, strength, direct, sums);
    add_constants(p, m, direct, sums);
    const Scalar root = sqrt(strength);
    const Scalar ln_term = log(1.0 + kB * root);
    sums.energy += -(4.0 / kB) * p.slope * strength * ln_term;
    sums.by_strength +=
        -(4.0 / kB) * p.slope * ln_term - 2.0 * p.slope * root / (1.0 + kB * root);
    Scalar mean{0.0};
    for (std::size_t i = 0; i < kSpecies; ++i) {
        const int z = kSpeciesFacts[i].charge;
        out.ln_gamma[i] = direct[i] + (0.5 * z * z) * sums.by_strength +
                          static_cast<double>(std::abs(z)) * sums.by_charge;
        mean += m[i] * out.ln_gamma[i];
    }
    out.excess_energy = sums.energy;
    out.ionic_strength = strength;
    // phi sum(m) = sum(m) + sum(m ln gamma) - G, without dividing by a vanishing sum.
    const Scalar osmoles = solutes + mean - sums.energy;
    out.osmotic_coefficient = solutes > 0.0 ? osmoles / solutes : solutes * 0.0 + 1.0;
    out.ln_water_activity = -kWaterKgPerMol * osmoles;
}

}  // namespace bw::brine
