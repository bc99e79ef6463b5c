// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/sheet.hpp"

#include <filesystem>
#include <fstream>
#include <string>

#include <gtest/gtest.h>
#include <unistd.h>

#include "base/decimal.hpp"

namespace {

using namespace bw::io;

Sheet of(std::vector<Cell> row) {
    Sheet out;
    out.name = "case";
    for (std::size_t i = 0; i < row.size(); ++i) {
        out.head.push_back("h" + std::to_string(i));
    }
    out.rows = {std::move(row)};
    return out;
}

/// The first row after the head.
std::string line(std::vector<Cell> row) {
    const std::string text = delimited(of(std::move(row)));
    const auto from = text.find("\r\n") + 2;
    return text.substr(from, text.size() - from - 2);
}

// RFC 4180: lines end in CR LF, fields are separated by commas.
TEST(Delimited, HasAHeadAndOneLinePerRow) {
    Sheet sheet;
    sheet.head = {"material", "g/kg"};
    sheet.rows = {{std::string("salt"), 23.376}, {std::monostate{}, 0.5}, {std::string(), 1e-9}};
    EXPECT_EQ(delimited(sheet), "material,g/kg\r\nsalt,23.376\r\n,0.5\r\n,1e-09\r\n");
}

// RFC 4180, 2.6 and 2.7: fields with comma, quote or line break are quoted, quotes doubled.
TEST(Delimited, QuotesWhatNeedsIt) {
    EXPECT_EQ(line({std::string("a,b")}), "\"a,b\"");
    EXPECT_EQ(line({std::string("say \"x\"")}), "\"say \"\"x\"\"\"");
    EXPECT_EQ(line({std::string("two\nlines")}), "\"two\nlines\"");
    EXPECT_EQ(line({std::string("two\r\nlines")}), "\"two\r\nlines\"");
    EXPECT_EQ(line({std::string("plain; text")}), "plain; text");
    EXPECT_EQ(line({std::string("\u00B5g, \u2082")}), "\"\u00B5g, \u2082\"");
}

// A material named like a formula must not run in a spreadsheet.
TEST(Delimited, TextThatLooksLikeAFormulaIsDefused) {
    for (const char* start : {"=", "+", "-", "@", "\t", "\r"}) {
        const std::string text = std::string(start) + "SUM(A1)";
        const std::string out = line({text});
        const std::string body = out.front() == '"' ? out.substr(1) : out;
        EXPECT_EQ(body.substr(0, 1), "'") << text;
    }
    EXPECT_EQ(line({std::string("=HYPERLINK(\"http://x\",\"y\")")}),
              "\"'=HYPERLINK(\"\"http://x\"\",\"\"y\"\")\"");
    EXPECT_EQ(line({std::string("a=b")}), "a=b");
    Sheet head;
    head.head = {"=1+1", "ok"};
    EXPECT_EQ(delimited(head), "'=1+1,ok\r\n");
}

TEST(Delimited, NumbersAreNeverTouchedAndReadBackExactly) {
    EXPECT_EQ(line({-5.0, -0.25, 1e20}), "-5,-0.25,1e+20");
    for (const double value : {1.0 / 3, -2.718281828459045, 6.02214076e23, 5e-324, 0.1 + 0.2}) {
        const auto back = bw::base::parse_number(line({value}));
        ASSERT_TRUE(back.has_value()) << value;
        EXPECT_EQ(*back, value);
    }
}

TEST(Workbook, TheSameSheetsGiveTheSameBytes) {
    const auto folder = std::filesystem::path(testing::TempDir()) /
                        ("brinewright_sheet_" + std::to_string(::getpid()));
    std::filesystem::create_directories(folder);
    const std::vector<Sheet> sheets = {of({std::string("=1+1"), -5.0, std::monostate{}})};
    const auto bytes = [&](const char* name) {
        const std::string path = folder / name;
        const auto written = write_workbook(path, sheets);
        EXPECT_TRUE(written.has_value());
        std::ifstream in(path, std::ios::binary);
        return std::string(std::istreambuf_iterator<char>(in), {});
    };
    const std::string first = bytes("a.xlsx");
    EXPECT_EQ(first.substr(0, 2), "PK");  // a zip archive, as Office Open XML is
    EXPECT_EQ(bytes("b.xlsx"), first);
    const auto nowhere = write_workbook(folder / "none" / "c.xlsx", sheets);
    ASSERT_FALSE(nowhere.has_value());
    EXPECT_EQ(nowhere.error().code, bw::ProblemCode::Disk);
    std::filesystem::remove_all(folder);
}

}  // namespace
