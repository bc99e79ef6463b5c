// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Included by ion_interaction.hpp alone.
#include <algorithm>
#include <array>
#include <cmath>
#include <span>
#include <utility>

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
    bool has_beta2 = false, has_c1 = false;
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
        case Kind::Beta1: p.beta1 = value; break;
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
            narrow(p.cation), narrow(p.anion), 0, kNone, kNone,
            p.beta0, p.beta1, p.beta2, p.c0, p.c1};
        q.exponent1 = exponent_index(out.exponents, p.alpha1);
        if (p.has_beta2) {
            q.exponent2 = exponent_index(out.exponents, p.alpha2);
        }
        if (p.has_c1) {
            q.exponent_c = exponent_index(out.exponents, p.omega);
        }
        out.pairs.push_back(q);
    }
    // Rows that share their first species stand together, for the sums of excess().
    std::ranges::stable_sort(out.pairs, {}, &InteractionParameters<Scalar>::Pair::cation);
    std::ranges::stable_sort(out.thetas, {}, &InteractionParameters<Scalar>::Two::a);
    std::ranges::stable_sort(out.lambdas, {}, &InteractionParameters<Scalar>::Two::a);
    const auto first_two = [](const auto& t) { return std::pair(t.a, t.b); };
    std::ranges::stable_sort(out.psis, {}, first_two);
    std::ranges::stable_sort(out.zetas, {}, first_two);
    return out;
}

namespace interaction_detail {

/// Charges that mix unsymmetrically: -2, -1, 1, 2.
inline constexpr std::size_t kClasses = 4;
struct ChargeWeights {
    PerSpecies<double> half_square, size;  ///< z^2 / 2 and |z|
};
inline constexpr ChargeWeights kChargeWeights = [] {
    ChargeWeights out{};
    for (std::size_t i = 0; i < kSpecies; ++i) {
        const int z = kSpeciesFacts[i].charge;
        out.half_square[i] = 0.5 * z * z;
        out.size[i] = z < 0 ? -z : z;
    }
    return out;
}();
static_assert(kSpecies % 2 == 0);

struct SpeciesList {
    std::array<std::uint8_t, kSpecies> place{};
    std::size_t count = 0;
    [[nodiscard]] std::span<const std::uint8_t> places() const { return {place.data(), count}; }
};
inline constexpr std::array<SpeciesList, kClasses> kSpeciesOfClass = [] {
    std::array<SpeciesList, kClasses> out{};
    for (std::size_t i = 0; i < kSpecies; ++i) {
        const int z = kSpeciesFacts[i].charge;
        if (z != 0 && z >= -2 && z <= 2) {
            SpeciesList& list = out[static_cast<std::size_t>(z < 0 ? z + 2 : z + 1)];
            list.place[list.count++] = static_cast<std::uint8_t>(i);
        }
    }
    return out;
}();

/// The sum over species; two at a time, so that additions need not wait for each other.
template <class Scalar, class Of>
Scalar sum_over_species(const Of& of) {
    Scalar even = of(std::size_t{0});
    Scalar odd = of(std::size_t{1});
    for (std::size_t i = 2; i < kSpecies; i += 2) {
        even += of(i);
        odd += of(i + 1);
    }
    return even + odd;
}

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
    Scalar by_charge{0.0};
    for (auto q = p.pairs.begin(); q != p.pairs.end();) {  // cation by cation
        const std::size_t cation = q->cation;
        Scalar of_cation{0.0};
        for (; q != p.pairs.end() && q->cation == cation; ++q) {
            const Decay<Scalar>& first = decays[q->exponent1];
            Scalar twice_b = 2.0 * q->beta0 + (2.0 * q->beta1) * first.g;
            Scalar slope = (2.0 * q->beta1) * first.g_slope;  // of 2 B + Z C by ln I
            Scalar c(q->c0);
            if (q->exponent2 != kNone) {
                twice_b += (2.0 * q->beta2) * decays[q->exponent2].g;
                slope += (2.0 * q->beta2) * decays[q->exponent2].g_slope;
            }
            if (q->exponent_c != kNone) {
                c += (4.0 * q->c1) * decays[q->exponent_c].h;
                slope += (4.0 * q->c1) * charge * decays[q->exponent_c].h_slope;
            }
            const Scalar both = twice_b + charge * c;
            const Scalar product = m[cation] * m[q->anion];
            direct[q->anion] += m[cation] * both;
            of_cation += m[q->anion] * both;
            by_charge += product * c;
            by_ln_strength += product * slope;
        }
        direct[cation] += of_cation;
    }
    sums.by_strength += by_ln_strength / strength;
    sums.by_charge += by_charge;
}

/// E-theta of charges 1 and 2 for all cations among each other, and all anions.
template <class P, class Scalar>
void add_unsymmetrical(const InteractionParameters<P>& p, const PerSpecies<Scalar>& m,
                       const Scalar& strength, PerSpecies<Scalar>& direct, Sums<Scalar>& sums) {
    using std::sqrt;
    std::array<Scalar, kClasses> of_charge;
    for (std::size_t z = 0; z < kClasses; ++z) {
        of_charge[z] = Scalar(0.0);
        for (const std::uint8_t i : kSpeciesOfClass[z].places()) {
            of_charge[z] += m[i];
        }
    }
    constexpr double kSix = 6.0;
    const Scalar x11 = kSix * p.slope * sqrt(strength);
    const std::array<Scalar, 3> x{x11, 2.0 * x11, 4.0 * x11};
    std::array<MixingIntegral<Scalar>, 3> integrals;
    if (p.set == ref::InteractionSet::Seawater) {
        std::ranges::transform(x, integrals.begin(), mixing_integral_closed<Scalar>);
    } else {
        integrals = mixing_integral_series(x);
    }
    const auto& [j11, j12, j22] = integrals;
    const Scalar theta = (j12.j - 0.5 * (j11.j + j22.j)) * (2.0 / 4.0) / strength;
    const Scalar slope = -theta / strength + (j12.x_slope - 0.5 * (j11.x_slope + j22.x_slope)) *
                                                 (2.0 / 8.0) / (strength * strength);
    const Scalar products = of_charge[2] * of_charge[3] + of_charge[1] * of_charge[0];
    sums.by_strength += 2.0 * products * slope;
    constexpr std::array<std::size_t, kClasses> kPartner{1, 0, 3, 2};
    for (std::size_t z = 0; z < kClasses; ++z) {
        const Scalar by = 2.0 * theta * of_charge[kPartner[z]];
        for (const std::uint8_t i : kSpeciesOfClass[z].places()) {
            direct[i] += by;
        }
    }
}

template <class P, class Scalar>
void add_twos(const std::vector<typename InteractionParameters<P>::Two>& rows,
              const PerSpecies<Scalar>& m, PerSpecies<Scalar>& direct) {
    for (auto t = rows.begin(); t != rows.end();) {
        const std::size_t a = t->a;
        const Scalar twice = 2.0 * m[a];
        Scalar sum{0.0};
        for (; t != rows.end() && t->a == a; ++t) {
            direct[t->b] += twice * t->value;
            sum += m[t->b] * t->value;
        }
        direct[a] += 2.0 * sum;
    }
}

template <class P, class Scalar>
void add_threes(const std::vector<typename InteractionParameters<P>::Three>& rows,
                const PerSpecies<Scalar>& m, PerSpecies<Scalar>& direct) {
    for (auto t = rows.begin(); t != rows.end();) {
        const std::size_t a = t->a;
        const std::size_t b = t->b;
        const Scalar both = m[a] * m[b];
        Scalar sum{0.0};
        for (; t != rows.end() && t->a == a && t->b == b; ++t) {
            direct[t->c] += both * t->value;
            sum += m[t->c] * t->value;
        }
        direct[a] += m[b] * sum;
        direct[b] += m[a] * sum;
    }
}

}  // namespace interaction_detail

template <class P, class Scalar>
void excess(const InteractionParameters<P>& p, const PerSpecies<Scalar>& m,
            Excess<Scalar>& out) {
    using namespace interaction_detail;
    using std::log;
    using std::sqrt;
    const auto sum = [](const auto& of) -> Scalar { return sum_over_species<Scalar>(of); };
    const Scalar solutes = sum([&](std::size_t i) { return m[i]; });
    const Scalar charge =
        sum([&](std::size_t i) { return Scalar(kChargeWeights.size[i] * m[i]); });
    const Scalar ionic =
        sum([&](std::size_t i) { return Scalar(kChargeWeights.half_square[i] * m[i]); });
    constexpr double kLeast = 1e-9;  // below: round-off of water's own ions
    const Scalar strength = ionic < kLeast ? Scalar(ionic * 0.0 + kLeast) : ionic;
    PerSpecies<Scalar> direct;  // of terms of second and of third degree in m
    PerSpecies<Scalar> third;
    direct.fill(Scalar(0.0));
    third.fill(Scalar(0.0));
    Sums<Scalar> sums;
    add_pairs(p, m, strength, charge, direct, sums);
    add_unsymmetrical(p, m, strength, direct, sums);
    add_twos<P>(p.thetas, m, direct);
    add_twos<P>(p.lambdas, m, direct);
    add_threes<P>(p.psis, m, third);
    add_threes<P>(p.zetas, m, third);
    // By Euler's theorem, at fixed I and Z.
    const Scalar second_degree = sum([&](std::size_t i) { return Scalar(m[i] * direct[i]); });
    const Scalar third_degree = sum([&](std::size_t i) { return Scalar(m[i] * third[i]); });
    sums.energy = second_degree / 2.0 + third_degree / 3.0;
    const Scalar root = sqrt(strength);
    const Scalar ln_term = log(1.0 + kB * root);
    sums.energy += -(4.0 / kB) * p.slope * strength * ln_term;
    sums.by_strength +=
        -(4.0 / kB) * p.slope * ln_term - 2.0 * p.slope * root / (1.0 + kB * root);
    for (std::size_t i = 0; i < kSpecies; ++i) {
        out.ln_gamma[i] = direct[i] + third[i] +
                          kChargeWeights.half_square[i] * sums.by_strength +
                          kChargeWeights.size[i] * sums.by_charge;
    }
    out.excess_energy = sums.energy;
    out.ionic_strength = strength;
    const Scalar mean = second_degree + third_degree + ionic * sums.by_strength +
                        charge * sums.by_charge;  // sum(m ln gamma)
    // phi sum(m) = sum(m) + sum(m ln gamma) - G, without dividing by a vanishing sum.
    const Scalar osmoles = solutes + mean - sums.energy;
    out.osmotic_coefficient = solutes > 0.0 ? osmoles / solutes : solutes * 0.0 + 1.0;
    out.ln_water_activity = -kWaterKgPerMol * osmoles;
}

}  // namespace bw::brine
