// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Hot paths of the recipe floor on a made problem of 40 materials and 35 constituents, and on the
// reference programs of test/golden/recipe_lp.json. bench/run runs it beside the reference library
// and writes docs/benchmarks.md.
#include <algorithm>
#include <array>
#include <cstdlib>
#include <fstream>
#include <thread>

#include <benchmark/benchmark.h>
#include <nlohmann/json.hpp>

#include "opt/lp_solver.hpp"
#include "recipe/robustness.hpp"
#include "recipe/solve.hpp"
#include "ref/tables.hpp"
#include "service/solve_recipe.hpp"
#include "service/water_limits.hpp"

namespace {

using namespace bw;
using Json = nlohmann::json;

constexpr std::size_t kMaterials = 40;
/// What the fewest materials that meet the target are, one for each constituent of it.
constexpr auto kFewest =
    std::to_array<std::string_view>({"NaCl", "Na2SO4", "MgCl2.6H2O", "CaCl2.2H2O", "KCl", "NaHCO3",
                                     "H3BO3", "KBr", "SrCl2.6H2O", "NaF"});

/// Materials: every pure salt on file, majors first, then less and less pure grades of them, each
/// with 12 impurities; those of kFewest alone where no more are asked for.
std::vector<recipe::Supply> made_materials(std::size_t count = kMaterials) {
    const auto impurities = std::to_array<std::string_view>(
        {"Na", "K", "Mg", "Ca", "SO4", "Br", "Sr", "Fe", "Cu", "Zn", "Si", "NO3"});
    std::vector<recipe::Supply> out;
    for (int grade = 0; out.size() < count; ++grade) {
        for (const ref::PureSalt& salt : ref::pure_salts()) {
            if (out.size() == count) {
                break;
            }
            if (count == kFewest.size() &&
                std::find(kFewest.begin(), kFewest.end(), salt.formula) == kFewest.end()) {
                continue;
            }
            recipe::Supply s;
            s.material.name =
                std::string(salt.name) + (grade == 0 ? "" : ", grade " + std::to_string(grade + 1));
            s.material.formula = std::string(salt.formula);
            s.material.assay = matter::Assay{matter::Stated::normal(0.992 - 0.005 * grade, 0.003),
                                             "", std::nullopt};
            for (std::size_t i = 0; i < impurities.size(); ++i) {
                const double amount = 1e-6 * static_cast<double>(1 + (i * 7 + out.size() * 3) % 11);
                s.material.impurities.push_back({std::string(impurities[i]),
                                                 matter::Stated::normal(amount, amount / 10), true,
                                                 false});
            }
            s.material.price_per_kg = 0.3 + 0.17 * static_cast<double>(out.size() % 13);
            s.material.currency = "EUR";
            s.make_up = *matter::make_up(s.material);
            out.push_back(std::move(s));
        }
    }
    return recipe::sorted_by_label(std::move(out));
}

/// 35 goals over six priorities: the majors a little raised, everything else at its natural amount,
/// wide for traces.
recipe::Target thirty_five_goals() {
    constexpr std::size_t kGoals = 35;
    recipe::Target t;
    t.name = "benchmark";
    t.salinity = {35.165, 34.9, 35.4, 1, 35.0};
    t.basis = {unit::KgPerM3(1023.34), unit::GramPerKg(35.165)};
    for (std::size_t i = 0; i < matter::constituent_count() && t.constituents.size() < kGoals;
         ++i) {
        const matter::Constituent c(i);
        const auto natural = matter::natural_amount_at_35(c);
        if (c.symbol() == "carbon") {
            continue;
        }
        recipe::ConstituentGoal g;
        g.constituent = c;
        g.priority = 2 + static_cast<int>(t.constituents.size() % 5);
        if (!natural) {  // a limit alone
            constexpr double kHighest = 1e-5;
            g.high = kHighest;
            t.constituents.push_back(g);
            continue;
        }
        const bool trace = natural->trace;
        g.target = natural->mol_per_kg * (c.symbol() == "Ca"           ? 1.05
                                          : c.symbol() == "alkalinity" ? 1.6
                                                                       : 1.0);
        g.low = trace ? 0 : *g.target * 0.95;
        g.high = *g.target * (trace ? 1e5 : 1.05);
        t.constituents.push_back(g);
    }
    return t;
}

/// Argument: materials.
void solve_with_priorities(benchmark::State& state) {
    const auto supplies = made_materials(static_cast<std::size_t>(state.range(0)));
    const auto target = thirty_five_goals();
    for (auto _ : state) {
        const auto found = recipe::solve(target, supplies);
        if (!found || found->verdict != recipe::Verdict::Solved) {
            state.SkipWithError("the benchmark's problem has no recipe");
            break;
        }
        benchmark::DoNotOptimize(found->dose_kg_per_kg.data());
        state.counters["stages"] = static_cast<double>(found->stages.size());
    }
    state.counters["materials"] = static_cast<double>(supplies.size());
    state.counters["goals"] = static_cast<double>(target.constituents.size());
}
BENCHMARK(solve_with_priorities)
    ->Arg(10)
    ->Arg(40)
    ->Arg(100)
    ->Arg(300)
    ->Unit(benchmark::kMillisecond);

/// Documents of the example works: its raised salt with more limits.
service::RecipeRequest example_with(const std::string& limits) {
    const auto text_of = [](const std::string& name) {
        std::ifstream in(std::string(BW_SOURCE_DIR) + "/examples/works/" + name);
        return std::string(std::istreambuf_iterator<char>(in), {});
    };
    std::string target = text_of("raised.toml");
    const auto at = target.find("[limits]");
    target.replace(at, target.find("\n[", at) - at, "[limits]\n" + limits);
    service::RecipeRequest out;
    out.target = io::parse_document(target, "target.toml").value();
    out.materials = {io::parse_document(text_of("materials.toml"), "materials.toml").value()};
    return out;
}

/// The search alone: reading, draws and explanations are not counted.
void within_limits(benchmark::State& state, const std::string& limits) {
    const auto report = service::solve_recipe(example_with(limits));
    recipe::Target target = report->target;
    target.cuts.clear();
    for (auto _ : state) {
        const auto found = service::solve_within_limits(target, report->supplies, {}, false);
        if (!found || found->solution.verdict != recipe::Verdict::Solved) {
            state.SkipWithError("the benchmark's problem has no recipe");
            break;
        }
        benchmark::DoNotOptimize(found->solution.dose_kg_per_kg.data());
        state.counters["rounds"] = found->limits.rounds;
    }
    state.counters["materials"] = static_cast<double>(report->supplies.size());
}
BENCHMARK_CAPTURE(within_limits, omega, "omega_aragonite = 8\n")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(within_limits, chance, "chance_inside = \"92 %\"\n")
    ->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(within_limits, safe_time, "safe_time = \"100 h\"\n")
    ->Unit(benchmark::kMillisecond);

/// 100 000 draws on as many threads as the argument says.
void hundred_thousand_draws(benchmark::State& state) {
    const auto supplies = made_materials();
    const auto target = thirty_five_goals();
    recipe::Solution solution = *recipe::solve(target, supplies);
    // All 40 materials in use, the hardest case: a hair of each that the recipe leaves out.
    for (double& x : solution.dose_kg_per_kg) {
        x = std::max(x, 1e-9);
    }
    const recipe::SpreadModel model(target, supplies, solution);
    const auto threads = static_cast<std::uint64_t>(state.range(0));
    constexpr std::uint64_t kDraws = 100'000;
    const std::uint64_t blocks = (kDraws + recipe::kDrawsPerBlock - 1) / recipe::kDrawsPerBlock;
    for (auto _ : state) {
        std::vector<recipe::SpreadModel::BlockSums> sums(blocks);
        {
            std::vector<std::jthread> workers;
            for (std::uint64_t w = 0; w < threads; ++w) {
                workers.emplace_back([&, w] {
                    for (std::uint64_t b = w; b < blocks; b += threads) {
                        sums[b] = model.draw_block(
                            1, b,
                            std::min(kDraws - b * recipe::kDrawsPerBlock, recipe::kDrawsPerBlock));
                    }
                });
            }
        }
        recipe::Robustness out = model.first_order();
        model.merge(sums, 1, out);
        benchmark::DoNotOptimize(out.all_inside);
    }
}
BENCHMARK(hundred_thousand_draws)->Arg(1)->Arg(2)->Unit(benchmark::kMillisecond)->UseRealTime();

opt::LinearProgram program_of(const Json& p) {
    const auto bound = [](const Json& v, double missing) {
        return v.is_null() ? missing : v.get<double>();
    };
    opt::LinearProgram lp;
    for (std::size_t j = 0; j < p["cost"].size(); ++j) {
        lp.add_column(p["cost"][j], bound(p["column_low"][j], -opt::kInfinity),
                      bound(p["column_high"][j], opt::kInfinity));
    }
    for (std::size_t r = 0; r < p["matrix"].size(); ++r) {
        std::vector<opt::Entry> row;
        for (std::size_t j = 0; j < p["matrix"][r].size(); ++j) {
            row.push_back({static_cast<int>(j), p["matrix"][r][j].get<double>()});
        }
        lp.add_row(row, bound(p["row_low"][r], -opt::kInfinity),
                   bound(p["row_high"][r], opt::kInfinity));
    }
    return lp;
}

/// All programs of the golden file, built and solved from nothing, as the reference does.
void reference_programs(benchmark::State& state) {
    std::ifstream in(std::string(BW_SOURCE_DIR) + "/test/golden/recipe_lp.json");
    const Json golden = Json::parse(in);
    std::vector<opt::LinearProgram> programs;
    for (const Json& p : golden["problems"]) {
        programs.push_back(program_of(p));
    }
    for (auto _ : state) {
        for (const opt::LinearProgram& lp : programs) {
            benchmark::DoNotOptimize(opt::solve_lp(lp).objective);
        }
    }
    state.counters["programs"] = static_cast<double>(programs.size());
}
BENCHMARK(reference_programs)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
