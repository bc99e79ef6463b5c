// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <algorithm>
#include <optional>
#include <string>

#include "base/result.hpp"
#include "base/text.hpp"

namespace bw::fuzz {

/// What is wrong with a finding of a property: nothing, or a sentence.
using Fault = std::optional<std::string>;

/// A complaint to the user is one line of text that does nothing to a terminal.
inline Fault fault_of_complaint(const Problem& problem) {
    const std::string text = problem.text();
    if (problem.message.empty()) {
        return "a complaint says nothing";
    }
    if (problem.code == ProblemCode::Internal) {
        return "input is not the program's own fault: " + text;
    }
    if (base::first_invalid_utf8(text)) {
        return "a complaint is not UTF-8";
    }
    const bool breaks = std::any_of(text.begin(), text.end(), [](char c) {
        return static_cast<unsigned char>(c) < ' ' || c == '\x7f';
    });
    return breaks ? Fault("a complaint holds control characters: " + base::quoted(text)) : Fault();
}

}  // namespace bw::fuzz
