// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/cell_table.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "base/text.hpp"

namespace bw::io {
namespace {

constexpr std::size_t kLetters = 26;
constexpr unsigned kKindShift = 24;  // a field of 64 KiB needs 17 bits
constexpr std::uint32_t kLengthMask = (1U << kKindShift) - 1;

constexpr auto kWideBlanks = std::to_array<std::string_view>(
    {"\u00A0", "\u2007", "\u2009", "\u202F", "\uFEFF", "\u2008", "\u200A"});

}  // namespace

std::string column_letters(std::size_t column) {
    std::string out;
    for (std::size_t rest = column + 1; rest > 0; rest = (rest - 1) / kLetters) {
        out.insert(out.begin(), static_cast<char>('A' + static_cast<int>((rest - 1) % kLetters)));
    }
    return out;
}

std::string cell_name(std::size_t row, std::size_t column) {
    return fmt::format("{}{}", column_letters(column), row + 1);
}

Result<std::size_t> column_of_letters(std::string_view letters) {
    std::size_t number = 0;
    const bool capitals =
        !letters.empty() && std::all_of(letters.begin(), letters.end(), base::is_upper);
    for (std::size_t i = 0; capitals && i < letters.size() && number <= kMostTableColumns; ++i) {
        number = number * kLetters + static_cast<std::size_t>(letters[i] - 'A') + 1;
    }
    if (number == 0 || number > kMostTableColumns) {
        return fail(ProblemCode::BadInput,
                    fmt::format("{} is not a column: write its letters, \"A\" to \"{}\"",
                                base::quoted(letters), column_letters(kMostTableColumns - 1)));
    }
    return number - 1;
}

Result<void> CellTable::add(std::string_view text, CellKind kind) {
    const auto too_large = [&](std::string what) {
        return fail(ProblemCode::TooLarge, std::move(what),
                    {"", 0, cell_name(rows(), open_width())});
    };
    if (text.size() > kMostFieldBytes) {
        return too_large(fmt::format("the cell has {} bytes: at most {} are read", text.size(),
                                     kMostFieldBytes));
    }
    if (open_width() >= kMostTableColumns) {
        return too_large(fmt::format("the row has more than {} columns, the most that are read",
                                     kMostTableColumns));
    }
    if (cells_.size() >= kMostTableCells || text_.size() + text.size() > kMostTableText) {
        return too_large(
            fmt::format("the table holds more than {} cells or {} bytes of text, the most that "
                        "are read: export fewer rows or columns",
                        kMostTableCells, kMostTableText));
    }
    cells_.push_back({static_cast<std::uint32_t>(text_.size()),
                      static_cast<std::uint32_t>(text.size()) |
                          (static_cast<std::uint32_t>(kind) << kKindShift)});
    text_ += text;
    return {};
}

Result<void> CellTable::end_row() {
    if (ends_.size() >= kMostTableRows) {
        return fail(
            ProblemCode::TooLarge,
            fmt::format("the table has more than {} rows, the most that are read", kMostTableRows));
    }
    widest_ = std::max(widest_, open_width());
    ends_.push_back(cells_.size());
    return {};
}

std::size_t CellTable::open_width() const {
    return cells_.size() - (ends_.empty() ? 0 : ends_.back());
}

std::size_t CellTable::width(std::size_t row) const {
    return row >= rows() ? 0 : ends_[row] - (row == 0 ? 0 : ends_[row - 1]);
}

TableCell CellTable::at(std::size_t row, std::size_t column) const {
    if (column >= width(row)) {
        return {};
    }
    const Span& span = cells_[(row == 0 ? 0 : ends_[row - 1]) + column];
    return {std::string_view(text_).substr(span.start, span.length_and_kind & kLengthMask),
            static_cast<CellKind>(span.length_and_kind >> kKindShift)};
}

bool CellTable::blank(std::size_t row) const {
    for (std::size_t c = 0; c < width(row); ++c) {
        if (!trim_blanks(at(row, c).text).empty()) {
            return false;
        }
    }
    return true;
}

std::string_view name_of(Encoding encoding) {
    switch (encoding) {
        case Encoding::Utf8:
            return "UTF-8";
        case Encoding::Utf8WithMark:
            return "UTF-8 with byte order mark";
        case Encoding::Utf16LittleEndian:
            return "UTF-16, little end first";
        case Encoding::Utf16BigEndian:
            return "UTF-16, big end first";
        case Encoding::Windows1252:
            return "Windows-1252";
        case Encoding::Workbook:
            return "workbook";
    }
    return "";
}

std::string_view name_of(Separator separator) {
    switch (separator) {
        case Separator::Comma:
            return "comma";
        case Separator::Semicolon:
            return "semicolon";
        case Separator::Tab:
            return "tab";
        case Separator::None:
            return "none";
    }
    return "";
}

std::size_t blank_length(std::string_view text, std::size_t at) {
    constexpr std::string_view kAsciiBlanks = " \t\r\n";
    if (at >= text.size()) {
        return 0;
    }
    if (kAsciiBlanks.find(text[at]) != std::string_view::npos) {
        return 1;
    }
    for (const std::string_view blank : kWideBlanks) {
        if (text.substr(at, blank.size()) == blank) {
            return blank.size();
        }
    }
    return 0;
}

std::string_view trim_blanks(std::string_view text) {
    while (const std::size_t length = blank_length(text, 0)) {
        text.remove_prefix(length);
    }
    bool shorter = true;
    while (shorter) {
        const std::string_view before = text;
        text = base::trim(text);
        for (const std::string_view blank : kWideBlanks) {
            if (text.ends_with(blank)) {
                text.remove_suffix(blank.size());
            }
        }
        shorter = text.size() < before.size();
    }
    return text;
}

std::string single_blanks(std::string_view text) {
    text = trim_blanks(text);
    std::string out;
    for (std::size_t i = 0; i < text.size();) {
        std::size_t end = i;
        while (const std::size_t length = blank_length(text, end)) {
            end += length;
        }
        out += end > i ? ' ' : text[i];
        i = std::max(end, i + 1);
    }
    return out;
}

}  // namespace bw::io
