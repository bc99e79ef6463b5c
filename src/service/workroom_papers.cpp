// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/workroom_papers.hpp"

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "service/batch_run.hpp"
#include "service/paper_safety.hpp"
#include "service/people.hpp"
#include "unit/factors.hpp"

namespace bw::service {
namespace {

constexpr int kDigits = 7;
constexpr std::size_t kDayLength = 10;
constexpr std::size_t kSecondsLength = 19;

std::string kg(double mass) { return base::format_short(mass, kDigits); }

/// "2026-03-09T14:05:00Z" of an instant with milliseconds.
std::string to_second(const std::string& at) { return at.substr(0, kSecondsLength) + "Z"; }

report::PaperMark mark_of(const std::string& number, const std::string& at,
                          const std::string& trail_mark, bool invented) {
    report::PaperMark mark;
    mark.number = number;
    mark.created = to_second(at);
    mark.trail_mark = trail_mark;
    mark.invented = invented;
    return mark;
}

/// In words: "10 g".
std::string step_in_words(const works::Scale& scale) {
    return scale.step_kg < 1 ? base::format_short(scale.step_kg * unit::kGramPerKg, kDigits) + " g"
                             : kg(scale.step_kg) + " kg";
}

std::vector<report::SheetWeighing> weighed(const std::vector<works::Weighing>& all,
                                           const works::Addition& addition) {
    std::vector<report::SheetWeighing> out;
    const works::AdditionState state = works::state_of(addition, all);
    for (const works::Weighing& w : all) {
        if (w.step == addition.step) {
            out.push_back({kg(w.net_kg), w.tare, w.by, w.at.substr(0, kSecondsLength), w.scale,
                           w.by_hand, state.verdict != works::WeighingVerdict::Within});
        }
    }
    return out;
}

class SheetFiller {
public:
    SheetFiller(const store::Books& books, report::BatchSheet& out) : books_(books), out_(out) {}

    Result<void> fill(const std::string& number) {
        BW_TRY(batch, kept<works::Batch>(books_, number));
        BW_TRY(recipe, kept<works::RecipeVersion>(books_, batch.is.recipe));
        BW_TRY(weighings, weighings_of(books_, number));
        BW_TRY(departures, departures_of(books_, number));
        head(batch.is);
        safety(recipe.is);
        BW_CHECK(additions(batch.is, weighings));
        steps(batch.is);
        for (const works::Departure& d : departures) {
            out_.departures.push_back({d.number, d.what, d.answer, std::string(name(d.state))});
        }
        yield(batch.is, weighings);
        signatures(batch.is);
        return {};
    }

private:
    void head(const works::Batch& batch) {
        out_.batch = batch.number;
        out_.product = batch.product;
        out_.recipe = batch.product;
        out_.recipe_version = batch.recipe.substr(batch.recipe.rfind('/') + 1);
        out_.size = kg(batch.size_kg) + " kg";
        out_.planned_for = batch.planned_at.substr(0, kDayLength);
        out_.state = name(batch.state);
        out_.before_start = {
            "Previous product is out of the room, the blender and the scales",
            "Each lot stands ready with its label: material and lot as on this sheet, in date",
            "Gloves, eye protection, dust mask and extraction as the safety data sheets ask"};
    }

    void safety(const works::RecipeVersion& version) {
        out_.safety = safety_of(
            version, version.approved ? fmt::format("{}, {}", version.approved->name,
                                                    version.approved->at.substr(0, kDayLength))
                                      : std::string());
    }

    Result<report::SheetAddition> line(const works::Addition& a,
                                       const std::vector<works::Weighing>& weighings) const {
        BW_TRY(scale, kept<works::Scale>(books_, a.scale));
        report::SheetAddition out;
        out.step = std::to_string(a.step);
        out.material = a.material;
        out.lot = a.lot;
        out.target = kg(a.target_kg);
        out.tolerance = kg(a.tolerance_kg);
        out.scale = a.scale;
        out.resolution = step_in_words(scale.is);
        out.weighings = weighed(weighings, a);
        return out;
    }

    Result<void> additions(const works::Batch& batch,
                           const std::vector<works::Weighing>& weighings) {
        report::SheetPremix premix;
        premix.name = "Premix";
        premix.vessel = "a closed vessel of its own";
        std::size_t stage = 0;
        for (const works::Addition& a : batch.additions) {
            BW_TRY(filled, line(a, weighings));
            if (a.into == "blender") {
                out_.additions.push_back(std::move(filled));
                continue;
            }
            premix.additions.push_back(std::move(filled));
            if (a.into == "premix carrier" && stage < batch.premix.size()) {
                premix.steps.push_back(fmt::format(
                    "Stage {}: add step {}, {} kg of {}; mix well; {} kg in all.", stage + 1,
                    a.step, kg(a.target_kg), a.material, kg(batch.premix[stage].total_kg)));
                ++stage;
            }
        }
        if (!premix.additions.empty()) {
            premix.steps.insert(premix.steps.begin(),
                                "Weigh the small portions and mix them dry before any carrier.");
            premix.steps.emplace_back("The premix goes into the blender with the first bulk step.");
            out_.premixes.push_back(std::move(premix));
        }
        return {};
    }

    void steps(const works::Batch& batch) {
        out_.steps = {{"Blend", "as the blender's own instruction says", "", "", ""},
                      {"Room humidity, %", "below what wets the salt: blend dry", "", "", ""}};
        const works::SamplingPlan plan = works::plan_for(batch.blend_g_per_kg_purified_water);
        out_.sampling = {
            fmt::format("{} increments of {} g each.", plan.increments, kg(plan.increment_g)),
            "Where: " + plan.where + ".", "Why: " + plan.basis + "."};
    }

    void yield(const works::Batch& batch, const std::vector<works::Weighing>& weighings) {
        if (!batch.yield) {
            return;
        }
        double in_kg = 0;
        for (const works::Weighing& w : weighings) {
            in_kg += w.net_kg;
        }
        const works::Yield& y = *batch.yield;
        const double missing = in_kg - y.packed_kg - y.sampled_kg - y.swept_kg;
        out_.yield = {kg(in_kg),
                      kg(y.packed_kg),
                      kg(y.sampled_kg),
                      kg(y.swept_kg),
                      base::format_short(missing, 3),
                      base::format_places(y.packed_kg / in_kg * unit::kPercent, 1) + " %"};
    }

    void signatures(const works::Batch& batch) {
        if (batch.adjustment_approved) {
            const works::Signature& s = *batch.adjustment_approved;
            out_.signatures.push_back({s.name, s.duty, s.meaning, s.at});
        }
        for (const char* duty : {"operator", "second person"}) {
            out_.signatures.push_back({"", duty, "", ""});
        }
    }

    const store::Books& books_;
    report::BatchSheet& out_;
};

}  // namespace

Result<report::BatchSheet> batch_sheet(const store::Books& books, const std::string& number,
                                       const std::string& at) {
    BW_TRY(site, site_of(books));
    BW_TRY(trail_mark, books.mark());
    report::BatchSheet out;
    out.mark = mark_of(number, at, trail_mark, site.invented);
    out.maker = {site.name, {site.address}, ""};
    BW_CHECK(SheetFiller(books, out).fill(number));
    return out;
}

Result<report::SampleLabels> sample_labels(const store::Books& books, const std::string& number,
                                           const std::string& at) {
    BW_TRY(site, site_of(books));
    BW_TRY(trail_mark, books.mark());
    BW_TRY(sample, kept<works::Sample>(books, number));
    BW_TRY(batch, kept<works::Batch>(books, sample.is.batch));
    report::SampleLabels out;
    out.mark = mark_of(number, at, trail_mark, site.invented);
    const auto label = [&](const std::string& increment, const std::string& kind) {
        report::SampleLabel l;
        l.id = number;
        l.product = batch.is.product;
        l.batch = sample.is.batch;
        l.increment = increment;
        l.taken_by = sample.is.taken_by;
        l.taken_at = sample.is.taken_at.substr(0, kDayLength);
        // What the container of one increment holds is not in the books.
        l.mass = sample.is.mass + (increment.empty() ? "" : " in all");
        l.kind = kind;
        return l;
    };
    for (std::int64_t i = 1; i <= sample.is.increments; ++i) {
        out.labels.push_back(label(fmt::format("{} of {}", i, sample.is.increments), ""));
    }
    out.labels.push_back(label("", "all together, for tests"));
    out.labels.push_back(label("", "all together, retained"));
    return out;
}

}  // namespace bw::service
