// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// What falls out of a water: what must be conserved, what must hold between amounts and saturation,
// and a search by another way. Published solubilities: test/check/equilibrium.toml.
#include "brine/solid_equilibrium.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <random>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "figure.hpp"
#include "matter/formula.hpp"
#include "unit/brine_water.hpp"

namespace {

using namespace bw;
using namespace bw::brine;
using bw::test::raised_seawater;
using testing::HasSubstr;
using Keys = std::vector<std::string_view>;

constexpr double kAir = 4.2e-4;

const WaterModel& model_at(double celsius) {
    static std::map<double, WaterModel> made;
    auto found = made.find(celsius);
    if (found == made.end()) {
        found = made.emplace(celsius, *WaterModel::at(unit::Celsius(celsius))).first;
    }
    return found->second;
}

double omega_of(const WaterState& state, const ref::MineralRow* solid) {
    const auto found = std::find_if(state.saturation.begin(), state.saturation.end(),
                                    [&](const SaturationState& s) { return s.solid == solid; });
    return found->omega;
}

double amount_of(const SolidEquilibrium& found, std::string_view key) {
    const auto p = std::find_if(found.precipitates.begin(), found.precipitates.end(),
                                [&](const Precipitate& q) { return q.solid->key == key; });
    return p->mol_per_kg;
}

/// What a water holds by its own statement, alkalinity and carbon as solved.
matter::Amounts held(const WaterInput& water, const WaterState& state) {
    matter::Amounts out = water.mol_per_kg;
    out[matter::constituent("alkalinity")] = state.alkalinity_eq_per_kg;
    out[matter::constituent("carbon")] = state.carbon_mol_per_kg;
    return out;
}

struct Case {
    double celsius, times, raised;
    std::optional<double> fugacity;
    Keys solids;
};

std::string name_of(const Case& c) {
    std::string out = testing::PrintToString(c.celsius) + " degC, " +
                      testing::PrintToString(c.times) + " times, raised " +
                      testing::PrintToString(c.raised) + (c.fugacity ? ", air:" : ", closed:");
    for (const std::string_view key : c.solids) {
        out += ' ' + std::string(key);
    }
    return out;
}

std::vector<Case> cases() {
    const std::vector<Keys> sets{
        {"aragonite"},
        {"gypsum", "celestite"},
        {"calcite", "aragonite"},
        {"gypsum", "aragonite"},
        {"gypsum", "celestite", "aragonite", "halite"},
        {"aragonite", "brucite", "strontianite", "nesquehonite"},
        {"gypsum", "anhydrite", "halite", "celestite"},
        {"halite", "sylvite", "epsomite", "gypsum", "carnallite", "kieserite"},
        {"calcite", "dolomite", "magnesite", "huntite"},
        {"boric_acid_solid", "borax", "fluorite", "syngenite", "polyhalite"},
    };
    std::vector<Case> out;
    for (const double celsius : {5.0, 25.0, 35.0}) {
        for (const double times : {0.3, 1.0, 5.0, 10.0, 11.0}) {
            for (const double raised : {1.0, 1.6}) {
                for (const Keys& solids : sets) {
                    out.push_back({celsius, times, raised, std::nullopt, solids});
                    out.push_back({celsius, times, raised, kAir, solids});
                }
            }
        }
    }
    return out;
}

TEST(SolidEquilibrium, SolidsPresentAreSaturatedAndNoneIsAbove) {
    int some = 0;
    double worst = 0;
    for (const Case& c : cases()) {
        const auto found = equilibrate(model_at(c.celsius),
                                       raised_seawater(c.times, c.raised, unit::Celsius(c.celsius)),
                                       c.solids, c.fugacity);
        ASSERT_TRUE(found) << name_of(c) << ' ' << found.error().message;
        ASSERT_EQ(found->precipitates.size(), c.solids.size());
        for (const Precipitate& p : found->precipitates) {
            const double omega = omega_of(found->state, p.solid);
            EXPECT_GE(p.mol_per_kg, 0) << name_of(c) << ' ' << p.solid->key;
            EXPECT_LE(omega, 1 + 1e-8) << name_of(c) << ' ' << p.solid->key;
            if (p.mol_per_kg > 0) {
                EXPECT_NEAR(omega, 1, 1e-8) << name_of(c) << ' ' << p.solid->key;
                worst = std::max(worst, std::abs(omega - 1));
                ++some;
            }
        }
        if (c.fugacity) {
            EXPECT_NEAR(found->state.fugacity_co2_atm, *c.fugacity, 1e-10 * *c.fugacity);
        }
    }
    EXPECT_GT(some, 500);
    RecordProperty("worst", testing::PrintToString(worst));
}

TEST(SolidEquilibrium, AnyUpToEightSolidsSettleInAnyWater) {
    std::mt19937_64 random(11);
    std::uniform_real_distribution<double> uniform(0, 1);
    Keys all;
    for (const ref::MineralRow& row : ref::minerals()) {
        all.push_back(row.key);
    }
    constexpr int kWaters = 400;
    for (int k = 0; k < kWaters; ++k) {
        WaterInput water =
            raised_seawater(std::pow(10.0, uniform(random) - 0.3), 1 + uniform(random));
        for (const char* symbol : {"Ca", "Mg", "SO4", "Sr", "K", "B", "F"}) {
            water.mol_per_kg[matter::constituent(symbol)] *= std::pow(4.0, 2 * uniform(random) - 1);
        }
        for (auto& statement : water.closing) {
            statement.value *= 0.5 + 2 * uniform(random);
        }
        std::shuffle(all.begin(), all.end(), random);
        const Keys keys(all.begin(), all.begin() + 1 + k % 8);
        const std::optional<double> fugacity =
            k % 2 == 0 ? std::optional(kAir * std::pow(10.0, 2 * uniform(random) - 1))
                       : std::nullopt;
        const auto found = equilibrate(model_at(25), water, keys, fugacity);
        ASSERT_TRUE(found) << k << ' ' << found.error().message;
        for (const Precipitate& p : found->precipitates) {
            const double omega = omega_of(found->state, p.solid);
            EXPECT_LE(omega, 1 + 1e-8) << k << ' ' << p.solid->key;
            if (p.mol_per_kg > 0) {
                EXPECT_NEAR(omega, 1, 1e-8) << k << ' ' << p.solid->key;
            }
        }
    }
}

TEST(SolidEquilibrium, NothingIsLostOrMade) {
    constexpr double kKept = 1e-12;
    double worst = 0;
    for (const Case& c : cases()) {
        const WaterInput water = raised_seawater(c.times, c.raised, unit::Celsius(c.celsius));
        const auto before = model_at(c.celsius).state(water);
        const auto found = equilibrate(model_at(c.celsius), water, c.solids, c.fugacity);
        ASSERT_TRUE(before && found) << name_of(c);
        const matter::Amounts at_start = held(water, *before);
        matter::Amounts at_end = held(found->water, found->state);
        at_end.scale(found->solution_kg_per_kg);
        double mass = found->solution_kg_per_kg;
        for (const Precipitate& p : found->precipitates) {
            const auto formula = matter::parse_formula(p.solid->formula);
            ASSERT_TRUE(formula) << p.solid->formula;
            const auto solid = matter::dissolve(*formula);
            ASSERT_TRUE(solid) << p.solid->formula;
            at_end.add(solid->per_mol, p.mol_per_kg);
            EXPECT_NEAR(p.g_per_kg, p.mol_per_kg * solid->molar_mass_g, 1e-12 * p.g_per_kg);
            mass += p.g_per_kg / 1000;
        }
        const matter::Constituent carbon = matter::constituent("carbon");
        double all_charges = 0;
        for (std::size_t i = 0; i < matter::constituent_count(); ++i) {
            const matter::Constituent one(i);
            all_charges += std::abs(one.charge() * at_start[one]);
            if (c.fugacity && one == carbon) {
                continue;
            }
            EXPECT_NEAR(at_end[one], at_start[one], kKept * std::abs(at_start[one]))
                << name_of(c) << ' ' << one.symbol();
            if (at_start[one] > 0) {
                worst = std::max(worst, std::abs(at_end[one] / at_start[one] - 1));
            }
        }
        EXPECT_NEAR(at_end.charge(), at_start.charge(), kKept * all_charges) << name_of(c);
        worst = std::max(worst, std::abs(at_end.charge() - at_start.charge()) / all_charges);
        const double gained = c.fugacity ? at_end[carbon] - at_start[carbon] : 0;
        constexpr double kCo2 = 44.0095e-3;  // kg/mol
        EXPECT_NEAR(mass, 1 + gained * kCo2, 1e-12 + 1e-3 * std::abs(gained) * kCo2) << name_of(c);
    }
    RecordProperty("worst", testing::PrintToString(worst));
    bw::test::record(
        {"Waters",
         fmt::format("each constituent and the charge conserved where solids fall out, {} waters; "
                     "carbon but where it comes from the air",
                     cases().size()),
         "to 1e-12", bw::test::share_used(worst, kKept), worst <= kKept});
}

TEST(SolidEquilibrium, AsHalvingTheAmountFinds) {
    // Aragonite taken out by hand until its Omega is 1: closed, in raised seawater and in the tenth
    // of its water, where most of the alkalinity goes.
    const auto& model = model_at(25);
    for (const double times : {1.0, 5.0, 10.0}) {
        const WaterInput water = raised_seawater(times, 1.6);
        const matter::Amounts per_mol = matter::dissolve(*matter::parse_formula("CaCO3"))->per_mol;
        const double kg_per_mol =
            matter::dissolve(*matter::parse_formula("CaCO3"))->molar_mass_g / 1000;
        const Keys aragonite{"aragonite"};
        const auto found = equilibrate(model, water, aragonite);
        ASSERT_TRUE(found) << times;
        double low = 0;
        double high = water.closing[0].value / 2;
        constexpr int kHalvings = 50;
        for (int k = 0; k < kHalvings; ++k) {
            const double taken = 0.5 * (low + high);
            WaterInput left = water;
            left.mol_per_kg.add(per_mol, -taken);
            left.mol_per_kg[matter::constituent("alkalinity")] = 0;
            left.mol_per_kg[matter::constituent("carbon")] = 0;
            left.closing[0].value -= 2 * taken;
            left.closing[1].value -= taken;
            const double mass = 1 - taken * kg_per_mol;
            left.mol_per_kg.scale(1 / mass);
            left.closing[0].value /= mass;
            left.closing[1].value /= mass;
            const auto state = model.state(left);
            ASSERT_TRUE(state);
            (omega_of(*state, found->precipitates[0].solid) > 1 ? low : high) = taken;
        }
        EXPECT_NEAR(amount_of(*found, "aragonite"), low, 1e-9 * low) << times;
    }
}

TEST(SolidEquilibrium, OfSolidsOfTheSameIonsTheLessSolubleStays) {
    const WaterInput water = raised_seawater(1, 1.6);
    const Keys both{"aragonite", "calcite"};
    const Keys calcite{"calcite"};
    const auto found = equilibrate(model_at(25), water, both);
    const auto alone = equilibrate(model_at(25), water, calcite);
    ASSERT_TRUE(found && alone);
    EXPECT_EQ(amount_of(*found, "aragonite"), 0);
    EXPECT_GT(amount_of(*alone, "calcite"), 1e-4);
    EXPECT_NEAR(amount_of(*found, "calcite"), amount_of(*alone, "calcite"), 1e-12);

    const Keys sulfates{"anhydrite", "gypsum"};
    const auto cold = equilibrate(model_at(25), raised_seawater(5), sulfates);
    ASSERT_TRUE(cold);
    EXPECT_EQ(amount_of(*cold, "anhydrite"), 0);
    EXPECT_GT(amount_of(*cold, "gypsum"), 0.01);

    // Dolomite is calcite with magnesite: of the three at most two.
    const Keys family{"calcite", "magnesite", "dolomite"};
    const auto carbonates = equilibrate(model_at(25), water, family);
    ASSERT_TRUE(carbonates);
    EXPECT_LE(std::count_if(carbonates->precipitates.begin(), carbonates->precipitates.end(),
                            [](const Precipitate& p) { return p.mol_per_kg > 0; }),
              2);
    EXPECT_GT(amount_of(*carbonates, "dolomite"), 0);
}

TEST(SolidEquilibrium, SolidsThatShareAnIonBothStay) {
    const Keys both{"gypsum", "celestite"};
    const Keys turned{"celestite", "gypsum"};
    const auto found = equilibrate(model_at(25), raised_seawater(6), both);
    const auto other = equilibrate(model_at(25), raised_seawater(6), turned);
    ASSERT_TRUE(found && other);
    EXPECT_GT(amount_of(*found, "gypsum"), 0.01);
    EXPECT_GT(amount_of(*found, "celestite"), 1e-5);
    EXPECT_NEAR(amount_of(*other, "gypsum"), amount_of(*found, "gypsum"), 1e-10);
    EXPECT_NEAR(amount_of(*other, "celestite"), amount_of(*found, "celestite"), 1e-12);
    EXPECT_GT(amount_of(*found, "celestite"), 0);
}

TEST(SolidEquilibrium, WaterAtEquilibriumStaysAsItIs) {
    const Keys solids{"gypsum", "celestite", "halite"};
    const WaterInput water = raised_seawater(1);
    const auto before = model_at(25).state(water);
    const auto found = equilibrate(model_at(25), water, solids);
    ASSERT_TRUE(before && found);
    EXPECT_EQ(found->solution_kg_per_kg, 1);
    for (const Precipitate& p : found->precipitates) {
        EXPECT_EQ(p.mol_per_kg, 0) << p.solid->key;
    }
    for (std::size_t i = 0; i < matter::constituent_count(); ++i) {
        const matter::Constituent c(i);
        if (!c.is_alkalinity() && c.symbol() != "carbon") {
            EXPECT_NEAR(found->water.mol_per_kg[c], water.mol_per_kg[c],
                        1e-15 * water.mol_per_kg[c]);
        }
    }
    EXPECT_NEAR(found->state.ph_total, before->ph_total, 1e-11);
    EXPECT_NEAR(found->state.carbon_mol_per_kg, before->carbon_mol_per_kg, 1e-15);

    // Whatever fell out, nothing more falls out of what is left.
    const Keys many{"gypsum", "aragonite", "celestite", "halite"};
    const auto once = equilibrate(model_at(25), raised_seawater(11, 1.6), many);
    ASSERT_TRUE(once);
    const auto twice = equilibrate(model_at(25), once->water, many);
    ASSERT_TRUE(twice);
    for (const Precipitate& p : twice->precipitates) {
        EXPECT_LT(p.mol_per_kg, 1e-9 * (amount_of(*once, p.solid->key) + 1e-3)) << p.solid->key;
    }
}

TEST(SolidEquilibrium, WithoutSolidsTheWaterMeetsTheAir) {
    // Closed by alkalinity and the air's CO2, the same state.
    WaterInput water = raised_seawater(1, 1.3);
    const auto found = equilibrate(model_at(25), water, {}, kAir);
    water.closing[1] = {Closure::Fugacity, kAir};
    const auto state = model_at(25).state(water);
    ASSERT_TRUE(found && state);
    // Per kg of a solution that has lost CO2: as many parts in alkalinity and pH as it lost.
    EXPECT_NEAR(found->state.ph_total, state->ph_total, 1e-4);
    EXPECT_NEAR(found->state.fugacity_co2_atm, kAir, 1e-14);
    const double gained = found->state.carbon_mol_per_kg * found->solution_kg_per_kg -
                          raised_seawater(1, 1.3).closing[1].value;
    EXPECT_GT(gained, 0);
    EXPECT_NEAR(found->solution_kg_per_kg, 1 + 44.0e-3 * gained, 1e-4 * gained);
}

TEST(SolidEquilibrium, SolidsWhoseIonsAreAbsentDoNotForm) {
    WaterInput water = raised_seawater(1, 1.6);
    for (const char* absent : {"Sr", "F", "PO4"}) {
        water.mol_per_kg[matter::constituent(absent)] = 0;
    }
    const Keys solids{"celestite", "strontianite", "fluorite", "hydroxyapatite", "aragonite"};
    const auto found = equilibrate(model_at(25), water, solids);
    ASSERT_TRUE(found);
    for (const Precipitate& p : found->precipitates) {
        EXPECT_EQ(p.mol_per_kg > 0, p.solid->key == "aragonite") << p.solid->key;
    }
}

TEST(SolidEquilibrium, RefusesWhatItDoesNotKnow) {
    const Keys unknown{"gypsum", "kryptonite"};
    const auto wrong = equilibrate(model_at(25), raised_seawater(1), unknown);
    ASSERT_FALSE(wrong);
    EXPECT_EQ(wrong.error().code, ProblemCode::UnknownName);
    EXPECT_THAT(wrong.error().message, HasSubstr("'kryptonite'"));

    const Keys nine(9, "gypsum");
    const auto many = equilibrate(model_at(25), raised_seawater(1), nine);
    ASSERT_FALSE(many);
    EXPECT_EQ(many.error().code, ProblemCode::OutOfRange);
    EXPECT_THAT(many.error().message, HasSubstr("8 solids"));

    const Keys gypsum{"gypsum"};
    const auto strong = equilibrate(model_at(25), raised_seawater(15), gypsum);
    ASSERT_FALSE(strong);
    EXPECT_EQ(strong.error().code, ProblemCode::OutOfRange);

    // Named twice is as named once.
    const Keys twice{"gypsum", "gypsum"};
    const auto once = equilibrate(model_at(25), raised_seawater(6), gypsum);
    const auto doubled = equilibrate(model_at(25), raised_seawater(6), twice);
    ASSERT_TRUE(once && doubled);
    EXPECT_NEAR(doubled->precipitates[0].mol_per_kg + doubled->precipitates[1].mol_per_kg,
                once->precipitates[0].mol_per_kg, 1e-12);
}

}  // namespace
