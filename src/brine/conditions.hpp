// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <array>
#include <cmath>
#include <cstddef>

#include "brine/equilibrium_model.hpp"
#include "brine/seawater_fits.hpp"

/// The model at one composition: shares of the two interaction sets, and constants in force.
namespace bw::brine {

/// Charge with which a total counts to the formal strength, and the species that it is or acts as.
struct TotalFacts {
    int charge;
    Species acts_as;
};
inline constexpr PerTotal<TotalFacts> kTotalFacts{{
    {1, Species::Na},
    {1, Species::K},
    {2, Species::Mg},
    {2, Species::Ca},
    {2, Species::Sr},
    {2, Species::Ba},
    {1, Species::Li},
    {-1, Species::Cl},
    {-1, Species::Br},
    {-1, Species::F},
    {-2, Species::SO4},
    {0, Species::BOH3},
    {0, Species::H3PO4},
    {0, Species::H4SiO4},
    {1, Species::K},
    {2, Species::Mg},
    {-1, Species::Br},
    {-2, Species::SO4},
}};

/// Ionic strength of the strong ions as totals; decides which set and which route holds.
template <class S>
[[nodiscard]] S formal_strength(const PerTotal<S>& molal) {
    S out(0.0);
    for (std::size_t i = 0; i < kTotals; ++i) {
        out += (0.5 * kTotalFacts[i].charge * kTotalFacts[i].charge) * molal[i];
    }
    return out;
}

/// 0 below `from`, 1 above `to`, smooth between (3 x^2 - 2 x^3).
template <class S>
[[nodiscard]] S smooth_step(const S& at, double from, double to) {
    if (!(at > from)) {
        return S(0.0);
    }
    if (!(at < to)) {
        return S(1.0);
    }
    const S x = (at - from) / (to - from);
    return x * x * (3.0 - 2.0 * x);
}

/// Formal strength of Reference-Composition Seawater: k S / (1000 - d S) mol/kg-water at
/// practical salinity S.
struct StrengthOfSalinity {
    double k, d;
};
[[nodiscard]] StrengthOfSalinity strength_of_salinity();

// Where the brine set takes over from the seawater set, in roots of mol/kg-water: docs/adr/0018.
inline constexpr double kBrineFrom = 1.0;
inline constexpr double kBrineTo = 1.4142135623730951;
// Practical salinities where anchors begin to count, count in full, and hold their last value: the
// fits of the field rest on waters of 1 to 45 [waters-2014] [mucci-1983].
inline constexpr double kAnchorFrom = 1;
inline constexpr double kAnchorFull = 5;
inline constexpr double kAnchorLast = 45;
// Fits of carbonic acid at the ends of lueker-2000 give way to waters-2014.
inline constexpr double kLuekerLow = 19, kLuekerLowFull = 21, kLuekerHighFull = 41,
                        kLuekerHigh = 43;

/// Which constants and coefficients are in force.
enum class Route : std::uint8_t {
    Joined,       ///< sets joined by strength, anchored to the field
    Unanchored,   ///< sets joined by strength alone
    SeawaterSet,  ///< one set alone, not anchored
    BrineSet,
};

template <class S>
struct Conditions {
    PerTotal<S> molal;
    S water_share;      ///< kg of water per kg of solution
    S formal_strength;  ///< mol/kg-water
    S salinity;         ///< practical salinity of natural seawater of that strength
    S brine_share;      ///< of the brine set
    S field_share;      ///< of the anchors of the acids
    std::array<S, kMadeSize> ln_k;
    std::array<bool, kMadeSize> exists;
    S ln_k0;
    S ln_calcite, ln_aragonite;
    SeawaterConstantsOf<S> field;  ///< at `salinity`, within the fits
};

/// The constants of the field at a salinity, carbonic acid joined over the ranges of its fits.
template <class S>
[[nodiscard]] SeawaterConstantsOf<S> joined_constants(const S& salinity, const S& celsius,
                                                      const SeawaterFits& which) {
    using std::exp;
    using std::log;
    SeawaterConstantsOf<S> out = fits::constants<S>(salinity, celsius, which);
    if (which.carbonic != CarbonicFit::Lueker2000) {
        return out;
    }
    const S lueker = smooth_step(salinity, kLuekerLow, kLuekerLowFull) *
                     (1.0 - smooth_step(salinity, kLuekerHighFull, kLuekerHigh));
    if (!(lueker < 1.0)) {
        return out;
    }
    SeawaterFits wide = which;
    wide.carbonic = CarbonicFit::Waters2014;
    const SeawaterConstantsOf<S> other = fits::constants<S>(salinity, celsius, wide);
    out.k1 = exp(lueker * log(out.k1) + (1.0 - lueker) * log(other.k1));
    out.k2 = exp(lueker * log(out.k2) + (1.0 - lueker) * log(other.k2));
    return out;
}

/// ln of the field's constants, hydrogen ion on the free scale, in the order of Anchor.
template <class S>
[[nodiscard]] std::array<S, kAnchors> field_anchors(const SeawaterConstantsOf<S>& k,
                                                    const S& natural_sulfate) {
    using std::log;
    const S to_free = log(1.0 + natural_sulfate / k.ks);
    return {log(k.k1) - to_free, log(k.k2) - to_free, log(k.kb) - to_free,
            log(k.kw) - to_free, log(k.ks),           log(k.kf),
            log(k.k0),           log(k.ksp_calcite),  log(k.ksp_aragonite)};
}

/// Value of a Chebyshev series over the root of salinity, kAnchorFrom to kAnchorLast.
template <class P, class S>
[[nodiscard]] S series_at(const std::array<P, kAnchorNodes>& series, const S& salinity) {
    using std::sqrt;
    const double low = std::sqrt(kAnchorFrom);
    const double high = std::sqrt(kAnchorLast);
    const S z = (2.0 * sqrt(salinity) - (low + high)) / (high - low);
    S b0(0.0);
    S b1(0.0);
    for (std::size_t k = kAnchorNodes; k-- > 1;) {
        const S b2 = b1;
        b1 = b0;
        b0 = 2.0 * z * b1 - b2 + series[k];
    }
    return z * b0 - b1 + series[0];
}

/// The shifts of ln K that make the model give the field's constants in natural seawater.
template <class P, class S>
[[nodiscard]] std::array<S, kAnchors> anchor_shifts(const EquilibriumModel<P>& model,
                                                    const Conditions<S>& c) {
    std::array<S, kAnchors> out;
    const auto natural = fits::natural_totals<S>(c.salinity, model.fits.boron);
    const auto field = field_anchors(c.field, natural.sulfate);
    const S rise = smooth_step(c.salinity, kAnchorFrom, kAnchorFull);
    for (std::size_t a = 0; a < kAnchors; ++a) {
        S modelled(0.0);
        if (c.brine_share < 1.0) {
            modelled += (1.0 - c.brine_share) * series_at(model.anchor_seawater[a], c.salinity);
        }
        if (c.brine_share > 0.0) {
            modelled += c.brine_share * series_at(model.anchor_brine[a], c.salinity);
        }
        const bool solid = a >= static_cast<std::size_t>(Anchor::Calcite);
        out[a] = (solid ? rise : c.field_share) * (field[a] - modelled);
    }
    return out;
}

/// Joins a reaction's constants of both sets; a species that one set lacks fades with its share.
template <class P, class S>
[[nodiscard]] bool join_constant(const MassAction<P>& r, const S& brine_share, S& ln_k) {
    using std::log;
    const S sea_share = 1.0 - brine_share;
    const bool sea = r.in_seawater && sea_share > 0.0;
    const bool brine = r.in_brine && brine_share > 0.0;
    if (sea && r.in_brine) {
        ln_k = sea_share * r.ln_k_seawater + brine_share * r.ln_k_brine;
    } else if (sea) {
        ln_k = r.ln_k_seawater + log(sea_share);
    } else if (brine) {
        ln_k = r.ln_k_brine + (r.in_seawater ? S(0.0) : S(log(brine_share)));
    }
    return sea || brine;
}

/// Adds the anchors to the constants in force.
template <class S>
void apply_shifts(const std::array<S, kAnchors>& shift, Conditions<S>& c) {
    const auto of = [&](Anchor a) { return shift[static_cast<std::size_t>(a)]; };
    for (std::size_t k = 0; k < kMadeSize; ++k) {
        switch (kMade[k]) {
            case Species::OH:
            case Species::MgOH:
                c.ln_k[k] += of(Anchor::KW);
                break;
            case Species::HSO4:
                c.ln_k[k] -= of(Anchor::KS);
                break;
            case Species::HCO3:
                c.ln_k[k] -= of(Anchor::K2);
                break;
            case Species::CO2:
                c.ln_k[k] -= of(Anchor::K1) + of(Anchor::K2);
                break;
            case Species::BOH4:
            case Species::MgBOH4:
            case Species::CaBOH4:
                c.ln_k[k] += of(Anchor::KB);
                break;
            case Species::HF:
                c.ln_k[k] -= of(Anchor::KF);
                break;
            default:
                break;
        }
    }
    c.ln_k0 += of(Anchor::K0);
    c.ln_calcite += of(Anchor::Calcite);
    c.ln_aragonite += of(Anchor::Aragonite);
}

/// Joins sets and anchors for one water.
///
/// Inputs   totals in mol per kg of solution; kg of dissolved salt per kg of solution.
template <class P, class S>
[[nodiscard]] Conditions<S> conditions(const EquilibriumModel<P>& model,
                                       const PerTotal<S>& mol_per_kg, const S& dissolved,
                                       Route route = Route::Joined) {
    using std::sqrt;
    Conditions<S> c;
    c.water_share = 1.0 - dissolved;
    for (std::size_t i = 0; i < kTotals; ++i) {
        c.molal[i] = mol_per_kg[i] / c.water_share;
    }
    c.formal_strength = formal_strength(c.molal);
    const StrengthOfSalinity scale = strength_of_salinity();
    const S natural = 1000.0 * c.formal_strength / (scale.k + scale.d * c.formal_strength);
    c.salinity = natural > kAnchorLast   ? S(kAnchorLast)
                 : natural < kAnchorFrom ? S(kAnchorFrom)
                                         : natural;
    const S root = c.formal_strength > 0.0 ? S(sqrt(c.formal_strength)) : S(0.0);
    c.brine_share = route == Route::SeawaterSet ? S(0.0)
                    : route == Route::BrineSet  ? S(1.0)
                                                : smooth_step(root, kBrineFrom, kBrineTo);
    c.field_share =
        model.field_share * smooth_step(natural, kAnchorFrom, kAnchorFull) * (1.0 - c.brine_share);
    for (std::size_t k = 0; k < kMadeSize; ++k) {
        c.ln_k[k] = S(0.0);
        c.exists[k] = join_constant(model.made[k], c.brine_share, c.ln_k[k]);
    }
    c.ln_k0 = S(model.ln_k0);
    const auto solid = [&](std::size_t place) {
        return (1.0 - c.brine_share) * model.solids[place].ln_k_seawater +
               c.brine_share * model.solids[place].ln_k_brine;
    };
    c.ln_calcite = solid(model.calcite);
    c.ln_aragonite = solid(model.aragonite);
    c.field = joined_constants<S>(c.salinity, S(model.kelvin - kKelvinAtZeroCelsius), model.fits);
    if (route == Route::Joined) {
        apply_shifts(anchor_shifts(model, c), c);
    }
    return c;
}

extern template Conditions<double> conditions(const EquilibriumModel<double>&,
                                              const PerTotal<double>&, const double&,
                                              Route);  // plain_equilibrium.cpp

}  // namespace bw::brine
