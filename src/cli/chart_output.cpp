// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "cli/answer.hpp"
#include "cli/chart_command.hpp"
#include "cli/json_values.inl"
#include "cli/line_picture.hpp"
#include "io/sheet.hpp"

namespace bw::cli {
namespace {

using service::TrendReport;

constexpr int kDigits = 5;

std::string shown(double v) { return base::format_significant(v, kDigits); }

/// Places after the point that a tenth of sigma needs.
int places_of(const TrendReport& r) {
    constexpr double kTenth = 10;
    constexpr int kMost = 9;
    return std::clamp(static_cast<int>(std::ceil(-std::log10(r.point_sigma / kTenth))), 0, kMost);
}

std::vector<std::string> marks_of(const TrendReport& r, std::size_t point) {
    std::vector<std::string> out;
    for (const assay::Marked& m : r.marked) {
        if (m.point == point) {
            out.emplace_back(assay::name(m.signal));
        }
    }
    if (std::find(r.ranges_beyond.begin(), r.ranges_beyond.end(), point) != r.ranges_beyond.end()) {
        out.emplace_back("range");
    }
    return out;
}

std::string switched_on(const assay::ChartWatch& w) {
    std::vector<std::string> out{"one beyond three sigma"};
    if (w.rules.two_of_three) {
        out.emplace_back("two of three beyond two");
    }
    if (w.rules.four_of_five) {
        out.emplace_back("four of five beyond one");
    }
    if (w.rules.eight_one_side) {
        out.emplace_back("eight on one side");
    }
    if (w.ewma) {
        out.push_back(fmt::format("weighted mean ({}, {})", base::format_exact(w.ewma->lambda),
                                  base::format_exact(w.ewma->width)));
    }
    if (w.cusum) {
        out.push_back(fmt::format("cumulated sums (k {}, h {})", base::format_exact(w.cusum->k),
                                  base::format_exact(w.cusum->h)));
    }
    return base::join_words(out);
}

std::string points_table(const ChartAnswer& a) {
    const TrendReport& r = a.report;
    const int places = places_of(r);
    std::vector<Column> columns{{{""}, Align::Left},
                                {{r.grouped ? "mean" : "value"}, Align::Decimal},
                                {{r.grouped ? "range" : "moving range"}, Align::Decimal},
                                {{"weighted", "mean"}, Align::Decimal},
                                {{"sum up"}, Align::Decimal},
                                {{"sum down"}, Align::Decimal},
                                {{"marked for"}, Align::Left}};
    TextTable table(std::move(columns));
    for (std::size_t i = 0; i < r.points.size(); ++i) {
        table.add({r.labels[i], base::format_places(r.points[i], places),
                   !r.grouped && i == 0 ? "" : base::format_places(r.ranges[i], places),
                   r.ewma.empty() ? "" : base::format_places(r.ewma[i].z, places),
                   r.cusum.empty() ? "" : base::format_places(r.cusum[i].up, places),
                   r.cusum.empty() ? "" : base::format_places(r.cusum[i].down, places),
                   base::join_words(marks_of(r, i))});
    }
    return table.text();
}

std::string capability_text(const TrendReport& r) {
    if (!r.within) {
        return wrapped("No capability: ", r.no_capability + ".");
    }
    const auto line = [](const char* name, double v, double low, double high) {
        return std::vector<std::string>{
            name, base::format_places(v, 2),
            fmt::format("{} to {}", base::format_places(low, 2), base::format_places(high, 2))};
    };
    TextTable table(
        {{{"capability"}, Align::Left}, {{""}, Align::Decimal}, {{"95 % interval"}, Align::Left}});
    const auto& w = *r.within;
    const auto& o = *r.overall;
    table.add(line("Cp, by the ranges", w.cp, w.cp_low, w.cp_high));
    table.add(line("Cpk", w.cpk, w.cpk_low, w.cpk_high));
    table.add(line("Pp, by all scatter", o.cp, o.cp_low, o.cp_high));
    table.add(line("Ppk", o.cpk, o.cpk_low, o.cpk_high));
    constexpr double kPercent = 100;
    return table.text() + fmt::format("  of {} values; outside, if normal: {} %\n", o.count,
                                      base::format_significant(kPercent * o.outside, 2));
}

Json limits_json(const assay::ChartLimits& l) {
    return {{"low", l.low}, {"centre", l.centre}, {"high", l.high}};
}

Json capability_json(const std::optional<assay::Capability>& c) {
    return c ? Json{{"cp", c->cp},
                    {"cp_low", c->cp_low},
                    {"cp_high", c->cp_high},
                    {"cpk", c->cpk},
                    {"cpk_low", c->cpk_low},
                    {"cpk_high", c->cpk_high},
                    {"outside_share", c->outside},
                    {"count", c->count}}
             : Json(nullptr);
}

std::string title_of(const ChartAnswer& a) {
    return a.file.name + (a.file.unit.empty() ? "" : ", " + a.file.unit) +
           (a.file.invented ? " (invented example)" : "");
}

/// "10.1 to 10.5, limits 2 of Raised reef, signed on 2026-03-02"
std::string allowed_words(const ChartAnswer& a) {
    const auto& [low, high] = std::pair(a.request.low, a.request.high);
    return (low && high ? shown(*low) + " to " + shown(*high)
            : low       ? "at least " + shown(*low)
                        : "at most " + shown(*high)) +
           ", " + a.allowed_from;
}

Json allowed_json(const ChartAnswer& a) {
    if (a.allowed_from.empty()) {
        return nullptr;
    }
    const auto edge = [](const std::optional<double>& x) { return x ? Json(*x) : Json(nullptr); };
    return {{"low", edge(a.request.low)}, {"high", edge(a.request.high)}, {"from", a.allowed_from}};
}

}  // namespace

std::string chart_text(const ChartAnswer& a) {
    const TrendReport& r = a.report;
    std::string out = "chart   " + title_of(a) + "\n";
    out += fmt::format("kind    {}\nlimits  {}\n",
                       r.grouped ? fmt::format("means and ranges of groups of {}", r.group_size)
                                 : std::string("single values and their moving ranges"),
                       r.limits_from);
    out += a.allowed_from.empty() ? "" : "allowed " + allowed_words(a) + "\n";
    out += "\n";
    TextTable limits({{{""}, Align::Left},
                      {{"low"}, Align::Decimal},
                      {{"centre"}, Align::Decimal},
                      {{"high"}, Align::Decimal}});
    limits.add({r.grouped ? "means" : "values", shown(r.values_limits.low),
                shown(r.values_limits.centre), shown(r.values_limits.high)});
    limits.add({"ranges", shown(r.ranges_limits.low), shown(r.ranges_limits.centre),
                shown(r.ranges_limits.high)});
    if (!r.ewma.empty()) {
        limits.add({"weighted mean, last", shown(r.ewma.back().low), shown(r.values_limits.centre),
                    shown(r.ewma.back().high)});
    }
    if (!r.cusum.empty()) {
        limits.add({"sums", "", "0", shown(r.cusum_limit)});
    }
    out += limits.text();
    out += fmt::format("  sigma {} of single values, {} of a point\n", shown(r.sigma),
                       shown(r.point_sigma));
    out += wrapped("Switched on: ", switched_on(a.request.watch) + ".");
    out += fmt::format(
        "Together they raise one false alarm in {} points and see a shift of one sigma in {}.\n\n",
        base::format_significant(r.false_alarm_points, 2),
        base::format_significant(r.shift_seen_points, 2));
    out += points_table(a);
    std::size_t marked = 0;
    for (std::size_t i = 0; i < r.points.size(); ++i) {
        marked += marks_of(r, i).empty() ? 0U : 1U;
    }
    out += fmt::format("\n{}\n",
                       marked == 0 ? std::string("No point signals.")
                                   : fmt::format("{} of {} points signal: find the cause of each, "
                                                 "record it, and then decide.",
                                                 marked, r.points.size()));
    out += capability_text(r);
    return out + dashes(r.notices);
}

std::string chart_json(const ChartAnswer& a) {
    const TrendReport& r = a.report;
    Json out = {{"version", 1},
                {"name", a.file.name},
                {"unit", a.file.unit},
                {"invented", a.file.invented},
                {"kind", r.grouped ? "groups" : "individuals"},
                {"group_size", r.group_size},
                {"limits_from", r.limits_from},
                {"limits", limits_json(r.values_limits)},
                {"range_limits", limits_json(r.ranges_limits)},
                {"allowed", allowed_json(a)},
                {"sigma", r.sigma},
                {"point_sigma", r.point_sigma},
                {"lag1_correlation", r.lag1},
                {"autocorrelated", r.autocorrelated},
                {"false_alarm_points", r.false_alarm_points},
                {"shift_seen_points", r.shift_seen_points},
                {"signals", r.signalled()},
                {"points", Json::array()}};
    for (std::size_t i = 0; i < r.points.size(); ++i) {
        Json p = {{"label", r.labels[i]},
                  {"value", r.points[i]},
                  {"range", !r.grouped && i == 0 ? Json(nullptr) : Json(r.ranges[i])},
                  {"marked", marks_of(r, i)}};
        if (!r.ewma.empty()) {
            p["weighted_mean"] = r.ewma[i].z;
            p["weighted_mean_low"] = r.ewma[i].low;
            p["weighted_mean_high"] = r.ewma[i].high;
        }
        if (!r.cusum.empty()) {
            p["sum_up"] = r.cusum[i].up;
            p["sum_down"] = r.cusum[i].down;
        }
        out["points"].push_back(std::move(p));
    }
    out["capability_within"] = capability_json(r.within);
    out["capability_overall"] = capability_json(r.overall);
    out["no_capability"] = r.no_capability;
    out["notices"] = json_notices(r.notices);
    return json_text(out);
}

std::string chart_csv(const ChartAnswer& a) {
    const TrendReport& r = a.report;
    io::Sheet sheet{"chart",
                    {"point", r.grouped ? "mean" : "value", "low", "high", "range", "range high",
                     "weighted mean", "weighted mean low", "weighted mean high", "sum up",
                     "sum down", "marked for"},
                    {}};
    for (std::size_t i = 0; i < r.points.size(); ++i) {
        std::vector<io::Cell> row{r.labels[i], r.points[i], r.values_limits.low,
                                  r.values_limits.high};
        row.push_back(!r.grouped && i == 0 ? io::Cell() : io::Cell(r.ranges[i]));
        row.emplace_back(r.ranges_limits.high);
        for (const int k : {0, 1, 2}) {
            row.push_back(r.ewma.empty() ? io::Cell()
                                         : io::Cell(k == 0   ? r.ewma[i].z
                                                    : k == 1 ? r.ewma[i].low
                                                             : r.ewma[i].high));
        }
        row.push_back(r.cusum.empty() ? io::Cell() : io::Cell(r.cusum[i].up));
        row.push_back(r.cusum.empty() ? io::Cell() : io::Cell(r.cusum[i].down));
        row.emplace_back(base::join_words(marks_of(r, i)));
        sheet.rows.push_back(std::move(row));
    }
    return io::delimited(sheet);
}

std::string chart_picture(const ChartAnswer& a) {
    constexpr double kValues = 220, kRanges = 110, kMeans = 150;
    const TrendReport& r = a.report;
    LinePicture out;
    out.title = title_of(a);
    out.x_title = "point";
    const auto x = [](std::size_t i) { return static_cast<double>(i + 1); };
    PictureSeries values{{}, true, true, 0, ""};
    PictureSeries marked{{}, true, false, 1, ""};
    PictureSeries ranges{{}, true, true, 0, ""};
    for (std::size_t i = 0; i < r.points.size(); ++i) {
        values.points.emplace_back(x(i), r.points[i]);
        if (!marks_of(r, i).empty()) {
            marked.points.emplace_back(x(i), r.points[i]);
        }
        if (r.grouped || i > 0) {
            ranges.points.emplace_back(x(i), r.ranges[i]);
        }
    }
    const auto rules = [](const assay::ChartLimits& l) {
        return std::vector<PictureRule>{{l.low, false, true, shown(l.low)},
                                        {l.centre, false, false, shown(l.centre)},
                                        {l.high, false, true, shown(l.high)}};
    };
    out.panels.push_back(
        {r.grouped ? "mean" : "value", kValues, {values, marked}, rules(r.values_limits)});
    out.panels.push_back(
        {r.grouped ? "range" : "moving range", kRanges, {ranges}, rules(r.ranges_limits)});
    if (!r.ewma.empty()) {
        PictureSeries z{{}, true, true, 2, ""};
        PictureSeries low{{}, false, true, 3, ""};
        PictureSeries high{{}, false, true, 3, ""};
        for (std::size_t i = 0; i < r.ewma.size(); ++i) {
            z.points.emplace_back(x(i), r.ewma[i].z);
            low.points.emplace_back(x(i), r.ewma[i].low);
            high.points.emplace_back(x(i), r.ewma[i].high);
        }
        out.panels.push_back({"weighted mean", kMeans, {z, low, high}, {}});
    }
    out.notes = {"limits: " + r.limits_from,
                 fmt::format("one false alarm in {} points",
                             base::format_significant(r.false_alarm_points, 2))};
    if (!a.allowed_from.empty()) {
        out.notes.push_back("allowed: " + allowed_words(a));
    }
    return svg_of(out);
}

}  // namespace bw::cli
