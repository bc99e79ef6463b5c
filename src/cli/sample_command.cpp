// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// sample homogeneity: options, text, JSON and comma-separated text.
#include "cli/sample_command.hpp"

#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "cli/answer.hpp"
#include "cli/json_values.inl"
#include "cli/line_picture.hpp"
#include "cli/measured.hpp"
#include "io/readings_file.hpp"
#include "io/sheet.hpp"
#include "service/sample_homogeneity.hpp"

namespace bw::cli {
namespace {

using service::HomogeneityReport;
using service::HomogeneityVerdict;

constexpr double kPercent = 100;

struct Answer {
    io::UnitsFile file;
    double goal = 0;
    HomogeneityReport report;
};

Result<Answer> answer_of(const SampleHomogeneityArguments& a) {
    Answer out;
    constexpr double kLeast = 1e-6, kMost = 0.5;
    BW_TRY(goal, parse_share("--goal", a.goal, kLeast, kMost, "0.0001 % to 50 %"));
    out.goal = goal.value;
    BW_TRY(file, io::read_units(a.file));
    out.file = std::move(file);
    service::HomogeneityRequest request{out.file.names, out.file.results, out.goal};
    if (!a.by_chance.empty()) {
        BW_TRY(chance, parse_share("--by-chance", a.by_chance, kLeast, kMost, "0.0001 % to 50 %"));
        request.by_chance = chance.value;
    }
    auto report = service::sample_homogeneity(request);
    if (!report) {
        Problem problem = std::move(report).error();
        problem.place.file = a.file;
        return tl::make_unexpected(std::move(problem));
    }
    out.report = std::move(*report);
    return out;
}

std::string verdict(const Answer& a) {
    const std::string goal = base::format_short(kPercent * a.goal, 3);
    switch (a.report.verdict) {
        case HomogeneityVerdict::Homogeneous:
            return fmt::format("homogeneous for the goal of {} %", goal);
        case HomogeneityVerdict::NotHomogeneous:
            return fmt::format("not homogeneous for the goal of {} %", goal);
        case HomogeneityVerdict::CannotTell:
            return fmt::format(
                "not shown for the goal of {} %: the method scatters too much to "
                "tell",
                goal);
    }
    return "";
}

std::string in_percent(double value, const HomogeneityReport& r) {
    return base::format_significant(kPercent * value / std::abs(r.mean), 2);
}

std::string text_of(const Answer& a) {
    const HomogeneityReport& r = a.report;
    const auto& h = r.judged;
    std::string out = "sample   " +
                      (a.file.name.empty() ? std::string("units of a batch") : a.file.name) +
                      (a.file.unit.empty() ? "" : ", " + a.file.unit) +
                      (a.file.invented ? " (invented example)" : "") + "\n";
    out += "verdict  " + verdict(a) + "\n\n";
    TextTable table({{{"view"}, Align::Left},
                     {{"found"}, Align::Right},
                     {{"against"}, Align::Right},
                     {{""}, Align::Left}});
    table.add({"A  do units differ? F of variances", base::format_significant(h.anova.f, 3),
               base::format_significant(h.f_critical, 3),
               h.significant ? "they differ" : "no difference seen"});
    table.add({"B  do they differ by too much? variance between",
               base::format_significant(h.between_sd * h.between_sd, 3),
               base::format_significant(h.largest_variance, 3),
               h.sufficient ? "sufficiently alike" : "too different"});
    table.add({"C  what to carry, standard uncertainty, %", in_percent(h.u_between, r),
               in_percent(h.u_hidden, r), "against what the method could hide"});
    out += table.text() + "\n";
    Sheet sheet;
    sheet.add(fmt::format("mean of {} units", a.file.results.size()), r.mean,
              static_cast<int>(std::max(0.0, std::ceil(2 - std::log10(std::abs(r.mean) / 10)))),
              a.file.unit);
    const auto percent = [&](const char* name, double v) {
        sheet.add(name, kPercent * v / std::abs(r.mean), 2, "%");
    };
    percent("between units", h.between_sd);
    if (r.chance_sd) {
        percent("  by chance of grains, at best", *r.chance_sd);
        percent("  what better mixing can take off", r.mixing_sd);
    }
    percent("within a unit (the method)", h.within_sd);
    percent("sigma of the goal, half of it", r.sigma);
    out += sheet.text();
    const double off = kPercent * r.factor * r.unit_sd / std::abs(r.mean);
    out += fmt::format(
        "\nTolerance interval of the units' means: {} to {} {}({} % about the mean; at least 95 % "
        "of "
        "units, with 95 % confidence, k = {})\n",
        base::format_significant(r.tolerance_low, 4), base::format_significant(r.tolerance_high, 4),
        a.file.unit.empty() ? "" : a.file.unit + " ", base::format_significant(off, 2),
        base::format_places(r.factor, 3));
    out += fmt::format("Against the order of the units: {} % per unit, chance {} %\n",
                       in_percent(r.slope_per_unit, r),
                       base::format_significant(kPercent * r.slope_p, 2));
    return out + (r.notices.empty() ? "" : "\n") + dashes(r.notices);
}

std::string json_of(const Answer& a) {
    const HomogeneityReport& r = a.report;
    const auto& h = r.judged;
    Json out = {{"version", 1},
                {"name", a.file.name},
                {"unit", a.file.unit},
                {"invented", a.file.invented},
                {"goal_percent", kPercent * a.goal},
                {"verdict", r.verdict == HomogeneityVerdict::Homogeneous      ? "homogeneous"
                            : r.verdict == HomogeneityVerdict::NotHomogeneous ? "not homogeneous"
                                                                              : "cannot tell"},
                {"units", a.file.results.size()},
                {"mean", r.mean},
                {"f", json_number(h.anova.f)},
                {"f_critical", h.f_critical},
                {"significant", h.significant},
                {"between_variance", h.between_sd * h.between_sd},
                {"largest_variance", h.largest_variance},
                {"sufficient", h.sufficient},
                {"between_sd", h.between_sd},
                {"within_sd", h.within_sd},
                {"method_good_enough", h.method_good_enough},
                {"chance_sd", json_number(r.chance_sd)},
                {"mixing_sd", r.chance_sd ? json_number(r.mixing_sd) : Json(nullptr)},
                {"u_between", h.u_between},
                {"u_hidden", h.u_hidden},
                {"cochran", h.cochran.statistic},
                {"cochran_critical", h.cochran.critical},
                {"tolerance_factor", r.factor},
                {"tolerance_low", r.tolerance_low},
                {"tolerance_high", r.tolerance_high},
                {"slope_per_unit", r.slope_per_unit},
                {"slope_p", r.slope_p}};
    out["unit_means"] = r.unit_means;
    out["notices"] = json_notices(r.notices);
    return json_text(out);
}

std::string csv_of(const Answer& a) {
    io::Sheet sheet{"units", {"unit", "mean", "off the mean %"}, {}};
    for (std::size_t i = 0; i < a.report.unit_means.size(); ++i) {
        const double mean = a.report.unit_means[i];
        sheet.rows.push_back(
            {a.file.names[i], mean, kPercent * (mean - a.report.mean) / std::abs(a.report.mean)});
    }
    return io::delimited(sheet);
}

}  // namespace

Command add_sample_homogeneity(Command sample, SampleHomogeneityArguments& a) {
    const Command command = sample.add_subcommand(
        "homogeneity", "Whether the units of a batch are alike, in three views, against a goal");
    command
        .add_option("FILE", a.file,
                    "Comma-separated results: a row for each unit, a column for each result")
        .check(named)
        .required();
    command.add_option("--goal", a.goal, "Half width to which units are wanted alike, of the mean")
        .capture_default_str();
    command.add_option("--by-chance", a.by_chance,
                       "Standard deviation that the chance of grains gives units of this mass, of "
                       "the mean, from blend mixing");
    command.add_option("--csv", a.csv, "Write the units' means").check(named);
    add_output_flags(command, a.json, a.quiet, true);
    command.footer(
        "Example:\n  brinewright sample homogeneity examples/laboratory/calcium_packs.csv --goal "
        "\"2 %\"\n\n"
        "Exit codes: 0 homogeneous; 1 not homogeneous, or not to be told; 2 bad input; 3 a file "
        "could not be written.");
    return command;
}

int sample_homogeneity(const SampleHomogeneityArguments& a, const Streams& streams) {
    const auto answer = answer_of(a);
    if (!answer) {
        return complain_of(answer.error(), streams);
    }
    if (const auto written = write_files({{"--csv", a.csv, csv_of(*answer)}}, {a.file}); !written) {
        return complain_of(written.error(), streams);
    }
    if (a.json) {
        put(json_of(*answer), streams);
    } else if (!a.quiet) {
        put(text_of(*answer), streams);
    }
    return answer->report.verdict == HomogeneityVerdict::Homogeneous ? 0 : 1;
}

}  // namespace bw::cli
