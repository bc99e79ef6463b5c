// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Hot paths of the brine floor. The states are those of bench/reference_co2.py, made by the same
// formulas.
#include <cstdlib>
#include <numeric>
#include <vector>

#include <benchmark/benchmark.h>

#include "brine/carbonate_system.hpp"
#include "service/carbonate_batch.hpp"

namespace {

using namespace bw::brine;

constexpr std::size_t kStates = 100'000;

struct States {
    std::vector<double> salinity, celsius, alkalinity, carbon;
};

States made_states() {
    States out;
    for (std::size_t i = 0; i < kStates; ++i) {
        out.salinity.push_back(20 + static_cast<double>(i % 211) * (23.0 / 211));
        out.celsius.push_back(10 + static_cast<double>(i % 173) * (25.0 / 173));
        out.alkalinity.push_back(1e-6 * (1500 + static_cast<double>(i % 97) * (3500.0 / 97)));
        out.carbon.push_back(out.alkalinity.back() *
                             (0.8 + static_cast<double>(i % 31) * (0.2 / 31)));
    }
    return out;
}

/// Constants, pH and all species of every state; argument: threads.
void stoichiometric_route(benchmark::State& state) {
    const States s = made_states();
    CarbonateBatch batch{};
    batch.first_kind = CarbonateQuantity::Alkalinity;
    batch.second_kind = CarbonateQuantity::InorganicCarbon;
    batch.first = s.alkalinity;
    batch.second = s.carbon;
    batch.salinity = s.salinity;
    batch.celsius = s.celsius;
    double mean = 0;
    for (auto _ : state) {
        const auto out = bw::service::solve_carbonate(batch, static_cast<unsigned>(state.range(0)));
        if (!out) {
            std::abort();
        }
        mean = std::accumulate(out->ph_total.begin(), out->ph_total.end(), 0.0) / kStates;
    }
    state.counters["states"] = static_cast<double>(kStates);
    state.counters["mean_ph"] = mean;
}
BENCHMARK(stoichiometric_route)->Arg(1)->Arg(2)->Unit(benchmark::kMillisecond)->UseRealTime();

/// One state with its derivatives by two inputs, seven totals, salinity and temperature.
void state_with_derivatives(benchmark::State& state) {
    const bw::unit::PracticalSalinity salinity(35);
    const CarbonateInput input{CarbonateQuantity::Alkalinity, CarbonateQuantity::InorganicCarbon,
                               2.3e-3, 2.05e-3, *natural_totals(salinity)};
    for (auto _ : state) {
        auto out = carbonate_gradient(input, salinity, bw::unit::Celsius(25));
        benchmark::DoNotOptimize(out);
    }
}
BENCHMARK(state_with_derivatives)->Unit(benchmark::kMicrosecond);

}  // namespace

BENCHMARK_MAIN();
