// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "report/house_style.hpp"
#include "report/pictogram.hpp"

namespace bw::report {
namespace {

constexpr double kInset = 10, kBetween = 2;

/// A phrase may be of two sentences; the stop of the last one comes after its code.
std::string with_code(const HazardStatement& statement) {
    std::string text = statement.text;
    if (text.ends_with('.')) {
        text.pop_back();
    }
    const std::string said =
        statement.code.empty() ? text : fmt::format("{} ({})", text, statement.code);
    return statement.of.empty() ? said : fmt::format("{}: {}", said, statement.of);
}

/// The signal word with the pictograms to its right, each with its name beside it; those that do
/// not fit on the line go to further ones.
Strips signals(const SafetyBox& box, const Style& signal, const Style& label, double x, double room,
               const Typeface& typeface) {
    constexpr double kSide = 28.4, kGap = 4, kApart = 14, kLines = 1.25;  // 28.4 points: 10 mm
    const std::string word = box.signal_word.empty() ? "Safety" : box.signal_word;
    Strips out;
    const auto next_row = [&] {
        Strip strip;
        strip.height = kSide;
        strip.before = kBetween;
        strip.with_next = true;
        out.push_back(std::move(strip));
    };
    next_row();
    out.back().items.emplace_back(TextItem{x, (kSide + signal.size) / 2 - 1, word, signal});
    const double start = x + typeface.width(word, signal) + kApart;
    double at = start;
    for (const std::string& code : box.pictograms) {
        const std::string name(pictogram_name(code));
        const double width = (name.empty() ? 0 : kSide + kGap) +
                             std::max(typeface.width(code, label), typeface.width(name, label));
        if (at > start && at + width > x + room) {
            next_row();
            at = start;
        }
        Drawing& items = out.back().items;
        append(items, pictogram(code, at, 0, kSide));
        const double text_x = at + (name.empty() ? 0 : kSide + kGap);
        const double middle = (kSide + label.size) / 2 - 1;
        const double half = name.empty() ? 0 : kLines * label.size / 2;
        items.emplace_back(TextItem{text_x, middle - half, code, label});
        if (!name.empty()) {
            items.emplace_back(TextItem{text_x, middle + half, name, label});
        }
        at += width + kApart;
    }
    for (Strip& strip : out) {
        strip.items = tagged("P", std::move(strip.items));
    }
    return out;
}

std::string decision_of(const SafetyBox& box) {
    if (!box.signed_for.empty()) {
        return fmt::format(" {}", fmt::join(box.signed_for, " "));
    }
    return box.decided_by.empty() ? std::string{} : " Decided by " + box.decided_by + ".";
}

}  // namespace

std::string_view safety_precedence() {
    return "The suppliers' safety data sheets and the rules of the place come before this box; "
           "questions go to a person qualified for safety.";
}

std::string no_hazard_words(const std::string& subject) {
    return "No hazard statement applies to " + subject + ".";
}

// The phrase comes first and the code after it: the code may accompany the phrase, not replace it.
Strips HouseStyle::safety(const SafetyBox& box, const std::string& subject) const {
    constexpr double kEdge = 4, kPad = 6, kBorder = 0.9, kSignal = 1.15;
    Strips inside;
    const double room = width() - 2 * kInset - kEdge;
    const auto add = [&](const std::vector<Span>& spans) {
        append(inside,
               paragraph(spans, {kInset + kEdge, room, kLeading, inside.empty() ? 0 : kBetween},
                         typeface));
    };
    if (box.decided_by.empty()) {
        add({{"Safety not yet decided", {Face::Bold, kSignal * body, kInk}}});
        add({{"No named person has decided on the hazards of " + subject +
                  ". Nobody may start before that is done and signed.",
              style()}});
    } else {
        const Style signal{Face::Bold, kSignal * body, kInk};
        if (box.pictograms.empty()) {
            add({{box.signal_word.empty() ? "Safety" : box.signal_word, signal}});
        } else {
            append(inside, signals(box, signal, label(), kInset + kEdge, room, typeface));
        }
        if (box.hazards.empty()) {
            add({{no_hazard_words(subject), style()}});
        }
        for (const HazardStatement& statement : box.hazards) {
            add({{with_code(statement) + ".", style(Face::Bold)}});
        }
        for (const HazardStatement& statement : box.precautions) {
            add({{with_code(statement) + ".", style()}});
        }
        for (const std::string& caution : box.cautions) {
            add({{caution, style()}});
        }
    }
    add({{std::string(safety_precedence()) + decision_of(box), label()}});
    inside.front().with_next = true;
    Frame frame;
    frame.width = width();
    frame.pad = kPad;
    frame.stroke = Stroke{kInk, kBorder, {}};
    frame.edge = kInk;
    frame.edge_width = kEdge;
    return framed(std::move(inside), frame);
}

}  // namespace bw::report
