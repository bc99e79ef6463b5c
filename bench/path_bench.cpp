// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Vats: a 48-hour run, the whole comparison, and the equations of test/golden/vat_course.json,
// which bench/reference_vat.py integrates with another library.
#include <fstream>

#include <benchmark/benchmark.h>
#include <nlohmann/json.hpp>

#include "num/ode.hpp"
#include "service/path_compare.hpp"

namespace {

using namespace bw;
using Json = nlohmann::json;

/// The raised recipe of the works, as bench/run has just solved it.
const service::PathRequest& request() {
    static const service::PathRequest kRequest = [] {
        const std::string works = std::string(BW_SOURCE_DIR) + "/examples/works/";
        service::PathRequest out;
        out.recipe = *io::read_document("build/bench/raised-recipe.toml");
        out.materials.push_back(*io::read_document(works + "materials.toml"));
        return out;
    }();
    return kRequest;
}

void run_48_hours(benchmark::State& state) {
    const auto planned = service::path_plan(request());
    path::VatPlan plan = planned->plan;
    plan.marks_until_h = 0;
    plan.seed_mg_per_kg = static_cast<double>(state.range(0));
    for (auto _ : state) {
        benchmark::DoNotOptimize(path::run_course(plan)->steps);
    }
    state.counters["materials"] = static_cast<double>(plan.parts.size());
}
BENCHMARK(run_48_hours)->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond);

void compare(benchmark::State& state) {
    service::PathCompareRequest asked;
    asked.run = request();
    for (auto _ : state) {
        benchmark::DoNotOptimize(service::path_compare(asked)->grid.size());
    }
}
BENCHMARK(compare)->Unit(benchmark::kMillisecond)->UseRealTime();

void small_vats(benchmark::State& state) {
    std::ifstream in(std::string(BW_SOURCE_DIR) + "/test/golden/vat_course.json");
    const Json golden = Json::parse(in);
    struct Vat {
        double alkalinity, calcium, dissolving, held, exchange, air, k1, k12, ksp, seed, radius,
            growth, order;
    };
    std::vector<Vat> vats;
    for (const Json& c : golden["cases"]) {
        vats.push_back({c["alkalinity"], c["calcium"], c["dissolving_per_h"], c["held_back"],
                        c["exchange_per_h"], c["co2_of_air"], c["k1"],
                        c["k1"].get<double>() * c["k2"].get<double>(), c["ksp"], c["seed_mol"],
                        c["seed_radius_um"], c["growth_um_per_h"], c["order"]});
    }
    const std::vector<double> hours = golden["cases"][0]["hours"];
    for (auto _ : state) {
        for (const Vat& v : vats) {
            num::OdeProblem problem;
            problem.slope = [&v](double, std::span<const double> y, std::span<double> dy) {
                const double fallen = v.seed * (std::pow(1 + y[2] / v.radius, 3) - 1);
                const double brought = 1e-4 + v.alkalinity * (1 - y[0]);
                const double alkalinity = brought - 2 * fallen;
                const double carbon = brought + y[1] - fallen;
                const double b = v.k1 * (alkalinity - carbon);
                const double h =
                    (-b + std::sqrt(b * b - 4 * alkalinity * v.k12 * (alkalinity - 2 * carbon))) /
                    (2 * alkalinity);
                const double share = h * h + v.k1 * h + v.k12;
                const double omega = (v.calcium - fallen) * carbon * v.k12 / share / v.ksp;
                const double left = std::max(y[0], 0.0);
                dy[0] = -v.dissolving * left / std::pow(left + 1e-3, 2.0 / 3) *
                        (1 - v.held * (1 - left));
                dy[1] = v.exchange * (v.air - carbon * h * h / share);
                dy[2] = v.growth * std::pow(std::max(omega - 1, 0.0), v.order);
                return std::isfinite(dy[0] + dy[1] + dy[2]);
            };
            problem.start = {1, 0, 0};
            problem.relative_tolerance = 1e-6;
            problem.absolute_tolerance = {1e-8, 1e-11, 1e-8};
            benchmark::DoNotOptimize(num::integrate(problem, hours).steps);
        }
    }
    state.counters["vats"] = static_cast<double>(vats.size());
}
BENCHMARK(small_vats)->Unit(benchmark::kMicrosecond);

}  // namespace

BENCHMARK_MAIN();
