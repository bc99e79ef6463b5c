// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/seawater_constants.hpp"

#include <array>
#include <cmath>
#include <complex>
#include <limits>
#include <set>

#include <gtest/gtest.h>

#include "brine/seawater_fits.hpp"
#include "num/dual.hpp"
#include "ref/tables.hpp"

namespace {

using namespace bw::brine;
using bw::unit::Celsius;
using bw::unit::PracticalSalinity;
using Complex = std::complex<double>;
using Two = bw::num::Dual<2>;

constexpr std::array kCarbonic = {CarbonicFit::Lueker2000, CarbonicFit::Sulpis2020,
                                  CarbonicFit::Waters2014};
constexpr std::array kFluoride = {FluorideFit::PerezFraga1987, FluorideFit::DicksonRiley1979};

template <class T>
std::array<T, 16> listed(const SeawaterConstantsOf<T>& k) {
    return {k.k0,
            k.fugacity_factor,
            k.k1,
            k.k2,
            k.kb,
            k.kw,
            k.ks,
            k.kf,
            k.kp1,
            k.kp2,
            k.kp3,
            k.ksi,
            k.knh4,
            k.ksp_calcite,
            k.ksp_aragonite,
            k.hydrogen_activity};
}

TEST(SeawaterConstants, DerivativesAreThoseOfTheComplexStep) {
    constexpr double kStep = 1e-30;
    for (const auto carbonic : kCarbonic) {
        for (const auto fluoride : kFluoride) {
            const SeawaterFits which{carbonic, fluoride, BoronRatio::Lee2010};
            for (const double S : {0.5, 5.0, 35.0, 48.0}) {
                for (const double t : {0.0, 25.0, 40.0}) {
                    const auto dual = listed(
                        fits::constants<Two>(Two::variable(S, 0), Two::variable(t, 1), which));
                    const auto by_S =
                        listed(fits::constants<Complex>(Complex(S, kStep), Complex(t), which));
                    const auto by_t =
                        listed(fits::constants<Complex>(Complex(S), Complex(t, kStep), which));
                    const auto plain = listed(fits::constants<double>(S, t, which));
                    for (std::size_t i = 0; i < plain.size(); ++i) {
                        const double scale = 1e-12 * std::abs(plain[i]);
                        EXPECT_NEAR(dual[i].v, plain[i], scale) << i;
                        EXPECT_NEAR(dual[i].g[0], by_S[i].imag() / kStep, scale) << i;
                        EXPECT_NEAR(dual[i].g[1], by_t[i].imag() / kStep, scale) << i;
                    }
                }
            }
        }
    }
}

TEST(SeawaterConstants, FitsOfCarbonicAcidAgreeWhereTheyMeet) {
    // Each claims 0.01 to 0.02 in pK2; at sea temperatures they are of the same data or compared
    // with it.
    for (const double t : {10.0, 20.0, 30.0}) {
        const auto lueker = seawater_constants(PracticalSalinity(35), Celsius(t));
        for (const auto carbonic : {CarbonicFit::Sulpis2020, CarbonicFit::Waters2014}) {
            const auto other =
                seawater_constants(PracticalSalinity(35), Celsius(t),
                                   {carbonic, FluorideFit::PerezFraga1987, BoronRatio::Lee2010});
            ASSERT_TRUE(lueker && other);
            EXPECT_NEAR(std::log10(other->k1 / lueker->k1), 0, 0.02) << t;
            EXPECT_NEAR(std::log10(other->k2 / lueker->k2), 0, 0.03) << t;
        }
    }
}

TEST(SeawaterConstants, AnswersTheKnownAndRefusesTheUnknown) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    EXPECT_TRUE(seawater_constants(PracticalSalinity(50), Celsius(-2)));
    for (const auto& [S, t] : {std::pair{0.0, 25.0}, std::pair{-1.0, 25.0}, std::pair{50.1, 25.0},
                               std::pair{nan, 25.0}}) {
        const auto k = seawater_constants(PracticalSalinity(S), Celsius(t));
        ASSERT_FALSE(k);
        EXPECT_EQ(k.error().code, bw::ProblemCode::OutOfRange);
        EXPECT_NE(k.error().message.find("practical salinity"), std::string::npos);
    }
    for (const double t : {-2.1, 50.1, nan}) {
        const auto k = seawater_constants(PracticalSalinity(35), Celsius(t));
        ASSERT_FALSE(k);
        EXPECT_NE(k.error().message.find("degC"), std::string::npos);
    }
    EXPECT_FALSE(natural_totals(PracticalSalinity(-1)));
    EXPECT_FALSE(natural_totals(PracticalSalinity(nan)));
    EXPECT_TRUE(natural_totals(PracticalSalinity(0)));
}

TEST(SeawaterConstants, RangesAreThoseOfTheChosenFit) {
    const SeawaterFits waters{CarbonicFit::Waters2014, FluorideFit::DicksonRiley1979,
                              BoronRatio::Lee2010};
    using C = SeawaterConstant;
    EXPECT_TRUE(in_range(C::Carbonic, PracticalSalinity(19), Celsius(2)));
    EXPECT_FALSE(in_range(C::Carbonic, PracticalSalinity(18.9), Celsius(20)));
    EXPECT_TRUE(in_range(C::Carbonic, PracticalSalinity(18.9), Celsius(20), waters));
    EXPECT_FALSE(in_range(C::Fluoride, PracticalSalinity(35), Celsius(35)));
    EXPECT_TRUE(in_range(C::Fluoride, PracticalSalinity(35), Celsius(35), waters));
    EXPECT_FALSE(in_range(C::Carbonic, PracticalSalinity(35), Celsius(std::nan(""))));
    EXPECT_TRUE(all_in_range(PracticalSalinity(35), Celsius(25)));
    EXPECT_FALSE(all_in_range(PracticalSalinity(44.5), Celsius(25), waters));
}

TEST(SeawaterConstants, EveryFitHasASourceOnFile) {
    std::set<std::string_view> keys;
    for (const auto& source : bw::ref::sources()) {
        keys.insert(source.key);
    }
    for (const auto carbonic : kCarbonic) {
        for (const auto fluoride : kFluoride) {
            for (int i = 0; i < kSeawaterConstantCount; ++i) {
                const auto which = static_cast<SeawaterConstant>(i);
                const SeawaterFits fits{carbonic, fluoride, BoronRatio::Lee2010};
                EXPECT_TRUE(keys.contains(fit_source(which, fits))) << fit_source(which, fits);
                EXPECT_LT(fit_range(which, fits).low_degC, fit_range(which, fits).high_degC);
            }
        }
    }
}

TEST(SeawaterConstants, ScalesOfPhGoRound) {
    const auto k = seawater_constants(PracticalSalinity(35), Celsius(25));
    const auto totals = natural_totals(PracticalSalinity(35));
    ASSERT_TRUE(k && totals);
    const auto all = {PhScale::Free, PhScale::Total, PhScale::Seawater, PhScale::Nbs};
    for (const auto from : all) {
        for (const auto to : all) {
            const double there = ph_on_scale(8.1, from, to, *totals, *k);
            EXPECT_NEAR(ph_on_scale(there, to, from, *totals, *k), 8.1, 1e-14);
        }
    }
    // Free is 0.1 above total, seawater 0.01 below it, NBS about 0.14 above seawater.
    EXPECT_NEAR(ph_on_scale(8.1, PhScale::Total, PhScale::Free, *totals, *k), 8.208, 0.003);
    EXPECT_NEAR(ph_on_scale(8.1, PhScale::Total, PhScale::Seawater, *totals, *k), 8.090, 0.001);
    EXPECT_NEAR(ph_on_scale(8.1, PhScale::Total, PhScale::Nbs, *totals, *k), 8.23, 0.02);
}

}  // namespace
