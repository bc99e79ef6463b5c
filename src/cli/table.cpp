// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/table.hpp"

#include <algorithm>

#include "base/text.hpp"

namespace bw::cli {
namespace {

struct Width {
    std::size_t before = 0;  // the decimal point
    std::size_t after = 0;   // from the decimal point on
    std::size_t total = 0;
    bool filled = false;
};

/// Where the decimal point of a cell stands; texts such as "412.3 ± 1.2" align by the first.
std::size_t point_of(const std::string& cell) {
    const std::size_t end = std::min(cell.find(' '), cell.size());
    const std::size_t point = cell.find('.');
    return base::display_width(std::string_view(cell).substr(0, std::min(point, end)));
}

std::string pad(const std::string& cell, const Width& width, Align align) {
    const std::size_t size = base::display_width(cell);
    switch (align) {
        case Align::Left:
            return cell + std::string(width.total - size, ' ');
        case Align::Right:
            return std::string(width.total - size, ' ') + cell;
        case Align::Decimal: {
            const std::size_t before = width.before - point_of(cell);
            const std::size_t block = width.before + width.after;
            const std::string left(before + (width.total - block), ' ');
            return left + cell + std::string(width.total - left.size() - size, ' ');
        }
    }
    return cell;
}

}  // namespace

TextTable::TextTable(std::vector<Column> columns) : columns_(std::move(columns)) {
    for (Column& column : columns_) {
        for (std::string& line : column.head) {
            line = base::one_line(line);
        }
    }
}

void TextTable::add(std::vector<std::string> cells) {
    for (std::string& cell : cells) {
        cell = base::one_line(cell);
    }
    rows_.push_back({std::move(cells), false});
}

std::string TextTable::text() const {
    std::vector<Width> widths(columns_.size());
    std::size_t head_lines = 0;
    for (std::size_t c = 0; c < columns_.size(); ++c) {
        Width& w = widths[c];
        for (const Row& row : rows_) {
            if (row.rule || row.cells[c].empty()) {
                continue;
            }
            const std::string& cell = row.cells[c];
            w.filled = true;
            const std::size_t size = base::display_width(cell);
            if (columns_[c].align == Align::Decimal) {
                w.before = std::max(w.before, point_of(cell));
                w.after = std::max(w.after, size - point_of(cell));
            }
            w.total = std::max(w.total, size);
        }
        w.total = std::max(w.total, w.before + w.after);
        for (const std::string& line : columns_[c].head) {
            w.total = std::max(w.total, base::display_width(line));
        }
        head_lines = w.filled ? std::max(head_lines, columns_[c].head.size()) : head_lines;
    }
    std::string out;
    const auto finish = [&](std::string line) {
        line.erase(line.find_last_not_of(' ') + 1);
        out += line + "\n";
    };
    std::size_t whole = 0;
    for (const Width& w : widths) {
        whole += w.filled ? w.total + 2 : 0;
    }
    const std::string rule = "  " + std::string(whole > 2 ? whole - 2 : 0, '-');
    for (std::size_t h = 0; h < head_lines; ++h) {
        std::string line;
        for (std::size_t c = 0; c < columns_.size(); ++c) {
            if (!widths[c].filled) {
                continue;
            }
            const auto& head = columns_[c].head;
            const std::size_t skipped = head_lines - head.size();
            const std::string word = h >= skipped ? head[h - skipped] : std::string();
            line += "  " + pad(word, widths[c],
                               columns_[c].align == Align::Left ? Align::Left : Align::Right);
        }
        finish(line);
    }
    finish(rule);
    for (const Row& row : rows_) {
        if (row.rule) {
            finish(rule);
            continue;
        }
        std::string line;
        for (std::size_t c = 0; c < columns_.size(); ++c) {
            if (!widths[c].filled) {
                continue;
            }
            line += "  " + (row.cells[c].empty() ? std::string(widths[c].total, ' ')
                                                 : pad(row.cells[c], widths[c], columns_[c].align));
        }
        finish(line);
    }
    return out;
}

std::string TextTable::rows_only() const {
    std::string whole = text();
    std::size_t head_lines = 1;  // the rule
    for (const Column& column : columns_) {
        head_lines = std::max(head_lines, 1 + column.head.size());
    }
    std::size_t at = 0;
    for (std::size_t i = 0; i < head_lines; ++i) {
        at = whole.find('\n', at) + 1;
    }
    return whole.substr(at);
}

}  // namespace bw::cli
