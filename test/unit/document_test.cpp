// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/document.hpp"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include "io/outputs.hpp"

namespace {

using namespace bw::io;
using bw::ProblemCode;
using testing::HasSubstr;

Document read(std::string_view text) {
    auto out = parse_document(text, "case");
    EXPECT_TRUE(out.has_value()) << (out ? "" : out.error().text());
    return out ? std::move(*out) : Document{};
}

bw::Problem refused(std::string_view text) {
    const auto out = parse_document(text, "case");
    EXPECT_FALSE(out.has_value()) << text.substr(0, 60);
    if (out) {
        return {};
    }
    EXPECT_EQ(out.error().place.file, "case");
    return out.error();
}

/// A tree as text with keys in order of name: what two spellings of a document must share.
std::string canonical(const Node& node) {
    std::ostringstream out;
    if (const auto* table = node.table()) {
        std::vector<const Node::Entry*> entries;
        for (const Node::Entry& entry : *table) {
            entries.push_back(&entry);
        }
        std::sort(entries.begin(), entries.end(),
                  [](const auto* a, const auto* b) { return a->key < b->key; });
        out << '{';
        for (const Node::Entry* entry : entries) {
            out << entry->key << ':' << canonical(entry->value) << ';';
        }
        out << '}';
    } else if (const auto* array = node.array()) {
        out << '[';
        for (const Node& item : *array) {
            out << canonical(item) << ',';
        }
        out << ']';
    } else if (const auto* text = node.text()) {
        out << '"' << *text << '"';
    } else if (const auto* number = node.number()) {
        out << std::hexfloat << *number;
    } else {
        out << (*node.flag() ? "true" : "false");
    }
    return out.str();
}

constexpr const char* kToml = R"(# a comment
format = "brinewright/1"
kind = 'target'
name = "Tiefsee \u00B5 \U0001F30A"
salinity = 35
low = 1.5e-3
whole = true
empty = ""
list = [1, 2.5, "three", [false]]
[limits]
smallest_dose = "2 mg/kg"
[[constituent]]
symbol = "Ca"
priority = 1
[[constituent]]
symbol = "Mg"
assay = { value = "99 %", u = "0.1 %" }
)";
constexpr const char* kJson = R"( {"format": "brinewright/1", "kind": "target",
 "name": "Tiefsee \u00B5 \uD83C\uDF0A", "salinity": 35, "low": 0.0015, "whole": true,
 "empty": "", "list": [1, 2.5, "three", [false]], "limits": {"smallest_dose": "2 mg/kg"},
 "constituent": [{"symbol": "Ca", "priority": 1},
                 {"symbol": "Mg", "assay": {"u": "0.1 %", "value": "99 %"}}]} )";

TEST(Document, TomlAndJsonGiveTheSameTree) {
    const Document toml = read(kToml);
    const Document json = read(kJson);
    EXPECT_EQ(canonical(toml.root), canonical(json.root));
    EXPECT_THAT(canonical(toml.root), HasSubstr("name:\"Tiefsee \u00B5 \U0001F30A\""));
}

TEST(Document, KeysKeepTheOrderAndLinesOfTheFile) {
    const Document d = read("z = 1\ny = 2\n\n[table]\nx = 3\n[[list]]\na = 1\n[[list]]\na = 2\n");
    const Node::Table& root = *d.root.table();
    ASSERT_EQ(root.size(), 4U);
    EXPECT_EQ(root[0].key, "z");
    EXPECT_EQ(root[1].key, "y");
    EXPECT_EQ(root[2].key, "table");
    EXPECT_EQ(d.root.find("z")->line, 1);
    EXPECT_EQ(d.root.find("y")->line, 2);
    EXPECT_EQ(d.root.find("table")->find("x")->line, 5);
    EXPECT_EQ((*d.root.find("list")->array())[1].find("a")->line, 9);
    EXPECT_EQ(d.root.find("no such key"), nullptr);
    EXPECT_EQ(d.root.find("z")->find("z"), nullptr);
    EXPECT_EQ(read(kJson).root.find("salinity")->line, 0);
}

TEST(Document, KindsHaveNames) {
    const Document d = read("a = 'x'\nb = 1\nc = true\nd = {}\ne = []\n");
    EXPECT_EQ(d.root.find("a")->kind(), "text");
    EXPECT_EQ(d.root.find("b")->kind(), "a number");
    EXPECT_EQ(d.root.find("c")->kind(), "true or false");
    EXPECT_EQ(d.root.find("d")->kind(), "a table");
    EXPECT_EQ(d.root.find("e")->kind(), "a list");
}

TEST(Document, DuplicateKeysAreRefused) {
    EXPECT_EQ(refused("a = 1\nb = 2\na = 3\n").place.line, 3);
    EXPECT_EQ(refused("[t]\na = 1\n[t]\nb = 2\n").place.line, 3);
    const bw::Problem twice = refused(R"({"a": 1, "b": {"c": 1}, "a": 2})");
    EXPECT_EQ(twice.place.field, "a");
    EXPECT_THAT(twice.message, HasSubstr("twice"));
    EXPECT_EQ(refused(R"({"a": {"b": 1, "c": [{"d": 1}], "b": 2}})").place.field, "b");
    EXPECT_EQ(refused(R"({"a": [{"b": 1}, {"b": 1, "b": 2}]})").place.field, "b");
    // The same key in different objects is no duplicate, however they nest.
    read(R"({"a": {"a": {"a": 1}}, "b": [{"a": 1, "b": 2}, {"a": 3, "b": 4}], "c": {"b": 5}})");
}

TEST(Document, AByteOrderMarkIsPassedOver) {
    EXPECT_DOUBLE_EQ(*read("\xEF\xBB\xBF"
                           "a = 1\n")
                          .root.find("a")
                          ->number(),
                     1);
    EXPECT_DOUBLE_EQ(*read("\xEF\xBB\xBF{\"a\": 1}").root.find("a")->number(), 1);
    EXPECT_THAT(refused("\xEF\xBB\xBF").message, HasSubstr("empty"));
}

TEST(Document, WhatIsNotUtf8IsRefusedWithItsLine) {
    const bw::Problem latin = refused(
        "a = 1\nb = 'Gr\xFC\xDF"
        "e'\n");
    EXPECT_EQ(latin.place.line, 2);
    EXPECT_THAT(latin.message, HasSubstr("not UTF-8"));
    const std::string utf16_little(
        "\xFF\xFE"
        "a\0=\0001\0\n\0",
        10);
    EXPECT_EQ(refused(utf16_little).place.line, 1);
    EXPECT_THAT(refused(utf16_little).message, HasSubstr("UTF-16"));
    const std::string utf16_big(
        "\xFE\xFF\0a\0=\0"
        "1\0\n",
        10);
    EXPECT_EQ(refused(utf16_big).place.line, 1);
    // Without a mark UTF-16 of plain letters is well-formed UTF-8 full of NUL.
    const std::string unmarked("a\0=\0001\0\n\0b\0", 10);
    EXPECT_EQ(refused(unmarked).place.line, 1);
    EXPECT_THAT(refused(unmarked).message, HasSubstr("NUL"));
    EXPECT_EQ(refused(std::string("a = 1\nb = 2\n\0", 13)).place.line, 3);
}

TEST(Document, EmptyIsRefused) {
    for (const char* text : {"", " \n\t\r\n "}) {
        EXPECT_EQ(refused(text).code, ProblemCode::BadInput);
        EXPECT_THAT(refused(text).message, HasSubstr("empty"));
    }
}

TEST(Document, NumbersMustBeFinite) {
    EXPECT_EQ(refused("a = 1\nb = nan\n").place.line, 2);
    EXPECT_EQ(refused("a = 1\nb = -inf\n").place.line, 2);
    EXPECT_EQ(refused("a = [1, 2,\n +inf]\n").place.line, 2);
    refused(R"({"a": NaN})");
    refused(R"({"a": Infinity})");
    EXPECT_EQ(refused(R"({"a": 1e999})").code, ProblemCode::BadInput);
    refused("a = 1e999\n");
    EXPECT_EQ(refused("a = 99999999999999999999\n").place.line, 1);
}

TEST(Document, DatesAndNullHaveNoPlaceHere) {
    const bw::Problem date = refused("a = 1\nmade = 2026-01-31\n");
    EXPECT_EQ(date.place.line, 2);
    EXPECT_THAT(date.message, HasSubstr("quotes"));
    EXPECT_EQ(refused("t = 07:32:00\n").place.line, 1);
    EXPECT_EQ(refused("t = 2026-01-31T07:32:00Z\n").place.line, 1);
    EXPECT_EQ(refused(R"({"a": {"b": [1, null]}})").place.field, "a.b[1]");
}

TEST(Document, SyntaxErrorsHaveTheirLine) {
    EXPECT_EQ(refused("a = 1\nb = = 2\n").place.line, 2);
    EXPECT_EQ(refused("a = 1\nb = \"open\nc = 3\n").place.line, 2);
    EXPECT_EQ(refused("{\"a\": 1,\n \"b\" 2}\n").place.line, 2);
    EXPECT_EQ(refused("{\"a\": 1}\n\nmore\n").place.line, 3);
    EXPECT_THAT(refused("{\"a\": 1, }").message, HasSubstr("not valid JSON"));
    EXPECT_THAT(refused("{\"a\": \"\\ud800\"}").message, HasSubstr("not valid JSON"));
    EXPECT_THAT(refused("[1, 2]").message, HasSubstr("not valid TOML"));
}

std::string nested_json(int depth) {
    std::string out;
    for (int i = 0; i < depth; ++i) {
        out += "{\"a\":";
    }
    return out + "1" + std::string(static_cast<std::size_t>(depth), '}');
}

std::string nested_toml(int depth) {
    return "a = " + std::string(static_cast<std::size_t>(depth), '[') + "1" +
           std::string(static_cast<std::size_t>(depth), ']');
}

TEST(Document, DepthIsLimited) {
    read(nested_json(32));
    EXPECT_THAT(refused(nested_json(33)).message, HasSubstr("too deep"));
    read(nested_toml(31));
    EXPECT_THAT(refused(nested_toml(32)).message, HasSubstr("too deep"));
    // Deep enough to overflow a stack that followed it.
    EXPECT_EQ(refused(nested_json(200000)).code, ProblemCode::BadInput);
    EXPECT_EQ(refused(nested_toml(200000)).code, ProblemCode::BadInput);
    EXPECT_EQ(refused("{\"a\":" + std::string(1000000, '[')).code, ProblemCode::BadInput);
}

TEST(Document, FourMebibytesAreTheMost) {
    std::string text = "a = 1\n#";
    text.resize(kLargestFile, 'x');
    EXPECT_DOUBLE_EQ(*read(text).root.find("a")->number(), 1);
    text += 'x';
    EXPECT_EQ(refused(text).code, ProblemCode::TooLarge);
}

class Files : public testing::Test {
protected:
    void SetUp() override {
        folder = std::filesystem::path(testing::TempDir()) /
                 ("brinewright_document_" + std::to_string(::getpid()));
        std::filesystem::create_directories(folder);
    }
    void TearDown() override { std::filesystem::remove_all(folder); }
    [[nodiscard]] std::string path(const std::string& name) const { return folder / name; }
    [[nodiscard]] static std::string bytes_of(const std::string& file) {
        std::ifstream in(file, std::ios::binary);
        return {std::istreambuf_iterator<char>(in), {}};
    }
    std::filesystem::path folder;
};

bw::Result<void> write_file(const std::string& path, std::string_view bytes) {
    Outputs outputs;
    BW_CHECK(outputs.add_text(path, bytes));
    return outputs.publish();
}

TEST_F(Files, WhatIsWrittenIsReadAndReplacedWhole) {
    ASSERT_TRUE(write_file(path("a.toml"), "a = 1\n").has_value());
    ASSERT_TRUE(write_file(path("a.toml"), "a = 2\n").has_value());
    EXPECT_EQ(bytes_of(path("a.toml")), "a = 2\n");
    const auto d = read_document(path("a.toml"));
    ASSERT_TRUE(d.has_value());
    EXPECT_EQ(d->name, path("a.toml"));
    EXPECT_DOUBLE_EQ(*d->root.find("a")->number(), 2);
    // No draft is left beside it.
    EXPECT_EQ(std::distance(std::filesystem::directory_iterator(folder), {}), 1);
}

TEST_F(Files, WritingWhereOneCannotIsADiskProblem) {
    const auto out = write_file(path("no such folder/a.toml"), "a = 1\n");
    ASSERT_FALSE(out.has_value());
    EXPECT_EQ(out.error().code, ProblemCode::Disk);
    std::filesystem::create_directories(path("folder"));
    EXPECT_FALSE(write_file(path("folder"), "a = 1\n").has_value());
    EXPECT_TRUE(std::filesystem::is_directory(path("folder")));
    EXPECT_EQ(std::distance(std::filesystem::directory_iterator(folder), {}), 1);
}

TEST_F(Files, MissingFilesFoldersAndLargeFilesAreNamed) {
    EXPECT_THAT(read_document(path("none.toml")).error().message, HasSubstr("no such file"));
    EXPECT_THAT(read_document(folder.string()).error().message, HasSubstr("folder"));
    std::string text = "a = 1\n#";
    text.resize(kLargestFile + 1, 'x');
    ASSERT_TRUE(write_file(path("large.toml"), text).has_value());
    EXPECT_EQ(read_document(path("large.toml")).error().code, ProblemCode::TooLarge);
}

}  // namespace
