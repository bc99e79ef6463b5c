// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "cli/answer.hpp"
#include "cli/curve_command.hpp"
#include "cli/json_values.inl"
#include "cli/line_picture.hpp"
#include "io/sheet.hpp"
#include "unit/unit_table.hpp"

namespace bw::cli {
namespace {

using base::format_places;
using service::CurveAlkalinity;
using service::CurveEndPoints;
using service::CurveReport;

constexpr double kMicro = 1e6;
constexpr double kMilli = 1e3;
constexpr double kPercent = 100;
constexpr double kLitrePerM3 = 1000;

std::string signal_unit(const CurveReport& r) {
    return r.file.signal == io::TitrationSignal::Millivolt ? "mV"
           : r.file.signal == io::TitrationSignal::Ph      ? "pH"
                                                           : "absorbance";
}
std::string titrant_unit(const CurveReport& r) { return r.file.by_mass ? "g" : "mL"; }

std::string titrated_words(io::TitratedKind kind) {
    switch (kind) {
        case io::TitratedKind::Calcium:
            return "calcium";
        case io::TitratedKind::Magnesium:
            return "magnesium";
        case io::TitratedKind::Chloride:
            return "chloride";
        case io::TitratedKind::Amount:
            break;
    }
    return "amount";
}

std::string with_sign(double v, int places) {
    return (v >= 0 ? "+" : "") + format_places(v, places);
}

std::string budget_table(const std::vector<assay::BudgetInput>& inputs, const assay::Budget& budget,
                         const std::string& unit) {
    TextTable table({{{"input"}, Align::Left},
                     {{"value"}, Align::Decimal},
                     {{"u"}, Align::Decimal},
                     {{"gives", unit}, Align::Decimal},
                     {{"share of", "variance, %"}, Align::Decimal}});
    constexpr int kValueDigits = 5;
    for (const assay::Contribution& c : budget.contributions) {
        const assay::BudgetInput& in = inputs[c.input];
        if (in.u > 0) {
            table.add({in.name, base::format_short(in.value, kValueDigits),
                       base::format_significant(in.u, 2), base::format_significant(c.u, 2),
                       format_places(kPercent * c.share, 1)});
        }
    }
    std::string out = "\nWhere the uncertainty comes from\n" + table.text();
    out += fmt::format(
        "  U = {} {} for 95 %, k = {}{}\n", base::format_significant(budget.expanded, 2), unit,
        format_places(budget.factor, 2),
        std::isfinite(budget.freedom) ? fmt::format(", {} effective degrees of freedom",
                                                    format_places(std::floor(budget.freedom), 0))
                                      : "");
    return out;
}

double meq_per_L(const CurveAlkalinity& a) {
    return a.fit.alkalinity_mol_per_kg * kMilli * a.kg_per_m3 / kLitrePerM3;
}
double dkh(const CurveAlkalinity& a) {
    const auto degree = unit::find_unit("dKH");
    return meq_per_L(a) / kMilli / (degree ? degree->factor : std::nan(""));
}

std::string alkalinity_text(const CurveReport& r) {
    const CurveAlkalinity& a = *r.alkalinity;
    const double value = a.fit.alkalinity_mol_per_kg * kMicro;
    Sheet sheet;
    sheet.add_with_u("alkalinity, least squares", value, a.budget.budget.u, 1, "umol/kg");
    sheet.add("  in other units", value / kMilli, 4, "meq/kg");
    sheet.add("", meq_per_L(a), 4, "meq/L");
    sheet.add("", dkh(a), 3, "dKH");
    sheet.add("Gran's line, modified", a.fit.modified_gran_mol_per_kg * kMicro, 1, "umol/kg");
    sheet.add("  off the fit by", a.fit.modified_gran_mol_per_kg * kMicro - value, 1, "umol/kg");
    sheet.add("Gran's line, HSO4 and HF left out", a.fit.gran_mol_per_kg * kMicro, 1, "umol/kg");
    sheet.add("standard potential", a.fit.emf0_V * kMilli, 2, "mV");
    sheet.add("rms of the residuals", a.fit.rms_mol_per_kg * kMicro, 2, "umol/kg");
    std::string out = sheet.text();
    const auto [low, high] =
        std::minmax_element(a.fit.residuals.begin(), a.fit.residuals.end(),
                            [](const auto& x, const auto& y) { return x.ph_total < y.ph_total; });
    out += fmt::format(
        "  {} of {} points used, pH {} to {}; sulfate {} and fluoride {} mmol/kg of {}\n",
        a.fit.residuals.size(), r.file.points.size(), format_places(low->ph_total, 2),
        format_places(high->ph_total, 2), format_places(a.titration.sulfate_mol_per_kg * kMilli, 2),
        format_places(a.titration.fluoride_mol_per_kg * kMilli, 3), a.totals_from);
    out += budget_table(a.budget.inputs, a.budget.budget, "umol/kg");
    TextTable residuals({{{"acid", "g"}, Align::Decimal},
                         {{"pH", "total"}, Align::Decimal},
                         {{"residual", "umol/kg"}, Align::Decimal}});
    for (const auto& p : a.fit.residuals) {
        residuals.add({format_places(p.acid_kg * kMilli, 4), format_places(p.ph_total, 3),
                       with_sign(p.mol_per_kg * kMicro, 2)});
    }
    return out + "\nResiduals of the points used\n" + residuals.text();
}

std::string end_points_text(const CurveReport& r) {
    const CurveEndPoints& e = *r.end_points;
    TextTable table({{{"end point", "mL"}, Align::Decimal},
                     {{"first deri-", "vative, mL"}, Align::Decimal},
                     {{"second deri-", "vative, mL"}, Align::Decimal},
                     {{"step", signal_unit(r)}, Align::Decimal},
                     {{"rms of the fit", signal_unit(r)}, Align::Decimal},
                     {{"points"}, Align::Right}});
    for (const assay::EndPoint& p : e.found.points) {
        table.add({with_uncertainty(p.volume, p.u, 3), format_places(p.by_first_derivative, 3),
                   format_places(p.by_second_derivative, 3), base::format_significant(p.step, 3),
                   base::format_significant(p.rms, 2), fmt::format("{}", p.residuals.size())});
    }
    std::string out = table.text();
    out += fmt::format(
        "  by the fit of {}; derivatives by a parabola through 5 points\n",
        r.file.options.shape == assay::CurveShape::Potential   ? "a logarithmic step (asinh)"
        : r.file.options.shape == assay::CurveShape::Indicator ? "a turning colour (tanh)"
                                                               : "two straight lines");
    if (e.amount) {
        Sheet sheet;
        sheet.add_with_u(titrated_words(r.file.titrated), e.amount->mmol_per_kg.value,
                         e.amount->mmol_per_kg.u, 3, "mmol/kg of sample");
        out += "\n" + sheet.text() + budget_table(e.amount->inputs, e.amount->budget, "mmol/kg");
    }
    TextTable residuals({{{"titrant", "mL"}, Align::Decimal},
                         {{"signal", signal_unit(r)}, Align::Decimal},
                         {{"residual", signal_unit(r)}, Align::Decimal}});
    for (const assay::EndPoint& p : e.found.points) {
        for (std::size_t i = 0; i < p.residuals.size(); ++i) {
            const assay::CurvePoint& point = r.file.points[p.first + i];
            residuals.add(
                {format_places(point.volume, 3), base::format_exact(point.signal),
                 (p.residuals[i] >= 0 ? "+" : "") + base::format_significant(p.residuals[i], 2)});
        }
    }
    return out + "\nResiduals of the points about the end point\n" + residuals.text();
}

Json budget_json(const std::vector<assay::BudgetInput>& inputs, const assay::Budget& budget) {
    Json out = Json::array();
    for (const assay::Contribution& c : budget.contributions) {
        out.push_back({{"input", inputs[c.input].name},
                       {"value", inputs[c.input].value},
                       {"standard_uncertainty", inputs[c.input].u},
                       {"contribution", c.u},
                       {"share_percent", kPercent * c.share}});
    }
    return out;
}

Json alkalinity_json(const CurveReport& r) {
    const CurveAlkalinity& a = *r.alkalinity;
    Json out = {{"alkalinity_umol_per_kg", a.fit.alkalinity_mol_per_kg * kMicro},
                {"standard_uncertainty_umol_per_kg", a.budget.budget.u},
                {"expanded_uncertainty_umol_per_kg", a.budget.budget.expanded},
                {"alkalinity_meq_per_L", meq_per_L(a)},
                {"alkalinity_dKH", dkh(a)},
                {"modified_gran_umol_per_kg", a.fit.modified_gran_mol_per_kg * kMicro},
                {"gran_umol_per_kg", a.fit.gran_mol_per_kg * kMicro},
                {"standard_potential_mV", a.fit.emf0_V * kMilli},
                {"rms_umol_per_kg", a.fit.rms_mol_per_kg * kMicro},
                {"sulfate_mmol_per_kg", a.titration.sulfate_mol_per_kg * kMilli},
                {"fluoride_mmol_per_kg", a.titration.fluoride_mol_per_kg * kMilli},
                {"budget", budget_json(a.budget.inputs, a.budget.budget)},
                {"residuals", Json::array()}};
    for (const auto& p : a.fit.residuals) {
        out["residuals"].push_back({{"acid_g", p.acid_kg * kMilli},
                                    {"pH_total", p.ph_total},
                                    {"residual_umol_per_kg", p.mol_per_kg * kMicro}});
    }
    return out;
}

Json end_points_json(const CurveReport& r) {
    const CurveEndPoints& e = *r.end_points;
    Json out = {{"end_points", Json::array()}};
    for (const assay::EndPoint& p : e.found.points) {
        out["end_points"].push_back({{"volume_mL", p.volume},
                                     {"standard_uncertainty_mL", p.u},
                                     {"first_derivative_mL", p.by_first_derivative},
                                     {"second_derivative_mL", p.by_second_derivative},
                                     {"step", p.step},
                                     {"rms", p.rms},
                                     {"residuals", p.residuals}});
    }
    if (e.amount) {
        out["titrated"] = titrated_words(r.file.titrated);
        out["mmol_per_kg"] = e.amount->mmol_per_kg.value;
        out["standard_uncertainty_mmol_per_kg"] = e.amount->mmol_per_kg.u;
        out["expanded_uncertainty_mmol_per_kg"] = e.amount->budget.expanded;
        out["budget"] = budget_json(e.amount->inputs, e.amount->budget);
    }
    return out;
}

/// Residuals by the place of their point in the file; none where it was not used.
std::vector<double> residuals_by_point(const CurveReport& r) {
    std::vector<double> out(r.file.points.size(), std::nan(""));
    if (r.alkalinity) {
        const double g_per_unit = r.file.by_mass ? 1.0 : r.file.titrant_kg_per_L.value_or(1);
        constexpr double kHair = 1e-9;  // of the mass: the fit's points are the file's
        for (std::size_t i = 0; i < out.size(); ++i) {
            const double kg = r.file.points[i].volume * g_per_unit / kMilli;
            for (const auto& p : r.alkalinity->fit.residuals) {
                if (std::abs(p.acid_kg - kg) < kHair * kg) {
                    out[i] = p.mol_per_kg * kMicro;
                }
            }
        }
    } else {
        for (const assay::EndPoint& p : r.end_points->found.points) {
            for (std::size_t i = 0; i < p.residuals.size(); ++i) {
                out[p.first + i] = p.residuals[i];
            }
        }
    }
    return out;
}

/// The points as the file has them, each with its residual where the fit used it.
Json points_json(const CurveReport& r) {
    Json out = Json::array();
    const std::vector<double> residuals = residuals_by_point(r);
    for (std::size_t i = 0; i < residuals.size(); ++i) {
        out.push_back({{"titrant", r.file.points[i].volume},
                       {"signal", r.file.points[i].signal},
                       {"residual", json_number(residuals[i])}});
    }
    return out;
}

std::string title_of(const CurveReport& r) {
    return r.file.name + (r.file.invented ? " (invented example)" : "");
}

}  // namespace

std::string curve_text(const CurveReport& r) {
    std::string out = "titration  " + title_of(r) + "\n";
    out += r.alkalinity ? "method     alkalinity, open cell, carbon dioxide driven out\n\n"
                        : "method     end point\n\n";
    out += r.alkalinity ? alkalinity_text(r) : end_points_text(r);
    if (!r.failed.empty()) {
        out += "\nThe curve does not pass:\n" + bullets(r.failed);
    }
    return out + (r.notices.empty() ? "" : "\n") + dashes(r.notices);
}

std::string curve_json(const CurveReport& r) {
    Json out = {{"version", 1},
                {"name", r.file.name},
                {"invented", r.file.invented},
                {"method", r.alkalinity ? "alkalinity" : "end-point"},
                {"passed", r.failed.empty()},
                {"failed", r.failed}};
    out.update(r.alkalinity ? alkalinity_json(r) : end_points_json(r));
    out["titrant_unit"] = titrant_unit(r);
    out["signal_unit"] = signal_unit(r);
    out["residual_unit"] = r.alkalinity ? "umol/kg" : signal_unit(r);
    out["points"] = points_json(r);
    out["notices"] = json_notices(r.notices);
    return json_text(out);
}

std::string curve_csv(const CurveReport& r) {
    io::Sheet sheet{"curve",
                    {"titrant " + titrant_unit(r), "signal " + signal_unit(r),
                     "residual " + std::string(r.alkalinity ? "umol/kg" : signal_unit(r))},
                    {}};
    const auto residuals = residuals_by_point(r);
    for (std::size_t i = 0; i < residuals.size(); ++i) {
        sheet.rows.push_back({r.file.points[i].volume, r.file.points[i].signal,
                              std::isfinite(residuals[i]) ? io::Cell(residuals[i]) : io::Cell()});
    }
    return io::delimited(sheet);
}

std::string curve_picture(const CurveReport& r) {
    constexpr double kCurve = 300, kStrip = 110;
    LinePicture out;
    out.title = title_of(r);
    out.x_title = "titrant, " + titrant_unit(r);
    PicturePanel curve{"signal, " + signal_unit(r), kCurve, {}, {}};
    PictureSeries points{{}, true, true, 0, ""};
    for (const assay::CurvePoint& p : r.file.points) {
        points.points.emplace_back(p.volume, p.signal);
    }
    curve.series.push_back(std::move(points));
    if (r.end_points) {
        for (const assay::EndPoint& p : r.end_points->found.points) {
            curve.rules.push_back(
                {p.volume, true, true, with_uncertainty(p.volume, p.u, 3) + " mL"});
        }
    }
    PicturePanel strip{"residual, " + std::string(r.alkalinity ? "umol/kg" : signal_unit(r)),
                       kStrip,
                       {},
                       {{0, false, false, ""}}};
    PictureSeries dots{{}, true, false, 1, ""};
    const auto residuals = residuals_by_point(r);
    for (std::size_t i = 0; i < residuals.size(); ++i) {
        if (std::isfinite(residuals[i])) {
            dots.points.emplace_back(r.file.points[i].volume, residuals[i]);
        }
    }
    strip.series.push_back(std::move(dots));
    if (r.alkalinity) {
        const double rms = r.alkalinity->fit.rms_mol_per_kg * kMicro;
        strip.rules.push_back({3 * rms, false, true, "3 rms"});
        strip.rules.push_back({-3 * rms, false, true, ""});
        out.notes.push_back(
            fmt::format("alkalinity {} umol/kg, {} of {} points",
                        with_uncertainty(r.alkalinity->fit.alkalinity_mol_per_kg * kMicro,
                                         r.alkalinity->budget.budget.u, 1),
                        r.alkalinity->fit.residuals.size(), r.file.points.size()));
    } else if (r.end_points->amount) {
        out.notes.push_back(fmt::format("{} {} mmol/kg", titrated_words(r.file.titrated),
                                        with_uncertainty(r.end_points->amount->mmol_per_kg.value,
                                                         r.end_points->amount->mmol_per_kg.u, 3)));
    }
    out.panels = {std::move(curve), std::move(strip)};
    return svg_of(out);
}

}  // namespace bw::cli
