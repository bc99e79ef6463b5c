// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// The linear program against the water that the same doses make by evaluate.hpp, which knows
// nothing of it.
#include "recipe/model.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "recipe/evaluate.hpp"
#include "unit/recipe_case.hpp"

namespace {

using namespace bw::recipe;
using bw::matter::Assay;
using bw::matter::constituent;
using bw::matter::Stated;
using bw::recipe_case::goal;
using testing::HasSubstr;

Supply supply(std::string name, std::string formula, std::optional<double> price = std::nullopt) {
    Supply out;
    out.material.name = std::move(name);
    out.material.formula = std::move(formula);
    out.material.assay = Assay{Stated::exactly(1), "", std::nullopt};
    out.material.impurities = {{"Cu", Stated::between(0, 1e-6), true, false}};
    out.material.price_per_kg = price;
    out.make_up = bw::matter::make_up(out.material).value();
    return out;
}

Target sample_target() {
    Target out;
    out.salinity = {35, 34, 36, 1, std::nullopt};
    out.constituents = {goal("Ca", 0.010, 0.009, 0.011, 2), goal("Mg", 0.053, 0.05, 0.06, 4),
                        goal("Na", std::nullopt, 0.4, 0.5, 3)};
    RatioGoal ratio;
    ratio.numerator = constituent("Mg");
    ratio.denominator = constituent("Ca");
    ratio.low = 4.8;
    ratio.high = 5.4;
    ratio.target = 5.1;
    ratio.priority = 4;
    out.ratios = {ratio};
    out.ceilings = {{constituent("Cu"), 1e-6, {}, 1}};
    out.ceilings[0].shown.unit = bw::unit::find_unit("ug/kg").value();
    out.ceilings[0].shown_per_mol_per_kg = 63.546e6;  // CIAAW 2021
    out.purified_water[constituent("Ca")] = 1e-4;
    out.purified_water[constituent("Cu")] = 1e-8;
    return out;
}

std::vector<Supply> sample_supplies() {
    return {supply("calcium chloride", "CaCl2.2H2O", 0.6),
            supply("magnesium chloride", "MgCl2.6H2O", 0.8), supply("sodium chloride", "NaCl")};
}

/// A point of the program: these doses, nominal size, no miss and no breach.
std::vector<double> point(const Model& m, const std::vector<double>& dose) {
    std::vector<double> x(static_cast<std::size_t>(m.lp.columns()), 0.0);
    for (std::size_t j = 0; j < dose.size(); ++j) {
        x[static_cast<std::size_t>(m.dose[j])] = dose[j] / m.dose_scale[j];
    }
    x[static_cast<std::size_t>(m.size)] = 1;
    return x;
}

// Every goal's row is (achieved - target) / target; Na, without a target, is measured from the
// middle of its band in units of its high. Round-off of rows whose terms are about 1: 1e-13.
TEST(Model, GoalRowsAreTheRelativeMissOfTheWater) {
    const Target target = sample_target();
    const auto supplies = sample_supplies();
    const Model m = build_model(target, supplies);
    const std::vector<double> dose = {0.0012, 0.0125, 0.0269};
    const auto x = point(m, dose);
    const MadeUpWater water = made_up_water(supplies, target.purified_water, dose);
    ASSERT_EQ(m.goal_row.size(), 3U);
    const double ca = water.mol_per_kg[constituent("Ca")];
    const double mg = water.mol_per_kg[constituent("Mg")];
    const double na = water.mol_per_kg[constituent("Na")];
    EXPECT_NEAR(m.lp.activity(m.goal_row[0], x), (ca - 0.010) / 0.010, 1e-13);
    EXPECT_NEAR(m.lp.activity(m.goal_row[1], x), (mg - 0.053) / 0.053, 1e-13);
    EXPECT_NEAR(m.lp.activity(m.goal_row[2], x), (na - 0.45) / 0.5, 1e-13);
}

TEST(Model, DosesComeBackThroughTheSizeOfTheBatch) {
    const Model m = build_model(sample_target(), sample_supplies());
    const std::vector<double> dose = {0.0012, 0.0125, 0.0269};
    auto x = point(m, dose);
    for (std::size_t j = 0; j < dose.size(); ++j) {
        EXPECT_NEAR(m.doses(x)[j], dose[j], 1e-16);
    }
    x[static_cast<std::size_t>(m.size)] = 1.02;  // the same kilograms in more water
    EXPECT_NEAR(m.doses(x)[0], 0.0012 / 1.02, 1e-16);
}

TEST(Model, DemandsAreNamedInTheReadersUnits) {
    std::vector<Supply> supplies = sample_supplies();
    supplies[0].material.most_kg_per_kg = 0.002;
    supplies[1].material.stock_kg = 90;
    Target target = sample_target();
    target.batch = Batch{1000, 0, std::nullopt, std::nullopt};
    const Model m = build_model(target, supplies);
    std::vector<std::string> what;
    for (const Model::Demand& demand : m.demands) {
        what.push_back(demand.what);
    }
    EXPECT_THAT(what, testing::UnorderedElementsAre(
                          "Ca 9 to 11 mmol/kg", "Mg 50 to 60 mmol/kg", "Na 400 to 500 mmol/kg",
                          "salinity 34 to 36 g/kg", "Mg/Ca 4.8 to 5.4 (by mole)",
                          HasSubstr("Cu at most 63.546 ug/kg"), "calcium chloride at most 2 g/kg",
                          testing::StartsWith("stock of magnesium chloride: 90")));
}

TEST(Model, PrioritiesAreServedInOrderAndOnlyWhereThereIsATarget) {
    const Model m = build_model(sample_target(), sample_supplies());
    std::vector<int> levels;
    for (const Model::Priority& p : m.priorities) {
        levels.push_back(p.level);
        EXPECT_GE(p.sum_row, 0);
    }
    // Salinity 1, Ca 2, Mg and the ratio 4; Na has only a band and no miss.
    EXPECT_EQ(levels, (std::vector<int>{1, 2, 4}));
    EXPECT_EQ(m.priorities[1].misses.size(), 2U);
    EXPECT_EQ(m.priorities[2].misses.size(), 4U);
}

TEST(Model, NumbersAreAboutOne) {
    const Model m = build_model(sample_target(), sample_supplies());
    for (const bw::opt::Entry& e : m.lp.entries) {
        EXPECT_LT(std::abs(e.value), 1e3);  // the simplex works with absolute tolerances
    }
    for (std::size_t j = 0; j < m.dose.size(); ++j) {
        EXPECT_GT(m.most_dose[j], 0);
        EXPECT_GT(m.dose_scale[j], 0);
    }
}

TEST(Model, UnpricedMaterialsCostAsMuchAsTheDearest) {
    const auto prices = prices_per_kg(sample_supplies());
    EXPECT_EQ(prices, (std::vector<double>{0.6, 0.8, 0.8}));
    EXPECT_EQ(prices_per_kg({supply("a", "NaCl"), supply("b", "KCl")}),
              (std::vector<double>{1, 1}));
}

TEST(BandText, SpeaksTheUnit) {
    EXPECT_EQ(band_text(0.44, 0.45, 1000, "mg/L"), "440 to 450 mg/L");
    EXPECT_EQ(band_text(std::nullopt, 3e-9, 1e9, "ug/L"), "at most 3 ug/L");
    EXPECT_EQ(band_text(0.0023, std::nullopt, 1000, "meq/kg"), "at least 2.3 meq/kg");
    EXPECT_EQ(band_text(4.9, 5.4, 1, ""), "4.9 to 5.4");
    bw::unit::TypedQuantity shown = bw::unit::parse_quantity("26 mg/L as H3BO3").value();
    EXPECT_EQ(unit_text(shown), "mg/L as H3BO3");
    shown.as.clear();
    EXPECT_EQ(unit_text(shown), "mg/L");
}

}  // namespace
