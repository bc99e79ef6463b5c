// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/chart_command.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "base/text.hpp"
#include "cli/answer.hpp"
#include "cli/line_picture.hpp"

namespace bw::cli {
namespace {

Result<void> take_rules(const std::vector<std::string>& names, assay::ChartRules& out) {
    for (const std::string& name : names) {
        if (name == "two-of-three") {
            out.two_of_three = true;
        } else if (name == "four-of-five") {
            out.four_of_five = true;
        } else if (name == "eight") {
            out.eight_one_side = true;
        } else {
            return fail(ProblemCode::UnknownName,
                        fmt::format("--rules: {} is not known: there are two-of-three, "
                                    "four-of-five and eight",
                                    base::quoted(name)));
        }
    }
    return {};
}

Result<ChartAnswer> answer_of(const ChartTrendArguments& a) {
    ChartAnswer out;
    BW_TRY(file, io::read_readings(a.file, {a.column, a.label, a.group}));
    out.file = std::move(file);
    service::TrendRequest& r = out.request;
    r.values = out.file.values;
    r.labels = out.file.labels;
    r.groups = out.file.groups;
    BW_CHECK(take_rules(a.rules, r.watch.rules));
    if (a.no_ewma && !a.ewma.empty()) {
        return fail(ProblemCode::BadInput, "--ewma and --no-ewma contradict one another");
    }
    if (!a.no_ewma) {
        r.watch.ewma.emplace();
        if (!a.ewma.empty()) {
            r.watch.ewma = {a.ewma.front(), a.ewma.back()};
        }
    }
    if (a.use_cusum) {
        r.watch.cusum.emplace();
        if (!a.cusum.empty()) {
            r.watch.cusum = {a.cusum.front(), a.cusum.back()};
        }
    } else if (!a.cusum.empty()) {
        r.watch.cusum = {a.cusum.front(), a.cusum.back()};
    }
    if (!a.frozen.empty()) {
        r.centre = a.frozen.front();
        r.sigma = a.frozen.back();
    }
    if (!a.limits.empty()) {
        r.low = a.limits.front();
        r.high = a.limits.back();
    }
    r.phase_one = a.phase_one;
    auto report = service::trend(r);
    if (!report) {
        Problem problem = std::move(report).error();
        problem.place.file = a.file;
        return tl::make_unexpected(std::move(problem));
    }
    out.report = std::move(*report);
    return out;
}

}  // namespace

CLI::App& add_chart_trend(CLI::App& chart, ChartTrendArguments& a) {
    CLI::App& trend = *chart.add_subcommand(
        "trend", "A trend chart of values in the order they came: limits, marks, capability");
    trend
        .add_option("FILE", a.file,
                    "Comma-separated readings, or TOML or JSON of kind \"readings\"")
        ->check(named)
        ->required();
    trend.add_option("--column", a.column, "Column of the values, where several hold numbers");
    trend.add_option("--label", a.label, "Column of dates or batches");
    trend.add_option("--group", a.group,
                     "Column of groups: neighbours of one name are one point, by mean and range");
    trend
        .add_option("--rules", a.rules,
                    "Further rules: two-of-three, four-of-five, eight (each costs false alarms)")
        ->delimiter(',');
    trend.add_option("--ewma", a.ewma, "LAMBDA,WIDTH of the weighted mean; 0.2,2.7 unless stated")
        ->delimiter(',')
        ->expected(2);
    trend.add_flag("--no-ewma", a.no_ewma, "Leave the weighted mean out");
    trend.add_flag("--cusum", a.use_cusum, "Cumulated sums as well, with K 0.5 and H 5");
    trend.add_option("--cusum-limits", a.cusum, "K,H of cumulated sums, in sigma")
        ->delimiter(',')
        ->expected(2);
    trend
        .add_option("--frozen", a.frozen,
                    "CENTRE,SIGMA: limits given, of single values, by an earlier decision")
        ->delimiter(',')
        ->expected(2);
    trend.add_option("--phase-1", a.phase_one,
                     "So many points at the start make the limits, which are then frozen");
    trend.add_option("--limits", a.limits, "LOW,HIGH that are allowed: for capability")
        ->delimiter(',')
        ->expected(2);
    trend.add_option("--csv", a.csv, "Write points, limits and marks")->check(named);
    trend.add_option("--svg", a.svg, "Draw the chart")->check(named);
    add_output_flags(trend, a.json, a.quiet, true);
    trend.footer(
        "Example:\n  brinewright chart trend examples/laboratory/calcium_batches.csv --phase-1 20 "
        "--limits -2,2\n\n"
        "Exit codes: 0 done; 1 a point signals; 2 bad input; 3 a file could not be written.");
    return trend;
}

int chart_trend(const ChartTrendArguments& a, const Streams& streams) {
    const auto answer = answer_of(a);
    if (!answer) {
        return complain_of(answer.error(), streams);
    }
    if (const auto written = write_files(
            {{"--csv", a.csv, chart_csv(*answer)}, {"--svg", a.svg, chart_picture(*answer)}},
            {a.file});
        !written) {
        return complain_of(written.error(), streams);
    }
    if (a.json) {
        put(chart_json(*answer), streams);
    } else if (!a.quiet) {
        put(chart_text(*answer), streams);
    }
    return answer->report.signalled() ? 1 : 0;
}

}  // namespace bw::cli
