// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// docs/validation.md and its pages by file are what the published checks find. With
// BW_WRITE_VALIDATION set they are written anew.
#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <set>
#include <sstream>

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "base/decimal.hpp"
#include "check/case_files.hpp"
#include "check/judge.hpp"

namespace bw::check {
namespace {

const std::string kDocs = std::string(BW_SOURCE_DIR) + "/docs/";
constexpr std::string_view kLicence =
    "<!-- SPDX-FileCopyrightText: The Brinewright authors -->\n"
    "<!-- SPDX-License-Identifier: Apache-2.0 -->\n";
constexpr std::string_view kFrom = "<!-- from here written by check_tests -->\n";
constexpr std::string_view kTo = "<!-- to here written by check_tests -->\n";

std::string read(const std::string& path) {
    std::ifstream in(path, std::ios::binary);
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

/// What stands in a cell of a table.
std::string cell(std::string text) {
    for (std::size_t at = 0; (at = text.find('|', at)) != std::string::npos; at += 2) {
        text.replace(at, 1, "\\|");
    }
    std::replace(text.begin(), text.end(), '\n', ' ');
    return text;
}

std::string digits(const std::optional<double>& value, int count) {
    return !value                  ? ""
           : std::isinf(*value)    ? (*value > 0 ? "infinite" : "-infinite")
           : std::abs(*value) == 0 ? "0"
                                   : base::format_short(*value, count);
}

/// How much of its tolerance a difference takes: in tenths, for the last digits of a computation
/// are another machine's own.
double tenths_used(const Comparison& c) {
    if (!c.expected || !c.found || !c.tolerance || !std::isfinite(*c.found)) {
        return 0;
    }
    constexpr double kTenths = 10;
    return std::round(kTenths * std::abs(*c.found - *c.expected) / *c.tolerance) / kTenths;
}

std::string used_text(const Comparison& c) {
    const double used = tenths_used(c);
    return !c.tolerance ? "" : used == 0 ? "< 0.1" : fmt::format("{:.1f}", used);
}

/// Digits that show a tenth of the tolerance, where that are not too many.
int digits_shown(const Comparison& c) {
    constexpr int kLeast = 4, kMost = 10;
    if (!c.expected || !c.tolerance || !(*c.tolerance > 0) || *c.expected == 0) {
        return kLeast;
    }
    const double places = std::ceil(std::log10(std::abs(*c.expected) / *c.tolerance)) + 1;
    return static_cast<int>(std::clamp(places, double{kLeast}, double{kMost}));
}

struct Count {
    std::size_t cases = 0, comparisons = 0, missed = 0;
    double most_used = 0;
    std::string farthest;
    std::set<std::string> sources;
};

std::string case_text(const Case& c, const Judgement& judgement, Count& count) {
    std::string out = fmt::format("\n### `{}`\n\n{}, {}. How the figures are known: {}.", c.id,
                                  c.source, c.at, c.seen);
    if (!c.why.empty()) {
        out += " Tolerance: " + c.why;
    }
    if (!c.contradiction.empty()) {
        out += " The source contradicts itself: " + c.contradiction;
    }
    out += "\n\n| " + c.operation + " | expected | found | tolerance | of it used | |\n";
    out += "|---|---|---|---|---|---|\n";
    ++count.cases;
    count.sources.insert(c.source);
    constexpr int kTolerance = 2;
    for (const Comparison& one : judgement.comparisons) {
        ++count.comparisons;
        count.missed += one.holds ? 0U : 1U;
        if (tenths_used(one) > count.most_used) {
            count.most_used = tenths_used(one);
            count.farthest = fmt::format("`{}`, {}", c.id, one.quantity);
        }
        out += fmt::format(
            "| {} | {} | {} | {} | {} | {} |\n", cell(one.quantity),
            cell(one.expected ? digits(one.expected, digits_shown(one)) : one.expected_words),
            cell(one.found ? digits(one.found, digits_shown(one)) : one.found_words),
            digits(one.tolerance, kTolerance), used_text(one), one.holds ? "holds" : "**missed**");
    }
    return out;
}

/// "[density](../methods/density.md), ...": the pages of docs/methods whose proof this page is, by
/// their titles.
std::string methods_proven_by(const std::string& page) {
    std::map<std::string, std::string> titles;
    for (const auto& entry : std::filesystem::directory_iterator(kDocs + "methods")) {
        const std::string text = read(entry.path().string());
        if (text.find("](../validation/" + page + ".md)") != std::string::npos) {
            titles[entry.path().filename().string()] = text.substr(2, text.find('\n') - 2);
        }
    }
    std::string out;
    for (const auto& [file, title] : titles) {
        out +=
            fmt::format("{}[{}](../methods/{})", out.empty() ? "\nMethods: " : ",\n", title, file);
    }
    return out.empty() ? out : out + "\n";
}

/// "kinetics" is the page that scores the cases.
std::string page_name(const std::string& name) {
    return name == "kinetics" ? "kinetics_cases" : name;
}

struct Page {
    std::string name, text;
    std::string group;
    Count count;
};

Page page_of(const NamedCases& from) {
    Page out;
    out.name = from.name.substr(0, from.name.find('.'));
    out.group = from.file.cases.front().group;
    std::string body;
    for (const Case& c : from.file.cases) {
        body += case_text(c, judge(c), out.count);
    }
    out.text = fmt::format(
        "{}# Published checks: {}\n\nWritten by check_tests from `test/check/{}`; do not edit. "
        "[All pages](../validation.md)\n{}{}",
        kLicence, out.group, from.name, methods_proven_by(page_name(out.name)), body);
    return out;
}

std::string overview(const std::vector<Page>& pages) {
    std::string out =
        "\n| claim | cases | figures | missed | most of a tolerance used | by |\n"
        "|---|---|---|---|---|---|\n";
    Count all;
    for (const Page& p : pages) {
        out += fmt::format("| [{}](validation/{}.md) | {} | {} | {} | {:.1f} | {} |\n", p.group,
                           page_name(p.name), p.count.cases, p.count.comparisons, p.count.missed,
                           p.count.most_used, cell(p.count.farthest));
        all.cases += p.count.cases;
        all.comparisons += p.count.comparisons;
        all.missed += p.count.missed;
        all.sources.insert(p.count.sources.begin(), p.count.sources.end());
    }
    out += fmt::format("| all | {} | {} | {} | | |\n\n## Sources\n\n", all.cases, all.comparisons,
                       all.missed);
    for (const std::string& source : all.sources) {
        out += "- " + source + "\n";
    }
    return out + "\n";
}

TEST(ValidationPages, AreWhatTheChecksFind) {
    std::vector<Page> pages;
    for (const NamedCases& from : read_all()) {
        ASSERT_TRUE(from.file.faults.empty()) << from.name;
        pages.push_back(page_of(from));
    }
    std::map<std::string, std::string> files;
    for (const Page& p : pages) {
        files["validation/" + page_name(p.name) + ".md"] = p.text;
    }
    const std::string page = read(kDocs + "validation.md");
    const std::size_t from = page.find(kFrom), to = page.find(kTo);
    ASSERT_NE(from, std::string::npos);
    ASSERT_NE(to, std::string::npos);
    files["validation.md"] =
        page.substr(0, from + kFrom.size()) + overview(pages) + page.substr(to);
    for (const auto& [name, text] : files) {
        if (std::getenv("BW_WRITE_VALIDATION") != nullptr) {
            std::ofstream(kDocs + name, std::ios::binary) << text;
            continue;
        }
        EXPECT_TRUE(read(kDocs + name) == text)
            << "docs/" << name
            << " is not what the checks find: run check_tests once with BW_WRITE_VALIDATION=1 and "
               "look at what changed";
    }
}

}  // namespace
}  // namespace bw::check
