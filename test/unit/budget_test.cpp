// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "blend/budget.hpp"

#include <cmath>
#include <thread>

#include <gtest/gtest.h>

#include "figure.hpp"

namespace {

using namespace bw;
using blend::Budget;
using blend::BudgetOutcome;
using blend::BudgetSetup;
using blend::BudgetStep;
using matter::constituent;
using matter::Stated;

constexpr auto at(BudgetStep step) { return static_cast<std::size_t>(step); }

matter::MakeUp salt(const char* cation, double moles, const char* anion, double anions) {
    matter::MakeUp out;
    out.mol_per_kg[constituent(cation)] = moles;
    out.mol_per_kg[constituent(anion)] = anions;
    out.main_mol_per_kg = out.mol_per_kg;
    return out;
}

/// Sodium chloride with a trace of strontium chloride.
BudgetSetup setup() {
    BudgetSetup out;
    out.parts = {{"salt", 0.999, salt("Na", 17, "Cl", 17), 0, 0, 0, {}},
                 {"trace", 0.001, salt("Sr", 3.75, "Cl", 7.5), 0, 0, 0, {}}};
    out.constituents = {constituent("Na"), constituent("Sr")};
    out.band = {0.02, 0.02};
    out.analysis_u = {0, 0};
    out.batch_g = 1e6;
    out.sample_g = 500;
    out.portion_g = 50;
    out.mixed_before_use = true;
    return out;
}

BudgetOutcome run(const BudgetSetup& setup, bool shares = true, std::uint64_t blocks = 60) {
    const auto budget = Budget::create(setup);
    EXPECT_TRUE(budget) << budget.error().text();
    std::vector<Budget::BlockPointer> drawn;
    for (std::uint64_t b = 0; b < blocks; ++b) {
        drawn.push_back(budget->draw_block(3, b, Budget::kDrawsPerBlock, shares));
    }
    return budget->merge(drawn, 3);
}

// One source at a time gives its own uncertainty, and all of the variance is its share.
TEST(Budget, EachStepGivesWhatItIs) {
    constexpr double kHair = 0.01;  // of a standard deviation, by 61 440 draws: 3/sqrt(2 n)
    const auto expect = [&](const BudgetSetup& s, BudgetStep step, double release, double vat) {
        const BudgetOutcome out = run(s);
        EXPECT_NEAR(out.release[1].u, release, kHair * release + 1e-12) << name(step);
        EXPECT_NEAR(out.vat[1].u, vat, kHair * vat + 1e-12) << name(step);
        for (std::size_t i = 0; i < blend::kBudgetSteps; ++i) {
            const auto& share = (vat > 0 ? out.vat : out.release)[1].steps[i];
            EXPECT_NEAR(share.total, i == at(step) ? 1 : 0, 0.02) << name(step) << i;
            EXPECT_NEAR(share.first, i == at(step) ? 1 : 0, 0.02) << name(step) << i;
        }
    };
    BudgetSetup s = setup();
    s.parts[1].weighing_u = 0.01;
    expect(s, BudgetStep::Weighing, 0.01, 0.01);
    s = setup();
    s.parts[1].premix_u = 0.01;
    expect(s, BudgetStep::Premix, 0.01, 0.01);
    s = setup();
    s.salinity_u = 0.01;
    expect(s, BudgetStep::Salinity, 0, 0.01);
    s = setup();
    s.analysis_u[1] = 0.01;
    expect(s, BudgetStep::Analysis, 0.01, 0);
    s = setup();
    s.parts[1].make_up.inputs = {
        {matter::UncertainInput::Kind::Assay, "assay", Stated::between(0.98, 1.02), {}}};
    expect(s, BudgetStep::Assay, 0.02 / std::sqrt(3), 0.02 / std::sqrt(3));
    s = setup();
    s.parts[1].make_up.inputs = {
        {matter::UncertainInput::Kind::Loss, "moisture", Stated::normal(0.1, 0.009), {}}};
    expect(s, BudgetStep::Moisture, 0.01, 0.01);
}

// Grains of the trace: 0.05 g of it in 50 g; 1e-5 g each makes 5000, s = 1/sqrt 5000.
TEST(Budget, GrainsScatterAsTheirNumberSays) {
    BudgetSetup s = setup();
    s.parts[1].grain_g = 1e-5;
    const BudgetOutcome out = run(s);
    EXPECT_NEAR(out.vat[1].u, std::sqrt(1.0 / 5000), 2e-4);
    EXPECT_NEAR(out.release[1].u, std::sqrt(1.0 / 50000), 1e-4);  // of 500 g
    EXPECT_NEAR(out.vat[1].mean, 0, 3e-4);
    EXPECT_NEAR(out.vat[1].inside, 0.843, 0.01);  // +-2 % are 1.414 standard deviations
    EXPECT_NEAR(out.vat[1].low, -1.96 / std::sqrt(5000), 1e-3);
    EXPECT_NEAR(out.vat[1].steps[at(BudgetStep::Grains)].total, 1, 0.02);
    EXPECT_NEAR(out.release[1].steps[at(BudgetStep::Sample)].total, 1, 0.02);
    // Few grains: a gamma variable, never below nothing.
    s.parts[1].grain_g = 0.02;
    const BudgetOutcome few = run(s, false);
    EXPECT_GT(few.vat[1].low, -1.0001);
    EXPECT_NEAR(few.vat[1].mean, 0, 0.02);
    EXPECT_NEAR(few.vat[1].u, std::sqrt(1 / 2.5), 0.02);
}

TEST(Budget, LayersCountOnlyForPortionsOfAContainerThatIsNotMixed) {
    BudgetSetup s = setup();
    s.parts[1].layers = {0.06, 0, -0.06};
    EXPECT_LT(run(s).vat[1].u, 1e-9);
    s.mixed_before_use = false;
    EXPECT_LT(run(s).vat[1].u, 1e-9);  // not layered
    s.layered = 0.5;
    const BudgetOutcome out = run(s);
    // Half of +-6 % in two thirds of all cases: 0.03 sqrt(2/3).
    EXPECT_NEAR(out.vat[1].u, 0.03 * std::sqrt(2.0 / 3), 3e-4);
    EXPECT_LT(out.release[1].u, 1e-9);
    EXPECT_NEAR(out.vat[1].steps[at(BudgetStep::Layers)].first, 1, 0.02);
}

// Two independent steps share the variance; a product has little of both together.
TEST(Budget, SharesOfTwoStepsSumToOne) {
    BudgetSetup s = setup();
    s.parts[1].weighing_u = 0.01;
    s.salinity_u = 0.02;
    const BudgetOutcome out = run(s);
    EXPECT_NEAR(out.vat[1].u, std::sqrt(5) * 0.01, 3e-4);
    EXPECT_NEAR(out.vat[1].steps[at(BudgetStep::Weighing)].first, 0.2, 0.02);
    EXPECT_NEAR(out.vat[1].steps[at(BudgetStep::Salinity)].total, 0.8, 0.02);
    EXPECT_LE(out.all_inside_vat, std::min(out.vat[0].inside, out.vat[1].inside));
}

TEST(Budget, TheSameSeedGivesTheSameNumbersOnAnyThreads) {
    BudgetSetup s = setup();
    s.parts[1].grain_g = 1e-4;
    s.salinity_u = 0.01;
    const auto budget = Budget::create(s);
    ASSERT_TRUE(budget);
    constexpr std::uint64_t kBlocks = 8;
    std::vector<Budget::BlockPointer> one, many(kBlocks);
    for (std::uint64_t b = 0; b < kBlocks; ++b) {
        one.push_back(budget->draw_block(11, b, 500, true));
    }
    {
        std::vector<std::jthread> threads;
        for (std::uint64_t b = 0; b < kBlocks; ++b) {
            threads.emplace_back([&, b] { many[b] = budget->draw_block(11, b, 500, true); });
        }
    }
    const BudgetOutcome first = budget->merge(one, 11), second = budget->merge(many, 11);
    for (std::size_t e = 0; e < 2; ++e) {
        EXPECT_EQ(first.vat[e].u, second.vat[e].u);
        EXPECT_EQ(first.vat[e].high, second.vat[e].high);
        EXPECT_EQ(first.release[e].steps[6].total, second.release[e].steps[6].total);
    }
    EXPECT_EQ(first.draws, 4000U);
    test::record({"Blends", "the error budget from the lots to the user's water, of one seed",
                  "the same bytes on any number of threads", "the same on one thread and on eight",
                  !testing::Test::HasFailure()});
}

TEST(Budget, RefusesWhatHasNoMeaning) {
    BudgetSetup s = setup();
    s.portion_g = 2e6;
    EXPECT_EQ(Budget::create(s).error().code, ProblemCode::OutOfRange);
    s = setup();
    s.constituents[1] = constituent("Mg");
    EXPECT_FALSE(Budget::create(s));
    s = setup();
    s.parts[0].share = 0.5;
    EXPECT_FALSE(Budget::create(s));
    s = setup();
    s.band.pop_back();
    EXPECT_FALSE(Budget::create(s));
}

}  // namespace
