// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "report/house_style.hpp"

#include <algorithm>

#include <fmt/format.h>

namespace bw::report {
namespace {

// Points, by eye on the printed page.
constexpr double kHeadingBefore = 13, kHeadingAfter = 3, kBarOut = 8, kBarWidth = 3;
constexpr double kHeadingSize = 1.14;   // of the body's size
constexpr double kGap = 12;             // between columns
constexpr double kOpeningRight = 0.36;  // of the width
constexpr const char* kNotStated = "not stated";

std::string value_or_not_stated(const std::string& value) {
    return value == "-" ? kNotStated : value;
}

/// What stands over each page of a paper that is not one to rely on; empty: nothing.
std::string banner_of(const PaperMark& mark) {
    std::string out = mark.draft ? "DRAFT: not issued, and no certificate" : "";
    if (mark.invented) {
        out += mark.draft ? "  \u00B7  INVENTED EXAMPLE"
                          : "INVENTED EXAMPLE: no product, maker, person or result in it is real";
    }
    return out;
}

}  // namespace

Result<void> check_needed(const std::vector<Needed>& fields) {
    for (const Needed& field : fields) {
        if (field.value.empty()) {
            return fail(
                ProblemCode::BadInput,
                fmt::format("{} is missing; the paper cannot be issued without it", field.field),
                {{}, 0, field.field});
        }
    }
    return {};
}

Strips HouseStyle::opening(const std::string& title_text, const Maker& maker,
                           const std::vector<std::string>& under_maker,
                           const std::vector<std::pair<std::string, std::string>>& right) const {
    constexpr double kMakerSize = 1.2, kAfterMaker = 10, kTitleLeading = 1.22;
    constexpr double kLabelShare = 0.42, kFactLeading = 1.45, kStronger = 0.5;
    const double right_width = kOpeningRight * width();
    const double left_width = width() - right_width - kGap;
    Strips left = paragraph({{maker.name, {Face::Bold, kMakerSize * body, kInk}}},
                            {0, left_width, kTightLeading}, typeface);
    std::vector<std::string> lines = maker.address;
    if (!maker.contact.empty()) {
        lines.push_back(maker.contact);
    }
    lines.insert(lines.end(), under_maker.begin(), under_maker.end());
    for (const std::string& each : lines) {
        append(left, paragraph({{each, {Face::Regular, small + kStronger, kQuiet}}},
                               {0, left_width, kTightLeading}, typeface));
    }
    Strips facts_right;
    const double label_width = kLabelShare * right_width;
    for (const auto& [name, value] : right) {
        if (value.empty()) {
            continue;
        }
        facts_right.push_back(beside(
            {{0, paragraph({{name, label()}},
                           {0, label_width, kFactLeading * (small + kStronger) / small}, typeface)},
             {label_width, paragraph({{value, {Face::Bold, small + kStronger, kInk}}},
                                     {0, right_width - label_width, kFactLeading}, typeface)}}));
    }
    Strips out{beside({{0, left}, {width() - right_width, facts_right}})};
    append(out, paragraph({{title_text, {Face::Bold, title, kInk}}},
                          {0, width(), kTitleLeading, kAfterMaker, "H1"}, typeface));
    constexpr double kRuleHeight = 7, kRuleDown = 3, kRule = 2;
    Strip rule;
    rule.height = kRuleHeight;
    rule.items.emplace_back(filled(rectangle(0, kRuleDown, width(), kRule), kAccent));
    out.push_back(rule);
    keep_together(out);
    return out;
}

Strips HouseStyle::heading(const std::string& words) const {
    const double size = kHeadingSize * body;
    Strips out = paragraph({{words, {Face::Bold, size, kInk}}},
                           {0, width(), kTightLeading, kHeadingBefore, "H2"}, typeface);
    constexpr double kTop = 0.22, kTall = 0.86;  // of the size
    out.front().items.emplace_back(
        filled(rectangle(-kBarOut, kTop * size, kBarWidth, kTall * size), kAccent));
    out.back().height += kHeadingAfter;
    for (Strip& strip : out) {
        strip.with_next = true;
    }
    return out;
}

Strips HouseStyle::text(const std::string& words, double before) const {
    return paragraph({{words, style()}}, {0, width(), kLeading, before}, typeface);
}

Strips HouseStyle::quiet(const std::string& words, double before) const {
    return paragraph({{words, label()}}, {0, width(), kLeading, before}, typeface);
}

Strips HouseStyle::sentences(const std::vector<std::string>& texts) const {
    constexpr double kBetween = 2.5;
    Strips out;
    for (const std::string& each : texts) {
        append(out, text(each, out.empty() ? 0 : kBetween));
    }
    return out;
}

Strips HouseStyle::facts(const std::vector<std::pair<std::string, std::string>>& pairs,
                         int columns) const {
    constexpr double kLabel = 0.36, kLabelGap = 4, kBetween = 1.5;
    const double column = (width() - (columns - 1) * kGap) / columns;
    const double label_width = kLabel * column;
    Strips out;
    std::vector<Beside> row;
    const auto close = [&] {
        if (!row.empty()) {
            out.push_back(beside(row));
            out.back().before = kBetween;
            row.clear();
        }
    };
    for (const auto& [name, value] : pairs) {
        if (value.empty()) {
            continue;
        }
        const std::size_t pair = row.size() / 2;
        const double x = static_cast<double>(pair) * (column + kGap);
        // The label's type is smaller; the leading makes the baselines meet.
        const double leading = kLeading * body / small;
        row.push_back(
            {x, paragraph({{name, label()}}, {0, label_width - kLabelGap, leading, 0}, typeface)});
        const Style in = style(value == "-" ? Face::Italic : Face::Regular);
        row.push_back({x + label_width, paragraph({{value_or_not_stated(value), in}},
                                                  {0, column - label_width}, typeface)});
        if (row.size() == 2 * static_cast<std::size_t>(columns)) {
            close();
        }
    }
    close();
    return out;
}

Strips HouseStyle::checks(const std::vector<std::string>& texts) const {
    constexpr double kBox = 8, kIndent = 15, kBetween = 3, kDown = 0.25, kLine = 0.7;
    Strips out;
    for (const std::string& each : texts) {
        Strips lines = paragraph({{each, style()}},
                                 {kIndent, width() - kIndent, kLeading, kBetween}, typeface);
        lines.front().items.emplace_back(
            stroked(rectangle(0, kDown * body, kBox, kBox), {kInk, kLine, {}}));
        append(out, std::move(lines));
    }
    return out;
}

Strips HouseStyle::steps(const std::vector<std::vector<Span>>& actions) const {
    constexpr double kIndent = 20, kBetween = 4.5, kDisc = 0.72, kDrop = 0.33, kNumber = 0.92;
    Strips out;
    int number = 0;
    for (const auto& action : actions) {
        ++number;
        Strips lines = paragraph(
            action, {kIndent, width() - kIndent, kLeading, number > 1 ? kBetween : 0}, typeface);
        const double middle = kDisc * body, r = kDisc * body;
        Drawing disc{filled(circle(r, middle, r), kAccent),
                     TextItem{r,
                              middle + kDrop * body,
                              fmt::to_string(number),
                              {Face::Bold, kNumber * body, kPaper},
                              Anchor::Middle}};
        append(disc, std::move(lines.front().items));
        lines.front().items = std::move(disc);
        keep_together(lines);
        // Neither the first nor the last action stands alone on a page.
        lines.back().with_next =
            actions.size() > 1 &&
            (&action == &actions.front() || &action + 2 == actions.data() + actions.size());
        append(out, std::move(lines));
    }
    return out;
}

Strips HouseStyle::signatures(const std::vector<SignatureBlock>& blocks, int columns) const {
    constexpr double kSpaceToSign = 20, kAfter = 6, kFine = 0.6;
    const double column = (width() - (columns - 1) * kGap) / columns;
    Strips out;
    for (std::size_t first = 0; first < blocks.size(); first += static_cast<std::size_t>(columns)) {
        std::vector<Beside> row;
        for (std::size_t i = first;
             i < std::min(blocks.size(), first + static_cast<std::size_t>(columns)); ++i) {
            const SignatureBlock& block = blocks[i];
            const bool by_hand = block.at.empty();
            Strips cell;
            const auto add = [&](const std::string& words, const Style& in) {
                if (!words.empty()) {
                    append(cell, paragraph({{words, in}}, {0, column}, typeface));
                }
            };
            if (by_hand) {
                Strip to_sign;
                to_sign.height = kSpaceToSign;
                to_sign.items.emplace_back(
                    line(0, kSpaceToSign - 2, column, kSpaceToSign - 2, {kInk, kFine, {}}));
                cell.push_back(to_sign);
            }
            add(block.meaning, style(Face::Bold));
            add(block.name, style());
            add(block.duty, label());
            add(by_hand ? "signature, date and time" : block.at, label());
            row.push_back({static_cast<double>(i - first) * (column + kGap), std::move(cell)});
        }
        out.push_back(beside(row));
        out.back().before = out.size() > 1 ? kAfter : 0;
    }
    return out;
}

Margins HouseStyle::margins(const PaperMark& mark, std::string what, std::string about) const {
    return [this, mark, what = std::move(what), about = std::move(about)](std::size_t page,
                                                                          std::size_t of) {
        constexpr double kSmallest = 0.6, kRuleAbove = 12, kLine = 10, kHeadUp = 12;
        constexpr double kFine = 0.5, kUnder = 4, kMost = 0.7, kLeast = 0.28;
        Drawing out;
        const double left = form.left, right = form.size.width - form.right;
        const double foot = form.size.height - form.bottom + kRuleAbove;
        const auto put = [&](double x, double y, const std::string& words, const Style& in,
                             Anchor anchor, double share) {
            if (!words.empty()) {
                out.emplace_back(
                    fitted({x, y, words, in, anchor}, share * width(), kSmallest, typeface));
            }
        };
        const Style strong{Face::Bold, small, kInk};
        out.emplace_back(line(left, foot, right, foot, {kHair, kFine, {}}));
        put(left, foot + kLine, fmt::format("{} {}", what, mark.number), strong, Anchor::Start,
            kMost);
        put(right, foot + kLine, fmt::format("Page {} of {}", page, of), strong, Anchor::End,
            kLeast);
        std::string marks;
        const auto add = [&](const char* name, const std::string& value) {
            if (!value.empty()) {
                marks += fmt::format("{}{} {}", marks.empty() ? "" : "  ·  ", name, value);
            }
        };
        add("Content mark", mark.content_mark);
        add("Trail mark", mark.trail_mark);
        put(left, foot + 2 * kLine, marks, label(), Anchor::Start, 1);
        if (page > 1) {
            const double y = form.top - kHeadUp;
            put(left, y, about, label(), Anchor::Start, 1);
            out.emplace_back(line(left, y + kUnder, right, y + kUnder, {kHair, kFine, {}}));
        }
        const std::string banner = banner_of(mark);
        if (!banner.empty()) {
            constexpr double kFromTop = 9, kTall = 12, kTextDown = 8.6, kWithin = 0.96;
            constexpr Colour kYellow = colour(0xFFC533);
            out.emplace_back(
                stroked(filled(rectangle(left, kFromTop, right - left, kTall), kYellow),
                        {kInk, kFine, {}}));
            put((left + right) / 2, kFromTop + kTextDown, banner, strong, Anchor::Middle, kWithin);
        }
        return out;
    };
}

}  // namespace bw::report
