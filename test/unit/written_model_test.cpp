// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Formulas of budgets: what is read, what is refused; budgets from files.
#include "assay/written_model.hpp"

#include <cmath>
#include <numbers>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "assay/simulated_budget.hpp"
#include "io/budget_file.hpp"

namespace {

using namespace bw;
using testing::HasSubstr;

double worked(const std::string& formula, const std::vector<std::string>& names,
              const std::vector<double>& values) {
    const auto model = assay::written_model(formula, names);
    EXPECT_TRUE(model) << model.error().message;
    return model ? (*model)(values) : std::nan("");
}

std::string refusal(const std::string& formula, const std::vector<std::string>& names) {
    const auto model = assay::written_model(formula, names);
    EXPECT_FALSE(model) << formula;
    return model ? "" : model.error().message;
}

TEST(WrittenModels, FollowTheRulesOfArithmetic) {
    EXPECT_DOUBLE_EQ(worked("a + b * c ^ 2 / 4 - (a - b)", {"a", "b", "c"}, {3, 5, 2}), 10);
    EXPECT_DOUBLE_EQ(worked("-a ^ 2", {"a"}, {3}), -9);
    EXPECT_DOUBLE_EQ(worked("exp(ln(a)) + sqrt(a) + log10(a * 10)", {"a"}, {4}),
                     4 + 2 + std::log10(40.0));
    EXPECT_DOUBLE_EQ(worked("min(a, b) + max(a, b) * 10 + abs(-a)", {"a", "b"}, {1, 2}), 22);
    EXPECT_DOUBLE_EQ(worked("1.5e-3 * V_0", {"V_0"}, {2}), 3e-3);
}

TEST(WrittenModels, AreRefusedWithTheReason) {
    EXPECT_THAT(refusal("", {"a"}), HasSubstr("empty"));
    EXPECT_THAT(refusal("a + d", {"a"}), HasSubstr("'d', which is no input"));
    EXPECT_THAT(refusal("a", {"a", "b"}), HasSubstr("'b' is not in the model"));
    EXPECT_THAT(refusal("a + b", {"a", "a"}), HasSubstr("twice"));
    EXPECT_THAT(refusal("a +", {"a"}), HasSubstr("not understood"));
    EXPECT_THAT(refusal("(a", {"a"}), HasSubstr("not understood"));
    EXPECT_THAT(refusal("a, a", {"a"}), HasSubstr("several results"));
    EXPECT_THAT(refusal("a = 3", {"a"}), HasSubstr("'=' at place 3"));
    EXPECT_THAT(refusal("sin(a)", {"a"}), HasSubstr("sin"));
    EXPECT_THAT(refusal(std::string(3000, 'a'), {"a"}), HasSubstr("2000"));
}

Result<io::BudgetFile> budget_of(const std::string& text) {
    const auto document =
        io::parse_document("format = \"brinewright/1\"\nkind = \"budget\"\n" + text, "b.toml");
    EXPECT_TRUE(document) << document.error().text();
    return io::read_budget(*document);
}

// [jcgm-101] 9.3, mass in air: y 1.234, u 0.0539 by derivatives; 1.2341, 0.0754 by draws (published
// values; the simulation scatters by 0.0003).
TEST(WrittenBudgets, OfAWeighingInAirAreThePublishedOne) {
    const auto file = budget_of(R"(
name = "mass in air"
unit = "mg"
model = "(mRc + dmRc) * (1 + (ra - 1.2) * (1/rW - 1/rR)) - 100000"
input = [
  { name = "mRc", value = "100000 mg", u = "0.00005 g" },
  { name = "dmRc", value = "1.234 mg", u = "0.02 mg" },
  { name = "ra", value = "1.2 kg/m3", half_width = "0.1 kg/m3" },
  { name = "rW", value = "8000 kg/m3", half_width = "1000 kg/m3", shape = "rectangular" },
  { name = "rR", value = "8000 kg/m3", half_width = "0.625 %" },
]
)");
    ASSERT_TRUE(file) << file.error().text();
    const auto budget = assay::propagate(file->model, file->inputs);
    ASSERT_TRUE(budget);
    EXPECT_NEAR(budget->value, 1.234, 5e-4);
    EXPECT_NEAR(budget->u, 0.0539, 5e-5);
    const auto drawn = assay::simulate(file->model, file->inputs);
    ASSERT_TRUE(drawn);
    EXPECT_NEAR(drawn->mean, 1.2341, 3e-4);
    EXPECT_NEAR(drawn->u, 0.0754, 3e-4);
}

// A straight model of one normal input: derivatives are exact, whatever the draws.
TEST(WrittenBudgets, OfAStraightModelAreConfirmedForAnySeed) {
    const std::vector<assay::BudgetInput> inputs = {assay::normal_input("x", 2, 0.1)};
    const auto model = assay::written_model("x * 2", std::vector<std::string>{"x"});
    ASSERT_TRUE(model);
    const auto budget = assay::propagate(*model, inputs);
    ASSERT_TRUE(budget);
    for (std::uint64_t seed = 1; seed <= 6; ++seed) {
        assay::SimulationOptions options;
        options.seed = seed;
        options.adaptive = true;
        options.fineness = 0.2;
        options.trials = 5'000'000;
        const auto drawn = assay::simulate(*model, inputs, {}, options);
        ASSERT_TRUE(drawn);
        EXPECT_TRUE(drawn->settled);
        EXPECT_TRUE(assay::validate(*budget, *drawn).valid) << seed;
    }
}

TEST(WrittenBudgets, RefuseWhatTheyCannotUse) {
    const auto refused = [](const std::string& input) {
        const auto file = budget_of("name = \"x\"\nmodel = \"a\"\ninput = [" + input + "]\n");
        EXPECT_FALSE(file) << input;
        return file ? "" : file.error().text();
    };
    EXPECT_THAT(refused("{ name = \"a\", value = 1 }"), HasSubstr("one of the two"));
    EXPECT_THAT(refused("{ name = \"a\", value = 1, u = 1, half_width = 1 }"),
                HasSubstr("one of the two"));
    EXPECT_THAT(refused("{ name = \"a\", value = \"1 g\", u = \"1 mL\" }"),
                HasSubstr("kind of unit"));
    EXPECT_THAT(refused("{ name = \"a\", value = \"1 g\", u = 0.1 }"), HasSubstr("kind of unit"));
    EXPECT_THAT(refused("{ name = \"a\", value = 1, u = -0.1 }"), HasSubstr("negative"));
    EXPECT_THAT(refused("{ name = \"1a\", value = 1, u = 0.1 }"), HasSubstr("no digit"));
    EXPECT_THAT(refused("{ name = \"a\", value = 1, u = 0.1, freedom = 0 }"), HasSubstr("1 or"));
    EXPECT_THAT(refused("{ name = \"a\", value = 1, half_width = 1, shape = \"round\" }"),
                HasSubstr("rectangular"));
    EXPECT_THAT(refused("{ name = \"a\", value = 1, u = 1, shape = \"rectangular\" }"),
                HasSubstr("normal"));
    EXPECT_THAT(refused("{ name = \"a\", value = \"0 mL\", u = \"1 %\" }"),
                HasSubstr("share of a value of 0"));
    EXPECT_THAT(refused("{ name = \"a\", value = 1, u = 0.1, freedom = 2 }"),
                HasSubstr("read more"));
    const auto sure = budget_of(
        "name = \"x\"\nmodel = \"a\"\ncoverage = \"99.999 %\"\n"
        "input = [{ name = \"a\", value = 1, u = 1 }]\n");
    ASSERT_FALSE(sure);
    EXPECT_THAT(sure.error().text(), HasSubstr("99.9 %"));
    EXPECT_THAT(refused("{ name = \"b\", value = 1, u = 1 }"), HasSubstr("no input"));
}

// [jcgm-100] H.2, impedance from voltage and current that were read together: 254.260 ohm, u 0.236
// (published; the inputs' u are printed there to two digits, which leaves 0.001).
TEST(WrittenBudgets, TakeCorrelationsAsPublished) {
    const std::string inputs = R"(
name = "impedance"
model = "V / I"
input = [
  { name = "V", value = 4.9990, u = 0.0032 },
  { name = "I", value = 0.0196610, u = 0.0000095 },
]
)";
    const auto file = budget_of(inputs + "correlation = [{ of = [\"V\", \"I\"], r = -0.36 }]\n");
    ASSERT_TRUE(file) << file.error().text();
    const auto budget = assay::propagate(file->model, file->inputs, file->correlations);
    ASSERT_TRUE(budget) << budget.error().text();
    EXPECT_NEAR(budget->value, 254.260, 1e-3);
    EXPECT_NEAR(budget->u, 0.236, 1e-3);
    const auto refused = [&](const std::string& correlation) {
        const auto read = budget_of(inputs + "correlation = [" + correlation + "]\n");
        return read ? std::string("taken") : read.error().text();
    };
    EXPECT_THAT(refused("{ of = [\"V\"], r = 0.1 }"), HasSubstr("names two inputs"));
    EXPECT_THAT(refused("{ of = [\"V\", \"I\"] }"), HasSubstr("and their r"));
    EXPECT_THAT(refused("{ of = [\"V\", \"R\"], r = 0.1 }"), HasSubstr("'R' is no input"));
}

}  // namespace
