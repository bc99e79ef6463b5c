// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/mixing_sheets.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "brine/instrument.hpp"
#include "io/material_file.hpp"
#include "service/blend_scatter.hpp"
#include "service/mixed_water.hpp"
#include "service/paper_safety.hpp"
#include "service/papers.hpp"
#include "service/path_advice.hpp"
#include "service/path_run.hpp"
#include "service/people.hpp"
#include "service/recipe_versions.hpp"
#include "store/digest.hpp"
#include "unit/factors.hpp"

namespace bw::service {
namespace {

constexpr int kDigits = 4;
constexpr int kSaltDigits = 3;
constexpr double kLitresAt = 25;  // degC, at which vats are filled
constexpr std::size_t kSeconds = 19;
constexpr std::int64_t kMostIssues = 1000;

/// The water that the batch makes, as a salt's law.
Result<std::unique_ptr<brine::SaltLaw>> law_of(const works::Batch& batch) {
    BW_TRY(water, water_of(batch));
    return law_of_amounts(water);
}

std::string grams(double g) {
    return g < unit::kGramPerKg ? base::format_significant(g, kSaltDigits) + " g"
                                : base::format_significant(g / unit::kGramPerKg, kDigits) + " kg";
}

/// How much of salt and water for a volume.
class Doses {
public:
    Doses(double g_per_kg_water, double density_kg_per_L)
        : salt_share_(g_per_kg_water / (unit::kGramPerKg + g_per_kg_water)),
          density_(density_kg_per_L) {}

    [[nodiscard]] double salt_g(double litres) const {
        return litres * density_ * salt_share_ * unit::kGramPerKg;
    }
    [[nodiscard]] double water_kg(double litres) const {
        return litres * density_ * (1 - salt_share_);
    }

private:
    double salt_share_, density_;
};

Result<std::vector<report::CheckReading>> readings_of(const brine::SaltLaw& law,
                                                      unit::GramPerKg dissolved) {
    constexpr double kTemperatures[] = {20, 25};
    constexpr int kPlacesOfDensity = 4;
    std::vector<report::CheckReading> out;
    for (const double celsius : kTemperatures) {
        const unit::Celsius t(celsius);
        const auto shown = [&](const brine::Instrument& instrument, int places) {
            const auto value = brine::expected_reading(law, instrument, dissolved, t);
            return value ? base::format_places(*value, places) : std::string();
        };
        report::CheckReading r;
        r.temperature = base::format_short(celsius, kDigits);
        r.conductivity = shown(brine::ConductivityMeter{}, 1);
        r.relative_density = shown(brine::Hydrometer{}, kPlacesOfDensity);
        r.dial_sodium_chloride = shown(brine::Refractometer{}, 1);
        brine::Refractometer seawater;
        seawater.dial = brine::Refractometer::Dial::Seawater;
        r.dial_seawater = shown(seawater, 1);
        out.push_back(std::move(r));
    }
    return out;
}

Result<void> dissolving(const works::RecipeVersion& version, double keep_h,
                        report::MixingSheet& out) {
    BW_TRY(documents, documents_of(version));
    PathRequest request;
    request.recipe = documents.recipe;
    request.materials = {documents.materials};
    request.keep_h = keep_h;
    BW_TRY(report, path_run(request));
    auto row = temperatures_no_worse(report.temperatures, path::Risk::Clear);
    if (!row) {
        row = temperatures_no_worse(report.temperatures, path::Risk::Watch);
    }
    if (!row) {
        return fail(ProblemCode::Refused,
                    fmt::format("the water of recipe {} clouds within {} h at every temperature: "
                                "no sheet can say how to mix it",
                                version.id(), base::format_exact(keep_h)));
    }
    out.temperature_low = base::format_short(row->low, kDigits);
    out.temperature_high = base::format_short(row->high, kDigits);
    out.stir_time = path::hours_in_words(report.verdict.stir_h);
    out.cloudy_after = path::hours_in_words(report.verdict.stir_h);
    out.use_within = path::hours_in_words(std::min(keep_h, report.verdict.safe.use_within_h));
    return {};
}

Result<void> check_order(const MixingOrder& order, const works::Batch& batch) {
    constexpr double kLeastLitres = 0.1;  // our rule: from a beaker to a farm's basin
    constexpr double kMostLitres = 1e6;
    for (const double litres : order.litres) {
        if (!(litres >= kLeastLitres && litres <= kMostLitres)) {
            return fail(ProblemCode::OutOfRange,
                        fmt::format("a sheet gives amounts for 0.1 to 1 000 000 L, and {} was "
                                    "asked for",
                                    base::format_exact(litres)),
                        {"", 0, "litres"});
        }
    }
    if (!(order.keep_h > 0) || !std::isfinite(order.keep_h)) {
        return fail(ProblemCode::OutOfRange, "the finished water is to keep for hours above 0",
                    {"", 0, "keep"});
    }
    if (!io::is_day(order.use_by)) {
        return fail(ProblemCode::BadInput, io::not_a_day(order.use_by), {"", 0, "use_by"});
    }
    if (order.use_by < batch.made_on) {
        return fail(ProblemCode::BadInput,
                    fmt::format("{} is before {}, on which the batch was made", order.use_by,
                                batch.made_on),
                    {"", 0, "use_by"});
    }
    return {};
}

/// All issues of a batch's sheet, the newest last.
Result<std::vector<works::MixingSheet>> issues_of(const store::Books& books,
                                                  const std::string& batch) {
    store::ListQuery query;
    query.id_prefix = "MS-" + batch + "/";
    query.limit = kMostIssues;
    BW_TRY(rows, kept_list<works::MixingSheet>(books, query));
    std::vector<works::MixingSheet> out;
    out.reserve(rows.size());
    for (auto& row : rows) {
        out.push_back(std::move(row.is));
    }
    std::ranges::sort(out, {}, &works::MixingSheet::issue);
    return out;
}

Result<void> check_released(const ReleaseView& view) {
    const works::Batch& batch = view.reading.file.batch;
    if (const std::string other = other_decision(view); !other.empty()) {
        return fail(ProblemCode::Refused, other + ": a mixing sheet is printed for a released one");
    }
    if (batch.state != works::BatchState::Released || view.stale()) {
        return fail(ProblemCode::Refused,
                    fmt::format("batch {} is {}{}: a mixing sheet is printed for a released one",
                                batch.number, name(batch.state),
                                view.stale() ? ", and its release no longer holds" : ""));
    }
    return {};
}

}  // namespace

Result<MixingDraft> draft_mixing_sheet(const store::Books& books, const MixingOrder& order) {
    BW_TRY(view, show_release(books, order.batch));
    BW_CHECK(check_released(view));
    BW_CHECK(check_order(order, view.reading.file.batch));
    BW_TRY(site, site_of(books));
    const works::Batch& batch = view.reading.file.batch;
    BW_TRY(law, law_of(batch));
    const unit::GramPerKg dissolved(view.reading.recipe.dissolved_g_per_kg);
    BW_TRY(density, law->density_kg_per_m3(dissolved, unit::Celsius(kLitresAt)));
    BW_TRY(practical, law->practical_salinity_of(dissolved));
    const Doses doses(batch.blend_g_per_kg_purified_water, density / unit::kLitrePerM3);
    report::MixingSheet out;
    out.mark.number = "MS-" + batch.number;
    out.mark.created = view.decision->is.approved.at.substr(0, kSeconds) + "Z";
    out.mark.invented = site.invented || batch.invented;
    out.maker = {site.name, {site.address}, ""};
    out.product = batch.product;
    out.batch = batch.number;
    out.use_by = order.use_by;
    out.salinity = base::format_significant(dissolved.value(), kSaltDigits) + " g/kg";
    out.practical_salinity = base::format_significant(practical.value(), kSaltDigits);
    out.salt_per_litre = grams(doses.salt_g(1));
    out.salt_per_kg_water = grams(batch.blend_g_per_kg_purified_water);
    out.basis = fmt::format("{} \u00B0C", kLitresAt);
    for (const double litres : order.litres) {
        out.amounts.push_back({base::format_short(litres, kDigits) + " L",
                               base::format_significant(doses.water_kg(litres), kDigits) + " kg",
                               grams(doses.salt_g(litres))});
    }
    out.density_reference = "20 \u00B0C / 20 \u00B0C";
    out.instrument_notes = {
        "Conductivity is that at the water's own temperature, without compensation.",
        "A refractometer is taken as compensated to 20 \u00B0C."};
    BW_TRY(readings, readings_of(*law, dissolved));
    out.readings = std::move(readings);
    BW_CHECK(dissolving(view.reading.recipe, order.keep_h, out));
    BW_TRY(documents, documents_of(view.reading.recipe));
    BW_TRY(grains, blend_grains(documents.recipe, {documents.materials}));
    const double least_L = *std::min_element(order.litres.begin(), order.litres.end());
    BW_TRY(taking, taking_sentences(grains, doses.salt_g(least_L)));
    out.taking = std::move(taking);
    out.safety = safety_of(view.reading.recipe, "");
    for (auto* statements : {&out.safety.hazards, &out.safety.precautions}) {
        for (report::HazardStatement& each : *statements) {
            each.of.clear();  // the end user has the blend, not its materials
        }
    }
    // Cautions are for who handles the materials; who dissolves the blend meets neither.
    out.safety.cautions = {
        "The statements are those of the pure materials in it; how the blend itself is classified "
        "stands in its own safety data sheet."};
    const std::string mark = store::sha256_hex(mixing_sheet_json(out));
    return MixingDraft{std::move(out), mark};
}

Result<store::Receipt> sign_mixing_sheet(const Desk& desk, const MixingOrder& order,
                                         const Signing& signing, const Intent& intent) {
    BW_TRY(done, desk.books->receipt(intent.request));
    if (done && !done->answer.starts_with("MS-" + order.batch + "/")) {
        return fail(ProblemCode::Refused,
                    "this request number was used for another act before: make a new one for this "
                    "sheet",
                    {"", 0, "request"});
    }
    return act(
        desk, {works::Deed::SignMixingSheet, "mixing-sheet sign", kKind<works::MixingSheet>, ""},
        intent, [&](store::Change& change) -> Result<void> {
            BW_TRY(view, show_release(*desk.books, order.batch));
            BW_TRY(draft, draft_mixing_sheet(*desk.books, order));
            BW_CHECK(check_shown(
                {order.shown,
                 fmt::format("the sheet of batch {} as it would be signed now", order.batch)},
                draft.mark));
            BW_TRY(issues, issues_of(*desk.books, order.batch));
            works::MixingSheet next;
            next.batch = order.batch;
            next.product = draft.sheet.product;
            next.issue = static_cast<std::int64_t>(issues.size()) + 1;
            next.release = view.decision->is.number;
            next.release_mark = view.decision->is.approved.mark;
            next.use_by = order.use_by;
            report::MixingSheet sheet = std::move(draft.sheet);
            sheet.mark.number = next.id();
            sheet.mark.created = desk.at.substr(0, kSeconds) + "Z";
            sheet.safety.decided_by = fmt::format("{}, {}", desk.person.name, desk.day());
            const std::string json = mixing_sheet_json(sheet);
            BW_TRY(pdf, report::mixing_sheet_pdf(sheet, report::MixingFormat::A5));
            BW_TRY(narrow, report::mixing_sheet_pdf(sheet, report::MixingFormat::NarrowA6));
            BW_TRY(signature, sign(desk, works::Deed::SignMixingSheet, "safety statement approved",
                                   signing, json));
            next.approved = signature;
            next.paper = store::sha256_hex(pdf);
            next.narrow = store::sha256_hex(narrow);
            next.data = store::sha256_hex(json);
            const std::string name = fmt::format("MS-{}-{}", next.batch, next.issue);
            change.attachments = {{name + ".pdf", kPdf, pdf},
                                  {name + "-narrow.pdf", kPdf, narrow},
                                  {name + ".json", kJson, json}};
            change.act.subject_id = next.id();
            change.writes.push_back(write_of(next, 0));
            change.expects = view.reading.expects;
            change.expects.push_back(expect_same(*view.decision));
            change.answer = next.id();
            return {};
        });
}

Result<MixingPapers> mixing_papers(const store::Books& books, const std::string& batch) {
    BW_TRY(issues, issues_of(books, batch));
    if (issues.empty()) {
        return fail(ProblemCode::NotFound,
                    fmt::format("no mixing sheet of batch {} is signed: it is shown as a "
                                "draft, then signed and kept",
                                base::quoted(batch)));
    }
    MixingPapers out;
    out.is = issues.back();
    BW_TRY(view, show_release(books, batch));
    BW_CHECK(check_released(view));
    if (view.decision->is.approved.mark != out.is.release_mark) {
        return fail(ProblemCode::Refused,
                    fmt::format("mixing sheet {} was signed for decision {} on batch {}, and "
                                "decision {} stands: sign it anew",
                                out.is.id(), out.is.release, batch, view.decision->is.number));
    }
    BW_TRY(pdf, books.attachment(out.is.paper));
    BW_TRY(narrow, books.attachment(out.is.narrow));
    BW_TRY(json, books.attachment(out.is.data));
    out.pdf = std::move(pdf.bytes);
    out.narrow_pdf = std::move(narrow.bytes);
    out.json = std::move(json.bytes);
    return out;
}

}  // namespace bw::service
