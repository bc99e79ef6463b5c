// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/delimited_table.hpp"

#include <random>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "fuzz/result_table_property.hpp"
#include "io/sheet.hpp"
#include "io/table_encoding.hpp"

namespace {

using namespace bw::io;
using bw::ProblemCode;
using testing::ElementsAre;
using testing::HasSubstr;
using Rows = std::vector<std::vector<std::string>>;

Rows rows_of(const CellTable& table) {
    Rows out(table.rows());
    for (std::size_t r = 0; r < table.rows(); ++r) {
        for (std::size_t c = 0; c < table.width(r); ++c) {
            out[r].emplace_back(table.at(r, c).text);
        }
    }
    return out;
}

SourceTable read(std::string_view bytes, const TableForm& form = {}) {
    auto out = read_delimited(bytes, form);
    EXPECT_TRUE(out.has_value()) << (out ? "" : out.error().text());
    return out ? std::move(*out) : SourceTable{};
}

bw::Problem refused(std::string_view bytes, const TableForm& form = {}) {
    const auto out = read_delimited(bytes, form);
    EXPECT_FALSE(out.has_value());
    return out ? bw::Problem{} : out.error();
}

// The examples of RFC 4180, section 2.
TEST(DelimitedTable, ReadsTheExamplesOfRfc4180) {
    const Rows two{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}};
    EXPECT_EQ(rows_of(read("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n").cells), two);
    EXPECT_EQ(rows_of(read("aaa,bbb,ccc\r\nzzz,yyy,xxx").cells), two);
    EXPECT_EQ(rows_of(read("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx").cells), two);
    EXPECT_EQ(rows_of(read("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx").cells),
              (Rows{{"aaa", "b\r\nbb", "ccc"}, {"zzz", "yyy", "xxx"}}));
    EXPECT_EQ(rows_of(read("\"aaa\",\"b\"\"bb\",\"ccc\"").cells), (Rows{{"aaa", "b\"bb", "ccc"}}));
}

TEST(DelimitedTable, EveryLineEndEndsARow) {
    const SourceTable table = read("a,b\nc,d\re,f\r\n\ng,h");
    EXPECT_EQ(rows_of(table.cells), (Rows{{"a", "b"}, {"c", "d"}, {"e", "f"}, {}, {"g", "h"}}));
    ASSERT_EQ(table.notices.size(), 1U);
    EXPECT_EQ(table.notices[0].code, "mixed_line_ends");
    EXPECT_TRUE(read("a,b\r\nc,d\r\n").notices.empty());
    EXPECT_TRUE(read("a,b\rc,d\r").notices.empty());
}

TEST(DelimitedTable, NamesCellsAsSpreadsheetsDo) {
    EXPECT_EQ(cell_name(11, 2), "C12");
    EXPECT_EQ(cell_name(0, 0), "A1");
    EXPECT_EQ(column_letters(25), "Z");
    EXPECT_EQ(column_letters(26), "AA");
    EXPECT_EQ(column_letters(701), "ZZ");
    EXPECT_EQ(column_letters(702), "AAA");
    EXPECT_EQ(column_letters(1999), "BXX");
    for (const std::size_t column : {0U, 25U, 26U, 701U, 702U, 1999U}) {
        EXPECT_EQ(column_of_letters(column_letters(column)).value(), column);
    }
    for (const char* bad : {"", "a", "A1", "BXY", "ZZZZZZZZZZZZZZZZZZ", "1"}) {
        EXPECT_FALSE(column_of_letters(bad).has_value()) << bad;
    }
}

TEST(DelimitedTable, FindsTheSeparator) {
    EXPECT_EQ(read("a,b\n1,2\n").separator, Separator::Comma);
    EXPECT_EQ(read("a;b\n1,5;2,5\n").separator, Separator::Semicolon);
    EXPECT_EQ(read("a\tb\n1,5\t2;5\n").separator, Separator::Tab);
    EXPECT_EQ(read("\"a;b;c\",d\n\"e;f;g\",h\n").separator, Separator::Comma);
    EXPECT_EQ(read("one\ntwo\n").separator, Separator::Comma);
    EXPECT_EQ(read("Run 7, of 3 February; by A. Example\n\na;b;c\n1;2;3\n4;5;6\n").separator,
              Separator::Semicolon);
    EXPECT_EQ(read("a;b\n1;2\n", {std::nullopt, Separator::Comma}).separator, Separator::Comma);
}

TEST(DelimitedTable, AFirstLineMayNameTheSeparator) {
    const SourceTable table = read("sep=;\r\na;b,c\r\n");
    EXPECT_EQ(table.separator, Separator::Semicolon);
    EXPECT_EQ(rows_of(table.cells), (Rows{{"a", "b,c"}}));
    EXPECT_THAT(refused("sep=|\na|b\n").message, HasSubstr("'|'"));
    EXPECT_EQ(rows_of(read("sep,a\n1,2\n").cells).size(), 2U);
}

TEST(DelimitedTable, TellsUnevenRows) {
    const SourceTable table = read("a,b,c\n1,2,3\n4,5\n6,7,8,9\n1,1,1\n");
    ASSERT_EQ(table.notices.size(), 1U);
    EXPECT_EQ(table.notices[0].text,
              "2 rows have another number of cells than the 3 of most rows: rows 3 and 4.");
}

TEST(DelimitedTable, RefusesWrongQuotesByTheirCell) {
    const auto open = refused("a,b\n1,\"2\n3,4\n");
    EXPECT_EQ(open.place.field, "B2");
    EXPECT_THAT(open.message, HasSubstr("never closed"));
    EXPECT_EQ(refused("a,b\n1,2\"3\n").place.field, "B2");
    EXPECT_EQ(refused("a,b\n\"1\"2,3\n").place.field, "A2");
}

TEST(DelimitedTable, DecodesEachEncoding) {
    const std::string expected = "a,\u00B5g/L\n";
    EXPECT_EQ(decode_text(expected)->encoding, Encoding::Utf8);
    EXPECT_EQ(decode_text("\xEF\xBB\xBF" + expected)->utf8, expected);
    EXPECT_EQ(decode_text("\xEF\xBB\xBF" + expected)->encoding, Encoding::Utf8WithMark);
    const auto windows = decode_text("a,\xB5g/L\n");
    ASSERT_TRUE(windows.has_value());
    EXPECT_EQ(windows->utf8, expected);
    EXPECT_EQ(windows->encoding, Encoding::Windows1252);
    // 0x80 is the euro and 0x9F a Y with two dots in that code page.
    EXPECT_EQ(decode_text("\x80\x9F\n")->utf8, "\u20AC\u0178\n");
    const std::string little{"\xFF\xFE\xB5\0g\0=\xD8\x0A\xDF", 10};  // U+1F70A by two halves
    EXPECT_EQ(decode_text(little)->utf8, "\u00B5g\U0001F70A");
    const std::string big{"\xFE\xFF\0\xB5\0g", 6};
    EXPECT_EQ(decode_text(big)->utf8, "\u00B5g");
    EXPECT_EQ(decode_text(big)->encoding, Encoding::Utf16BigEndian);
}

TEST(DelimitedTable, ADeclaredEncodingGoesBeforeTheGuess) {
    EXPECT_EQ(decode_text("\xC2\xB5", Encoding::Windows1252)->utf8, "\u00C2\u00B5");
    EXPECT_FALSE(decode_text("a\xB5", Encoding::Utf8).has_value());
    EXPECT_FALSE(decode_text("abc", Encoding::Utf16LittleEndian).has_value());
    EXPECT_EQ(decode_text("\xEF\xBB\xBF"
                          "a",
                          Encoding::Windows1252)
                  ->utf8,
              "a");
}

TEST(DelimitedTable, HoldsItsLimits) {
    EXPECT_EQ(refused(std::string(kMostTableBytes + 1, 'a')).code, ProblemCode::TooLarge);
    std::string most_rows;
    for (std::size_t i = 0; i < kMostTableRows; ++i) {
        most_rows += "1,2\n";
    }
    EXPECT_EQ(read(most_rows).cells.rows(), kMostTableRows);
    EXPECT_EQ(refused(most_rows + "3,4\n").code, ProblemCode::TooLarge);
    EXPECT_EQ(read(std::string(kMostTableColumns - 1, ',') + "a").cells.columns(),
              kMostTableColumns);
    const auto wide = refused(std::string(kMostTableColumns, ',') + "a");
    EXPECT_EQ(wide.code, ProblemCode::TooLarge);
    EXPECT_EQ(wide.place.field, "BXY1");
    EXPECT_EQ(read("a," + std::string(kMostFieldBytes, 'b')).cells.at(0, 1).text.size(),
              kMostFieldBytes);
    const auto field = refused("a," + std::string(kMostFieldBytes + 1, 'b'));
    EXPECT_EQ(field.code, ProblemCode::TooLarge);
    EXPECT_EQ(field.place.field, "B1");
    std::string cells;
    for (std::size_t i = 0; i < kMostTableCells / kMostTableColumns + 1; ++i) {
        cells += std::string(kMostTableColumns - 1, ',') + "\n";
    }
    EXPECT_EQ(refused("a" + cells).code, ProblemCode::TooLarge);
}

TEST(DelimitedTable, BlanksOfUnicodeAreBlanks) {
    EXPECT_EQ(trim_blanks("\u00A0 12.5\u202F\t"), "12.5");
    EXPECT_EQ(single_blanks(" Ca\u00A0\n 317.933 "), "Ca 317.933");
    EXPECT_EQ(trim_blanks("\u00A0\u2009"), "");
}

std::string random_field(std::mt19937_64& random) {
    static const std::vector<std::string> kPieces{
        "a",    "0", ".",      ",",      ";", "\t", "\"",     "\r",        "\n",
        "\r\n", " ", "\u00B5", "\u2212", "=", "'",  "\u00A0", "\U0001F30A"};
    std::string out;
    for (std::size_t n = random() % 6; n > 0; --n) {
        out += kPieces[random() % kPieces.size()];
    }
    return out;
}

/// Writes a table in one of the ways that RFC 4180 allows.
std::string written(const Rows& rows, char separator, std::string_view line_end,
                    bool always_quote) {
    std::string out;
    for (const auto& row : rows) {
        for (std::size_t c = 0; c < row.size(); ++c) {
            out += c > 0 ? std::string(1, separator) : "";
            const bool quote =
                always_quote || row[c].find_first_of("\",;\t\r\n") != std::string::npos;
            std::string text;
            for (const char letter : row[c]) {
                text += letter == '"' ? "\"\"" : std::string(1, letter);
            }
            out += quote ? '"' + text + '"' : text;
        }
        out += line_end;
    }
    return out;
}

TEST(DelimitedTable, WhatIsWrittenReadsBack) {
    constexpr int kTables = 5000;
    constexpr std::uint64_t kSeed = 20260203;
    std::mt19937_64 random(kSeed);
    int compared = 0;
    for (int i = 0; i < kTables; ++i) {
        const std::size_t width = 1 + random() % 5;
        Rows rows(1 + random() % 6, std::vector<std::string>(width));
        for (auto& row : rows) {
            for (auto& field : row) {
                field = random_field(random);
            }
        }
        const Separator separator =
            std::vector{Separator::Comma, Separator::Semicolon, Separator::Tab}[random() % 3];
        const char sign = separator == Separator::Tab         ? '\t'
                          : separator == Separator::Semicolon ? ';'
                                                              : ',';
        const std::string_view line_end =
            std::vector<std::string_view>{"\r\n", "\n", "\r"}[random() % 3];
        const std::string text = written(rows, sign, line_end, random() % 2 == 0);
        if (trim_blanks(text).empty()) {
            continue;  // an empty file is refused
        }
        const auto read_back = read_delimited(text, {Encoding::Utf8, separator});
        ASSERT_TRUE(read_back.has_value()) << "table " << i << ": " << read_back.error().text();
        ASSERT_EQ(read_back->cells.rows(), rows.size()) << "table " << i << ":\n" << text;
        for (std::size_t r = 0; r < rows.size(); ++r) {
            for (std::size_t c = 0; c < width; ++c) {
                ASSERT_EQ(read_back->cells.at(r, c).text, rows[r][c])
                    << "table " << i << " " << cell_name(r, c);
            }
        }
        ++compared;
    }
    EXPECT_GT(compared, kTables * 9 / 10);
}

/// What the program itself writes, it reads back, with the apostrophe before what a spreadsheet
/// would take for a formula.
TEST(DelimitedTable, OwnSheetsReadBack) {
    const Sheet sheet{
        "s", {"name", "value, mg/L"}, {{Cell("a \"b\", c"), Cell(-0.4)}, {Cell("=A1"), Cell()}}};
    EXPECT_EQ(rows_of(read(delimited(sheet)).cells),
              (Rows{{"name", "value, mg/L"}, {"a \"b\", c", "-0.4"}, {"'=A1", ""}}));
}

}  // namespace
