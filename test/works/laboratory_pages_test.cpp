// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// What the pages of the laboratory and of release are told, and when.
#include <map>

#include "works/pages_day.hpp"

namespace bw::worksday {
namespace {

using testing::IsEmpty;
using testing::Not;
using works::Decision;

class LaboratoryDay : public PagesDay {
protected:
    /// Works in the books without the server, as a command does.
    template <class Work>
    void without_server(Work work) {
        server_.reset();
        books_.emplace(BW_MUST(store::Books::open(place_)));
        work();
        books_.reset();
        serve();
    }
};

BW_ON_BOTH(LaboratoryDay);

TEST_P(LaboratoryDay, DuplicatesFarApartAreRemarkedBeforeTheyAreEnteredAndAfter) {
    std::string one, two, run;
    without_server([&] {
        const std::string sample = take_sample(make_batch());
        one = dissolve(sample);
        two = dissolve(sample);
        run = enter({one});
    });
    const Session ana = sign_in("ana");
    const auto line = [&](double times) {
        return json{{"portion", two},
                    {"analyte", "Ca"},
                    {"method", "M-07"},
                    {"digits", digits(kCalcium * times)}};
    };
    const auto preview = [&](double times) {
        const std::string answer = ask({"POST",
                                        "/api/v1/entry/preview",
                                        json{{"results", {line(times)}}}.dump(),
                                        ana.cookie,
                                        ana.form_token,
                                        {}});
        EXPECT_EQ(status_of(answer), 200) << answer;
        return json::parse(wire::body_of(answer)).at("duplicates");
    };
    EXPECT_THAT(preview(1), IsEmpty());
    const json far = preview(1.02);  // 2 % apart, and 0.83 % are allowed
    ASSERT_EQ(far.size(), 1U);
    EXPECT_NEAR(far[0].at("apart_percent").get<double>(), 2.03, 0.02);
    EXPECT_NEAR(far[0].at("allowed_percent").get<double>(), 0.83, 0.01);
    EXPECT_THAT(far[0].at("sentence").get<std::string>(), HasSubstr("two more are wanted"));
    const std::string entered =
        act(ana, "results/enter",
            {{"request", "request d1"}, {"why", ""}, {"order", {{"results", {line(1.02)}}}}});
    ASSERT_EQ(status_of(entered), 200) << entered;
    for (const std::string& id :
         {run, json::parse(wire::body_of(entered)).at("answer").get<std::string>()}) {
        const json shown = json::parse(wire::body_of(get(ana, "view/results/show?run=" + id)));
        ASSERT_EQ(shown.at("result").at("duplicates").size(), 1U) << shown;
    }
}

TEST_P(LaboratoryDay, AReadingFarFromWhatItsBatchIsToHaveIsAskedAbout) {
    std::string portion;
    without_server([&] { portion = dissolve(take_sample(make_batch())); });
    const Session ana = sign_in("ana");
    const auto preview = [&](double times) {
        const json line = {{"portion", portion},
                           {"analyte", "Ca"},
                           {"method", "M-07"},
                           {"digits", digits(kCalcium * times)}};
        const json order = {{"results", {line}}};
        const std::string answer =
            ask({"POST", "/api/v1/entry/preview", order.dump(), ana.cookie, ana.form_token, {}});
        EXPECT_EQ(status_of(answer), 200) << answer;
        return json::parse(wire::body_of(answer)).at("far_from_wanted");
    };
    EXPECT_THAT(preview(1), IsEmpty());
    EXPECT_THAT(preview(4), IsEmpty());
    const json far = preview(0.1);
    ASSERT_EQ(far.size(), 1U);
    EXPECT_EQ(far[0].at("portion"), portion);
    EXPECT_NEAR(far[0].at("times").get<double>(), 0.1, 0.005);
    EXPECT_THAT(far[0].at("sentence").get<std::string>(), HasSubstr("about a tenth of the"));
}

TEST_P(LaboratoryDay, AFlagIsTrueOrFalseAndNothingElse) {
    const Session ana = sign_in("ana");
    for (const char* word : {"true", "false"}) {
        EXPECT_EQ(status_of(get(ana, fmt::format("records?kind=lot&descending={}", word))), 200);
    }
    for (const char* word : {"no", "yes", "1", "", "True"}) {
        const std::string answer = get(ana, fmt::format("records?kind=lot&descending={}", word));
        EXPECT_EQ(status_of(answer), 400) << word;
        const json problem = json::parse(wire::body_of(answer));
        EXPECT_EQ(problem.at("field"), "descending");
        EXPECT_THAT(problem.at("title").get<std::string>(), HasSubstr("true or false is allowed"));
    }
    EXPECT_EQ(status_of(get(ana, "view/certificate/draft?batch=B26-0001-K&with_lots=no")), 400);
    const json no = {{"files", json::object()}, {"given", {{"brief", "no"}}}};
    const std::string refused =
        ask({"POST", "/api/v1/compute/recipe/solve", no.dump(), ana.cookie, ana.form_token, {}});
    EXPECT_EQ(status_of(refused), 400);
    EXPECT_EQ(json::parse(wire::body_of(refused)).at("field"), "given.brief");
}

TEST_P(LaboratoryDay, APageIsToldBeforeAnybodySignsWhichDecisionWouldBeTaken) {
    std::string batch;
    without_server([&] {
        batch = ready();
        BW_MUST(decide("quinn", batch, Decision::Hold, "a pack is looked at"));
        works::Departure d;
        d.subject_kind = "batch";
        d.subject = batch;
        d.batch = batch;
        d.what = "a pack was found torn";
        BW_MUST(service::raise_departure(desk("otto"), d, intent()));
    });
    const auto choices = [&](const std::string& who) {
        const std::string answer = get(sign_in(who), "decisions?batch=" + batch);
        EXPECT_EQ(status_of(answer), 200) << answer;
        std::map<std::string, json> out;
        const json told = json::parse(wire::body_of(answer));
        for (const json& choice : told.at("choices")) {
            EXPECT_EQ(choice.at("taken").get<bool>(), choice.at("hinders").empty());
            out[choice.at("decision")] = choice;
        }
        return out;
    };
    auto quade = choices("quade");
    ASSERT_EQ(quade.size(), 4U);
    ASSERT_EQ(quade["release"].at("hinders").size(), 1U) << quade["release"];
    EXPECT_THAT(quade["release"].at("hinders")[0].get<std::string>(),
                HasSubstr("a pack was found torn"));
    EXPECT_FALSE(quade["hold"].at("taken").get<bool>());  // it is on hold already
    EXPECT_TRUE(quade["reject"].at("taken").get<bool>());
    EXPECT_TRUE(quade["rework"].at("taken").get<bool>());
    for (const auto& [decision, choice] : choices("ana")) {
        EXPECT_THAT(choice.at("hinders")[0].get<std::string>(), HasSubstr("quality manager"))
            << decision;
    }
    // What is told to hinder is what refuses.
    const Session who = sign_in("quade");
    const json shown = json::parse(wire::body_of(get(who, "view/release/show?batch=" + batch)));
    const std::string refused = act(
        who, "release/decide",
        {{"request", "request r1"},
         {"why", "as planned"},
         {"signing", {{"password", kPassword}}},
         {"order",
          {{"batch", batch}, {"decision", "release"}, {"shown", shown.at("result").at("mark")}}}});
    EXPECT_EQ(status_of(refused), 403);
    EXPECT_THAT(json::parse(wire::body_of(refused)).at("title").get<std::string>(),
                HasSubstr(quade["release"].at("hinders")[0].get<std::string>()));
}

TEST_P(LaboratoryDay, AProblemOfACommandNamesFieldsAndNoOptions) {
    const Session ana = sign_in("ana");
    const auto problem = [&](const std::string& path, const json& body) {
        const std::string answer =
            ask({"POST", "/api/v1/compute/" + path, body.dump(), ana.cookie, ana.form_token, {}});
        EXPECT_EQ(status_of(answer), 400) << answer;
        return json::parse(wire::body_of(answer));
    };
    const json none = {{"files", json::object()}, {"given", json::object()}};
    for (const char* path : {"vat/plan", "vat/correct", "vat/mix", "calibration-fluid/plan",
                             "blend/dry", "recipe/solve", "reading/convert"}) {
        EXPECT_THAT(problem(path, none).at("title").get<std::string>(), Not(HasSubstr("--")))
            << path;
    }
    const json bad = problem("vat/plan", {{"files", json::object()},
                                          {"given", {{"salinity", "35"}, {"volume", "a bucket"}}}});
    EXPECT_EQ(bad.at("field"), "volume");
    EXPECT_THAT(bad.at("title").get<std::string>(), Not(HasSubstr("--")));
    // Refused by a rule of the works, not by a command.
    const std::string refused =
        act(sign_in("quinn"), "lot/hold",
            {{"request", "request f1"}, {"why", ""}, {"order", {{"lot", "A26-0107"}}}});
    EXPECT_EQ(status_of(refused), 400);
    EXPECT_EQ(json::parse(wire::body_of(refused)).at("title"),
              "lot A26-0107 becomes on hold for a reason: give the reason");
}

}  // namespace
}  // namespace bw::worksday
