// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/number_cell.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"

namespace bw::io {
namespace {

constexpr std::size_t kGroup = 3;  // digits
constexpr std::string_view kMinus = "\u2212";

NumberCell refused(NumberCell cell, std::string why, std::string mend) {
    cell.meaning = CellMeaning::Refused;
    cell.value.reset();
    cell.why = std::move(why);
    cell.mend = std::move(mend);
    return cell;
}

bool letter_or_digit(char c) { return base::is_digit(c) || base::is_lower(c) || base::is_upper(c); }

/// What follows the spelling in the text, without regard to case and blanks; nothing where the text
/// does not begin with it.
std::optional<std::string_view> after_spelling(std::string_view text, std::string_view spelling) {
    std::size_t at = 0;
    for (std::size_t i = 0; i < spelling.size();) {
        if (const std::size_t blank = blank_length(spelling, i)) {
            i += blank;
            continue;
        }
        while (const std::size_t blank = blank_length(text, at)) {
            at += blank;
        }
        const bool same = at < text.size() && base::lower_ascii(text.substr(at, 1)) ==
                                                  base::lower_ascii(spelling.substr(i, 1));
        if (!same) {
            return std::nullopt;
        }
        ++at;
        ++i;
    }
    const std::string_view rest = text.substr(at);
    const char last = spelling.empty() ? ' ' : spelling.back();
    const bool glued =
        !rest.empty() && blank_length(rest, 0) == 0 && (letter_or_digit(last) || last == '.');
    return glued ? std::nullopt : std::optional(trim_blanks(rest));
}

/// What follows the longest spelling that the text begins with.
std::optional<std::string_view> after_any(std::string_view text,
                                          const std::vector<std::string>& spellings,
                                          std::string_view always) {
    std::optional<std::string_view> best = after_spelling(text, always);
    for (const std::string& spelling : spellings) {
        const auto rest =
            trim_blanks(spelling).empty() ? std::nullopt : after_spelling(text, spelling);
        if (rest && (!best || rest->size() < best->size())) {
            best = rest;
        }
    }
    return best;
}

bool equals_any(std::string_view text, const std::vector<std::string>& spellings) {
    return std::any_of(spellings.begin(), spellings.end(), [&](const std::string& spelling) {
        const auto rest = after_spelling(text, spelling);
        return rest && rest->empty() && !trim_blanks(spelling).empty();
    });
}

std::string_view words_for(DecimalSign sign) {
    return sign == DecimalSign::Comma ? "a comma" : "a point";
}

/// Length of the group mark at `at`, or 0.
std::size_t group_mark_length(std::string_view text, std::size_t at, GroupMark mark) {
    constexpr std::string_view kCurved = "\u2019";
    switch (mark) {
        case GroupMark::None:
            return 0;
        case GroupMark::Space:
            return blank_length(text, at);
        case GroupMark::Comma:
            return text[at] == ',' ? 1 : 0;
        case GroupMark::Point:
            return text[at] == '.' ? 1 : 0;
        case GroupMark::Apostrophe:
            return text[at] == '\''                             ? 1
                   : text.substr(at, kCurved.size()) == kCurved ? kCurved.size()
                                                                : 0;
    }
    return 0;
}

/// The number taken apart: sign and digits before the decimal sign without group marks, digits
/// after it, exponent.
struct Parts {
    std::string sign, whole, fraction, exponent;
    char mark = 0;
    bool grouped = false;
};

class Taker {
public:
    Taker(std::string_view text, const NumberForm& form) : text_(text), form_(&form) {}

    /// Nothing and a reason where it is no number.
    std::optional<Parts> parts() {
        take_sign();
        if (!take_whole() || !take_fraction() || !take_exponent()) {
            return std::nullopt;
        }
        if (at_ < text_.size()) {
            return tell_rest();
        }
        if (out_.whole.empty() && out_.fraction.empty()) {
            return no("it is not a number",
                      "write digits, leave the cell empty, or list the "
                      "spelling in the map");
        }
        return out_;
    }
    [[nodiscard]] const std::string& why() const { return why_; }
    [[nodiscard]] const std::string& mend() const { return mend_; }

private:
    std::optional<Parts> no(std::string why, std::string mend) {
        why_ = std::move(why);
        mend_ = std::move(mend);
        return std::nullopt;
    }
    void take_sign() {
        if (text_.starts_with(kMinus)) {
            out_.sign = "-";
            at_ = kMinus.size();
        } else if (text_.starts_with('-') || text_.starts_with('+')) {
            out_.sign = text_.front() == '-' ? "-" : "";
            at_ = 1;
        }
    }
    bool take_whole() {
        std::size_t in_group = 0;
        while (at_ < text_.size()) {
            if (base::is_digit(text_[at_])) {
                out_.whole += text_[at_++];
                ++in_group;
                continue;
            }
            const std::size_t mark = group_mark_length(text_, at_, form_->group_mark);
            const bool digit_behind =
                at_ + mark < text_.size() && base::is_digit(text_[at_ + mark]);
            if (mark == 0 || !digit_behind) {
                break;
            }
            if (in_group == 0 || in_group > kGroup || (out_.grouped && in_group != kGroup)) {
                return wrong_groups();
            }
            out_.grouped = true;
            in_group = 0;
            at_ += mark;
        }
        return !out_.grouped || in_group == kGroup || wrong_groups();
    }
    bool wrong_groups() {
        no("its group marks do not stand between groups of three digits",
           "look at the number in the instrument's own report");
        return false;
    }
    bool take_fraction() {
        if (at_ >= text_.size() || (text_[at_] != '.' && text_[at_] != ',')) {
            return true;
        }
        out_.mark = text_[at_++];
        while (at_ < text_.size() && base::is_digit(text_[at_])) {
            out_.fraction += text_[at_++];
        }
        return true;
    }
    bool take_exponent() {
        if (at_ >= text_.size() || (text_[at_] != 'e' && text_[at_] != 'E') ||
            (out_.whole.empty() && out_.fraction.empty())) {
            return true;
        }
        std::size_t i = at_ + 1;
        std::string digits;
        if (i < text_.size() && (text_[i] == '+' || text_[i] == '-')) {
            digits = text_[i] == '-' ? "-" : "";
            ++i;
        } else if (text_.substr(i).starts_with(kMinus)) {
            digits = "-";
            i += kMinus.size();
        }
        const std::size_t start = i;
        while (i < text_.size() && base::is_digit(text_[i])) {
            digits += text_[i++];
        }
        if (i > start) {
            out_.exponent = digits;
            at_ = i;
        }
        return true;
    }
    /// Why something stands behind the digits, or instead of them.
    std::optional<Parts> tell_rest() {
        const std::string_view rest = trim_blanks(text_.substr(at_));
        const bool begun = !out_.whole.empty() || !out_.fraction.empty();
        if (has_wide_digits()) {
            return no("it holds full-width digits", "write the digits 0 to 9");
        }
        if (begun && !rest.empty() && (rest.front() == '.' || rest.front() == ',')) {
            return no("it holds two decimal signs or group marks",
                      "declare decimal_sign and group_mark in the map, or mend the number");
        }
        if (begun && !rest.empty() && base::is_digit(rest.front())) {
            return no("a blank stands within the number",
                      "declare group_mark = \"space\" in the map if it parts thousands");
        }
        if (begun && rest.starts_with('%')) {
            return no("it has a percent sign, and the unit of its column is another",
                      "write the number in the column's unit");
        }
        if (begun) {
            return no(
                fmt::format("{} stands behind the number", base::quoted(rest)),
                "leave the number alone in the cell; units belong in the map, the unit row or "
                "a unit column");
        }
        return no("it is not a number",
                  "write digits, leave the cell empty, or list the spelling in the map");
    }
    [[nodiscard]] bool has_wide_digits() const {
        constexpr std::string_view kStart = "\xEF\xBC";  // U+FF10 to U+FF19
        for (auto i = text_.find(kStart); i != std::string_view::npos;
             i = text_.find(kStart, i + 1)) {
            const unsigned last =
                i + 2 < text_.size() ? static_cast<unsigned char>(text_[i + 2]) : 0U;
            constexpr unsigned kZero = 0x90;
            constexpr unsigned kNine = 0x99;
            if (last >= kZero && last <= kNine) {
                return true;
            }
        }
        return false;
    }

    std::string_view text_;
    const NumberForm* form_;
    std::size_t at_ = 0;
    Parts out_;
    std::string why_, mend_;
};

/// 1.23E+03: the form in which a spreadsheet shows a number that has more digits.
bool is_spreadsheet_exponent(std::string_view text, const Parts& p) {
    return !p.exponent.empty() && p.whole.size() == 1 && p.fraction.size() == 2 &&
           (text.find("E+") != std::string_view::npos || text.find("E-") != std::string_view::npos);
}

bool could_be_thousands(const Parts& p) {
    return p.mark != 0 && p.fraction.size() == kGroup && !p.whole.empty() &&
           p.whole.size() <= kGroup && p.whole.front() != '0' && p.exponent.empty();
}

/// Reads the number of the cell; `out` holds what is known already.
NumberCell read_number(std::string_view text, const NumberForm& form, NumberCell out) {
    Taker taker(text, form);
    const auto parts = taker.parts();
    if (!parts) {
        return refused(std::move(out), taker.why(), taker.mend());
    }
    out.mark = parts->mark;
    const DecimalSign sign = parts->mark == ',' ? DecimalSign::Comma : DecimalSign::Point;
    if (parts->mark != 0 && form.decimal_sign != DecimalSign::NotDeclared &&
        sign != form.decimal_sign) {
        out.other_sign = true;
        return refused(std::move(out),
                       fmt::format("it has {}, and the map declares {} as decimal sign",
                                   words_for(sign), words_for(form.decimal_sign)),
                       "declare the sign that the file has, or the group mark");
    }
    if (form.decimal_sign == DecimalSign::NotDeclared && could_be_thousands(*parts)) {
        return refused(std::move(out),
                       fmt::format("it could be {0}.{1} or {0}{1}", parts->whole, parts->fraction),
                       "declare decimal_sign in the map");
    }
    if (!form.spreadsheet_exponents && is_spreadsheet_exponent(text, *parts)) {
        return refused(std::move(out), "a spreadsheet writes numbers so after cutting their digits",
                       "export all digits, or write exponents = \"read\" in the map if the "
                       "instrument itself writes them");
    }
    out.digits = parts->sign + (parts->whole.empty() ? "0" : parts->whole) +
                 (parts->fraction.empty() ? "" : "." + parts->fraction) +
                 (parts->exponent.empty() ? "" : "e" + parts->exponent);
    const auto value = base::parse_number(out.digits);
    if (!value) {
        out.digits.clear();
        return refused(std::move(out), "it is too large or too small for a number",
                       "look at the number in the instrument's own report");
    }
    out.value = *value;
    return out;
}

/// A cell that says "below" or "over", with the limit behind it.
NumberCell read_bound(std::string_view rest, const NumberForm& form, CellMeaning meaning,
                      NumberCell out) {
    out.meaning = meaning;
    if (rest.empty()) {
        return out;
    }
    out = read_number(rest, form, std::move(out));
    if (out.meaning != CellMeaning::Refused && !(*out.value > 0)) {
        return refused(std::move(out), "a limit must be above 0",
                       "look at the limit in the instrument's own report");
    }
    return out;
}

}  // namespace

NumberCell read_number_cell(const TableCell& cell, const NumberForm& form) {
    NumberCell out;
    std::string_view text = trim_blanks(cell.text);
    out.typed = std::string(text);
    if (text.empty() || equals_any(text, form.not_tested)) {
        return out;
    }
    if (cell.kind == CellKind::Number) {
        NumberForm plain;
        plain.decimal_sign = DecimalSign::Point;
        plain.spreadsheet_exponents = true;
        out.meaning = CellMeaning::Value;
        out = read_number(text, plain, std::move(out));
        out.mark = 0;  // the sheet stores no sign
        return out;
    }
    if (const auto rest = after_any(text, form.below_limit, "<")) {
        return read_bound(*rest, form, CellMeaning::BelowLimit, std::move(out));
    }
    if (const auto rest = after_any(text, form.over_range, ">")) {
        return read_bound(*rest, form, CellMeaning::OverRange, std::move(out));
    }
    if (const auto spoilt = spoilt_by_spreadsheet(cell)) {
        return refused(std::move(out), spoilt->why, spoilt->mend);
    }
    if (form.percent_signs && text.ends_with('%')) {
        text = trim_blanks(text.substr(0, text.size() - 1));
    }
    out.meaning = CellMeaning::Value;
    return read_number(text, form, std::move(out));
}

}  // namespace bw::io
