// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// What is weighed into a batch: the question about a likely wrong unit, what comes next, and that
// the screen and the paper say the same.
#include <gmock/gmock.h>
#include <nlohmann/json.hpp>

#include "command/command_run.hpp"
#include "service/workroom_papers.hpp"
#include "works/works_day.hpp"

namespace bw::worksday {
namespace {

using nlohmann::json;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

class WeighingDay : public WorksDay {
protected:
    std::string plan(double kg) {
        return BW_MUST(
                   service::plan_batch(desk("pia"), {kProduct, kg, true, false, {}, ""}, intent()))
            .answer;
    }
    works::Batch batch(const std::string& number) {
        return BW_MUST(service::kept<works::Batch>(*books_, number)).is;
    }
    Result<std::vector<service::WeighingOutcome>> weigh(const std::string& number,
                                                        const works::Addition& a,
                                                        const std::string& net,
                                                        bool confirmed = false) {
        return service::weigh(desk("otto"), number, {{a.step, a.lot, "", net, "", true, confirmed}},
                              intent());
    }
    json shown(const std::string& noun, const std::string& verb, const std::string& id) {
        const auto out = command_test::run_here({noun, verb, id, "--books", place_, "--json"});
        EXPECT_EQ(out.code, 0) << out.err;
        return json::parse(out.out);
    }
};

BW_ON_BOTH(WeighingDay);

TEST_P(WeighingDay, AMassThatItsScaleCannotShowIsRecordedOnlyOnceConfirmed) {
    const std::string number = plan(10);
    const works::Addition a = batch(number).additions.back();  // 389.6 g on a scale of 0.1 g steps
    const auto asked = weigh(number, a, "389.25 g");
    ASSERT_FALSE(asked);
    EXPECT_EQ(asked.error().place.field, "confirmed");
    EXPECT_THAT(asked.error().message, HasSubstr("shows 389.2 or 389.3 g"));
    EXPECT_EQ(shown("batch", "show", number).at("batch").at("additions").back().at("scale_step"),
              "0.1");
    EXPECT_TRUE(BW_MUST(weigh(number, a, "389.25 g", true)).front().weighing.confirmed);
}

TEST_P(WeighingDay, AMassFarFromWhatIsWantedIsRecordedOnlyOnceConfirmed) {
    const std::string number = plan(10);  // calcium chloride: 389.6 g
    const works::Addition a = batch(number).additions.back();
    ASSERT_LT(a.target_kg, 1);
    const std::string kilograms = fmt::format("{:.4f} g", a.target_kg);  // the scale showed kg
    const auto asked = weigh(number, a, kilograms);
    ASSERT_FALSE(asked);
    EXPECT_EQ(asked.error().code, ProblemCode::BadInput);
    EXPECT_EQ(asked.error().place.field, "confirmed");
    EXPECT_THAT(asked.error().message,
                HasSubstr(kilograms + " is about a thousandth of the 389.6 g wanted now: did the "
                                      "scale show kg?"));
    EXPECT_THAT(BW_MUST(service::weighings_of(*books_, number)), IsEmpty());
    const auto outcomes = BW_MUST(weigh(number, a, kilograms, true));
    EXPECT_TRUE(outcomes.front().weighing.confirmed);
    EXPECT_EQ(outcomes.front().state.verdict, works::WeighingVerdict::Short);
    EXPECT_FALSE(BW_MUST(weigh(number, a, "389.2 g")).front().weighing.confirmed);
}

TEST_P(WeighingDay, ACorrectionIsAskedAboutLikeAWeighing) {
    const std::string number = plan(10);
    const works::Addition a = batch(number).additions.back();
    BW_MUST(weigh(number, a, fmt::format("{:.1f} g", a.target_kg * 1000)));
    const std::string id = fmt::format("{}/{}.1", number, a.step);
    const auto correct = [&](bool confirmed) {
        return service::correct_weighing(desk("otto"), id, "0.39 g", confirmed,
                                         intent("the unit was wrong"));
    };
    const auto asked = correct(false);
    ASSERT_FALSE(asked);
    EXPECT_EQ(asked.error().place.field, "confirmed");
    BW_MUST(correct(true));
    EXPECT_TRUE(BW_MUST(service::weighings_of(*books_, number)).front().confirmed);
}

TEST_P(WeighingDay, WhatComesNextAsksForTheMissingDeparture) {
    const std::string number = plan(10);
    const works::Batch of = batch(number);
    for (const works::Addition& a : of.additions) {
        const int places = a.scale == "F1" ? 2 : 4;  // what it shows
        const double kg = a.target_kg * (a.step == 1 ? 1.03 : 1);
        BW_MUST(weigh(number, a, fmt::format("{:.{}f} kg", kg, places)));
    }
    json next = shown("batch", "show", number).at("next");
    EXPECT_EQ(next.at("act"), "raise departure");
    EXPECT_EQ(next.at("over_steps"), json::array({1}));
    const auto text = command_test::run_here({"batch", "show", number, "--books", place_});
    EXPECT_THAT(text.out, HasSubstr("next: raise a departure about step 1"));
    EXPECT_FALSE(service::blend_batch(desk("otto"), number, intent()));
    explain(number, 1);
    next = shown("batch", "show", number).at("next");
    EXPECT_EQ(next.at("act"), "blend");
    BW_MUST(service::blend_batch(desk("otto"), number, intent()));
    EXPECT_EQ(shown("batch", "show", number).at("next").at("act"), "made");
}

TEST_P(WeighingDay, ScreenAndPaperHaveOneUnitAndTheSameDigitsForALine) {
    const std::string number = plan(10);
    const works::Addition last = batch(number).additions.back();
    BW_MUST(weigh(number, last, fmt::format("{:.4f} kg", last.target_kg)));
    const report::BatchSheet paper =
        BW_MUST(service::batch_sheet(*books_, number, "2026-03-09T10:00:00.000Z"));
    const json sheet = shown("batch", "sheet", number);
    ASSERT_EQ(paper.additions.size(), sheet.at("batch").at("additions").size());
    for (std::size_t i = 0; i < paper.additions.size(); ++i) {
        const json& line = sheet.at("batch").at("additions")[i];
        const json& printed = sheet.at("paper").at("additions")[i];
        for (const char* key : {"target", "tolerance", "unit"}) {
            EXPECT_EQ(line.at(key), printed.at(key)) << key;
        }
        EXPECT_EQ(line.at("target"), paper.additions[i].target);
        EXPECT_EQ(line.at("unit"), paper.additions[i].unit);
        EXPECT_EQ(paper.additions[i].unit, batch(number).additions[i].target_kg < 1 ? "g" : "kg");
    }
    const report::SheetAddition& grams = paper.additions.back();
    EXPECT_EQ(grams.target, "389.6");
    EXPECT_EQ(grams.weighings.front().net, "389.6") << "typed in kg, written in the line's unit";
    const json& weighed = sheet.at("paper").at("additions").back().at("weighings")[0];
    EXPECT_EQ(weighed.at("net"), "389.6");
    EXPECT_EQ(weighed.at("by_hand"), true);
}

TEST_P(WeighingDay, TheScreenHasWhatThePaperSaysBesides) {
    const std::string number = plan(10);
    const report::BatchSheet paper =
        BW_MUST(service::batch_sheet(*books_, number, "2026-03-09T10:00:00.000Z"));
    const json sheet = shown("batch", "sheet", number).at("paper");
    EXPECT_EQ(sheet.at("before_start").get<std::vector<std::string>>(), paper.before_start);
    EXPECT_EQ(sheet.at("sampling").get<std::vector<std::string>>(), paper.sampling);
    EXPECT_EQ(sheet.at("safety").at("signed_for").get<std::vector<std::string>>(),
              paper.safety.signed_for);
    EXPECT_FALSE(paper.before_start.empty() || paper.sampling.empty());
    const auto text = command_test::run_here({"batch", "sheet", number, "--books", place_});
    EXPECT_THAT(text.out, HasSubstr("Before the start"));
    EXPECT_THAT(text.out, HasSubstr("389.6"));
}

TEST_P(WeighingDay, WaterAgainstTargetIsOfTheWeighedMassesWhereThereAreSome) {
    const std::string number = plan(10);
    const works::Batch of = batch(number);
    const json planned = shown("batch", "show", number);
    EXPECT_EQ(planned.at("water_masses"), "planned masses: nothing is weighed yet");
    const auto achieved = [](const json& show, const char* what) {
        for (const json& goal : show.at("water_against_target")) {
            if (goal.at("what") == what) {
                return goal.at("achieved").get<double>();
            }
        }
        ADD_FAILURE() << what;
        return 0.0;
    };
    // Half of the last line, and more to come: planned. Then 3 % over in all.
    const works::Addition& last = of.additions.back();  // calcium chloride
    BW_MUST(weigh(number, last, fmt::format("{:.4f} kg", last.target_kg / 2)));
    json show = shown("batch", "show", number);
    EXPECT_EQ(show.at("water_masses"), "planned masses: nothing is weighed yet");
    EXPECT_DOUBLE_EQ(achieved(show, "Ca"), achieved(planned, "Ca"));
    const double in_kg = BW_MUST(service::weighings_of(*books_, number)).front().net_kg;
    BW_MUST(weigh(number, last, fmt::format("{:.4f} kg", 1.03 * last.target_kg - in_kg)));
    show = shown("batch", "show", number);
    EXPECT_EQ(show.at("water_masses"),
              fmt::format("weighed masses of 1 of {} steps, planned masses of the others",
                          of.additions.size()));
    const double blend = 1 + 0.03 * last.target_kg / of.size_kg;
    EXPECT_NEAR(achieved(show, "Ca") / achieved(planned, "Ca"), 1.03 / blend, 2e-4);
    EXPECT_NEAR(achieved(show, "Mg") / achieved(planned, "Mg"), 1 / blend, 1e-5);
    const auto text = command_test::run_here({"batch", "show", number, "--books", place_});
    EXPECT_THAT(text.out, HasSubstr("of weighed masses of 1 of"));
}

TEST_P(WeighingDay, ADepartureSaysThatItsWeighingWasCorrectedSince) {
    const std::string number = plan(10);
    const works::Batch of = batch(number);
    for (const works::Addition& a : of.additions) {
        const int places = a.scale == "F1" ? 2 : 4;  // what it shows
        const double kg = a.target_kg * (a.step == 1 ? 1.03 : 1);
        BW_MUST(weigh(number, a, fmt::format("{:.{}f} kg", kg, places)));
    }
    const std::string id = number + "/1.1";
    const auto correct = [&](double kg) {
        // Its scale shows 0.01 kg steps.
        BW_MUST(service::correct_weighing(desk("otto"), id, fmt::format("{:.2f} kg", kg), false,
                                          intent("read again")));
    };
    correct(1.031 * of.additions.front().target_kg);  // before the departure: it knew
    explain(number, 1);
    const auto remarks = [&] {
        return shown("batch", "show", number).at("departures").at(0).at("remarks");
    };
    EXPECT_EQ(remarks(), json::array());
    const std::string net = fmt::format("{:.2f} kg", of.additions.front().target_kg);
    correct(of.additions.front().target_kg);
    ASSERT_EQ(remarks().size(), 1U);
    EXPECT_THAT(
        remarks()[0].get<std::string>(),
        HasSubstr(fmt::format("weighing {} was corrected since to {} by otto at ", id, net)));
    const json corrections = shown("batch", "show", number).at("corrections");
    ASSERT_EQ(corrections.size(), 1U) << "the newest of each weighing";
    EXPECT_THAT(corrections[0].get<std::string>(),
                testing::AllOf(
                    HasSubstr(fmt::format("weighing {} was corrected to {} by otto at ", id, net)),
                    testing::EndsWith(": read again")));
    EXPECT_THAT(remarks()[0].get<std::string>(), HasSubstr(": read again"));
    const auto text = command_test::run_here({"batch", "show", number, "--books", place_});
    EXPECT_THAT(text.out, HasSubstr("was corrected since"));
    const auto listed =
        command_test::run_here({"departure", "list", "--batch", number, "--books", place_});
    EXPECT_THAT(listed.out, HasSubstr("was corrected since"));
    const auto list = json::parse(command_test::run_here({"departure", "list", "--batch", number,
                                                          "--books", place_, "--json"})
                                      .out);
    EXPECT_EQ(list.at("departures").at(0).at("remarks"), remarks());
    const auto release = command_test::run_here({"release", "show", number, "--books", place_});
    EXPECT_THAT(release.out, HasSubstr("was corrected since"));
    const auto evidence = json::parse(
        command_test::run_here({"release", "show", number, "--books", place_, "--json"}).out);
    EXPECT_EQ(evidence.at("departures").at(0).at("remarks"), remarks());
}

TEST_P(WeighingDay, ABatchOfARetiredVersionSaysWhichOneIsInUse) {
    const std::string number = plan(10);
    EXPECT_EQ(shown("batch", "show", number).at("recipe_note"), "");
    draft();  // the next version, approved
    const std::string note = fmt::format(
        "recipe version {0}/1 is retired: {0}/2 is in use in its "
        "place",
        kProduct);
    EXPECT_EQ(shown("batch", "show", number).at("recipe_note"), note);
    const auto text = command_test::run_here({"batch", "show", number, "--books", place_});
    EXPECT_THAT(text.out, HasSubstr(note));
}

TEST_P(WeighingDay, WaterStandsAgainstTargetWhereItIsApproved) {
    const json version = shown("recipe", "show", kProduct + "/1");
    const json& goals = version.at("water_against_target");
    ASSERT_EQ(goals.size(), 5U);  // the salinity and four constituents
    EXPECT_EQ(goals[0].at("what"), "salinity");
    EXPECT_EQ(goals[1].at("what"), "Mg");
    EXPECT_EQ(goals[1].at("unit"), "mmol/kg");
    EXPECT_NEAR(goals[1].at("achieved").get<double>(), kMagnesium * 1000, 0.02);
    EXPECT_NEAR(goals[1].at("target").get<double>(), kMagnesium * 1000, 1e-4);
    EXPECT_GT(goals[1].at("u").get<double>(), 0);
    EXPECT_LT(goals[1].at("low").get<double>(), goals[1].at("high").get<double>());
    EXPECT_EQ(goals[1].at("inside"), true);
    draft();  // the next version, approved
    const json next = shown("recipe", "show", kProduct + "/2");
    EXPECT_EQ(next.at("replaces"), "");
    EXPECT_EQ(next.at("replaced"), kProduct + "/1");
    EXPECT_EQ(shown("batch", "show", plan(10)).at("water_against_target").size(), 5U);
}

}  // namespace
}  // namespace bw::worksday
