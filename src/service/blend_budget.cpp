// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/blend_budget.hpp"

#include <algorithm>
#include <atomic>
#include <cmath>

#include <fmt/format.h>

#include "base/text.hpp"
#include "service/in_parts.hpp"
#include "unit/factors.hpp"

namespace bw::service {
namespace {

using blend::Budget;
using blend::BudgetOutcome;
using blend::BudgetSetup;

constexpr double kMinor = 0.01;  // of the blend: goes through a premix

Result<std::vector<double>> for_each(const RelativeFigure& figure, const BlendGrains& of,
                                     const char* field) {
    std::vector<double> out(of.constituents.size(), figure.all);
    const auto right = [&](double value) -> Result<void> {
        if (!(value > 0 && value < 1)) {
            return fail(ProblemCode::OutOfRange,
                        "a relative figure lies between 0 and 100 %: write \"2 %\"",
                        {"", 0, field});
        }
        return {};
    };
    BW_CHECK(right(figure.all));
    for (const auto& [symbol, value] : figure.own) {
        BW_TRY(constituent, matter::require_constituent(symbol));
        BW_CHECK(right(value));
        const auto found = std::find(of.constituents.begin(), of.constituents.end(), constituent);
        if (found == of.constituents.end()) {
            return fail(ProblemCode::BadInput,
                        fmt::format("no material of the recipe is weighed for {}", symbol),
                        {"", 0, field});
        }
        out[static_cast<std::size_t>(found - of.constituents.begin())] = value;
    }
    return out;
}

Result<void> check(const BlendBudgetRequest& r) {
    const auto above = [](double value, double most, const char* field,
                          const char* what) -> Result<void> {
        if (!(value > 0) || value > most) {
            return fail(ProblemCode::OutOfRange,
                        fmt::format("a {} of {:g} kg: give one above 0 and up to {:g} kg", what,
                                    value, most),
                        {"", 0, field});
        }
        return {};
    };
    constexpr double kMostBatch_kg = 1e6;
    BW_CHECK(above(r.batch_kg, kMostBatch_kg, "batch", "batch"));
    BW_CHECK(above(r.container_kg, r.batch_kg, "container", "container"));
    BW_CHECK(above(r.portion_kg, r.container_kg, "portion", "portion"));
    BW_CHECK(above(r.sample_kg, r.batch_kg, "sample", "sample"));
    constexpr std::uint64_t kFewest = 1000, kMost = 10000000;
    if (r.draws < kFewest || r.draws > kMost) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("{} to {} draws can be made", kFewest, kMost), {"", 0, "draws"});
    }
    for (const auto& [value, field] :
         {std::pair(r.reading_u, "reading"), std::pair(r.premix_u, "premix")}) {
        if (!(value >= 0 && value < 1)) {
            return fail(ProblemCode::OutOfRange,
                        "a relative uncertainty is 0 or more and below 100 %: write \"0.5 %\"",
                        {"", 0, field});
        }
    }
    return {};
}

/// Which share of a portion's parts their containers' layers change.
BudgetSetup setup_of(const BlendBudgetRequest& r, const BlendGrains& of,
                     const blend::Layering& layering, base::Notices& notices) {
    BudgetSetup out;
    std::vector<std::string> no_step;
    for (std::size_t k = 0; k < of.parts.size(); ++k) {
        const blend::GrainPart& grains = of.parts[k].grains;
        blend::BudgetPart part;
        part.name = grains.name;
        part.share = grains.share;
        part.make_up = of.make_ups[k];
        part.grain_g = grains.grain_g.expected;
        part.layers = layering.part_shaken[k];
        part.premix_u = grains.share < kMinor ? r.premix_u : 0;
        if (of.materials[k].step_kg) {
            constexpr double kTareAndGross = 6;  // each rounded to a step
            part.weighing_u =
                *of.materials[k].step_kg / std::sqrt(kTareAndGross) / (grains.share * r.batch_kg);
        } else {
            no_step.push_back(grains.name);
        }
        out.parts.push_back(std::move(part));
    }
    if (!no_step.empty()) {
        notices.push_back(
            {"budget_step", fmt::format("No weighing step is stated for {}: weighing is left out.",
                                        base::join_words(no_step))});
    }
    out.constituents = of.constituents;
    out.batch_g = r.batch_kg * unit::kGramPerKg;
    out.sample_g = r.sample_kg * unit::kGramPerKg;
    out.portion_g = r.portion_kg * unit::kGramPerKg;
    out.mixed_before_use = r.mixed_before_use || r.portion_kg == r.container_kg;
    out.salinity_u = r.reading_u;
    return out;
}

/// Draws a budget on threads; tells how far it is from `begin` to `end` of the whole.
Result<BudgetOutcome> drawn(const BudgetSetup& setup, const BlendBudgetRequest& r,
                            std::uint64_t draws, bool shares, double begin, double end) {
    BW_TRY(budget, Budget::create(setup));
    const std::uint64_t blocks = (draws + Budget::kDrawsPerBlock - 1) / Budget::kDrawsPerBlock;
    std::vector<Budget::BlockPointer> out(blocks);
    std::atomic<std::uint64_t> done{0};
    std::atomic<bool> off{false};
    in_parts(blocks, r.threads, [&](std::size_t from, std::size_t to) {
        for (std::size_t b = from; b < to && !off; ++b) {
            const std::uint64_t left = draws - b * Budget::kDrawsPerBlock;
            out[b] = budget.draw_block(r.seed, b, std::min(left, Budget::kDrawsPerBlock), shares);
            ++done;
            if (from == 0 && r.progress &&
                !r.progress(begin + (end - begin) * static_cast<double>(done) /
                                        static_cast<double>(blocks))) {
                off = true;
            }
        }
    });
    if (off) {
        return fail(ProblemCode::Refused, kCalledOff);
    }
    return budget.merge(out, r.seed);
}

struct Change {
    std::string what;
    std::function<void(BudgetSetup&)> make;
};

/// The part whose grains scatter the portion most for the constituent that is least often inside.
std::size_t coarsest_for(const BlendGrains& of, std::size_t constituent) {
    std::size_t out = 0;
    double most = -1;
    const auto scatters = blend::scatter_of(of.grains());
    for (std::size_t k = 0; scatters && k < of.parts.size(); ++k) {
        if ((*scatters)[constituent].variance_g_of[k] > most) {
            most = (*scatters)[constituent].variance_g_of[k];
            out = k;
        }
    }
    return out;
}

/// Cheapest first: common practice.
std::vector<Change> changes_for(const BudgetSetup& setup, const BlendGrains& of,
                                std::size_t worst) {
    std::vector<Change> out;
    if (!setup.mixed_before_use) {
        out.push_back({"the label says: tumble the container before each use, or dissolve it whole",
                       [](BudgetSetup& s) { s.mixed_before_use = true; }});
    }
    out.push_back({"the user's reading of salinity is twice as good (calibrated for this salt)",
                   [](BudgetSetup& s) { s.salinity_u /= 2; }});
    out.push_back({"scales with a tenth of the step for what is less than 1 % of the blend",
                   [](BudgetSetup& s) {
                       constexpr double kFiner = 10;
                       for (blend::BudgetPart& p : s.parts) {
                           p.weighing_u /= p.share < kMinor ? kFiner : 1;
                       }
                   }});
    const std::size_t coarse = coarsest_for(of, worst);
    out.push_back({fmt::format("{} ground to half its grain size", of.parts[coarse].grains.name),
                   [coarse](BudgetSetup& s) {
                       constexpr double kCubeOfTwo = 8;
                       s.parts[coarse].grain_g /= kCubeOfTwo;
                   }});
    const auto bulk = static_cast<std::size_t>(
        std::max_element(setup.parts.begin(), setup.parts.end(),
                         [](const auto& a, const auto& b) { return a.share < b.share; }) -
        setup.parts.begin());
    if (setup.parts[coarse].share < kMinor && bulk != coarse) {
        out.push_back({fmt::format("{} sprayed as a solution onto {} and dried",
                                   setup.parts[coarse].name, setup.parts[bulk].name),
                       [coarse, bulk](BudgetSetup& s) {
                           blend::BudgetPart& p = s.parts[coarse];
                           p.grain_g = s.parts[bulk].grain_g * p.share / s.parts[bulk].share;
                           p.layers = s.parts[bulk].layers;
                       }});
    }
    out.push_back(
        {"each lot is tested, and the recipe adjusted, to half the certificate's "
         "uncertainty",
         [](BudgetSetup& s) {
             for (blend::BudgetPart& p : s.parts) {
                 for (matter::UncertainInput& input : p.make_up.inputs) {
                     matter::Stated& x = input.stated;
                     x = x.shape == matter::Stated::Shape::Normal
                             ? matter::Stated::normal(x.value, x.u / 2)
                             : matter::Stated::between((x.value + x.low) / 2,
                                                       (x.value + x.high) / 2);
                 }
             }
         }});
    return out;
}

std::size_t worst_of(const BudgetOutcome& outcome) {
    return static_cast<std::size_t>(
        std::min_element(outcome.vat.begin(), outcome.vat.end(),
                         [](const auto& a, const auto& b) { return a.inside < b.inside; }) -
        outcome.vat.begin());
}

BudgetChange said(const std::string& what, const BudgetOutcome& outcome, const BlendGrains& of) {
    const std::size_t worst = worst_of(outcome);
    return {what, outcome.vat[worst].inside, of.constituents[worst], outcome.all_inside_vat};
}

}  // namespace

Result<BlendBudgetReport> blend_budget(const BlendBudgetRequest& request) {
    constexpr double kMain = 0.7;  // of the time
    constexpr std::uint64_t kTried = 20000;
    BW_CHECK(check(request));
    BW_TRY(of, blend_grains(request.recipe, request.materials));
    BW_TRY(layering, blend::layering_of(of.parts));
    BlendBudgetReport out;
    out.recipe = of.recipe;
    out.invented = of.invented;
    out.asked = request;
    out.asked.recipe = {};
    out.asked.materials.clear();
    out.asked.progress = {};
    out.constituents = of.constituents;
    out.notices = of.notices;
    BudgetSetup setup = setup_of(request, of, layering, out.notices);
    BW_TRY(band, for_each(request.band, of, "band"));
    BW_TRY(analysis, for_each(request.analysis_u, of, "analysis"));
    setup.band = out.band = band;
    setup.analysis_u = analysis;
    BW_TRY(outcome, drawn(setup, request, request.draws, true, 0, kMain));
    out.outcome = outcome;
    const std::size_t worst = worst_of(outcome);
    out.kept = out.reached = outcome.vat[worst].inside >= kPromiseKept;
    const std::vector<Change> changes = changes_for(setup, of, worst);
    const std::uint64_t tried = std::min(request.draws, kTried);
    const double step = (1 - kMain) / static_cast<double>(2 * changes.size());
    double at = kMain;
    const auto with = [&](const BudgetSetup& changed) {
        auto found = drawn(changed, request, tried, false, at, at + step);
        at += step;
        return found;
    };
    for (const Change& change : changes) {
        BudgetSetup alone = setup;
        change.make(alone);
        BW_TRY(found, with(alone));
        out.changes.push_back(said(change.what, found, of));
    }
    const auto enough = std::find_if(out.changes.begin(), out.changes.end(),
                                     [](const auto& c) { return c.worst_inside >= kPromiseKept; });
    if (!out.reached && enough != out.changes.end()) {
        out.reached = true;
        out.reaching = {enough->what};
    }
    BudgetSetup together = setup;
    for (std::size_t i = 0; i < changes.size() && !out.reached; ++i) {
        changes[i].make(together);
        out.reaching.push_back(changes[i].what);
        BW_TRY(found, with(together));
        out.reached = found.vat[worst_of(found)].inside >= kPromiseKept;
    }
    return out;
}

}  // namespace bw::service
