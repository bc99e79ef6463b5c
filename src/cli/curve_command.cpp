// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/curve_command.hpp"

#include "cli/answer.hpp"
#include "cli/line_picture.hpp"

namespace bw::cli {
namespace {

Result<service::CurveReport> report_of(const CurveReadArguments& a) {
    service::CurveRequest request;
    BW_TRY(file, io::read_titration(a.file));
    request.file = std::move(file);
    if (!a.recipe.empty()) {
        BW_TRY(recipe, io::read_document(a.recipe));
        BW_TRY(materials, io::read_documents(a.materials));
        request.recipe = std::move(recipe);
        request.materials = std::move(materials);
    } else if (!a.materials.empty()) {
        return fail(ProblemCode::BadInput, "--materials belong to a recipe: name it with --recipe");
    }
    return service::read_curve(request);
}

}  // namespace

Command add_curve_read(Command curve, CurveReadArguments& a) {
    const Command read = curve.add_subcommand(
        "read", "Alkalinity or an end point from a titration curve, and how sure it is");
    read.add_option("FILE", a.file,
                    "File of kind \"titration\": TOML, JSON, or comma-separated points below lines "
                    "that begin with #")
        .check(named)
        .required();
    read.add_option("--recipe", a.recipe,
                    "File of kind \"recipe\" that the sample was made by: its sulfate and fluoride")
        .check(named);
    read.add_option("--materials", a.materials, "Files of kind \"materials\" behind the recipe")
        .check(named);
    read.add_option("--csv", a.csv, "Write the points and their residuals").check(named);
    read.add_option("--svg", a.svg, "Write a picture of the curve and its residuals").check(named);
    add_output_flags(read, a.json, a.quiet, true);
    read.footer(
        "Example:\n  brinewright curve read examples/laboratory/alkalinity.csv\n\n"
        "Exit codes: 0 done; 1 the points scatter too much about the fit; 2 bad input, also a "
        "curve "
        "without an end point; 3 a file could not be written.");
    return read;
}

int curve_read(const CurveReadArguments& a, const Streams& streams) {
    const auto report = report_of(a);
    if (!report) {
        return complain_of(report.error(), streams);
    }
    std::vector<std::string> read = a.materials;
    read.push_back(a.file);
    if (!a.recipe.empty()) {
        read.push_back(a.recipe);
    }
    if (const auto written = write_files(
            {{"--csv", a.csv, curve_csv(*report)}, {"--svg", a.svg, curve_picture(*report)}}, read);
        !written) {
        return complain_of(written.error(), streams);
    }
    if (a.json) {
        put(curve_json(*report), streams);
    } else if (!a.quiet) {
        put(curve_text(*report), streams);
    }
    return report->failed.empty() ? 0 : 1;
}

}  // namespace bw::cli
