// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Every published check of test/check/*.toml is a test of its own, named by its id. See README.md.
#include <set>

#include <gtest/gtest.h>

#include "check/case_files.hpp"
#include "check/judge.hpp"
#include "check/report.hpp"

namespace bw::check {

/// GoogleTest prints a case by its id, through a function of this name.
void PrintTo(const Case& c, std::ostream* out) {  // NOLINT(readability-identifier-naming)
    *out << c.id;
}

namespace {

/// Makes a name that GoogleTest takes of whatever a broken case or file is called.
std::string test_name(std::string text) {
    for (char& letter : text) {
        const bool plain = (letter >= 'a' && letter <= 'z') || (letter >= 'A' && letter <= 'Z') ||
                           (letter >= '0' && letter <= '9');
        letter = plain ? letter : '_';
    }
    return text;
}

/// All cases; what is wrong with a file as a whole stands as a case of its own, so that it fails.
std::vector<Case> all_cases() {
    std::vector<Case> out;
    std::set<std::string> ids;
    int number = 0;
    for (auto& [name, file] : read_all()) {
        ++number;
        if (!file.faults.empty()) {
            Case broken;
            broken.id = "file_" + std::to_string(number);
            broken.faults = file.faults;
            file.cases.push_back(std::move(broken));
        }
        for (Case& c : file.cases) {
            c.id = test_name(c.id);
            if (!ids.insert(c.id).second || c.id.empty()) {
                c.faults.push_back("two cases have this id, or it is empty: " + c.id);
                c.id += "_" + std::to_string(ids.size()) + "_again";
                ids.insert(c.id);
            }
            out.push_back(std::move(c));
        }
    }
    return out;
}

class PublishedCheck : public testing::TestWithParam<Case> {};

TEST_P(PublishedCheck, Holds) {
    const Case& c = GetParam();
    const Judgement judgement = judge(c);
    EXPECT_TRUE(report(c, judgement)) << "the report cannot be written";
    EXPECT_TRUE(judgement.holds()) << c.file << ":" << c.line << ": " << c.id << "\n"
                                   << judgement.text() << "source: " << c.source << ", " << c.at
                                   << " (" << c.seen << ")\ntolerance: " << c.why;
}

INSTANTIATE_TEST_SUITE_P(Of, PublishedCheck, testing::ValuesIn(all_cases()),
                         [](const auto& instance) { return instance.param.id; });

TEST(PublishedChecks, EveryFileHasCases) {
    const std::vector<NamedCases> files = read_all();
    EXPECT_FALSE(files.empty());
    for (const NamedCases& each : files) {
        EXPECT_FALSE(each.file.cases.empty()) << each.name;
    }
}

}  // namespace
}  // namespace bw::check
