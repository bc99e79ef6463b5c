// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/chart_command.hpp"

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

Result<void> read_file(const ChartTrendArguments& a, ChartAnswer& out) {
    const service::BookTrendQuery& q = a.query;
    if (!a.books.where.empty() || !q.method.empty() || !q.recipe.empty() || !q.material.empty() ||
        !q.check_sample.empty() || !q.since.empty() || !q.until.empty() || q.batch_means ||
        a.last) {
        return fail(ProblemCode::BadInput, "a chart of the books is of one constituent: name it",
                    {"", 0, "--analyte"});
    }
    if (a.file.empty()) {
        return fail(ProblemCode::BadInput,
                    "a chart of what? Name a file of readings, or with --analyte a constituent of "
                    "the works' books");
    }
    BW_TRY(file, io::read_readings(a.file, {a.column, a.label, a.group}));
    out.file = std::move(file);
    return {};
}

Result<void> read_books(const ChartTrendArguments& a, ChartAnswer& out) {
    if (!a.file.empty() || !a.column.empty() || !a.label.empty()) {
        return fail(ProblemCode::BadInput,
                    "a chart is of a file or of the books: --analyte goes with no file, --column "
                    "or --label");
    }
    const std::string group = a.query.check_sample.empty() ? "batch" : "run";
    if (!a.group.empty() && (a.group != group || a.query.batch_means)) {
        return fail(ProblemCode::BadInput,
                    fmt::format("results of the books are grouped by \"{}\", or not at all", group),
                    {"", 0, "--group"});
    }
    BW_TRY(books, open_books(a.books, store::Mode::ReadOnly));
    service::BookTrendQuery query = a.query;
    query.last = a.last.value_or(0);
    query.by_batch = a.group == "batch";
    query.with_limits = a.limits.empty();
    if (a.last && *a.last < 1) {
        return fail(ProblemCode::BadInput,
                    fmt::format("a chart is of the newest 1 to {} results, not of {}",
                                service::kMostLast, *a.last),
                    {"", 0, "--last"});
    }
    BW_TRY(trend, service::results_in_time(books, query));
    out.file.name = std::move(trend.name);
    out.file.unit = std::move(trend.unit);
    out.file.invented = trend.invented;
    out.file.values = std::move(trend.values);
    out.file.labels = std::move(trend.labels);
    if (!a.group.empty()) {
        out.file.groups = std::move(trend.groups);
    }
    out.report.notices = std::move(trend.notices);
    if (trend.allowed) {
        out.request.low = trend.allowed->low;
        out.request.high = trend.allowed->high;
        out.allowed_from = std::move(trend.allowed->from);
    }
    return {};
}

Result<ChartAnswer> answer_of(const ChartTrendArguments& a) {
    ChartAnswer out;
    BW_CHECK(a.query.analyte.empty() ? read_file(a, out) : read_books(a, out));
    service::TrendRequest& r = out.request;
    r.values = out.file.values;
    r.labels = out.file.labels;
    r.groups = out.file.groups;
    BW_CHECK(take_rules(a.rules, r.watch.rules));
    if (a.no_ewma && !a.ewma.empty()) {
        return fail(ProblemCode::BadInput, "--ewma and --no-ewma contradict one another");
    }
    if (!a.no_ewma) {
        r.watch.ewma = assay::ChartWatch::Ewma{};
        if (!a.ewma.empty()) {
            r.watch.ewma = {a.ewma.front(), a.ewma.back()};
        }
    }
    if (a.use_cusum) {
        r.watch.cusum = assay::ChartWatch::Cusum{};
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
        out.allowed_from = "as given";
    }
    r.phase_one = a.phase_one;
    auto report = service::trend(r);
    if (!report) {
        Problem problem = std::move(report).error();
        problem.place.file = a.file;
        return tl::make_unexpected(std::move(problem));
    }
    base::append(out.report.notices, report->notices);
    report->notices = std::move(out.report.notices);
    out.report = std::move(*report);
    return out;
}

void add_book_options(Command trend, ChartTrendArguments& a) {
    trend.add_option("--analyte", a.query.analyte,
                     "Chart this constituent's counted results in the books, by time of reading");
    trend.add_option("--books", a.books.where,
                     "Folder of the books, or postgresql://...; else what BRINEWRIGHT_BOOKS says");
    trend.add_option("--method", a.query.method, "Results by this method only");
    trend.add_option("--recipe", a.query.recipe,
                     "Batches of this product only, or of product/number of a version");
    trend.add_option("--material", a.query.material,
                     "Batches only that this material went into, or this lot by its number");
    trend.add_option("--check-sample", a.query.check_sample,
                     "Readings of this check sample in the imported tables, not batches' results");
    trend.add_option("--since", a.query.since, "First day of the readings, 2026-11-26");
    trend.add_option("--until", a.query.until, "Last day of the readings");
    trend.add_option("--last", a.last,
                     "The newest so many results only (runs, of a check sample); without --since "
                     "1000 (100)");
    trend.add_flag("--batch-means", a.query.batch_means,
                   "One point for each batch: the mean of its results");
}

}  // namespace

Command add_chart_trend(Command chart, ChartTrendArguments& a) {
    const Command trend = chart.add_subcommand(
        "trend", "A trend chart of values in the order they came: limits, marks, capability");
    trend
        .add_option("FILE", a.file,
                    "Comma-separated readings, or TOML or JSON of kind \"readings\"")
        .check(named);
    add_book_options(trend, a);
    trend.add_option("--column", a.column, "Column of the values, where several hold numbers");
    trend.add_option("--label", a.label, "Column of dates or batches");
    trend.add_option(
        "--group", a.group,
        "Column of groups: neighbours of one name are one point, by mean and range; of the "
        "books: \"batch\", or \"run\" of a check sample");
    trend
        .add_option("--rules", a.rules,
                    "Further rules: two-of-three, four-of-five, eight (each costs false alarms)")
        .delimiter(',');
    trend.add_option("--ewma", a.ewma, "LAMBDA,WIDTH of the weighted mean; 0.2,2.7 unless stated")
        .delimiter(',')
        .expected(2);
    trend.add_flag("--no-ewma", a.no_ewma, "Leave the weighted mean out");
    trend.add_flag("--cusum", a.use_cusum, "Cumulated sums as well, with K 0.5 and H 5");
    trend.add_option("--cusum-limits", a.cusum, "K,H of cumulated sums, in sigma")
        .delimiter(',')
        .expected(2);
    trend
        .add_option("--frozen", a.frozen,
                    "CENTRE,SIGMA: limits given, of single values, by an earlier decision")
        .delimiter(',')
        .expected(2);
    trend.add_option("--phase-1", a.phase_one,
                     "So many points at the start make the limits, which are then frozen");
    trend
        .add_option("--limits", a.limits,
                    "LOW,HIGH that are allowed: for capability; of the books' batches else their "
                    "product's signed limits")
        .delimiter(',')
        .expected(2);
    trend.add_option("--csv", a.csv, "Write points, limits and marks").check(named);
    trend.add_option("--svg", a.svg, "Draw the chart").check(named);
    add_output_flags(trend, a.json, a.quiet, true);
    trend.footer(
        "Example:\n  brinewright chart trend examples/laboratory/calcium_batches.csv --phase-1 20 "
        "--limits -2,2\n  brinewright chart trend --analyte Ca --method M-07 --recipe \"Raised "
        "reef\" "
        "--batch-means --books books\n\n"
        "Exit codes: 0 done; 1 a point signals; 2 bad input; 3 the store, or a file could not be "
        "written.");
    return trend;
}

int chart_trend(const ChartTrendArguments& a, const Streams& streams) {
    const auto answer = answer_of(a);
    if (!answer) {
        return complain_of(answer.error(), streams);
    }
    if (const auto written = write_files(
            {{"--csv", a.csv, chart_csv(*answer)}, {"--svg", a.svg, chart_picture(*answer)}},
            a.file.empty() ? std::vector<std::string>() : std::vector{a.file});
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
