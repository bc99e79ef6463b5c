// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "check/case_file.hpp"

namespace bw::check {

/// One expectation of a case held against what was found.
struct Comparison {
    std::string quantity;
    std::optional<double> expected, found, tolerance;
    std::string expected_words, found_words;
    bool holds = false;
};

struct Judgement {
    std::vector<Comparison> comparisons;
    std::vector<std::string> faults;  ///< of the case, or why it could not be carried out
    [[nodiscard]] bool holds() const;
    /// One line for each thing that does not hold.
    [[nodiscard]] std::string text() const;
};

/// Carries out a case and compares. A case with a fault fails, whatever it finds; so does a value
/// that was not found or is not finite.
[[nodiscard]] Judgement judge(const Case& c);

}  // namespace bw::check
