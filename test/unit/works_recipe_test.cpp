// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Recipes from files, on the materials of the example works and on two pure salts. The expected
// masses are by hand: salinity 35 takes 36.4 g NaCl per kg of purified water, so 100 kg of blend
// make about 2850 kg of water.
#include <algorithm>
#include <cmath>
#include <numeric>
#include <random>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "io/material_file.hpp"
#include "io/target_file.hpp"
#include "recipe/conflict.hpp"
#include "recipe/solve.hpp"

namespace {

using namespace bw::recipe;
using testing::Each;
using testing::Field;
using testing::HasSubstr;
using testing::Ne;
using testing::Not;

constexpr const char* kHead = "format = \"brinewright/1\"\nkind = \"target\"\nname = \"case\"\n";

std::vector<Supply> supplies_of(const bw::Result<bw::io::Document>& document) {
    std::vector<Supply> out;
    const auto materials = bw::io::read_materials(document.value());
    for (const auto& placed : materials.value()) {
        out.push_back({placed.material, placed.make_up});
    }
    return sorted_by_label(out);
}

const std::vector<Supply>& works() {
    static const std::vector<Supply> kWorks = supplies_of(
        bw::io::read_document(std::string(BW_SOURCE_DIR) + "/examples/works/materials.toml"));
    return kWorks;
}

/// Sodium chloride for 1 EUR/kg and sodium bromide for 9, weighed to 1 g.
std::vector<Supply> two_salts(const std::string& of_bromide = "", const std::string& of_salt = "") {
    return supplies_of(bw::io::parse_document(
        "format = \"brinewright/1\"\nkind = \"materials\"\nname = \"two\"\n"
        "[[material]]\nname = \"salt\"\nformula = \"NaCl\"\nassay = \"100 %\"\n"
        "price = \"1 EUR/kg\"\n" +
            of_salt +
            "[[material]]\nname = \"bromide\"\nformula = \"NaBr\"\nassay = \"100 %\"\n"
            "price = \"9 EUR/kg\"\nstep = \"1 g\"\n" +
            of_bromide,
        "materials.toml"));
}

Target target_of(const std::string& body, const std::vector<Supply>& supplies,
                 const std::string& salinity = "35") {
    const std::string text = kHead + ("salinity = \"" + salinity + "\"\n") + body;
    Target out = bw::io::read_target(bw::io::parse_document(text, "target.toml").value()).value();
    add_unnamed_goals(out, supplies);
    return out;
}

Solution solved(const std::string& body, const std::vector<Supply>& supplies,
                const std::string& salinity = "35") {
    Solution out = solve(target_of(body, supplies, salinity), supplies).value();
    EXPECT_EQ(out.verdict, Verdict::Solved) << body;
    if (out.dose_kg_per_kg.size() != supplies.size()) {
        ADD_FAILURE() << "no recipe for\n" << body;
        out.dose_kg_per_kg.assign(supplies.size(), 0);
    }
    return out;
}

double kilograms(const Solution& s, std::size_t j) {
    return s.dose_kg_per_kg[j] * s.batch_finished_water_kg.value_or(0);
}

std::string bromide(const std::string& low, const std::string& high) {
    return "[[constituent]]\nsymbol = \"Br\"\nlow = \"" + low + "\"\nhigh = \"" + high + "\"\n";
}

constexpr const char* kNatural = "rest = \"natural\"\n";
constexpr std::size_t kBromide = 0, kSalt = 1;  // sorted by name

// No material can be dosed at 30 g/kg: sodium chloride, the most of all, takes 28.
TEST(WorksRecipe, ASmallestDoseThatNoMaterialReachesIsNotIgnored) {
    const Solution s =
        solve(target_of(std::string(kNatural) + "[limits]\nsmallest_dose = \"30 g/kg\"\n", works()),
              works())
            .value();
    EXPECT_EQ(s.verdict, Verdict::Infeasible);
    EXPECT_TRUE(s.dose_kg_per_kg.empty());
}

// Whatever a batch without swing can be, one with a swing can be too.
TEST(WorksSwing, AWiderSwingRemovesNoRecipe) {
    const std::string ceiling =
        "aim = \"band\"\n" + std::string(kNatural) + bromide("1 mg/kg", "200 mg/kg") +
        "[[ceiling]]\nsymbol = \"Br\"\nhigh = \"11 mg/kg\"\n[batch]\nblend = \"1000 kg\"\n";
    const std::string plain = bromide("1 mg/kg", "100 mg/kg") + "[batch]\nblend = \"100 kg\"\n";
    for (const char* swing : {"", "blend_swing = \"1 %\"\n", "blend_swing = \"10 %\"\n"}) {
        solved(ceiling + swing, works());
        solved(plain + swing, two_salts("most = \"5 mg/kg\"\n"));
    }
}

// 1 mg/kg of Br is 1.29 mg/kg of NaBr, 3.7 g of the batch: 4 g are the cheapest.
TEST(WorksSwing, TheRecipeIsTheCheapest) {
    const Solution s = solved(
        bromide("1 mg/kg", "100 mg/kg") + "[batch]\nblend = \"100 kg\"\nblend_swing = \"10 %\"\n",
        two_salts());
    EXPECT_NEAR(kilograms(s, kBromide), 0.004, 1e-9);
    EXPECT_NEAR(kilograms(s, kSalt), 99.996, 0.1) << "to a thousandth, for the cost";
}

// Nothing is in packages: the mass stays what was asked, to the thousandth left to the cost.
TEST(WorksSwing, TheMassMovesOnlyForLimitsAndTargets) {
    for (const char* aim : {"", "aim = \"band\"\n"}) {
        std::vector<Supply> loose = works();
        for (Supply& supply : loose) {
            supply.material.whole_packages = false;
        }
        const Solution s = solved(std::string(aim) + kNatural +
                                      "[batch]\nblend = \"1000 kg\"\nblend_swing = \"10 %\"\n"
                                      "smallest_weighing = \"5 g\"\n",
                                  loose);
        EXPECT_NEAR(s.blend_kg.value_or(0), 1000, 1.1) << aim;
    }
}

TEST(WorksSwing, TheSmallestWeighingIsThatOfTheBatchAsItIs) {
    for (const char* swing : {"", "blend_swing = \"10 %\"\n"}) {
        const Solution s =
            solved(bromide("0.1 mg/kg", "8 mg/kg") +
                       "[batch]\nblend = \"100 kg\"\nsmallest_weighing = \"20 g\"\n" + swing,
                   two_salts());
        EXPECT_NEAR(kilograms(s, kBromide), 0.020, 1e-9) << "no less, and no step more";
        // 20 g of NaBr are 7.0 mg/kg: 7.2 leaves room for them, but not for 21 g.
        const Solution tight =
            solved(bromide("0.1 mg/kg", "8 mg/kg") +
                       "[batch]\nblend = \"100 kg\"\nsmallest_weighing = \"20 g\"\n" + swing,
                   two_salts("most = \"7.2 mg/kg\"\n"));
        EXPECT_NEAR(kilograms(tight, kBromide), 0.020, 1e-9);
    }
}

TEST(WorksSwing, NoWeighingIsBelowTheSmallest) {
    for (const auto& [batch, least] :
         {std::pair{"blend = \"1000 kg\"\nblend_swing = \"10 %\"\nweighing_step = \"100 g\"\n"
                    "smallest_weighing = \"5 g\"\n",
                    0.005},
          std::pair{"blend = \"3 t\"\nblend_swing = \"2 %\"\nsmallest_weighing = \"50 g\"\n",
                    0.05}}) {
        const Solution s = solved(std::string(kNatural) +
                                      "[[constituent]]\nsymbol = \"I\"\ntarget = \"natural\"\n"
                                      "[batch]\n" +
                                      batch,
                                  works());
        for (std::size_t j = 0; j < works().size(); ++j) {
            EXPECT_TRUE(s.dose_kg_per_kg[j] == 0 || kilograms(s, j) >= least * (1 - kHardTolerance))
                << works()[j].label() << ' ' << kilograms(s, j);
        }
    }
}

// Sodium chloride and iodine first, on a scale of 100 g: packages of 25 kg and the steps leave room
// for a batch that nobody would call other than 3 t.
TEST(WorksRecipe, ABatchWithoutSwingWeighsWhatWasAsked) {
    std::string body = "salinity_low = \"32.934\"\nsalinity_high = \"33.066\"\n";
    body += kNatural;
    body +=
        "[[constituent]]\nsymbol = \"I\"\ntarget = \"natural\"\npriority = 1\n"
        "[batch]\nblend = \"3 t\"\nweighing_step = \"100 g\"\nsmallest_weighing = \"5 g\"\n";
    const Solution s = solved(body, works(), "33");
    EXPECT_NEAR(s.blend_kg.value_or(0), 3000, 3000 * 6e-4);
}

// 990 kg cannot be made of packages of 25 kg; 1000 kg can, and the salinity gives way.
TEST(WorksRecipe, ABatchThatMissesItsMassSaysSo) {
    const auto supplies = two_salts("", "package = \"25 kg\"\nwhole_packages = true\n");
    const auto body = [](const char* blend) {
        return "salinity_low = \"34\"\nsalinity_high = \"36\"\n" + bromide("0 mg/kg", "8 mg/kg") +
               "[batch]\nblend = \"" + blend + "\"\n";
    };
    const auto says = [](const Solution& s) {
        return std::any_of(s.notices.begin(), s.notices.end(),
                           [](const auto& n) { return n.code == "batch_mass"; });
    };
    const Solution off = solved(body("990 kg"), supplies);
    EXPECT_NEAR(kilograms(off, kSalt), 1000, 1e-6);
    EXPECT_TRUE(says(off));
    EXPECT_FALSE(says(solved(body("1000 kg"), supplies)));
}

std::string random_target(std::mt19937& draw) {
    const auto pick = [&](int n) {
        return static_cast<int>(draw() % static_cast<std::uint32_t>(n));
    };
    std::string out = pick(4) == 0 ? "aim = \"band\"\n" : "";
    out += kNatural;
    for (const char* symbol : {"Ca", "Mg", "alkalinity", "K", "Li", "I", "Sr"}) {
        if (pick(2) == 0) {
            out += fmt::format(
                "[[constituent]]\nsymbol = \"{}\"\ntarget = \"natural\"\n"
                "priority = {}\n",
                symbol, 1 + pick(7));
        }
    }
    return out;
}

// What prints as 0.00000 g/kg is no part of a recipe; and the proof that each step is the best must
// not fail on round-off.
TEST(WorksRecipe, HasNoGhostPartsAndIsProvenBest) {
    std::mt19937 draw(20261125);
    for (int round = 0; round <= 30; ++round) {
        const std::string body = round == 0 ? kNatural : random_target(draw);
        const Target target = target_of(body, works());
        const Solution s = solve(target, works()).value();
        if (s.verdict != Verdict::Solved) {
            continue;
        }
        for (std::size_t j = 0; j < works().size(); ++j) {
            EXPECT_TRUE(s.dose_kg_per_kg[j] == 0 || s.dose_kg_per_kg[j] > 5e-9)
                << works()[j].label() << ' ' << s.dose_kg_per_kg[j] << '\n'
                << body;
        }
        EXPECT_THAT(s.notices, Each(Field(&bw::base::Notice::code, Ne("certificate")))) << body;
    }
}

// A ratio without low and high is a wish, however far off.
TEST(WorksRecipe, AFarTargetOfARatioIsNoLimit) {
    for (const char* ratio : {"1e9", "1e5", "1e-9"}) {
        solved(std::string(kNatural) + "[[ratio]]\nof = \"Mg/Ca\"\ntarget = " + ratio + "\n",
               works());
    }
}

std::string sentences(const std::string& body, const std::vector<Supply>& supplies) {
    const Target target = target_of(body, supplies);
    std::string out;
    const auto conflict = explain_conflict(target, supplies);
    for (const std::string& sentence : conflict.value().sentences) {
        out += sentence + '\n';
    }
    return out;
}

/// The number after `words`.
std::string number_after(const std::string& text, const std::string& words) {
    const auto at = text.find(words);
    EXPECT_NE(at, std::string::npos) << words << " in\n" << text;
    if (at == std::string::npos) {
        return "1";
    }
    const auto from = at + words.size();
    return text.substr(from, text.find(' ', from) - from);
}

// Sodium from NaCl and chloride tied one to one: each piece of advice, followed to the letter, must
// free the target. Rounded to the nearest it would fail half of the time.
TEST(WorksConflict, AdviceFollowedToTheLetterFreesTheTarget) {
    const auto supplies = two_salts();
    for (int k = 0; k < 12; ++k) {
        const double na = 10500 + 7.31 * k;
        const double cl = 17000 + 11.73 * k;
        const auto body = [&](const std::string& na_high, const std::string& cl_low) {
            return fmt::format(
                "salinity_low = \"3 g/kg\"\nsalinity_high = \"42 g/kg\"\n"
                "[[constituent]]\nsymbol = \"Na\"\ntarget = \"{0} mg/kg\"\nlow = \"{0} mg/kg\"\n"
                "high = \"{1} mg/kg\"\n"
                "[[constituent]]\nsymbol = \"Cl\"\ntarget = \"{2} mg/kg\"\nlow = \"{3} mg/kg\"\n"
                "high = \"{2} mg/kg\"\n"
                "[[constituent]]\nsymbol = \"Br\"\nhigh = \"0 mg/kg\"\n",
                na, na_high, cl, cl_low);
        };
        // 10500 mg of sodium bring 16192 of chloride: too little.
        const std::string own = fmt::format("{}", na);
        const std::string own_cl = fmt::format("{}", cl);
        const std::string text = sentences(body(own, own_cl), supplies);
        solved(body(number_after(text, "Na needs a band that reaches up to "), own_cl), supplies);
        solved(body(own, number_after(text, "Cl needs a band that reaches down to ")), supplies);
    }
}

TEST(WorksConflict, AdviceOnCeilingsAndSalinityIsRoundedOutwardToo) {
    const auto supplies = two_salts();
    for (int k = 0; k < 12; ++k) {
        const double low = 20 + 0.713 * k;
        const auto body = [&](const std::string& ceiling, const std::string& salinity_high) {
            return fmt::format(
                "salinity_low = \"30 g/kg\"\nsalinity_high = \"{2} g/kg\"\n"
                "[[constituent]]\nsymbol = \"Cl\"\nlow = \"{3} mg/kg\"\nhigh = \"30000 mg/kg\"\n"
                "[[constituent]]\nsymbol = \"Br\"\nlow = \"{0} mg/kg\"\nhigh = \"100 mg/kg\"\n"
                "[[ceiling]]\nsymbol = \"Br\"\nhigh = \"{1} mg/kg\"\n",
                low, ceiling, salinity_high, 21500 + 3.17 * k);
        };
        const std::string ceiling =
            number_after(sentences(body("10", "40"), supplies), "Br needs a ceiling of ");
        solved(body(ceiling, "40"), supplies);
        const std::string salinity = number_after(sentences(body("90", "35.2"), supplies),
                                                  "the salinity needs a band that reaches up to ");
        solved(body("90", salinity), supplies);
    }
}

TEST(WorksConflict, NamesTheLeastOfAMaterial) {
    const auto supplies = two_salts("least = \"30 g/kg\"\n");
    const std::string text = sentences(bromide("1 mg/kg", "100 mg/kg"), supplies);
    EXPECT_THAT(text, HasSubstr("bromide at least 30 g/kg"));
    EXPECT_THAT(text, HasSubstr("bromide needs a least of 0.1287 g/kg")) << "128.77 mg/kg, down";
}

TEST(WorksConflict, NamesTheMostOfAMaterial) {
    const auto supplies = two_salts("", "most = \"20 g/kg\"\n");
    const std::string text = sentences(bromide("1 mg/kg", "100 mg/kg"), supplies);
    EXPECT_THAT(text, HasSubstr("salt at most 20 g/kg"));
    EXPECT_THAT(text, HasSubstr("salt needs a most of "));
}

}  // namespace
