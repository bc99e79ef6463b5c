// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/table_encoding.hpp"

#include <algorithm>
#include <array>
#include <cstdint>

#include <fmt/format.h>

#include "base/text.hpp"

namespace bw::io {
namespace {

constexpr std::string_view kMark8 = "\xEF\xBB\xBF";
constexpr std::string_view kMark16Little = "\xFF\xFE";
constexpr std::string_view kMark16Big = "\xFE\xFF";
constexpr std::uint32_t kAsciiEnd = 0x80;

tl::unexpected<Problem> bad(std::string why) { return fail(ProblemCode::BadInput, std::move(why)); }

std::size_t line_of(std::string_view text, std::size_t offset) {
    return 1 + static_cast<std::size_t>(std::count(
                   text.begin(), text.begin() + static_cast<std::ptrdiff_t>(offset), '\n'));
}

/// UTF-8 as in table 3-6 of the Unicode standard.
void append_utf8(std::string& out, std::uint32_t code) {
    constexpr std::uint32_t kTwoBytes = 0x800;
    constexpr std::uint32_t kThreeBytes = 0x10000;
    const auto tail = [&](unsigned shift) {
        out += static_cast<char>(0x80U | ((code >> shift) & 0x3FU));
    };
    if (code < kAsciiEnd) {
        out += static_cast<char>(code);
    } else if (code < kTwoBytes) {
        out += static_cast<char>(0xC0U | (code >> 6U));
        tail(0);
    } else if (code < kThreeBytes) {
        out += static_cast<char>(0xE0U | (code >> 12U));
        tail(6);
        tail(0);
    } else {
        out += static_cast<char>(0xF0U | (code >> 18U));
        tail(12);
        tail(6);
        tail(0);
    }
}

Result<std::string> from_utf16(std::string_view bytes, bool big) {
    constexpr std::uint32_t kHighFirst = 0xD800;  // surrogates, D71 and D75 of the Unicode standard
    constexpr std::uint32_t kLowFirst = 0xDC00;
    constexpr std::uint32_t kLowLast = 0xDFFF;
    constexpr std::uint32_t kBeyond = 0x10000;
    constexpr unsigned kHalf = 10;  // bits of each half
    if (bytes.size() % 2 != 0) {
        return bad(
            "the file says that it is UTF-16 and has an odd number of bytes: it was cut off "
            "or damaged; export it again");
    }
    const auto unit = [&](std::size_t i) {
        const auto first = static_cast<std::uint8_t>(bytes[i]);
        const auto second = static_cast<std::uint8_t>(bytes[i + 1]);
        return static_cast<std::uint32_t>(big ? first << 8U | second : second << 8U | first);
    };
    std::string out;
    out.reserve(bytes.size());
    for (std::size_t i = 0; i < bytes.size(); i += 2) {
        std::uint32_t code = unit(i);
        const bool high = code >= kHighFirst && code < kLowFirst;
        const std::uint32_t low = high && i + 2 < bytes.size() ? unit(i + 2) : 0;
        if (high && low >= kLowFirst && low <= kLowLast) {
            code = kBeyond + ((code - kHighFirst) << kHalf) + (low - kLowFirst);
            i += 2;
        } else if (code >= kHighFirst && code <= kLowLast) {
            return bad(
                fmt::format("byte {} begins half a UTF-16 letter: the file is damaged; "
                            "export it again",
                            i + kMark16Big.size() + 1));
        }
        append_utf8(out, code);
    }
    return out;
}

/// 0x80 to 0x9F of Windows-1252; 0 where the code page has no letter.
constexpr std::array<std::uint16_t, 32> kWindowsUpper{
    0x20AC, 0,      0x201A, 0x0192, 0x201E, 0x2026, 0x2020, 0x2021, 0x02C6, 0x2030, 0x0160,
    0x2039, 0x0152, 0,      0x017D, 0,      0,      0x2018, 0x2019, 0x201C, 0x201D, 0x2022,
    0x2013, 0x2014, 0x02DC, 0x2122, 0x0161, 0x203A, 0x0153, 0,      0x017E, 0x0178};

Result<std::string> from_windows(std::string_view bytes) {
    std::string out;
    out.reserve(bytes.size());
    for (std::size_t i = 0; i < bytes.size(); ++i) {
        std::uint32_t code = static_cast<std::uint8_t>(bytes[i]);
        if (code >= kAsciiEnd && code < kAsciiEnd + kWindowsUpper.size()) {
            code = kWindowsUpper.at(code - kAsciiEnd);
            if (code == 0) {
                return bad(
                    fmt::format("line {} holds bytes that are neither UTF-8 nor "
                                "Windows-1252: save the file as UTF-8 text",
                                line_of(bytes, i)));
            }
        }
        append_utf8(out, code);
    }
    return out;
}

/// What the first bytes say a file is, when it is no table of text.
std::string_view other_kind(std::string_view bytes) {
    const std::string start = base::lower_ascii(base::trim(bytes.substr(0, 64)));
    if (bytes.starts_with("PK\x03\x04")) {
        return "this is a packed file such as a workbook, not text: name it .xlsx if it is one, or "
               "export comma-separated text";
    }
    if (bytes.starts_with("\xD0\xCF\x11\xE0")) {
        return "this is a workbook of the old binary form, not text: save it as .xlsx or as "
               "comma-separated text";
    }
    if (bytes.starts_with("%PDF")) {
        return "this is a PDF document, not a table of text: export comma-separated text from the "
               "instrument";
    }
    if (start.starts_with("<!doctype") || start.starts_with("<html") ||
        start.starts_with("<table") || start.starts_with("<?xml")) {
        return "this is a web page or XML, not a table of text: export comma-separated text from "
               "the instrument";
    }
    return {};
}

/// Whether well-formed letters of UTF-8 stand among the bytes that are none.
bool holds_utf8_letters(std::string_view bytes) {
    while (!bytes.empty()) {
        const auto broken = base::first_invalid_utf8(bytes);
        const std::string_view sound = bytes.substr(0, broken.value_or(bytes.size()));
        const bool letters = std::any_of(sound.begin(), sound.end(), [](char c) {
            return static_cast<std::uint8_t>(c) >= kAsciiEnd;
        });
        if (letters || !broken) {
            return letters;
        }
        bytes.remove_prefix(*broken + 1);
    }
    return false;
}

Result<DecodedText> decode_unmarked(std::string_view bytes, std::optional<Encoding> declared) {
    const bool utf16 =
        declared == Encoding::Utf16LittleEndian || declared == Encoding::Utf16BigEndian;
    if (utf16) {
        return bad(
            "the map says UTF-16 and the file has no byte order mark: leave encoding out of "
            "the map, or export the file with the mark");
    }
    if (const auto at = bytes.find('\0'); at != std::string_view::npos) {
        return bad(
            fmt::format("line {} holds a NUL byte: this is not a text file, or UTF-16 "
                        "without its byte order mark; save it as UTF-8 text",
                        line_of(bytes, at)));
    }
    const auto broken = base::first_invalid_utf8(bytes);
    if (declared ? declared != Encoding::Windows1252 : !broken) {
        if (broken) {
            return bad(
                fmt::format("line {} is not UTF-8, which the map declares: save the file as "
                            "UTF-8 text, or declare \"windows-1252\"",
                            line_of(bytes, *broken)));
        }
        return DecodedText{std::string(bytes), Encoding::Utf8};
    }
    if (!declared && holds_utf8_letters(bytes)) {
        return bad(
            fmt::format("line {} is not UTF-8 though other lines are: the file mixes two "
                        "encodings; save it as UTF-8 text",
                        line_of(bytes, *broken)));
    }
    BW_TRY(text, from_windows(bytes));
    return DecodedText{std::move(text), Encoding::Windows1252};
}

}  // namespace

Result<DecodedText> decode_text(std::string_view bytes, std::optional<Encoding> declared) {
    if (bytes.size() > kMostTableBytes) {
        return fail(ProblemCode::TooLarge, fmt::format("the file has {} bytes: at most {} are read",
                                                       bytes.size(), kMostTableBytes));
    }
    if (const std::string_view other = other_kind(bytes); !other.empty()) {
        return bad(std::string(other));
    }
    DecodedText out;
    if (bytes.starts_with(std::string_view("\xFF\xFE\0\0", 4))) {
        return bad("the file is UTF-32: save it as UTF-8 text");
    }
    if (bytes.starts_with(kMark16Little) || bytes.starts_with(kMark16Big)) {
        const bool big = bytes.starts_with(kMark16Big);
        BW_TRY(text, from_utf16(bytes.substr(kMark16Big.size()), big));
        out = {std::move(text), big ? Encoding::Utf16BigEndian : Encoding::Utf16LittleEndian};
    } else if (bytes.starts_with(kMark8)) {
        const std::string_view body = bytes.substr(kMark8.size());
        if (const auto broken = base::first_invalid_utf8(body)) {
            return bad(
                fmt::format("line {} is not UTF-8, though the file begins with its byte "
                            "order mark: export it again",
                            line_of(body, *broken)));
        }
        out = {std::string(body), Encoding::Utf8WithMark};
    } else {
        BW_TRY(text, decode_unmarked(bytes, declared));
        out = std::move(text);
    }
    if (const auto at = out.utf8.find('\0'); at != std::string::npos) {
        return bad(fmt::format("line {} holds a NUL byte: this is not a text file",
                               line_of(out.utf8, at)));
    }
    if (trim_blanks(out.utf8).empty()) {
        return bad("the file is empty: it needs a head and at least one row");
    }
    return out;
}

}  // namespace bw::io
