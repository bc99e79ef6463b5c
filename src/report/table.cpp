// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "report/table.hpp"

#include <algorithm>
#include <memory>
#include <numeric>

#include "base/text.hpp"
#include "report/figure.hpp"
#include "report/status.hpp"
#include "report/text.hpp"

namespace bw::report {
namespace {

// Of the type size: space at each side of a cell, above and below, between lines; the head's type;
// the raised note.
constexpr double kSide = 0.5, kAbove = 0.38, kRowLeading = 1.28, kHead = 0.88, kNote = 0.62;
constexpr double kRise = 0.34, kBaseline = 0.95, kPlusMinus = 1.35;
constexpr double kRule = 0.9, kHairline = 0.4;  // points
constexpr double kShort = 5;                    // of the type size

/// Widths to the left and right of the decimal marks of a column of figures.
struct Alignment {
    double left = 0, right = 0, u_left = 0, u_right = 0;
    bool with_u = false;
    double words = 0;  ///< widest cell that is no number
    [[nodiscard]] double width(double size) const {
        return std::max(words, left + right + (with_u ? kPlusMinus * size + u_left + u_right : 0));
    }
};

bool number_like(const std::string& text) {
    return !text.empty() && (base::is_digit(text.back())) &&
           text.find_first_not_of("0123456789.-<> ") == std::string::npos;
}

struct Setter {
    const Table& table;
    const Typeface& typeface;
    double size;
    std::vector<Alignment> alignments;
    std::vector<double> widths, lefts;

    [[nodiscard]] Style style(Face face = Face::Regular) const { return {face, size, kInk}; }
    [[nodiscard]] Style figures() const { return {Face::Regular, size, kInk, true}; }
    [[nodiscard]] Style head_style() const { return {Face::Bold, kHead * size, kInk}; }
    [[nodiscard]] Style unit_style() const { return {Face::Regular, kHead * size, kQuiet}; }
    [[nodiscard]] Style quiet() const { return {Face::Italic, size, kQuiet}; }

    [[nodiscard]] double longest_word(const std::string& text, const Style& in) const {
        double out = 0;
        for (std::size_t at = 0; at < text.size();) {
            const std::size_t end = std::min(text.find(' ', at), text.size());
            out = std::max(out, typeface.width(text.substr(at, end - at), in));
            at = end + 1;
        }
        return out;
    }

    /// Left and right of the decimal mark.
    [[nodiscard]] std::pair<double, double> halves(const std::string& number) const {
        const std::string text = printed(number);
        const std::size_t point = std::min(text.find('.'), text.size());
        return {typeface.width(text.substr(0, point), figures()),
                typeface.width(text.substr(point), figures())};
    }

    [[nodiscard]] Alignment alignment(std::size_t column) const {
        Alignment out;
        for (const Row& row : table.rows) {
            if (column >= row.cells.size() || !row.heading.empty()) {
                continue;
            }
            const Cell& cell = row.cells[column];
            const double note = note_width(cell);
            if (!number_like(cell.text)) {
                out.words = std::max(out.words, typeface.width(cell.text, quiet()) + note);
                continue;
            }
            const auto [left, right] = halves(cell.text);
            out.left = std::max(out.left, left);
            out.right = std::max(out.right, right + (cell.expanded.empty() ? note : 0));
            if (!cell.expanded.empty()) {
                out.with_u = true;
                const auto [u_left, u_right] = halves(cell.expanded);
                out.u_left = std::max(out.u_left, u_left);
                out.u_right = std::max(out.u_right, u_right + note);
            }
        }
        return out;
    }

    [[nodiscard]] double note_width(const Cell& cell) const {
        return cell.note.empty() ? 0 : typeface.width(cell.note, {Face::Regular, kNote * size});
    }

    /// Least and wanted width of a column without its sides.
    [[nodiscard]] std::pair<double, double> span_of(std::size_t column) const {
        const Column& of = table.columns[column];
        double least =
            std::max(longest_word(of.head, head_style()), typeface.width(of.unit, unit_style()));
        double wanted = least;
        const double inner = of.least - 2 * kSide * size;
        least = std::max(least, inner);
        if (of.fit == Fit::Figures) {
            least = std::max(least, alignments[column].width(size));
            return {least, least};
        }
        for (const Row& row : table.rows) {
            if (column >= row.cells.size() || !row.heading.empty()) {
                continue;
            }
            const Cell& cell = row.cells[column];
            if (cell.status) {
                const double mark = status_width(*cell.status, std::string(name(*cell.status)),
                                                 kHead * size, typeface);
                least = std::max(least, mark);
                continue;
            }
            const Style in = of.fit == Fit::Right ? figures() : style(cell.face);
            const double whole = typeface.width(cell.text, in) + note_width(cell);
            wanted = std::max(wanted, whole);
            // What is short, such as a method's number, is not broken.
            const bool unbroken = of.fit == Fit::Right || whole <= kShort * size;
            least = std::max(least, unbroken ? whole : longest_word(cell.text, in));
        }
        return {least, std::max(least, wanted)};
    }

    /// Shares the width out; false where the columns do not fit at this size of type.
    [[nodiscard]] bool share_width() {
        const std::size_t n = table.columns.size();
        alignments.clear();
        for (std::size_t c = 0; c < n; ++c) {
            alignments.push_back(table.columns[c].fit == Fit::Figures ? alignment(c) : Alignment{});
        }
        std::vector<double> least(n), wanted(n);
        for (std::size_t c = 0; c < n; ++c) {
            const auto [low, high] = span_of(c);
            least[c] = low + 2 * kSide * size;
            wanted[c] = high + 2 * kSide * size;
        }
        const double sum_least = std::accumulate(least.begin(), least.end(), 0.0);
        const double sum_wanted = std::accumulate(wanted.begin(), wanted.end(), 0.0);
        widths = least;
        const double over = table.width - sum_least;
        if (sum_wanted <= table.width) {
            widths = wanted;
            widen(table.width - sum_wanted);
        } else if (over >= 0) {
            share_rest(over, least, wanted);
        } else {
            narrow(-over);
        }
        lefts.assign(n, table.x);
        for (std::size_t c = 1; c < n; ++c) {
            lefts[c] = lefts[c - 1] + widths[c - 1];
        }
        return over >= 0;
    }

    /// Columns that want little more than their least get it first, so that few rows need two
    /// lines.
    void share_rest(double rest, const std::vector<double>& least,
                    const std::vector<double>& wanted) {
        std::vector<std::size_t> order(widths.size());
        std::iota(order.begin(), order.end(), 0U);
        std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
            return wanted[a] - least[a] < wanted[b] - least[b];
        });
        for (std::size_t i = 0; i < order.size(); ++i) {
            const std::size_t c = order[i];
            // The last few that want much share evenly what is left.
            const double even = rest / static_cast<double>(order.size() - i);
            const double takes = std::min(wanted[c] - least[c], std::max(even, 0.0));
            widths[c] += takes;
            rest -= takes;
        }
    }

    /// Gives what is left over to the columns that can use it.
    void widen(double extra) {
        double shares = 0;
        const auto takes = [](const Column& column) {
            return column.fit == Fit::Words || column.fit == Fit::Box ? column.share : 0;
        };
        for (const Column& column : table.columns) {
            shares += takes(column);
        }
        for (std::size_t c = 0; c < widths.size(); ++c) {
            widths[c] += shares > 0 ? extra * takes(table.columns[c]) / shares
                                    : extra / static_cast<double>(widths.size());
        }
    }

    /// Takes what is missing from the columns of words, whose words are then broken.
    void narrow(double missing) {
        double words = 0;
        for (std::size_t c = 0; c < widths.size(); ++c) {
            words += table.columns[c].fit == Fit::Words ? widths[c] : 0;
        }
        for (std::size_t c = 0; c < widths.size(); ++c) {
            if (table.columns[c].fit == Fit::Words && words > 0) {
                widths[c] -= std::min(widths[c] - 2 * size, missing * widths[c] / words);
            }
        }
    }

    [[nodiscard]] double inner_left(std::size_t c) const { return lefts[c] + kSide * size; }
    [[nodiscard]] double inner_width(std::size_t c) const { return widths[c] - 2 * kSide * size; }

    void put_note(Drawing& to, const Cell& cell, double x, double baseline) const {
        if (!cell.note.empty()) {
            to.emplace_back(TextItem{
                x, baseline - kRise * size, cell.note, {Face::Regular, kNote * size, kInk}});
        }
    }

    /// Places a number so that its decimal mark stands at `x`; gives its right end.
    double put_number(Drawing& to, const std::string& number, double x, double baseline) const {
        const auto [left, right] = halves(number);
        to.emplace_back(TextItem{x - left, baseline, printed(number), figures()});
        return x + right;
    }

    void put_figure(Drawing& to, const Cell& cell, std::size_t c, double baseline) const {
        const Alignment& by = alignments[c];
        const double own = by.width(size);
        const double start = inner_left(c) + (inner_width(c) - own) / 2;
        if (!number_like(cell.text)) {
            const double middle = start + own / 2;
            to.emplace_back(TextItem{middle, baseline, cell.text, quiet(), Anchor::Middle});
            put_note(to, cell, middle + typeface.width(cell.text, quiet()) / 2, baseline);
            return;
        }
        const double numbers =
            by.left + by.right + (by.with_u ? kPlusMinus * size + by.u_left + by.u_right : 0);
        const double mark = start + (own - numbers) / 2 + by.left;  // words may be wider
        double end = put_number(to, cell.text, mark, baseline);
        if (!cell.expanded.empty()) {
            const double after = mark + by.right;
            to.emplace_back(
                TextItem{after + kPlusMinus * size / 2, baseline, "±", figures(), Anchor::Middle});
            end = put_number(to, cell.expanded, after + kPlusMinus * size + by.u_left, baseline);
        }
        put_note(to, cell, end, baseline);
    }

    /// Draws a cell from `top`; gives its number of lines.
    std::size_t put_cell(Drawing& to, const Cell& cell, std::size_t c, double top) const {
        const double baseline = top + kBaseline * size;
        if (cell.status) {
            append(to, status_mark(*cell.status, std::string(name(*cell.status)), inner_left(c),
                                   baseline, kHead * size, typeface));
            return 1;
        }
        const Style in = style(cell.face);
        switch (table.columns[c].fit) {
            case Fit::Figures:
                put_figure(to, cell, c, baseline);
                return 1;
            case Fit::Right: {
                const double right = inner_left(c) + inner_width(c) - note_width(cell);
                to.emplace_back(TextItem{right, baseline, cell.text, figures(), Anchor::End});
                put_note(to, cell, right, baseline);
                return 1;
            }
            case Fit::Words:
            case Fit::Box:
            case Fit::Status:
                break;
        }
        // Kerned as a whole a text may fit that its words one by one do not.
        constexpr double kRounding = 0.01;
        const double room = inner_width(c) - note_width(cell) + kRounding;
        const bool whole = typeface.width(cell.text, in) <= room;
        const std::vector<std::string> lines = whole ? std::vector<std::string>{cell.text}
                                                     : broken_lines(cell.text, in, room, typeface);
        for (std::size_t i = 0; i < lines.size(); ++i) {
            const double at = baseline + static_cast<double>(i) * kRowLeading * size;
            to.emplace_back(TextItem{inner_left(c), at, lines[i], in});
            if (i + 1 == lines.size()) {
                put_note(to, cell, inner_left(c) + typeface.width(lines[i], in), at);
            }
        }
        return std::max<std::size_t>(lines.size(), 1);
    }

    [[nodiscard]] double height_of(std::size_t lines) const {
        constexpr double kOneLine = 1.22;  // of the size: ascent and descent of one line
        return (2 * kAbove + kOneLine + static_cast<double>(lines - 1) * kRowLeading) * size;
    }

    void rules_between(Drawing& to, double height) const {
        if (table.grid) {
            for (std::size_t c = 1; c < lefts.size(); ++c) {
                to.emplace_back(line(lefts[c], 0, lefts[c], height, {kHair, kHairline, {}}));
            }
        }
    }

    [[nodiscard]] Strip row(const Row& of) const {
        Strip out;
        out.tag = "Table";
        out.part = table.part;
        Drawing items;
        std::size_t lines = 1;
        bool boxes = false;
        if (!of.heading.empty()) {
            const TextItem text{inner_left(0), kAbove * size + kBaseline * size, of.heading,
                                style(Face::Bold)};
            out.height = height_of(1);
            const Drawing ground{filled(rectangle(table.x, 0, table.width, out.height), kTint)};
            append(out.items, ground);
            append(items,
                   tagged("TD", {fitted(text, table.width - 2 * kSide * size, kNote, typeface)}));
            out.with_next = true;
        } else {
            for (std::size_t c = 0; c < of.cells.size(); ++c) {
                Drawing cell;
                lines = std::max(lines, put_cell(cell, of.cells[c], c, kAbove * size));
                boxes = boxes || table.columns[c].fit == Fit::Box;
                append(items, tagged("TD", std::move(cell)));
            }
            out.height = std::max(height_of(lines), boxes ? table.box_height : 0);
            rules_between(out.items, out.height);
        }
        append(out.items, tagged("TR", std::move(items)));
        out.items.emplace_back(
            line(table.x, out.height, table.x + table.width, out.height, {kHair, kHairline, {}}));
        return out;
    }

    [[nodiscard]] Strip head() const {
        Strip out;
        out.tag = "Table";
        out.part = table.part;
        std::vector<std::vector<std::string>> lines;
        std::size_t most = 1;
        bool units = false;
        for (std::size_t c = 0; c < table.columns.size(); ++c) {
            constexpr double kRounding = 0.01;
            lines.push_back(broken_lines(table.columns[c].head, head_style(),
                                         inner_width(c) + kRounding, typeface));
            most = std::max(most, lines.back().size());
            units = units || !table.columns[c].unit.empty();
        }
        const double step = kRowLeading * kHead * size;
        Drawing items;
        for (std::size_t c = 0; c < table.columns.size(); ++c) {
            const Fit fit = table.columns[c].fit;
            const Anchor anchor = fit == Fit::Figures ? Anchor::Middle
                                  : fit == Fit::Right ? Anchor::End
                                                      : Anchor::Start;
            const double x = inner_left(c) + (anchor == Anchor::Start    ? 0
                                              : anchor == Anchor::Middle ? inner_width(c) / 2
                                                                         : inner_width(c));
            Drawing cell;
            // Heads stand on the line above the units.
            double y = kAbove * size + kBaseline * size +
                       static_cast<double>(most - lines[c].size()) * step;
            for (const std::string& text : lines[c]) {
                cell.emplace_back(TextItem{x, y, text, head_style(), anchor});
                y += step;
            }
            if (!table.columns[c].unit.empty()) {
                const double at =
                    kAbove * size + kBaseline * size + static_cast<double>(most) * step;
                cell.emplace_back(TextItem{x, at, table.columns[c].unit, unit_style(), anchor});
            }
            append(items, tagged("TH", std::move(cell)));
        }
        out.height = height_of(1) + static_cast<double>(most - 1 + (units ? 1 : 0)) * step;
        append(out.items, tagged("TR", std::move(items)));
        const double right = table.x + table.width;
        out.items.emplace_back(line(table.x, 0, right, 0, {kInk, kRule, {}}));
        out.items.emplace_back(line(table.x, out.height, right, out.height, {kInk, kRule / 2, {}}));
        return out;
    }
};

}  // namespace

Strips table(const Table& of, const Typeface& typeface) {
    constexpr double kStep = 0.95, kSmallest = 0.7;
    Setter setter{of, typeface, of.size, {}, {}, {}};
    while (!setter.share_width() && setter.size * kStep >= kSmallest * of.size) {
        setter.size *= kStep;
    }
    const auto head = std::make_shared<const Strip>(setter.head());
    Strips out{*head};
    out.front().before = of.before;
    out.front().with_next = true;
    for (const Row& row : of.rows) {
        out.push_back(setter.row(row));
        out.back().head = head;
    }
    // No row alone at the end of a page or at the top of the next.
    if (of.rows.size() > 1) {
        out[1].with_next = true;
        out[out.size() - 2].with_next = true;
    }
    return out;
}

}  // namespace bw::report
