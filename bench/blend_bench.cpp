// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Scatter of grains and the budget from lot to reef for a made blend of 20 materials and 35
// constituents, and the estimator of variance shares on a test function that the reference library
// runs too.
#include <cmath>
#include <numbers>

#include <benchmark/benchmark.h>

#include "blend/budget.hpp"
#include "ref/tables.hpp"
#include "service/in_parts.hpp"
#include "stat/draw.hpp"

namespace {

using namespace bw;

constexpr std::size_t kMaterials = 20, kConstituents = 35;

struct Made {
    std::vector<blend::GrainPart> grains;
    blend::BudgetSetup setup;
};

/// Pure salts with twelve impurities each, grains of 0.05 to 2 mm, shares falling by halves.
Made made() {
    constexpr std::size_t kImpurities = 12;
    std::vector<std::string> traces;  // in turn, so that all constituents are somewhere
    for (std::size_t i = 0; i < matter::constituent_count(); ++i) {
        const matter::Constituent c(i);
        if (c.charge() != 0 && !c.is_alkalinity()) {
            traces.emplace_back(c.symbol());
        }
    }
    Made out;
    double total = 0;
    for (const ref::PureSalt& salt : ref::pure_salts()) {
        if (out.setup.parts.size() == kMaterials) {
            break;
        }
        const std::size_t i = out.setup.parts.size();
        matter::Material material;
        material.name = salt.name;
        material.formula = salt.formula;
        material.assay = matter::Assay{matter::Stated::normal(0.992, 0.003), "", std::nullopt};
        material.moisture = matter::Stated::normal(0.004, 0.001);
        for (std::size_t k = 0; k < kImpurities; ++k) {
            const double amount = 1e-6 * static_cast<double>(1 + (k * 7 + i * 3) % 11);
            material.impurities.push_back({traces[(i * kImpurities + k) % traces.size()],
                                           matter::Stated::normal(amount, amount / 10), true,
                                           false});
        }
        const double mm = 0.05 * std::pow(40.0, static_cast<double>(i) / kMaterials);
        const double grain_g = std::numbers::pi / 6 * 2e-3 * mm * mm * mm;
        const double share = std::pow(0.7, static_cast<double>(i));
        total += share;
        out.setup.parts.push_back({material.name,
                                   share,
                                   *matter::make_up(material),
                                   1e-3,
                                   1e-3,
                                   grain_g,
                                   {0.02, 0, -0.02}});
    }
    for (std::size_t i = 0; i < matter::constituent_count(); ++i) {
        double content = 0;
        for (const blend::BudgetPart& part : out.setup.parts) {
            content += part.make_up.mol_per_kg[matter::Constituent(i)];
        }
        if (content > 0 && out.setup.constituents.size() < kConstituents) {
            out.setup.constituents.emplace_back(i);
        }
    }
    for (blend::BudgetPart& part : out.setup.parts) {
        part.share /= total;
        blend::GrainPart grain{
            part.name, part.share, {part.grain_g, part.grain_g, part.grain_g}, {}};
        for (const matter::Constituent& c : out.setup.constituents) {
            grain.content.push_back(part.make_up.mol_per_kg[c]);
        }
        out.grains.push_back(std::move(grain));
    }
    const std::size_t count = out.setup.constituents.size();
    out.setup.band.assign(count, 0.02);
    out.setup.analysis_u.assign(count, 0.01);
    out.setup.batch_g = 5e5;
    out.setup.sample_g = 500;
    out.setup.portion_g = 380;
    out.setup.layered = 0.5;
    out.setup.salinity_u = 0.01;
    return out;
}

void scatter(benchmark::State& state) {
    const Made blend = made();
    constexpr std::size_t kPortions = 10;
    double sum = 0;
    for (auto _ : state) {
        const auto scatters = blend::scatter_of(blend.grains);
        for (const blend::Scatter& s : *scatters) {
            for (std::size_t p = 1; p <= kPortions; ++p) {
                sum += s.relative_sd(50.0 * static_cast<double>(p), 5e5).expected;
            }
        }
        benchmark::DoNotOptimize(sum);
    }
    state.counters["materials"] = static_cast<double>(blend.grains.size());
    state.counters["constituents"] = static_cast<double>(blend.setup.constituents.size());
}
BENCHMARK(scatter)->Unit(benchmark::kMillisecond);

void budget(benchmark::State& state) {
    constexpr std::uint64_t kDraws = 100000;
    const auto budget = blend::Budget::create(made().setup);
    for (auto _ : state) {
        const std::uint64_t blocks =
            (kDraws + blend::Budget::kDrawsPerBlock - 1) / blend::Budget::kDrawsPerBlock;
        std::vector<blend::Budget::BlockPointer> out(blocks);
        service::in_parts(
            blocks, static_cast<unsigned>(state.range(0)), [&](std::size_t begin, std::size_t end) {
                for (std::size_t b = begin; b < end; ++b) {
                    const std::uint64_t left = kDraws - b * blend::Budget::kDrawsPerBlock;
                    out[b] = budget->draw_block(1, b, std::min(left, blend::Budget::kDrawsPerBlock),
                                                true);
                }
            });
        benchmark::DoNotOptimize(budget->merge(out, 1));
    }
}
BENCHMARK(budget)->Arg(1)->Arg(2)->Unit(benchmark::kMillisecond)->UseRealTime();

/// 65536 draws of Ishigami's function, its three shares.
void sobol(benchmark::State& state) {
    constexpr std::size_t kDraws = 65536, kVariables = 3;
    const auto f = [](const std::array<double, kVariables>& u) {
        const auto x = [&](std::size_t i) { return std::numbers::pi * (2 * u[i] - 1); };
        const double s = std::sin(x(1)), fourth = x(2) * x(2) * x(2) * x(2);
        return std::sin(x(0)) + 7 * s * s + 0.1 * fourth * std::sin(x(0)) - 3.5;
    };
    for (auto _ : state) {
        stat::SobolSums sums(kVariables);
        stat::DrawStream stream(1, 0);
        std::array<double, kVariables> a{}, b{}, ab{};
        for (std::size_t i = 0; i < kDraws; ++i) {
            stream.between_0_and_1(a);
            stream.between_0_and_1(b);
            for (std::size_t g = 0; g < kVariables; ++g) {
                auto mixed = a;
                mixed[g] = b[g];
                ab[g] = f(mixed);
            }
            sums.add(f(a), f(b), ab);
        }
        benchmark::DoNotOptimize(sums.indices());
    }
}
BENCHMARK(sobol)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
