// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// The runner itself: a broken check must fail, never pass and never be left out.
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <limits>
#include <sstream>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "check/case_file.hpp"
#include "check/judge.hpp"
#include "check/report.hpp"

namespace bw::check {
namespace {

using testing::AnyOf;
using testing::HasSubstr;

const std::string kHead = "group = \"self\"\n[[case]]\nid = \"one\"\n";
const std::string kProvenance =
    "source = \"CIAAW\"\nat = \"table\"\nseen = \"read\"\nwhy = \"printed to two decimals\"\n";
const std::string kSalt =
    "operation = \"formula_weight\"\ngiven = { formula = \"NaCl\", weights = 2021 }\n";
const std::string kTolerance = "tolerance = { abs = 0.005 }\n";

/// The judgement on the only case, or the faults of the file.
std::string failure_of(const std::string& text) {
    const CaseFile file = read_cases(text, "self.toml");
    std::string out;
    for (const std::string& fault : file.faults) {
        out += fault + "\n";
    }
    for (const Case& c : file.cases) {
        const Judgement judgement = judge(c);
        EXPECT_EQ(judgement.holds(), judgement.text().empty());
        out += judgement.text();
    }
    return out;
}

std::string with_expectation(const std::string& expectation) {
    return kHead + kProvenance + kSalt + kTolerance + expectation;
}

TEST(Runner, GoodCaseHolds) {
    EXPECT_EQ(failure_of(with_expectation("expect = { g_per_mol = 58.44 }\n")), "");
}

TEST(Runner, WrongValueFails) {
    EXPECT_THAT(failure_of(with_expectation("expect = { g_per_mol = 58.46 }\n")),
                HasSubstr("expected 58.46"));
    EXPECT_THAT(failure_of(with_expectation("expect = { g_per_mol = 58.4452 }\n")),
                HasSubstr("difference"));
}

TEST(Runner, EmptyReferenceFails) {
    for (const std::string empty :
         {"", "expect = {}\n", "expect = { g_per_mol = \"\" }\n", "expect = { g_per_mol = {} }\n",
          "expect = { g_per_mol = [] }\n", "expect = { verdict = [\"\"] }\n",
          "expect = { g_per_mol = { abs = 1 } }\n", "expect = { g_per_mol = true }\n",
          "expect_problem = \"\"\n"}) {
        EXPECT_NE(failure_of(with_expectation(empty)), "") << empty;
    }
}

TEST(Runner, ReferenceThatIsNotFiniteFails) {
    for (const std::string bad :
         {"nan", "inf", "-inf", "1e999", "\"nan\"", "{ value = nan }", "{ value = \"nan\" }"}) {
        EXPECT_NE(failure_of(with_expectation("expect = { g_per_mol = " + bad + " }\n")), "")
            << bad;
    }
}

TEST(Runner, FoundValueThatIsNotFiniteFails) {
    Case c = read_cases(with_expectation("expect = { g_per_mol = 58.44 }\n"), "self.toml").cases[0];
    c.numbers[0].value = std::nan("");
    EXPECT_FALSE(judge(c).holds());
    c.numbers[0].value = std::numeric_limits<double>::infinity();
    EXPECT_FALSE(judge(c).holds());
}

TEST(Runner, UnknownOperationFails) {
    const std::string operation = "operation = \"guess\"\n";
    EXPECT_THAT(failure_of(kHead + kProvenance + operation + kTolerance + "expect = { x = 1 }\n"),
                HasSubstr("there is no operation 'guess'"));
    EXPECT_THAT(failure_of(kHead + kProvenance + operation + "expect_problem = \"unknown_name\"\n"),
                HasSubstr("there is no operation"));
}

TEST(Runner, QuantityThatTheOperationDoesNotFindFails) {
    EXPECT_THAT(failure_of(with_expectation("expect = { gram_per_mol = 58.44 }\n")),
                HasSubstr("finds no number"));
    EXPECT_THAT(failure_of(with_expectation("expect = { verdict = \"solved\" }\n")),
                HasSubstr("says no verdict"));
}

TEST(Runner, MissingProvenanceFails) {
    for (const std::string missing : {"source", "at", "seen", "why"}) {
        std::string provenance;
        std::istringstream lines(kProvenance);
        for (std::string line; std::getline(lines, line);) {
            provenance += line.starts_with(missing) ? "" : line + "\n";
        }
        EXPECT_THAT(failure_of(kHead + provenance + kSalt + kTolerance +
                               "expect = { g_per_mol = 58.44 }\n"),
                    HasSubstr(missing + " is missing"));
    }
}

TEST(Runner, MissingOrUselessToleranceFails) {
    const std::string expect = "expect = { g_per_mol = 58.44 }\n";
    EXPECT_THAT(failure_of(kHead + kProvenance + kSalt + expect), HasSubstr("no tolerance"));
    for (const std::string bad :
         {"{}", "{ abs = 0 }", "{ abs = -1 }", "{ rel = -1, abs = 2 }", "{ relative = 1 }", "1"}) {
        EXPECT_NE(failure_of(kHead + kProvenance + kSalt + "tolerance = " + bad + "\n" + expect),
                  "")
            << bad;
    }
}

TEST(Runner, MisspeltKeysFail) {
    EXPECT_THAT(failure_of(with_expectation("expects = { g_per_mol = 58.44 }\n")),
                HasSubstr("did you mean expect"));
    EXPECT_THAT(failure_of("groups = \"self\"\n"), HasSubstr("groups"));
    EXPECT_NE(failure_of(kHead + kProvenance + kTolerance +
                         "operation = \"formula_weight\"\n"
                         "given = { formulas = \"NaCl\", weights = 2021 }\n"
                         "expect = { g_per_mol = 58.44 }\n"),
              "");
}

TEST(Runner, FileWithoutCasesFails) {
    EXPECT_THAT(failure_of("group = \"self\"\n"), HasSubstr("there is no [[case]]"));
    EXPECT_NE(failure_of(""), "");
    EXPECT_NE(failure_of("group = \"self\"\ncase = []\n"), "");
    EXPECT_NE(failure_of("this is not TOML"), "");
}

TEST(Runner, SameIdTwiceFails) {
    const std::string good = kProvenance + kSalt + kTolerance + "expect = { g_per_mol = 58.44 }\n";
    EXPECT_THAT(failure_of(kHead + good + "[[case]]\nid = \"one\"\n" + good),
                HasSubstr("the same id"));
}

TEST(Runner, ExpectedProblem) {
    const std::string bad =
        "operation = \"formula_weight\"\ngiven = { formula = \"Na)Cl\", weights = 2021 }\n";
    EXPECT_EQ(failure_of(kHead + kProvenance + bad + "expect_problem = \"bad_formula\"\n"), "");
    EXPECT_THAT(failure_of(kHead + kProvenance + bad + "expect_problem = \"bad_unit\"\n"),
                HasSubstr("bad_formula"));
    EXPECT_THAT(failure_of(kHead + kProvenance + bad + "expect_problem = \"bad_luck\"\n"),
                HasSubstr("not a problem's name"));
    EXPECT_THAT(failure_of(kHead + kProvenance + kSalt + "expect_problem = \"bad_formula\"\n"),
                HasSubstr("found none"));
    EXPECT_NE(failure_of(kHead + kProvenance + bad + kTolerance + "expect = { g_per_mol = 1 }\n"),
              "");
    EXPECT_THAT(failure_of(with_expectation(
                    "expect = { g_per_mol = 58.44 }\nexpect_problem = \"bad_formula\"\n")),
                HasSubstr("not both"));
}

TEST(Runner, ContradictionNeedsWordsAndADifference) {
    const std::string words = "contradiction = \"printed 58.50\"\n";
    const std::string numbers = "{ value = 58.44, printed = 58.50, differs = ";
    const auto expect = [&](const std::string& value) {
        return "expect = { g_per_mol = " + value + " }\n";
    };
    EXPECT_EQ(failure_of(with_expectation(words + expect(numbers + "-0.06 }"))), "");
    EXPECT_THAT(failure_of(with_expectation(words + expect(numbers + "-0.09 }"))),
                HasSubstr("less what is printed"));
    EXPECT_THAT(failure_of(with_expectation(words + expect(numbers + "-0.001 }"))),
                HasSubstr("no contradiction"));
    EXPECT_THAT(failure_of(with_expectation(expect(numbers + "-0.06 }"))),
                HasSubstr("go together"));
    EXPECT_THAT(failure_of(with_expectation(words + expect("58.44"))), HasSubstr("go together"));
    EXPECT_THAT(failure_of(with_expectation(words + expect("{ value = 58.44, printed = 58.50 }"))),
                HasSubstr("go together"));
}

TEST(Runner, CompleteCaseLeavesNothingOut) {
    const std::string salts =
        "operation = \"salts_to_ions\"\ncomplete = true\n"
        "given = { basis = \"kg_solution\", salts = [ \"1 mol MgCl2\" ] }\n";
    const std::string start = kHead + kProvenance + kTolerance + salts;
    EXPECT_EQ(failure_of(start + "expect = { mmol = { Mg = 1000, Cl = 2000 } }\n"), "");
    EXPECT_THAT(failure_of(start + "expect = { mmol = { Mg = 1000 } }\n"),
                HasSubstr("mmol.Cl = 2000 was found"));
}

TEST(Runner, PrintedSaltsAreReadStrictly) {
    for (const std::string bad : {"23.9 NaCl", "g NaCl", "23.9 g", "23.9 g NaCl dry", "-1 g NaCl",
                                  "0 g NaCl", "1 kg NaCl", "", "x g NaCl"}) {
        EXPECT_NE(failure_of(kHead + kProvenance + kTolerance +
                             "operation = \"salts_to_ions\"\n"
                             "given = { basis = \"kg_solution\", salts = [ \"" +
                             bad + "\" ] }\nexpect = { mmol = { Na = 1 } }\n"),
                  "")
            << bad;
    }
}

TEST(Runner, UnknownRecipeOrTotalsFail) {
    EXPECT_THAT(failure_of(kHead + kProvenance + kTolerance +
                           "operation = \"salts_to_ions\"\nrecipe = \"none\"\n"
                           "expect = { mmol = { Na = 1 } }\n"),
                HasSubstr("there is no recipe"));
    EXPECT_THAT(failure_of(kHead + kProvenance + kTolerance +
                           "operation = \"ions_to_salts\"\ngiven = { totals_of = \"none\" }\n"
                           "expect = { amount = \"as printed\" }\n"),
                AnyOf(HasSubstr("no case 'none' expects totals"), HasSubstr("need a recipe")));
}

TEST(Runner, ReportHasALineForEachComparison) {
    const CaseFile file =
        read_cases(with_expectation("expect = { g_per_mol = 58.46 }\n"), "self.toml");
    const Judgement judgement = judge(file.cases[0]);
    const std::string lines = report_lines(file.cases[0], judgement);
    EXPECT_THAT(lines, HasSubstr(R"("id":"one","group":"self","operation":"formula_weight")"));
    EXPECT_THAT(lines, HasSubstr(R"("quantity":"g_per_mol","expected":58.46,"found":58.44)"));
    EXPECT_THAT(lines, HasSubstr(R"("tolerance":0.005,"verdict":"fails"})"));
    Case broken = file.cases[0];
    broken.faults = {"a \"quoted\" fault\n"};
    EXPECT_THAT(report_lines(broken, judge(broken)),
                HasSubstr(R"("fault":"a \"quoted\" fault\u000a","verdict":"fails")"));
}

}  // namespace
}  // namespace bw::check
