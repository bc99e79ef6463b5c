// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/path_command.hpp"

#include <fmt/format.h>

#include "base/text.hpp"
#include "cli/answer.hpp"
#include "cli/measured.hpp"

namespace bw::cli {
namespace {

using unit::Dimension;

/// "sodium hydrogencarbonate=30 min"
Result<service::PathRequest::Timed> timed(std::string_view text) {
    const auto at = text.rfind('=');
    if (at == std::string_view::npos || base::trim(text.substr(0, at)).empty()) {
        return fail(ProblemCode::BadInput,
                    fmt::format("{} does not say what goes in when: write --add \"sodium "
                                "hydrogencarbonate=30 min\"",
                                base::quoted(text)),
                    {"", 0, "--add"});
    }
    BW_TRY(hour, parse_plain("--add", base::trim(text.substr(at + 1)), {Dimension::Time}));
    return service::PathRequest::Timed{std::string(base::trim(text.substr(0, at))), hour};
}

Result<service::PathRequest> request_of(const PathRunArguments& a) {
    BW_TRY(out, request_of(a.vat));
    for (const std::string& text : a.add) {
        BW_TRY(addition, timed(text));
        out.later.push_back(addition);
    }
    out.dissolved_before = a.predissolved;
    if (!a.heat_to.empty()) {
        path::VatPlan::Heating heating;
        BW_TRY(to, parse_celsius("--heat-to", a.heat_to));
        BW_TRY(from, parse_plain("--heat-from", a.heat_from, {Dimension::Time}));
        BW_TRY(rate, parse_plain("--heat-rate", a.heat_rate, {Dimension::HeatingRate}));
        heating.to_celsius = to.value();
        heating.from_h = from;
        heating.celsius_per_h = rate;
        out.conditions.heating = heating;
    }
    return out;
}

}  // namespace

Command add_path_run(Command path, PathRunArguments& a) {
    const Command run = path.add_subcommand(
        "run",
        "Follow a vat from the first grain on: does it clear, what falls, how long is it good");
    add_vat_arguments(run, a.vat);
    run.add_option("--add", a.add, "MATERIAL=TIME: goes in later than the rest");
    run.add_option("--predissolved", a.predissolved, "MATERIAL that goes in as a solution");
    const Option to = run.add_option("--heat-to", a.heat_to, "Heat the vat to this temperature");
    run.add_option("--heat-from", a.heat_from, "When heating starts")
        .needs(to)
        .capture_default_str();
    run.add_option("--heat-rate", a.heat_rate, "How fast").needs(to).capture_default_str();
    run.add_option("--csv", a.csv, "Write the course as comma-separated text").check(named);
    add_output_flags(run, a.json, a.quiet, true);
    run.footer(
        "Example:\n  brinewright path run raised-recipe.toml --materials "
        "examples/works/materials.toml --temperature \"23 degC\" --add \"sodium "
        "hydrogencarbonate=30 min\"\n\n"
        "The recipe is one that recipe solve --out has written.\n"
        "Exit codes: 0 clear, or to be watched; 1 it will cloud; 2 bad input; 3 a file could not "
        "be "
        "written.");
    return run;
}

int path_run(const PathRunArguments& a, const Streams& streams) {
    const auto request = request_of(a);
    if (!request) {
        return complain_of(request.error(), streams);
    }
    const auto report = service::path_run(*request);
    if (!report) {
        return complain_of(as_option(report.error()), streams);
    }
    if (!a.csv.empty()) {
        if (const auto written =
                write_files({{"--csv", a.csv, path_csv(*report)}}, files_of(a.vat));
            !written) {
            return complain_of(written.error(), streams);
        }
    }
    if (a.json) {
        put(path_json(*report), streams);
    } else if (!a.quiet) {
        put(path_text(*report), streams);
    }
    return report->verdict.risk == path::Risk::WillCloud ? 1 : 0;
}

}  // namespace bw::cli
