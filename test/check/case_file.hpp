// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "io/document.hpp"
#include "io/fields.hpp"

namespace bw::check {

/// How far a found value may lie from the expected one: abs + rel * |expected|.
struct Tolerance {
    double abs = 0;
    double rel = 0;
    [[nodiscard]] double at(double expected) const;
    /// Finite, not negative, and not nothing.
    [[nodiscard]] bool sound() const;
};

struct ExpectedNumber {
    std::string quantity;  ///< "mmol.Na"
    double value = 0;
    Tolerance tolerance;
    /// What the source prints in contradiction to its own numbers, and found less printed.
    std::optional<double> printed;
    std::optional<double> differs;
};

struct ExpectedWords {
    std::string quantity;  ///< "verdict", "says"
    std::vector<std::string> words;
};

/// A published recipe: what to weigh, as printed.
struct PrintedRecipe {
    std::string id, source, at, seen;
    std::string basis;               ///< "kg_solution", "L_solution", "L_water_added", "kg_water"
    std::vector<std::string> salts;  ///< "23.926 g NaCl"
    std::string density;             ///< "1.025 kg/L", for litres of solution
};

/// One published check, as its file states it, and what is wrong with the statement.
struct Case {
    std::string id, group, operation, source, at, seen, why, contradiction, file;
    int line = 0;
    std::shared_ptr<const io::Document> document;  ///< what `given` points into
    std::optional<io::Fields> given;
    std::optional<PrintedRecipe> recipe;
    std::vector<ExpectedNumber> totals;  ///< of the case that given.totals_of names
    std::vector<ExpectedNumber> numbers;
    std::vector<ExpectedWords> words;
    std::string expect_problem;  ///< wire name of the problem that must come
    bool complete = false;       ///< everything found in an expected group must be expected
    std::vector<std::string> faults;
};

struct CaseFile {
    std::vector<Case> cases;
    std::vector<std::string> faults;  ///< of the file as a whole
};

/// Reads the cases of a file. Whatever is wrong becomes a fault, of the case or of the file: a
/// faulty case is never left out.
[[nodiscard]] CaseFile read_cases(std::string_view text, const std::string& name);

}  // namespace bw::check
