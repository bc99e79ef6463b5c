// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// What the pages of the laboratory and of release are told, and when.
#include "service/duplicates.hpp"
#include "works/pages_day.hpp"

namespace bw::worksday {
namespace {

using testing::IsEmpty;
using testing::Not;

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

}  // namespace
}  // namespace bw::worksday
