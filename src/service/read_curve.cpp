// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/read_curve.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "brine/physical_constants.hpp"
#include "brine/seawater_density.hpp"
#include "brine/temperature_scale.hpp"
#include "service/recipe_water.hpp"

namespace bw::service {
namespace {

constexpr double kMilli = 1e-3;
constexpr double kMicro = 1e6;
// Totals of natural seawater per unit of practical salinity, mol/kg [dickson-2007-guide].
constexpr double kChlorinityPerSalinity = 1 / 1.80655;
constexpr double kSulfate = 0.14 / 96.062 * kChlorinityPerSalinity;
constexpr double kFluoride = 6.7e-5 / 18.998 * kChlorinityPerSalinity;

/// The problem with the curve's file as its place.
tl::unexpected<Problem> in_file(Problem problem, const io::TitrationFile& file) {
    if (problem.place.file.empty()) {
        problem.place.file = file.file;
    }
    return tl::make_unexpected(std::move(problem));
}

/// A point's place by its number, where one is at fault.
Result<void> check_points(const io::TitrationFile& file, bool from_0) {
    for (std::size_t i = 0; i < file.points.size(); ++i) {
        const bool rises = i == 0 || file.points[i].volume > file.points[i - 1].volume;
        const bool above = file.points[i].volume > 0 || (from_0 && file.points[i].volume == 0);
        if (!rises || !above) {
            return fail(
                ProblemCode::BadInput,
                fmt::format("titrant {} {} is not {}: it has to rise from point to point",
                            base::format_exact(file.points[i].volume), file.by_mass ? "g" : "mL",
                            rises ? "above 0" : "above that of the point before"),
                {file.file, file.lines[i], {}});
        }
    }
    return {};
}

Result<void> take_totals(const CurveRequest& request, CurveAlkalinity& out) {
    const io::TitrationFile& file = request.file;
    assay::AlkalinityTitration& t = out.titration;
    if (request.recipe && !(file.sulfate_mol_per_kg && file.fluoride_mol_per_kg)) {
        BW_TRY(water, recipe_water(*request.recipe, request.materials));
        t.sulfate_mol_per_kg =
            file.sulfate_mol_per_kg.value_or(water.input.mol_per_kg[matter::constituent("SO4")]);
        t.fluoride_mol_per_kg =
            file.fluoride_mol_per_kg.value_or(water.input.mol_per_kg[matter::constituent("F")]);
        out.totals_from = "the recipe's made-up water";
        return {};
    }
    t.sulfate_mol_per_kg = file.sulfate_mol_per_kg.value_or(kSulfate * *file.salinity);
    t.fluoride_mol_per_kg = file.fluoride_mol_per_kg.value_or(kFluoride * *file.salinity);
    out.totals_from = file.sulfate_mol_per_kg && file.fluoride_mol_per_kg
                          ? "the file"
                          : "natural seawater of the salinity";
    return {};
}

Result<CurveAlkalinity> alkalinity_of(const CurveRequest& request) {
    const io::TitrationFile& file = request.file;
    CurveAlkalinity out;
    assay::AlkalinityTitration& t = out.titration;
    t.temperature = unit::Celsius(*file.celsius);
    t.salinity = unit::PracticalSalinity(*file.salinity);
    t.sample_kg = file.sample_g.value * kMilli;
    t.low_ph = file.low_ph;
    t.high_ph = file.high_ph;
    const double density = file.titrant_kg_per_L.value_or(1);
    t.acid_mol_per_kg =
        file.titrant.value * file.factor.value / (file.titrant_per_kg ? 1 : density);
    const double slope_V = std::log(10.0) * brine::kGasConstant_J_per_mol_K *
                           brine::kelvin(t.temperature) / brine::kFaraday_C_per_mol;
    for (const assay::CurvePoint& p : file.points) {
        const double kg = p.volume * kMilli * (file.by_mass ? 1 : density);
        const double emf =
            file.signal == io::TitrationSignal::Ph ? -slope_V * p.signal : p.signal * kMilli;
        if (kg > 0) {  // a first reading without acid has no excess to tell
            t.points.push_back({kg, emf});
        }
    }
    BW_TRY(sample_density, brine::seawater_density(t.salinity, t.temperature));
    out.kg_per_m3 = sample_density.value();
    BW_CHECK(take_totals(request, out));
    BW_TRY(fit, assay::fit_alkalinity(t));
    out.fit = std::move(fit);
    BW_TRY(budget, assay::budget_alkalinity(t, out.fit, file.doubts));
    out.budget = std::move(budget);
    for (std::size_t i = 0; i < out.fit.residuals.size(); ++i) {
        if (std::abs(out.fit.residuals[i].mol_per_kg) > kFarResidual * out.fit.rms_mol_per_kg) {
            out.far_points.push_back(i);
        }
    }
    return out;
}

void judge(const CurveAlkalinity& a, CurveReport& out) {
    const double rms = a.fit.rms_mol_per_kg * kMicro;
    if (rms > out.file.most_rms_umol_per_kg) {
        out.failed.push_back(fmt::format(
            "The points scatter by {} umol/kg about the fit, more than the {} allowed: look at the "
            "residuals for a point of another sample, an electrode that drifts or carbon dioxide "
            "that is not driven out.",
            base::format_significant(rms, 2), base::format_exact(out.file.most_rms_umol_per_kg)));
    }
    const double apart = (a.fit.modified_gran_mol_per_kg - a.fit.alkalinity_mol_per_kg) * kMicro;
    if (std::abs(apart) > kGranApart_umol_per_kg) {
        out.notices.push_back(
            {"gran_apart",
             fmt::format(
                 "Gran's modified line lies {} umol/kg off the fit, more than the {:g} that "
                 "a sound curve shows: check the range of pH and the acid's strength.",
                 base::format_places(apart, 1), kGranApart_umol_per_kg)});
    }
    for (const std::size_t i : a.far_points) {
        out.notices.push_back(
            {"far_point",
             fmt::format("The point at {} g of acid lies {} times the rms off the fit: "
                         "read it again; it is counted.",
                         base::format_significant(a.fit.residuals[i].acid_kg / kMilli, 4),
                         base::format_places(
                             std::abs(a.fit.residuals[i].mol_per_kg) / a.fit.rms_mol_per_kg, 1))});
    }
    if (a.totals_from == "natural seawater of the salinity") {
        out.notices.push_back(
            {"natural_totals",
             "Sulfate and fluoride are those of natural seawater of this salinity; an artificial "
             "salt has its own: state sulfate and fluoride, or name the recipe."});
    }
}

Result<CurveEndPoints> end_points_of(const io::TitrationFile& file) {
    CurveEndPoints out;
    BW_TRY(found, assay::find_end_points(file.points, file.options));
    out.found = std::move(found);
    out.counted = out.found.points.size() - 1;
    const assay::EndPoint& last = out.found.points[out.counted];
    assay::Consumption c;
    c.volume_mL = {last.volume, std::hypot(last.u, file.volume_u_mL.u)};
    c.blank_mL = file.blank_mL;
    c.titrant_mol_per_L = file.titrant;
    c.factor = file.factor;
    c.sample_g = file.sample_g;
    const auto amount = file.titrated == io::TitratedKind::Calcium
                            ? assay::calcium_by_egta(c, file.strontium, file.strontium_share)
                        : file.titrated == io::TitratedKind::Magnesium
                            ? assay::magnesium_by_edta(c, file.calcium, file.strontium)
                        : file.titrated == io::TitratedKind::Chloride
                            ? assay::chloride_by_silver(c, file.bromide, file.iodide)
                            : assay::titrated_amount(c);
    if (!amount) {
        return tl::make_unexpected(amount.error());
    }
    out.amount = *amount;
    return out;
}

void judge(const CurveEndPoints& e, CurveReport& out) {
    for (const assay::EndPoint& p : e.found.points) {
        if (p.rms > kLargestStepRms * std::abs(p.step)) {
            out.failed.push_back(fmt::format(
                "The points about the end point at {} mL scatter by {} % of the step: too much to "
                "trust its place.",
                base::format_places(p.volume, 3),
                base::format_significant(100 * p.rms / std::abs(p.step), 2)));
        }
    }
    constexpr double kMostBlank = 0.1;
    if (out.file.blank_mL.value > kMostBlank * e.found.points[e.counted].volume) {
        out.notices.push_back({"large_blank", "The blank is more than a tenth of the volume."});
    }
    if (e.found.points.size() < out.file.options.most) {
        out.notices.push_back(
            {"fewer_end_points", fmt::format("{} end points were looked for and {} found.",
                                             out.file.options.most, e.found.points.size())});
    }
}

}  // namespace

Result<CurveReport> read_curve(const CurveRequest& request) {
    CurveReport out;
    out.file = request.file;
    const bool alkalinity = request.file.method == io::TitrationMethod::Alkalinity;
    BW_CHECK(check_points(request.file, true));
    if (alkalinity) {
        auto found = alkalinity_of(request);
        if (!found) {
            return in_file(std::move(found).error(), request.file);
        }
        out.alkalinity = std::move(*found);
        judge(*out.alkalinity, out);
    } else {
        auto found = end_points_of(request.file);
        if (!found) {
            return in_file(std::move(found).error(), request.file);
        }
        out.end_points = std::move(*found);
        judge(*out.end_points, out);
    }
    return out;
}

}  // namespace bw::service
