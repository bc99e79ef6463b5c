// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "report/svg.hpp"

#include <cmath>
#include <iterator>

#include <fmt/format.h>

#include "base/decimal.hpp"

namespace bw::report {

std::string svg_escaped(std::string_view text) {
    std::string out;
    for (const char c : text) {
        switch (c) {
            case '<':
                out += "&lt;";
                break;
            case '>':
                out += "&gt;";
                break;
            case '&':
                out += "&amp;";
                break;
            case '"':
                out += "&quot;";
                break;
            default:
                out += c;
        }
    }
    return out;
}

namespace {

/// Two digits after the point, without zeros at the end and without "-0".
std::string length(double value) {
    constexpr double kHundred = 100;
    const double rounded = std::round(value * kHundred) / kHundred;
    return base::format_exact(rounded == 0 ? 0 : rounded);
}

std::string rgb(const Colour& c) {
    constexpr double kFull = 255;
    const auto byte = [](double part) { return static_cast<int>(std::lround(part * kFull)); };
    return fmt::format("#{:02x}{:02x}{:02x}", byte(c.red), byte(c.green), byte(c.blue));
}

std::string path_data(const PathItem& item) {
    std::string out;
    for (const PathStep& step : item.steps) {
        switch (step.kind) {
            case PathStep::Kind::Move:
                out += fmt::format("M{} {}", length(step.x), length(step.y));
                break;
            case PathStep::Kind::Line:
                out += fmt::format("L{} {}", length(step.x), length(step.y));
                break;
            case PathStep::Kind::Curve:
                out +=
                    fmt::format("C{} {} {} {} {} {}", length(step.x1), length(step.y1),
                                length(step.x2), length(step.y2), length(step.x), length(step.y));
                break;
            case PathStep::Kind::Close:
                out += 'Z';
                break;
        }
    }
    return out;
}

std::string element(const PathItem& item) {
    std::string out = fmt::format("<path d=\"{}\" fill=\"{}\"", path_data(item),
                                  item.fill ? rgb(*item.fill) : "none");
    if (item.stroke) {
        out += fmt::format(" stroke=\"{}\" stroke-width=\"{}\"", rgb(item.stroke->colour),
                           length(item.stroke->width));
        if (!item.stroke->dash.empty()) {
            std::string dash;
            for (const double part : item.stroke->dash) {
                dash += (dash.empty() ? "" : " ") + length(part);
            }
            out += fmt::format(" stroke-dasharray=\"{}\"", dash);
        }
    }
    return out + "/>\n";
}

std::string element(const TextItem& item) {
    const std::string x = length(item.x), y = length(item.baseline);
    std::string out = fmt::format("<text x=\"{}\" y=\"{}\" font-size=\"{}\" fill=\"{}\"", x, y,
                                  length(item.style.size), rgb(item.style.colour));
    if (item.anchor != Anchor::Start) {
        out += fmt::format(" text-anchor=\"{}\"", item.anchor == Anchor::End ? "end" : "middle");
    }
    if (item.style.face != Face::Regular) {
        out += item.style.face == Face::Bold ? " font-weight=\"bold\"" : " font-style=\"italic\"";
    }
    if (item.upwards) {
        out += fmt::format(" transform=\"rotate(-90 {} {})\"", x, y);
    }
    return out + fmt::format(">{}</text>\n", svg_escaped(item.text));
}

std::string element(const TagItem&) { return {}; }

}  // namespace

std::string svg_text(const Drawing& drawing, PageSize size, const std::string& title,
                     const std::string& description) {
    std::string out = fmt::format(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}\" height=\"{1}\" "
        "viewBox=\"0 0 {0} {1}\" role=\"img\" aria-labelledby=\"title desc\" "
        "font-family=\"Lato, sans-serif\">\n<title id=\"title\">{2}</title>\n"
        "<desc id=\"desc\">{3}</desc>\n<rect width=\"100%\" height=\"100%\" fill=\"#ffffff\"/>\n",
        length(size.width), length(size.height), svg_escaped(title), svg_escaped(description));
    for (const Item& item : drawing) {
        out += std::visit([](const auto& one) { return element(one); }, item);
    }
    return out + "</svg>\n";
}

}  // namespace bw::report
