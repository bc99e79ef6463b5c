// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "assay/alkalinity_budget.hpp"

#include <algorithm>
#include <cmath>

namespace bw::assay {
namespace {

constexpr double kMicro = 1e6;
constexpr double kLowestPh = 0, kHighestPh = 14;  // the points are chosen already

enum Place : std::size_t { Acid, Sample, Burette, Celsius, Sulfate, Fluoride, Scatter, Constants };

AlkalinityTitration used_alone(const AlkalinityTitration& titration, const AlkalinityFit& fit) {
    AlkalinityTitration out = titration;
    out.points.clear();
    for (const TitrationPoint& p : titration.points) {
        const bool used = std::any_of(fit.residuals.begin(), fit.residuals.end(),
                                      [&](const auto& r) { return r.acid_kg == p.acid_kg; });
        if (used) {
            out.points.push_back(p);
        }
    }
    out.low_ph = kLowestPh;
    out.high_ph = kHighestPh;
    return out;
}

}  // namespace

Result<AlkalinityBudget> budget_alkalinity(const AlkalinityTitration& titration,
                                           const AlkalinityFit& fit,
                                           const AlkalinityDoubts& doubts) {
    const AlkalinityTitration used = used_alone(titration, fit);
    AlkalinityBudget out;
    const auto add = [&](const char* what, double value, double u, double freedom = kManyFreedom) {
        out.inputs.push_back(normal_input(what, value, u, freedom));
    };
    add("acid strength, mol/kg", used.acid_mol_per_kg, used.acid_mol_per_kg * doubts.acid_relative);
    add("sample mass, kg", used.sample_kg, used.sample_kg * doubts.sample_relative);
    add("burette, times", 1, doubts.burette_relative);
    add("temperature, degC", used.temperature.value(), doubts.celsius);
    add("sulfate, mol/kg", used.sulfate_mol_per_kg,
        used.sulfate_mol_per_kg * doubts.sulfate_relative);
    add("fluoride, mol/kg", used.fluoride_mol_per_kg,
        used.fluoride_mol_per_kg * doubts.fluoride_relative);
    add("scatter of the points, umol/kg", 0, fit.u_mol_per_kg * kMicro,
        std::max(1.0, static_cast<double>(fit.residuals.size()) - 2));
    add("choice of constants, umol/kg", 0, doubts.constants_mol_per_kg * kMicro);
    const auto model = [&used](std::span<const double> x) {
        AlkalinityTitration t = used;
        t.acid_mol_per_kg = x[Acid];
        t.sample_kg = x[Sample];
        for (TitrationPoint& p : t.points) {
            p.acid_kg *= x[Burette];
        }
        t.temperature = unit::Celsius(x[Celsius]);
        t.sulfate_mol_per_kg = x[Sulfate];
        t.fluoride_mol_per_kg = x[Fluoride];
        const auto again = fit_alkalinity(t);
        return again ? again->alkalinity_mol_per_kg * kMicro + x[Scatter] + x[Constants]
                     : std::nan("");
    };
    BW_TRY(budget, propagate(model, out.inputs));
    out.budget = std::move(budget);
    return out;
}

}  // namespace bw::assay
