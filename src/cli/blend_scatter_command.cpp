// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/blend_scatter_command.hpp"

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "cli/answer.hpp"
#include "cli/blend_words.hpp"
#include "cli/measured.hpp"
#include "cli/progress.hpp"
#include "unit/factors.hpp"

namespace bw::cli {
namespace {

Result<service::BlendScatterRequest> request_of(const BlendScatterArguments& a) {
    service::BlendScatterRequest out;
    for (const std::string& portion : a.portions) {
        BW_TRY(kg, kilograms("--portion", portion));
        out.portions_kg.push_back(kg);
    }
    if (out.portions_kg.empty()) {
        constexpr double kScoop_kg = 0.05, kLitres_kg = 0.38, kPail_kg = 4;
        out.portions_kg = {kScoop_kg, kLitres_kg, kPail_kg};
    }
    BW_TRY(container, kilograms("--container", a.container));
    BW_TRY(batch, kilograms("--batch", a.batch));
    BW_TRY(wanted, share_in_percent("--wanted", a.wanted));
    out.container_kg = container;
    out.batch_kg = batch;
    out.wanted = wanted;
    BW_TRY(recipe, io::read_document(a.recipe));
    out.recipe = std::move(recipe);
    BW_TRY(materials, io::read_documents(a.materials));
    out.materials = std::move(materials);
    return out;
}

Result<service::BlendBudgetRequest> request_of(const BlendBudgetArguments& a) {
    service::BlendBudgetRequest out;
    const std::pair<const std::string*, std::pair<const char*, double*>> masses[] = {
        {&a.batch, {"--batch", &out.batch_kg}},
        {&a.container, {"--container", &out.container_kg}},
        {&a.portion, {"--portion", &out.portion_kg}},
        {&a.sample, {"--sample", &out.sample_kg}}};
    for (const auto& [text, into] : masses) {
        BW_TRY(kg, kilograms(into.first, *text));
        *into.second = kg;
    }
    BW_TRY(reading, share_in_percent("--reading", a.reading));
    BW_TRY(premix, share_in_percent("--premix", a.premix));
    BW_TRY(band, figures_of("--band", a.band, out.band.all));
    BW_TRY(analysis, figures_of("--analysis", a.analysis, out.analysis_u.all));
    out.reading_u = reading;
    out.premix_u = premix;
    out.band = band;
    out.analysis_u = analysis;
    out.mixed_before_use = a.mixed;
    if (!a.layered.empty()) {
        BW_TRY(layered, share_in_percent("--layered", a.layered));
        out.layered = layered;
    }
    out.draws = a.draws;
    out.seed = a.seed;
    BW_TRY(recipe, io::read_document(a.recipe));
    out.recipe = std::move(recipe);
    BW_TRY(materials, io::read_documents(a.materials));
    out.materials = std::move(materials);
    return out;
}

}  // namespace

Command add_blend_scatter(Command blend, BlendScatterArguments& a) {
    const Command scatter = blend.add_subcommand(
        "scatter",
        "How much scoops of a recipe's blend differ, by chance and after shaking, and why");
    scatter.add_option("RECIPE", a.recipe, "File of kind \"recipe\"").required();
    scatter.add_option("--materials", a.materials,
                       "Files of kind \"materials\" behind the recipe, with grain sizes");
    scatter.add_option("--portion", a.portions,
                       "Masses that are dissolved or tested, \"50 g\"; 50 g, 380 g and 4 kg where "
                       "none is given");
    scatter.add_option("--container", a.container, "What the user takes them from")
        .capture_default_str();
    scatter.add_option("--batch", a.batch, "Mass of the batch").capture_default_str();
    scatter.add_option("--wanted", a.wanted, "What every constituent should keep within")
        .capture_default_str();
    add_output_flags(scatter, a.json, a.quiet);
    scatter.footer(
        "Example:\n  brinewright blend scatter natural-recipe.toml --materials "
        "examples/works/materials.toml --portion \"50 g\" --portion \"1 kg\"\n\n"
        "The recipe is one that recipe solve --out has written.\n"
        "Exit codes: 0 every constituent keeps within what is wanted in 95 of 100 of the smallest "
        "portions; 1 some do not; 2 bad input.");
    return scatter;
}

Command add_blend_budget(Command blend, BlendBudgetArguments& a) {
    const Command budget = blend.add_subcommand(
        "budget", "Where the errors come from between the lots and the user's water");
    budget.add_option("RECIPE", a.recipe, "File of kind \"recipe\"").required();
    budget.add_option("--materials", a.materials,
                      "Files of kind \"materials\" behind the recipe, with grain sizes");
    budget.add_option("--batch", a.batch, "Mass of the batch").capture_default_str();
    budget.add_option("--container", a.container, "What the user has it in").capture_default_str();
    budget.add_option("--portion", a.portion, "What the user dissolves at once")
        .capture_default_str();
    budget.add_option("--sample", a.sample, "Blend in the sample that is tested for release")
        .capture_default_str();
    budget
        .add_option("--reading", a.reading,
                    "Standard uncertainty of the user's reading of salinity")
        .capture_default_str();
    budget
        .add_option("--premix", a.premix,
                    "Standard deviation of what is less than 1 % of the blend among portions of "
                    "its premix")
        .capture_default_str();
    budget
        .add_option("--band", a.band,
                    "What each constituent should keep within, \"2 %\"; \"Sr=5 %\" for one")
        .capture_default_str();
    budget
        .add_option("--analysis", a.analysis,
                    "Standard uncertainty of a result, \"1 %\"; \"Sr=3 %\" for one")
        .capture_default_str();
    budget.add_flag("--mixed", a.mixed,
                    "The container is tumbled before each use, or dissolved whole");
    budget.add_option(
        "--layered", a.layered,
        "How far a container layers on its way, in % of the bound that blend scatter "
        "names; where it is not given, so far that half of the constituents differ by "
        "3.5 % (common practice)");
    budget.add_option("--draws", a.draws, "Of the simulation").capture_default_str();
    budget.add_option("--seed", a.seed, "The same seed gives the same figures")
        .capture_default_str();
    add_output_flags(budget, a.json, a.quiet);
    budget.footer(
        "Example:\n  brinewright blend budget natural-recipe.toml --materials "
        "examples/works/materials.toml --portion \"380 g\" --mixed\n\n"
        "The recipe is one that recipe solve --out has written.\n"
        "Exit codes: 0 the promise is kept, every constituent inside its band in 95 of 100 "
        "portions; 1 it is not; 2 bad input.");
    return budget;
}

int blend_scatter(const BlendScatterArguments& a, const Streams& streams) {
    const auto request = request_of(a);
    if (!request) {
        return complain_of(request.error(), streams);
    }
    const auto report = service::blend_scatter(*request);
    if (!report) {
        return complain_of(as_option(report.error()), streams);
    }
    if (a.json) {
        put(scatter_json(*report), streams);
    } else if (!a.quiet) {
        put(scatter_text(*report), streams);
    }
    for (const service::ConstituentScatter& c : report->constituents) {
        if (c.remedy) {
            return 1;
        }
    }
    return 0;
}

int blend_budget(const BlendBudgetArguments& a, const Streams& streams) {
    auto request = request_of(a);
    if (!request) {
        return complain_of(request.error(), streams);
    }
    Progress progress(streams, !a.quiet, "draws");
    request->progress = [&](double share) { return progress.tell(share); };
    const auto report = service::blend_budget(*request);
    if (!report) {
        return complain_of(as_option(report.error()), streams);
    }
    if (a.json) {
        put(lot_to_reef_json(*report), streams);
    } else if (!a.quiet) {
        put(lot_to_reef_text(*report), streams);
    }
    return report->kept ? 0 : 1;
}

}  // namespace bw::cli
