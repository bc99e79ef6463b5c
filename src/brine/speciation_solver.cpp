// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/speciation_solver.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "brine/first_guess.hpp"

namespace bw::brine::speciation_detail {
namespace {

constexpr double kAbsent = -1000;  // ln of an amount that is not there
constexpr double kBalance = 2e-13;
constexpr double kSteady = 1e-12;     // change of ln gamma
constexpr double kLeft = 2e-12;       // of it, still to come
constexpr double kNear = 1e-8;        // a round that may be the last but one
constexpr std::size_t kHydrogen = 0;  // places in kBasis
constexpr std::size_t kCarbonate = 1;
constexpr std::size_t kBoric = 2;
constexpr std::size_t kFluoride = 4;
constexpr std::size_t kBorate = 4;  // place in kMade
static_assert(kBasis[kFluoride] == Species::F && kMade[kBorate] == Species::BOH4);

/// exp(x) and ln(1 + x): short series where the next term is below round-off, for most steps of a
/// search that starts well are small.
double quick_exp(double x) {
    constexpr double kSmall = 1e-3;
    return std::abs(x) < kSmall
               ? 1 + x * (1 + x * (1.0 / 2 + x * (1.0 / 6 + x * (1.0 / 24 + x * (1.0 / 120)))))
               : std::exp(x);
}
double quick_log1p(double x) {
    constexpr double kSmall = 1e-4;
    return std::abs(x) < kSmall ? x * (1 - x * (1.0 / 2 - x * (1.0 / 3 - x * (1.0 / 4))))
                                : std::log1p(x);
}

constexpr Solver::Weights weights_of(double (*of)(Species)) {
    Solver::Weights out;
    for (std::size_t e = 0; e < kBasisSize; ++e) {
        if (const double by = of(kBasis[e]); by != 0) {
            out.basis[out.basis_count++] = {static_cast<std::uint8_t>(e), by};
        }
    }
    for (std::size_t k = 0; k < kMadeSize; ++k) {
        if (const double by = of(kMade[k]); by != 0) {
            out.made[out.made_count++] = {static_cast<std::uint8_t>(k), by};
        }
    }
    return out;
}
constexpr Solver::Weights kAlkalinityWeights =
    weights_of([](Species s) { return static_cast<double>(facts(s).alkalinity); });
constexpr Solver::Weights kCarbonWeights = weights_of([](Species s) {
    return s == Species::CO2 || s == Species::HCO3 || s == Species::CO3 || s == Species::MgCO3 ||
                   s == Species::CaCO3 || s == Species::SrCO3
               ? 1.0
               : 0.0;
});
// Hydrogen as the scales of pH count it.
constexpr Solver::Weights kFreeWeights =
    weights_of([](Species s) { return s == Species::H ? 1.0 : 0.0; });
constexpr Solver::Weights kTotalScaleWeights =
    weights_of([](Species s) { return s == Species::H || s == Species::HSO4 ? 1.0 : 0.0; });
constexpr Solver::Weights kSeawaterScaleWeights = weights_of([](Species s) {
    return s == Species::H || s == Species::HSO4 || s == Species::HF ? 1.0 : 0.0;
});

}  // namespace

Solver::Solver(const EquilibriumModel<double>& model, const Conditions<double>& c,
               const Closing<double>& closing)
    : model_(model), c_(c), closing_(closing) {
    m_.fill(0);
    for (std::size_t t = 0; t < kTotals; ++t) {  // strong ions stay as they are
        if (t < index(Total::P) && t != index(Total::B)) {
            m_[index(kTotalFacts[t].acts_as)] = c.molal[t];
        }
    }
    for (std::size_t e = kCarbonate + 1; e < kBasisSize; ++e) {
        const double total = c.molal[index(kTotalOfBasis[e])];
        absent_[e] = !(total > 0);
        x_[e] = absent_[e] ? kAbsent : std::log(total);
    }
    for (std::size_t i = 0; i < closing.kind.size(); ++i) {
        const bool gas = closing.kind[i] == Closure::Carbon || closing.kind[i] == Closure::Fugacity;
        absent_[kCarbonate] = absent_[kCarbonate] || (gas && !(closing.value[i] > 0));
    }
    x_[kCarbonate] = absent_[kCarbonate] ? kAbsent : 0;
}

void Solver::start_cold(double ph) {
    x_[kHydrogen] = -ph * std::numbers::ln10;
    // That of some 2e-3 mol/kg of carbon, which below the two pK is one and two protons away.
    constexpr double kUsualCarbonate = 2e-4;
    constexpr double kFirstPk = 6;
    constexpr double kSecondPk = 8;
    const double protons = std::min(0.0, ph - kSecondPk) + std::min(0.0, ph - kFirstPk);
    x_[kCarbonate] =
        absent_[kCarbonate] ? kAbsent : std::log(kUsualCarbonate) + protons * std::numbers::ln10;
    fill_basis();
    activities(model_, c_, m_, activity_);
    made_c_ = made_constants(model_, c_, activity_);
    share_out();
}

void Solver::improve_start() {
    const auto guess =
        first_guess(model_, c_, closing_, x_, made_c_, activity_.ln_gamma[index(Species::CO2)]);
    if (guess) {
        x_[kHydrogen] = guess->ln_hydrogen;
        x_[kCarbonate] = absent_[kCarbonate] ? kAbsent : guess->ln_carbonate;
        const double boric = made_c_[kBorate] - x_[kHydrogen];
        x_[kBoric] -= absent_[kBoric] ? 0 : std::log1p(std::exp(boric));
    }
}

void Solver::start_from(const Speciation<double>& s) {
    for (std::size_t e = 0; e < kBasisSize; ++e) {
        const double amount = s.molality[index(kBasis[e])];
        if (!absent_[e] && amount > 0) {
            x_[e] = std::log(amount);
        }
    }
    activity_ = s.activity;
    made_c_ = made_constants(model_, c_, activity_);
}

bool Solver::run(int most) {
    fill_basis();
    fill_made();
    for (rounds_ = 0; rounds_ < most; ++rounds_) {
        build();
        residual_ = 0;
        for (const double balance : rhs_) {
            if (!std::isfinite(balance)) {  // the largest of them would lose a NaN
                return false;
            }
            residual_ = std::max(residual_, std::abs(balance));
        }
        if (residual_ < kBalance && settled_) {
            return true;
        }
        if (!step()) {
            return false;
        }
    }
    return false;
}

void Solver::fix_hydrogen(double ln_hydrogen, std::size_t left_out) {
    x_[kHydrogen] = ln_hydrogen;
    fixed_ = left_out;
    change_.fill(0);
    settled_ = false;
}

double Solver::closing_residual(std::size_t which) {
    std::array<double, kBasisSize> unused{};
    return closing_row(which, unused);
}

void Solver::share_out() {
    double pairs = 0;
    for (std::size_t k = 0; k < kMadeSize; ++k) {
        const auto& basis = model_.made[k].basis;
        if (c_.exists[k] && basis[kFluoride] == 1 && basis[kHydrogen] == 0) {
            double ln_factor = made_c_[k];
            for (std::size_t j = kFluoride + 1; j < kBasisSize; ++j) {
                ln_factor += basis[j] * x_[j];
            }
            pairs += std::exp(ln_factor);
        }
    }
    x_[kFluoride] -= absent_[kFluoride] ? 0 : std::log1p(pairs);
}

void Solver::fill_basis() {
    for (std::size_t e = 0; e < kBasisSize; ++e) {
        m_[index(kBasis[e])] = absent_[e] ? 0 : std::exp(x_[e]);
    }
}

void Solver::fill_made() {
    for (std::size_t k = 0; k < kMadeSize; ++k) {
        const double ln_m = ln_made(k);
        m_[index(kMade[k])] = c_.exists[k] && ln_m > kAbsent / 2 ? std::exp(ln_m) : 0;
    }
    fill_traces();
}

void Solver::fill_traces() {
    traces_ = weak_traces(c_, m_[index(Species::H)] + m_[index(Species::HSO4)], m_);
}

void Solver::move_basis(const std::array<double, kBasisSize>& move, double scale) {
    std::array<double, kBasisSize> ratio;
    for (std::size_t e = 0; e < kBasisSize; ++e) {
        const double by = absent_[e] ? 0 : scale * move[e];
        x_[e] += by;
        ratio[e] = quick_exp(by);
        m_[index(kBasis[e])] *= ratio[e];
    }
    for (std::size_t k = 0; k < kMadeSize; ++k) {
        double& m = m_[index(kMade[k])];
        for (const auto& term : model_.made[k].formed_from()) {
            for (double n = std::abs(term.coefficient); n > 0; n -= 1) {
                m = term.coefficient > 0 ? m * ratio[term.place] : m / ratio[term.place];
            }
        }
    }
    fill_traces();
}

void Solver::move_constants() {
    const auto before = made_c_;
    made_c_ = made_constants(model_, c_, activity_);
    for (std::size_t k = 0; k < kMadeSize; ++k) {
        m_[index(kMade[k])] *= quick_exp(made_c_[k] - before[k]);
    }
    fill_traces();
}

double Solver::ln_made(std::size_t k) const {
    double ln_m = made_c_[k];
    for (const auto& term : model_.made[k].formed_from()) {
        ln_m += term.coefficient * x_[term.place];
    }
    return ln_m;
}

void Solver::build() {
    for (std::size_t e = 0; e < kBasisSize; ++e) {
        jacobian_[e].fill(0);
        jacobian_[e][e] = rhs_[e] = m_[index(kBasis[e])];
    }
    for (std::size_t k = 0; k < kMadeSize; ++k) {
        const double m = m_[index(kMade[k])];
        for (const auto& term : model_.made[k].formed_from()) {
            const double of = term.coefficient * m;
            rhs_[term.place] += of;
            for (const auto& by : model_.made[k].formed_from()) {
                jacobian_[term.place][by.place] += of * by.coefficient;
            }
        }
    }
    for (std::size_t e = 0; e < kBasisSize; ++e) {
        const bool given = (e == kHydrogen && fixed_ != kNotFixed) || absent_[e];
        if (given || e <= kCarbonate) {
            jacobian_[e].fill(0);
            jacobian_[e][e] = given ? 1 : 0;
            rhs_[e] = given ? 0 : closing_row(which_closing(e), jacobian_[e]);
            continue;
        }
        const double inverse = 1 / rhs_[e];
        for (double& slope : jacobian_[e]) {
            slope *= inverse;
        }
        rhs_[e] = quick_log1p(rhs_[e] / c_.molal[index(kTotalOfBasis[e])] - 1);
    }
}

std::size_t Solver::which_closing(std::size_t e) const {
    const bool first_gas =
        closing_.kind[0] == Closure::Carbon || closing_.kind[0] == Closure::Fugacity;
    if (fixed_ != kNotFixed) {
        return 1 - fixed_;
    }
    return e == kHydrogen ? (first_gas ? 1 : 0) : (first_gas ? 0 : 1);
}

double Solver::weighted(const Weights& weights, std::array<double, kBasisSize>& slope,
                        double& size) const {
    double sum = 0;
    size = 0;
    for (std::size_t i = 0; i < weights.basis_count; ++i) {
        const auto& [e, by] = weights.basis[i];
        const double of = by * m_[index(kBasis[e])];
        sum += of;
        size += std::abs(of);
        slope[e] += of;
    }
    for (std::size_t i = 0; i < weights.made_count; ++i) {
        const auto& [k, by] = weights.made[i];
        const double of = by * m_[index(kMade[k])];
        sum += of;
        size += std::abs(of);
        for (const auto& term : model_.made[k].formed_from()) {
            slope[term.place] += of * term.coefficient;
        }
    }
    return sum;
}

double Solver::closing_row(std::size_t which, std::array<double, kBasisSize>& row) const {
    const double value = closing_.value[which];
    double size = 0;
    const auto scaled = [&row](double by) {
        const double inverse = 1 / by;
        for (double& d : row) {
            d *= inverse;
        }
    };
    switch (closing_.kind[which]) {
        case Closure::Alkalinity: {
            const double sum = weighted(kAlkalinityWeights, row, size) + traces_.alkalinity;
            row[kHydrogen] += traces_.alkalinity_slope;
            const double target = value / c_.water_share;
            size = std::max(size + std::abs(traces_.alkalinity), std::abs(target));
            scaled(size);
            return (sum - target) / size;
        }
        case Closure::Carbon: {
            const double sum = weighted(kCarbonWeights, row, size);
            scaled(sum);
            return quick_log1p(sum / (value / c_.water_share) - 1);
        }
        case Closure::Fugacity: {
            for (std::size_t k = 0; k < kMadeSize; ++k) {
                if (kMade[k] == Species::CO2) {
                    row = model_.made[k].basis;
                    return ln_made(k) + activity_.ln_gamma[index(Species::CO2)] - c_.ln_k0 -
                           std::log(value);
                }
            }
            return 0;
        }
        default: {
            const Closure scale = closing_.kind[which];
            weighted(scale == Closure::PhFree    ? kFreeWeights
                     : scale == Closure::PhTotal ? kTotalScaleWeights
                                                 : kSeawaterScaleWeights,
                     row, size);
            scaled(size);
            return std::log(hydrogen_on_scale(scale, c_, m_)) + value * std::numbers::ln10;
        }
    }
}

bool Solver::step() {
    std::array<double, kBasisSize> move{};
    for (std::size_t e = 0; e < kBasisSize; ++e) {
        move[e] = -rhs_[e];
    }
    if (!num::solve_dense<kBasisSize>(jacobian_, move)) {
        return false;
    }
    constexpr double kLongest = 2;  // in ln m
    double longest = 0;
    for (const double d : move) {
        longest = std::max(longest, std::abs(d));
    }
    const double scale = longest > kLongest ? kLongest / longest : 1;
    move_basis(move, scale);
    constexpr double kFar = 0.1;  // there the coefficients are good enough for now
    constexpr int kEvery = 4;
    if (residual_ > kFar && rounds_ % kEvery != kEvery - 1) {
        change_.fill(0);
        return true;
    }
    if (settled_ && longest < kNear) {
        return true;
    }
    settled_ = false;
    const PerSpecies<double> before = activity_.ln_gamma;
    activities(model_, c_, m_, activity_);
    settle(before);
    move_constants();
    return true;
}

void Solver::settle(const PerSpecies<double>& before) {
    PerSpecies<double>& now = activity_.ln_gamma;
    PerSpecies<double> change;
    double largest = 0;
    double along = 0;
    double square = 0;
    for (std::size_t i = 0; i < kSpecies; ++i) {
        change[i] = now[i] - before[i];
        largest = std::max(largest, std::abs(change[i]));
        along += change[i] * change_[i];
        square += change_[i] * change_[i];
    }
    change_ = change;
    constexpr int kDampAfter = 30;  // swings in dense brines
    constexpr double kMostFactor = 0.5;
    const double factor = square > 0 ? along / square : 1;
    double share = rounds_ > kDampAfter ? -0.5 : 0;  // of the change, on top
    if (largest < kSteady) {
        settled_ = true;
    } else if (std::abs(factor) < kMostFactor && largest < kNear &&
               largest * std::abs(factor) < kLeft) {
        settled_ = true;
        share = factor / (1 - factor);
    }
    for (std::size_t i = 0; i < kSpecies && share != 0; ++i) {
        now[i] += share * change[i];
    }
}

}  // namespace bw::brine::speciation_detail
