// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// blend budget as text and as JSON.
#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "cli/answer.hpp"
#include "cli/blend_scatter_command.hpp"
#include "cli/blend_words.hpp"
#include "cli/json_values.inl"
#include "unit/factors.hpp"

namespace bw::cli {
namespace {

using Json = nlohmann::ordered_json;
using blend::BudgetResult;
using blend::BudgetStep;
using service::BlendBudgetReport;

std::string percent(double share, int places = 1) {
    return base::format_places(share * unit::kPercent, places);
}

/// A step in a table; its whole name stands below.
std::string_view short_name(BudgetStep step) {
    constexpr std::array<std::string_view, blend::kBudgetSteps> kNames{
        "lots",   "moisture", "weighing", "premix",  "grains",
        "layers", "sample",   "reading",  "analysis"};
    return kNames[static_cast<std::size_t>(step)];
}

/// Steps by their share of the variance, largest first, down to a twentieth.
std::string sources(const BudgetResult& r) {
    constexpr double kWorthNaming = 0.05;
    std::vector<std::pair<double, std::size_t>> steps;
    for (std::size_t s = 0; s < blend::kBudgetSteps; ++s) {
        steps.emplace_back(r.steps[s].total, s);
    }
    std::stable_sort(steps.begin(), steps.end(),
                     [](const auto& a, const auto& b) { return a.first > b.first; });
    std::vector<std::string> out;
    for (const auto& [share, s] : steps) {
        if (share >= kWorthNaming) {
            out.push_back(fmt::format("{} {}", short_name(static_cast<BudgetStep>(s)),
                                      base::format_places(share * unit::kPercent, 0)));
        }
    }
    return fmt::format("{}", fmt::join(out, ", "));
}

std::string table_of(const std::vector<BudgetResult>& results, const BlendBudgetReport& r) {
    TextTable table({{{"constituent", ""}, Align::Left},
                     {{"band", "+- %"}, Align::Decimal},
                     {{"u", "%"}, Align::Decimal},
                     {{"95 of 100 between", "%"}, Align::Left},
                     {{"inside", "of 100"}, Align::Decimal},
                     {{"from, % of the variance", ""}, Align::Left}});
    for (std::size_t e = 0; e < results.size(); ++e) {
        const BudgetResult& x = results[e];
        table.add(
            {std::string(r.constituents[e].symbol()), percent(r.band[e]), percent(x.u, 2),
             fmt::format("{:+.1f} and {:+.1f}", x.low * unit::kPercent, x.high * unit::kPercent),
             percent(x.inside), sources(x)});
    }
    return table.text();
}

std::string symbols(const std::vector<matter::Constituent>& constituents) {
    std::vector<std::string> out;
    out.reserve(constituents.size());
    for (const matter::Constituent& c : constituents) {
        out.emplace_back(c.symbol());
    }
    return base::join_words(out);
}

Json result_json(const BudgetResult& x) {
    Json steps = Json::array();
    for (std::size_t s = 0; s < blend::kBudgetSteps; ++s) {
        steps.push_back(
            {{"step", name(static_cast<BudgetStep>(s))},
             {"first_order", json_number(x.steps[s].first)},
             {"first_order_standard_error", json_number(x.steps[s].first_standard_error)},
             {"total", json_number(x.steps[s].total)},
             {"total_standard_error", json_number(x.steps[s].total_standard_error)}});
    }
    return {{"mean", json_number(x.mean)},
            {"standard_uncertainty", json_number(x.u)},
            {"low_95", json_number(x.low)},
            {"high_95", json_number(x.high)},
            {"inside", json_number(x.inside)},
            {"inside_standard_error", json_number(x.inside_standard_error)},
            {"steps", steps}};
}

std::string layers_text(const BlendBudgetReport& r) {
    if (r.asked.mixed_before_use) {
        return "";
    }
    if (!r.layers_known) {
        return wrapped("  * ",
                       "No grain sizes are stated: how a container layers is not known, and "
                       "is not reckoned here.");
    }
    const std::string why =
        r.asked.layered ? ""
        : r.layers_usual
            ? ", so that half of the constituents differ by 3.5 % between a third and the blend: "
              "common practice after shipping, not a forecast. Test your own way and give --layered"
            : ": even then half of the constituents differ by less than the 3.5 % that are common "
              "after shipping";
    return wrapped(
        "  * ", fmt::format("A container is taken to have layered by {} % of the bound that blend "
                            "scatter names{}.",
                            percent(r.layered), why));
}

}  // namespace

std::string lot_to_reef_text(const BlendBudgetReport& r) {
    const service::BlendBudgetRequest& a = r.asked;
    std::string out = fmt::format(
        "{}: batch of {}, tested by {}, portions of {} from {}{}{}\n", base::one_line(r.recipe),
        mass_words(a.batch_kg), mass_words(a.sample_kg), mass_words(a.portion_kg),
        mass_words(a.container_kg), a.mixed_before_use ? " tumbled before use" : "",
        r.invented ? "; the recipe is invented" : "");
    out += fmt::format("\nIn the user's water: all constituents inside in {} of 100 portions\n",
                       percent(r.outcome.all_inside_vat));
    out += table_of(r.outcome.vat, r);
    out += fmt::format("\nAs the laboratory finds it at release: all inside in {} of 100 batches\n",
                       percent(r.outcome.all_inside_release));
    out += table_of(r.outcome.release, r);
    if (r.kept) {
        out += "\nThe promise is kept: every constituent inside its band in 95 of 100 portions.\n";
    } else {
        TextTable changes({{{"one after another", ""}, Align::Left},
                           {{"inside, of 100", "least"}, Align::Decimal},
                           {{"", ""}, Align::Left},
                           {{"", "all"}, Align::Decimal}});
        for (const service::BudgetChange& c : r.changes) {
            changes.add({c.what, percent(c.worst_inside, 0), std::string(c.worst.symbol()),
                         percent(c.all_inside, 0)});
        }
        out += "\nThe way to the promise in the user's water, the largest source first\n" +
               changes.text();
        out += r.reached
                   ? "  * With all of these the promise is kept.\n"
                   : wrapped("  * ", fmt::format("With all of these {} will still be outside too "
                                                 "often: {}.",
                                                 symbols(r.still_outside),
                                                 r.stopped ? "more of the kind would help, and was "
                                                             "not tried"
                                                           : "take larger portions, or promise a "
                                                             "wider band for them"));
    }
    out += wrapped("  * ",
                   "From: lots, their assay and impurities; grains, chance in the user's "
                   "portion; layers, where in the container it comes from; sample, chance in "
                   "the test sample; reading, the user's of salinity. The promise is about "
                   "the user's water.");
    out += layers_text(r);
    out += r.changes.empty() ? ""
                             : fmt::format(
                                   "  * Each change is drawn {} times: good to about one in "
                                   "100.\n",
                                   std::min(a.draws, service::kChangeDraws));
    out += bullets(sentences_of(r.notices));
    out += fmt::format("  {} draws, seed {}\n", r.outcome.draws, r.outcome.seed);
    return out;
}

std::string lot_to_reef_json(const BlendBudgetReport& r) {
    const service::BlendBudgetRequest& a = r.asked;
    Json constituents = Json::array(), changes = Json::array();
    for (std::size_t e = 0; e < r.constituents.size(); ++e) {
        constituents.push_back({{"symbol", r.constituents[e].symbol()},
                                {"band", json_number(r.band[e])},
                                {"vat", result_json(r.outcome.vat[e])},
                                {"release", result_json(r.outcome.release[e])}});
    }
    for (const service::BudgetChange& c : r.changes) {
        changes.push_back({{"what", c.what},
                           {"least_inside", json_number(c.worst_inside)},
                           {"least_inside_of", c.worst.symbol()},
                           {"all_inside", json_number(c.all_inside)}});
    }
    Json outside = Json::array();
    for (const matter::Constituent& c : r.still_outside) {
        outside.push_back(c.symbol());
    }
    const Json out = {{"version", 1},
                      {"recipe", r.recipe},
                      {"invented", r.invented},
                      {"batch_kg", a.batch_kg},
                      {"sample_kg", a.sample_kg},
                      {"container_kg", a.container_kg},
                      {"portion_kg", a.portion_kg},
                      {"mixed_before_use", a.mixed_before_use},
                      {"layered", r.layers_known ? json_number(r.layered) : Json(nullptr)},
                      {"reading_standard_uncertainty", a.reading_u},
                      {"premix_standard_deviation", a.premix_u},
                      {"draws", r.outcome.draws},
                      {"seed", r.outcome.seed},
                      {"all_inside_vat", json_number(r.outcome.all_inside_vat)},
                      {"all_inside_release", json_number(r.outcome.all_inside_release)},
                      {"constituents", constituents},
                      {"changes", changes},
                      {"kept", r.kept},
                      {"stopped", r.stopped},
                      {"reached", r.reached},
                      {"still_outside", outside},
                      {"notices", json_coded_notices(r.notices)}};
    return json_text(out);
}

}  // namespace bw::cli
