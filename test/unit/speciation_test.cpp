// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// The solved equilibrium of random waters: balances, convergence, agreement between the ways to
// close the acid-base balance, continuity across the joints of the model.
#include "brine/speciation.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <random>

#include <gtest/gtest.h>

#include "brine/water.hpp"
#include "figure.hpp"
#include "unit/random_water.hpp"

namespace {

using namespace bw;
using namespace bw::brine;

using namespace bw::brine::random_waters;

constexpr double kBalance = 1e-12;

void record_balance(const char* what, double worst) {
    bw::test::record({"Waters", std::string("charge and mass conserved in ") + what, "to 1e-12",
                      bw::test::share_used(worst, kBalance), worst <= kBalance});
}

TEST(Speciation, BalancesOfRandomWatersByAlkalinityAndCarbon) {
    std::mt19937_64 random(1);
    std::uniform_real_distribution<double> uniform(0, 1);
    double worst = 0;
    double most_strength = 0;
    int solved = 0;
    int most = 0;
    constexpr int kWaters = 3000;
    for (int k = 0; k < kWaters; ++k) {
        const Water w = random_water(random);
        const double carbon = k % 50 == 0 ? 0 : std::pow(10.0, -12.0 + 11.0 * uniform(random));
        const Closing<double> closing{{Closure::Alkalinity, Closure::Carbon},
                                      {-2e-3 + 22e-3 * uniform(random), carbon}};
        const auto found = speciate(model_at(w.celsius), conditions_of(w), closing);
        ASSERT_TRUE(found) << describe(w, closing);
        const double balance = worst_balance(model_at(w.celsius), *found, closing);
        EXPECT_LT(balance, kBalance) << describe(w, closing);
        worst = std::max(worst, balance);
        most = std::max(most, found->iterations);
        most_strength = std::max(most_strength, formal_strength(w.mol_per_kg) / (1 - w.dissolved));
        ++solved;
    }
    RecordProperty("worst", testing::PrintToString(worst));
    RecordProperty("most_rounds", most);
    record_balance("3000 random waters of stated alkalinity and carbon", worst);
    bw::test::record({"Waters", "random waters solved, some with totals of 1e-12 mol/kg or none",
                      "every one; 0 to 40 degC, ionic strength to 8 mol/kg",
                      fmt::format("{} of {}; 0 to 40 degC, ionic strength to {:.1f} mol/kg", solved,
                                  kWaters, most_strength),
                      solved == kWaters && most_strength > 7.9});
}

TEST(Speciation, EveryClosingPairGivesTheSameState) {
    // A state by pH and carbon, which always exists; then by every other pair of its own values.
    // Where one of two statements says nothing of the other unknown (carbon in the alkalinity of an
    // acid water, fugacity of an acid water whose carbon is all CO2) the pair is left out.
    constexpr std::array kAll{Closure::Alkalinity, Closure::Carbon, Closure::Fugacity,
                              Closure::PhTotal,    Closure::PhFree, Closure::PhNbs};
    constexpr double kSays = 1e-3;
    std::mt19937_64 random(2);
    std::uniform_real_distribution<double> uniform(0, 1);
    double worst = 0;
    double worst_state = 0;
    int pairs = 0;
    constexpr int kWaters = 400;
    for (int k = 0; k < kWaters; ++k) {
        const Water w = random_water(random);
        const auto& model = model_at(w.celsius);
        const auto c = conditions_of(w);
        const Closing<double> first{
            {Closure::PhTotal, Closure::Carbon},
            {2 + 10 * uniform(random), std::pow(10.0, -12.0 + 11.0 * uniform(random))}};
        const auto at = speciate(model, c, first);
        ASSERT_TRUE(at) << describe(w, first);
        worst = std::max(worst, worst_balance(model, *at, first));
        EXPECT_LT(worst_balance(model, *at, first), kBalance) << describe(w, first);
        const auto& m = at->molality;
        const double carbon = carbon_sum(m);
        const double by_carbon =
            (2 * carbon - 2 * m[index(Species::CO2)] - m[index(Species::HCO3)]) /
            alkalinity_size(m);
        const double ions = 1 - m[index(Species::CO2)] / carbon;
        for (std::size_t a = 0; a < kAll.size(); ++a) {
            for (std::size_t b = a + 1; b < kAll.size(); ++b) {
                const bool gas_a = kAll[a] == Closure::Carbon || kAll[a] == Closure::Fugacity;
                const bool gas_b = kAll[b] == Closure::Carbon || kAll[b] == Closure::Fugacity;
                const bool both_ph = a >= 3 && b >= 3;
                const bool mute =
                    (gas_a && gas_b && (ions < kSays)) || (!gas_a && !gas_b && by_carbon < kSays);
                if (both_ph || mute) {
                    continue;
                }
                const Closing<double> closing{
                    {kAll[a], kAll[b]},
                    {closing_value(model, *at, kAll[a]), closing_value(model, *at, kAll[b])}};
                const auto again = speciate(model, c, closing);
                ASSERT_TRUE(again) << describe(w, closing);
                const double balance = worst_balance(model, *again, closing);
                EXPECT_LT(balance, kBalance) << describe(w, closing);
                worst = std::max(worst, balance);
                double state = 0;
                for (std::size_t i = 0; i < kSpecies; ++i) {
                    if (m[i] > 0) {
                        state = std::max(state, std::abs(again->molality[i] / m[i] - 1));
                    }
                }
                // 1e-12 of balance over what a statement says, and slopes of a factor of ten.
                EXPECT_LT(state, 1e-8) << describe(w, closing);
                worst_state = std::max(worst_state, state);
                ++pairs;
            }
        }
    }
    RecordProperty("worst", testing::PrintToString(worst));
    RecordProperty("worst_state", testing::PrintToString(worst_state));
    EXPECT_GT(pairs, 10 * kWaters / 2);
    record_balance("400 random waters, each closed by every pair of alkalinity, carbon, CO2 and pH",
                   worst);
}

TEST(Speciation, AlkalinityWithPhFindsASmallShareOfCarbon) {
    // Acid waters: carbon is a hundredth to a hundred-thousandth of the terms of the alkalinity. It
    // comes back as well as its share allows: 1e-12 of balance over the share.
    std::mt19937_64 random(4);
    std::uniform_real_distribution<double> uniform(0, 1);
    int small = 0;
    constexpr int kWaters = 4000;
    for (int k = 0; k < kWaters; ++k) {
        const Water w = random_water(random);
        const auto& model = model_at(w.celsius);
        const auto c = conditions_of(w);
        const Closing<double> first{
            {Closure::PhTotal, Closure::Carbon},
            {2 + 2 * uniform(random), std::pow(10.0, -4 + 3 * uniform(random))}};
        const auto at = speciate(model, c, first);
        ASSERT_TRUE(at) << describe(w, first);
        const auto& m = at->molality;
        const double share =
            (2 * carbon_sum(m) - 2 * m[index(Species::CO2)] - m[index(Species::HCO3)]) /
            alkalinity_size(m);
        if (share > 0.02 || share < 1e-5) {
            continue;
        }
        ++small;
        const Closing<double> closing{
            {Closure::Alkalinity, Closure::PhTotal},
            {closing_value(model, *at, Closure::Alkalinity), first.value[0]}};
        const auto again = speciate(model, c, closing);
        ASSERT_TRUE(again) << describe(w, closing);
        EXPECT_LT(worst_balance(model, *again, closing), kBalance) << describe(w, closing);
        EXPECT_NEAR(carbon_sum(again->molality) / carbon_sum(m), 1, 3e-11 / share)
            << describe(w, closing);
    }
    EXPECT_GT(small, kWaters / 3);
}

TEST(Speciation, NoStateIsAProblemAndNotANumber) {
    const Water w = seawater(1);
    for (const Closing<double>& closing :
         {Closing<double>{{Closure::Alkalinity, Closure::PhTotal}, {-1e-3, 9}},
          Closing<double>{{Closure::PhFree, Closure::Alkalinity}, {2.3, -1}},
          Closing<double>{{Closure::Carbon, Closure::Fugacity}, {1e-5, 1e-1}},
          Closing<double>{{Closure::Alkalinity, Closure::Carbon}, {NAN, 2e-3}}}) {
        const auto found = speciate(model_at(25), conditions_of(w), closing);
        EXPECT_FALSE(found) << describe(w, closing);
    }
}

TEST(Speciation, WarmStartFindsTheSameState) {
    std::mt19937_64 random(3);
    const Closing<double> closing{{Closure::Alkalinity, Closure::Carbon}, {2.3e-3, 2.0e-3}};
    std::optional<Speciation<double>> last;
    for (int k = 0; k < 300; ++k) {
        Water w = random_water(random);
        w.celsius = 25;
        const auto cold = speciate(model_at(25), conditions_of(w), closing);
        ASSERT_TRUE(cold) << describe(w, closing);
        if (last) {
            const auto warm = speciate(model_at(25), conditions_of(w), closing, &*last);
            ASSERT_TRUE(warm) << describe(w, closing);
            EXPECT_NEAR(closing_value(model_at(25), *warm, Closure::PhFree),
                        closing_value(model_at(25), *cold, Closure::PhFree), 1e-9);
        }
        last = *cold;
    }
}

TEST(Speciation, MolalitiesAreWhatCounts) {
    // The same molalities in another share of water: the species are the same, but for the field's
    // phosphate and silicate, which are left out.
    const Water one = seawater(1);
    Water two = one;
    two.dissolved = 0.2;
    const double factor = (1 - two.dissolved) / (1 - one.dissolved);
    for (double& amount : two.mol_per_kg) {
        amount *= factor;
    }
    Closing<double> closing{{Closure::Alkalinity, Closure::Carbon}, {2.3e-3, 2.0e-3}};
    const auto first = speciate(model_at(25), conditions_of(one), closing);
    for (double& value : closing.value) {
        value *= factor;
    }
    const auto second = speciate(model_at(25), conditions_of(two), closing);
    ASSERT_TRUE(first && second);
    for (std::size_t i = 0; i < kSpecies; ++i) {
        EXPECT_NEAR(second->molality[i], first->molality[i], 1e-10 * first->molality[i])
            << kSpeciesFacts[i].symbol;
    }
}

TEST(Speciation, FieldPhOfSeawaterIsThatOfTheField) {
    // At salinity 35 the model is anchored: its own constants, formed back from the state, are the
    // field's. 1e-3 in ln K is the price of the series over salinity and of pH other than that of
    // the anchor water.
    for (const double celsius : {5.0, 15.0, 25.0, 35.0}) {
        for (const double salinity : {20.0, 35.0, 42.0}) {
            const ReferenceTotals natural = reference_totals(salinity);
            const auto& model = model_at(celsius);
            const auto c =
                conditions(model, natural.mol_per_kg, natural.dissolved_kg_per_kg, Route::Joined);
            const Closing<double> closing{
                {Closure::Alkalinity, Closure::Carbon},
                {natural.alkalinity_eq_per_kg, natural.carbon_mol_per_kg}};
            const auto s = speciate(model, c, closing);
            ASSERT_TRUE(s);
            const auto& m = s->molality;
            const double hydrogen = hydrogen_on_scale(Closure::PhTotal, c, m);
            const double hco3 = m[index(Species::HCO3)];
            const double k1 = hydrogen * hco3 / m[index(Species::CO2)];
            const double co3 = carbon_sum(m) - hco3 - m[index(Species::CO2)];
            EXPECT_NEAR(std::log(k1 / c.field.k1), 0, 1e-3) << celsius << ' ' << salinity;
            EXPECT_NEAR(std::log(hydrogen * co3 / hco3 / c.field.k2), 0, 1e-3)
                << celsius << ' ' << salinity;
        }
    }
}

/// Largest step of pH and ln Omega along a path, in `steps` equal steps.
struct Steps {
    double ph = 0, aragonite = 0, gypsum = 0, osmotic = 0;
};
template <class Path>
Steps steps_along(const Path& path, int steps) {
    Steps out;
    std::optional<std::array<double, 4>> last;
    std::vector<double> omega;
    for (int k = 0; k <= steps; ++k) {
        const Water w = path(static_cast<double>(k) / steps);
        const auto& model = model_at(w.celsius);
        const double strength = formal_strength(w.mol_per_kg) / (1 - w.dissolved);
        const double carbon = 2.8e-3 * strength * (1 - w.dissolved);
        const auto s = speciate(model, conditions_of(w),
                                {{Closure::Alkalinity, Closure::Carbon}, {1.15 * carbon, carbon}});
        EXPECT_TRUE(s);
        if (!s) {
            return out;
        }
        ln_saturation(model, *s, omega);
        std::size_t gypsum = 0;
        for (std::size_t i = 0; i < ref::minerals().size(); ++i) {
            gypsum = ref::minerals()[i].key == "gypsum" ? i : gypsum;
        }
        const std::array now{closing_value(model, *s, Closure::PhTotal), omega[model.aragonite],
                             omega[gypsum], s->activity.osmotic};
        if (last) {
            out.ph = std::max(out.ph, std::abs(now[0] - (*last)[0]));
            out.aragonite = std::max(out.aragonite, std::abs(now[1] - (*last)[1]));
            out.gypsum = std::max(out.gypsum, std::abs(now[2] - (*last)[2]));
            out.osmotic = std::max(out.osmotic, std::abs(now[3] - (*last)[3]));
        }
        last = now;
    }
    return out;
}

TEST(Speciation, NothingJumpsWhereTheModelIsJoined) {
    // A step of a continuous function halves with the step of its argument; a jump stays.
    struct Joint {
        double from, to;  ///< in salinity
    };
    for (const double celsius : {5.0, 25.0, 37.0}) {
        for (const Joint& joint :
             {Joint{0.8, 5.5}, Joint{18.5, 21.5}, Joint{40.5, 46}, Joint{40, 100}}) {
            const auto path = [&](double at) {
                const double salinity = joint.from + at * (joint.to - joint.from);
                Water w = seawater(salinity / 35 * (1 - 0.0351650) / (1 - 0.001004714 * salinity));
                w.celsius = celsius;
                return w;
            };
            constexpr int kSteps = 400;
            const Steps coarse = steps_along(path, kSteps);
            const Steps fine = steps_along(path, 2 * kSteps);
            constexpr double kHalf = 0.55;
            EXPECT_LT(fine.ph, kHalf * coarse.ph) << celsius << ' ' << joint.from;
            EXPECT_LT(fine.aragonite, kHalf * coarse.aragonite) << celsius << ' ' << joint.from;
            EXPECT_LT(fine.gypsum, kHalf * coarse.gypsum) << celsius << ' ' << joint.from;
            EXPECT_LT(fine.osmotic, kHalf * coarse.osmotic) << celsius << ' ' << joint.from;
        }
    }
}

// A start from a state before must not bring carbon into a water that has none.
TEST(Speciation, WithoutCarbonPhGivesTheAlkalinityOfTheOthers) {
    WaterInput input;
    input.mol_per_kg = matter::reference_seawater(35.16504);
    input.mol_per_kg[matter::constituent("carbon")] = 0;
    for (const double ph : {4.0, 7.0, 8.1, 10.0}) {
        input.closing = {{{Closure::Carbon, 0}, {Closure::PhTotal, ph}}};
        const auto none = water_state(input, false);
        ASSERT_TRUE(none.has_value()) << ph << ": " << none.error().message;
        input.closing = {{{Closure::Carbon, 1e-15}, {Closure::PhTotal, ph}}};
        const auto trace = water_state(input, false);
        ASSERT_TRUE(trace.has_value());
        EXPECT_EQ(none->carbon_mol_per_kg, 0);
        EXPECT_NEAR(none->ph_total, ph, 1e-9);
        EXPECT_NEAR(none->alkalinity_eq_per_kg, trace->alkalinity_eq_per_kg, 1e-12);
    }
}

TEST(Speciation, ATraceIsAlmostNothing) {
    // A total of 1e-12 mol/kg gives the water without it.
    const Closing<double> closing{{Closure::Alkalinity, Closure::Carbon}, {2.3e-3, 2.0e-3}};
    for (std::size_t t = 0; t < kTotals; ++t) {
        Water without = seawater(1);
        without.mol_per_kg[t] = 0;
        Water trace = without;
        trace.mol_per_kg[t] = 1e-12;
        const auto none = speciate(model_at(25), conditions_of(without), closing);
        const auto some = speciate(model_at(25), conditions_of(trace), closing);
        ASSERT_TRUE(none && some) << t;
        EXPECT_NEAR(closing_value(model_at(25), *some, Closure::PhTotal),
                    closing_value(model_at(25), *none, Closure::PhTotal), 1e-8)
            << t;
    }
}

}  // namespace
