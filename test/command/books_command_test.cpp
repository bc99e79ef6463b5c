// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// The books' commands as they are called: what the trail shows, and what real books refuse.
#include <gmock/gmock.h>
#include <nlohmann/json.hpp>

#include "command_run.hpp"

namespace bw::command_test {
namespace {

using testing::HasSubstr;
using testing::Not;

class BooksCommand : public testing::Test {
protected:
    void SetUp() override {
        password_ = folder_.write("password", "a long invented password\n");
        books_ = folder_.path("books");
    }
    void begin(const std::vector<std::string>& more = {}) {
        must({"store", "init", "--books", books_, "--name", "A works", "--person", "ada",
              "--person-name", "Ada Min", "--password-file", password_},
             more);
        act("ada", {"person", "add", "fay", "--name", "Fay Two", "--duty", "formulator",
                    "--new-password-file", password_});
    }
    static std::string must(std::vector<std::string> arguments,
                            const std::vector<std::string>& more = {}) {
        arguments.insert(arguments.end(), more.begin(), more.end());
        const Outcome done = run_here(arguments);
        EXPECT_EQ(done.code, 0) << done.err;
        return done.out;
    }
    std::vector<std::string> as(const std::string& person, std::vector<std::string> arguments) {
        const std::vector<std::string> who = {"--books",         books_,   "--person", person,
                                              "--password-file", password_};
        arguments.insert(arguments.end(), who.begin(), who.end());
        return arguments;
    }
    void act(const std::string& person, const std::vector<std::string>& arguments) {
        must(as(person, arguments));
    }
    std::string material(const std::string& mark, const std::string& assay,
                         const std::string& note) const {
        return folder_.write("materials.toml",
                             "format = \"brinewright/1\"\nkind = \"materials\"\n" + mark +
                                 "[[material]]\nname = \"sodium chloride\"\nformula = \"NaCl\"\n"
                                 "assay = { value = \"" +
                                 assay + "\", u = \"0.1 %\" }\nnote = \"" + note + "\"\n");
    }

    TestFolder folder_;
    std::string password_, books_;
};

TEST_F(BooksCommand, BooksAreNotBegunWithAPasswordThatIsNone) {
    const std::string shortest = folder_.write("short", "pw-12345\n");
    const Outcome refused =
        run_here({"store", "init", "--books", books_, "--name", "A works", "--person", "ada",
                  "--person-name", "Ada Min", "--password-file", shortest});
    EXPECT_EQ(refused.code, 2);
    EXPECT_THAT(refused.err, HasSubstr("--password-file: a password has 15 to 1024 bytes"));
    begin();  // nothing stands in the way
}

TEST_F(BooksCommand, TheTrailShowsWhatChangedWhole) {
    begin();
    const std::string first(90, 'a');
    const std::string second = std::string(90, 'b') + " end";
    act("fay", {"material", "keep", material("", "99.8 %", first)});
    act("fay", {"material", "keep", material("", "99.9 %", second)});
    const std::vector<std::string> show = {"trail", "show",    "--books",
                                           books_,  "--about", "material/sodium chloride"};
    const std::string text = must(show);
    EXPECT_THAT(text, HasSubstr("material sodium chloride text.assay.value: 99.8 % -> 99.9 %"));
    EXPECT_THAT(text, HasSubstr(first));
    EXPECT_THAT(text, HasSubstr(std::string(90, 'b')));
    EXPECT_THAT(text, Not(HasSubstr("text.assay.u")));  // unchanged
    EXPECT_THAT(text, Not(HasSubstr("...")));
    const std::string brief = must(show, {"--short"});
    EXPECT_THAT(brief, Not(HasSubstr(first)));
    EXPECT_THAT(brief, HasSubstr("..."));
    const auto json = nlohmann::json::parse(must(show, {"--short", "--json"}));
    EXPECT_EQ(json.at("version"), 1);
    const auto& newest = json.at("entries").at(0).at("changes");
    ASSERT_EQ(newest.size(), 2U);
    EXPECT_EQ(newest.at(1).at("field"), "text.note");
    EXPECT_EQ(newest.at(1).at("before"), first);
    EXPECT_EQ(newest.at(1).at("after"), second);
    EXPECT_EQ(json.at("entries").at(1).at("changes").at(0).at("new"), true);
}

TEST_F(BooksCommand, RealBooksRefuseWhatIsMarkedInvented) {
    begin();
    const Outcome refused =
        run_here(as("fay", {"material", "keep", material("invented = true\n", "99.8 %", "")}));
    EXPECT_EQ(refused.code, 4);
    EXPECT_THAT(refused.err, HasSubstr("materials.toml:3"));
    EXPECT_THAT(refused.err, HasSubstr("marked invented"));
    EXPECT_THAT(must({"trail", "show", "--books", books_}), Not(HasSubstr("material keep")));
}

TEST_F(BooksCommand, InventedBooksTakeIt) {
    begin({"--invented"});
    act("fay", {"material", "keep", material("invented = true\n", "99.8 %", "")});
    EXPECT_THAT(must({"trail", "show", "--books", books_}), HasSubstr("material keep"));
}

}  // namespace
}  // namespace bw::command_test
