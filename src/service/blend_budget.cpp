// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/blend_budget.hpp"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <numeric>
#include <optional>

#include <fmt/format.h>

#include "base/text.hpp"
#include "service/blend_scatter.hpp"
#include "service/in_parts.hpp"
#include "unit/factors.hpp"

namespace bw::service {
namespace {

using blend::Budget;
using blend::BudgetOutcome;
using blend::BudgetSetup;

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
    if (r.layered && !(*r.layered >= 0 && *r.layered <= 1)) {
        return fail(ProblemCode::OutOfRange,
                    "a container layers by 0 to 100 % of the bound: write \"5 %\"",
                    {"", 0, "layered"});
    }
    return {};
}

/// How far a container has layered when half of the constituents differ by kShippedDifference;
/// nothing where even the bound is less.
std::optional<double> layered_as_usual(const blend::Layering& layering) {
    std::vector<double> widest;
    for (const blend::Thirds& thirds : layering.shaken) {
        widest.push_back(thirds.widest());
    }
    const auto middle = widest.begin() + static_cast<std::ptrdiff_t>(widest.size() / 2);
    std::nth_element(widest.begin(), middle, widest.end());
    return *middle > kShippedDifference ? std::optional(kShippedDifference / *middle)
                                        : std::nullopt;
}

/// By what the layers differ less for a portion that is more than a third of its container: what is
/// left behind balances what is taken.
double of_portion(const BlendBudgetRequest& r) {
    const double taken = r.portion_kg / r.container_kg;
    return std::min(1.0, (1 - taken) / taken);
}

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
        for (double* third : {&part.layers.top, &part.layers.middle, &part.layers.bottom}) {
            *third *= of_portion(r);
        }
        part.premix_u = grains.share < kMinorShare ? r.premix_u : 0;
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
            {"budget_step",
             fmt::format("No weighing step is stated for {}: the error of weighing it is left out.",
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
                            std::uint64_t draws, double begin, double end) {
    BW_TRY(budget, Budget::create(setup));
    const std::uint64_t blocks = (draws + Budget::kDrawsPerBlock - 1) / Budget::kDrawsPerBlock;
    std::vector<Budget::BlockPointer> out(blocks);
    std::atomic<std::uint64_t> done{0};
    std::atomic<bool> off{false};
    in_parts(blocks, r.threads, [&](std::size_t from, std::size_t to) {
        for (std::size_t b = from; b < to && !off; ++b) {
            const std::uint64_t left = draws - b * Budget::kDrawsPerBlock;
            out[b] = budget.draw_block(r.seed, b, std::min(left, Budget::kDrawsPerBlock), true);
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

std::size_t worst_of(const BudgetOutcome& outcome) {
    return static_cast<std::size_t>(
        std::min_element(outcome.vat.begin(), outcome.vat.end(),
                         [](const auto& a, const auto& b) { return a.inside < b.inside; }) -
        outcome.vat.begin());
}

/// Constituents that do not keep the promise, the worst first.
std::vector<std::size_t> outside(const BudgetOutcome& outcome) {
    std::vector<std::size_t> out;
    for (std::size_t e = 0; e < outcome.vat.size(); ++e) {
        if (outcome.vat[e].inside < kPromiseKept) {
            out.push_back(e);
        }
    }
    std::stable_sort(out.begin(), out.end(), [&](std::size_t a, std::size_t b) {
        return outcome.vat[a].inside < outcome.vat[b].inside;
    });
    return out;
}

/// Changes a practice so that one source gets less, and says what was changed.
class Practice {
public:
    Practice(BudgetSetup setup, const BlendGrains& of)
        : setup_(std::move(setup)), of_(of), parts_(of.grains()), finer_(parts_.size(), 1) {}

    [[nodiscard]] const BudgetSetup& setup() const { return setup_; }
    /// Whether grinding a part is among what was changed.
    [[nodiscard]] bool grinds(std::size_t part) const { return finer_[part] > 1; }

    /// The change against the largest source of a result that can still be changed, or nothing.
    [[nodiscard]] std::optional<std::string> improve(const blend::BudgetResult& result,
                                                     std::size_t constituent) {
        std::vector<std::size_t> steps(blend::kBudgetSteps);
        std::iota(steps.begin(), steps.end(), std::size_t{0});
        std::stable_sort(steps.begin(), steps.end(), [&](std::size_t a, std::size_t b) {
            return result.steps[a].total > result.steps[b].total;
        });
        constexpr double kWorthChanging = 0.1;
        for (const std::size_t step : steps) {
            if (result.steps[step].total < kWorthChanging) {
                break;
            }
            auto what = against(static_cast<blend::BudgetStep>(step), constituent);
            if (what) {
                return what;
            }
        }
        return std::nullopt;
    }

private:
    std::optional<std::string> against(blend::BudgetStep step, std::size_t constituent) {
        switch (step) {
            case blend::BudgetStep::Layers:
                if (setup_.mixed_before_use) {
                    return std::nullopt;
                }
                setup_.mixed_before_use = true;
                return "the label says: tumble the container before each use, or dissolve it whole";
            case blend::BudgetStep::Salinity:
                return once(
                    better_reading_, [&] { setup_.salinity_u /= 2; },
                    "a reading of salinity twice as good, calibrated for this salt");
            case blend::BudgetStep::Weighing:
                return once(
                    finer_scale_,
                    [&] {
                        constexpr double kFiner = 10;
                        for (blend::BudgetPart& p : setup_.parts) {
                            p.weighing_u /= kFiner;
                        }
                    },
                    "scales with a tenth of the step");
            case blend::BudgetStep::Premix:
                return once(
                    even_premix_,
                    [&] {
                        for (blend::BudgetPart& p : setup_.parts) {
                            p.premix_u /= 2;
                        }
                    },
                    "a premix mixed to half its unevenness");
            case blend::BudgetStep::Assay:
            case blend::BudgetStep::Moisture:
                return once(
                    tested_lots_, [&] { halve_lots(); },
                    "each lot tested to half the uncertainty of its certificate, and the "
                    "recipe adjusted to it");
            case blend::BudgetStep::Grains:
                return finer_grains(constituent);
            case blend::BudgetStep::Sample:
            case blend::BudgetStep::Analysis:
                return std::nullopt;  // not of the user's water
        }
        return std::nullopt;
    }

    template <class Make>
    std::optional<std::string> once(bool& done, const Make& make, const char* what) {
        if (done) {
            return std::nullopt;
        }
        done = true;
        make();
        return what;
    }

    void halve_lots() {
        for (blend::BudgetPart& p : setup_.parts) {
            for (matter::UncertainInput& input : p.make_up.inputs) {
                matter::Stated& x = input.stated;
                x = x.shape == matter::Stated::Shape::Normal
                        ? matter::Stated::normal(x.value, x.u / 2)
                        : matter::Stated::between((x.value + x.low) / 2, (x.value + x.high) / 2);
            }
        }
    }

    /// The material that scatters the constituent most, ground to half its size.
    std::optional<std::string> finer_grains(std::size_t constituent) {
        constexpr double kHalf = 2, kCubeOfTwo = 8, kMostTimes = 16;
        const auto scatters = blend::scatter_of(parts_);
        if (!scatters) {
            return std::nullopt;
        }
        const auto& by_part = (*scatters)[constituent].variance_g_of;
        const auto k = static_cast<std::size_t>(std::max_element(by_part.begin(), by_part.end()) -
                                                by_part.begin());
        if (finer_[k] >= kMostTimes) {
            return std::nullopt;
        }
        finer_[k] *= kHalf;
        setup_.parts[k].grain_g /= kCubeOfTwo;
        blend::Bounded& grain = parts_[k].grain_g;
        grain = {grain.expected / kCubeOfTwo, grain.low / kCubeOfTwo, grain.high / kCubeOfTwo};
        constexpr double kMiddle = 0.5, kMmPerM = 1000;
        return of_.parts[k].sizes
                   ? fmt::format("{} ground to a median of {:.2g} mm", parts_[k].name,
                                 of_.parts[k].sizes->size_m(kMiddle) / finer_[k] * kMmPerM)
                   : fmt::format("{} ground to grains {:g} times smaller", parts_[k].name,
                                 finer_[k]);
    }

    BudgetSetup setup_;
    const BlendGrains& of_;
    std::vector<blend::GrainPart> parts_;
    std::vector<double> finer_;
    bool better_reading_ = false, finer_scale_ = false, even_premix_ = false, tested_lots_ = false;
};

}  // namespace

Result<BlendBudgetReport> blend_budget(const BlendBudgetRequest& request) {
    constexpr double kMain = 0.7;  // of the time
    constexpr int kMostChanges = 40;
    BW_CHECK(check(request));
    BW_TRY(of, blend_grains(request.recipe, request.materials));
    if (of.constituents.empty()) {
        return fail(ProblemCode::BadInput,
                    "no constituent of the recipe is more than an impurity of its materials: a "
                    "budget has nothing to follow",
                    {request.recipe.name, 0, ""});
    }
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
    BW_TRY(band, figure_for_each(request.band, of.constituents, "band"));
    BW_TRY(analysis, figure_for_each(request.analysis_u, of.constituents, "analysis"));
    out.layers_known = !layering.lines.empty();
    const std::optional<double> usual = layered_as_usual(layering);
    out.layers_usual = !request.layered && usual.has_value();
    setup.layered = out.layers_known ? request.layered.value_or(usual.value_or(1.0)) : 0;
    out.layered = setup.layered;
    setup.band = out.band = band;
    setup.analysis_u = analysis;
    BW_TRY(outcome, drawn(setup, request, request.draws, 0, kMain));
    out.outcome = outcome;
    BudgetOutcome last = std::move(outcome);
    out.kept = out.reached = last.vat[worst_of(last)].inside >= kPromiseKept;
    Practice practice(std::move(setup), of);
    const std::uint64_t tried = std::min(request.draws, kChangeDraws);
    const double step = (1 - kMain) / kMostChanges;
    for (int i = 0; i < kMostChanges && !out.reached; ++i) {
        std::optional<std::string> what;
        for (const std::size_t e : outside(last)) {
            what = practice.improve(last.vat[e], e);
            if (what) {
                break;
            }
        }
        if (!what) {
            break;
        }
        out.stopped = i + 1 == kMostChanges;
        BW_TRY(next,
               drawn(practice.setup(), request, tried, kMain + step * i, kMain + step * (i + 1)));
        last = std::move(next);
        const std::size_t worst = worst_of(last);
        out.changes.push_back(
            {*what, last.vat[worst].inside, of.constituents[worst], last.all_inside_vat});
        out.reached = last.vat[worst].inside >= kPromiseKept;
    }
    out.stopped = out.stopped && !out.reached;
    base::append(out.notices,
                 grinding_cautions(of, [&](std::size_t k) { return practice.grinds(k); }));
    for (const std::size_t e : outside(last)) {
        out.still_outside.push_back(of.constituents[e]);
    }
    return out;
}

}  // namespace bw::service
