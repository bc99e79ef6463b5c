// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// method budget: what a method's uncertainty is made of.
#include <cmath>
#include <memory>

#include <fmt/format.h>

#include "assay/simulated_budget.hpp"
#include "base/decimal.hpp"
#include "cli/answer.hpp"
#include "cli/books_options.hpp"
#include "cli/json_values.inl"
#include "cli/table.hpp"
#include "io/budget_file.hpp"
#include "unit/factors.hpp"

namespace bw::cli {
namespace {

constexpr int kDigits = 6;
constexpr int kFew = 3;

struct BudgetArguments {
    std::string file;
    std::uint64_t seed = 1;
    bool json = false, quiet = false;
};

struct Answer {
    io::BudgetFile file;
    assay::Budget budget;
    assay::SimulatedBudget drawn;
    assay::BudgetValidation validation;
};

Result<Answer> answer_of(const BudgetArguments& a) {
    Answer out;
    BW_TRY(document, io::read_document(a.file));
    BW_TRY(file, io::read_budget(document));
    const auto in_file = [&](Problem problem) {
        problem.place.file = a.file;
        return tl::make_unexpected(std::move(problem));
    };
    auto budget = assay::propagate(file.model, file.inputs, file.correlations, file.coverage);
    if (!budget) {
        return in_file(std::move(budget).error());
    }
    assay::SimulationOptions options;
    options.seed = a.seed;
    options.adaptive = true;
    options.fineness = 0.2;  // [jcgm-101] 8.2; the fifth is from memory
    options.trials = 5'000'000;
    options.coverage = file.coverage;
    auto drawn = assay::simulate(file.model, file.inputs, file.correlations, options);
    if (!drawn) {
        return in_file(std::move(drawn).error());
    }
    out.validation = assay::validate(*budget, *drawn);
    out.budget = std::move(*budget);
    out.drawn = *drawn;
    out.file = std::move(file);
    return out;
}

std::string with_unit(const std::string& text, const std::string& unit) {
    return unit.empty() ? text : text + " " + unit;
}

std::string inputs_table(const Answer& a) {
    TextTable table({{{"input"}},
                     {{"value"}, Align::Right},
                     {{"u"}, Align::Right},
                     {{"unit"}},
                     {{"freedom"}, Align::Right},
                     {{"share of", "variance %"}, Align::Decimal}});
    for (const assay::Contribution& c : a.budget.contributions) {
        const assay::BudgetInput& input = a.file.inputs[c.input];
        table.add({input.name, base::format_short(input.value, kDigits + 2),
                   base::format_significant(input.u, kFew), a.file.units[c.input],
                   std::isfinite(input.freedom) ? base::format_short(input.freedom, kFew) : "",
                   base::format_places(c.share * unit::kPercent, 1)});
    }
    return table.text();
}

std::string text_of(const Answer& a) {
    const assay::Budget& b = a.budget;
    std::string out = fmt::format("{}{}\n  {}\n\n", a.file.name,
                                  a.file.invented ? " (invented)" : "", a.file.formula);
    out += "  " + with_unit(base::format_with_uncertainty(b.value, b.u).text(), a.file.unit) +
           ", standard uncertainty";
    if (b.value != 0) {
        out += fmt::format(" {} % of it",
                           base::format_significant(b.u / std::abs(b.value) * unit::kPercent, 2));
    }
    out += fmt::format(
        "\n  expanded: {} for {} %, k = {}{}\n\n",
        with_unit(base::format_significant(b.expanded, 2), a.file.unit),
        base::format_short(b.coverage * unit::kPercent, kFew),
        base::format_significant(b.factor, kFew),
        std::isfinite(b.freedom)
            ? fmt::format(" ({} degrees of freedom)", base::format_places(std::floor(b.freedom), 0))
            : "");
    out += inputs_table(a) + "\n";
    if (!a.drawn.settled) {
        return out + dashes(std::vector<std::string>{fmt::format(
                         "{} drawn values do not settle: the model bends or breaks where the "
                         "inputs may lie. Nothing confirms the figures above.",
                         a.drawn.trials)});
    }
    out += fmt::format(
        "  by {} drawn values: {}, {} % lie in {} to {}\n", a.drawn.trials,
        with_unit(base::format_with_uncertainty(a.drawn.mean, a.drawn.u).text(), a.file.unit),
        base::format_short(b.coverage * unit::kPercent, kFew),
        base::format_significant(a.drawn.symmetric.low, kDigits),
        base::format_significant(a.drawn.symmetric.high, kDigits));
    std::vector<std::string> notes;
    notes.emplace_back(a.validation.valid
                           ? "The derivatives do as well as the drawn values."
                           : "The derivatives do not do as well as the drawn values: take those.");
    if (b.freedom_doubtful) {
        notes.emplace_back(
            "Inputs of few readings are correlated: the degrees of freedom are "
            "doubtful.");
    }
    return out + dashes(notes);
}

Json json_of(const Answer& a) {
    Json contributions = Json::array();
    for (const assay::Contribution& c : a.budget.contributions) {
        const assay::BudgetInput& input = a.file.inputs[c.input];
        contributions.push_back({{"input", input.name},
                                 {"value", input.value},
                                 {"u", input.u},
                                 {"unit", a.file.units[c.input]},
                                 {"freedom", json_number(input.freedom)},
                                 {"sensitivity", c.sensitivity},
                                 {"share", c.share}});
    }
    Json out = {{"version", 1},
                {"name", a.file.name},
                {"invented", a.file.invented},
                {"model", a.file.formula},
                {"unit", a.file.unit},
                {"value", a.budget.value},
                {"standard_uncertainty", a.budget.u},
                {"degrees_of_freedom", json_number(a.budget.freedom)},
                {"coverage", a.budget.coverage},
                {"coverage_factor", a.budget.factor},
                {"expanded_uncertainty", a.budget.expanded},
                {"freedom_doubtful", a.budget.freedom_doubtful},
                {"contributions", contributions}};
    const auto settled = [&](double x) { return a.drawn.settled ? Json(x) : Json(nullptr); };
    out["drawn"] = {
        {"trials", a.drawn.trials},
        {"settled", a.drawn.settled},
        {"mean", settled(a.drawn.mean)},
        {"standard_uncertainty", settled(a.drawn.u)},
        {"low", settled(a.drawn.symmetric.low)},
        {"high", settled(a.drawn.symmetric.high)},
        {"shortest_low", settled(a.drawn.shortest.low)},
        {"shortest_high", settled(a.drawn.shortest.high)},
        {"derivatives_do_as_well", a.drawn.settled ? Json(a.validation.valid) : Json(nullptr)}};
    return out;
}

}  // namespace

void add_method_budget(Command noun, BookCommands& commands) {
    auto a = std::make_shared<BudgetArguments>();
    const Command budget = add_command(
        noun, "budget", "Uncertainty of a result by its model and what is known of its inputs",
        "method budget examples/laboratory/calcium_budget.toml");
    budget.add_option("FILE", a->file, "File of kind \"budget\"").required().check(named);
    budget.add_option("--seed", a->seed, "Of the drawn values").capture_default_str();
    add_output_flags(budget, a->json, a->quiet);
    commands.add(budget, [a](const Streams& streams) -> Result<int> {
        BW_TRY(answer, answer_of(*a));
        if (a->json) {
            put(json_text(json_of(answer)), streams);
        } else if (!a->quiet) {
            put(text_of(answer), streams);
        }
        return 0;
    });
}

}  // namespace bw::cli
