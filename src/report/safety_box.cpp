// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include "base/text.hpp"
#include "report/house_style.hpp"

namespace bw::report {
namespace {

constexpr double kInset = 10, kBetween = 2;

std::string with_code(const HazardStatement& statement) {
    return statement.code.empty() ? statement.text
                                  : fmt::format("{} ({})", statement.text, statement.code);
}

}  // namespace

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
        std::vector<Span> first{{box.signal_word.empty() ? "Safety" : box.signal_word,
                                 {Face::Bold, kSignal * body, kInk}}};
        if (!box.pictograms.empty()) {
            first.push_back({"   pictograms: " + base::join_words(box.pictograms), label()});
        }
        add(first);
        if (box.hazards.empty()) {
            add({{"No hazard statement applies to " + subject + ".", style()}});
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
    add(
        {{"The suppliers' safety data sheets and the rules of the place come before this box; "
          "questions go to a person qualified for safety." +
              (box.decided_by.empty() ? std::string{} : " Decided by " + box.decided_by + "."),
          label()}});
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
