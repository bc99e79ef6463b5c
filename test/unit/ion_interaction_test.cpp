// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// What the ion-interaction equations owe to thermodynamics whatever their coefficients: one excess
// energy, of which every coefficient and the osmotic coefficient are derivatives. Exact derivatives
// come from num::Dual over all species. 1e-10 of the largest term is what round-off leaves in sums
// of some hundred terms of either sign. The seawater set is held to the identities beyond its range
// too: they are algebra.
#include "brine/ion_interaction.hpp"

#include <algorithm>
#include <cmath>
#include <random>

#include <gtest/gtest.h>

#include "brine/unsymmetrical_mixing.hpp"
#include "figure.hpp"
#include "num/dual.hpp"

namespace {

using namespace bw;
using namespace bw::brine;

constexpr auto kCount = static_cast<int>(kSpecies);
using AllSpecies = num::Dual<kCount>;
constexpr double kIdentity = 1e-10;

/// Amounts over six decades, not neutral: the identities need no neutrality.
PerSpecies<double> random_composition(std::mt19937_64& random, double strength) {
    std::uniform_real_distribution<double> uniform(0, 1);
    PerSpecies<double> m{};
    double found = 0;
    for (std::size_t i = 0; i < kSpecies; ++i) {
        m[i] = std::pow(10.0, -6.0 * uniform(random));
        const int z = kSpeciesFacts[i].charge;
        found += 0.5 * z * z * m[i];
    }
    for (double& amount : m) {
        amount *= strength / found;
    }
    return m;
}

Excess<AllSpecies> with_gradient(const InteractionParameters<double>& set,
                                 const PerSpecies<double>& m) {
    PerSpecies<AllSpecies> variables;
    for (int i = 0; i < kCount; ++i) {
        variables[static_cast<std::size_t>(i)] =
            AllSpecies::variable(m[static_cast<std::size_t>(i)], i);
    }
    Excess<AllSpecies> out;
    excess(set, variables, out);
    return out;
}

void record_identity(const char* what, ref::InteractionSet set, double worst) {
    constexpr double kAsked = 1e-8;
    const char* of = set == ref::InteractionSet::Seawater ? "seawater" : "brines";
    bw::test::record({"Waters",
                      fmt::format("{}, coefficients of {}, 60 random waters of 0 to 40 degC and "
                                  "ionic strength 0.0001 to 8 mol/kg",
                                  what, of),
                      "holds to 1e-8", bw::test::share_used(worst, kAsked), worst <= kAsked});
}

class EachSet : public testing::TestWithParam<ref::InteractionSet> {
protected:
    /// 60 waters: 0 to 40 degC, ionic strength 1e-4 to 8.
    template <class Check>
    void over_random_waters(const Check& check) const {
        std::mt19937_64 random(20240229);
        std::uniform_real_distribution<double> uniform(0, 1);
        constexpr int kWaters = 60;
        for (int k = 0; k < kWaters; ++k) {
            const double kelvin = 273.15 + 40.0 * uniform(random);
            const double strength = 8.0 * std::pow(8e4, -uniform(random));
            const auto set = interaction_parameters(GetParam(), kelvin);
            check(set, random_composition(random, strength));
        }
    }
};

TEST_P(EachSet, CoefficientsAreTheGradientOfTheEnergy) {
    double worst = 0;
    over_random_waters([&](const auto& set, const auto& m) {
        const auto e = with_gradient(set, m);
        for (std::size_t i = 0; i < kSpecies; ++i) {
            worst = std::max(worst, std::abs(e.excess_energy.g[i] - e.ln_gamma[i].v) /
                                        (1 + std::abs(e.ln_gamma[i].v)));
        }
    });
    RecordProperty("worst", testing::PrintToString(worst));
    EXPECT_LT(worst, kIdentity);
}

TEST_P(EachSet, CrossDerivativesAreSymmetric) {
    double worst = 0;
    over_random_waters([&](const auto& set, const auto& m) {
        const auto e = with_gradient(set, m);
        for (std::size_t i = 0; i < kSpecies; ++i) {
            for (std::size_t j = 0; j < i; ++j) {
                const double one = e.ln_gamma[i].g[j];
                const double other = e.ln_gamma[j].g[i];
                worst = std::max(worst, std::abs(one - other) / (1 + std::abs(one)));
            }
        }
    });
    RecordProperty("worst", testing::PrintToString(worst));
    EXPECT_LT(worst, kIdentity);
    record_identity("Maxwell's relations between activity coefficients", GetParam(), worst);
}

TEST_P(EachSet, GibbsAndDuhem) {
    // 55.5 d ln a_w + sum m_i d ln(m_i gamma_i) = 0 for a change of any one species.
    double worst = 0;
    over_random_waters([&](const auto& set, const auto& m) {
        const auto e = with_gradient(set, m);
        for (std::size_t j = 0; j < kSpecies; ++j) {
            double sum = e.ln_water_activity.g[j] / kWaterKgPerMol + 1;
            double size = 1;
            for (std::size_t i = 0; i < kSpecies; ++i) {
                sum += m[i] * e.ln_gamma[i].g[j];
                size += std::abs(m[i] * e.ln_gamma[i].g[j]);
            }
            worst = std::max(worst, std::abs(sum) / size);
        }
        double solutes = 0;
        for (const double amount : m) {
            solutes += amount;
        }
        EXPECT_NEAR(e.ln_water_activity.v, -kWaterKgPerMol * solutes * e.osmotic_coefficient.v,
                    1e-13);
    });
    RecordProperty("worst", testing::PrintToString(worst));
    EXPECT_LT(worst, kIdentity);
    record_identity("Gibbs-Duhem equation", GetParam(), worst);
}

TEST_P(EachSet, OrderOfRowsAndOfTheirSpeciesIsNothing) {
    std::mt19937_64 random(7);
    double worst = 0;
    over_random_waters([&](const auto& set, const auto& m) {
        auto other = set;
        std::shuffle(other.pairs.begin(), other.pairs.end(), random);
        std::shuffle(other.thetas.begin(), other.thetas.end(), random);
        std::shuffle(other.lambdas.begin(), other.lambdas.end(), random);
        std::shuffle(other.psis.begin(), other.psis.end(), random);
        std::shuffle(other.zetas.begin(), other.zetas.end(), random);
        for (auto* rows : {&other.thetas, &other.lambdas}) {
            for (auto& row : *rows) {
                std::swap(row.a, row.b);
            }
        }
        for (auto* rows : {&other.psis, &other.zetas}) {
            for (auto& row : *rows) {
                std::swap(row.a, row.c);
            }
        }
        Excess<double> one;
        Excess<double> two;
        excess(set, m, one);
        excess(other, m, two);
        for (std::size_t i = 0; i < kSpecies; ++i) {
            worst = std::max(worst, std::abs(one.ln_gamma[i] - two.ln_gamma[i]) /
                                        (1 + std::abs(one.ln_gamma[i])));
        }
        worst = std::max(worst, std::abs(one.osmotic_coefficient - two.osmotic_coefficient));
    });
    RecordProperty("worst", testing::PrintToString(worst));
    EXPECT_LT(worst, 1e-12);
}

TEST_P(EachSet, TracesInPureWaterAreIdeal) {
    const double kelvin = 298.15;
    const auto set = interaction_parameters(GetParam(), kelvin);
    for (const double amount : {0.0, 1e-15, 1e-12, 1e-10}) {
        PerSpecies<double> m{};
        m.fill(amount);
        Excess<double> e;
        excess(set, m, e);
        // Below the least strength the osmotic coefficient is a quotient of two round-offs; water's
        // own ions keep every real water above it.
        if (amount == 0 || e.ionic_strength > 1e-9) {
            EXPECT_NEAR(e.osmotic_coefficient, 1, 1e-4) << amount;
        }
        EXPECT_NEAR(e.ln_water_activity, 0, 1e-10) << amount;
        for (std::size_t i = 0; i < kSpecies; ++i) {
            // The strength is held at 1e-9 from below: 3 A z^2 sqrt(1e-9) = 3.7e-5 z^2;
            // with 1e-10 of all species it is 3.1e-9: 6.5e-5 z^2.
            const int z = kSpeciesFacts[i].charge;
            EXPECT_NEAR(e.ln_gamma[i], 0, 1.2e-4 * std::max(z * z, 1)) << kSpeciesFacts[i].symbol;
        }
    }
}

TEST_P(EachSet, LimitingLaw) {
    const auto set = interaction_parameters(GetParam(), 298.15);
    PerSpecies<double> m{};
    constexpr double kAmount = 1e-7;
    m[index(Species::Na)] = m[index(Species::Cl)] = kAmount;
    Excess<double> e;
    excess(set, m, e);
    const double law = -3 * set.slope * std::sqrt(kAmount);
    EXPECT_NEAR(e.ln_gamma[index(Species::Na)], law, 1e-3 * std::abs(law));
    EXPECT_NEAR(e.ln_gamma[index(Species::Cl)], law, 1e-3 * std::abs(law));
    EXPECT_NEAR(e.osmotic_coefficient, 1 + law / 3, 1e-3 * std::abs(law));
}

TEST_P(EachSet, DerivativesByTemperature) {
    // Against central differences of fourth order; 1e-7 is their round-off at 0.05 K.
    using Kelvin = num::Dual<1>;
    std::mt19937_64 random(5);
    for (const double kelvin : {278.15, 298.15, 308.15}) {
        const auto m = random_composition(random, 1);
        PerSpecies<Kelvin> as_dual;
        std::copy(m.begin(), m.end(), as_dual.begin());
        Excess<Kelvin> e;
        excess(interaction_parameters(GetParam(), Kelvin::variable(kelvin, 0)), as_dual, e);
        constexpr double kStep = 0.05;
        std::array<Excess<double>, 4> at;
        const std::array shift{-2.0, -1.0, 1.0, 2.0};
        for (std::size_t k = 0; k < at.size(); ++k) {
            excess(interaction_parameters(GetParam(), kelvin + kStep * shift[k]), m, at[k]);
        }
        for (std::size_t i = 0; i < kSpecies; ++i) {
            const double slope = (at[0].ln_gamma[i] - 8 * at[1].ln_gamma[i] +
                                  8 * at[2].ln_gamma[i] - at[3].ln_gamma[i]) /
                                 (12 * kStep);
            EXPECT_NEAR(e.ln_gamma[i].g[0], slope, 1e-7 * (1 + std::abs(slope)))
                << kSpeciesFacts[i].symbol << " at " << kelvin;
        }
    }
}

INSTANTIATE_TEST_SUITE_P(IonInteraction, EachSet,
                         testing::Values(ref::InteractionSet::Seawater, ref::InteractionSet::Brine),
                         [](const auto& p) {
                             return p.param == ref::InteractionSet::Seawater ? "Seawater" : "Brine";
                         });

/// J(x) and x J'(x) of Pitzer's integral J = x/4 - 1 + (1/x) int_0^inf (1 - e^(-(x/y) e^-y)) y^2
/// dy, by the double exponential rule, its step halved until nothing changes.
MixingIntegral<double> by_quadrature(double x) {
    const auto trapezium = [x](double step) {
        long double value = 0;
        long double slope = 0;
        const auto points = static_cast<int>(10 / step);
        for (int k = -points; k <= points; ++k) {
            const long double t = static_cast<long double>(k) * step;
            const long double y = std::exp(t - std::exp(-t));
            if (!(y > 0) || y > 1e4L) {
                continue;
            }
            const long double weight = y * (1 + std::exp(-t)) * y * y;
            const long double q = x / y * std::exp(-y);
            value += -std::expm1(-q) * weight;
            slope += q * std::exp(-q) * weight;  // x d/dx
        }
        return MixingIntegral<double>{
            static_cast<double>(x / 4.0L - 1 + value * step / x),
            static_cast<double>(x / 4.0L - value * step / x + slope * step / x)};
    };
    MixingIntegral<double> coarse = trapezium(0.125);
    for (double step = 0.0625; step > 1e-3; step *= 0.5) {
        const MixingIntegral<double> fine = trapezium(step);
        const bool steady = std::abs(fine.j - coarse.j) <= 1e-12 * fine.j &&
                            std::abs(fine.x_slope - coarse.x_slope) <= 1e-12 * fine.x_slope;
        coarse = fine;
        if (steady) {
            return fine;
        }
    }
    ADD_FAILURE() << "the quadrature at " << x << " does not settle";
    return coarse;
}

TEST(UnsymmetricalMixing, SeriesIsTheIntegral) {
    double worst = 0;
    double worst_slope = 0;
    for (int k = 0; k <= 200; ++k) {
        const double x = 0.01 * std::pow(1e4, k / 200.0);
        const auto exact = by_quadrature(x);
        const auto series = mixing_integral_series(x);
        worst = std::max(worst, std::abs(series.j - exact.j) / (3e-10 + 1e-9 * exact.j));
        worst_slope =
            std::max(worst_slope, std::abs(series.x_slope - exact.x_slope) / exact.x_slope);
    }
    RecordProperty("worst", testing::PrintToString(worst));
    RecordProperty("worst_slope", testing::PrintToString(worst_slope));
    EXPECT_LT(worst, 1);  // as unsymmetrical_mixing.hpp states
    EXPECT_LT(worst_slope, 1e-6);
}

TEST(UnsymmetricalMixing, SlopesAreDerivatives) {
    using One = num::Dual<1>;
    for (int k = 0; k <= 100; ++k) {
        const One x = One::variable(0.01 * std::pow(1e4, k / 100.0), 0);
        const auto series = mixing_integral_series(x);
        const auto closed = mixing_integral_closed(x);
        EXPECT_NEAR(series.x_slope.v, series.j.g[0] * x.v, 1e-11 * x.v) << x.v;
        EXPECT_NEAR(closed.x_slope.v, closed.j.g[0] * x.v, 1e-13 * x.v) << x.v;
    }
}

TEST(UnsymmetricalMixing, ClosedForm) {
    // By hand at 1: 1 / (4 + 4.581 exp(-0.012)) = 1 / 8.526357; there 0.7 % above the integral,
    // 0.116437.
    EXPECT_NEAR(mixing_integral_closed(1.0).j, 0.1172834, 1e-7);
    EXPECT_NEAR(by_quadrature(1.0).j, 0.116437, 1e-6);
    EXPECT_NEAR(mixing_integral_closed(1.0).j / by_quadrature(1.0).j, 1.0073, 1e-4);
    for (int k = 0; k <= 40; ++k) {
        const double x = 0.1 * std::pow(1e3, k / 40.0);
        EXPECT_NEAR(mixing_integral_closed(x).j / by_quadrature(x).j, 1, 0.03) << x;
    }
}

}  // namespace
