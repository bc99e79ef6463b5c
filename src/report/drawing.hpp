// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace bw::report {

/// A picture as a list of what is drawn, in points (1/72 inch) from the top left corner. Papers
/// are laid out into such lists, looked over, and only then painted as PDF or SVG.

struct Colour {
    double red = 0, green = 0, blue = 0;  ///< sRGB, 0 to 1
    bool operator==(const Colour&) const = default;
};

/// "#0A5C48" as a colour; for constants of the program.
[[nodiscard]] constexpr Colour colour(std::uint32_t rgb) {
    constexpr std::uint32_t kByte = 0xFF;
    constexpr double kFull = 255;
    constexpr int kRed = 16, kGreen = 8;
    return {((rgb >> kRed) & kByte) / kFull, ((rgb >> kGreen) & kByte) / kFull,
            (rgb & kByte) / kFull};
}

// Contrast to white of each, measured: ink 17.4, quiet 7.2, accent 5.2.
inline constexpr Colour kInk = colour(0x1A1A1A), kQuiet = colour(0x555555),
                        kAccent = colour(0x0072B2), kPaper = colour(0xFFFFFF),
                        kHair = colour(0xB8BCC2), kTint = colour(0xF3F5F7);

enum class Face : std::uint8_t { Regular, Bold, Italic };
enum class Anchor : std::uint8_t { Start, Middle, End };

struct Style {
    Face face = Face::Regular;
    double size = 9;  ///< points
    Colour colour = kInk;
    bool figures = false;  ///< no kerning, so that digits stand below each other
};

/// One run of text on one line.
struct TextItem {
    double x = 0, baseline = 0;
    std::string text;
    Style style;
    Anchor anchor = Anchor::Start;
    bool upwards = false;  ///< turned by 90 degrees, read from below
};

struct PathStep {
    enum class Kind : std::uint8_t { Move, Line, Curve, Close };
    Kind kind = Kind::Move;
    double x = 0, y = 0;                    ///< end
    double x1 = 0, y1 = 0, x2 = 0, y2 = 0;  ///< control points of a curve
};

struct Stroke {
    Colour colour = kInk;
    double width = 0.5;
    std::vector<double> dash;
};

struct PathItem {
    std::vector<PathStep> steps;
    std::optional<Colour> fill;
    std::optional<Stroke> stroke;
};

/// Begin or end of a piece of the document's structure: "H1", "P", "Table", "TR", "TH", "TD".
struct TagItem {
    std::string name;
    bool begin = true;
};

using Item = std::variant<TextItem, PathItem, TagItem>;
using Drawing = std::vector<Item>;

void shift(Drawing& drawing, double dx, double dy);
void append(Drawing& to, Drawing from);

/// Puts `drawing` between begin and end of a tag.
[[nodiscard]] Drawing tagged(const std::string& name, Drawing drawing);

[[nodiscard]] PathItem line(double x1, double y1, double x2, double y2, const Stroke& stroke);
[[nodiscard]] PathItem rectangle(double x, double y, double width, double height);
[[nodiscard]] PathItem rounded(double x, double y, double width, double height, double radius);
[[nodiscard]] PathItem circle(double x, double y, double radius);
[[nodiscard]] PathItem polygon(const std::vector<std::pair<double, double>>& corners);
[[nodiscard]] PathItem filled(PathItem path, Colour fill);
[[nodiscard]] PathItem stroked(PathItem path, const Stroke& stroke);

}  // namespace bw::report
