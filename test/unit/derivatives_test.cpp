// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Derivatives of the whole equilibrium by the implicit function theorem against differences of the
// whole solve: central, of sixth order, by ln of each total and of each closing value, and by
// temperature. Tolerance 1e-6 of the derivative, or 1e-8: activity coefficients are steady to 1e-11
// and the step is 3e-3.
#include "brine/derivatives.hpp"

#include <cmath>

#include <gtest/gtest.h>

#include "brine/saturation.hpp"

namespace {

using namespace bw;
using namespace bw::brine;

constexpr int kInputs = static_cast<int>(kTotals) + 2;
using Inputs = num::Dual<kInputs>;
constexpr double kRelative = 1e-6;
constexpr double kLeast = 1e-8;

struct Water {
    const char* name;
    double times;  ///< seawater of salinity 35 at this many times its amounts per kg of solution
    double dissolved;
    Closing<double> closing;
};

const std::vector<Water>& waters() {
    const auto made = [](const char* name, double times, Closure a, double one, Closure b,
                         double two) {
        return Water{name, times, 0.0351650 * times, {{a, b}, {one, two}}};
    };
    using enum Closure;
    static const std::vector<Water> kAll{
        made("seawater", 1, Alkalinity, 2.3e-3, Carbon, 2.0e-3),
        made("seawater with air", 1, Alkalinity, 2.3e-3, Fugacity, 4.2e-4),
        made("where the field fades in", 0.07, Alkalinity, 0.5e-3, Carbon, 0.48e-3),
        made("where fits of carbonic acid meet", 0.57, Carbon, 1.5e-3, PhTotal, 8.1),
        made("where the sets meet", 1.9, Alkalinity, 4e-3, PhFree, 8.3),
        made("brine", 5.5, Alkalinity, 9e-3, Carbon, 8e-3),
        made("acid brine", 5.5, PhTotal, 5.5, Fugacity, 1e-3),
    };
    return kAll;
}

PerTotal<double> totals_of(const Water& w) {
    PerTotal<double> out = reference_totals(35).mol_per_kg;
    for (double& amount : out) {
        amount *= w.times;
    }
    out[index(Total::P)] = 3e-6;
    out[index(Total::Si)] = 2e-5;
    out[index(Total::Li)] = 3e-5;
    out[index(Total::Ba)] = 1e-7;
    out[index(Total::OtherPlus)] = 1e-4;
    out[index(Total::OtherPlusTwo)] = 2e-5;
    out[index(Total::OtherMinus)] = 5e-5;
    out[index(Total::OtherMinusTwo)] = 3e-5;
    return out;
}

/// pH on both scales, ln fugacity, osmotic coefficient, ln m and ln gamma of all species, ln Omega.
template <class P, class S>
std::vector<S> outputs(const EquilibriumModel<P>& model, const Speciation<S>& s) {
    using std::log;
    std::vector<S> out{
        S(-log(hydrogen_on_scale(Closure::PhTotal, s.conditions, s.molality)) / std::numbers::ln10),
        S(-log(hydrogen_on_scale(Closure::PhFree, s.conditions, s.molality)) / std::numbers::ln10),
        ln_fugacity(model, s), s.activity.osmotic, s.activity.ln_water};
    for (std::size_t i = 0; i < kSpecies; ++i) {
        if (s.molality[i] > 1e-200) {
            out.push_back(log(s.molality[i]));
            out.push_back(s.activity.ln_gamma[i]);
        }
    }
    std::vector<S> omega;
    ln_saturation(model, s, omega);
    out.insert(out.end(), omega.begin(), omega.end());
    return out;
}

std::vector<double> solve(const EquilibriumModel<double>& model, const Water& w,
                          const PerTotal<double>& totals, const Closing<double>& closing) {
    const auto c = conditions(model, totals, w.dissolved, Route::Joined);
    const auto s = speciate(model, c, closing);
    EXPECT_TRUE(s) << w.name;
    return s ? outputs(model, *s) : std::vector<double>{};
}

constexpr std::array kShift{-3.0, -2.0, -1.0, 1.0, 2.0, 3.0};
constexpr std::array kWeight{-1.0 / 60, 9.0 / 60, -45.0 / 60, 45.0 / 60, -9.0 / 60, 1.0 / 60};

void compare(const std::vector<double>& exact, const std::array<std::vector<double>, 6>& at,
             double step, const std::string& where, double& worst) {
    for (std::size_t k = 0; k < exact.size(); ++k) {
        double slope = 0;
        for (std::size_t i = 0; i < kShift.size(); ++i) {
            slope += kWeight[i] * at[i].at(k) / step;
        }
        if (std::isnan(slope)) {  // minus infinity: a solid whose ion is absent
            continue;
        }
        const double allowed = kRelative * std::abs(slope) + kLeast;
        EXPECT_NEAR(exact[k], slope, allowed) << where << ", output " << k;
        worst = std::max(worst, std::abs(exact[k] - slope) / allowed);
    }
}

TEST(Derivatives, ByTotalsAndClosingValues) {
    const auto model = prepare_model(298.15);
    double worst = 0;
    for (const Water& w : waters()) {
        const PerTotal<double> totals = totals_of(w);
        PerTotal<Inputs> variables;
        Closing<Inputs> closing;
        closing.kind = w.closing.kind;
        for (int i = 0; i < kInputs; ++i) {  // by ln of each, by pH itself
            const auto t = static_cast<std::size_t>(i);
            const double value = t < kTotals ? totals[t] : w.closing.value[t - kTotals];
            Inputs v(value);
            const bool itself = t >= kTotals && is_ph(w.closing.kind[t - kTotals]);
            v.g[t] = itself ? 1 : value;
            (t < kTotals ? variables[t] : closing.value[t - kTotals]) = v;
        }
        const auto plain = conditions(model, totals, w.dissolved, Route::Joined);
        const auto s = speciate(model, plain, w.closing);
        ASSERT_TRUE(s) << w.name;
        const auto with = with_derivatives(
            model, conditions(model, variables, Inputs(w.dissolved), Route::Joined), closing, model,
            w.closing, *s);
        const auto exact = outputs(model, with);
        for (int i = 0; i < kInputs; ++i) {
            const auto t = static_cast<std::size_t>(i);
            constexpr double kStep = 3e-3;
            std::array<std::vector<double>, 6> at;
            for (std::size_t k = 0; k < kShift.size(); ++k) {
                PerTotal<double> moved = totals;
                Closing<double> closed = w.closing;
                double& value = t < kTotals ? moved[t] : closed.value[t - kTotals];
                if (t >= kTotals && is_ph(w.closing.kind[t - kTotals])) {
                    value += kStep * kShift[k];
                } else {
                    value *= std::exp(kStep * kShift[k]);
                }
                at[k] = solve(model, w, moved, closed);
            }
            std::vector<double> slopes;
            for (const Inputs& e : exact) {
                slopes.push_back(e.g[t]);
            }
            compare(slopes, at, kStep, std::string(w.name) + ", input " + std::to_string(i), worst);
        }
    }
    RecordProperty("worst", testing::PrintToString(worst));
}

TEST(Derivatives, ByTemperature) {
    using Kelvin = num::Dual<1>;
    double worst = 0;
    for (const double kelvin : {283.15, 298.15, 305.0}) {
        const auto model = prepare_model(Kelvin::variable(kelvin, 0));
        const auto plain_model = values_of(model);
        constexpr double kStep = 0.2;
        std::vector<EquilibriumModel<double>> moved;
        for (const double shift : kShift) {
            moved.push_back(prepare_model(kelvin + kStep * shift));
        }
        for (const Water& w : waters()) {
            const PerTotal<double> totals = totals_of(w);
            PerTotal<Kelvin> constants;
            std::copy(totals.begin(), totals.end(), constants.begin());
            Closing<Kelvin> closing;
            closing.kind = w.closing.kind;
            std::copy(w.closing.value.begin(), w.closing.value.end(), closing.value.begin());
            const auto s =
                speciate(plain_model, conditions(plain_model, totals, w.dissolved), w.closing);
            ASSERT_TRUE(s) << w.name;
            const auto with =
                with_derivatives(model, conditions(model, constants, Kelvin(w.dissolved)), closing,
                                 plain_model, w.closing, *s);
            std::vector<double> slopes;
            for (const Kelvin& e : outputs(model, with)) {
                slopes.push_back(e.g[0]);
            }
            std::array<std::vector<double>, 6> at;
            for (std::size_t k = 0; k < at.size(); ++k) {
                at[k] = solve(moved[k], w, totals, w.closing);
            }
            compare(slopes, at, kStep, std::string(w.name) + " at " + std::to_string(kelvin),
                    worst);
        }
    }
    RecordProperty("worst", testing::PrintToString(worst));
}

TEST(Derivatives, ValuesOfTheModelAreThoseOfPlainPreparation) {
    const auto with = prepare_model(num::Dual<1>::variable(291.15, 0));
    const auto one = values_of(with);
    const auto two = prepare_model(291.15);
    for (std::size_t a = 0; a < kAnchors; ++a) {
        for (std::size_t k = 0; k < kAnchorNodes; ++k) {
            EXPECT_NEAR(one.anchor_seawater[a][k], two.anchor_seawater[a][k], 1e-10);
            EXPECT_NEAR(one.anchor_brine[a][k], two.anchor_brine[a][k], 1e-10);
        }
    }
    ASSERT_EQ(one.solids.size(), two.solids.size());
    for (std::size_t i = 0; i < one.solids.size(); ++i) {
        EXPECT_NEAR(one.solids[i].ln_k_seawater, two.solids[i].ln_k_seawater, 1e-12);
        EXPECT_NEAR(one.solids[i].ln_k_brine, two.solids[i].ln_k_brine, 1e-12);
        EXPECT_EQ(one.solids[i].by_brine_set, two.solids[i].by_brine_set);
    }
}

}  // namespace
