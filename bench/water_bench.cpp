// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Hot paths of the equilibrium of waters: the states of test/golden/ion_interaction.json (seawater
// to ten times seawater, 10 to 35 degC), as bench/reference_water.py measures them. Rates are per
// state.
#include <atomic>
#include <cstdlib>
#include <fstream>
#include <map>
#include <numeric>
#include <vector>

#include <benchmark/benchmark.h>
#include <malloc.h>
#include <nlohmann/json.hpp>

#include "brine/derivatives.hpp"
#include "brine/reference_totals.hpp"
#include "brine/saturation.hpp"
#include "brine/solid_equilibrium.hpp"
#include "heap_count.hpp"
#include "service/water_batch.hpp"

namespace {

using namespace bw;
using namespace bw::brine;
using Json = nlohmann::json;

constexpr double kZeroCelsius = 273.15;

struct State {
    const EquilibriumModel<double>* model;
    PerTotal<double> molal;
    Closing<double> closing;
};

const std::vector<State>& states() {
    static std::map<double, EquilibriumModel<double>> models;
    static const std::vector<State> kStates = [] {
        const std::map<std::string, Total> totals{
            {"Na", Total::Na}, {"K", Total::K},     {"Sr", Total::Sr},
            {"Br", Total::Br}, {"SO4", Total::SO4}, {"B", Total::B},
            {"Ca", Total::Ca}, {"Mg", Total::Mg},   {"Cl", Total::Cl}};
        std::ifstream in(std::string(BW_SOURCE_DIR) + "/test/golden/ion_interaction.json");
        const Json golden = Json::parse(in);
        std::vector<State> out;
        for (const Json& point : golden["brine"]) {
            const double celsius = point["celsius"];
            if (!models.contains(celsius)) {
                models.emplace(celsius, prepare_model(celsius + kZeroCelsius));
            }
            State s{&models.at(celsius), {}, {}};
            for (const auto& [name, total] : totals) {
                s.molal.at(index(total)) = point["total"][name];
            }
            s.closing = {{Closure::Alkalinity, Closure::Carbon},
                         {point["total"]["alkalinity"], point["total"]["carbon"]}};
            out.push_back(s);
        }
        return out;
    }();
    return kStates;
}

Speciation<double> solve(const State& s, Route route, const Speciation<double>* start = nullptr) {
    const auto found =
        speciate(*s.model, conditions(*s.model, s.molal, 0.0, route), s.closing, start);
    if (!found) {
        std::abort();
    }
    return *found;
}

void per_state(benchmark::State& state) {
    state.SetItemsProcessed(static_cast<int64_t>(state.iterations()) *
                            static_cast<int64_t>(states().size()));
    state.counters["states"] = static_cast<double>(states().size());
}

/// Conditions, equilibrium from nothing and all saturation indices.
void equilibria(benchmark::State& state, Route route) {
    std::vector<double> omega;
    int rounds = 0;
    for (auto _ : state) {
        rounds = 0;
        for (const State& s : states()) {
            const auto found = solve(s, route);
            rounds += found.iterations;
            ln_saturation(*s.model, found, omega);
            benchmark::DoNotOptimize(omega.data());
        }
    }
    per_state(state);
    state.counters["rounds"] = static_cast<double>(rounds) / static_cast<double>(states().size());
}
BENCHMARK_CAPTURE(equilibria, joined, Route::Joined)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(equilibria, brine_set, Route::BrineSet)->Unit(benchmark::kMillisecond);

/// Each total a thousandth more, from the state before.
void equilibria_warm(benchmark::State& state) {
    std::vector<Speciation<double>> before;
    std::vector<State> moved = states();
    for (State& s : moved) {
        before.push_back(solve(s, Route::Joined));
        for (double& amount : s.molal) {
            amount *= 1.001;
        }
    }
    std::vector<double> omega;
    for (auto _ : state) {
        for (std::size_t k = 0; k < moved.size(); ++k) {
            const auto found = solve(moved[k], Route::Joined, &before[k]);
            ln_saturation(*moved[k].model, found, omega);
            benchmark::DoNotOptimize(omega.data());
        }
    }
    per_state(state);
}
BENCHMARK(equilibria_warm)->Unit(benchmark::kMillisecond);

/// Derivatives of a solved state by all totals and both closing values, saturation included.
void derivative_sets(benchmark::State& state) {
    constexpr int kInputs = static_cast<int>(kTotals) + 2;
    using Inputs = num::Dual<kInputs>;
    std::vector<Speciation<double>> solved;
    for (const State& s : states()) {
        solved.push_back(solve(s, Route::Joined));
    }
    std::vector<Inputs> omega;
    for (auto _ : state) {
        for (std::size_t k = 0; k < solved.size(); ++k) {
            const State& s = states()[k];
            PerTotal<Inputs> totals;
            for (std::size_t t = 0; t < kTotals; ++t) {
                totals[t] = Inputs::variable(s.molal[t], static_cast<int>(t));
            }
            Closing<Inputs> closing;
            closing.kind = s.closing.kind;
            for (std::size_t i = 0; i < 2; ++i) {
                closing.value[i] =
                    Inputs::variable(s.closing.value[i], static_cast<int>(kTotals + i));
            }
            const auto with =
                with_derivatives(*s.model, conditions(*s.model, totals, Inputs(0.0), Route::Joined),
                                 closing, *s.model, s.closing, solved[k]);
            ln_saturation(*s.model, with, omega);
            benchmark::DoNotOptimize(omega.data());
        }
    }
    per_state(state);
}
BENCHMARK(derivative_sets)->Unit(benchmark::kMillisecond);

void preparation(benchmark::State& state) {
    for (auto _ : state) {
        benchmark::DoNotOptimize(prepare_model(298.15).calcite);
    }
}
BENCHMARK(preparation)->Unit(benchmark::kMicrosecond);

void preparation_with_temperature(benchmark::State& state) {
    for (auto _ : state) {
        benchmark::DoNotOptimize(prepare_model(num::Dual<1>::variable(298.15, 0)).calcite);
    }
}
BENCHMARK(preparation_with_temperature)->Unit(benchmark::kMicrosecond);

/// Activity coefficients of one set once, at the molalities of seawater.
void coefficients(benchmark::State& state, ref::InteractionSet set) {
    const auto parameters = interaction_parameters(set, 298.15);
    const auto m = solve(states()[50], Route::Joined).molality;
    Excess<double> out;
    for (auto _ : state) {
        excess(parameters, m, out);
        benchmark::DoNotOptimize(out.ln_gamma[0]);
    }
}
BENCHMARK_CAPTURE(coefficients, seawater_set, ref::InteractionSet::Seawater);
BENCHMARK_CAPTURE(coefficients, brine_set, ref::InteractionSet::Brine);

/// Seawater of salinity 35 with a third more calcium and alkalinity, `times` as strong per kg of
/// water.
WaterInput raised_seawater(double times) {
    constexpr double kGramPerKg = 35.16504;
    constexpr double kRaised = 1.3;
    const double share = times / (1 + (times - 1) * kGramPerKg / 1000);
    const ReferenceTotals natural = reference_totals(35);
    WaterInput out;
    out.mol_per_kg = matter::reference_seawater(kGramPerKg);
    for (const char* raised : {"Ca", "Cl", "Na"}) {
        const matter::Constituent c = matter::constituent(raised);
        constexpr double kSalt = 3e-3;  // mol/kg of CaCl2 in the place of 6e-3 of Na
        const int parts = c.symbol() == std::string_view("Ca") ? 1 : c.charge() < 0 ? 0 : -2;
        out.mol_per_kg[c] += parts * kSalt;
    }
    out.mol_per_kg.scale(share);
    out.closing = {{{Closure::Alkalinity, kRaised * natural.alkalinity_eq_per_kg * share},
                    {Closure::Carbon, kRaised * natural.carbon_mol_per_kg * share}}};
    return out;
}

/// What falls out of a water, from nothing.
void solids(benchmark::State& state, double times, std::vector<std::string_view> keys,
            std::optional<double> fugacity_atm) {
    const auto model = WaterModel::at(unit::Celsius(25));
    const WaterInput water = raised_seawater(times);
    int rounds = 0;
    for (auto _ : state) {
        const auto found = equilibrate(*model, water, keys, fugacity_atm);
        if (!found) {
            std::abort();
        }
        rounds = found->rounds;
        benchmark::DoNotOptimize(rounds);
    }
    state.counters["rounds"] = rounds;
}
constexpr double kAir = 4.2e-4;
BENCHMARK_CAPTURE(solids, none, 1.0, {"gypsum", "celestite", "halite"}, std::nullopt)
    ->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(solids, aragonite_in_air, 1.0, {"aragonite"}, kAir)
    ->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(solids, two_in_a_tenth, 10.0, {"gypsum", "aragonite"}, std::nullopt)
    ->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(solids, four_in_an_eleventh, 11.0, {"gypsum", "celestite", "aragonite", "halite"},
                  std::nullopt)
    ->Unit(benchmark::kMicrosecond);

/// Seawaters of 5 to 45 in a batch, all on one temperature; arguments: waters, threads.
void batch(benchmark::State& state) {
    const auto count = static_cast<std::size_t>(state.range(0));
    static const WaterModel kModel = *WaterModel::at(unit::Celsius(25));
    PerTotal<std::vector<double>> totals;
    std::array<std::vector<double>, 2> closing;
    for (std::size_t k = 0; k < count; ++k) {
        const ReferenceTotals water =
            reference_totals(5 + 40 * static_cast<double>(k) / static_cast<double>(count));
        for (std::size_t t = 0; t < kTotals; ++t) {
            totals[t].push_back(water.mol_per_kg[t]);
        }
        closing[0].push_back(water.alkalinity_eq_per_kg);
        closing[1].push_back(water.carbon_mol_per_kg);
    }
    WaterBatch waters;
    waters.count = count;
    for (std::size_t t = 0; t < kTotals; ++t) {
        waters.mol_per_kg[t] = totals[t];
    }
    waters.closing_value = {closing[0], closing[1]};
    std::vector<double> ph(count);
    std::vector<double> omega(count);
    WaterBatchResults results;
    results.ph_total = ph;
    results.omega = {{0, omega}};
    std::size_t workspace = 0;
    for (auto _ : state) {
        const std::size_t before = bench::heap_now;
        bench::heap_peak = before;
        if (!service::solve_waters(kModel, waters, results,
                                   static_cast<unsigned>(state.range(1)))) {
            std::abort();
        }
        workspace = std::max<std::size_t>(workspace, bench::heap_peak - before);
    }
    state.SetItemsProcessed(state.iterations() * static_cast<int64_t>(count));
    state.counters["waters"] = static_cast<double>(count);
    state.counters["workspace_bytes"] =
        static_cast<double>(workspace) / static_cast<double>(state.range(1));
}
constexpr std::int64_t kMillion = 1'000'000;
BENCHMARK(batch)
    ->Args({20'000, 1})
    ->Args({20'000, 2})
    ->Args({1, 2})
    ->Args({1'000, 2})
    ->Args({kMillion, 2})
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime();

}  // namespace

BENCHMARK_MAIN();
