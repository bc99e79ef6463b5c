// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cmath>
#include <numbers>
#include <type_traits>

#include "brine/carbonate_system.hpp"
#include "brine/seawater_constants.hpp"

/// The balance of the carbon dioxide system for any scalar. Nothing is checked here.
namespace bw::brine::balance {

inline constexpr double kUatmPerAtm = 1e6;

/// Whether a total may be left out. Only of plain numbers: a total of 0 still has derivatives.
template <class T>
[[nodiscard]] constexpr bool is_absent(const T& total) {
    if constexpr (std::is_same_v<T, double>) {
        return total == 0;
    } else {
        return false;
    }
}

/// A quantity and its derivative by ln [H].
template <class T>
struct Sloped {
    T value, slope;
};

/// The protons of an acid: share[i] of the molecules have lost i; the mean number left; its
/// variance, which is the derivative of the mean by ln [H].
template <class T>
struct Protons {
    T share[4];
    T mean, variance;
};

template <class T>
[[nodiscard]] Protons<T> protons_of_carbonic(const T& h, const SeawaterConstantsOf<T>& k) {
    const T second = k.k1 * k.k2;
    const T sum = h * (h + k.k1) + second;
    const T co2 = h * h / sum;
    const T hco3 = k.k1 * h / sum;
    const T co3 = second / sum;
    // Exact where both are rare: the variance as a sum over pairs.
    return {{co2, hco3, co3, T(0.0)}, 2.0 * co2 + hco3, co2 * hco3 + 4.0 * co2 * co3 + hco3 * co3};
}

template <class T>
[[nodiscard]] Protons<T> protons_of_phosphoric(const T& h, const SeawaterConstantsOf<T>& k) {
    const T second = k.kp1 * k.kp2;
    const T third = second * k.kp3;
    const T sum = h * (h * (h + k.kp1) + second) + third;
    const T h3 = h * h * h / sum;
    const T h2 = k.kp1 * h * h / sum;
    const T h1 = second * h / sum;
    const T h0 = third / sum;
    return {{h3, h2, h1, h0},
            3.0 * h3 + 2.0 * h2 + h1,
            h3 * h2 + h2 * h1 + h1 * h0 + 4.0 * (h3 * h1 + h2 * h0) + 9.0 * h3 * h0};
}

/// [H] total per [H] free.
template <class T>
[[nodiscard]] T total_per_free(const SeawaterTotalsOf<T>& totals, const SeawaterConstantsOf<T>& k) {
    return 1.0 + totals.sulfate / k.ks;
}

/// Alkalinity of everything but carbon, at [H] total = h.
template <class T>
[[nodiscard]] Sloped<T> alkalinity_without_carbon(const T& h, const T& total_per_free,
                                                  const SeawaterTotalsOf<T>& totals,
                                                  const SeawaterConstantsOf<T>& k) {
    const T free = h / total_per_free;
    const T oh = k.kw / h;
    const T boron = k.kb / (k.kb + h);
    const T sulfate = free / (free + k.ks);
    const T fluoride = free / (free + k.kf);
    Sloped<T> out{
        oh - free + totals.boron * boron - totals.sulfate * sulfate - totals.fluoride * fluoride,
        -oh - free - totals.boron * boron * (1.0 - boron) -
            totals.sulfate * sulfate * (1.0 - sulfate) -
            totals.fluoride * fluoride * (1.0 - fluoride)};
    if (!is_absent(totals.phosphate)) {
        const Protons<T> p = protons_of_phosphoric(h, k);
        out.value += totals.phosphate * (2.0 - p.mean);
        out.slope -= totals.phosphate * p.variance;
    }
    if (!is_absent(totals.silicate)) {
        const T silicate = k.ksi / (k.ksi + h);
        out.value += totals.silicate * silicate;
        out.slope -= totals.silicate * silicate * (1.0 - silicate);
    }
    if (!is_absent(totals.ammonia)) {
        const T ammonia = k.knh4 / (k.knh4 + h);
        out.value += totals.ammonia * ammonia;
        out.slope -= totals.ammonia * ammonia * (1.0 - ammonia);
    }
    return out;
}

/// Fugacity, atm, of a known partial pressure or fugacity in uatm.
template <class T>
[[nodiscard]] T dissolved_co2(CarbonateQuantity kind, const T& uatm,
                              const SeawaterConstantsOf<T>& k) {
    const T fugacity =
        kind == CarbonateQuantity::PartialPressure ? T(uatm * k.fugacity_factor) : uatm;
    return fugacity * k.k0 / kUatmPerAtm;
}

/// Alkalinity of carbon at [H] = h when `known` of `kind` (inorganic carbon, a pressure, or
/// bicarbonate) is given. Falls strictly with h, so that alkalinity has one solution.
template <class T>
[[nodiscard]] Sloped<T> alkalinity_of_carbon(CarbonateQuantity kind, const T& known, const T& h,
                                             const SeawaterConstantsOf<T>& k) {
    if (kind == CarbonateQuantity::InorganicCarbon) {
        const Protons<T> p = protons_of_carbonic(h, k);
        return {known * (p.share[1] + 2.0 * p.share[2]), -known * p.variance};
    }
    if (kind == CarbonateQuantity::Bicarbonate) {
        const T carbonate = 2.0 * known * k.k2 / h;
        return {known + carbonate, -carbonate};
    }
    const T hco3 = dissolved_co2(kind, known, k) * k.k1 / h;
    const T twice_co3 = 2.0 * hco3 * k.k2 / h;
    return {hco3 + twice_co3, -hco3 - 2.0 * twice_co3};
}

/// Inorganic carbon at [H] = h from one known quantity of the carbon (not alkalinity or pH).
template <class T>
[[nodiscard]] T carbon_at(CarbonateQuantity kind, const T& known, const T& h,
                          const SeawaterConstantsOf<T>& k) {
    const T first = k.k1 / h;
    const T second = k.k2 / h;
    switch (kind) {
        case CarbonateQuantity::PartialPressure:
        case CarbonateQuantity::Fugacity:
            return dissolved_co2(kind, known, k) * (1.0 + first * (1.0 + second));
        case CarbonateQuantity::Bicarbonate:
            return known * (1.0 / first + 1.0 + second);
        case CarbonateQuantity::Carbonate:
            return known * (1.0 + (1.0 + 1.0 / first) / second);
        default:
            return known;
    }
}

/// Inorganic carbon at [H] = h from a known alkalinity.
template <class T>
[[nodiscard]] T carbon_from_alkalinity(const T& alkalinity, const T& h,
                                       const SeawaterTotalsOf<T>& totals,
                                       const SeawaterConstantsOf<T>& k) {
    const Sloped<T> rest = alkalinity_without_carbon(h, total_per_free(totals, k), totals, k);
    const Protons<T> p = protons_of_carbonic(h, k);
    return (alkalinity - rest.value) / (p.share[1] + 2.0 * p.share[2]);
}

/// Positive root of a x^2 - b x - c = 0 for a > 0, b and c >= 0.
template <class T>
[[nodiscard]] T positive_root(const T& a, const T& b, const T& c) {
    using std::sqrt;
    return (b + sqrt(T(b * b + 4.0 * a * c))) / (2.0 * a);
}

/// [H] from two known quantities of carbon, `first` being the lower in CarbonateQuantity.
template <class T>
[[nodiscard]] T hydrogen_from_carbon(CarbonateQuantity first_kind, const T& first,
                                     CarbonateQuantity second_kind, const T& second,
                                     const SeawaterConstantsOf<T>& k) {
    using std::sqrt;
    if (first_kind == CarbonateQuantity::InorganicCarbon) {
        if (second_kind == CarbonateQuantity::Carbonate) {
            // co3 h^2 + co3 K1 h = (dic - co3) K1 K2, written for 1/h so that nothing cancels
            return 1.0 / positive_root(T((first - second) * k.k1 * k.k2), T(second * k.k1), second);
        }
        const T co2 = dissolved_co2(second_kind, second, k);
        return positive_root(T(first - co2), T(k.k1 * co2), T(k.k1 * k.k2 * co2));
    }
    if (first_kind == CarbonateQuantity::Bicarbonate) {
        return k.k2 * first / second;
    }
    const T co2 = dissolved_co2(first_kind, first, k);
    if (second_kind == CarbonateQuantity::Bicarbonate) {
        return k.k1 * co2 / second;
    }
    return sqrt(T(k.k1 * k.k2 * co2 / second));
}

template <class T>
void fill_salts(CarbonateStateOf<T>& s, const T& h, const SeawaterTotalsOf<T>& totals,
                const SeawaterConstantsOf<T>& k) {
    s.oh = k.kw / h;
    s.boh4 = totals.boron * k.kb / (k.kb + h);
    s.boh3 = totals.boron * h / (k.kb + h);
    s.hso4 = totals.sulfate * s.h_free / (s.h_free + k.ks);
    s.so4 = totals.sulfate * k.ks / (s.h_free + k.ks);
    s.hf = totals.fluoride * s.h_free / (s.h_free + k.kf);
    s.f = totals.fluoride * k.kf / (s.h_free + k.kf);
    const Protons<T> p = protons_of_phosphoric(h, k);
    s.h3po4 = totals.phosphate * p.share[0];
    s.h2po4 = totals.phosphate * p.share[1];
    s.hpo4 = totals.phosphate * p.share[2];
    s.po4 = totals.phosphate * p.share[3];
    s.siooh3 = totals.silicate * k.ksi / (k.ksi + h);
    s.sioh4 = totals.silicate * h / (k.ksi + h);
    s.nh3 = totals.ammonia * k.knh4 / (k.knh4 + h);
    s.nh4 = totals.ammonia * h / (k.knh4 + h);
}

/// The whole state from [H] total and inorganic carbon.
template <class T>
[[nodiscard]] CarbonateStateOf<T> state_at(const T& h, const T& carbon,
                                           const SeawaterTotalsOf<T>& totals,
                                           const SeawaterConstantsOf<T>& k) {
    using std::log10;
    CarbonateStateOf<T> s;
    const T to_free = total_per_free(totals, k);
    const T seawater_per_total = 1.0 + totals.fluoride / (k.kf * to_free);
    s.ph_total = -log10(h);
    s.ph_free = s.ph_total + log10(to_free);
    s.ph_sws = s.ph_total - log10(seawater_per_total);
    s.ph_nbs = s.ph_sws - log10(k.hydrogen_activity);
    s.h_free = h / to_free;
    fill_salts(s, h, totals, k);
    const Protons<T> p = protons_of_carbonic(h, k);
    s.inorganic_carbon = carbon;
    s.co2 = carbon * p.share[0];
    s.hco3 = carbon * p.share[1];
    s.co3 = carbon * p.share[2];
    const T charge = p.share[1] + 2.0 * p.share[2];
    s.alk_carbonate = s.hco3 + 2.0 * s.co3;
    s.alk_borate = s.boh4;
    s.alk_hydroxide = s.oh;
    s.alk_phosphate = s.hpo4 + 2.0 * s.po4 - s.h3po4;
    s.alk_silicate = s.siooh3;
    s.alk_other = s.nh3 - s.h_free - s.hso4 - s.hf;
    s.alkalinity = s.alk_carbonate + s.alk_borate + s.alk_hydroxide + s.alk_phosphate +
                   s.alk_silicate + s.alk_other;
    s.fco2_uatm = s.co2 / k.k0 * kUatmPerAtm;
    s.pco2_uatm = s.fco2_uatm / k.fugacity_factor;
    s.omega_calcite = totals.calcium * s.co3 / k.ksp_calcite;
    s.omega_aragonite = totals.calcium * s.co3 / k.ksp_aragonite;
    // d ln CO2 / d ln carbon at constant alkalinity: 1 + carbon * charge^2 / buffering
    const Sloped<T> rest = alkalinity_without_carbon(h, to_free, totals, k);
    s.revelle = 1.0 + carbon * charge * charge / (carbon * p.variance - rest.slope);
    return s;
}

/// [H] and carbon for any scalar, from the solved [H] as a plain number: one step of Newton's
/// method, which is exact to first order in the derivative parts of T.
template <class T>
struct Solved {
    T h, carbon;
};

[[nodiscard]] constexpr bool by_alkalinity_balance(CarbonateQuantity first,
                                                   CarbonateQuantity second) {
    return first == CarbonateQuantity::Alkalinity && second != CarbonateQuantity::PhTotal;
}

/// `in` has its kinds in rising order.
template <class T>
[[nodiscard]] Solved<T> follow(const CarbonateInputOf<T>& in, const SeawaterConstantsOf<T>& k,
                               double solved_h) {
    using std::exp;
    if (in.first_kind == CarbonateQuantity::PhTotal ||
        in.second_kind == CarbonateQuantity::PhTotal) {
        const bool ph_first = in.first_kind == CarbonateQuantity::PhTotal;
        const T h = exp(T(-std::numbers::ln10 * (ph_first ? in.first : in.second)));
        const CarbonateQuantity kind = ph_first ? in.second_kind : in.first_kind;
        const T& known = ph_first ? in.second : in.first;
        return {h, kind == CarbonateQuantity::Alkalinity
                       ? carbon_from_alkalinity(known, h, in.totals, k)
                       : carbon_at(kind, known, h, k)};
    }
    if (!by_alkalinity_balance(in.first_kind, in.second_kind)) {
        const T h = hydrogen_from_carbon(in.first_kind, in.first, in.second_kind, in.second, k);
        return {h, carbon_at(in.first_kind, in.first, h, k)};
    }
    const T start(solved_h);
    const Sloped<T> carbon = alkalinity_of_carbon(in.second_kind, in.second, start, k);
    const Sloped<T> rest =
        alkalinity_without_carbon(start, total_per_free(in.totals, k), in.totals, k);
    const T step = (in.first - carbon.value - rest.value) / (carbon.slope + rest.slope);
    const T h = start * (1.0 + step);
    return {h, carbon_at(in.second_kind, in.second, h, k)};
}

}  // namespace bw::brine::balance
