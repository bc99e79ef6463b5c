// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/guessed_head.hpp"

#include <algorithm>
#include <array>
#include <utility>
#include <vector>

#include "base/text.hpp"
#include "io/cell_table.hpp"
#include "ref/tables.hpp"

namespace bw::io {
namespace {

// Names beside those of the tables of elements and constituents: German ones, and other spellings.
constexpr auto kOtherNames = std::to_array<std::pair<std::string_view, std::string_view>>({
    {"natrium", "Na"},   {"kalium", "K"},    {"bor", "B"},      {"chlorid", "Cl"},
    {"bromid", "Br"},    {"fluorid", "F"},   {"sulfat", "SO4"}, {"sulphate", "SO4"},
    {"iodine", "I"},     {"iod", "I"},       {"jod", "I"},      {"eisen", "Fe"},
    {"kupfer", "Cu"},    {"zink", "Zn"},     {"mangan", "Mn"},  {"blei", "Pb"},
    {"aluminum", "Al"},  {"silicium", "Si"}, {"schwefel", "S"}, {"sulphur", "S"},
    {"phosphor", "P"},   {"cesium", "Cs"},   {"nitrat", "NO3"}, {"phosphat", "PO4"},
    {"ammonium", "NH4"},
});

// Words of a head that say nothing of what is read.
constexpr std::array<std::string_view, 5> kIdleWords{"line", "conc", "conc.", "concentration",
                                                     "nm"};

std::optional<std::string> by_name(std::string_view word) {
    const std::string lower = base::lower_ascii(word);
    for (const ref::ConstituentRow& row : ref::constituents()) {
        if (row.name == lower) {
            return std::string(row.symbol);
        }
    }
    for (const auto& [name, symbol] : kOtherNames) {
        if (name == lower) {
            return std::string(symbol);
        }
    }
    for (const ref::AtomicWeight& row : ref::atomic_weights()) {
        if (row.name == lower) {
            return std::string(row.symbol);
        }
    }
    return std::nullopt;
}

/// "SO42-" and "Na+" without their charge; empty where there is none.
std::string_view without_charge(std::string_view word) {
    if (word.size() < 2 || (word.back() != '+' && word.back() != '-')) {
        return {};
    }
    const char sign = word.back();
    while (!word.empty() && word.back() == sign) {
        word.remove_suffix(1);
    }
    if (!word.empty() && (word.back() == '2' || word.back() == '3') &&
        !(is_analyte(word) && !is_analyte(word.substr(0, word.size() - 1)))) {
        word.remove_suffix(1);
    }
    return word;
}

bool is_unit(std::string_view text) {
    const std::string lower = base::lower_ascii(text);
    return lower == "ppm" || lower == "ppb" || (lower != "none" && reading_unit(text).has_value());
}

/// Takes a wavelength or a unit that is not known yet.
bool take(std::string_view text, AnalyteHead& out) {
    std::string_view bare = trim_blanks(text);
    if (bare.ends_with("nm")) {
        bare = trim_blanks(bare.substr(0, bare.size() - 2));
    }
    // "Ca 317.933" is a head where 317.933 is a wavelength, and "Ca 31" is none.
    const auto line = analyte_head("Ca " + std::string(bare));
    if (out.wavelength.empty() && line && !line->wavelength.empty() && line->unit.empty()) {
        out.wavelength = line->wavelength;
        return true;
    }
    if (out.unit.empty() && is_unit(trim_blanks(text))) {
        out.unit = std::string(trim_blanks(text));
        return true;
    }
    return false;
}

/// Takes what stands in brackets off the text; false where it is no wavelength and no unit.
bool take_brackets(std::string& text, AnalyteHead& out) {
    for (auto open = text.find_first_of("(["); open != std::string::npos;
         open = text.find_first_of("([")) {
        const auto close = text.find(text[open] == '(' ? ')' : ']', open);
        if (close == std::string::npos || !take(text.substr(open + 1, close - open - 1), out)) {
            return false;
        }
        text.replace(open, close - open + 1, " ");
    }
    return true;
}

std::vector<std::string> words_of(const std::string& text) {
    std::vector<std::string> out;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find(' ', at), text.size());
        out.push_back(text.substr(at, end - at));
        at = end + 1;
    }
    return out;
}

}  // namespace

std::optional<std::string> guess_analyte(std::string_view word) {
    if (is_analyte(word)) {
        return std::string(word);
    }
    if (auto named = by_name(word)) {
        return named;
    }
    const std::string_view bare = without_charge(word);
    return is_analyte(bare) ? std::optional(std::string(bare)) : std::nullopt;
}

std::optional<AnalyteHead> guess_analyte_head(std::string_view head) {
    AnalyteHead out;
    std::string text(head);
    std::replace(text.begin(), text.end(), '_', ' ');
    if (!take_brackets(text, out)) {
        return analyte_head(head);
    }
    std::replace(text.begin(), text.end(), ',', ' ');
    std::string symbol;
    for (const std::string& word : words_of(single_blanks(text))) {
        const bool idle = std::find(kIdleWords.begin(), kIdleWords.end(),
                                    base::lower_ascii(word)) != kIdleWords.end();
        if (idle) {
            continue;
        }
        if (symbol.empty()) {
            if (const auto found = guess_analyte(word)) {
                symbol = *found;
                continue;
            }
            return analyte_head(head);
        }
        if (!take(word, out)) {
            return analyte_head(head);
        }
    }
    if (symbol.empty()) {
        return std::nullopt;
    }
    out.analyte = symbol;
    return out;
}

}  // namespace bw::io
