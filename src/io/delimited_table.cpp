// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/delimited_table.hpp"

#include <algorithm>
#include <array>
#include <map>

#include <fmt/format.h>

#include "base/text.hpp"
#include "io/table_encoding.hpp"

namespace bw::io {
namespace {

char sign_of(Separator separator) {
    return separator == Separator::Tab ? '\t' : separator == Separator::Semicolon ? ';' : ',';
}

bool ends_line(char c) { return c == '\n' || c == '\r'; }

/// Number of rows of the most common width, if that is more than one cell, and of all that are not
/// blank.
struct Evenness {
    std::size_t even = 0;
    std::size_t rows = 0;
    [[nodiscard]] bool better_than(const Evenness& other) const {
        return even * std::max<std::size_t>(other.rows, 1) >
               other.even * std::max<std::size_t>(rows, 1);
    }
};

Evenness evenness_of(std::string_view text, char separator) {
    constexpr std::size_t kSampleRows = 200;  // a head of notes is shorter
    std::map<std::size_t, std::size_t> widths;
    Evenness out;
    std::size_t width = 1;
    bool within_quotes = false;
    bool blank = true;
    const auto end_row = [&] {
        if (!blank) {
            ++out.rows;
            ++widths[width];
        }
        width = 1;
        blank = true;
    };
    for (std::size_t i = 0; i < text.size() && out.rows < kSampleRows; ++i) {
        const char c = text[i];
        if (c == '"') {
            within_quotes = !within_quotes;
        } else if (!within_quotes && ends_line(c)) {
            end_row();
            continue;
        } else if (!within_quotes && c == separator) {
            ++width;
        }
        blank = blank && c == ' ';
    }
    end_row();
    for (const auto& [w, rows] : widths) {
        out.even = w > 1 ? std::max(out.even, rows) : out.even;
    }
    return out;
}

Separator likely_separator(std::string_view text) {
    constexpr std::array kBySurety{Separator::Tab, Separator::Semicolon, Separator::Comma};
    Separator best = Separator::Comma;
    Evenness best_evenness;
    for (const Separator candidate : kBySurety) {
        const Evenness evenness = evenness_of(text, sign_of(candidate));
        if (evenness.better_than(best_evenness)) {
            best = candidate;
            best_evenness = evenness;
        }
    }
    return best;
}

class RowReader {
public:
    RowReader(std::string_view text, char separator, CellTable& out)
        : text_(text), separator_(separator), out_(&out) {}

    Result<void> read() {
        while (at_ < text_.size()) {
            if (!ends_line(text_[at_])) {
                BW_CHECK(row());
            }
            take_line_end();
            BW_CHECK(out_->end_row());
        }
        return {};
    }
    [[nodiscard]] bool mixed_line_ends() const {
        return std::count_if(line_ends_.begin(), line_ends_.end(),
                             [](std::size_t n) { return n > 0; }) > 1;
    }

private:
    Result<void> row() {
        while (true) {
            if (at_ < text_.size() && text_[at_] == '"') {
                BW_CHECK(quoted());
            } else {
                BW_CHECK(plain());
            }
            if (at_ >= text_.size() || text_[at_] != separator_) {
                return {};
            }
            ++at_;
        }
    }

    Result<void> plain() {
        const std::size_t start = at_;
        while (at_ < text_.size() && text_[at_] != separator_ && !ends_line(text_[at_])) {
            if (text_[at_] == '"') {
                return bad(
                    "a quote stands within a field that does not begin with one: put the "
                    "whole field in quotes and double those inside");
            }
            ++at_;
        }
        return out_->add(text_.substr(start, at_ - start));
    }

    Result<void> quoted() {
        field_.clear();
        const std::size_t end = text_.size();
        for (++at_; at_ < end; ++at_) {
            if (text_[at_] != '"') {
                field_ += text_[at_];
            } else if (at_ + 1 < end && text_[at_ + 1] == '"') {
                field_ += '"';
                ++at_;
            } else {
                ++at_;
                if (at_ < end && text_[at_] != separator_ && !ends_line(text_[at_])) {
                    return bad(
                        "text follows the closing quote: put the whole field in quotes and "
                        "double those inside");
                }
                return out_->add(field_);
            }
            if (field_.size() > kMostFieldBytes) {
                return fail(ProblemCode::TooLarge,
                            fmt::format("the field in quotes is longer than {} bytes, the most "
                                        "that are read: its closing quote may be missing",
                                        kMostFieldBytes),
                            {"", 0, here()});
            }
        }
        return bad("the quote that opens this field is never closed");
    }

    void take_line_end() {
        if (at_ >= text_.size()) {
            return;
        }
        const bool both = text_[at_] == '\r' && at_ + 1 < text_.size() && text_[at_ + 1] == '\n';
        ++line_ends_.at(both ? 0 : text_[at_] == '\n' ? 1 : 2);
        at_ += both ? 2 : 1;
    }

    [[nodiscard]] std::string here() const { return cell_name(out_->rows(), out_->open_width()); }
    [[nodiscard]] tl::unexpected<Problem> bad(std::string why) const {
        return fail(ProblemCode::BadInput, std::move(why), {"", 0, here()});
    }

    std::string_view text_;
    char separator_;
    CellTable* out_;
    std::size_t at_ = 0;
    std::string field_;
    std::array<std::size_t, 3> line_ends_{};  ///< CR LF, LF, CR
};

/// The separator that a first line "sep=;" names, which is taken off.
Result<std::optional<Separator>> named_separator(std::string_view& text) {
    constexpr std::string_view kStart = "sep=";
    if (!base::lower_ascii(text.substr(0, kStart.size())).starts_with(kStart)) {
        return std::nullopt;
    }
    const std::size_t end = std::min(text.find_first_of("\r\n"), text.size());
    const std::string_view sign = text.substr(kStart.size(), end - kStart.size());
    for (const Separator known : {Separator::Comma, Separator::Semicolon, Separator::Tab}) {
        if (sign == std::string_view(std::array{sign_of(known)}.data(), 1)) {
            const bool both = text.substr(end).starts_with("\r\n");
            text.remove_prefix(std::min(end + (both ? 2 : 1), text.size()));
            return known;
        }
    }
    return fail(ProblemCode::BadInput,
                fmt::format("the first line names {} as separator: comma, semicolon and tab are "
                            "read",
                            base::quoted(sign)));
}

void tell_uneven_rows(const CellTable& table, base::Notices& notices) {
    std::map<std::size_t, std::size_t> widths;
    for (std::size_t r = 0; r < table.rows(); ++r) {
        if (table.width(r) > 0) {
            ++widths[table.width(r)];
        }
    }
    if (widths.size() < 2) {
        return;
    }
    const auto usual =
        std::max_element(widths.begin(), widths.end(),
                         [](const auto& a, const auto& b) { return a.second < b.second; });
    constexpr std::size_t kNamed = 10;
    std::vector<std::string> named;
    std::size_t uneven = 0;
    for (std::size_t r = 0; r < table.rows(); ++r) {
        if (table.width(r) > 0 && table.width(r) != usual->first && ++uneven <= kNamed) {
            named.push_back(fmt::format("{}", r + 1));
        }
    }
    notices.push_back(
        {"uneven_rows",
         fmt::format("{} {} another number of cells than the {} of most rows: {}{} {}.", uneven,
                     uneven == 1 ? "row has" : "rows have", usual->first,
                     uneven == 1 ? "row" : "rows", uneven > kNamed ? " (the first ten)" : "",
                     base::join_words(named))});
}

}  // namespace

Result<SourceTable> read_delimited(std::string_view bytes, const TableForm& form) {
    BW_TRY(decoded, decode_text(bytes, form.encoding));
    SourceTable out;
    out.encoding = decoded.encoding;
    if (out.encoding == Encoding::Windows1252) {
        out.notices.push_back({"windows_1252",
                               "The file is not UTF-8 and was read as Windows-1252: look at the "
                               "letters beyond ASCII, such as micro and umlauts."});
    }
    std::string_view text = decoded.utf8;
    BW_TRY(named, named_separator(text));
    out.separator = form.separator ? *form.separator : named ? *named : likely_separator(text);
    RowReader reader(text, sign_of(out.separator), out.cells);
    BW_CHECK(reader.read());
    if (reader.mixed_line_ends()) {
        out.notices.push_back({"mixed_line_ends",
                               "The rows end in different ways (CR LF, LF, CR): each was taken for "
                               "the end of a row."});
    }
    tell_uneven_rows(out.cells, out.notices);
    return out;
}

}  // namespace bw::io
