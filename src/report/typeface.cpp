// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "report/typeface.hpp"

#include <array>
#include <string>

#include <fmt/format.h>
#include <hb-ot.h>
#include <hb.h>

#include "base/text.hpp"

// From the assembler file that cmake/BrinewrightFonts.cmake writes.
// NOLINTBEGIN(readability-identifier-naming)
extern "C" {
extern const unsigned char bw_font_regular[], bw_font_regular_end[];
extern const unsigned char bw_font_bold[], bw_font_bold_end[];
extern const unsigned char bw_font_italic[], bw_font_italic_end[];
}
// NOLINTEND(readability-identifier-naming)

namespace bw::report {
namespace {

constexpr std::size_t kFaces = 3;

/// Characters that are not seen, or that turn the direction of text: soft hyphen, zero-width and
/// direction marks, line and paragraph separators, byte order mark (Unicode, Cf, Zl and Zp).
bool unseen(char32_t c) {
    constexpr std::array<std::pair<char32_t, char32_t>, 6> kRanges{{{0xAD, 0xAD},
                                                                    {0x200B, 0x200F},
                                                                    {0x2028, 0x202E},
                                                                    {0x2060, 0x206F},
                                                                    {0xFEFF, 0xFEFF},
                                                                    {0xFFF0, 0xFFFD}}};
    for (const auto& [from, to] : kRanges) {
        if (c >= from && c <= to) {
            return true;
        }
    }
    return false;
}

/// The code point that starts at `at` of well-formed UTF-8; moves `at` behind it.
char32_t next_code_point(std::string_view text, std::size_t& at) {
    constexpr unsigned kTwo = 0xC0, kThree = 0xE0, kFour = 0xF0, kTail = 0x3F;  // RFC 3629
    constexpr unsigned kTwoBits = 0x1F, kThreeBits = 0x0F, kFourBits = 0x07;
    constexpr int kTailBits = 6;
    const auto first = static_cast<unsigned char>(text[at++]);
    int more = 0;
    char32_t out = first;
    if (first >= kFour) {
        more = 3, out = first & kFourBits;
    } else if (first >= kThree) {
        more = 2, out = first & kThreeBits;
    } else if (first >= kTwo) {
        more = 1, out = first & kTwoBits;
    }
    for (; more > 0 && at < text.size(); --more) {
        out = (out << kTailBits) | (static_cast<unsigned char>(text[at++]) & kTail);
    }
    return out;
}

}  // namespace

std::span<const unsigned char> font_bytes(Face face) {
    switch (face) {
        case Face::Bold:
            return {bw_font_bold, bw_font_bold_end};
        case Face::Italic:
            return {bw_font_italic, bw_font_italic_end};
        case Face::Regular:
            break;
    }
    return {bw_font_regular, bw_font_regular_end};
}

struct Typeface::Opened {
    struct One {
        hb_face_t* face = nullptr;
        hb_font_t* font = nullptr;
        double units_per_em = 1, ascent = 0, descent = 0;
    };
    std::array<One, kFaces> faces{};
    hb_buffer_t* buffer = nullptr;

    [[nodiscard]] const One& of(Face face) const {
        return faces.at(static_cast<std::size_t>(face));
    }
};

Typeface::Typeface() : opened_(std::make_unique<Opened>()) {
    opened_->buffer = hb_buffer_create();
    for (std::size_t i = 0; i < kFaces; ++i) {
        const auto bytes = font_bytes(static_cast<Face>(i));
        // HarfBuzz takes characters; the bytes are only read.
        hb_blob_t* blob = hb_blob_create(
            reinterpret_cast<const char*>(bytes.data()),  // NOLINT(*-reinterpret-cast)
            static_cast<unsigned>(bytes.size()), HB_MEMORY_MODE_READONLY, nullptr, nullptr);
        Opened::One& one = opened_->faces.at(i);
        one.face = hb_face_create(blob, 0);
        hb_blob_destroy(blob);
        one.font = hb_font_create(one.face);
        hb_ot_font_set_funcs(one.font);
        const unsigned em = hb_face_get_upem(one.face);
        hb_font_set_scale(one.font, static_cast<int>(em), static_cast<int>(em));
        one.units_per_em = em;
        hb_font_extents_t extents{};
        hb_font_get_h_extents(one.font, &extents);
        one.ascent = extents.ascender;
        one.descent = -extents.descender;
    }
}

Typeface::~Typeface() {
    for (const Opened::One& one : opened_->faces) {
        hb_font_destroy(one.font);
        hb_face_destroy(one.face);
    }
    hb_buffer_destroy(opened_->buffer);
}

std::vector<Glyph> Typeface::shape(std::string_view text, const Style& style) const {
    const Opened::One& one = opened_->of(style.face);
    hb_buffer_t* buffer = opened_->buffer;
    hb_buffer_clear_contents(buffer);
    hb_buffer_add_utf8(buffer, text.data(), static_cast<int>(text.size()), 0,
                       static_cast<int>(text.size()));
    // Named, not guessed: guessing would read the user's locale.
    hb_buffer_set_direction(buffer, HB_DIRECTION_LTR);
    hb_buffer_set_script(buffer, HB_SCRIPT_LATIN);
    hb_buffer_set_language(buffer, hb_language_from_string("en", -1));
    // Without ligatures each letter is found when the text is searched or copied.
    const unsigned kern = style.figures ? 0U : 1U;
    const std::array features{
        hb_feature_t{HB_TAG('k', 'e', 'r', 'n'), kern, 0, HB_FEATURE_GLOBAL_END},
        hb_feature_t{HB_TAG('l', 'i', 'g', 'a'), 0, 0, HB_FEATURE_GLOBAL_END},
        hb_feature_t{HB_TAG('c', 'l', 'i', 'g'), 0, 0, HB_FEATURE_GLOBAL_END}};
    hb_shape(one.font, buffer, features.data(), static_cast<unsigned>(features.size()));
    unsigned count = 0;
    const hb_glyph_info_t* infos = hb_buffer_get_glyph_infos(buffer, &count);
    const hb_glyph_position_t* places = hb_buffer_get_glyph_positions(buffer, &count);
    const double scale = style.size / one.units_per_em;
    std::vector<Glyph> out;
    out.reserve(count);
    for (unsigned i = 0; i < count; ++i) {
        out.push_back({infos[i].codepoint, places[i].x_advance * scale, places[i].x_offset * scale,
                       places[i].y_offset * scale, infos[i].cluster});
    }
    return out;
}

double Typeface::width(std::string_view text, const Style& style) const {
    double out = 0;
    for (const Glyph& glyph : shape(text, style)) {
        out += glyph.advance;
    }
    return out;
}

double Typeface::ascent(const Style& style) const {
    const Opened::One& one = opened_->of(style.face);
    return one.ascent * style.size / one.units_per_em;
}

double Typeface::descent(const Style& style) const {
    const Opened::One& one = opened_->of(style.face);
    return one.descent * style.size / one.units_per_em;
}

Result<void> Typeface::printable(std::string_view text, Face face) const {
    constexpr char32_t kFirstSeen = 0x20, kDelete = 0x7F, kLastControl = 0x9F;
    if (base::first_invalid_utf8(text)) {
        return fail(ProblemCode::BadInput,
                    fmt::format("the text {} is not UTF-8, so it cannot be printed on a paper",
                                base::quoted(text)));
    }
    for (std::size_t at = 0; at < text.size();) {
        const char32_t c = next_code_point(text, at);
        hb_codepoint_t glyph = 0;
        const bool control = c < kFirstSeen || (c >= kDelete && c <= kLastControl) || unseen(c);
        if (control) {
            return fail(
                ProblemCode::BadInput,
                fmt::format("the text {} holds the control or unseen character U+{:04X}; a "
                            "paper prints single lines without such characters: take it out",
                            base::quoted(text), static_cast<unsigned>(c)));
        }
        if (hb_font_get_nominal_glyph(opened_->of(face).font, c, &glyph) == 0) {
            return fail(ProblemCode::BadInput,
                        fmt::format("the text {} holds the character U+{:04X}, which the papers' "
                                    "typeface lacks; it has Latin, Greek and Cyrillic letters: "
                                    "write the text with those",
                                    base::quoted(text), static_cast<unsigned>(c)));
        }
    }
    return {};
}

}  // namespace bw::report
