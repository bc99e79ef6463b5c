// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <atomic>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <thread>

#include <fmt/format.h>

#include "store/birth.hpp"
#include "store/digest.hpp"
#include "store/ground.hpp"
#include "store/sqlite_connection.hpp"

namespace bw::store {
namespace {

namespace fs = std::filesystem;
using ground::change;
using ground::kMorning;
using ground::must;

class Copies : public ground::OnBoth {};
BW_ON_BOTH(Copies);

std::string bytes_of(const std::string& path) {
    std::stringstream text;
    text << std::ifstream(path, std::ios::binary).rdbuf();
    return text.str();
}

TEST_P(Copies, ACopyMadeWhileWritingIsOneStateAndRestores) {
    Books books = must(Books::create(ground_.place(), kMorning));
    ground::fill(books, 5);
    must(ground::set_password(books, "ines", "a long enough password"));
    const std::string token = must(books.open_session("ines", "desk 1", kMorning));
    std::atomic<bool> stop{false};
    std::thread writer([&] {
        for (int i = 0; !stop; ++i) {
            must(books.commit(
                change(fmt::format("w{}", i), "weighing", fmt::format("W{}", i), 0, "{}")));
        }
    });
    std::vector<Copy> copies;
    for (int i = 0; i < 3; ++i) {
        copies.push_back(must(books.copy(ground_.folder() / fmt::format("copy{}", i), kMorning)));
    }
    stop = true;
    writer.join();
    const std::string mark = must(books.mark());
    for (const Copy& copy : copies) {
        const Copy rehearsed = must(Books::rehearse(copy.folder));
        EXPECT_EQ(rehearsed.mark, copy.mark);
        EXPECT_EQ(rehearsed.counts, copy.counts);
        EXPECT_EQ(copy.counts.entries, copy.counts.requests);
        EXPECT_EQ(copy.sha256, must(sha256_of_file(copy.folder + "/books.db")));
        EXPECT_EQ(fs::status(copy.folder + "/books.db").permissions() & fs::perms::others_all,
                  fs::perms::none);
        VerifyOptions options;
        options.against = copy.mark;
        EXPECT_TRUE(must(books.verify(options)).sound());
    }
    EXPECT_PROBLEM(books.copy(copies[0].folder, kMorning), ProblemCode::DuplicateName);
    const std::string place = ground_.place();
    must(Books::restore(copies[2].folder, place));
    Books again = must(Books::open(place));
    EXPECT_EQ(must(again.mark()), copies[2].mark);
    EXPECT_EQ(must(again.counts()), copies[2].counts);
    EXPECT_TRUE(must(again.verify()).sound());
    EXPECT_TRUE(must(again.check_password("ines", "a long enough password", kMorning)).right);
    EXPECT_PROBLEM(again.session(token, kMorning), ProblemCode::NotFound);
    EXPECT_TRUE(must(books.session(token, kMorning)).person == "ines");
    must(again.commit(change("after", "weighing", "after", 0, "{}")));
    EXPECT_TRUE(must(again.verify()).sound());
    EXPECT_PROBLEM(Books::restore(copies[2].folder, place), ProblemCode::DuplicateName);
}

TEST_P(Copies, ASpoiltCopyDoesNotRehearse) {
    Books books = must(Books::create(ground_.place(), kMorning));
    ground::fill(books, 2);
    const Copy copy = must(books.copy(ground_.folder() / "copy", kMorning));
    std::string bytes = bytes_of(copy.folder + "/books.db");
    bytes[bytes.size() / 2] = static_cast<char>(bytes[bytes.size() / 2] ^ 1);
    std::ofstream(copy.folder + "/books.db", std::ios::binary) << bytes;
    EXPECT_PROBLEM(Books::rehearse(copy.folder), ProblemCode::BrokenBooks);
    EXPECT_PROBLEM(Books::rehearse(ground_.folder() / "nowhere"), ProblemCode::NotFound);
    std::ofstream(copy.folder + "/manifest.json") << "{}";
    EXPECT_PROBLEM(Books::rehearse(copy.folder), ProblemCode::BadInput);
}

// The archive is checked by a script that shares no code with the program (4.5, 32).
TEST_P(Copies, TheArchiveIsReadableWithoutTheProgram) {
    Books books = must(Books::create(ground_.place(), kMorning));
    ground::fill(books, 3);
    must(ground::set_password(books, "ines", "a long enough password"));
    Change odd = change("odd", "run", "R9", 0, R"({"a":"line\nbreak, \"quote\" µ"})");
    odd.writes[0].measurements = {ground::measurement("=1+1", "B\"9", 1, "-0.40", -0.4)};
    odd.act.why = "line\nbreak";
    must(books.commit(odd));
    const std::string folder = ground_.folder() / "archive";
    must(books.export_to(folder, kMorning));
    const std::string check =
        fmt::format("python3 {}/test/store/archive_check.py {} {} > {}", BW_SOURCE_DIR, folder,
                    must(books.mark()), ground_.folder() / "said");
    EXPECT_EQ(std::system(check.c_str()), 0) << bytes_of(ground_.folder() / "said");
    EXPECT_NE(bytes_of(folder + "/measurements.csv").find("'=1+1,"), std::string::npos);
    EXPECT_NE(bytes_of(folder + "/measurements.csv").find(",-0.40,-0.4,"), std::string::npos);
    for (const auto& file : fs::recursive_directory_iterator(folder)) {
        if (file.is_regular_file()) {
            EXPECT_EQ(bytes_of(file.path()).find("argon2"), std::string::npos) << file.path();
        }
    }
    std::string records = bytes_of(folder + "/records.jsonl");
    records[records.size() / 2] = records[records.size() / 2] == 'a' ? 'b' : 'a';
    std::ofstream(folder + "/records.jsonl", std::ios::binary) << records;
    EXPECT_NE(std::system(check.c_str()), 0);
    EXPECT_PROBLEM(books.export_to(folder, kMorning), ProblemCode::DuplicateName);
}

/// The program's own steps and one more.
std::vector<Migration> with(std::string_view sqlite, std::string_view postgres) {
    std::vector<Migration> known(migrations().begin(), migrations().end());
    known.push_back({static_cast<int>(known.size()) + 1, "later", sqlite, postgres});
    return known;
}

TEST_P(Copies, AnUpgradeCopiesFirstAndIsRefusedByTheOlderProgram) {
    const std::string place = ground_.place();
    std::string mark;
    {
        Books books = must(Books::create(place, kMorning));
        ground::fill(books, 2);
        mark = must(books.mark());
    }
    EXPECT_EQ(must(Books::upgrade(place, kMorning)), "");  // of this version already
    const auto newer = with("CREATE TABLE later (a TEXT NOT NULL) STRICT;",
                            "CREATE TABLE later (a text NOT NULL);");
    const std::string copy =
        must(upgrade_with(place, newer, kMorning, ground_.folder() / "before"));
    EXPECT_EQ(must(Books::rehearse(copy)).mark, mark);
    const auto opened = Books::open(place);
    ASSERT_FALSE(opened.has_value());
    EXPECT_EQ(opened.error().code, ProblemCode::Refused);
    EXPECT_NE(opened.error().message.find("newer program"), std::string::npos);
    EXPECT_EQ(must(upgrade_with(place, newer, kMorning, "")), "");
    auto changed = newer;
    changed.back().sqlite = changed.back().postgres = "SELECT 1";
    EXPECT_PROBLEM(upgrade_with(place, changed, kMorning, ground_.folder() / "b2"),
                   ProblemCode::Refused);
    const std::string back = ground_.place();
    must(Books::restore(copy, back));
    EXPECT_TRUE(must(must(Books::open(back)).verify()).sound());
}

TEST_P(Copies, AFailedUpgradeLeavesTheBooksAsTheyWere) {
    const std::string place = ground_.place();
    {
        Books books = must(Books::create(place, kMorning));
        ground::fill(books, 2);
    }
    const auto broken =
        with("CREATE TABLE later (a TEXT) STRICT; DELETE FROM current; SELECT nothing;",
             "CREATE TABLE later (a text); DELETE FROM current; SELECT nothing;");
    EXPECT_FALSE(upgrade_with(place, broken, kMorning, ground_.folder() / "before").has_value());
    Books books = must(Books::open(place));
    const Verification report = must(books.verify());
    EXPECT_TRUE(report.sound()) << report.faults.front();
    EXPECT_EQ(must(books.count({"batch", "", "", "", {}, "", false, false, 1})), 2);
    EXPECT_TRUE(Books::rehearse(ground_.folder() / "before").has_value());
}

TEST_P(Copies, OlderBooksAreUpgradedNotOpened) {
    const std::string place = ground_.place();
    {
        const Where where = must(where_of(place));
        const WriteLock lock = must(prepare_place(where));
        auto connection = must(make_tables(where, migrations().first(1), kMorning));
        must(write_first_page(*connection, kMorning));
    }
    const auto opened = Books::open(place);
    ASSERT_FALSE(opened.has_value());
    EXPECT_NE(opened.error().message.find("store upgrade"), std::string::npos);
    const bool sqlite = ground_.dialect() == Dialect::Sqlite;
    if (!sqlite) {
        EXPECT_PROBLEM(Books::upgrade(place, kMorning), ProblemCode::BadInput);
    }
    const std::string copy =
        must(Books::upgrade(place, kMorning, sqlite ? "" : ground_.folder() / "before"));
    EXPECT_TRUE(fs::exists(copy + "/books.db"));
    Books books = must(Books::open(place));
    EXPECT_TRUE(must(books.verify()).sound());
    const auto index = must(ground_.beside(place)->query(
        sqlite ? "SELECT sql FROM sqlite_schema WHERE name = 'measurement_by_batch'"
               : "SELECT indexdef FROM pg_indexes WHERE indexname = 'measurement_by_batch' AND "
                 "schemaname = current_schema()"));
    ASSERT_EQ(index.size(), 1U);
    EXPECT_NE(index[0].text(0).find("(batch, analyte)"), std::string::npos) << index[0].text(0);
    must(ground::set_password(books, "ines", "a long enough password"));
}

// Two versions of the same books, on either database, are the same books: a copy moves them.
TEST(Move, FromOneDatabaseToTheOtherPostgres) {
    ground::Ground file(Dialect::Sqlite), server(Dialect::Postgres);
    Books books = must(Books::create(file.place(), kMorning));
    ground::fill(books, 3);
    const Copy copy = must(books.copy(file.folder() / "copy", kMorning));
    const std::string place = server.place();
    must(Books::restore(copy.folder, place));
    Books moved = must(Books::open(place));
    EXPECT_EQ(must(moved.mark()), must(books.mark()));
    EXPECT_EQ(must(moved.counts()), must(books.counts()));
    EXPECT_TRUE(must(moved.verify()).sound());
    const Copy back = must(moved.copy(file.folder() / "back", kMorning));
    EXPECT_EQ(must(Books::rehearse(back.folder)).mark, copy.mark);
}

}  // namespace
}  // namespace bw::store
