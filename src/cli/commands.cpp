// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/commands.hpp"

#include <algorithm>
#include <optional>

#include <fmt/format.h>

#include "base/text.hpp"
#include "cli/answer.hpp"
#include "cli/blend_command.hpp"
#include "cli/blend_mixing_command.hpp"
#include "cli/blend_scatter_command.hpp"
#include "cli/books_options.hpp"
#include "cli/calibration_fluid_command.hpp"
#include "cli/laboratory_commands.hpp"
#include "cli/manual_command.hpp"
#include "cli/path_command.hpp"
#include "cli/path_compare_command.hpp"
#include "cli/reading_command.hpp"
#include "cli/recipe_command.hpp"
#include "cli/recipe_output.hpp"
#include "cli/recipe_sweep_command.hpp"
#include "cli/recipe_trade_command.hpp"
#include "cli/results_command.hpp"
#include "cli/serve_command.hpp"
#include "cli/vat_command.hpp"
#include "cli/water_command.hpp"
#include "ref/tables.hpp"

namespace bw::cli {
namespace {

constexpr int kDone = 0;
constexpr int kWrongUse = 2;

/// A seed is a whole number that fits 63 bits.
std::string whole(const std::string& text) {
    constexpr std::size_t kMostDigits = 18;
    const bool digits = !text.empty() && text.size() <= kMostDigits &&
                        std::all_of(text.begin(), text.end(), base::is_digit);
    return digits ? "" : base::quoted(text) + " is not a whole number from 0 to 999999999999999999";
}

/// The first word that is not a command, among those that should be one.
std::string unknown_word(Command app, const std::vector<std::string>& arguments) {
    Command at = app;
    std::string before;
    for (const std::string& word : arguments) {
        const std::vector<Command> known = at.subcommands();
        if (known.empty() || word.starts_with("-")) {
            return {};
        }
        const auto next =
            std::find_if(known.begin(), known.end(), [&](Command c) { return c.name() == word; });
        if (next == known.end()) {
            std::vector<std::string> names;
            names.reserve(known.size());
            for (const Command c : known) {
                names.push_back(c.name());
            }
            return fmt::format("{} is not a command{}: known are {}", base::quoted(word),
                               before.empty() ? "" : " of " + before, base::join_words(names));
        }
        before = word;
        at = *next;
    }
    return {};
}

Command add_recipe_solve(Command recipe, RecipeSolveArguments& a) {
    const Command solve = recipe.add_subcommand(
        "solve", "From a target water and materials to a recipe, or adjust it for lots");
    solve
        .add_option("TARGET", a.target,
                    "File of kind \"target\": the water that the salt must make")
        .check(named)
        .required();
    solve.add_option("--materials", a.materials, "Files of kind \"materials\": what may be bought")
        .check(named)
        .required();
    solve
        .add_option("--lots", a.lots,
                    "File of kind \"lots\": weigh these instead of catalogue values")
        .check(named);
    solve.add_option("--choose", a.choose, "MATERIAL=LOT: weigh this lot of a material");
    solve.add_flag("--split-lots", a.split_lots,
                   "Let several accepted lots of one material be weighed");
    solve
        .add_option("--standing", a.standing,
                    "File of kind \"recipe\" that is to be changed as little as may be")
        .check(named);
    solve.add_option("--out", a.out, "Write the recipe as TOML").check(named);
    solve.add_option("--csv", a.csv, "Write the parts as comma-separated text").check(named);
    solve.add_option("--xlsx", a.xlsx, "Write recipe, water, ceilings and sources as a workbook")
        .check(named);
    constexpr std::uint64_t kMostDraws = 10'000'000;
    solve.add_option("--draws", a.draws, "Draws of the lots' uncertainty")
        .check_range(std::uint64_t{100}, kMostDraws)
        .capture_default_str();
    solve.add_option("--seed", a.seed, "Seed of the draws").check(whole).capture_default_str();
    solve.add_flag(
        "--free-shares", a.free_shares,
        "Leave packages, weighing steps, smallest doses and the number of materials aside: "
        "sooner answered, and not to be weighed");
    solve.add_flag("--brief", a.brief, "Recipe, water and cautions only");
    add_output_flags(solve, a.json, a.quiet, true);
    solve.footer(
        "Example:\n  brinewright recipe solve examples/works/raised.toml --materials "
        "examples/works/materials.toml --out raised-recipe.toml\n\n"
        "Exit codes: 0 solved; 1 no recipe exists (the reasons are printed); 2 bad input; 3 a file "
        "could not be written; 4 refused.");
    return solve;
}

Command add_recipe_compare(Command recipe, RecipeCompareArguments& a) {
    const Command compare =
        recipe.add_subcommand("compare", "Two recipes side by side, largest change first");
    compare.add_option("A", a.first, "File of kind \"recipe\"").check(named).required();
    compare.add_option("B", a.second, "File of kind \"recipe\"").check(named).required();
    add_output_flags(compare, a.json, a.quiet, true);
    compare.footer("Example:\n  brinewright recipe compare standing.toml adjusted.toml");
    return compare;
}

/// A noun: its verbs are commands, its help leads on.
Command add_noun(Command app, const std::string& name, const std::string& what,
                 const std::string& example) {
    const Command noun = app.add_subcommand(name, what);
    noun.require_subcommand();
    noun.footer("Example:\n  brinewright " + example);
    return noun;
}

/// Readings, vats and fluids.
class InstrumentCommands {
public:
    explicit InstrumentCommands(Command app) {
        const Command reading = add_noun(app, "reading", "Instrument readings: convert",
                                         "reading convert --salinity 35 --at \"25 degC\"");
        convert_ = add_reading_convert(reading, convert_arguments_);
        const Command vat = add_noun(app, "vat", "Vats: plan, correct, mix",
                                     "vat plan --salinity 35 --volume \"1000 L\"");
        plan_ = add_vat_plan(vat, plan_arguments_);
        correct_ = add_vat_correct(vat, correct_arguments_);
        mix_ = add_vat_mix(vat, mix_arguments_);
        const Command fluid =
            add_noun(app, "calibration-fluid", "Fluids that set instruments: plan",
                     "calibration-fluid plan conductivity --salinity 35");
        fluid_ = add_calibration_fluid_plan(fluid, fluid_arguments_);
    }
    /// The exit code, or nothing when another command was called.
    [[nodiscard]] std::optional<int> carry_out(const Streams& streams) const {
        return convert_.parsed()   ? std::optional(reading_convert(convert_arguments_, streams))
               : plan_.parsed()    ? std::optional(vat_plan(plan_arguments_, streams))
               : correct_.parsed() ? std::optional(vat_correct(correct_arguments_, streams))
               : mix_.parsed()     ? std::optional(vat_mix(mix_arguments_, streams))
               : fluid_.parsed() ? std::optional(calibration_fluid_plan(fluid_arguments_, streams))
                                 : std::nullopt;
    }

private:
    ReadingConvertArguments convert_arguments_;
    VatPlanArguments plan_arguments_;
    VatCorrectArguments correct_arguments_;
    VatMixArguments mix_arguments_;
    CalibrationFluidArguments fluid_arguments_;
    Command convert_, plan_, correct_, mix_, fluid_;
};

Command add_water_show(Command water, WaterShowArguments& a) {
    const Command show = water.add_subcommand("show", "Everything the model tells of one water");
    show.add_option("WATER", a.water,
                    "File of kind \"water\"; or of kind \"recipe\", with --materials")
        .check(named)
        .required();
    show.add_option("--materials", a.materials, "Files of kind \"materials\" behind a recipe")
        .check(named);
    show.add_option("--temperature", a.temperature,
                    "Show it at this temperature, \"20 degC\", instead of the file's")
        .check(named);
    show.add_option("--csv", a.csv, "Write all numbers as comma-separated text").check(named);
    add_output_flags(show, a.json, a.quiet, true);
    show.footer(
        "Example:\n  brinewright water show examples/works/seawater.toml\n\n"
        "Exit codes: 0 done; 2 bad input; 3 a file could not be written.");
    return show;
}

Command add_water_compare(Command water, WaterCompareArguments& a) {
    const Command compare = water.add_subcommand("compare", "Two waters side by side");
    compare.add_option("A", a.first, "File of kind \"water\" or \"recipe\"")
        .check(named)
        .required();
    compare.add_option("B", a.second, "File of kind \"water\" or \"recipe\"")
        .check(named)
        .required();
    compare.add_option("--materials", a.materials, "Files of kind \"materials\" behind the recipes")
        .check(named);
    compare
        .add_option("--temperature", a.temperature,
                    "Compare them at this temperature, \"20 degC\", instead of the files'")
        .check(named);
    add_output_flags(compare, a.json, a.quiet, true);
    compare.footer(
        "Example:\n  brinewright water compare examples/works/seawater.toml "
        "examples/works/raised_water.toml");
    return compare;
}

}  // namespace

int run(const std::vector<std::string>& arguments, const Streams& streams, const Faces& faces) {
    CommandLine line("Brinewright: from target water to released batch of synthetic sea salt",
                     "brinewright",
                     fmt::format("brinewright {}, data {}", kProgramVersion, ref::data_digest()));
    const Command app = line.root();
    app.require_subcommand();
    const std::string example =
        "recipe solve examples/works/natural.toml --materials examples/works/materials.toml";
    const Command recipe =
        add_noun(app, "recipe", "Recipes: solve, compare, sweep, trade", example);
    RecipeSolveArguments solve_arguments;
    RecipeCompareArguments compare_arguments;
    const Command solve = add_recipe_solve(recipe, solve_arguments);
    const Command compare = add_recipe_compare(recipe, compare_arguments);
    RecipeTradeArguments trade_arguments;
    const Command trade = add_recipe_trade(recipe, trade_arguments);
    RecipeSweepArguments sweep_arguments;
    const Command sweep = add_recipe_sweep(recipe, sweep_arguments);
    const InstrumentCommands instruments(app);
    const Command water =
        add_noun(app, "water", "Waters: show, compare", "water show examples/works/seawater.toml");
    WaterShowArguments show_water_arguments;
    WaterCompareArguments compare_water_arguments;
    const Command show_water = add_water_show(water, show_water_arguments);
    const Command compare_water = add_water_compare(water, compare_water_arguments);
    const Command blend =
        add_noun(app, "blend", "Dry blends: dry, mixing, scatter, budget",
                 "blend dry recipe.toml --materials examples/works/materials.toml");
    BlendDryArguments dry_arguments;
    const Command dry = add_blend_dry(blend, dry_arguments);
    BlendMixingArguments mixing_arguments;
    const Command mixing = add_blend_mixing(blend, mixing_arguments);
    BlendScatterArguments scatter_arguments;
    const Command scatter = add_blend_scatter(blend, scatter_arguments);
    BlendBudgetArguments budget_arguments;
    const Command budget = add_blend_budget(blend, budget_arguments);
    const Command path = add_noun(app, "path", "Dissolution paths: run, compare",
                                  "path run recipe.toml --materials examples/works/materials.toml");
    PathRunArguments path_run_arguments;
    const Command run_path = add_path_run(path, path_run_arguments);
    PathCompareArguments path_compare_arguments;
    const Command compare_paths = add_path_compare(path, path_compare_arguments);
    BookCommands books;
    add_store_commands(app, books);
    add_shelf_commands(app, books);
    add_supplier_commands(app, books);
    add_recipe_version_commands(app, books);
    add_batch_commands(app, books);
    add_batch_run_commands(app, books);
    add_method_commands(app, books);
    add_release_commands(app, books);
    add_certificate_commands(app, books);
    add_mixing_sheet_command(app, books);
    add_evidence_commands(app, books);
    add_trail_commands(app, books);
    add_serve_command(app, books, faces);
    const ResultsCommands results(
        add_noun(app, "results", "Laboratory results: preview, map, import, enter, check, count",
                 "results preview examples/laboratory/icp_wide.csv --map "
                 "examples/laboratory/icp_map.toml"));
    add_results_commands(app, books);
    const LaboratoryCommands laboratory(app);
    ManualArguments manual_arguments;
    const Command manual_page = add_manual(app, manual_arguments);
    app.footer("Example:\n  brinewright " + example);
    const auto complain = [&](const std::string& what) {
        std::fputs(("brinewright: " + base::one_line(what) + " (see --help)\n").c_str(),
                   streams.err);
    };
    if (const std::string wrong = unknown_word(app, arguments); !wrong.empty()) {
        complain(wrong);
        return kWrongUse;
    }
    const CommandLine::Reading reading = line.read(arguments);
    if (reading.wrong) {
        complain(reading.text);
        return kWrongUse;
    }
    if (!reading.text.empty()) {
        std::fputs(reading.text.c_str(), streams.out);
        return kDone;
    }
    if (manual_page.parsed()) {
        return manual(app, manual_arguments, streams);
    }
    if (solve.parsed()) {
        return recipe_solve(solve_arguments, streams);
    }
    if (compare.parsed()) {
        return recipe_compare(compare_arguments, streams);
    }
    if (trade.parsed()) {
        return recipe_trade(trade_arguments, streams);
    }
    if (sweep.parsed()) {
        return recipe_sweep(sweep_arguments, streams);
    }
    if (show_water.parsed()) {
        return water_show(show_water_arguments, streams);
    }
    if (compare_water.parsed()) {
        return water_compare(compare_water_arguments, streams);
    }
    if (dry.parsed()) {
        return blend_dry(dry_arguments, streams);
    }
    if (mixing.parsed()) {
        return blend_mixing(mixing_arguments, streams);
    }
    if (scatter.parsed()) {
        return blend_scatter(scatter_arguments, streams);
    }
    if (budget.parsed()) {
        return blend_budget(budget_arguments, streams);
    }
    if (run_path.parsed()) {
        return path_run(path_run_arguments, streams);
    }
    if (compare_paths.parsed()) {
        return path_compare(path_compare_arguments, streams);
    }
    for (const std::string& word : arguments) {
        if (books.asked() && base::first_invalid_utf8(word)) {
            complain(base::quoted(word) + " is not UTF-8 text");
            return kWrongUse;
        }
    }
    if (const auto code = books.carry_out(streams); code) {
        return *code;
    }
    if (const auto code = results.carry_out(streams)) {
        return *code;
    }
    if (const auto code = laboratory.carry_out(streams)) {
        return *code;
    }
    return instruments.carry_out(streams).value_or(kWrongUse);
}

}  // namespace bw::cli
