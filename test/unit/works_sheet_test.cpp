// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "service/water_against_target.hpp"
#include "works/making_next.hpp"
#include "works/sheet_mass.hpp"
#include "works/weighing_doubt.hpp"

namespace bw::works {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

Addition addition(std::int64_t step, double target_kg, double tolerance_kg) {
    Addition a;
    a.step = step;
    a.material = "an invented salt";
    a.lot = "A26-0701";
    a.target_kg = target_kg;
    a.tolerance_kg = tolerance_kg;
    a.scale = "W2";
    a.into = kBlender;
    return a;
}
Weighing weighing(std::int64_t step, double net_kg, const std::string& net = "") {
    Weighing w;
    w.step = step;
    w.net_kg = net_kg;
    w.net = net;
    return w;
}
const Scale kFine{"W2", 0.0001, 6, 0, "", ServiceState::InService};
const Scale kCoarse{"W1", 0.01, 60, 0, "", ServiceState::InService};

TEST(SheetMass, HasOneUnitForALineAndTheDecimalsOfItsScale) {
    const MassForm small = form_of(addition(1, 0.1219, 0.0001), kFine);
    EXPECT_EQ(in_words(0.1219, small), "121.9 g");
    EXPECT_EQ(in_words(0.0001, small), "0.1 g");
    const MassForm large = form_of(addition(1, 4.4596, 0.0045), kFine);
    EXPECT_EQ(in_words(4.4596, large), "4.4596 kg");
    EXPECT_EQ(in_words(4.46, large), "4.4600 kg");
    EXPECT_EQ(in_words(483.2, form_of(addition(1, 483.2, 0.48), kCoarse)), "483.20 kg");
    EXPECT_EQ(in_words(1, form_of(addition(1, 1, 0.001), kFine)), "1.0000 kg");
    EXPECT_EQ(in_words(0.9999, form_of(addition(1, 0.9999, 0.001), kFine)), "999.9 g");
}

TEST(WeighingDoubt, AsksAboutAMassThatIsMoreLikelyAWrongUnitThanAPart) {
    const Addition line = addition(5, 0.1219, 0.0001);
    const auto doubt = [&](double kg, const std::string& typed,
                           const std::vector<Weighing>& before = {}) {
        return doubt_about(line, before, weighing(5, kg, typed), kFine);
    };
    EXPECT_EQ(doubt(0.0001219, "0.1219 g"),
              "0.1219 g is about a thousandth of the 121.9 g wanted now: did the scale show kg?");
    EXPECT_EQ(doubt(121.9, "121.9 kg"),
              "121.9 kg is about a thousand times the 121.9 g wanted now: did the scale show g?");
    EXPECT_THAT(doubt(0.024, "24 g"), HasSubstr("less than a fifth of the 121.9 g"));
    EXPECT_THAT(doubt(0.6095, "609.5 g"), HasSubstr("five times or more of the 121.9 g"));
    EXPECT_EQ(doubt(0.0244, "24.4 g"), "");
    EXPECT_EQ(doubt(0.6094, "609.4 g"), "");
    EXPECT_EQ(doubt(0.0005, "0.5 g", {weighing(5, 0.1214)}), "") << "the rest is what is wanted";
    EXPECT_NE(doubt(0.1219, "121.9 g", {weighing(5, 0.1214)}), "") << "the tare was not taken off";
}

TEST(WeighingDoubt, AsksAboutADecimalPointThatSlippedByOnePlace) {
    const auto doubt = [&](double target_kg, double kg, const std::string& typed) {
        return doubt_about(addition(5, target_kg, 0.001 * target_kg), {}, weighing(5, kg, typed),
                           kFine);
    };
    EXPECT_EQ(doubt(0.6127, 6.127, "6.127 kg"),
              "6.127 kg is about ten times the 612.7 g wanted now: is the decimal point where the "
              "scale shows it?");
    EXPECT_EQ(doubt(1.2254, 0.12254, "0.12254 kg"),
              "0.12254 kg is about a tenth of the 1.2254 kg wanted now: is the decimal point where "
              "the scale shows it?");
    EXPECT_THAT(doubt(0.1219, 1.2, "1.2 kg"), HasSubstr("about ten times the 121.9 g"));
}

TEST(WeighingDoubt, AsksAboutAMassThatItsScaleCannotShow) {
    const Scale twenties{"W4", 0.02, 60, 0, "", ServiceState::InService};
    const Addition line = addition(3, 12.24, 0.02);
    const auto doubt = [&](double kg, const std::string& typed) {
        return doubt_about(line, {}, weighing(3, kg, typed), twenties);
    };
    EXPECT_EQ(doubt(12.244, "12.244 kg"),
              "12.244 kg lies between two steps of scale W4, which shows 12.24 or 12.26 kg: are "
              "the figures as the scale shows them?");
    EXPECT_THAT(doubt(12.25, "12.25 kg"), HasSubstr("shows 12.24 or 12.26 kg"));
    EXPECT_EQ(doubt(12.24, "12.24 kg"), "");
    EXPECT_EQ(doubt(0.1 + 0.2 + 11.94, "12.24 kg"), "") << "what binary adds is no other mass";
    EXPECT_THAT(doubt(1.225, "1.225 kg"), HasSubstr("about a tenth")) << "the larger slip first";
}

TEST(WeighingDoubt, DoesNotAskAboutWhatCompletesTheAddition) {
    const Addition line = addition(5, 2, 0.002);
    const std::vector<Weighing> before = {weighing(5, 1.9975)};  // 2.5 g short, 0.5 g are enough
    EXPECT_EQ(doubt_about(line, before, weighing(5, 0.00049999, "0.49999 g"), kFine).empty(),
              false);
    EXPECT_EQ(doubt_about(line, before, weighing(5, 0.0004, "0.4 g"), kFine).empty(), false);
    const std::vector<Weighing> nearly = {weighing(5, 1.9979)};  // 2.1 g short, 0.1 g are enough
    EXPECT_EQ(doubt_about(line, nearly, weighing(5, 0.0002, "0.2 g"), kFine), "");
}

TEST(WeighingDoubt, AsksPartByPartWhereTheScaleCarriesLess) {
    const Addition line = addition(9, 483, 0.5);
    EXPECT_EQ(doubt_about(line, {}, weighing(9, 25, "25 kg"), kCoarse), "");
    EXPECT_THAT(doubt_about(line, {}, weighing(9, 0.05, "0.05 kg"), kCoarse),
                HasSubstr("about a thousandth of the 53.67 kg"));
}

TEST(MakingNext, AsksForTheMissingDepartureBeforeTheBlending) {
    Batch batch;
    batch.number = "B26-0001-K";
    batch.state = BatchState::Weighing;
    batch.additions = {addition(1, 1, 0.01), addition(2, 2, 0.01)};
    std::vector<Weighing> in = {weighing(1, 1.5)};
    MakingNext next = next_of(batch, in, {});
    EXPECT_EQ(next.act, MakingAct::Weigh);
    EXPECT_THAT(next.short_steps, ElementsAre(2));
    EXPECT_THAT(next.over_steps, ElementsAre(1));
    in.push_back(weighing(2, 2));
    next = next_of(batch, in, {});
    EXPECT_EQ(next.act, MakingAct::RaiseDeparture);
    EXPECT_THAT(next.over_steps, ElementsAre(1));
    Departure told;
    told.subject_kind = kAddition;
    told.subject = "B26-0001-K/2";
    EXPECT_EQ(next_of(batch, in, std::vector{told}).act, MakingAct::RaiseDeparture)
        << "it is about another step";
    told.subject = "B26-0001-K/1";
    next = next_of(batch, in, std::vector{told});
    EXPECT_EQ(next.act, MakingAct::Blend);
    EXPECT_THAT(next.over_steps, IsEmpty());
}

TEST(MakingNext, ALotAdjustmentComesFirstAndAMadeBatchIsDone) {
    Batch batch;
    batch.additions = {addition(1, 1, 0.01)};
    batch.changes = {{"an invented salt", 0.5, 0.6}};
    EXPECT_EQ(next_of(batch, {}, {}).act, MakingAct::Approve);
    batch.adjustment_approved.emplace();
    EXPECT_EQ(next_of(batch, {}, {}).act, MakingAct::Weigh);
    batch.state = BatchState::Blended;
    EXPECT_EQ(next_of(batch, {}, {}).act, MakingAct::Made);
}

TEST(Succession, NamesTheVersionThatAnApprovalRetires) {
    RecipeVersion first, second;
    first.product = second.product = "Invented reef";
    first.number = 1;
    first.state = VersionState::InUse;
    first.approved = Signature{};
    first.approved->at = "2026-01-01T00:00:00.000Z";
    second.number = 2;
    second.state = VersionState::Offered;
    const auto of = [&] { return service::succession_of(second, std::vector{first, second}); };
    EXPECT_EQ(of().replaces, "Invented reef/1");
    EXPECT_EQ(of().replaced, "");
    first.state = VersionState::Retired;
    second.state = VersionState::InUse;
    second.approved = Signature{};
    second.approved->at = "2026-02-01T00:00:00.000Z";
    EXPECT_EQ(of().replaces, "");
    EXPECT_EQ(of().replaced, "Invented reef/1");
}

}  // namespace
}  // namespace bw::works
