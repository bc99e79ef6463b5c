// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "report/text.hpp"

#include <algorithm>
#include <limits>

#include "base/text.hpp"

namespace bw::report {
namespace {

/// What is not broken: pieces of one or several styles, and whether a space follows.
struct Word {
    std::vector<Span> pieces;
    double width = 0;
    double space_after = 0;  ///< width of the space; 0 after a hyphen
    bool may_break = true;   ///< after it
};

bool letter_byte(char c) {
    constexpr unsigned char kAscii = 0x7F;
    return base::is_upper(c) || base::is_lower(c) || static_cast<unsigned char>(c) > kAscii;
}

std::string text_of(const Word& word) {
    std::string out;
    for (const Span& piece : word.pieces) {
        out += piece.text;
    }
    return out;
}

bool numeric(std::string_view word) {
    constexpr std::string_view kSigns = "±−<>≤≥=(";
    bool digit = false;
    for (const char c : word) {
        digit = digit || base::is_digit(c);
        const bool fits =
            base::is_digit(c) || c == '.' || c == ',' || kSigns.find(c) != std::string_view::npos;
        if (!fits && static_cast<unsigned char>(c) < 0x80U) {
            return false;
        }
    }
    return digit;
}

/// Signs stay with what they join ("k = 2"), a number with a word that may be its unit ("38.6
/// g/L").
bool breaks_between(std::string_view left, std::string_view right) {
    constexpr std::string_view kJoining[] = {"±", "=", "<", ">", "≤", "≥", "×", "·"};
    constexpr std::size_t kShort = 2;  // g, kg, L, °C, h
    const auto joins = [&](std::string_view word) {
        return std::find(std::begin(kJoining), std::end(kJoining), word) != std::end(kJoining);
    };
    if (joins(left) || joins(right)) {
        return false;
    }
    while (!right.empty() && (right.back() == '.' || right.back() == ',' || right.back() == ')')) {
        right.remove_suffix(1);
    }
    const bool unit = right.size() <= kShort || right.find('/') != std::string_view::npos ||
                      right.starts_with("°") || right == "min";
    return !(numeric(left) && unit);
}

/// Cuts spans into words at spaces, and after hyphens between letters.
std::vector<Word> words_of(const std::vector<Span>& spans, const Typeface& typeface) {
    std::vector<Word> out;
    Word now;
    const auto close = [&](double space) {
        if (!now.pieces.empty()) {
            now.space_after = space;
            out.push_back(std::move(now));
            now = {};
        } else if (!out.empty() && out.back().space_after == 0) {
            out.back().space_after = space;
        }
    };
    for (const Span& span : spans) {
        std::string piece;
        const auto flush = [&] {
            if (!piece.empty()) {
                now.pieces.push_back({piece, span.style});
                piece.clear();
            }
        };
        for (std::size_t i = 0; i < span.text.size(); ++i) {
            const char c = span.text[i];
            if (c == ' ') {
                flush();
                close(typeface.width(" ", span.style));
                continue;
            }
            piece += c;
            if (c == '-' && i > 0 && i + 1 < span.text.size() && letter_byte(span.text[i - 1]) &&
                letter_byte(span.text[i + 1])) {
                flush();
                close(0);
            }
        }
        flush();
    }
    close(0);
    for (std::size_t i = 0; i < out.size(); ++i) {
        for (const Span& piece : out[i].pieces) {
            out[i].width += typeface.width(piece.text, piece.style);
        }
        if (i + 1 < out.size()) {
            out[i].may_break = breaks_between(text_of(out[i]), text_of(out[i + 1]));
        }
    }
    return out;
}

/// Cuts a word that is wider than a line into parts that are not, between characters.
std::vector<Word> cut(const Word& word, double width, const Typeface& typeface) {
    std::vector<Word> out(1);
    const auto continues = [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; };
    for (const Span& piece : word.pieces) {
        for (std::size_t i = 0; i < piece.text.size();) {
            std::size_t end = i + 1;
            while (end < piece.text.size() && continues(piece.text[end])) {
                ++end;
            }
            const std::string one = piece.text.substr(i, end - i);
            const double advance = typeface.width(one, piece.style);
            if (out.back().width + advance > width && !out.back().pieces.empty()) {
                out.emplace_back();
            }
            Word& last = out.back();
            if (last.pieces.empty() || !(last.pieces.back().style.face == piece.style.face)) {
                last.pieces.push_back({{}, piece.style});
            }
            last.pieces.back().text += one;
            last.width += advance;
            i = end;
        }
    }
    out.back().space_after = word.space_after;
    out.back().may_break = word.may_break;
    return out;
}

/// Where lines end so that the sum of squared spaces left over is least; each line's first word.
std::vector<std::size_t> line_starts(const std::vector<Word>& words, double width) {
    constexpr double kOver = 1e6;        // of a line that is too wide: only where nothing else is
    constexpr double kShortLast = 0.15;  // of the width: a last line below is a fault to be weighed
    constexpr double kHair = 1e-6;
    const std::size_t n = words.size();
    std::vector<double> cost(n + 1, std::numeric_limits<double>::infinity());
    std::vector<std::size_t> next(n + 1, n);
    cost[n] = 0;
    for (std::size_t i = n; i-- > 0;) {
        double length = 0;
        for (std::size_t j = i; j < n; ++j) {
            length += words[j].width + (j > i ? words[j - 1].space_after : 0);
            const bool over = length > width + kHair;
            if (over && j > i && cost[i] < std::numeric_limits<double>::infinity()) {
                break;
            }
            if (j + 1 < n && !words[j].may_break && !over) {
                continue;
            }
            const double left = (width - length) / width;
            double own = over ? kOver : left * left;
            if (j + 1 == n && !over) {
                own = i > 0 && length < kShortLast * width ? 1 : 0;
            }
            if (own + cost[j + 1] < cost[i]) {
                cost[i] = own + cost[j + 1];
                next[i] = j + 1;
            }
        }
    }
    std::vector<std::size_t> starts;
    for (std::size_t i = 0; i < n; i = next[i]) {
        starts.push_back(i);
    }
    return starts;
}

bool alike(const Style& a, const Style& b) {
    return a.face == b.face && a.size == b.size && a.colour == b.colour && a.figures == b.figures;
}

void add(std::vector<Span>& line, const std::string& text, const Style& style) {
    if (!line.empty() && alike(line.back().style, style)) {
        line.back().text += text;
    } else {
        line.push_back({text, style});
    }
}

}  // namespace

std::vector<std::vector<Span>> broken_lines(const std::vector<Span>& spans, double width,
                                            const Typeface& typeface) {
    std::vector<Word> words;
    for (const Word& word : words_of(spans, typeface)) {
        if (word.width <= width) {
            words.push_back(word);
        } else {
            for (Word& part : cut(word, width, typeface)) {
                words.push_back(std::move(part));
            }
        }
    }
    std::vector<std::vector<Span>> lines;
    const std::vector<std::size_t> starts = line_starts(words, width);
    for (std::size_t l = 0; l < starts.size(); ++l) {
        const std::size_t end = l + 1 < starts.size() ? starts[l + 1] : words.size();
        lines.emplace_back();
        for (std::size_t w = starts[l]; w < end; ++w) {
            for (const Span& piece : words[w].pieces) {
                add(lines.back(), piece.text, piece.style);
            }
            if (w + 1 < end && words[w].space_after > 0) {
                add(lines.back(), " ", words[w].pieces.back().style);
            }
        }
    }
    return lines;
}

std::vector<std::string> broken_lines(std::string_view text, const Style& style, double width,
                                      const Typeface& typeface) {
    std::vector<std::string> out;
    for (const auto& line : broken_lines({{std::string(text), style}}, width, typeface)) {
        out.push_back(line.empty() ? std::string{} : line.front().text);
    }
    return out;
}

Strips paragraph(const std::vector<Span>& spans, const ParagraphForm& form,
                 const Typeface& typeface) {
    Strips out;
    double size = 0;
    for (const Span& span : spans) {
        size = std::max(size, span.style.size);
    }
    constexpr double kBaseline = 0.76;  // of the leading, from the top of the strip
    const double height = form.leading * size;
    for (const auto& line : broken_lines(spans, form.width, typeface)) {
        Strip strip;
        strip.height = height;
        strip.before = out.empty() ? form.before : 0;
        strip.tag = form.tag;
        double x = form.x;
        for (const Span& span : line) {
            strip.items.emplace_back(TextItem{x, kBaseline * height, span.text, span.style});
            x += typeface.width(span.text, span.style);
        }
        out.push_back(std::move(strip));
    }
    if (out.size() > 1) {
        out.front().with_next = true;
        out[out.size() - 2].with_next = true;
    }
    return out;
}

TextItem fitted(TextItem item, double width, double least, const Typeface& typeface) {
    const double wanted = typeface.width(item.text, item.style);
    if (wanted <= width) {
        return item;
    }
    item.style.size *= std::max(least, width / wanted);
    const auto continues = [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; };
    std::string text = item.text;
    while (!text.empty() && typeface.width(item.text, item.style) > width) {
        do {
            const bool inside = continues(text.back());
            text.pop_back();
            if (!inside) {
                break;
            }
        } while (!text.empty());
        item.text = text + "…";
    }
    return item;
}

}  // namespace bw::report
