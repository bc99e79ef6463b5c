// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/batch_output.hpp"

#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "cli/books_options.hpp"
#include "cli/goal_rows.hpp"
#include "service/batch_run.hpp"
#include "service/departures.hpp"
#include "service/papers.hpp"
#include "service/weighed_water.hpp"
#include "unit/factors.hpp"
#include "works/sample.hpp"

namespace bw::cli {
namespace {

constexpr int kDigits = 7;
constexpr int kShortDigits = 4;

std::string number(double value) { return base::format_short(value, kDigits); }

/// What is shown of one batch.
struct ShownBatch {
    works::Batch batch;
    std::vector<works::Weighing> weighings;
    std::vector<works::Departure> departures;
    std::vector<std::vector<std::string>> remarks;  ///< on each of the departures
    std::vector<works::MassForm> forms;             ///< of the additions
    works::MakingNext next;
    std::vector<service::GoalRow> goals;   ///< its water against the target of its recipe version
    std::string masses;                    ///< which ones the water is of
    std::string recipe_note;               ///< of a retired version
    std::vector<std::string> corrections;  ///< of weighings
};

Result<ShownBatch> shown_batch(const store::Books& books, const std::string& id) {
    ShownBatch out;
    BW_TRY(batch, service::kept<works::Batch>(books, id));
    BW_TRY(weighings, service::weighings_of(books, id));
    BW_TRY(departures, service::departures_of(books, id));
    BW_TRY(corrections, service::corrections_of(books, weighings));
    out.corrections = std::move(corrections);
    BW_TRY(forms, service::mass_forms_of(books, batch.is));
    BW_TRY(version, service::kept<works::RecipeVersion>(books, batch.is.recipe));
    service::WeighedWater water = service::water_as_weighed(batch.is, weighings);
    BW_TRY(goals, service::water_against_target(version.is, water.water));
    BW_TRY(note, service::retired_words(books, version.is));
    for (const works::Departure& d : departures) {
        BW_TRY(remarks, service::remarks_on(books, d, weighings));
        out.remarks.push_back(std::move(remarks));
    }
    out.goals = std::move(goals);
    out.masses = std::move(water.masses);
    out.recipe_note = std::move(note);
    out.next = works::next_of(batch.is, weighings, departures);
    out.batch = std::move(batch.is);
    out.weighings = std::move(weighings);
    out.departures = std::move(departures);
    out.forms = std::move(forms);
    return out;
}

std::string additions_text(const ShownBatch& of) {
    TextTable table({{{"step"}, Align::Right},
                     {{"material"}},
                     {{"lot"}},
                     {{"target"}, Align::Decimal},
                     {{"either way"}, Align::Decimal},
                     {{"unit"}},
                     {{"scale"}},
                     {{"into"}},
                     {{"weighed"}, Align::Decimal},
                     {{""}}});
    for (std::size_t i = 0; i < of.forms.size(); ++i) {
        const works::Addition& a = of.batch.additions[i];
        const works::MassForm& form = of.forms[i];
        const works::AdditionState state = works::state_of(a, of.weighings);
        table.add({std::to_string(a.step), a.material, a.lot, works::digits(a.target_kg, form),
                   works::digits(a.tolerance_kg, form), form.unit, a.scale, a.into,
                   state.parts > 0 ? works::digits(state.weighed_kg, form) : "",
                   state.parts > 0 ? std::string(works::name(state.verdict)) : ""});
    }
    return table.text();
}

/// "steps 3 and 5".
std::string steps_words(const std::vector<std::int64_t>& steps) {
    std::vector<std::string> words;
    words.reserve(steps.size());
    for (const std::int64_t step : steps) {
        words.push_back(std::to_string(step));
    }
    return (steps.size() == 1 ? "step " : "steps ") + base::join_words(words);
}

/// What comes next while the batch is made.
std::string next_text(const ShownBatch& of) {
    std::string over =
        of.next.over_steps.empty()
            ? ""
            : fmt::format(
                  "  A departure is missing: more went in at {} than the tolerance allows. "
                  "Raise it before the batch is said to be blended.\n",
                  steps_words(of.next.over_steps));
    switch (of.next.act) {
        case works::MakingAct::Weigh:
            return fmt::format("  next: weigh {}\n{}", steps_words(of.next.short_steps), over);
        case works::MakingAct::RaiseDeparture:
            return fmt::format("  next: raise a departure about {}\n{}",
                               steps_words(of.next.over_steps), over);
        case works::MakingAct::Blend:
            return "  next: blend, then `batch blend`\n";
        case works::MakingAct::Approve:
        case works::MakingAct::Made:
            break;
    }
    return over;
}

std::string changes_text(const works::Batch& batch) {
    if (batch.changes.empty()) {
        return "  The shares are the recipe's own.\n";
    }
    TextTable table({{{"changed for the lots"}},
                     {{"recipe", "%"}, Align::Decimal},
                     {{"batch", "%"}, Align::Decimal},
                     {{"change", "%"}, Align::Decimal},
                     {{"why"}}});
    for (const works::ShareChange& c : batch.changes) {
        table.add(
            {c.material, base::format_short(c.recipe_share * unit::kPercent, kDigits),
             base::format_short(c.batch_share * unit::kPercent, kDigits),
             c.recipe_share > 0
                 ? base::format_places((c.batch_share / c.recipe_share - 1) * unit::kPercent, 2)
                 : "new",
             c.why.value_or("")});
    }
    return table.text();
}

std::string text_of(const ShownBatch& of, const std::string& mark) {
    const works::Batch& batch = of.batch;
    std::string out = fmt::format(
        "Batch {} of {}, {} kg: {}{}\n  by recipe {}, planned by {} at {}\n{}\n", batch.number,
        batch.product, number(batch.size_kg), works::name(batch.state),
        batch.invented ? " (invented)" : "", batch.recipe, batch.planned_by, batch.planned_at,
        of.recipe_note.empty() ? "" : fmt::format("  {}\n", of.recipe_note));
    out += additions_text(of);
    constexpr int kTotalDigits = 4;
    const auto say = [&](const char* name, const char* into, const char* when,
                         const std::vector<works::PremixStage>& stages) {
        if (!stages.empty()) {
            out += fmt::format(
                "\n  {}: mix the steps \"{}\" first; then add the carrier, {}, in {} stages, "
                "mixing well\n  between them, up to about {} kg.{}\n",
                name, into, batch.premix_carrier, stages.size(),
                base::format_significant(stages.back().total_kg, kTotalDigits), when);
        }
    };
    say("Premix", works::kPremix, "", batch.premix);
    say("Late premix", works::kLatePremix,
        " It stays apart from the carbonates until it goes in, after\n  the dry salts.",
        batch.late_premix);
    out += "\n" + changes_text(batch);
    if (batch.adjustment_approved) {
        out += fmt::format("  change approved by {} ({}) at {}\n", batch.adjustment_approved->name,
                           batch.adjustment_approved->duty, batch.adjustment_approved->at);
    } else if (!batch.changes.empty()) {
        out += fmt::format(
            "  The change is not approved yet: nothing is weighed before. To sign exactly this: "
            "--shown {}\n",
            mark.substr(0, service::kShortMark));
    }
    out += fmt::format("  {} g of blend per kg of purified water\n",
                       base::format_short(batch.blend_g_per_kg_purified_water, kDigits));
    out += "\n" + goals_text(of.goals) + "  of " + of.masses + "\n\n";
    out += next_text(of);
    if (batch.yield) {
        const double in_kg = works::weighed_in_kg(of.weighings);
        const double out_kg = works::came_out_kg(*batch.yield);
        out += fmt::format(
            "  yield: {} kg in, {} kg packed in {} packs, {} kg sampled, {} kg "
            "swept; {} kg not explained ({} %)\n",
            number(in_kg), number(batch.yield->packed_kg), batch.yield->packs,
            number(batch.yield->sampled_kg), number(batch.yield->swept_kg),
            base::format_short(in_kg - out_kg, kShortDigits),
            base::format_places((in_kg - out_kg) / in_kg * unit::kPercent, 2));
    }
    for (std::size_t i = 0; i < of.departures.size(); ++i) {
        const works::Departure& d = of.departures[i];
        out +=
            wrapped("  departure ", fmt::format("{}{} ({}): {}{}", d.number, works::about_words(d),
                                                works::name(d.state), d.what,
                                                d.answer.empty() ? "" : ". Answer: " + d.answer));
        out += dashes(of.remarks[i]);
    }
    return out + dashes(of.corrections) + dashes(batch.notices);
}

}  // namespace

Result<std::string> batch_text(const store::Books& books, const std::string& id) {
    BW_TRY(of, shown_batch(books, id));
    BW_TRY(mark, service::content_mark(books, service::kKind<works::Batch>, id));
    return text_of(of, mark);
}

Result<Json> batch_json(const store::Books& books, const std::string& id) {
    BW_TRY(of, shown_batch(books, id));
    Json batch = json_of_text(service::record_text(of.batch));
    for (std::size_t i = 0; i < of.forms.size(); ++i) {
        const works::MassForm& form = of.forms[i];
        const works::Addition& a = of.batch.additions[i];
        Json& line = batch["additions"][i];
        line["unit"] = form.unit;
        line["places"] = form.places;
        line["target"] = works::digits(a.target_kg, form);
        line["tolerance"] = works::digits(a.tolerance_kg, form);
        BW_TRY(scale, service::kept<works::Scale>(books, a.scale));
        line["parts"] = works::parts_of(a.target_kg, scale.is);
        line["scale_step"] = works::digits(scale.is.step_kg, form);
    }
    Json rows = Json::array();
    for (const works::Weighing& w : of.weighings) {
        rows.push_back(json_of_text(service::record_text(w)));
    }
    Json told = Json::array();
    for (std::size_t i = 0; i < of.departures.size(); ++i) {
        Json departure = json_of_text(service::record_text(of.departures[i]));
        departure["remarks"] = of.remarks[i];
        told.push_back(std::move(departure));
    }
    const works::SamplingPlan plan = works::plan_for(of.batch.blend_g_per_kg_purified_water);
    return Json{{"version", 1},
                {"batch", batch},
                {"sampling_plan",
                 {{"increments", plan.increments},
                  {"increment_g", plan.increment_g},
                  {"where", plan.where}}},
                {"next",
                 {{"act", works::name(of.next.act)},
                  {"short_steps", of.next.short_steps},
                  {"over_steps", of.next.over_steps}}},
                {"water_against_target", goals_json(of.goals)},
                {"water_masses", of.masses},
                {"recipe_note", of.recipe_note},
                {"weighings", rows},
                {"corrections", of.corrections},
                {"departures", told}};
}

}  // namespace bw::cli
