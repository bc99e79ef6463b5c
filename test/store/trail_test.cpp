// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "store/trail.hpp"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>

#include <fmt/format.h>

#include "figure.hpp"
#include "store/digest.hpp"
#include "store/ground.hpp"
#include "store/tamper.hpp"

namespace bw::store {
namespace {

namespace fs = std::filesystem;
using ground::kMorning;
using ground::must;

class Trail : public ground::OnBoth {
protected:
    /// Whether a look at the books finds something wrong, or they do not even open.
    static bool found(const std::string& place, const std::optional<std::string>& mark,
                      std::string* sentence = nullptr) {
        auto books = Books::open(place, {Mode::ReadOnly, 1000});
        if (!books) {
            return books.error().code == ProblemCode::BrokenBooks ||
                   books.error().code == ProblemCode::Refused;
        }
        VerifyOptions options;
        options.against = mark;
        const Verification report = must(books->verify(options));
        if (sentence != nullptr && !report.sound()) {
            *sentence = report.faults.front();
        }
        return !report.sound();
    }
};
BW_ON_BOTH(Trail);

TEST_P(Trail, EveryTamperingIsFound) {
    const std::string model = ground_.place();
    std::string mark;
    const std::string copy = ground_.folder() / "copy";
    {
        Books books = must(Books::create(model, kMorning));
        ground::fill(books, 4);
        mark = must(books.mark());
        must(books.copy(copy, kMorning));
    }
    ASSERT_FALSE(found(model, mark));
    const std::vector<tamper::Tampering> all = tamper::all(ground_.dialect());
    EXPECT_GE(all.size(), 100U);
    int seen = 0;
    for (const tamper::Tampering& tampering : all) {
        const std::string place = ground_.place();
        must(Books::restore(copy, place));
        if (tampering.on_triggers) {
            tampering.act(*ground_.beside(place));
        } else {
            tamper::past_the_triggers(*ground_.beside(place), tampering.act);
        }
        std::string sentence;
        const bool caught =
            found(place, tampering.needs_mark ? std::optional(mark) : std::nullopt, &sentence);
        EXPECT_TRUE(caught) << tampering.name;
        EXPECT_EQ(sentence.find('\n'), std::string::npos);
        seen += caught ? 1 : 0;
        if (ground_.dialect() == Dialect::Sqlite) {
            fs::remove_all(place);
        }
    }
    EXPECT_EQ(seen, static_cast<int>(all.size()));
    test::record({"Books",
                  "books changed behind the program's back, each in another way: the check of the "
                  "trail finds it",
                  "all of 100 or more", fmt::format("{} of {}", seen, all.size()),
                  all.size() >= 100 && seen == static_cast<int>(all.size())});
}

TEST_P(Trail, AMarkOfAnyAgeIsInside) {
    const std::string place = ground_.place();
    Books books = must(Books::create(place, kMorning));
    std::vector<std::string> marks{must(books.mark())};
    for (int i = 0; i < 5; ++i) {
        marks.push_back(must(books.commit(ground::change(fmt::format("q{}", i), "batch",
                                                         fmt::format("B{}", i), 0, "{}")))
                            .mark);
    }
    for (const std::string& mark : marks) {
        VerifyOptions options;
        options.against = mark;
        EXPECT_TRUE(must(books.verify(options)).sound()) << mark;
    }
    const auto against = [&](const std::string& mark) {
        VerifyOptions options;
        options.against = mark;
        return books.verify(options);
    };
    EXPECT_EQ(must(against("3-0000000000000000")).faults.at(0),
              "the mark 3-0000000000000000 is not in the trail: entries up to 3 were written anew");
    EXPECT_EQ(
        must(against("9-0000000000000000")).faults.at(0),
        "the trail ends at entry 5, but the mark 9-0000000000000000 was given at entry 9: its "
        "end was cut off");
    EXPECT_PROBLEM(against("yesterday"), ProblemCode::BadInput);
    EXPECT_PROBLEM(against("-0000000000000000"), ProblemCode::BadInput);
    EXPECT_PROBLEM(against("3-00000000000000"), ProblemCode::BadInput);
    EXPECT_PROBLEM(against(""), ProblemCode::BadInput);
}

TEST_P(Trail, AClockThatWentBackIsANotice) {
    Books books = must(Books::create(ground_.place(), kMorning));
    must(books.commit(ground::change("q1", "batch", "B1", 0, "{}")));
    Change early = ground::change("q2", "batch", "B2", 0, "{}");
    early.act.at = "2026-11-26T08:30:00.000Z";
    must(books.commit(early));
    const Verification report = must(books.verify());
    EXPECT_TRUE(report.sound());
    ASSERT_EQ(report.notices.size(), 1U);
    EXPECT_NE(report.notices[0].find("entry 2 is dated 2026-11-26T08:30:00.000Z"),
              std::string::npos);
}

// The chain as docs/reference/store.md states it, made here with nothing but SHA-256.
TEST_P(Trail, TheChainIsWhatTheReferenceSays) {
    Books books = must(Books::create(ground_.place(), kMorning));
    Change act = ground::change("q1", "batch", "B1", 0, R"({"n":1})");
    act.writes[0].keys = {"Bag 1"};
    must(books.commit(act));
    EntryQuery query;
    query.from_seq = 1;
    const Entry entry = must(books.entries(query)).at(0);
    const std::string facts = R"({"keys":["b1","bag 1"],"links":[],"measurements":[]})";
    EXPECT_EQ(entry.body,
              fmt::format(R"({{"act":"batch write","answer":"{}","at":"{}","attachments":[],)"
                          R"("device":"desk 1","duty":"quality manager","person":"ines",)"
                          R"("records":[{{"after":"{}","before":"","facts":"{}","id":"B1",)"
                          R"("kind":"batch","version":1}}],"request":"q1","seq":1,)"
                          R"("subject":{{"id":"B1","kind":"batch"}},"why":""}})",
                          sha256_hex(""), kMorning, sha256_hex(R"({"n":1})"),
                          sha256_hex("planned\nbatch B1\n" + facts)));
    const std::string mark = must(books.mark());
    EXPECT_EQ(mark, "1-" + entry.hash.substr(0, 16));
}

class SqliteFile : public ::testing::Test {};

// Bytes of the file itself, inside what is kept: each flip is found, or the books do not open.
TEST(SqliteFile, FlippedBytesOfTheFileAreFound) {
    ground::Folder folder;
    const std::string place = folder / "books";
    {
        Books books = must(Books::create(place, kMorning));
        ground::fill(books, 6);
    }
    std::stringstream text;
    text << std::ifstream(place + "/books.db", std::ios::binary).rdbuf();
    const std::string bytes = text.str();
    int flips = 0, seen = 0;
    for (const std::string& inside :
         {std::string(R"("number":2)"), std::string(R"("person":"ines")"),
          std::string("analyte;value"), std::string("\"made of\""), std::string("made B25-0003-K"),
          sha256_hex(R"({"number":2})")}) {
        std::size_t at = bytes.find(inside);
        ASSERT_NE(at, std::string::npos) << inside;
        for (int hit = 0; hit < 6 && at != std::string::npos;
             ++hit, at = bytes.find(inside, at + 1)) {
            std::string changed = bytes;
            changed[at + 3] = static_cast<char>(changed[at + 3] ^ 1);
            const std::string other = folder / fmt::format("flip{}", flips++);
            fs::create_directory(other);
            std::ofstream(other + "/books.db", std::ios::binary) << changed;
            auto books = Books::open(other);
            seen += !books || !must(books->verify()).sound() ? 1 : 0;
        }
    }
    EXPECT_GE(flips, 20);
    EXPECT_EQ(seen, flips);
}

TEST(SqliteFile, ADamagedOrForeignFileIsNamed) {
    ground::Folder folder;
    fs::create_directory(folder / "a");
    std::ofstream((folder / "a") + "/books.db")
        << "this is no database, but it is long enough to be "
           "taken for one if nobody looks at its head.......";
    EXPECT_PROBLEM(Books::open(folder / "a"), ProblemCode::BrokenBooks);
    const std::string place = folder / "b";
    {
        Books books = must(Books::create(place, kMorning));
        ground::fill(books, 6);
    }
    const auto size = fs::file_size(place + "/books.db");
    fs::resize_file(place + "/books.db", size / 2);
    auto books = Books::open(place);
    EXPECT_TRUE(!books || !must(books->verify()).sound());
}

}  // namespace
}  // namespace bw::store
