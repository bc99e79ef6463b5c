// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "check/report.hpp"

#include <cmath>
#include <cstdlib>
#include <fstream>

#include <fmt/format.h>

#include "base/decimal.hpp"

namespace bw::check {
namespace {

std::string json_text(std::string_view text) {
    constexpr unsigned char kFirstPrintable = 0x20;
    std::string out = "\"";
    for (const char letter : text) {
        const auto byte = static_cast<unsigned char>(letter);
        if (letter == '"' || letter == '\\') {
            out += '\\';
            out += letter;
        } else if (byte < kFirstPrintable) {
            out += fmt::format("\\u{:04x}", byte);
        } else {
            out += letter;
        }
    }
    return out + "\"";
}

std::string json_number(double value) {
    return std::isfinite(value) ? base::format_exact(value) : "null";
}

/// Keys that every line of a case has.
std::string head(const Case& c) {
    return fmt::format(
               R"({{"id":{},"group":{},"operation":{},"source":{},"at":{},"seen":{},"why":{})",
               json_text(c.id), json_text(c.group), json_text(c.operation), json_text(c.source),
               json_text(c.at), json_text(c.seen), json_text(c.why)) +
           (c.contradiction.empty()
                ? std::string()
                : fmt::format(R"(,"contradiction":{})", json_text(c.contradiction)));
}

std::string line(const Case& c, const Comparison& one) {
    const bool number = one.expected && one.found && one.tolerance;
    const std::string expected =
        number ? json_number(*one.expected) : json_text(one.expected_words);
    const std::string found = number ? json_number(*one.found) : json_text(one.found_words);
    const std::string difference = number ? json_number(*one.found - *one.expected) : "null";
    const std::string tolerance = number ? json_number(*one.tolerance) : "null";
    return head(c) +
           fmt::format(R"(,"quantity":{},"expected":{},"found":{},"difference":{},"tolerance":{},)",
                       json_text(one.quantity), expected, found, difference, tolerance) +
           fmt::format(R"("verdict":"{}"}})", one.holds ? "holds" : "fails") + "\n";
}

}  // namespace

std::string report_lines(const Case& c, const Judgement& judgement) {
    std::string out;
    for (const Comparison& one : judgement.comparisons) {
        out += line(c, one);
    }
    for (const std::string& fault : judgement.faults) {
        out += head(c) + fmt::format(R"(,"fault":{},"verdict":"fails"}})", json_text(fault)) + "\n";
    }
    return out;
}

bool report(const Case& c, const Judgement& judgement) {
    const char* path = std::getenv("BW_CHECK_REPORT");
    if (path == nullptr || *path == '\0') {
        return true;
    }
    std::ofstream out(path, std::ios::app | std::ios::binary);
    out << report_lines(c, judgement);
    out.close();
    return !out.fail();
}

}  // namespace bw::check
