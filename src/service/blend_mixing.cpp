// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/blend_mixing.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "blend/mixing.hpp"
#include "recipe/blend_place.hpp"
#include "unit/factors.hpp"
#include "works/sheet.hpp"

namespace bw::service {
namespace {

using blend::GrainPart;

constexpr double kContent = 0.95;

Result<void> within(bool right, const char* field, const std::string& why) {
    return right ? Result<void>() : fail(ProblemCode::OutOfRange, why, {"", 0, field});
}

Result<void> check(const BlendMixingRequest& r) {
    constexpr double kMostOfBatch = 0.5;
    constexpr std::int64_t kMostResults = 100, kMostBatches = 1000;
    BW_CHECK(within(r.batch_kg > 0, "batch", "a batch weighs more than 0: write \"500 kg\""));
    BW_CHECK(within(!r.samples_kg.empty(), "sample",
                    "one mass of a sample at least is needed: write \"500 g\""));
    for (const double sample : r.samples_kg) {
        BW_CHECK(within(sample > 0 && sample <= kMostOfBatch * r.batch_kg, "sample",
                        fmt::format("a sample of {:g} g of a batch of {:g} kg: give one above 0 "
                                    "and up to half of the batch",
                                    sample * unit::kGramPerKg, r.batch_kg)));
    }
    BW_CHECK(within(r.wanted > 0 && r.wanted < 1, "wanted",
                    "a promise lies between 0 and 100 %: write \"2 %\""));
    constexpr double kLeastSure = 0.5;
    BW_CHECK(within(r.confidence >= kLeastSure && r.confidence < 1, "confidence",
                    "a confidence is 50 % or more and below 100 %: write \"95 %\""));
    BW_CHECK(within(r.results >= 1 && r.results <= kMostResults, "results",
                    "results of each sample: a whole number from 1 to 100"));
    return within(r.premix_for >= 1 && r.premix_for <= kMostBatches, "premix-for",
                  "batches of one premix: a whole number from 1 to 1000");
}

/// The premixes of a blend, by the rule of the batch sheet.
class Premixes {
public:
    Premixes(const BlendGrains& of, const BlendMixingRequest& request)
        : of_(of), batches_(static_cast<double>(request.premix_for)) {
        for (std::size_t k = 0; k < of.parts.size(); ++k) {
            const recipe::Supply supply{of.materials[k], of.make_ups[k]};
            portions_.push_back({of.parts[k].grains.name,
                                 "",
                                 of.parts[k].grains.share,
                                 recipe::draws_water(supply),
                                 {},
                                 recipe::company_of(supply)});
        }
        size_kg_ = request.batch_kg * batches_;
    }

    Result<void> plan(BlendMixingReport& into) const {
        // A plan knows no scales: steps far below any mass of a batch.
        constexpr double kStep_kg = 1e-9, kCapacity_kg = 1e12;
        const std::vector<works::Scale> any{{"any", kStep_kg, kCapacity_kg, 0, "", {}}};
        BW_TRY(sheet, works::sheet_for(portions_, size_kg_, any, ""));
        for (const bool late : {false, true}) {
            const auto& stages = late ? sheet.late_premix : sheet.premix;
            if (!stages.empty()) {
                BW_TRY(plan, one(sheet, late ? works::kLatePremix : works::kPremix, stages));
                plan.late = late;
                into.premixes.push_back(std::move(plan));
            }
        }
        for (const works::Portion& p : portions_) {
            if (p.share < works::kPremixShare && !in_premix(into, p.material)) {
                into.alone.emplace_back(p.material, p.share * size_kg_ / batches_);
            }
        }
        return {};
    }

private:
    static bool in_premix(const BlendMixingReport& report, const std::string& material) {
        return std::any_of(report.premixes.begin(), report.premixes.end(), [&](const auto& p) {
            return std::any_of(p.parts.begin(), p.parts.end(),
                               [&](const auto& part) { return part.material == material; });
        });
    }

    [[nodiscard]] const GrainPart& grains_of(const std::string& material) const {
        const auto found = std::find_if(of_.parts.begin(), of_.parts.end(), [&](const auto& part) {
            return part.grains.name == material;
        });
        base::expect(found != of_.parts.end(), "lines of a sheet are of its portions");
        return found->grains;
    }

    [[nodiscard]] Result<PremixPlan> one(const works::Sheet& sheet, std::string_view vessel,
                                         const std::vector<works::PremixStage>& stages) const {
        PremixPlan out;
        out.carrier = sheet.premix_carrier;
        out.stages = stages;
        const double total = stages.back().total_kg;
        std::vector<GrainPart> grains;
        for (const works::Addition& a : sheet.additions) {
            if (a.into == vessel) {
                GrainPart part = grains_of(a.material);
                out.parts.push_back(
                    {a.material, a.target_kg,
                     a.target_kg / batches_ * unit::kGramPerKg / part.grain_g.expected, 0});
                part.share = a.target_kg / total;
                grains.push_back(std::move(part));
            }
        }
        GrainPart carrier = grains_of(out.carrier);
        carrier.share = 1;
        for (const GrainPart& part : grains) {
            carrier.share -= part.share;
        }
        grains.push_back(std::move(carrier));
        for (std::size_t k = 0; k < grains.size(); ++k) {  // each material for itself
            grains[k].content.assign(out.parts.size(), 0.0);
            if (k < out.parts.size()) {
                grains[k].content[k] = 1;
            }
        }
        BW_TRY(scatter, blend::scatter_of(grains));
        for (std::size_t k = 0; k < out.parts.size(); ++k) {
            out.parts[k].relative_sd =
                scatter[k]
                    .relative_sd(total / batches_ * unit::kGramPerKg, total * unit::kGramPerKg)
                    .expected;
        }
        return out;
    }

    const BlendGrains& of_;
    double batches_;
    double size_kg_ = 0;
    std::vector<works::Portion> portions_;
};

SampleProof proof_of(double by_chance, double analysis, const BlendMixingRequest& r) {
    SampleProof out;
    out.by_chance = by_chance;
    out.with_analysis = std::hypot(by_chance, analysis);
    if (const auto plan =
            blend::samples_to_prove(out.with_analysis, r.wanted, kContent, r.confidence)) {
        out.samples = plan->samples;
        out.factor = plan->factor;
    } else {
        using Against = SampleProof::Against;
        const double most = blend::provable_sd(r.wanted, kContent);
        out.against = by_chance > most           ? Against::Grains
                      : out.with_analysis > most ? Against::Analysis
                                                 : Against::Number;
    }
    return out;
}

SeenScatter seen_of(double seen, double unmixed, double by_chance, double analysis) {
    SeenScatter out;
    out.seen = seen;
    const double of_blend = std::max(0.0, seen * seen - analysis * analysis);
    out.of_blend = std::sqrt(of_blend);
    out.of_mixing = std::sqrt(std::max(0.0, of_blend - by_chance * by_chance));
    if (const auto lacey = blend::lacey_index(unmixed, by_chance * by_chance, of_blend)) {
        out.lacey = *lacey;
    }
    return out;
}

/// What was seen, by constituent; nothing where no figure is given.
Result<std::vector<std::optional<double>>> seen_by_constituent(const BlendMixingRequest& r,
                                                               const BlendGrains& of) {
    constexpr double kNone = 0.5;  // a figure for all is not asked for
    BW_TRY(figures, figure_for_each({kNone, r.seen}, of.constituents, "seen"));
    std::vector<std::optional<double>> out(of.constituents.size());
    for (std::size_t i = 0; i < out.size(); ++i) {
        const bool given = std::any_of(r.seen.begin(), r.seen.end(), [&](const auto& s) {
            return matter::require_constituent(s.first).value() == of.constituents[i];
        });
        out[i] = given ? std::optional<double>(figures[i]) : std::nullopt;
    }
    return out;
}

/// The mass, or the increments of the first mass, from which on grains do not count.
void add_enough(const blend::Scatter& scatter, double allowed, const BlendMixingRequest& r,
                ConstituentMixing& c) {
    constexpr double kMostOfBatch = 0.5;
    const double lot_g = r.batch_kg * unit::kGramPerKg;
    const double of_large_lot_g = scatter.least_portion_g(allowed);
    const double enough_g = 1 / (1 / of_large_lot_g + 1 / lot_g);  // what is left balances it
    c.enough_kg = of_large_lot_g > 0 ? enough_g / unit::kGramPerKg : 0;
    const double first_kg = r.samples_kg.front();
    const auto number = blend::increments_needed(std::sqrt(c.enough_kg / first_kg), 1);
    if (number && *number * first_kg <= kMostOfBatch * r.batch_kg) {
        c.increments = *number;
    }
}

Result<std::vector<ConstituentMixing>> constituents_of(const BlendMixingRequest& r,
                                                       const BlendGrains& of) {
    const std::vector<GrainPart> grains = of.grains();
    BW_TRY(scatter, blend::scatter_of(grains));
    BW_TRY(unmixed, blend::unmixed_variances(grains));
    BW_TRY(repeatability, figure_for_each(r.repeatability, of.constituents, "repeatability"));
    BW_TRY(seen, seen_by_constituent(r, of));
    const double lot_g = r.batch_kg * unit::kGramPerKg;
    std::vector<ConstituentMixing> out;
    for (std::size_t i = 0; i < scatter.size(); ++i) {
        ConstituentMixing c;
        c.constituent = of.constituents[i];
        c.unmixed = std::sqrt(unmixed[i]);
        c.repeatability = repeatability[i];
        const double analysis = repeatability[i] / std::sqrt(static_cast<double>(r.results));
        for (const double sample : r.samples_kg) {
            c.proofs.push_back(proof_of(
                scatter[i].relative_sd(sample * unit::kGramPerKg, lot_g).expected, analysis, r));
        }
        const double first = c.proofs.front().by_chance;
        add_enough(scatter[i], blend::scatter_allowed_beside(analysis), r, c);
        if (seen[i]) {
            c.seen = seen_of(*seen[i], unmixed[i], first, analysis);
        }
        out.push_back(std::move(c));
    }
    std::stable_sort(out.begin(), out.end(), [](const auto& a, const auto& b) {
        return a.proofs.front().by_chance > b.proofs.front().by_chance;
    });
    return out;
}

void note_premixes(const BlendMixingReport& report, base::Notices& notices) {
    constexpr double kFew = 1e4;  // grains: they scatter by 1 %
    for (const PremixPlan& plan : report.premixes) {
        for (const PremixPlan::Part& part : plan.parts) {
            if (report.premix_for > 1 && part.equal_grains < kFew) {
                notices.push_back(
                    {"premix_grains",
                     fmt::format("The {} in the premix for one batch counts as {} equal grains: "
                                 "parts of this premix differ by {} % in it. Weigh it for each "
                                 "batch, or take finer grains.",
                                 base::quoted(part.material),
                                 base::format_short(part.equal_grains, 2),
                                 base::format_short(part.relative_sd * unit::kPercent, 2))});
            }
        }
    }
}

void note_seen(const BlendMixingReport& report, base::Notices& notices) {
    std::vector<std::string> below, hardly;
    for (const ConstituentMixing& c : report.constituents) {
        if (c.seen && c.seen->of_blend < c.proofs.front().by_chance) {
            below.emplace_back(c.constituent.symbol());
        }
        if (c.proofs.front().by_chance >= c.unmixed && c.unmixed > 0) {
            hardly.emplace_back(c.constituent.symbol());
        }
    }
    if (!below.empty()) {
        notices.push_back({"seen_below_chance",
                           fmt::format("{} differed by less than chance alone gives: the samples "
                                       "were larger, the grains finer than stated, or it was luck.",
                                       base::join_words(below))});
    }
    if (!hardly.empty()) {
        notices.push_back(
            {"hardly_a_grain", fmt::format("For {} the smallest sample holds hardly a grain: its "
                                           "figures say no more than that.",
                                           base::join_words(hardly))});
    }
}

}  // namespace

Result<BlendMixingReport> blend_mixing(const BlendMixingRequest& request) {
    BW_CHECK(check(request));
    BW_TRY(of, blend_grains(request.recipe, request.materials));
    if (of.constituents.empty()) {
        return fail(ProblemCode::BadInput,
                    "no material of the recipe is weighed for a constituent: there is nothing to "
                    "test",
                    {request.recipe.name, 0, ""});
    }
    BlendMixingReport out;
    out.recipe = of.recipe;
    out.invented = of.invented;
    out.batch_kg = request.batch_kg;
    out.wanted = request.wanted;
    out.confidence = request.confidence;
    out.samples_kg = request.samples_kg;
    out.results = request.results;
    out.premix_for = request.premix_for;
    out.provable = blend::provable_sd(request.wanted, kContent);
    BW_CHECK(Premixes(of, request).plan(out));
    BW_TRY(constituents, constituents_of(request, of));
    out.constituents = std::move(constituents);
    out.proven = std::all_of(out.constituents.begin(), out.constituents.end(),
                             [](const auto& c) { return c.proofs.back().samples.has_value(); });
    note_premixes(out, out.notices);
    note_seen(out, out.notices);
    out.notices.insert(out.notices.end(), of.notices.begin(), of.notices.end());
    return out;
}

}  // namespace bw::service
