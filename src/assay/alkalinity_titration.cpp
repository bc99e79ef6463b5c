// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Symbols of SOP 3b: m0 sample, m acid, C acid's strength, A alkalinity, Z = 1 + S_T/K_S.
#include "assay/alkalinity_titration.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "brine/physical_constants.hpp"
#include "brine/seawater_constants.hpp"
#include "brine/temperature_scale.hpp"

namespace bw::assay {
namespace {

using base::fail;
using base::ProblemCode;

constexpr std::size_t kLeastPoints = 4;

Result<void> check(const AlkalinityTitration& t) {
    if (!(t.sample_kg > 0) || !(t.acid_mol_per_kg > 0)) {
        return fail(ProblemCode::BadInput,
                    "a titration needs the sample's mass and the acid's strength, both above 0");
    }
    if (!(t.sulfate_mol_per_kg >= 0) || !(t.fluoride_mol_per_kg >= 0)) {
        return fail(ProblemCode::BadInput, "sulfate and fluoride of the sample are 0 or more");
    }
    if (t.points.size() < kLeastPoints) {
        return fail(ProblemCode::BadInput,
                    fmt::format("a titration curve needs {} points or more, {} are there",
                                kLeastPoints, t.points.size()));
    }
    for (std::size_t i = 0; i < t.points.size(); ++i) {
        const bool rises = i == 0 || t.points[i].acid_kg > t.points[i - 1].acid_kg;
        if (!(t.points[i].acid_kg > 0) || !rises || !std::isfinite(t.points[i].emf_V)) {
            return fail(ProblemCode::BadInput,
                        fmt::format("point {} of the curve: acid has to be above 0 and to rise "
                                    "from point to point, and the potential a number",
                                    i + 1));
        }
    }
    return {};
}

struct Line {
    double intercept, slope;
};
Line line_through(std::span<const double> x, std::span<const double> y) {
    const auto n = static_cast<double>(x.size());
    double mean_x = 0;
    double mean_y = 0;
    for (std::size_t i = 0; i < x.size(); ++i) {
        mean_x += x[i] / n;
        mean_y += y[i] / n;
    }
    double xx = 0;
    double xy = 0;
    for (std::size_t i = 0; i < x.size(); ++i) {
        xx += (x[i] - mean_x) * (x[i] - mean_x);
        xy += (x[i] - mean_x) * (y[i] - mean_y);
    }
    return {mean_y - xy / xx * mean_x, xy / xx};
}

/// The curve with its electrode's sign put right, and Gran's answer.
struct Start {
    double slope_V = 0;  ///< R T / F with the electrode's sign
    double gran = 0;     ///< mol/kg
    double emf0_V = 0;
};

Result<Start> start_of(const AlkalinityTitration& t, std::span<const TitrationPoint> points) {
    Start out;
    const double thermal =
        brine::kGasConstant_J_per_mol_K * brine::kelvin(t.temperature) / brine::kFaraday_C_per_mol;
    out.slope_V = points.back().emf_V >= points.front().emf_V ? thermal : -thermal;
    std::vector<double> acid;
    std::vector<double> f1;
    const double reference = points.front().emf_V;  // keeps the exponentials near 1
    for (const TitrationPoint& p : points) {
        acid.push_back(p.acid_kg);
        f1.push_back((t.sample_kg + p.acid_kg) * std::exp((p.emf_V - reference) / out.slope_V));
    }
    const Line line = line_through(acid, f1);
    const double end_kg = -line.intercept / line.slope;
    out.gran = end_kg * t.acid_mol_per_kg / t.sample_kg;
    if (!(line.slope > 0) || !(out.gran > 0)) {
        return fail(ProblemCode::BadInput,
                    "the curve does not bend up behind an end point: give points with an excess of "
                    "acid, pH 3.0 to 3.5");
    }
    double sum = 0;
    double count = 0;
    for (const TitrationPoint& p : points) {
        const double excess = p.acid_kg * t.acid_mol_per_kg - t.sample_kg * out.gran;
        if (excess > 0) {
            sum += p.emf_V - out.slope_V * std::log(excess / (t.sample_kg + p.acid_kg));
            count += 1;
        }
    }
    if (count == 0) {
        return fail(ProblemCode::BadInput,
                    "no point lies behind the end point: add acid to pH 3.0");
    }
    out.emf0_V = sum / count;
    return out;
}

/// The sum of squares and what it hangs on.
struct Fit {
    const AlkalinityTitration& t;
    double ks, kf, z;
    Start start;

    [[nodiscard]] double hydrogen(const TitrationPoint& p) const {  // H', total scale
        return std::exp((p.emf_V - start.emf0_V) / start.slope_V);
    }
    /// Residual and its slope by f; that by A is 1.
    [[nodiscard]] std::pair<double, double> residual(const TitrationPoint& p, double alkalinity,
                                                     double f) const {
        const double free = f * hydrogen(p) / z;
        const double diluted = (t.sample_kg + p.acid_kg) / t.sample_kg;
        const double hso4 = t.sulfate_mol_per_kg / (1 + ks / free);
        const double hf = t.fluoride_mol_per_kg / (1 + kf / free);
        const double value =
            alkalinity + hso4 + hf + diluted * free - p.acid_kg / t.sample_kg * t.acid_mol_per_kg;
        const double by_free = t.sulfate_mol_per_kg * ks / ((free + ks) * (free + ks)) +
                               t.fluoride_mol_per_kg * kf / ((free + kf) * (free + kf)) + diluted;
        return {value, by_free * free / f};
    }
};

/// Gran's line with HSO4 and HF counted in: f by turns with the line, which settles in a few.
double modified_gran(const Fit& fit, std::span<const TitrationPoint> used) {
    constexpr int kTurns = 60;
    const double wanted = fit.t.acid_mol_per_kg / fit.t.sample_kg;
    double f = 1;
    double alkalinity = 0;
    for (int turn = 0; turn < kTurns; ++turn) {
        std::vector<double> acid;
        std::vector<double> excess;
        for (const TitrationPoint& p : used) {
            acid.push_back(p.acid_kg);
            excess.push_back(fit.residual(p, 0, f).first + p.acid_kg * wanted);
        }
        const Line line = line_through(acid, excess);
        alkalinity = -line.intercept / line.slope * wanted;
        f *= wanted / line.slope;
    }
    return alkalinity;
}

}  // namespace

Result<AlkalinityFit> fit_alkalinity(const AlkalinityTitration& titration) {
    BW_CHECK(check(titration));
    brine::SeawaterFits fits;
    fits.fluoride = brine::FluorideFit::DicksonRiley1979;
    BW_TRY(constants, brine::seawater_constants(titration.salinity, titration.temperature, fits));
    BW_TRY(first, start_of(titration, titration.points));
    Fit fit{titration, constants.ks, constants.kf, 1 + titration.sulfate_mol_per_kg / constants.ks,
            first};
    std::vector<TitrationPoint> used;
    for (const TitrationPoint& p : titration.points) {
        const double ph = -std::log10(fit.hydrogen(p));
        if (ph >= titration.low_ph && ph <= titration.high_ph) {
            used.push_back(p);
        }
    }
    if (used.size() < kLeastPoints) {
        return fail(
            ProblemCode::BadInput,
            fmt::format("{} points lie between pH {:g} and {:g}, but {} are needed: titrate "
                        "further or more finely",
                        used.size(), titration.low_ph, titration.high_ph, kLeastPoints));
    }
    BW_TRY(start, start_of(titration, used));
    fit.start = start;
    double alkalinity = start.gran;
    double f = 1;
    double n_sum = 0;
    double by_f = 0;
    double by_ff = 0;
    double squares = 0;
    constexpr int kRounds = 50;
    constexpr double kNear = 1e-13;
    bool found = false;
    for (int round = 0; round < kRounds && !found; ++round) {
        double g_a = 0;
        double g_f = 0;
        n_sum = by_f = by_ff = squares = 0;
        for (const TitrationPoint& p : used) {
            const auto [r, slope] = fit.residual(p, alkalinity, f);
            n_sum += 1;
            by_f += slope;
            by_ff += slope * slope;
            g_a += r;
            g_f += slope * r;
            squares += r * r;
        }
        const double determinant = n_sum * by_ff - by_f * by_f;
        const double step_a = (by_ff * g_a - by_f * g_f) / determinant;
        const double step_f = (n_sum * g_f - by_f * g_a) / determinant;
        alkalinity -= step_a;
        f -= std::clamp(step_f, -f / 2, f / 2);
        found = std::abs(step_a) < kNear && std::abs(step_f) < kNear;
    }
    if (!found) {
        return fail(ProblemCode::Refused,
                    "the curve does not settle on an alkalinity: look at its residuals, points may "
                    "belong to another sample or the electrode may drift");
    }
    AlkalinityFit out;
    out.alkalinity_mol_per_kg = alkalinity;
    const double freedom = n_sum - 2;
    out.rms_mol_per_kg = std::sqrt(squares / freedom);
    out.u_mol_per_kg = out.rms_mol_per_kg * std::sqrt(by_ff / (n_sum * by_ff - by_f * by_f));
    out.emf0_V = start.emf0_V - start.slope_V * std::log(f);
    out.gran_mol_per_kg = start.gran;
    out.modified_gran_mol_per_kg = modified_gran(fit, used);
    for (const TitrationPoint& p : used) {
        out.residuals.push_back(
            {p.acid_kg, -std::log10(f * fit.hydrogen(p)), fit.residual(p, alkalinity, f).first});
    }
    return out;
}

}  // namespace bw::assay
