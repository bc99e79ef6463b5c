// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// A request number is for one order: commands as they are typed, on both databases.
#include <filesystem>
#include <fstream>
#include <sstream>

#include <gmock/gmock.h>

#include "command/command_run.hpp"
#include "works/works_day.hpp"

namespace bw::worksday {
namespace {

using command_test::Outcome;
using command_test::run_here;
using testing::HasSubstr;

class OrderDay : public WorksDay {
protected:
    void SetUp() override {
        WorksDay::SetUp();
        keep_rules();
        folder_ = std::filesystem::temp_directory_path() / ("order-" + store::random_hex(8));
        std::filesystem::create_directory(folder_);
        write("password", kPassword + "\n");
    }
    void TearDown() override {
        std::filesystem::remove_all(folder_);
        WorksDay::TearDown();
    }
    std::string write(const std::string& name, const std::string& text) {
        const std::string path = folder_ / name;
        std::ofstream(path, std::ios::binary) << text;
        return path;
    }
    Outcome run(std::vector<std::string> words, const std::string& person,
                const std::string& request = "one number") {
        for (const std::string& word :
             {std::string("--books"), place_, std::string("--person"), person,
              std::string("--password-file"), (folder_ / "password").string(),
              std::string("--request"), request, std::string("--at"), at()}) {
            words.push_back(word);
        }
        books_.reset();  // the command writes: one writer at a time
        Outcome out = run_here(words);
        books_.emplace(BW_MUST(store::Books::open(place_)));
        return out;
    }
    std::filesystem::path folder_;
};

BW_ON_BOTH(OrderDay);

TEST_P(OrderDay, OtherResultsUnderTheSameNumberAreRefused) {
    const std::string batch = make_batch();
    const std::string portion = dissolve(take_sample(batch));
    const auto enter = [&](const std::string& result, const std::string& device) {
        return run({"results", "enter", result, "--portion", portion, "--method", "M-07",
                    "--device", device},
                   "ana");
    };
    const Outcome first = enter("Ca=9.8 mmol/kg", "tablet 1");
    EXPECT_EQ(first.code, 0) << first.err;
    const Outcome again = enter("Ca=9.8 mmol/kg", "tablet 2");
    EXPECT_EQ(again.code, 0) << again.err;
    EXPECT_THAT(again.out, HasSubstr("done before"));
    const Outcome other = enter("Ca=9.9 mmol/kg", "tablet 1");
    EXPECT_EQ(other.code, 4) << other.out;
    EXPECT_THAT(other.err, HasSubstr("was used for another order"));
    EXPECT_THAT(other.err, HasSubstr("give this order a new number"));
    EXPECT_EQ(BW_MUST(service::runs_of(*books_, batch)).size(), 1U);
}

TEST_P(OrderDay, ResultsOfSeveralPortionsAreOneRun) {
    const std::string batch = make_batch();
    const std::string one = dissolve(take_sample(batch));
    const std::string two = dissolve(take_sample(batch));
    const std::vector<std::string> enter = {"results",         "enter",    one + ": Ca=9.8 mmol/kg",
                                            "Ca=9.81 mmol/kg", "--method", "M-07"};
    const Outcome nameless = run(enter, "ana");
    EXPECT_EQ(nameless.code, 2) << nameless.out;
    EXPECT_THAT(nameless.err,
                HasSubstr("brinewright: RESULT: 'Ca=9.81 mmol/kg' names no test portion"));
    auto both = enter;
    both.insert(both.end(), {"--portion", two});
    const Outcome good = run(both, "ana");
    EXPECT_EQ(good.code, 0) << good.err;
    const auto runs = BW_MUST(service::runs_of(*books_, batch));
    ASSERT_EQ(runs.size(), 1U);
    ASSERT_EQ(runs[0].is.results.size(), 2U);
    EXPECT_EQ(runs[0].is.results[0].portion, one);
    EXPECT_EQ(runs[0].is.results[1].portion, two);
}

TEST_P(OrderDay, ADepartureIsAboutAStepOrAboutWhatTheTestsShow) {
    const std::string batch = make_batch();
    const auto raise = [&](const std::vector<std::string>& more) {
        std::vector<std::string> words = {"departure", "raise", "--batch", batch, "--what", "seen"};
        words.insert(words.end(), more.begin(), more.end());
        return run(words, "otto");
    };
    const Outcome unknown = raise({"--about", "weather"});
    EXPECT_EQ(unknown.code, 2);
    EXPECT_THAT(unknown.err, HasSubstr("'weather' is not known: write making, samples"));
    EXPECT_EQ(raise({"--about", "fault", "--step", "1"}).code, 2);
    EXPECT_EQ(raise({"--about", "fault"}).code, 0);
    const auto departures = BW_MUST(service::departures_of(*books_, batch));
    ASSERT_EQ(departures.size(), 1U);
    EXPECT_EQ(departures[0].about, works::Concern::Fault);
}

TEST_P(OrderDay, AFileIsItsBytesNotItsName) {
    const std::string text =
        "format = \"brinewright/1\"\nkind = \"lots\"\n[[lot]]\nmaterial = \"sodium chloride\"\n"
        "number = \"A1\"\nstock = \"10 kg\"\nsupplier = \"Invented salts\"\n";
    const Outcome first = run({"lot", "receive", write("lots.toml", text)}, "rex");
    EXPECT_EQ(first.code, 0) << first.err;
    EXPECT_THAT(first.out, HasSubstr("1 lot is received"));
    const Outcome moved = run({"lot", "receive", write("moved.toml", text)}, "rex");
    EXPECT_EQ(moved.code, 0) << moved.err;
    EXPECT_THAT(moved.out, HasSubstr("done before"));
    const Outcome other =
        run({"lot", "receive", write("lots.toml", text + "use_by = \"2027-01-01\"\n")}, "rex");
    EXPECT_EQ(other.code, 4) << other.out;
    EXPECT_THAT(other.err, HasSubstr("another order"));
}

TEST_P(OrderDay, PagesOfSuppliersAreAsWideAsAPage) {
    works::Supplier s = supplier();
    s.name = "Many salts";
    s.materials.clear();
    for (int i = 0; i < 12; ++i) {
        const std::string name = fmt::format("invented salt number {}", i);
        const auto file = BW_MUST(io::parse_document(
            fmt::format("format = \"brinewright/1\"\nkind = \"materials\"\nname = \"more\"\n"
                        "invented = true\n[[material]]\nname = \"{}\"\nformula = \"NaCl\"\n"
                        "assay = {{ value = \"100 %\", u = \"0.1 %\" }}\n",
                        name),
            "test"));
        BW_MUST(service::keep_materials(desk("pia"), file, intent()));
        s.materials.push_back(name);
    }
    BW_MUST(service::keep_supplier(desk("rex"), s, intent()));
    const Outcome list = run_here({"supplier", "list", "--books", place_});
    EXPECT_THAT(list.out, HasSubstr("Many salts: approved, to be reviewed by 2026-12-31"));
    const Outcome show = run_here({"supplier", "show", s.name, "--books", place_});
    EXPECT_THAT(show.out, HasSubstr("The books hold no tests of lots"));
    std::istringstream lines(list.out + show.out);
    for (std::string line; std::getline(lines, line);) {
        EXPECT_LE(line.size(), 100U) << line;
    }
}

TEST_P(OrderDay, ARepeatedPersonKeepsTheirPassword) {
    const auto add = [&](const std::string& name, const std::string& password) {
        return run({"person", "add", "new", "--name", name, "--duty", "analyst",
                    "--new-password-file", write("new", password + "\n")},
                   "ada");
    };
    const Outcome first = add("The new", "the first long password");
    ASSERT_EQ(first.code, 0) << first.err;
    EXPECT_EQ(add("The new", "the first long password").code, 0);
    const Outcome other = add("The new", "another long password");
    EXPECT_EQ(other.code, 4);
    EXPECT_THAT(other.err, HasSubstr("was used for another order"));
    EXPECT_EQ(add("Another", "another long password").code, 4);
    EXPECT_TRUE(BW_MUST(books_->check_password("new", "the first long password", at())).right);
}

// What a person signs in with is a part of the act that sets it.
TEST_P(OrderDay, AnActThatFailsLeavesThePassword) {
    const auto set = [&](const std::string& password, const std::string& why) {
        service::Intent one = intent();
        one.why = why;
        return service::set_person(desk("ada"), {"wren", "The wren", {works::Duty::Analyst}},
                                   password, one);
    };
    const auto opens = [&](const std::string& password) {
        return BW_MUST(books_->check_password("wren", password, at())).right;
    };
    BW_MUST(set("the first long password", ""));
    const auto failed = set("another long password", std::string(1 << 20, 'a'));
    ASSERT_FALSE(failed);
    EXPECT_EQ(failed.error().code, ProblemCode::TooLarge);
    EXPECT_TRUE(opens("the first long password"));
    BW_MUST(set("another long password", "forgotten"));
    EXPECT_TRUE(opens("another long password"));
    EXPECT_FALSE(opens("the first long password"));
}

TEST_P(OrderDay, WhoWasStoppedIsActiveAgainWithANewPasswordOnly) {
    int number = 0;
    const auto add = [&](std::vector<std::string> more) {
        std::vector<std::string> all = {"person", "add",    "wren",   "--name",
                                        "Wren",   "--duty", "analyst"};
        all.insert(all.end(), more.begin(), more.end());
        return run(all, "ada", "number " + std::to_string(++number));
    };
    const std::string file = write("new", "the first long password\n");
    EXPECT_EQ(add({}).code, 2);
    const Outcome first = add({"--new-password-file", file});
    EXPECT_THAT(first.out, HasSubstr("Wren is in the books.")) << first.err;
    ASSERT_EQ(run({"person", "stop", "wren", "--why", "left"}, "ada", "to stop").code, 0);
    EXPECT_FALSE(BW_MUST(books_->has_password("wren")));
    const Outcome bare = add({});
    EXPECT_EQ(bare.code, 2);
    EXPECT_THAT(bare.err, HasSubstr("wren was stopped and needs a password"));
    const Outcome again = add({"--new-password-file", file});
    EXPECT_THAT(again.out, HasSubstr("Wren is in the books, active again.")) << again.err;
}

}  // namespace
}  // namespace bw::worksday
