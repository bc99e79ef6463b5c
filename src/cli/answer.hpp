// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cmath>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "base/decimal.hpp"
#include "base/notice.hpp"
#include "base/text.hpp"
#include "cli/commands.hpp"
#include "cli/table.hpp"

namespace bw::cli {

/// Prints a problem and gives its exit code.
inline int complain_of(const Problem& problem, const Streams& streams) {
    std::fputs(("brinewright: " + base::one_line(problem.text()) + "\n").c_str(), streams.err);
    return base::exit_code(problem.code);
}

inline void put(const std::string& text, const Streams& streams) {
    std::fputs(text.c_str(), streams.out);
}

/// Null where a number is not finite.
inline nlohmann::ordered_json json_number(double value) {
    return std::isfinite(value) ? nlohmann::ordered_json(value) : nlohmann::ordered_json(nullptr);
}

inline nlohmann::ordered_json json_notices(const base::Notices& notices) {
    nlohmann::ordered_json out = nlohmann::ordered_json::array();
    for (const base::Notice& n : notices) {
        out.push_back(n.text);
    }
    return out;
}

/// "  - " and a text of several lines.
inline std::string bullet(std::string_view text) {
    constexpr std::size_t kWidth = 96;
    std::string out;
    std::string lead = "  - ";
    for (const std::string& line : base::wrap(text, kWidth)) {
        out += lead + line + "\n";
        lead = "    ";
    }
    return out;
}

/// A table of names, values and units; the standard uncertainty stands after the value.
class Sheet {
public:
    void add(std::string name, double value, int places, std::string unit) {
        rows_.add({std::move(name), base::format_places(value, places), std::move(unit)});
    }
    void add_with_u(std::string name, double value, double u, int places, std::string unit) {
        const auto text = base::format_with_uncertainty(value, u);
        rows_.add({std::move(name),
                   u > 0 ? text.value + " \u00B1 " + text.uncertainty
                         : base::format_places(value, places),
                   std::move(unit)});
    }
    [[nodiscard]] std::string text() const { return rows_.rows_only(); }

private:
    TextTable rows_{{{{""}, Align::Left}, {{""}, Align::Decimal}, {{""}, Align::Left}}};
};

}  // namespace bw::cli
