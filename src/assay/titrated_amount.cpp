// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "assay/titrated_amount.hpp"

#include <cmath>

#include <fmt/format.h>

namespace bw::assay {
namespace {

using base::fail;
using base::ProblemCode;

constexpr double kGramPerKg = 1000;
constexpr std::size_t kPerTitration = 5;

Result<void> check(const Consumption& c) {
    for (const Known& k : {c.volume_mL, c.blank_mL, c.titrant_mol_per_L, c.factor, c.sample_g}) {
        if (!std::isfinite(k.value) || !(k.value >= 0) || !(k.u >= 0)) {
            return fail(ProblemCode::BadInput,
                        "volumes, strengths, factors and masses of a titration are 0 or more, and "
                        "so are their uncertainties");
        }
    }
    if (!(c.volume_mL.value > c.blank_mL.value) || !(c.titrant_mol_per_L.value > 0) ||
        !(c.factor.value > 0) || !(c.sample_g.value > 0)) {
        return fail(ProblemCode::BadInput,
                    "the volume used has to be above the blank, and strength, factor and sample "
                    "above 0");
    }
    return {};
}

Result<void> check(const Known& k, const char* what, double most) {
    if (!(k.value >= 0) || !(k.value <= most) || !(k.u >= 0)) {
        return fail(ProblemCode::BadInput,
                    fmt::format("{} is a number from 0{}, with an uncertainty of 0 or more", what,
                                std::isfinite(most) ? fmt::format(" to {:g}", most) : ""));
    }
    return {};
}

void add_inputs(std::vector<BudgetInput>& to, const Consumption& c, const std::string& of) {
    const auto add = [&](const char* what, const Known& k) {
        to.push_back(normal_input(of.empty() ? what : of + " " + what, k.value, k.u));
    };
    add("volume", c.volume_mL);
    add("blank", c.blank_mL);
    add("titrant", c.titrant_mol_per_L);
    add("factor", c.factor);
    add("sample mass", c.sample_g);
}

/// mmol/kg of the titration whose inputs begin at `from`.
double amount(std::span<const double> x, std::size_t from) {
    return (x[from] - x[from + 1]) * x[from + 2] * x[from + 3] * kGramPerKg / x[from + 4];
}

Result<TitratedAmount> worked_out(const Model& model, std::vector<BudgetInput> inputs,
                                  const char* what) {
    TitratedAmount out;
    out.inputs = std::move(inputs);
    BW_TRY(budget, propagate(model, out.inputs));
    out.budget = std::move(budget);
    out.mmol_per_kg = {out.budget.value, out.budget.u};
    if (!(out.budget.value > 0)) {
        return fail(ProblemCode::BadInput,
                    fmt::format("nothing is left for {}: what is subtracted is as much as was "
                                "titrated",
                                what));
    }
    return out;
}

struct Subtracted {
    const char* name;
    Known mmol_per_kg;
};

Result<TitratedAmount> less_two(const Consumption& c, const Subtracted& one,
                                const Subtracted& other, const char* what) {
    BW_CHECK(check(c));
    std::vector<BudgetInput> inputs;
    add_inputs(inputs, c, "");
    for (const Subtracted& s : {one, other}) {
        BW_CHECK(check(s.mmol_per_kg, s.name, kManyFreedom));
        inputs.push_back(normal_input(s.name, s.mmol_per_kg.value, s.mmol_per_kg.u));
    }
    return worked_out(
        [](std::span<const double> x) {
            return amount(x, 0) - x[kPerTitration] - x[kPerTitration + 1];
        },
        std::move(inputs), what);
}

}  // namespace

Result<TitratedAmount> titrated_amount(const Consumption& consumption) {
    BW_CHECK(check(consumption));
    std::vector<BudgetInput> inputs;
    add_inputs(inputs, consumption, "");
    return worked_out([](std::span<const double> x) { return amount(x, 0); }, std::move(inputs),
                      "the sample");
}

Result<TitratedAmount> calcium_by_egta(const Consumption& egta, const Known& strontium,
                                       const Known& phi) {
    BW_CHECK(check(egta));
    BW_CHECK(check(strontium, "strontium", kManyFreedom));
    BW_CHECK(check(phi, "the share of strontium taken", 1));
    std::vector<BudgetInput> inputs;
    add_inputs(inputs, egta, "");
    inputs.push_back(normal_input("strontium", strontium.value, strontium.u));
    inputs.push_back(normal_input("share of strontium taken", phi.value, phi.u));
    return worked_out(
        [](std::span<const double> x) {
            return amount(x, 0) - x[kPerTitration] * x[kPerTitration + 1];
        },
        std::move(inputs), "calcium");
}

Result<CalciumMagnesium> calcium_and_magnesium(const Consumption& egta, const Consumption& edta,
                                               const Known& strontium, const Known& phi) {
    BW_CHECK(check(egta));
    BW_CHECK(check(edta));
    BW_CHECK(check(strontium, "strontium", kManyFreedom));
    BW_CHECK(check(phi, "the share of strontium taken", 1));
    std::vector<BudgetInput> inputs;
    add_inputs(inputs, egta, "EGTA");
    add_inputs(inputs, edta, "EDTA");
    const std::size_t sr = inputs.size();
    inputs.push_back(normal_input("strontium", strontium.value, strontium.u));
    inputs.push_back(normal_input("share of strontium taken", phi.value, phi.u));
    const auto calcium = [sr](std::span<const double> x) {
        return amount(x, 0) - x[sr] * x[sr + 1];
    };
    CalciumMagnesium out;
    BW_TRY(ca, worked_out(calcium, inputs, "calcium"));
    BW_TRY(mg, worked_out(
                   [&calcium, sr](std::span<const double> x) {
                       return amount(x, kPerTitration) - calcium(x) - x[sr];
                   },
                   inputs, "magnesium"));
    out.calcium = std::move(ca);
    out.magnesium = std::move(mg);
    const double product = out.calcium.budget.u * out.magnesium.budget.u;
    out.correlation =
        product > 0 ? covariance(out.calcium.budget, out.magnesium.budget, inputs) / product : 0;
    return out;
}

Result<TitratedAmount> magnesium_by_edta(const Consumption& edta, const Known& calcium,
                                         const Known& strontium) {
    return less_two(edta, {"calcium", calcium}, {"strontium", strontium}, "magnesium");
}

Result<TitratedAmount> chloride_by_silver(const Consumption& silver, const Known& bromide,
                                          const Known& iodide) {
    return less_two(silver, {"bromide", bromide}, {"iodide", iodide}, "chloride");
}

}  // namespace bw::assay
