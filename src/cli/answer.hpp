// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "cli/commands.hpp"
#include "cli/table.hpp"

namespace bw::cli {

/// Prints a problem in one line and gives its exit code.
[[nodiscard]] int complain_of(const Problem& problem, const Streams& streams);

void put(const std::string& text, const Streams& streams);

/// "  - " and a text of several lines.
[[nodiscard]] std::string bullet(std::string_view text);

/// A table of names, values and units; the standard uncertainty stands after the value.
class Sheet {
public:
    void add(std::string name, double value, int places, std::string unit);
    void add_with_u(std::string name, double value, double u, int places, std::string unit);
    [[nodiscard]] std::string text() const { return rows_.rows_only(); }

private:
    TextTable rows_{{{{""}, Align::Left}, {{""}, Align::Decimal}, {{""}, Align::Left}}};
};

}  // namespace bw::cli
