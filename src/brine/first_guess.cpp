// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/first_guess.hpp"

#include <cmath>
#include <numbers>

namespace bw::brine {
namespace {

/// The balance as a function of the hydrogen ion h alone:
///   carbon / carbonate      = c0 + c1 h + c2 h^2
///   boron / boric acid      = 1 + b / h
///   alkalinity of the rest  = o / h - a h
struct Balance {
    double c0 = 1, c1 = 0, c2 = 0, b = 0, o = 0, a = 1;
    double bisulfate = 0;  ///< per h
    double boron = 0;

    [[nodiscard]] double carbon(double h) const { return c0 + h * (c1 + h * c2); }
    [[nodiscard]] double carbonate_alkalinity(double h) const { return 2 * c0 + c1 * h; }
    [[nodiscard]] double other_alkalinity(double h) const {
        return boron * b / (h + b) + o / h - a * h;
    }
};

Balance balance_of(const EquilibriumModel<double>& model, const Conditions<double>& c,
                   const std::array<double, kBasisSize>& ln_basis,
                   const std::array<double, kMadeSize>& made) {
    constexpr std::size_t kHydrogen = 0;  // places in kBasis
    constexpr std::size_t kCarbonate = 1;
    constexpr std::size_t kBoric = 2;
    Balance out;
    out.boron = c.molal[index(Total::B)];
    for (std::size_t k = 0; k < kMadeSize; ++k) {
        if (!c.exists[k]) {
            continue;
        }
        const auto& basis = model.made[k].basis;
        double ln_factor = made[k];
        for (const auto& term : model.made[k].formed_from()) {
            ln_factor += term.place > kBoric ? term.coefficient * ln_basis[term.place] : 0;
        }
        const double factor = std::exp(ln_factor);
        if (basis[kCarbonate] != 0) {
            (basis[kHydrogen] == 0 ? out.c0 : basis[kHydrogen] == 1 ? out.c1 : out.c2) += factor;
        } else if (basis[kBoric] != 0) {
            out.b += factor;
        } else if (basis[kHydrogen] == -1) {
            out.o += factor;
        } else if (basis[kHydrogen] == 1) {
            out.a += factor;
            out.bisulfate += kMade[k] == Species::HSO4 ? factor : 0;
        }
    }
    return out;
}

/// ln h where a function that falls with h passes through 0.
template <class F>
std::optional<double> halved(const F& f) {
    double low = 3e-14;  // mol/kg
    double high = 0.1;
    double at_low = f(low);
    double at_high = f(high);
    if (!(at_low > 0) || !(at_high < 0)) {
        return std::nullopt;
    }
    constexpr int kHalvings = 12;  // to 7e-3 in ln h, and a chord
    for (int k = 0; k < kHalvings; ++k) {
        const double middle = std::sqrt(low * high);
        const double value = f(middle);
        (value > 0 ? low : high) = middle;
        (value > 0 ? at_low : at_high) = value;
    }
    return std::log(low + (high - low) * at_low / (at_low - at_high));
}

/// The two statements sorted: what settles hydrogen, what settles carbon.
struct Sorted {
    std::optional<double> alkalinity, carbon, co2, ph;
    Closure scale = Closure::PhTotal;
};

Sorted sorted(const Conditions<double>& c, const Closing<double>& closing, double ln_gamma_co2) {
    Sorted out;
    for (std::size_t k = 0; k < closing.kind.size(); ++k) {
        const double value = closing.value[k];
        switch (closing.kind[k]) {
            case Closure::Alkalinity:
                out.alkalinity = value / c.water_share;
                break;
            case Closure::Carbon:
                out.carbon = value / c.water_share;
                break;
            case Closure::Fugacity:
                out.co2 = value * std::exp(c.ln_k0 - ln_gamma_co2);
                break;
            default:
                out.ph = value;
                out.scale = closing.kind[k];
        }
    }
    return out;
}

std::optional<double> hydrogen(const Balance& b, const Sorted& s, const Conditions<double>& c) {
    if (s.ph) {
        const double on_scale = s.scale == Closure::PhFree ? 1 : 1 + b.bisulfate;
        return -*s.ph * std::numbers::ln10 - std::log(on_scale * c.water_share);
    }
    if (s.alkalinity && s.carbon) {
        return halved([&](double h) {
            return *s.carbon * b.carbonate_alkalinity(h) / b.carbon(h) + b.other_alkalinity(h) -
                   *s.alkalinity;
        });
    }
    if (s.alkalinity && s.co2) {
        return halved([&](double h) {
            return *s.co2 * b.carbonate_alkalinity(h) / (b.c2 * h * h) + b.other_alkalinity(h) -
                   *s.alkalinity;
        });
    }
    if (s.carbon && s.co2) {
        return halved([&](double h) { return *s.co2 * b.carbon(h) / (b.c2 * h * h) - *s.carbon; });
    }
    return std::nullopt;
}

}  // namespace

std::optional<FirstGuess> first_guess(const EquilibriumModel<double>& model,
                                      const Conditions<double>& c, const Closing<double>& closing,
                                      const std::array<double, kBasisSize>& ln_basis,
                                      const std::array<double, kMadeSize>& made,
                                      double ln_gamma_co2) {
    const Balance b = balance_of(model, c, ln_basis, made);
    const Sorted s = sorted(c, closing, ln_gamma_co2);
    const auto ln_h = hydrogen(b, s, c);
    if (!ln_h) {
        return std::nullopt;
    }
    const double h = std::exp(*ln_h);
    const double carbonate =
        s.carbon ? *s.carbon / b.carbon(h)
        : s.co2  ? *s.co2 / (b.c2 * h * h)
                 : (s.alkalinity.value_or(0) - b.other_alkalinity(h)) / b.carbonate_alkalinity(h);
    if (!(carbonate > 0) || !std::isfinite(carbonate)) {
        return std::nullopt;
    }
    return FirstGuess{*ln_h, std::log(carbonate)};
}

}  // namespace bw::brine
