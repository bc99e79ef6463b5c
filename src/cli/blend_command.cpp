// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/blend_command.hpp"

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "cli/answer.hpp"
#include "cli/measured.hpp"
#include "cli/vat_words.hpp"

namespace bw::cli {
namespace {

Result<double> days_of(std::string_view text) {
    const std::string_view body = base::trim(text);
    const auto number = base::parse_number(
        base::trim(body.ends_with("days") ? body.substr(0, body.size() - 4) : body));
    return number ? Result<double>(*number) : in_field("--days", number.error());
}

Result<service::DryBlendRequest> request_of(const BlendDryArguments& a) {
    service::DryBlendRequest out;
    BW_TRY(temperature, parse_celsius("--temperature", a.temperature));
    out.conditions.temperature = temperature;
    if (!a.humidity.empty()) {
        BW_TRY(humidity, in_unit("--humidity", a.humidity, "%", "45 %"));
        out.conditions.room_humidity_percent = humidity;
    }
    BW_TRY(bag, parse_measured("--bag", a.bag, {unit::Dimension::Mass}));
    out.conditions.bag_kg = bag.value;
    BW_TRY(days, days_of(a.days));
    out.conditions.days = days;
    BW_TRY(wvtr, in_unit("--wvtr", a.wvtr, "g/m2/day", "0.5 g/m2/day"));
    out.conditions.wvtr_g_per_m2_day = wvtr;
    BW_TRY(area, in_unit("--area", a.area, "m2", "0.6 m2"));
    out.conditions.area_m2 = area;
    BW_TRY(recipe, io::read_document(a.recipe));
    out.recipe = std::move(recipe);
    BW_TRY(materials, io::read_documents(a.materials));
    out.materials = std::move(materials);
    return out;
}

}  // namespace

Command add_blend_dry(Command blend, BlendDryArguments& a) {
    const Command dry = blend.add_subcommand(
        "dry", "Whether the dry blend of a recipe stays dry in its bag, and what it does if not");
    dry.add_option("RECIPE", a.recipe, "File of kind \"recipe\"").required();
    dry.add_option("--materials", a.materials, "Files of kind \"materials\" behind the recipe");
    dry.add_option("--temperature", a.temperature, "Of the store, 5 to 40 degC")
        .capture_default_str();
    dry.add_option("--humidity", a.humidity,
                   "Relative humidity where it is blended and filled, \"45 %\"");
    dry.add_option("--bag", a.bag, "Mass of blend in a bag").capture_default_str();
    dry.add_option("--days", a.days, "Days in store, in which water passes the film")
        .capture_default_str();
    const Option wvtr =
        dry.add_option("--wvtr", a.wvtr,
                       "Water vapour that passes the film, at the climate of the store")
            .capture_default_str();
    const Option area =
        dry.add_option("--area", a.area, "Area of the film").needs(wvtr).capture_default_str();
    wvtr.needs(area);
    add_output_flags(dry, a.json, a.quiet);
    dry.footer(
        "Example:\n  brinewright blend dry natural-recipe.toml --materials "
        "examples/works/materials.toml --humidity \"45 %\"\n\n"
        "The recipe is one that recipe solve --out has written.\n"
        "Exit codes: 0 it stays dry, or is to be watched; 1 it gets wet; 2 bad input.");
    return dry;
}

int blend_dry(const BlendDryArguments& a, const Streams& streams) {
    const auto request = request_of(a);
    if (!request) {
        return complain_of(request.error(), streams);
    }
    const auto report = service::dry_blend(*request);
    if (!report) {
        return complain_of(as_option(report.error()), streams);
    }
    if (a.json) {
        put(dry_json(*report), streams);
    } else if (!a.quiet) {
        put(dry_text(*report), streams);
    }
    return report->bag.verdict == blend::DryVerdict::GetsWet ? 1 : 0;
}

}  // namespace bw::cli
