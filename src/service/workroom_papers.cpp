// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/workroom_papers.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "service/batch_run.hpp"
#include "service/blend_scatter.hpp"
#include "service/certificate_paper.hpp"
#include "service/paper_safety.hpp"
#include "service/people.hpp"
#include "service/recipe_versions.hpp"
#include "unit/factors.hpp"
#include "unit/unit_table.hpp"

namespace bw::service {
namespace {

constexpr int kDigits = 7;
constexpr int kAboutDigits = 4;
constexpr std::size_t kDayLength = 10;
constexpr std::size_t kSecondsLength = 19;

std::string kg(double mass) { return base::format_short(mass, kDigits); }
std::string about(double mass) { return base::format_significant(mass, kAboutDigits); }

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

/// A mass as it was typed, in the unit of its line, with the decimals that were typed: 440.0 of
/// "0.4400 kg" and of "440.0 g".
std::string typed_digits(const std::string& typed, const works::MassForm& form) {
    const auto quantity = unit::parse_quantity(typed, "kg");
    if (typed.empty() || !quantity) {
        return typed;
    }
    const double factor = form.unit == "g" ? unit::kGramPerKg : 1;
    const std::string number = typed.substr(0, typed.find(' '));
    const std::size_t point = number.find('.');
    const int shift = static_cast<int>(std::lround(-std::log10(quantity->unit.factor * factor)));
    const int places =
        shift + (point == std::string::npos ? 0 : static_cast<int>(number.size() - point - 1));
    return base::format_places(quantity->value() * factor, std::max(0, places));
}

/// How a printed instant reads in a box: to the minute, in UTC.
std::string taken_words(const works::Sample& s, const std::string& by) {
    return fmt::format("Taken: {}, {} in {} increments, by {} on {}{}.", s.number, s.mass,
                       s.increments, by, printed_instant(s.taken_at),
                       s.split_by.empty() ? "" : ", split by " + s.split_by);
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
        safety(recipe.is, batch.is);
        BW_CHECK(additions(batch.is, weighings));
        BW_CHECK(steps(batch.is, recipe.is));
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
        out_.planned_on = batch.planned_at.substr(0, kDayLength);
        out_.state = name(batch.state);
        out_.before_start = {
            "Previous product is out of the room, the blender and the scales",
            "Each lot stands ready with its label: material and lot as on this sheet, in date",
            "Gloves, eye protection, dust mask and extraction as the safety data sheets ask"};
    }

    static std::string signed_by(const works::Signature& s) {
        return fmt::format("{} ({}), {}", s.name, s.duty, s.at.substr(0, kDayLength));
    }

    /// Names what was signed; a version that nobody approved has no decision.
    void safety(const works::RecipeVersion& version, const works::Batch& batch) {
        if (!version.approved) {
            out_.safety = safety_of(version, "");
            return;
        }
        out_.safety = safety_of(version, signed_by(*version.approved));
        out_.safety.signed_for = {
            fmt::format("Recipe version {} approved with these hazards and cautions by {}.",
                        version.number, signed_by(*version.approved))};
        if (batch.adjustment_approved) {
            out_.safety.signed_for.push_back(fmt::format("Lot adjustment approved by {}.",
                                                         signed_by(*batch.adjustment_approved)));
        }
    }

    /// The name of a person as it is printed.
    [[nodiscard]] Result<std::string> name_of(const std::string& person) const {
        BW_TRY(found, if_kept<works::Person>(books_, person));
        return found ? found->is.name : person;
    }

    /// What a weighing was before its last correction, who corrected it, when and why; or nothing.
    [[nodiscard]] Result<std::string> correction_of(const std::string& id) const {
        BW_TRY(versions, books_.history(kKind<works::Weighing>, id));
        if (versions.size() < 2) {
            return std::string();
        }
        BW_TRY(before, read_record<works::Weighing>(versions[versions.size() - 2].body));
        store::EntryQuery query;
        query.subject_kind = kKind<works::Weighing>;
        query.subject_id = id;
        query.limit = 1;  // the newest
        BW_TRY(entries, books_.entries(query));
        if (entries.empty()) {
            return std::string();
        }
        BW_TRY(by, name_of(entries.front().person));
        return fmt::format("corrected from {} by {}, {}: {}", before.net, by,
                           printed_instant(entries.front().at), entries.front().why);
    }

    Result<std::vector<report::SheetWeighing>> weighed(const std::vector<works::Weighing>& all,
                                                       const works::Addition& addition,
                                                       const works::MassForm& form) const {
        std::vector<report::SheetWeighing> out;
        const works::AdditionState state = works::state_of(addition, all);
        for (const works::Weighing& w : all) {
            if (w.step != addition.step) {
                continue;
            }
            BW_TRY(by, name_of(w.by));
            BW_TRY(correction, correction_of(w.id()));
            const bool whole = static_cast<std::int64_t>(out.size()) + 1 == state.parts;
            out.push_back({typed_digits(w.net, form), typed_digits(w.tare, form), by,
                           printed_instant(w.at), w.scale, w.by_hand,
                           state.verdict != works::WeighingVerdict::Within, whole, correction});
        }
        return out;
    }

    Result<report::SheetAddition> line(const works::Addition& a,
                                       const std::vector<works::Weighing>& weighings) const {
        BW_TRY(scale, kept<works::Scale>(books_, a.scale));
        report::SheetAddition out;
        out.step = std::to_string(a.step);
        out.material = a.material;
        out.lot = a.lot;
        const works::MassForm form = works::form_of(a, scale.is);
        out.unit = form.unit;
        out.target = works::digits(a.target_kg, form);
        out.tolerance = works::digits(a.tolerance_kg, form);
        out.scale = a.scale;
        out.resolution = step_in_words(scale.is);
        BW_TRY(done, weighed(weighings, a, form));
        out.weighings = std::move(done);
        out.parts = static_cast<std::size_t>(works::parts_of(a.target_kg, scale.is));
        out.part = about(a.target_kg / static_cast<double>(out.parts) *
                         (form.unit == "g" ? unit::kGramPerKg : 1));
        return out;
    }

    /// Words of one premix; its lines come one by one.
    struct Premix {
        const char* into;
        const char* carrier;
        const std::vector<works::PremixStage>& stages;
        report::SheetPremix out{};
        std::size_t stage = 0;
    };

    static void add_stage(Premix& premix, const works::Addition& a,
                          const report::SheetAddition& filled) {
        if (a.into == premix.carrier && premix.stage < premix.stages.size()) {
            premix.out.steps.push_back(
                fmt::format("Stage {}: add step {}, {} {} of {}; mix well; about {} kg in all.",
                            premix.stage + 1, a.step, filled.target, filled.unit, a.material,
                            about(premix.stages[premix.stage].total_kg)));
            ++premix.stage;
        }
    }

    Result<void> additions(const works::Batch& batch,
                           const std::vector<works::Weighing>& weighings) {
        Premix early{works::kPremix, works::kPremixCarrier, batch.premix};
        Premix late{works::kLatePremix, works::kLatePremixCarrier, batch.late_premix};
        early.out.name = "Premix";
        late.out.name = "Late premix, apart from carbonates, borates and fluorides";
        for (const works::Addition& a : batch.additions) {
            BW_TRY(filled, line(a, weighings));
            bool in_premix = false;
            for (Premix* premix : {&early, &late}) {
                if (a.into == premix->into || a.into == premix->carrier) {
                    premix->out.additions.push_back(filled);
                    add_stage(*premix, a, filled);
                    in_premix = true;
                }
            }
            if (!in_premix) {
                out_.additions.push_back(std::move(filled));
            }
        }
        finish(early.out, "", "The premix goes into the blender with the first bulk step.");
        if (!late.out.additions.empty()) {
            place(late.out);
        }
        return {};
    }

    /// Puts the late premix where it is made, and says when it goes in.
    void place(report::SheetPremix& late) {
        const auto follows = std::find_if(
            out_.additions.begin(), out_.additions.end(), [&](const report::SheetAddition& a) {
                return std::stoll(a.step) > std::stoll(late.additions.back().step);
            });
        late.after = static_cast<std::size_t>(follows - out_.additions.begin());
        const std::string when = follows == out_.additions.begin()
                                     ? std::string("first")
                                     : "after step " + std::prev(follows)->step;
        finish(late,
               "Make it only when the dry salts are in the blender, " + when +
                   ": it draws water, or reacts with carbonates once damp.",
               "The late premix goes into the blender at once, " + when + ".");
    }

    void finish(report::SheetPremix premix, const std::string& when, const std::string& into) {
        if (premix.additions.empty()) {
            return;
        }
        premix.vessel = "a closed vessel of its own";
        premix.steps.insert(premix.steps.begin(),
                            "Weigh the small portions and mix them dry before any carrier.");
        if (!when.empty()) {
            premix.steps.insert(premix.steps.begin(), when);
        }
        premix.steps.push_back(into);
        out_.premixes.push_back(std::move(premix));
    }

    Result<void> steps(const works::Batch& batch, const works::RecipeVersion& recipe) {
        out_.steps = {{"Blend", "as the blender's own instruction says", "", "", ""},
                      {"Room humidity, %", "below what wets the salt: blend dry", "", "", ""}};
        const works::SamplingPlan plan = works::plan_for(batch.blend_g_per_kg_purified_water);
        out_.sampling = {
            fmt::format("{} increments of {} g each.", plan.increments, kg(plan.increment_g)),
            "Where: " + plan.where + ".", "Why: " + plan.basis + "."};
        BW_TRY(documents, documents_of(recipe));
        BW_TRY(grains, blend_grains(documents.recipe, {documents.materials}));
        BW_TRY(scatter,
               scatter_sentences(grains, plan.increment_g, batch.size_kg * unit::kGramPerKg));
        out_.sampling.insert(out_.sampling.end(), scatter.begin(), scatter.end());
        store::ListQuery of_batch;
        of_batch.pointing_to = store::Link{"of", kKind<works::Batch>, batch.number};
        BW_TRY(samples, kept_list<works::Sample>(books_, of_batch));
        for (const auto& sample : samples) {
            BW_TRY(by, name_of(sample.is.taken_by));
            out_.sampling.push_back(taken_words(sample.is, by));
        }
        return {};
    }

    void yield(const works::Batch& batch, const std::vector<works::Weighing>& weighings) {
        if (!batch.yield) {
            return;
        }
        const double in_kg = works::weighed_in_kg(weighings);
        const works::Yield& y = *batch.yield;
        out_.yield = {kg(in_kg),
                      kg(y.packed_kg),
                      kg(y.sampled_kg),
                      kg(y.swept_kg),
                      base::format_short(in_kg - works::came_out_kg(y), 3),
                      base::format_places(y.packed_kg / in_kg * unit::kPercent, 1) + " %"};
    }

    void signatures(const works::Batch& batch) {
        if (batch.adjustment_approved) {
            const works::Signature& s = *batch.adjustment_approved;
            out_.signatures.push_back({s.name, s.duty,
                                       s.meaning.find("adjustment") == std::string::npos
                                           ? "lot adjustment: " + s.meaning
                                           : s.meaning,
                                       printed_instant(s.at)});
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
    BW_TRY(taker, if_kept<works::Person>(books, sample.is.taken_by));
    report::SampleLabels out;
    out.mark = mark_of(number, at, trail_mark, site.invented);
    const auto label = [&](const std::string& increment, const std::string& kind) {
        report::SampleLabel l;
        l.id = number;
        l.product = batch.is.product;
        l.batch = sample.is.batch;
        l.increment = increment;
        l.taken_by = taker ? taker->is.name : sample.is.taken_by;
        l.taken_at = printed_instant(sample.is.taken_at);
        // What one container holds is not in the books.
        l.mass = fmt::format("of {} taken in all", sample.is.mass);
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
