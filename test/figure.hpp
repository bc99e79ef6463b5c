// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <string>

#include <fmt/format.h>
#include <gtest/gtest.h>

namespace bw::test {

/// A figure that was promised, and what a test found of it: a line of docs/validation/promises.md.
struct Figure {
    std::string area;   ///< "Waters", "Recipes", "Dissolving", "Books", "Pages", "Blends", "House"
    std::string claim;  ///< what it is about, in plain words
    std::string asked;  ///< the figure, with its unit
    std::string found;  ///< the same on every machine, unless it varies
    bool met = false;
    bool varies = false;  ///< by chance or by machine: the page is not held to it
};

/// How much of a tolerance was used, in tenths rounded up, the same on every machine: "at most 0.3
/// of it".
inline std::string share_used(double worst, double tolerance) {
    constexpr double kTenths = 10;
    return fmt::format("at most {:.1f} of it", std::ceil(worst / tolerance * kTenths) / kTenths);
}

inline std::string json_text(const std::string& text) {
    std::string out = "\"";
    for (const char c : text) {
        if (c == '"' || c == '\\') {
            out += '\\';
        }
        out += c == '\n' ? ' ' : c;
    }
    return out + "\"";
}

/// Appends a figure to the file that the environment variable BW_FIGURES names; does nothing where
/// it is not set.
inline void write_figure(const Figure& figure) {
    const char* file = std::getenv("BW_FIGURES");
    if (file == nullptr) {
        return;
    }
    const auto* test = ::testing::UnitTest::GetInstance()->current_test_info();
    const std::string line = fmt::format(
        R"({{"area": {}, "claim": {}, "asked": {}, "found": {}, "met": {}, "varies": {}, "by": {}}})",
        json_text(figure.area), json_text(figure.claim), json_text(figure.asked),
        json_text(figure.found), figure.met, figure.varies,
        json_text(fmt::format("{}.{}", test->test_suite_name(), test->name())));
    std::ofstream out(file, std::ios::app | std::ios::binary);
    out << line + "\n" << std::flush;
    EXPECT_TRUE(out.good()) << "cannot write to " << file;
}

/// A figure that is met; one that is not fails the test.
inline void record(const Figure& figure) {
    EXPECT_TRUE(figure.met) << figure.claim << ": " << figure.found << " found, " << figure.asked
                            << " asked for";
    write_figure(figure);
}

/// A figure that is known not to be met, and why; the test fails where it is met after all, for
/// then the reason is no longer true.
inline void record_miss(Figure figure, const std::string& why) {
    EXPECT_FALSE(figure.met) << figure.claim << ": " << figure.asked << " is met after all by "
                             << figure.found << "; it was taken to be missed: " << why;
    figure.found += "; " + why;
    write_figure(figure);
}

}  // namespace bw::test
