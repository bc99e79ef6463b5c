// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/make_up_words.hpp"

#include <array>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "io/document.hpp"

namespace bw::service {
namespace {

constexpr int kDigits = 8;

/// A text as typed, or a number with the unit of its table.
std::string plain(const io::Node* node, const std::string& unit) {
    if (node == nullptr) {
        return {};
    }
    if (const std::string* text = node->text()) {
        return base::one_line(*text);
    }
    const double* number = node->number();
    return number == nullptr
               ? std::string()
               : base::format_short(*number, kDigits) + (unit.empty() ? "" : " " + unit);
}

/// A stated share: "99.90 %", or a table of value, u, low, high, below, as, basis and note.
std::string stated(const io::Node& node) {
    if (node.table() == nullptr) {
        return plain(&node, "");
    }
    const std::string unit = plain(node.find("unit"), "");
    const auto of = [&](std::string_view key) { return plain(node.find(key), unit); };
    std::string out = of("value");
    if (const std::string below = of("below"); !below.empty()) {
        out = "below " + below;
    }
    if (const std::string low = of("low"), high = of("high"); !low.empty() || !high.empty()) {
        out += (out.empty() ? "" : ", ") + (low.empty()    ? "at most " + high
                                            : high.empty() ? "at least " + low
                                                           : low + " to " + high);
    }
    constexpr std::array<std::pair<std::string_view, std::string_view>, 4> kAsides = {
        {{"u", "u "}, {"as", "as "}, {"basis", ""}, {"note", ""}}};
    std::vector<std::string> asides;
    for (const auto& [key, lead] : kAsides) {
        if (const std::string text = of(key); !text.empty()) {
            asides.push_back(std::string(lead) + text);
        }
    }
    return out + (asides.empty() ? "" : fmt::format(" ({})", fmt::join(asides, ", ")));
}

std::string components(const io::Node& list) {
    std::vector<std::string> out;
    if (const io::Node::Array* rows = list.array()) {
        for (const io::Node& row : *rows) {
            out.push_back(plain(row.find("of"), "") + " " + stated(row));
        }
    }
    return fmt::format("{}", fmt::join(out, ", "));
}

}  // namespace

Result<std::string> make_up_words(const std::string& make_up) {
    const auto document = io::parse_document(make_up, "make-up");
    if (!document) {
        return fail(ProblemCode::BrokenBooks,
                    "the make-up of a lot cannot be read: " + document.error().message);
    }
    const io::Node& root = document->root;
    std::vector<std::string> out;
    constexpr std::array<std::pair<std::string_view, std::string_view>, 4> kShares = {
        {{"assay", "assay"},
         {"moisture", "moisture"},
         {"loss_on_ignition", "loss on ignition"},
         {"note", "note:"}}};
    for (const auto& [key, lead] : kShares) {
        if (const io::Node* node = root.find(key)) {
            out.push_back(std::string(lead) + " " + stated(*node));
        }
    }
    for (const std::string_view key : {"impurities", "composition"}) {
        if (const io::Node* node = root.find(key)) {
            out.push_back(std::string(key) + ": " + components(*node));
        }
    }
    return out.empty() ? std::string("as the catalogue has it")
                       : fmt::format("{}", fmt::join(out, "; "));
}

}  // namespace bw::service
