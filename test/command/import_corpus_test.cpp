// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// The corpus of malformed and odd result tables (test/import/make_corpus.py), and mutations of it.
#include <map>
#include <random>
#include <sstream>

#include "command/command_run.hpp"
#include "figure.hpp"
#include "fuzz/result_table_property.hpp"

namespace {

using namespace bw::command_test;
namespace io = bw::io;

const std::string kFolder = std::string(BW_SOURCE_DIR) + "/test/import/";

struct ImportCase {
    std::string file, map, expected;
};

std::vector<ImportCase> cases() {
    std::vector<ImportCase> out;
    std::istringstream in(read_bytes(kFolder + "expected.tsv"));
    for (std::string line; std::getline(in, line);) {
        const auto first = line.find('\t');
        const auto second = line.find('\t', first + 1);
        out.push_back({line.substr(0, first), line.substr(first + 1, second - first - 1),
                       line.substr(second + 1)});
    }
    return out;
}

io::ColumnMap map_of(const std::string& name) {
    const auto document = io::read_document(kFolder + "maps/" + name + ".toml");
    auto map = io::read_column_map(*document);
    EXPECT_TRUE(map.has_value()) << name << (map ? "" : map.error().text());
    return map ? std::move(*map) : io::ColumnMap{};
}

bw::Result<io::SourceTable> table_of(const std::string& bytes, const std::string& name,
                                     const io::ColumnMap& map) {
    return io::read_table(bytes, name, {map.encoding, map.separator}, map.sheet);
}

/// "read N", "refused N CELL: ...", or "problem ...", with the whole message.
std::string outcome(const ImportCase& c) {
    const io::ColumnMap map = map_of(c.map);
    const auto table = table_of(read_bytes(kFolder + "files/" + c.file), c.file, map);
    if (!table) {
        return "problem " + table.error().text();
    }
    const io::ResultImport import = io::import_results(*table, map);
    if (import.refused_count == 0) {
        EXPECT_TRUE(import.committable()) << c.file;
        return "read " + std::to_string(import.readings.size());
    }
    EXPECT_FALSE(import.committable()) << c.file;
    return "refused " + std::to_string(import.refused_count) + " " +
           import.refused.front().sentence();
}

/// Whether the outcome is what the corpus expects: its words in order.
bool fits(const std::string& got, const std::string& expected) {
    if (expected.starts_with("read ")) {
        return got == expected;
    }
    if (expected.starts_with("problem ")) {
        return got.starts_with("problem ") && got.find(expected.substr(8)) != std::string::npos;
    }
    std::istringstream words(expected);
    std::string refused;
    std::string count;
    words >> refused >> count;
    std::string rest;
    std::getline(words >> std::ws, rest);
    const std::string body = got.substr(std::min(got.find(count) + count.size() + 1, got.size()));
    if (rest.empty()) {
        return got.starts_with("refused ");
    }
    const std::size_t cell_end = rest.starts_with("row ") ? rest.find(' ', 4) : rest.find(' ');
    const std::string cell = rest.substr(0, cell_end);
    const std::string why =
        cell_end == std::string::npos ? std::string() : rest.substr(cell_end + 1);
    return got.starts_with("refused " + count + " ") &&
           (body.starts_with(cell + " ") || body.starts_with(cell + ":")) &&
           body.find(why) != std::string::npos;
}

TEST(ImportCorpus, EveryFileGivesWhatIsExpectedOfIt) {
    const auto all = cases();
    EXPECT_GE(all.size(), 120U);
    for (const ImportCase& c : all) {
        const std::string got = outcome(c);
        EXPECT_TRUE(fits(got, c.expected))
            << c.file << "\n  expected " << c.expected << "\n  got      " << got;
    }
}

TEST(ImportCorpus, EveryFileKeepsTheProperties) {
    for (const ImportCase& c : cases()) {
        const auto fault = bw::fuzz::fault_of_result_table(read_bytes(kFolder + "files/" + c.file));
        EXPECT_FALSE(fault) << c.file << ": " << fault.value_or("");
    }
}

TEST(ImportCorpus, TheCommandTellsWhatIsWrong) {
    const auto all = cases();
    const auto refused = std::count_if(all.begin(), all.end(), [](const ImportCase& c) {
        return !c.expected.starts_with("read ");
    });
    for (const ImportCase& c : all) {
        const Outcome got = run_here({"results", "preview", kFolder + "files/" + c.file, "--map",
                                      kFolder + "maps/" + c.map + ".toml"});
        EXPECT_EQ(got.code, c.expected.starts_with("read ") ? 0 : 2) << c.file << got.err;
        EXPECT_EQ(got.err.empty(), !c.expected.starts_with("problem ")) << c.file << got.err;
    }
    bw::test::record({"Books",
                      "a file of results with a fault is refused whole, with its rows and reasons",
                      "every faulty file of the kept collection",
                      fmt::format("{} faulty files refused, {} sound ones read", refused,
                                  static_cast<std::ptrdiff_t>(all.size()) - refused),
                      refused > 0 && !testing::Test::HasFailure()});
}

std::string mutated(std::string bytes, std::mt19937_64& random) {
    static const std::vector<std::string> kPieces{
        ",",           ";", "\t",   "\"",       "\n",
        "\r",          ".", "-",    "<",        "0",
        "9",           "e", "\xB5", "\xC2\xA0", std::string(1, '\0'),
        "\xEF\xBB\xBF"};
    for (std::size_t changes = 1 + random() % 4; changes > 0; --changes) {
        const std::size_t at = bytes.empty() ? 0 : random() % bytes.size();
        switch (random() % 5) {
            case 0:
                bytes.insert(at, kPieces[random() % kPieces.size()]);
                break;
            case 1:
                bytes.erase(at, 1 + random() % 3);
                break;
            case 2:
                if (!bytes.empty()) {
                    bytes[at] = static_cast<char>(random());
                }
                break;
            case 3:
                bytes.insert(at, bytes.substr(at, random() % 20));
                break;
            default:
                bytes.resize(bytes.size() - std::min(bytes.size(), random() % 10));
        }
    }
    return bytes;
}

/// A mutated file is refused or read; what is read of a cell that was not touched is what was read
/// of it before.
TEST(ImportCorpus, MutatedFilesNeitherCrashNorChangeOtherCells) {
    constexpr int kFiles = 1000;
    constexpr std::uint64_t kSeed = 4711;
    std::mt19937_64 random(kSeed);
    const auto all = cases();
    std::vector<ImportCase> sound;
    for (const ImportCase& c : all) {
        if (c.expected.starts_with("read ")) {
            sound.push_back(c);
        }
    }
    int read = 0;
    int compared = 0;
    for (int i = 0; i < kFiles; ++i) {
        const auto& from = i % 4 == 0 ? all : sound;
        const ImportCase& c = from[random() % from.size()];
        const io::ColumnMap map = map_of(c.map);
        const std::string original = read_bytes(kFolder + "files/" + c.file);
        const std::string changed = mutated(original, random);
        const std::string where = "mutation " + std::to_string(i) + " of " + c.file;
        const auto fault = bw::fuzz::fault_of_result_table(changed);
        ASSERT_FALSE(fault) << where << ": " << fault.value_or("");
        const auto after_table = table_of(changed, c.file, map);
        const auto before_table = table_of(original, c.file, map);
        if (!after_table || !before_table) {
            continue;
        }
        const io::ResultImport after = io::import_results(*after_table, map);
        const io::ResultImport before = io::import_results(*before_table, map);
        if (!after.committable() || !before.committable()) {
            continue;
        }
        ++read;
        std::map<std::string, const io::Reading*> by_cell;
        for (const io::Reading& reading : before.readings) {
            by_cell[reading.cell] = &reading;
        }
        for (const io::Reading& reading : after.readings) {
            const auto found = by_cell.find(reading.cell);
            if (found != by_cell.end() && found->second->typed == reading.typed &&
                reading.mean_of.empty()) {
                ++compared;
                EXPECT_EQ(reading.digits, found->second->digits) << where << " " << reading.cell;
                EXPECT_EQ(reading.value, found->second->value) << where << " " << reading.cell;
            }
        }
    }
    EXPECT_GT(read, 50);
    EXPECT_GT(compared, 100);
    bw::test::record(
        {"Books",
         "files of results spoiled at random: each is read or refused in words, none "
         "crashes the import, none changes what is read of a cell that was not touched",
         "1000 malformed files",
         fmt::format("{} spoiled files, {} of them still read, {} readings of untouched "
                     "cells as before",
                     kFiles, read, compared),
         kFiles >= 1000 && !testing::Test::HasFailure()});
}

TEST(ImportCorpus, Suggestions) {
    const std::string wide = std::string(BW_SOURCE_DIR) + "/examples/laboratory/icp_wide.csv";
    const Outcome map = run_here({"results", "map", wide});
    EXPECT_EQ(map.code, 0) << map.err;
    const TestFolder folder;
    const std::string path = folder.write("map.toml", map.out);
    const Outcome preview = run_here({"results", "preview", wide, "--map", path, "--json"});
    EXPECT_EQ(preview.code, 2);  // the row of means is no sample, and nobody said so yet
    EXPECT_NE(preview.out.find("\"could_be_imported\": false"), std::string::npos);
    EXPECT_EQ(run_here({"results", "map", kFolder + "files/only_blanks.csv"}).code, 2);
    EXPECT_EQ(run_here({"results", "preview", "missing.csv", "--map", path}).code, 2);
}

}  // namespace
