// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/answer.hpp"

#include "base/decimal.hpp"
#include "base/text.hpp"

namespace bw::cli {

int complain_of(const Problem& problem, const Streams& streams) {
    std::fputs(("brinewright: " + base::one_line(problem.text()) + "\n").c_str(), streams.err);
    return base::exit_code(problem.code);
}

void put(const std::string& text, const Streams& streams) { std::fputs(text.c_str(), streams.out); }

std::string bullet(std::string_view text) {
    constexpr std::size_t kWidth = 96;
    std::string out;
    std::string lead = "  - ";
    for (const std::string& line : base::wrap(text, kWidth)) {
        out += lead + line + "\n";
        lead = "    ";
    }
    return out;
}

void Sheet::add(std::string name, double value, int places, std::string unit) {
    rows_.add({std::move(name), base::format_places(value, places), std::move(unit)});
}

void Sheet::add_with_u(std::string name, double value, double u, int places, std::string unit) {
    const auto text = base::format_with_uncertainty(value, u);
    rows_.add(
        {std::move(name),
         u > 0 ? text.value + " \u00B1 " + text.uncertainty : base::format_places(value, places),
         std::move(unit)});
}

}  // namespace bw::cli
