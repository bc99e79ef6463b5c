// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <cmath>
#include <set>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "works/batch.hpp"
#include "works/departure.hpp"
#include "works/identifier.hpp"
#include "works/lot.hpp"
#include "works/person.hpp"
#include "works/recipe_version.hpp"
#include "works/sample.hpp"
#include "works/scale.hpp"
#include "works/sheet.hpp"
#include "works/weighing.hpp"

namespace bw::works {
namespace {

using recipe::Company;
using testing::HasSubstr;

// ISO/IEC 7064 MOD 37,36: the worked example of the recording industry's GRid standard ends in M.
TEST(Identifier, HasThePublishedCheckCharacter) {
    EXPECT_EQ(check_character("A1-2425G-ABC1234002"), 'M');
}

TEST(Identifier, FindsEverySingleWrongCharacterAndEveryNeighboursSwap) {
    std::int64_t n = 142;
    const std::string good = identifier("B", 2026, n);
    EXPECT_TRUE(check_identifier(good));
    const std::string characters = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ";
    int tried = 0;
    for (std::size_t i = 0; i < good.size(); ++i) {
        for (const char c : characters) {
            if (good[i] == '-' || good[i] == c) {
                continue;
            }
            std::string wrong = good;
            wrong[i] = c;
            EXPECT_FALSE(check_identifier(wrong)) << wrong;
            ++tried;
        }
    }
    EXPECT_EQ(tried, 8 * 35);
    for (std::size_t i = 0; i + 1 < good.size(); ++i) {
        if (good[i] != good[i + 1] && good[i] != '-' && good[i + 1] != '-') {
            std::string swapped = good;
            std::swap(swapped[i], swapped[i + 1]);
            EXPECT_FALSE(check_identifier(swapped)) << swapped;
        }
    }
}

TEST(Identifier, PassesOverCheckCharactersThatAreTakenForDigits) {
    std::set<std::string> seen;
    std::int64_t n = 0;
    for (int i = 0; i < 2000; ++i) {
        ++n;
        const std::string id = identifier("S", 2026, n);
        EXPECT_NE(id.back(), 'I');
        EXPECT_NE(id.back(), 'O');
        EXPECT_TRUE(check_identifier(id)) << id;
        EXPECT_TRUE(seen.insert(id).second) << id;
    }
    EXPECT_GT(n, 2000);
}

TEST(Duties, NoDutyBothMakesAndReleases) {
    for (std::size_t i = 0; i < kWords<Duty>; ++i) {
        const auto duty = static_cast<Duty>(i);
        if (may(duty, Deed::DecideRelease)) {
            for (const Deed made : {Deed::PlanBatch, Deed::Weigh, Deed::CloseBatch,
                                    Deed::TakeSample, Deed::EnterResults, Deed::DraftRecipe}) {
                EXPECT_FALSE(may(duty, made)) << name(duty) << " may " << name(made);
            }
        }
    }
    EXPECT_TRUE(may(Duty::QualityManager, Deed::DecideRelease));
}

TEST(Duties, AStoppedPersonMayDoNothingAndAMessageNamesWhoMay) {
    Person person{"mira", "M. Invented", {Duty::Analyst}, PersonState::Active};
    EXPECT_EQ(duty_for(person, Deed::EnterResults), Duty::Analyst);
    const auto refused = duty_for(person, Deed::Weigh);
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().code, ProblemCode::Refused);
    EXPECT_EQ(refused.error().message,
              "mira may not weigh: that is for the duty operator, and theirs is analyst");
    person.state = PersonState::Stopped;
    EXPECT_FALSE(duty_for(person, Deed::EnterResults));
}

TEST(Duties, PeopleAreChecked) {
    const auto with = [](std::string id, std::vector<Duty> duties) {
        return check(Person{std::move(id), "A. Invented", std::move(duties), PersonState::Active});
    };
    EXPECT_TRUE(with("a.b-2", {Duty::Operator}));
    EXPECT_FALSE(with("a", {Duty::Operator}));
    EXPECT_FALSE(with("2ab", {Duty::Operator}));
    EXPECT_FALSE(with("Mira", {Duty::Operator}));
    EXPECT_FALSE(with("mira", {}));
    EXPECT_FALSE(with("mira", {Duty::Operator, Duty::Operator}));
}

// The closed lists of states: every pair that is not a way is refused.
TEST(States, LotsGoOnlyTheirWays) {
    using enum LotState;
    const std::set<std::pair<LotState, LotState>> ways = {
        {Received, OnHold}, {Received, Accepted}, {Received, Refused}, {OnHold, Accepted},
        {OnHold, Refused},  {Accepted, OnHold},   {Accepted, UsedUp}};
    for (std::size_t i = 0; i < kWords<LotState>; ++i) {
        for (std::size_t k = 0; k < kWords<LotState>; ++k) {
            Lot lot;
            lot.state = static_cast<LotState>(i);
            lot.received_by = "rosa";
            const auto to = static_cast<LotState>(k);
            EXPECT_EQ(moved(lot, to, "mira", "a reason").has_value(),
                      ways.contains({lot.state, to}))
                << name(lot.state) << " to " << name(to);
        }
    }
}

TEST(States, NobodyJudgesALotTheyReceived) {
    Lot lot;
    lot.number = "A26-0219";
    lot.received_by = "rosa";
    const auto own = moved(lot, LotState::Accepted, "rosa", "");
    ASSERT_FALSE(own);
    EXPECT_EQ(own.error().code, ProblemCode::Refused);
    EXPECT_EQ(moved(lot, LotState::Accepted, "mira", "")->state, LotState::Accepted);
    EXPECT_FALSE(moved(lot, LotState::Refused, "mira", " "));
}

TEST(States, BatchesGoOnlyTheirWays) {
    using enum BatchState;
    int open = 0;
    for (std::size_t i = 0; i < kWords<BatchState>; ++i) {
        for (std::size_t k = 0; k < kWords<BatchState>; ++k) {
            Batch batch;
            batch.state = static_cast<BatchState>(i);
            open += moved(batch, static_cast<BatchState>(k)).has_value() ? 1 : 0;
        }
    }
    EXPECT_EQ(open, 13);
    Batch batch;
    batch.number = "B26-0001-K";
    for (const BatchState to : {Weighing, Blended, Sampled, UnderTest, Ready, Released}) {
        auto next = moved(batch, to);
        ASSERT_TRUE(next) << name(to);
        batch = *next;
    }
    const auto back = moved(batch, Ready);
    ASSERT_FALSE(back);
    EXPECT_EQ(back.error().message,
              "batch B26-0001-K is released and cannot become ready: nothing leads on from there");
}

TEST(States, ARecipeVersionIsUsedOnceSomebodyElseSigned) {
    RecipeVersion version;
    version.product = "Raised reef";
    version.drafted_by = "fay";
    EXPECT_FALSE(moved(version, VersionState::InUse));
    version = *moved(version, VersionState::Offered);
    EXPECT_THAT(moved(version, VersionState::InUse).error().message, HasSubstr("signature"));
    version.approved = Signature{"fay", "", "", "", "", ""};
    EXPECT_THAT(moved(version, VersionState::InUse).error().message, HasSubstr("somebody else"));
    version.approved->person = "quin";
    EXPECT_EQ(moved(version, VersionState::InUse)->state, VersionState::InUse);
}

TEST(States, DeparturesAreAnsweredThenClosedByAnother) {
    Departure d;
    d.number = "D26-0001-X";
    EXPECT_FALSE(closed(d, "quin"));
    EXPECT_FALSE(answered(d, "olle", "  "));
    d = *answered(d, "olle", "0.4 kg more went in; the lot adjustment allows it");
    EXPECT_FALSE(closed(d, "olle"));
    EXPECT_EQ(closed(d, "quin")->state, DepartureState::Closed);
    EXPECT_FALSE(answered(*closed(d, "quin"), "olle", "again"));
}

TEST(Lots, PastUseByOrNotAcceptedAreNotWeighed) {
    Lot lot;
    lot.state = LotState::Accepted;
    lot.use_by = "2026-11-26";
    EXPECT_TRUE(may_be_weighed(lot, "2026-11-26"));
    EXPECT_FALSE(may_be_weighed(lot, "2026-11-27"));
    lot.state = LotState::OnHold;
    EXPECT_FALSE(may_be_weighed(lot, "2026-01-01"));
}

TEST(Lots, StockDoesNotFallBelowWhatBagsAreFilledTo) {
    Stock stock{"A26-0219", 1000, 990};
    EXPECT_TRUE(taken(stock, 15));
    const auto refused = taken(stock, 15.1);
    ASSERT_FALSE(refused);
    EXPECT_THAT(refused.error().message, HasSubstr("10 kg left"));
    EXPECT_DOUBLE_EQ(taken(stock, -5)->used_kg, 985);
}

Scale scale(std::string id, double step_kg, double capacity_kg) {
    return {std::move(id), step_kg, capacity_kg, 0, "", ServiceState::InService};
}

// 2000 x 0.41 d: USP <41>, as the header cites it.
TEST(Scales, LeastMassIsThatOfThePharmacopoeia) {
    EXPECT_DOUBLE_EQ(least_well_weighed_kg(scale("W1", 0.001, 6)), 0.82);
    Scale noisy = scale("W1", 0.001, 6);
    noisy.repeatability_kg = 0.002;
    EXPECT_DOUBLE_EQ(least_well_weighed_kg(noisy), 4);
}

TEST(Scales, TheCoarsestThatStillWeighsWellIsTaken) {
    const std::vector<Scale> scales = {scale("fine", 1e-5, 0.6), scale("mid", 1e-3, 15),
                                       scale("floor", 0.1, 600)};
    EXPECT_EQ(scale_for(300, scales, "2026-01-01")->id, "floor");
    EXPECT_EQ(scale_for(10, scales, "2026-01-01")->id, "mid");      // floor from 82 kg on
    EXPECT_EQ(scale_for(0.5, scales, "2026-01-01")->id, "fine");    // mid from 0.82 kg on
    EXPECT_EQ(scale_for(0.002, scales, "2026-01-01")->id, "fine");  // none well: the finest
    EXPECT_EQ(scale_for(2000, scales, "2026-01-01")->id, "floor");  // in parts
    std::vector<Scale> expired = scales;
    for (Scale& s : expired) {
        s.checked_until = "2025-12-31";
    }
    EXPECT_FALSE(scale_for(10, expired, "2026-01-01"));
}

TEST(Scales, ToleranceIsAThousandthButNeverLessThanAStep) {
    EXPECT_DOUBLE_EQ(weighing_tolerance_kg(100, scale("W", 0.01, 150)), 0.1);
    EXPECT_DOUBLE_EQ(weighing_tolerance_kg(2, scale("W", 0.01, 150)), 0.01);
    EXPECT_DOUBLE_EQ(weighing_tolerance_kg(500, scale("W", 0.5, 150)), 2);  // four weighings
    EXPECT_EQ(parts_of(500, scale("W", 0.5, 150)), 4);
    EXPECT_EQ(parts_of(600, scale("W", 0.5, 600)), 1);
    EXPECT_EQ(parts_of(602.9, scale("W", 0.5, 600)), 2);
    EXPECT_DOUBLE_EQ(on_steps(1.2345, scale("W", 0.01, 150)), 1.23);
}

std::vector<Portion> portions() {
    return {{"sodium chloride", "A1", 0.7, false, {}},
            {"magnesium chloride", "B1", 0.2, true, {}},
            {"sodium sulfate", "C1", 0.0946, false, {}, Company::Carbonates},
            {"potassium bromide", "D1", 0.003, false, {}},
            {"boric acid", "E1", 0.0024, false, {}, Company::Carbonates}};
}

TEST(Sheets, SmallPortionsGoInByAPremixThatDoublesUntilItIsFivePerCent) {
    const std::vector<Scale> scales = {scale("fine", 1e-5, 6), scale("floor", 0.01, 600)};
    const auto sheet = sheet_for(portions(), 1000, scales, "2026-01-01");
    ASSERT_TRUE(sheet) << sheet.error().text();
    const auto& a = sheet->additions;
    EXPECT_EQ(a[0].material, "boric acid");
    EXPECT_EQ(a[0].into, "premix");
    EXPECT_EQ(a[1].material, "potassium bromide");
    EXPECT_EQ(sheet->premix_carrier, "sodium chloride");
    // 5.4 kg of small portions: 10.8, 21.6, 43.2, 86.4 kg.
    ASSERT_EQ(sheet->premix.size(), 4U);
    EXPECT_NEAR(sheet->premix.front().total_kg, 10.8, 0.02);
    EXPECT_GE(sheet->premix.back().total_kg, 50);
    EXPECT_EQ(a.back().material, "magnesium chloride");  // draws water: last
    double total = 0;
    double carrier = 0;
    for (std::size_t i = 0; i < a.size(); ++i) {
        EXPECT_EQ(a[i].step, static_cast<std::int64_t>(i) + 1);
        total += a[i].target_kg;
        carrier += a[i].material == "sodium chloride" ? a[i].target_kg : 0;
        EXPECT_GT(a[i].tolerance_kg, 0);
    }
    EXPECT_NEAR(total, 1000, 0.05);
    EXPECT_NEAR(carrier, 700, 0.03);
}

/// As the batch of 300 kg that put dry calcium chloride between carbonates.
std::vector<Portion> with_small_chlorides() {
    return {{"calcium chloride", "A1", 0.0067, true, {}, Company::Chlorides},
            {"strontium chloride", "B1", 0.0007, false, {}, Company::Chlorides},
            {"sodium carbonate", "C1", 0.0012, false, {}, Company::Carbonates},
            {"sodium fluoride", "D1", 0.0001, false, {}, Company::Carbonates},
            {"magnesium sulfate", "E1", 0.0043, false, {}, Company::None},
            {"sodium sulfate", "F1", 0.109, false, {}, Company::Carbonates},
            {"magnesium chloride", "G1", 0.3, true, {}, Company::Chlorides},
            {"sodium chloride", "H1", 0.578, false, {}, Company::Any}};
}

TEST(Sheets, WhatDrawsWaterAndAlkalineEarthsNeverMeetCarbonatesInAPremix) {
    const std::vector<Scale> scales = {scale("fine", 1e-6, 6), scale("floor", 0.01, 600)};
    const auto sheet = sheet_for(with_small_chlorides(), 300, scales, "2026-01-01");
    ASSERT_TRUE(sheet) << sheet.error().text();
    std::vector<std::pair<std::string, std::string>> order;  // stages of a carrier as one
    double carrier = 0;
    for (const Addition& a : sheet->additions) {
        if (order.empty() || order.back() != std::pair(a.material, a.into)) {
            order.emplace_back(a.material, a.into);
        }
        carrier += a.material == "sodium chloride" ? a.target_kg : 0;
    }
    const std::vector<std::pair<std::string, std::string>> wanted = {
        {"sodium fluoride", kPremix},
        {"sodium carbonate", kPremix},
        {"sodium chloride", kPremixCarrier},
        {"sodium chloride", kBlender},
        {"sodium sulfate", kBlender},
        {"magnesium sulfate", kBlender},  // may lie with neither
        {"strontium chloride", kLatePremix},
        {"calcium chloride", kLatePremix},
        {"sodium chloride", kLatePremixCarrier},
        {"magnesium chloride", kBlender}};
    EXPECT_EQ(order, wanted);
    EXPECT_NEAR(carrier, 0.578 * 300, 0.03);
    EXPECT_EQ(sheet->premix_carrier, "sodium chloride");
    // 2.22 kg: 4.44, 8.88, 17.76 kg, which is above 5 % of 300 kg.
    ASSERT_EQ(sheet->late_premix.size(), 3U);
    EXPECT_NEAR(sheet->late_premix.back().total_kg, 17.76, 0.03);
}

TEST(Sheets, SmallPortionsWithoutACarrierGoIntoTheBlenderInTheSameOrder) {
    std::vector<Portion> some = with_small_chlorides();
    some.back().company = Company::Carbonates;  // no portion may lie with all
    const std::vector<Scale> scales = {scale("fine", 1e-6, 6), scale("floor", 0.01, 600)};
    const auto sheet = sheet_for(some, 300, scales, "2026-01-01");
    ASSERT_TRUE(sheet);
    std::vector<std::string> order;
    for (const Addition& a : sheet->additions) {
        EXPECT_EQ(a.into, kBlender);
        order.push_back(a.material);
    }
    EXPECT_EQ(order,
              (std::vector<std::string>{"sodium fluoride", "sodium carbonate", "sodium chloride",
                                        "sodium sulfate", "magnesium sulfate", "strontium chloride",
                                        "calcium chloride", "magnesium chloride"}));
    EXPECT_EQ(sheet->premix_carrier, "");
}

TEST(Sheets, SmallPortionsBelowWhatAScaleWeighsWellAreTold) {
    const std::vector<Scale> scales = {scale("floor", 0.01, 600)};
    const auto sheet = sheet_for(portions(), 1000, scales, "2026-01-01");
    ASSERT_TRUE(sheet);
    ASSERT_FALSE(sheet->notices.empty());
    EXPECT_THAT(sheet->notices.front(), HasSubstr("boric acid"));
}

TEST(Sheets, SharesThatDoNotSumToOneAreRefused) {
    std::vector<Portion> some = portions();
    some.pop_back();
    EXPECT_FALSE(sheet_for(some, 1000, std::vector<Scale>{scale("W", 0.01, 600)}, "2026-01-01"));
    EXPECT_FALSE(sheet_for(portions(), 0, std::vector<Scale>{scale("W", 0.01, 600)}, "2026-01-01"));
    EXPECT_FALSE(sheet_for(portions(), 1000, std::vector<Scale>{}, "2026-01-01"));
}

struct AtTheScale : testing::Test {
    Batch batch;
    Addition addition{3, "sodium chloride", "A1", 100, 0.1, "floor", "blender", {}};
    Weighing next;
    AtTheScale() {
        batch.number = "B26-0001-K";
        next.batch = batch.number;
        next.step = 3;
        next.material = "sodium chloride";
        next.lot = "A1";
        next.scale = "floor";
        next.net = "60 kg";
        next.net_kg = 60;
    }
    [[nodiscard]] Result<void> record(const std::vector<Weighing>& before) const {
        return may_record(batch, addition, before, next, 150);
    }
};

TEST_F(AtTheScale, AnAdditionIsWeighedInPartsUntilItIsWithin) {
    EXPECT_TRUE(record({}));
    EXPECT_EQ(state_of(addition, std::vector{next}).verdict, WeighingVerdict::Short);
    Weighing second = next;
    second.net_kg = 40.1;
    const std::vector<Weighing> both = {next, second};
    EXPECT_EQ(state_of(addition, both).verdict, WeighingVerdict::Within);
    EXPECT_EQ(state_of(addition, both).parts, 2);
    EXPECT_THAT(record(both).error().message, HasSubstr("in already"));
    second.net_kg = 40.2;
    EXPECT_EQ(state_of(addition, std::vector{next, second}).verdict, WeighingVerdict::Over);
}

TEST_F(AtTheScale, AnotherLotOrMaterialIsRefused) {
    next.lot = "A2";
    EXPECT_THAT(record({}).error().message, HasSubstr("A1 of sodium chloride is wanted"));
    next.lot = "A1";
    next.material = "sodium chlorate";
    EXPECT_FALSE(record({}));
}

TEST_F(AtTheScale, NothingOrMoreThanTheScaleCarriesIsRefused) {
    next.net_kg = 0;
    EXPECT_EQ(record({}).error().code, ProblemCode::OutOfRange);
    next.net_kg = 151;
    EXPECT_THAT(record({}).error().message, HasSubstr("check the unit"));
}

TEST_F(AtTheScale, ABatchChangedForItsLotsWaitsForItsApproval) {
    batch.changes.push_back({"sodium chloride", 0.7, 0.71});
    EXPECT_THAT(record({}).error().message, HasSubstr("not approved yet"));
    batch.adjustment_approved = Signature{};
    EXPECT_TRUE(record({}));
}

TEST_F(AtTheScale, NothingIsWeighedOnceABatchIsBlended) {
    batch.state = BatchState::Blended;
    EXPECT_FALSE(record({}));
}

TEST_F(AtTheScale, MoreOutThanInIsNoYield) {
    batch.state = BatchState::Blended;
    next.net_kg = 100;
    const std::vector<Weighing> in = {next};
    EXPECT_TRUE(check_yield(batch, {99, 0.5, 0.2, 10}, in, ""));
    EXPECT_FALSE(check_yield(batch, {102, 0, 0, 10}, in, ""));
    EXPECT_FALSE(check_yield(batch, {-1, 0, 0, 10}, in, ""));
    batch.state = BatchState::Weighing;
    EXPECT_FALSE(check_yield(batch, {99, 0, 0, 10}, in, ""));
}

TEST(Samples, ThePlanTakesTenPlacesAndAtLeastAUsersDose) {
    EXPECT_EQ(plan_for(37.9).increments, 10);
    EXPECT_DOUBLE_EQ(plan_for(37.9).increment_g, 40);
    EXPECT_DOUBLE_EQ(plan_for(42.1).increment_g, 45);
}

TEST(Samples, FewerIncrementsAndAScoopAreToldAndNothingIsRefused) {
    Sample sample;
    sample.plan = plan_for(38);
    sample.increments = 4;
    sample.mass_g = 120;
    sample.split_by = "Scoop";
    ASSERT_TRUE(check_sample(sample, "the batch was small"));
    EXPECT_EQ(sample.notices.size(), 3U);
    sample.increments = 0;
    EXPECT_FALSE(check_sample(sample, "the batch was small"));
}

TEST(Samples, FarBelowThePlanAskForAReason) {
    // Ten increments of 40 g are planned: less than half of them is asked about.
    const auto taken = [](double mass_g, std::string_view why) {
        Sample sample;
        sample.plan = plan_for(38.5);
        sample.increments = 10;
        sample.mass_g = mass_g;
        const auto good = check_sample(sample, why);
        EXPECT_TRUE(!good || sample.notices.size() == (mass_g < 400 || mass_g > 800 ? 1U : 0U));
        return good ? std::string() : good.error().place.field + ": " + good.error().message;
    };
    EXPECT_EQ(taken(400, ""), "");
    EXPECT_EQ(taken(399, ""), "");
    EXPECT_EQ(taken(200, ""), "");
    EXPECT_EQ(
        taken(199, ""),
        "why: the sample is 199 g, and the plan asks for 400 g (10 increments of 40 g): check "
        "the mass and its unit; if it is so, give the reason");
    EXPECT_NE(taken(4.8, "  "), "");
    EXPECT_EQ(taken(4.8, "the rest of a lost batch"), "");
    // And more than twice of them.
    EXPECT_EQ(taken(800, ""), "");
    EXPECT_EQ(
        taken(4800, ""),
        "why: the sample is 4800 g, and the plan asks for 400 g (10 increments of 40 g): check "
        "the mass and its unit; if it is so, give the reason");
    EXPECT_EQ(taken(4800, "a customer tests too"), "");
}

TEST(Samples, AllTogetherAreNoMoreThanTheBatchOrWhatPackingLeft) {
    Batch batch;
    batch.size_kg = 10;
    Weighing in;
    in.net_kg = 10;
    const std::vector<Weighing> weighings = {in};
    const auto taken = [&](double before_g, double mass_g, std::string_view why = "") {
        Sample first, next;
        first.mass_g = before_g;
        next.mass_g = mass_g;
        next.mass = fmt::format("{} g", mass_g);
        const std::vector<Sample> before = {first};
        const auto good = check_left(batch, weighings, before, next, why);
        EXPECT_EQ(next.notices.empty(), !good || why.empty());
        return good ? std::string() : good.error().place.field + ": " + good.error().message;
    };
    EXPECT_EQ(taken(5000, 5000), "");
    EXPECT_EQ(taken(5000, 5001),
              "mass: the sample, 5001 g, and the 1 before it are 10.001 kg together, more than the "
              "whole batch of 10 kg: check the mass and its unit");
    batch.yield = Yield{9, 0.5, 0.4, 2};  // 0.6 kg left, and scales may gain 1 % of 10 kg
    EXPECT_EQ(taken(500, 199), "");
    EXPECT_EQ(taken(500, 201),
              "why: the sample, 201 g, and the 1 before it are 0.701 kg together, more than the "
              "0.6 kg that packing and sweeping left over: check the mass and its unit; if a pack "
              "was opened for it, give that as the reason");
    EXPECT_EQ(taken(500, 201, "a pack was opened"), "");
}

}  // namespace
}  // namespace bw::works
