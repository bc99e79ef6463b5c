// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/carbonate_system.hpp"

#include <array>
#include <cmath>
#include <complex>
#include <limits>
#include <random>

#include <gtest/gtest.h>

#include "brine/carbonate_equations.hpp"
#include "brine/seawater_fits.hpp"
#include "service/carbonate_batch.hpp"

namespace {

using namespace bw::brine;
using bw::unit::Celsius;
using bw::unit::PracticalSalinity;
using Kind = CarbonateQuantity;
using Complex = std::complex<double>;

constexpr unsigned kSeed = 20070;

/// A random water with every total, and its constants.
struct Water {
    double S, t;
    SeawaterConstants k;
    SeawaterTotals totals;
};

class Waters {
public:
    double between(double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(engine_);
    }
    Water next() {
        Water w{between(5, 45), between(5, 40), {}, {}};
        w.k = *seawater_constants(PracticalSalinity(w.S), Celsius(w.t));
        w.totals = *natural_totals(PracticalSalinity(w.S));
        w.totals.phosphate = between(0, 1e-4);
        w.totals.silicate = between(0, 2e-4);
        w.totals.ammonia = between(0, 1e-4);
        return w;
    }

private:
    std::mt19937 engine_{kSeed};
};

double quantity(const CarbonateState& s, Kind kind) {
    switch (kind) {
        case Kind::Alkalinity:
            return s.alkalinity;
        case Kind::InorganicCarbon:
            return s.inorganic_carbon;
        case Kind::PhTotal:
            return s.ph_total;
        case Kind::PartialPressure:
            return s.pco2_uatm;
        case Kind::Fugacity:
            return s.fco2_uatm;
        case Kind::Bicarbonate:
            return s.hco3;
        case Kind::Carbonate:
            return s.co3;
    }
    return 0;
}

constexpr std::array kKinds = {Kind::Alkalinity,      Kind::InorganicCarbon, Kind::PhTotal,
                               Kind::PartialPressure, Kind::Fugacity,        Kind::Bicarbonate,
                               Kind::Carbonate};

TEST(CarbonateSystem, EveryPairLeadsBackToTheSameWater) {
    Waters waters;
    for (int n = 0; n < 500; ++n) {
        const Water w = waters.next();
        const double alkalinity = waters.between(1e-3, 6e-3);
        const auto s =
            solve_carbonate(CarbonateInput{Kind::Alkalinity, Kind::InorganicCarbon, alkalinity,
                                           alkalinity * waters.between(0.6, 1.1), w.totals},
                            w.k);
        ASSERT_TRUE(s);
        EXPECT_NEAR(s->alkalinity, alkalinity, 1e-14 * alkalinity + 1e-17);
        int pairs = 0;
        for (const Kind first : kKinds) {
            for (const Kind second : kKinds) {
                const auto again =
                    solve_carbonate(CarbonateInput{first, second, quantity(*s, first),
                                                   quantity(*s, second), w.totals},
                                    w.k);
                if (!again) {
                    EXPECT_EQ(again.error().code, bw::ProblemCode::BadInput);
                    continue;
                }
                ++pairs;
                EXPECT_NEAR(again->ph_total, s->ph_total, 1e-9);
                EXPECT_NEAR(again->inorganic_carbon, s->inorganic_carbon, 1e-8 * alkalinity);
                EXPECT_NEAR(again->alkalinity, s->alkalinity, 1e-8 * alkalinity);
            }
        }
        EXPECT_EQ(pairs, 49 - 7 - 2 - 4);  // all but the same, the pressures, and two answers
    }
}

TEST(CarbonateSystem, MassBalancesHold) {
    Waters waters;
    for (int n = 0; n < 200; ++n) {
        const Water w = waters.next();
        const auto s = solve_carbonate(
            CarbonateInput{Kind::Alkalinity, Kind::PhTotal, 6e-3, waters.between(2, 8.5), w.totals},
            w.k);
        ASSERT_TRUE(s);
        const auto same = [](double a, double b) { EXPECT_NEAR(a, b, 1e-14 * b); };
        same(s->co2 + s->hco3 + s->co3, s->inorganic_carbon);
        same(s->boh3 + s->boh4, w.totals.boron);
        same(s->hso4 + s->so4, w.totals.sulfate);
        same(s->hf + s->f, w.totals.fluoride);
        same(s->h3po4 + s->h2po4 + s->hpo4 + s->po4, w.totals.phosphate);
        same(s->sioh4 + s->siooh3, w.totals.silicate);
        same(s->nh4 + s->nh3, w.totals.ammonia);
        same(s->h_free * s->oh * (1 + w.totals.sulfate / w.k.ks), w.k.kw);
        same(s->fco2_uatm, s->pco2_uatm * w.k.fugacity_factor);
        EXPECT_NEAR(s->ph_free, -std::log10(s->h_free), 1e-13);
    }
}

TEST(CarbonateSystem, CarbonLowersPhAndAlkalinityRaisesIt) {
    Waters waters;
    for (int n = 0; n < 100; ++n) {
        const Water w = waters.next();
        const auto ph = [&](double alkalinity, Kind kind, double second) {
            return solve_carbonate(
                       CarbonateInput{Kind::Alkalinity, kind, alkalinity, second, w.totals}, w.k)
                ->ph_total;
        };
        for (double a = 1e-4; a < 8e-3; a *= 1.3) {
            EXPECT_LT(ph(a, Kind::InorganicCarbon, 2e-3),
                      ph(1.01 * a, Kind::InorganicCarbon, 2e-3));
            EXPECT_GT(ph(2e-3, Kind::InorganicCarbon, a),
                      ph(2e-3, Kind::InorganicCarbon, 1.01 * a));
            EXPECT_LT(ph(a, Kind::PartialPressure, 400), ph(1.01 * a, Kind::PartialPressure, 400));
            EXPECT_GT(ph(2e-3, Kind::PartialPressure, 1e5 * a),
                      ph(2e-3, Kind::PartialPressure, 1.01e5 * a));
        }
    }
}

/// Names of what is differentiated.
template <class T>
std::array<T, 6> outcome(const CarbonateStateOf<T>& s) {
    return {s.ph_total, s.co3, s.pco2_uatm, s.omega_aragonite, s.revelle, s.alkalinity};
}

/// The state with the imaginary step on one variable: solved as a plain number, then followed.
std::array<double, 6> complex_step(const CarbonateInput& in, double S, double t, double h,
                                   int variable) {
    constexpr double kStep = 1e-40;
    const auto step = [&](double value, CarbonateVariable which) {
        return Complex(value, static_cast<int>(which) == variable ? kStep : 0);
    };
    using V = CarbonateVariable;
    const CarbonateInputOf<Complex> stepped{
        in.first_kind,
        in.second_kind,
        step(in.first, V::First),
        step(in.second, V::Second),
        {step(in.totals.boron, V::Boron), step(in.totals.sulfate, V::Sulfate),
         step(in.totals.fluoride, V::Fluoride), step(in.totals.phosphate, V::Phosphate),
         step(in.totals.silicate, V::Silicate), step(in.totals.calcium, V::Calcium),
         step(in.totals.ammonia, V::Ammonia)}};
    const auto k = fits::constants<Complex>(step(S, V::Salinity), step(t, V::Temperature), {});
    const auto solved = balance::follow(stepped, k, h);
    const auto s = outcome(balance::state_at(solved.h, solved.carbon, stepped.totals, k));
    std::array<double, 6> out{};
    for (std::size_t i = 0; i < out.size(); ++i) {
        out[i] = s[i].imag() / kStep;
    }
    return out;
}

TEST(CarbonateSystem, DerivativesAreThoseOfTheComplexStep) {
    Waters waters;
    for (int n = 0; n < 100; ++n) {
        const Water w = waters.next();
        const auto s = solve_carbonate(CarbonateInput{Kind::Alkalinity, Kind::InorganicCarbon, 3e-3,
                                                      waters.between(2e-3, 3e-3), w.totals},
                                       w.k);
        ASSERT_TRUE(s);
        for (const Kind first : kKinds) {
            for (const Kind second : kKinds) {
                const CarbonateInput in{first, second, quantity(*s, first), quantity(*s, second),
                                        w.totals};
                const auto gradient = carbonate_gradient(in, PracticalSalinity(w.S), Celsius(w.t));
                if (!gradient || first > second) {
                    continue;
                }
                const auto found = outcome(*gradient);
                for (int v = 0; v < kCarbonateVariables; ++v) {
                    const auto expected = complex_step(in, w.S, w.t, std::pow(10, -s->ph_total), v);
                    for (std::size_t i = 0; i < found.size(); ++i) {
                        EXPECT_NEAR(found[i].g[static_cast<std::size_t>(v)], expected[i],
                                    1e-11 * (std::abs(expected[i]) + std::abs(found[i].v)))
                            << i << " by " << v;
                    }
                }
            }
        }
    }
}

TEST(CarbonateSystem, DerivativesAreThoseOfSolvingAgain) {
    const Water w{35, 25, *seawater_constants(PracticalSalinity(35), Celsius(25)),
                  *natural_totals(PracticalSalinity(35))};
    const auto solved = [&](double a, double c, double t, double boron) {
        SeawaterTotals totals = w.totals;
        totals.boron = boron;
        return outcome(
            *solve_carbonate(CarbonateInput{Kind::Alkalinity, Kind::InorganicCarbon, a, c, totals},
                             *seawater_constants(PracticalSalinity(35), Celsius(t))));
    };
    const double a = 2.3e-3;
    const double c = 2.0e-3;
    const double b = w.totals.boron;
    const auto g = outcome(
        *carbonate_gradient(CarbonateInput{Kind::Alkalinity, Kind::InorganicCarbon, a, c, w.totals},
                            PracticalSalinity(35), Celsius(25)));
    const auto compare = [&](CarbonateVariable v, const std::array<double, 6>& up,
                             const std::array<double, 6>& down, double width) {
        for (std::size_t i = 0; i + 1 < g.size(); ++i) {
            const double slope = (up[i] - down[i]) / width;
            EXPECT_NEAR(g[i].g[static_cast<std::size_t>(v)], slope, 1e-5 * std::abs(slope)) << i;
        }
    };
    constexpr double kAmount = 1e-7;
    compare(CarbonateVariable::First, solved(a + kAmount, c, 25, b), solved(a - kAmount, c, 25, b),
            2 * kAmount);
    compare(CarbonateVariable::Second, solved(a, c + kAmount, 25, b), solved(a, c - kAmount, 25, b),
            2 * kAmount);
    compare(CarbonateVariable::Temperature, solved(a, c, 25.01, b), solved(a, c, 24.99, b), 0.02);
    compare(CarbonateVariable::Boron, solved(a, c, 25, b + kAmount), solved(a, c, 25, b - kAmount),
            2 * kAmount);
    // The Revelle factor is d ln fCO2 / d ln carbon, so the gradient must say the same.
    const auto state =
        *carbonate_gradient(CarbonateInput{Kind::Alkalinity, Kind::InorganicCarbon, a, c, w.totals},
                            PracticalSalinity(35), Celsius(25));
    EXPECT_NEAR(state.revelle.v, state.fco2_uatm.g[1] / state.fco2_uatm.v * c, 1e-10);
}

TEST(CarbonateSystem, ExtremeWatersAreSolved) {
    const auto k = *seawater_constants(PracticalSalinity(35), Celsius(25));
    for (const bool salts : {true, false}) {
        const SeawaterTotals totals =
            salts ? *natural_totals(PracticalSalinity(35)) : SeawaterTotals{};
        for (const double a : {-1.0, -2e-3, -1e-9, 0.0, 1e-12, 1e-6, 2e-3, 1.0}) {
            for (const double c : {0.0, 1e-12, 1e-6, 2e-3, 1.0}) {
                const auto s = solve_carbonate(
                    CarbonateInput{Kind::Alkalinity, Kind::InorganicCarbon, a, c, totals}, k);
                ASSERT_TRUE(s) << a << ' ' << c << ' ' << s.error().message;
                EXPECT_NEAR(s->alkalinity, a, 1e-12 * std::abs(a) + 1e-16) << a << ' ' << c;
                EXPECT_GE(s->revelle, 1) << a << ' ' << c;
                for (const double p : {0.0, 1e-6, 400.0, 1e8}) {
                    const auto by_pressure = solve_carbonate(
                        CarbonateInput{Kind::Alkalinity, Kind::PartialPressure, a, p, totals}, k);
                    ASSERT_TRUE(by_pressure) << a << ' ' << p;
                    EXPECT_NEAR(by_pressure->alkalinity, a,
                                1e-12 * (std::abs(a) + by_pressure->inorganic_carbon) + 1e-16);
                }
            }
        }
        for (double ph = 2; ph <= 12; ph += 0.5) {
            for (const double c : {1e-12, 2e-3, 0.3}) {
                const auto s = solve_carbonate(
                    CarbonateInput{Kind::PhTotal, Kind::InorganicCarbon, ph, c, totals}, k);
                ASSERT_TRUE(s);
                EXPECT_NEAR(s->ph_total, ph, 1e-14 * ph);
                const auto back =
                    solve_carbonate(CarbonateInput{Kind::Alkalinity, Kind::InorganicCarbon,
                                                   s->alkalinity, c, totals},
                                    k);
                ASSERT_TRUE(back);
                EXPECT_NEAR(back->ph_total, ph, 1e-8) << ph << ' ' << c;
            }
        }
    }
}

TEST(CarbonateSystem, WaterWithoutCarbonHasNoneFromItsPh) {
    const auto k = *seawater_constants(PracticalSalinity(35), Celsius(25));
    const auto totals = *natural_totals(PracticalSalinity(35));
    const auto s = *solve_carbonate(
        CarbonateInput{Kind::Alkalinity, Kind::InorganicCarbon, 3e-4, 0, totals}, k);
    const auto back = solve_carbonate(
        CarbonateInput{Kind::Alkalinity, Kind::PhTotal, 3e-4, s.ph_total, totals}, k);
    ASSERT_TRUE(back) << back.error().message;
    EXPECT_NEAR(back->inorganic_carbon, 0, 1e-15);
    EXPECT_EQ(s.revelle, 1);
}

TEST(CarbonateSystem, ImpossiblePairsAreRefusedInWords) {
    const auto k = *seawater_constants(PracticalSalinity(35), Celsius(25));
    const auto totals = *natural_totals(PracticalSalinity(35));
    const double nan = std::numeric_limits<double>::quiet_NaN();
    struct Refusal {
        Kind first_kind;
        double first;
        Kind second_kind;
        double second;
        std::string_view says;
        bw::ProblemCode code;
    };
    using P = bw::ProblemCode;
    for (const Refusal& r : {
             Refusal{Kind::InorganicCarbon, 0, Kind::PartialPressure, 400, "no pH", P::BadInput},
             Refusal{Kind::InorganicCarbon, 2e-3, Kind::PartialPressure, 0, "no pH", P::BadInput},
             Refusal{Kind::InorganicCarbon, 1e-6, Kind::PartialPressure, 400, "CO2 alone",
                     P::BadInput},
             Refusal{Kind::InorganicCarbon, 1e-3, Kind::Carbonate, 2e-3, "less than", P::BadInput},
             Refusal{Kind::PhTotal, 9, Kind::Alkalinity, 1e-4, "hold more alkalinity", P::BadInput},
             Refusal{Kind::Alkalinity, 2e-3, Kind::Carbonate, 2e-4, "two different waters",
                     P::BadInput},
             Refusal{Kind::Fugacity, 400, Kind::PartialPressure, 400, "the same", P::BadInput},
             Refusal{Kind::PhTotal, 8, Kind::PhTotal, 8, "the same", P::BadInput},
             Refusal{Kind::Alkalinity, 2e-3, Kind::InorganicCarbon, -1e-3, "outside",
                     P::OutOfRange},
             Refusal{Kind::Alkalinity, 2300, Kind::InorganicCarbon, 2e-3, "-1 to 1 eq/kg",
                     P::OutOfRange},
             Refusal{Kind::PhTotal, 16, Kind::Alkalinity, 2e-3, "outside", P::OutOfRange},
             Refusal{Kind::Alkalinity, nan, Kind::InorganicCarbon, 2e-3, "finite", P::OutOfRange},
             Refusal{Kind::PhTotal, nan, Kind::PartialPressure, nan, "finite", P::OutOfRange},
         }) {
        const auto s = solve_carbonate(
            CarbonateInput{r.first_kind, r.second_kind, r.first, r.second, totals}, k);
        ASSERT_FALSE(s) << r.says;
        EXPECT_NE(s.error().message.find(r.says), std::string::npos) << s.error().message;
        EXPECT_EQ(s.error().code, r.code) << s.error().message;
        EXPECT_FALSE(carbonate_gradient(
            CarbonateInput{r.first_kind, r.second_kind, r.first, r.second, totals},
            PracticalSalinity(35), Celsius(25)));
    }
    SeawaterTotals negative = totals;
    negative.boron = -1e-6;
    CarbonateState untouched;
    EXPECT_EQ(solve_carbonate(
                  CarbonateInput{Kind::Alkalinity, Kind::InorganicCarbon, 2e-3, 2e-3, negative}, k,
                  untouched),
              CarbonateFault::NegativeTotal);
    EXPECT_EQ(untouched.ph_total, 0);
    SeawaterConstants bad = k;
    bad.k1 = 0;
    EXPECT_EQ(
        solve_carbonate(CarbonateInput{Kind::Alkalinity, Kind::InorganicCarbon, 2e-3, 2e-3, totals},
                        bad, untouched),
        CarbonateFault::BadConstant);
}

CarbonateBatch batch_of(const std::vector<double>& a, const std::vector<double>& c,
                        const std::vector<double>& S, const std::vector<double>& t) {
    CarbonateBatch batch{};
    batch.first_kind = Kind::Alkalinity;
    batch.second_kind = Kind::InorganicCarbon;
    batch.first = a;
    batch.second = c;
    batch.salinity = S;
    batch.celsius = t;
    return batch;
}

TEST(CarbonateSystem, BatchIsTheSingleSolveForAnyNumberOfThreads) {
    Waters waters;
    std::vector<double> a;
    std::vector<double> c;
    std::vector<double> S;
    std::vector<double> t;
    for (int n = 0; n < 1001; ++n) {
        a.push_back(waters.between(1e-3, 6e-3));
        c.push_back(waters.between(1e-3, 6e-3));
        S.push_back(n % 3 == 0 ? 35 : waters.between(5, 45));
        t.push_back(n % 3 == 0 ? 25 : waters.between(5, 40));
    }
    a[7] = std::nan("");
    S[8] = 60;
    const auto one = bw::service::solve_carbonate(batch_of(a, c, S, t), 1);
    ASSERT_TRUE(one);
    for (const unsigned threads : {0U, 2U, 3U, 40U}) {
        const auto many = bw::service::solve_carbonate(batch_of(a, c, S, t), threads);
        ASSERT_TRUE(many);
        EXPECT_EQ(many->fault, one->fault);
        for (std::size_t i = 0; i < a.size(); ++i) {
            EXPECT_TRUE(many->ph_total[i] == one->ph_total[i] || std::isnan(one->ph_total[i]));
            EXPECT_TRUE(many->revelle[i] == one->revelle[i] || std::isnan(one->revelle[i]));
        }
    }
    EXPECT_EQ(one->fault[7], CarbonateFault::NotFinite);
    EXPECT_EQ(one->fault[8], CarbonateFault::OutsideRange);
    EXPECT_TRUE(std::isnan(one->ph_total[7]) && std::isnan(one->omega_calcite[8]));
    for (const std::size_t i : {0U, 9U, 1000U}) {
        const auto s =
            solve_carbonate(CarbonateInput{Kind::Alkalinity, Kind::InorganicCarbon, a[i], c[i],
                                           *natural_totals(PracticalSalinity(S[i]))},
                            *seawater_constants(PracticalSalinity(S[i]), Celsius(t[i])));
        ASSERT_TRUE(s);
        EXPECT_EQ(one->ph_total[i], s->ph_total);
        EXPECT_EQ(one->omega_aragonite[i], s->omega_aragonite);
    }
}

TEST(CarbonateSystem, BatchWithColumnsOfOtherLengthsIsRefused) {
    const std::vector<double> two = {2e-3, 2e-3};
    const std::vector<double> one = {35};
    EXPECT_FALSE(bw::service::solve_carbonate(batch_of(two, one, two, two)));
    CarbonateBatch batch = batch_of(two, two, two, two);
    batch.boron = one;
    EXPECT_FALSE(bw::service::solve_carbonate(batch));
    EXPECT_TRUE(bw::service::solve_carbonate(batch_of({}, {}, {}, {})));
}

}  // namespace
