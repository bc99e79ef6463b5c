// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// What spreadsheets make of cells: dates, errors, formulas, cells too narrow.
#include <algorithm>
#include <array>

#include "base/text.hpp"
#include "io/number_cell.hpp"

namespace bw::io {
namespace {

// The months in English, German and French; three letters and more of a name are one.
constexpr auto kMonths = std::to_array<std::string_view>(
    {"january",   "february",     "march",    "april",        "may",       "june",    "july",
     "august",    "october",      "november", "december",     "september", "januar",  "februar",
     "m\u00E4rz", "mrz",          "mai",      "juni",         "juli",      "oktober", "dezember",
     "janvier",   "f\u00E9vrier", "mars",     "avril",        "juin",      "juillet", "ao\u00FBt",
     "septembre", "octobre",      "novembre", "d\u00E9cembre"});

/// Whether the text has only digits, letters and the signs of dates; tells them apart.
bool has_form_of_date(std::string_view text, std::string& letters, std::vector<int>& runs,
                      std::string& signs) {
    constexpr std::string_view kSigns = "./-: ";
    int run = 0;
    const auto end_run = [&] {
        if (run > 0) {
            runs.push_back(run);
            run = 0;
        }
    };
    for (const char c : text) {
        const bool letter =
            base::is_lower(c) || base::is_upper(c) || static_cast<unsigned char>(c) > '\x7f';
        if (base::is_digit(c)) {
            ++run;
            continue;
        }
        end_run();
        if (letter) {
            letters += c;
        } else if (kSigns.find(c) != std::string_view::npos) {
            signs += c;
        } else {
            return false;
        }
    }
    end_run();
    return true;
}

bool is_month(std::string_view letters) {
    constexpr std::size_t kShortest = 3;
    const std::string lower = base::lower_ascii(letters);
    return letters.size() >= kShortest &&
           std::any_of(kMonths.begin(), kMonths.end(),
                       [&](std::string_view month) { return month.starts_with(lower); });
}

}  // namespace

bool looks_like_date(std::string_view text) {
    constexpr int kYear = 4;  // digits
    constexpr int kDayAtMost = 2;
    constexpr std::size_t kMostRuns = 6;  // year, month, day, hour, minute, second
    std::string letters;
    std::string signs;
    std::vector<int> runs;
    if (!has_form_of_date(text, letters, runs, signs) || runs.empty() || runs.size() > kMostRuns ||
        !std::all_of(runs.begin(), runs.end(),
                     [](int n) { return n <= kDayAtMost || n == kYear; })) {
        return false;
    }
    if (!letters.empty()) {
        return is_month(letters) && runs.size() <= 3;
    }
    const bool slash = signs.find('/') != std::string::npos;
    const bool colon = signs.find(':') != std::string::npos;
    const bool two = runs.size() == 2 && signs.size() == 1 && (slash || colon);
    const bool trailing_point = runs.size() == 2 && signs == "..";  // "03.12."
    return two || trailing_point ||
           (runs.size() >= 3 && signs.size() + 1 >= runs.size() &&
            signs.find_first_not_of(' ') != std::string::npos);
}

std::optional<Spoilt> spoilt_by_spreadsheet(const TableCell& cell) {
    const std::string_view text = trim_blanks(cell.text);
    if (cell.kind == CellKind::Formula || text.starts_with('=') || text.starts_with('@')) {
        return Spoilt{"it is a formula, not a value",
                      "paste the values into the sheet, or export from the instrument"};
    }
    const bool sharp = text.starts_with('#');
    if (sharp && text.size() > 1 && text.find_first_not_of('#') == std::string_view::npos) {
        return Spoilt{"the column was too narrow when it was saved, and the number is lost",
                      "widen the column and save again"};
    }
    if (cell.kind == CellKind::Error || (sharp && text.size() > 2 && base::is_upper(text[1]))) {
        return Spoilt{"it is an error of a spreadsheet, not a value",
                      "mend the sheet, or export from the instrument"};
    }
    if (cell.kind == CellKind::Date || looks_like_date(text)) {
        return Spoilt{"it looks like a date, which a spreadsheet makes of numbers such as 3.12",
                      "export from the instrument again and do not open the file in a spreadsheet"};
    }
    if (text.starts_with('\'') || text.starts_with("\u2019")) {
        return Spoilt{"an apostrophe stands in front, by which a spreadsheet marks text",
                      "take the apostrophe away"};
    }
    return std::nullopt;
}

}  // namespace bw::io
