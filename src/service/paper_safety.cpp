// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/paper_safety.hpp"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "ref/tables.hpp"

namespace bw::service {
namespace {

/// Whether the code is in the table; then it is added, with its material.
bool add_statement(const std::string& code, const std::string& material, report::SafetyBox& out) {
    for (const ref::HazardStatement& h : ref::hazard_statements()) {
        if (h.code != code) {
            continue;
        }
        auto& list = code.starts_with('P') ? out.precautions : out.hazards;
        const auto known =
            std::find_if(list.begin(), list.end(), [&](const auto& s) { return s.code == code; });
        if (known == list.end()) {
            list.push_back({code, std::string(h.text), material});
        } else {
            known->of += ", " + material;
        }
        if (h.signal == "Danger" || (out.signal_word.empty() && !h.signal.empty())) {
            out.signal_word = h.signal;
        }
        auto& pictograms = out.pictograms;
        if (!h.pictogram.empty() &&
            std::find(pictograms.begin(), pictograms.end(), h.pictogram) == pictograms.end()) {
            pictograms.emplace_back(h.pictogram);
        }
        return true;
    }
    return false;
}

/// Code points that the papers' typeface is sure to have: Latin with its accents, Greek, Cyrillic,
/// and the punctuation and signs of texts.
bool printable(char32_t c) {
    constexpr std::pair<char32_t, char32_t> kRanges[] = {
        {0x20, 0x7E},     {0xA0, 0xAC},     {0xAE, 0x17F},    {0x391, 0x3A1},
        {0x3A3, 0x3A9},   {0x3B1, 0x3C9},   {0x410, 0x44F},   {0x2013, 0x2014},
        {0x2018, 0x201A}, {0x201C, 0x201E}, {0x2026, 0x2026}, {0x2212, 0x2212}};
    return std::any_of(std::begin(kRanges), std::end(kRanges),
                       [c](const auto& r) { return c >= r.first && c <= r.second; });
}

/// Of a first byte of UTF-8: how many follow, and its bits that count.
struct Lead {
    int more;
    unsigned mask;
};
Lead lead_of(unsigned char byte) {
    constexpr Lead kFour{3, 0x07}, kThree{2, 0x0F}, kTwo{1, 0x1F}, kOne{0, 0x7F};
    constexpr unsigned char kFrom4 = 0xF0, kFrom3 = 0xE0, kFrom2 = 0xC0;
    return byte >= kFrom4 ? kFour : byte >= kFrom3 ? kThree : byte >= kFrom2 ? kTwo : kOne;
}

}  // namespace

report::SafetyBox safety_of(const works::RecipeVersion& version, const std::string& decided_by) {
    report::SafetyBox out;
    out.decided_by = decided_by;
    for (const works::RecipeShare& share : version.shares) {
        for (const std::string& hazard : share.hazards) {
            if (!add_statement(hazard, share.material, out)) {
                out.cautions.push_back(fmt::format("{}: {}", share.material, hazard));
            }
        }
        for (const std::string& caution : share.cautions) {
            out.cautions.push_back(fmt::format("{}: {}", share.material, caution));
        }
    }
    return out;
}

Result<void> check_printable(const std::string& text, const std::string& field) {
    constexpr int kContinuationBits = 6;
    constexpr unsigned kContinuationMask = 0x3F;
    for (std::size_t i = 0; i < text.size();) {
        const auto lead = static_cast<unsigned char>(text[i]);
        const Lead form = lead_of(lead);
        const int more = form.more;
        char32_t c = lead & form.mask;
        for (int k = 1; k <= more && i + static_cast<std::size_t>(k) < text.size(); ++k) {
            c = (c << kContinuationBits) |
                (static_cast<unsigned char>(text[i + static_cast<std::size_t>(k)]) &
                 kContinuationMask);
        }
        i += static_cast<std::size_t>(more) + 1;
        if (!printable(c)) {
            return fail(ProblemCode::BadInput,
                        fmt::format("the character U+{:04X} cannot stand on a paper: write Latin, "
                                    "Greek or Cyrillic letters, on one line",
                                    static_cast<unsigned>(c)),
                        {"", 0, field});
        }
    }
    return {};
}

}  // namespace bw::service
