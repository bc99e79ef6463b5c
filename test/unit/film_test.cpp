// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "blend/film.hpp"

#include <array>
#include <set>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "matter/constituent.hpp"
#include "ref/dry_bag_tables.hpp"

namespace {

using namespace bw;
using blend::Film;
using blend::FilmModel;
using blend::PerFilmIon;

const FilmModel& model() {
    static const FilmModel kModel = FilmModel::at(unit::Celsius(25)).value();
    return kModel;
}

std::set<std::string> names(const Film& film) {
    std::set<std::string> out;
    for (const blend::FilmSolid& s : film.solids) {
        out.emplace(s.name);
    }
    return out;
}

// The film takes formulas of the table apart without looking back.
TEST(Film, EveryRowOfTheTableDissolves) {
    for (const auto& row : ref::film_solids()) {
        const auto formula = matter::parse_formula(row.formula);
        ASSERT_TRUE(formula) << row.formula;
        EXPECT_TRUE(matter::dissolve(*formula)) << row.formula;
        EXPECT_TRUE(model().find(row.formula)) << row.formula;
    }
}

TEST(Film, TheLastFilmNamesTheSolidsAtRest) {
    const auto simple = model().last({10, 5, 0, 15, 0, 0});
    ASSERT_TRUE(simple);
    EXPECT_EQ(names(*simple), (std::set<std::string>{"halite", "sylvite"}));
    const auto seawater = model().last({469, 10.2, 53, 546, 28.2, 0});
    ASSERT_TRUE(seawater);
    EXPECT_EQ(names(*seawater),
              (std::set<std::string>{"halite", "bischofite", "carnallite", "kieserite"}));
}

// Sodium chloride with magnesium sulfate and nothing else lies on the edge between two mixtures: it
// must not be taken to hold magnesium chloride, of which there is none.
TEST(Film, AMixtureOnAnEdgeKeepsToItsSolids) {
    const auto film = model().last({410, 0, 28, 410, 28, 0});
    ASSERT_TRUE(film);
    EXPECT_FALSE(names(*film).contains("bischofite"));
    EXPECT_GT(film->water_activity, 0.5);
}

// Two solids in one brine: shared() and last() search in different unknowns.
TEST(Film, BothSearchesFindTheSameBrine) {
    const std::array two{model().find("NaCl").value(), model().find("MgCl2.6H2O").value()};
    const auto shared = model().shared(two);
    const auto last = model().last({400, 0, 50, 500, 0, 0});
    ASSERT_TRUE(shared && last);
    EXPECT_NEAR(shared->water_activity, last->water_activity, 1e-8);
}

// A second salt can only lower the humidity over a brine.
TEST(Film, ASecondSaltLowersTheHumidity) {
    const auto alone = model().shared(std::array{model().find("NaCl").value()});
    ASSERT_TRUE(alone);
    for (const char* other : {"KCl", "Na2SO4", "NaHCO3", "MgSO4.7H2O", "MgCl2.6H2O"}) {
        const auto both =
            model().shared(std::array{model().find("NaCl").value(), model().find(other).value()});
        ASSERT_TRUE(both) << other;
        EXPECT_LT(both->water_activity, alone->water_activity) << other;
    }
}

TEST(Film, NothingDriesFromOneSortOfIon) { EXPECT_FALSE(model().last({1, 0, 0, 0, 0, 0})); }

TEST(Film, OutsideItsTemperaturesItSaysSo) {
    const auto cold = FilmModel::at(unit::Celsius(4));
    ASSERT_FALSE(cold);
    EXPECT_THAT(cold.error().text(), testing::HasSubstr("5 to 40 degC"));
    EXPECT_TRUE(FilmModel::at(unit::Celsius(5)));
    EXPECT_TRUE(FilmModel::at(unit::Celsius(40)));
}

}  // namespace
