// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// blend mixing: options, text and JSON.
#include "cli/blend_mixing_command.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "blend/mixing.hpp"
#include "cli/answer.hpp"
#include "cli/blend_words.hpp"
#include "cli/json_values.inl"
#include "service/blend_mixing.hpp"

namespace bw::cli {
namespace {

using service::BlendMixingReport;
using service::ConstituentMixing;
using service::PremixPlan;
using service::SampleProof;

Result<service::BlendMixingRequest> request_of(const BlendMixingArguments& a) {
    service::BlendMixingRequest out;
    for (const std::string& sample : a.samples) {
        BW_TRY(kg, kilograms("--sample", sample));
        out.samples_kg.push_back(kg);
    }
    if (out.samples_kg.empty()) {
        constexpr double kScoop_kg = 0.05, kBottle_kg = 0.5;
        out.samples_kg = {kScoop_kg, kBottle_kg};
    }
    std::sort(out.samples_kg.begin(), out.samples_kg.end());
    out.samples_kg.erase(std::unique(out.samples_kg.begin(), out.samples_kg.end()),
                         out.samples_kg.end());
    BW_TRY(batch, kilograms("--batch", a.batch));
    BW_TRY(wanted, share_in_percent("--wanted", a.wanted));
    BW_TRY(confidence, share_in_percent("--confidence", a.confidence));
    BW_TRY(repeatability, figures_of("--repeatability", a.repeatability, out.repeatability.all));
    constexpr double kNone = 0;
    BW_TRY(seen, figures_of("--seen", a.seen, kNone));
    if (seen.all != kNone) {
        return fail(ProblemCode::BadInput,
                    "what was seen belongs to one constituent: write \"Sr=3 %\"",
                    {"", 0, "--seen"});
    }
    out.batch_kg = batch;
    out.wanted = wanted;
    out.confidence = confidence;
    out.repeatability = repeatability;
    out.seen = seen.own;
    out.results = a.results;
    out.premix_for = a.premix_for;
    BW_TRY(recipe, io::read_document(a.recipe));
    out.recipe = std::move(recipe);
    BW_TRY(materials, io::read_documents(a.materials));
    out.materials = std::move(materials);
    return out;
}

/// A number of grains, "12 million".
std::string grains_words(double number) {
    constexpr int kDigits = 2;
    constexpr double kMillion = 1e6;
    return number < kMillion ? base::format_short(number, kDigits)
                             : base::format_short(number / kMillion, kDigits) + " million";
}

std::string premix_text(const BlendMixingReport& r, const PremixPlan& plan) {
    std::string out = fmt::format(
        "\n{} in {}{}\n",
        plan.late ? "Late premix, of what draws water or keeps no company with carbonates,"
                  : "Premix",
        plan.carrier, r.premix_for > 1 ? fmt::format(", for {} batches", r.premix_for) : "");
    TextTable table({{{"goes in", ""}, Align::Left},
                     {{"", ""}, Align::Right},
                     {{"counts as", "equal grains"}, Align::Right},
                     {{"parts differ", "by, %"}, Align::Right},
                     {{"in the", "vessel"}, Align::Right}});
    double total = 0;
    for (const PremixPlan::Part& part : plan.parts) {
        total += part.kg;
        table.add({part.material, mass_words(part.kg), grains_words(part.equal_grains),
                   r.premix_for > 1 ? percent_words(part.relative_sd) : "", mass_words(total)});
    }
    for (const works::PremixStage& stage : plan.stages) {
        table.add({plan.carrier, mass_words(stage.carrier_kg), "", "", mass_words(stage.total_kg)});
    }
    return out + table.text();
}

std::string premixes_text(const BlendMixingReport& r) {
    std::string out;
    for (const PremixPlan& plan : r.premixes) {
        out += premix_text(r, plan);
    }
    if (r.premixes.empty()) {
        out += "\nNo premix: nothing is below 1 % of the blend, or nothing can carry it\n";
    } else {
        out += wrapped(
            "  * ",
            "Mix after each line. Each addition of the carrier about doubles what is in "
            "the vessel (geometric dilution, common practice), until it is 5 % of the "
            "blend. A premix spreads grains; it does not make more of them. Counts as: so many "
            "equal grains scatter as these of all sizes do; 10 000 differ by 1 %.");
    }
    for (const auto& [material, kg] : r.alone) {
        out += wrapped("  * ", fmt::format("{} of {} straight into the blender: no carrier may lie "
                                           "with it.",
                                           mass_words(kg), material));
    }
    return out;
}

/// What stands in the way of a number of samples, as JSON has it.
std::string against(const SampleProof& proof) {
    switch (proof.against) {
        case SampleProof::Against::Nothing:
            return "";
        case SampleProof::Against::Grains:
            return "grains";
        case SampleProof::Against::Analysis:
            return "analysis";
        case SampleProof::Against::Number:
            return fmt::format("over {}", blend::kMostSamples);
    }
    return "";
}

std::string samples_words(const SampleProof& proof) {
    return proof.samples                                   ? std::to_string(*proof.samples)
           : proof.against == SampleProof::Against::Number ? against(proof)
                                                           : "none: " + against(proof);
}

std::string proof_table(const BlendMixingReport& r) {
    std::vector<Column> columns{{{"constituent", ""}, Align::Left},
                                {{"unmixed", "%"}, Align::Right}};
    for (const double sample : r.samples_kg) {
        columns.push_back({{mass_words(sample), "chance, %"}, Align::Right});
        columns.push_back({{"results,", "%"}, Align::Right});
        columns.push_back({{"samples", ""}, Align::Right});
    }
    columns.push_back({{"large", "enough"}, Align::Right});
    columns.push_back({{"or of " + mass_words(r.samples_kg.front()), "so many"}, Align::Right});
    TextTable table(columns);
    for (const ConstituentMixing& c : r.constituents) {
        std::vector<std::string> row{std::string(c.constituent.symbol()), percent_words(c.unmixed)};
        for (const SampleProof& proof : c.proofs) {
            row.push_back(percent_words(proof.by_chance));
            row.push_back(percent_words(proof.with_analysis));
            row.push_back(samples_words(proof));
        }
        row.push_back(mass_words(c.enough_kg));
        row.push_back(c.increments ? std::to_string(*c.increments) : "no");
        table.add(row);
    }
    return table.text();
}

std::string seen_text(const BlendMixingReport& r) {
    TextTable table({{{"constituent", ""}, Align::Left},
                     {{"seen", "%"}, Align::Right},
                     {{"of the blend", "%"}, Align::Right},
                     {{"chance", "%"}, Align::Right},
                     {{"of mixing", "%"}, Align::Right},
                     {{"Lacey's index", ""}, Align::Right}});
    bool any = false;
    for (const ConstituentMixing& c : r.constituents) {
        if (c.seen) {
            constexpr int kPlaces = 6;
            any = true;
            table.add({std::string(c.constituent.symbol()), percent_words(c.seen->seen),
                       percent_words(c.seen->of_blend), percent_words(c.proofs.front().by_chance),
                       percent_words(c.seen->of_mixing),
                       c.seen->lacey ? base::format_places(*c.seen->lacey, kPlaces) : ""});
        }
    }
    if (!any) {
        return "";
    }
    return fmt::format("\nSeen among samples of {}, against their limits\n",
                       mass_words(r.samples_kg.front())) +
           table.text() +
           wrapped("  * ",
                   "Better mixing can take off what is \"of mixing\", and no more. Lacey's index "
                   "is 0 for parts that nobody mixed and 1 for chance alone; real blends lie so "
                   "near to 1 that it says little [lacey-1954].");
}

std::string text_of(const BlendMixingReport& r) {
    std::string out =
        fmt::format("{}: premix and samples of a batch of {}{}\n", base::one_line(r.recipe),
                    mass_words(r.batch_kg), r.invented ? "; the recipe is invented" : "");
    out += premixes_text(r);
    out += fmt::format(
        "\nMixed as well as can be: standard deviation among samples and among their results, and\n"
        "samples that prove {} % for 95 of 100 such portions with {} % confidence\n",
        percent_words(r.wanted), percent_words(r.confidence, 4));
    out += proof_table(r);
    out += wrapped(
        "  * ",
        fmt::format("Chance is the floor against which a homogeneity test is read: no mixer gets "
                    "below it. Results: with the repeatability{}. No number of samples proves "
                    "anything where results scatter by more than {} %. They are one increment "
                    "each, tested apart, and their mean is taken to be right.",
                    r.results > 1 ? fmt::format(" of a mean of {}", r.results) : "",
                    percent_words(r.provable)));
    out += wrapped(
        "  * ",
        "Large enough: from this mass on a sample's grains scatter by no more than a "
        "third of its analysis (our rule); or so many increments of the smaller mass "
        "in one composite, ten at least from places all over the mixer (common "
        "practice), which even out bad mixing as well (no: they would take more than half of the "
        "batch).");
    out += seen_text(r);
    out += bullets(sentences_of(r.notices));
    return out;
}

Json premix_json(const PremixPlan& plan) {
    Json parts = Json::array(), stages = Json::array();
    for (const PremixPlan::Part& part : plan.parts) {
        parts.push_back({{"material", part.material},
                         {"kg", json_number(part.kg)},
                         {"equal_grains_for_one_batch", json_number(part.equal_grains)},
                         {"relative_sd_of_parts", json_number(part.relative_sd)}});
    }
    for (const works::PremixStage& stage : plan.stages) {
        stages.push_back({{"carrier_kg", json_number(stage.carrier_kg)},
                          {"total_kg", json_number(stage.total_kg)}});
    }
    return {{"late", plan.late}, {"carrier", plan.carrier}, {"parts", parts}, {"stages", stages}};
}

Json constituent_json(const ConstituentMixing& c) {
    Json proofs = Json::array(), seen;
    for (const SampleProof& p : c.proofs) {
        proofs.push_back({{"by_chance", json_number(p.by_chance)},
                          {"with_analysis", json_number(p.with_analysis)},
                          {"samples", p.samples ? Json(*p.samples) : Json(nullptr)},
                          {"factor", p.samples ? json_number(p.factor) : Json(nullptr)},
                          {"none_for", against(p)}});
    }
    if (c.seen) {
        seen = {{"results", json_number(c.seen->seen)},
                {"of_blend", json_number(c.seen->of_blend)},
                {"of_mixing", json_number(c.seen->of_mixing)},
                {"lacey_index", json_number(c.seen->lacey)}};
    }
    return {{"symbol", c.constituent.symbol()},
            {"unmixed", json_number(c.unmixed)},
            {"repeatability", json_number(c.repeatability)},
            {"samples", proofs},
            {"large_enough_kg", json_number(c.enough_kg)},
            {"increments", c.increments ? Json(*c.increments) : Json(nullptr)},
            {"seen", seen}};
}

std::string json_of(const BlendMixingReport& r) {
    Json premixes = Json::array(), alone = Json::array(), constituents = Json::array();
    for (const PremixPlan& plan : r.premixes) {
        premixes.push_back(premix_json(plan));
    }
    for (const auto& [material, kg] : r.alone) {
        alone.push_back({{"material", material}, {"kg", json_number(kg)}});
    }
    for (const ConstituentMixing& c : r.constituents) {
        constituents.push_back(constituent_json(c));
    }
    Json out = {{"version", 1},
                {"recipe", r.recipe},
                {"invented", r.invented},
                {"batch_kg", r.batch_kg},
                {"premix_for", r.premix_for},
                {"samples_kg", r.samples_kg},
                {"results", r.results},
                {"wanted", r.wanted},
                {"confidence", r.confidence},
                {"provable", json_number(r.provable)},
                {"proven", r.proven},
                {"premixes", premixes},
                {"alone", alone},
                {"constituents", constituents}};
    out["notices"] = json_coded_notices(r.notices);
    return json_text(out);
}

}  // namespace

Command add_blend_mixing(Command blend, BlendMixingArguments& a) {
    const Command mixing = blend.add_subcommand(
        "mixing", "How a recipe's blend is premixed, and how many samples prove the promise");
    mixing.add_option("RECIPE", a.recipe, "File of kind \"recipe\"").required();
    mixing.add_option("--materials", a.materials,
                      "Files of kind \"materials\" behind the recipe, with grain sizes");
    mixing.add_option("--batch", a.batch, "Mass of the batch").capture_default_str();
    mixing.add_option("--premix-for", a.premix_for, "Batches that one premix is made for")
        .capture_default_str();
    mixing.add_option(
        "--sample", a.samples,
        "Masses of blend that are tested, \"50 g\"; 50 g and 500 g where none is given");
    mixing
        .add_option("--repeatability", a.repeatability,
                    "Standard deviation of results of one solution, \"1 %\"; \"Sr=2 %\" for one")
        .capture_default_str();
    mixing.add_option("--results", a.results, "Of each sample, averaged").capture_default_str();
    mixing.add_option("--wanted", a.wanted, "The promise that the samples are to prove")
        .capture_default_str();
    mixing.add_option("--confidence", a.confidence, "With which it is proven")
        .capture_default_str();
    mixing.add_option("--seen", a.seen,
                      "Standard deviation that results of samples of the smallest mass have shown, "
                      "\"Sr=3 %\"");
    add_output_flags(mixing, a.json, a.quiet);
    mixing.footer(
        "Example:\n  brinewright blend mixing natural-recipe.toml --materials "
        "examples/works/materials.toml --batch \"1000 kg\" --sample \"500 g\"\n\n"
        "The recipe is one that recipe solve --out has written.\n"
        "Exit codes: 0 samples of the largest mass prove the promise for every constituent; 1 for "
        "some no number does; 2 bad input.");
    return mixing;
}

int blend_mixing(const BlendMixingArguments& a, const Streams& streams) {
    const auto request = request_of(a);
    if (!request) {
        return complain_of(request.error(), streams);
    }
    const auto report = service::blend_mixing(*request);
    if (!report) {
        return complain_of(as_option(report.error()), streams);
    }
    if (a.json) {
        put(json_of(*report), streams);
    } else if (!a.quiet) {
        put(text_of(*report), streams);
    }
    return report->proven ? 0 : 1;
}

}  // namespace bw::cli
