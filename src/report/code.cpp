// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "report/code.hpp"

#include <array>
#include <memory>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <qrencode.h>

#include "base/text.hpp"

namespace bw::report {
namespace {

constexpr Colour kBlack = colour(0x000000);

/// Widths of bars and spaces of the symbol characters 0 to 105 of Code 128 (ISO/IEC 15417, from
/// memory; a reader's program reads them back in the tests), then the stop character's.
constexpr std::array<std::string_view, 107> kBars{
    "212222", "222122", "222221", "121223", "121322", "131222", "122213", "122312", "132212",
    "221213", "221312", "231212", "112232", "122132", "122231", "113222", "123122", "123221",
    "223211", "221132", "221231", "213212", "223112", "312131", "311222", "321122", "321221",
    "312212", "322112", "322211", "212123", "212321", "232121", "111323", "131123", "131321",
    "112313", "132113", "132311", "211313", "231113", "231311", "112133", "112331", "132131",
    "113123", "113321", "133121", "313121", "211331", "231131", "213113", "213311", "213131",
    "311123", "311321", "331121", "312113", "312311", "332111", "314111", "221411", "431111",
    "111224", "111422", "121124", "121421", "141122", "141221", "112214", "112412", "122114",
    "122411", "142112", "142211", "241211", "221114", "413111", "241112", "134111", "111242",
    "121142", "121241", "114212", "124112", "124211", "411212", "421112", "421211", "212141",
    "214121", "412121", "111143", "111341", "131141", "114113", "114311", "411113", "411311",
    "113141", "114131", "311141", "411131", "211412", "211214", "211232", "2331112"};
constexpr int kStartB = 104, kStop = 106, kModulus = 103;
constexpr char kFirst = ' ', kLast = '~';

}  // namespace

Result<Drawing> square_code(std::string_view text, double x, double y, double side) {
    constexpr std::size_t kMost = 400;
    constexpr int kMargin = 4;
    if (text.empty() || text.size() > kMost || base::first_invalid_utf8(text) ||
        text.find('\0') != std::string_view::npos) {
        return fail(
            text.size() > kMost ? ProblemCode::TooLarge : ProblemCode::BadInput,
            fmt::format("the text of a square code has {} bytes; 1 to {} bytes of UTF-8 are "
                        "allowed",
                        text.size(), kMost));
    }
    const std::string held(text);
    const std::unique_ptr<QRcode, void (*)(QRcode*)> code(
        QRcode_encodeString8bit(held.c_str(), 0, QR_ECLEVEL_M), QRcode_free);
    if (!code) {
        return fail(ProblemCode::Internal, "the square code cannot be made");
    }
    const int width = code->width;
    const double module = side / (width + 2 * kMargin);
    PathItem dark;
    dark.fill = kBlack;
    // Runs of dark modules as one rectangle each, so that no viewer shows seams within a row.
    for (int row = 0; row < width; ++row) {
        for (int column = 0; column < width;) {
            const auto is_dark = [&](int at) {
                return (code->data[row * width + at] & 1U) !=
                       0;  // lowest bit: ISO/IEC 18004's dark
            };
            if (!is_dark(column)) {
                ++column;
                continue;
            }
            int end = column;
            while (end < width && is_dark(end)) {
                ++end;
            }
            const PathItem run =
                rectangle(x + (column + kMargin) * module, y + (row + kMargin) * module,
                          (end - column) * module, module);
            dark.steps.insert(dark.steps.end(), run.steps.begin(), run.steps.end());
            column = end;
        }
    }
    return Drawing{filled(rectangle(x, y, side, side), kPaper), dark};
}

Result<Drawing> bar_code(std::string_view text, double x, double y, double width, double height) {
    constexpr std::size_t kMost = 40;
    constexpr int kMargin = 10;
    bool fits = !text.empty() && text.size() <= kMost;
    for (const char c : text) {
        fits = fits && c >= kFirst && c <= kLast;
    }
    if (!fits) {
        return fail(ProblemCode::BadInput,
                    fmt::format("{} cannot be a bar code: 1 to {} characters of ASCII are allowed",
                                base::quoted(text), kMost));
    }
    std::vector<int> symbols{kStartB};
    int sum = kStartB;
    for (std::size_t i = 0; i < text.size(); ++i) {
        symbols.push_back(text[i] - kFirst);
        sum += static_cast<int>(i + 1) * symbols.back();
    }
    symbols.push_back(sum % kModulus);
    symbols.push_back(kStop);
    int modules = 2 * kMargin;
    for (const int symbol : symbols) {
        for (const char c : kBars.at(static_cast<std::size_t>(symbol))) {
            modules += c - '0';
        }
    }
    const double module = width / modules;
    PathItem bars;
    bars.fill = kBlack;
    int at = kMargin;
    for (const int symbol : symbols) {
        bool bar = true;
        for (const char c : kBars.at(static_cast<std::size_t>(symbol))) {
            if (bar) {
                const PathItem one = rectangle(x + at * module, y, (c - '0') * module, height);
                bars.steps.insert(bars.steps.end(), one.steps.begin(), one.steps.end());
            }
            at += c - '0';
            bar = !bar;
        }
    }
    return Drawing{filled(rectangle(x, y, width, height), kPaper), bars};
}

}  // namespace bw::report
