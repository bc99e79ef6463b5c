// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Budgets, lines, charts and sampling against printed examples.
#include <cmath>
#include <sstream>

#include <fmt/format.h>

#include "assay/calibration_line.hpp"
#include "assay/charge_balance.hpp"
#include "assay/closed_cell.hpp"
#include "assay/outliers.hpp"
#include "assay/simulated_budget.hpp"
#include "assay/trend_chart.hpp"
#include "base/decimal.hpp"
#include "base/text.hpp"
#include "blend/gy.hpp"
#include "blend/scatter.hpp"
#include "check/given.hpp"
#include "check/operations.hpp"
#include "stat/quantiles.hpp"
#include "stat/tolerance.hpp"
#include "stat/univariate.hpp"

namespace bw::check {
namespace {

std::vector<std::string> words_of(const std::string& text) {
    std::istringstream in(text);
    return {std::istream_iterator<std::string>(in), std::istream_iterator<std::string>()};
}

/// "normal 215 5.8 24" (value, u, freedom), "student", "rectangular 0 1e-6 50" (value, half width,
/// freedom).
Result<std::vector<assay::BudgetInput>> inputs_of(const io::Fields& given) {
    BW_TRY(texts, given.texts("inputs"));
    std::vector<assay::BudgetInput> out;
    for (const std::string& text : texts) {
        const auto words = words_of(text);
        if (words.size() < 3) {
            return given.bad("inputs", "an input is a shape, a value and a width");
        }
        BW_TRY(value, base::parse_number(words[1]));
        BW_TRY(width, base::parse_number(words[2]));
        double freedom = assay::kManyFreedom;
        if (words.size() > 3) {
            BW_TRY(stated, base::parse_number(words[3]));
            freedom = stated;
        }
        const std::string name = fmt::format("x{}", out.size() + 1);
        out.push_back(words[0] == "normal" ? assay::normal_input(name, value, width, freedom)
                      : words[0] == "student"
                          ? assay::student_input(name, value, width, freedom)
                          : assay::limited_input(name, value, width, assay::InputShape::Rectangular,
                                                 0, freedom));
    }
    return out;
}

Result<assay::Model> model_of(const io::Fields& given) {
    BW_TRY(name, given.required_text("model"));
    if (name == "sum") {
        return assay::Model([](std::span<const double> x) {
            double sum = 0;
            for (const double v : x) {
                sum += v;
            }
            return sum;
        });
    }
    if (name == "gauge block") {  // l_s, three parts of d, d-alpha, theta, alpha_s, d-theta
        return assay::Model([](std::span<const double> x) {
            return x[0] + x[1] + x[2] + x[3] - x[0] * (x[4] * x[5] + x[6] * x[7]);
        });
    }
    if (name == "mass in air") {  // m_Rc, dm_Rc, rho_a, rho_W, rho_R; less the nominal mass
        return assay::Model([](std::span<const double> x) {
            return (x[0] + x[1]) * (1 + (x[2] - 1.2) * (1 / x[3] - 1 / x[4])) - 1e5;
        });
    }
    return given.bad("model", "known are sum, gauge block and mass in air");
}

}  // namespace

Result<Findings> summary_of_pairs(const Case& c) {
    BW_CHECK(c.given->allow({"first", "low", "high", "pairs"}));
    BW_TRY(first, required(*c.given, "first"));
    BW_TRY(low, required(*c.given, "low"));
    BW_TRY(high, required(*c.given, "high"));
    BW_TRY(pairs, required(*c.given, "pairs"));
    std::vector<double> values{first};
    for (int i = 0; i < static_cast<int>(pairs); ++i) {
        values.push_back(low);
        values.push_back(high);
    }
    const stat::Summary s = stat::summarize(values);
    return Findings{{{"mean", s.mean}, {"sd", s.sd}, {"lag1", s.lag1}}, {}};
}

Result<Findings> straight_line(const Case& c) {
    BW_CHECK(c.given->allow({"x", "y", "through_zero", "from", "at"}));
    BW_TRY(x, values_of(*c.given, "x"));
    BW_TRY(y, values_of(*c.given, "y"));
    BW_TRY(zero, c.given->flag("through_zero"));
    BW_TRY(from, c.given->number("from"));
    BW_TRY(at, c.given->number("at"));
    std::vector<assay::CalibrationPoint> points;
    for (std::size_t i = 0; i < x.size() && i < y.size(); ++i) {
        points.push_back({x[i] - from.value_or(0), y[i], 1});
    }
    BW_TRY(line, assay::fit_line(points, zero.value_or(false) ? assay::Intercept::Zero
                                                              : assay::Intercept::Fitted));
    const assay::LineReading value = assay::value_at(line, at.value_or(0) - from.value_or(0));
    return Findings{{{"intercept", line.intercept},
                     {"u_intercept", line.u_intercept},
                     {"slope", line.slope},
                     {"u_slope", line.u_slope},
                     {"residual_sd", line.residual_sd},
                     {"r_squared", line.r_squared},
                     {"correlation", line.covariance / (line.u_intercept * line.u_slope)},
                     {"result", value.value},
                     {"u_value", value.u}},
                    {}};
}

Result<Findings> addition_line(const Case& c) {
    BW_CHECK(c.given->allow({"x", "y", "times"}));
    BW_TRY(x, values_of(*c.given, "x"));
    BW_TRY(y, values_of(*c.given, "y"));
    BW_TRY(times, required(*c.given, "times"));
    std::vector<assay::CalibrationPoint> points;
    for (std::size_t i = 0; i < x.size() && i < y.size(); ++i) {
        points.push_back({x[i], y[i], 1});
    }
    BW_TRY(line, assay::fit_line(points));
    BW_TRY(found, assay::standard_addition(line));
    return Findings{{{"result", found.value * times}, {"u", found.u * times}}, {}};
}

Result<Findings> uncertainty_budget(const Case& c) {
    BW_CHECK(c.given->allow({"model", "inputs", "coverage", "order", "seed", "trials"}));
    BW_TRY(model, model_of(*c.given));
    BW_TRY(inputs, inputs_of(*c.given));
    BW_TRY(coverage, c.given->number("coverage"));
    BW_TRY(order, c.given->number("order"));
    BW_TRY(budget,
           assay::propagate(model, inputs, {}, coverage.value_or(0.95),
                            order == 2 ? assay::BudgetOrder::Second : assay::BudgetOrder::First));
    Findings out{{{"result", budget.value},
                  {"u", budget.u},
                  {"freedom", budget.freedom},
                  {"factor", budget.factor},
                  {"expanded", budget.expanded}},
                 {}};
    BW_TRY(seed, c.given->number("seed"));
    if (seed) {
        assay::SimulationOptions options;
        options.seed = static_cast<std::uint64_t>(*seed);
        BW_TRY(trials, c.given->number("trials"));
        options.trials = static_cast<std::size_t>(trials.value_or(1e6));
        BW_TRY(simulated, assay::simulate(model, inputs, {}, options));
        out.numbers["simulated_value"] = simulated.mean;
        out.numbers["simulated_u"] = simulated.u;
        out.numbers["low"] = simulated.symmetric.low;
        out.numbers["high"] = simulated.symmetric.high;
        out.numbers["shortest_low"] = simulated.shortest.low;
        out.numbers["shortest_high"] = simulated.shortest.high;
        out.numbers["valid"] = assay::validate(budget, simulated).valid ? 1 : 0;
    }
    return out;
}

/// Means of readings taken together, and the impedance that follows.
Result<Findings> correlated_means(const Case& c) {
    BW_CHECK(c.given->allow({"volts", "milliamperes", "radians"}));
    std::vector<std::vector<double>> columns;
    for (const char* key : {"volts", "milliamperes", "radians"}) {
        BW_TRY(column, values_of(*c.given, key));
        columns.push_back(std::move(column));
    }
    const auto n = static_cast<double>(columns.front().size());
    std::vector<assay::BudgetInput> inputs;
    std::vector<stat::Summary> sums;
    for (const auto& column : columns) {
        const stat::Summary s = stat::summarize(column);
        sums.push_back(s);
        inputs.push_back(assay::normal_input("mean", s.mean, s.sd / std::sqrt(n)));
    }
    std::vector<assay::Correlation> together;
    for (std::size_t a = 0; a < 3; ++a) {
        for (std::size_t b = a + 1; b < 3; ++b) {
            double sum = 0;
            for (std::size_t i = 0; i < columns[a].size(); ++i) {
                sum += (columns[a][i] - sums[a].mean) * (columns[b][i] - sums[b].mean);
            }
            together.push_back({a, b, sum / ((n - 1) * sums[a].sd * sums[b].sd)});
        }
    }
    const auto z = [](std::span<const double> x) { return 1000 * x[0] / x[1]; };
    BW_TRY(r, assay::propagate([&](std::span<const double> x) { return z(x) * std::cos(x[2]); },
                               inputs, together));
    BW_TRY(x, assay::propagate([&](std::span<const double> at) { return z(at) * std::sin(at[2]); },
                               inputs, together));
    BW_TRY(all, assay::propagate(z, inputs, together));
    const auto correlation = [&](const assay::Budget& a, const assay::Budget& b) {
        return assay::covariance(a, b, inputs, together) / (a.u * b.u);
    };
    return Findings{{{"R", r.value},
                     {"u_R", r.u},
                     {"X", x.value},
                     {"u_X", x.u},
                     {"Z", all.value},
                     {"u_Z", all.u},
                     {"r_RX", correlation(r, x)},
                     {"r_RZ", correlation(r, all)},
                     {"r_XZ", correlation(x, all)}},
                    {}};
}

/// Groups rebuilt from their means and standard deviations: five values each.
Result<Findings> between_groups(const Case& c) {
    BW_CHECK(c.given->allow({"means", "sds"}));
    BW_TRY(means, values_of(*c.given, "means"));
    BW_TRY(sds, values_of(*c.given, "sds"));
    std::vector<std::vector<double>> groups;
    for (std::size_t i = 0; i < means.size() && i < sds.size(); ++i) {
        const double a = sds[i] * std::sqrt(2.0);  // of -a, 0, 0, 0, a the deviation is a/sqrt 2
        groups.push_back({means[i] - a, means[i], means[i], means[i], means[i] + a});
    }
    const stat::Anova a = stat::one_way(groups);
    const double total = a.freedom_between + a.freedom_within + 1;
    return Findings{
        {{"f", a.f},
         {"f_critical", stat::f_quantile(0.95, a.freedom_between, a.freedom_within)},
         {"within", std::sqrt(a.mean_within)},
         {"between", std::sqrt((a.mean_between - a.mean_within) / a.effective_replicates)},
         {"u_mean", std::sqrt(a.mean_between / total)},
         {"u_mean_no_effect", std::sqrt((a.between + a.within) / (total - 1) / total)}},
        {}};
}

/// Variance of the mean of so many runs of so many results.
Result<Findings> test_plan(const Case& c) {
    BW_CHECK(c.given->allow({"run_1", "run_2", "run_3", "run_4", "run_5"}));
    std::vector<std::vector<double>> groups;
    for (int i = 1; i <= 5; ++i) {
        BW_TRY(values, values_of(*c.given, fmt::format("run_{}", i)));
        groups.push_back(std::move(values));
    }
    const stat::Anova a = stat::one_way(groups);
    const double between = (a.mean_between - a.mean_within) / a.effective_replicates;
    Findings out{{{"mean_between", a.mean_between}, {"mean_within", a.mean_within}, {"f", a.f}},
                 {}};
    for (const int runs : {1, 2}) {
        for (const int each : {1, 2, 3}) {
            out.numbers[fmt::format("variance.{}x{}", runs, each)] =
                between / runs + a.mean_within / (runs * each);
        }
    }
    return out;
}

Result<Findings> extreme_deviates(const Case& c) {
    BW_CHECK(c.given->allow({"values", "most", "alpha"}));
    BW_TRY(values, values_of(*c.given, "values"));
    BW_TRY(most, required(*c.given, "most"));
    BW_TRY(alpha, required(*c.given, "alpha"));
    BW_TRY(found, assay::extreme_deviates(values, static_cast<std::size_t>(most), alpha));
    Findings out{{{"beyond", static_cast<double>(found.beyond)}}, {}};
    for (std::size_t i = 0; i < found.steps.size(); ++i) {
        out.numbers[fmt::format("statistic.{}", i + 1)] = found.steps[i].statistic;
        out.numbers[fmt::format("critical.{}", i + 1)] = found.steps[i].critical;
    }
    return out;
}

Result<Findings> weighted_chart(const Case& c) {
    BW_CHECK(c.given->allow({"values", "centre", "sigma", "lambda", "width"}));
    BW_TRY(values, values_of(*c.given, "values"));
    BW_TRY(centre, required(*c.given, "centre"));
    BW_TRY(sigma, required(*c.given, "sigma"));
    BW_TRY(lambda, required(*c.given, "lambda"));
    BW_TRY(width, required(*c.given, "width"));
    const auto points = assay::ewma(values, centre, sigma, lambda, width);
    double beyond = 0;
    for (const auto& p : points) {
        beyond += p.beyond() ? 1 : 0;
    }
    return Findings{{{"first", points.front().z},
                     {"last", points.back().z},
                     {"last_low", points.back().low},
                     {"last_high", points.back().high},
                     {"beyond", beyond}},
                    {}};
}

Result<Findings> chart_run_length(const Case& c) {
    BW_CHECK(c.given->allow({"lambda", "width", "shift"}));
    BW_TRY(lambda, required(*c.given, "lambda"));
    BW_TRY(width, required(*c.given, "width"));
    BW_TRY(shift, required(*c.given, "shift"));
    return Findings{{{"points", assay::ewma_run_length(lambda, width, shift)}}, {}};
}

Result<Findings> process_capability(const Case& c) {
    BW_CHECK(c.given->allow({"mean", "sd", "count", "low", "high"}));
    BW_TRY(mean, required(*c.given, "mean"));
    BW_TRY(sd, required(*c.given, "sd"));
    BW_TRY(count, required(*c.given, "count"));
    BW_TRY(low, required(*c.given, "low"));
    BW_TRY(high, required(*c.given, "high"));
    BW_TRY(found, assay::capability(mean, sd, static_cast<std::size_t>(count), low, high));
    return Findings{{{"cp", found.cp},
                     {"cpk", found.cpk},
                     {"cpk_low", found.cpk_low},
                     {"cpk_high", found.cpk_high},
                     {"outside", found.outside}},
                    {}};
}

Result<Findings> tolerance_factor(const Case& c) {
    BW_CHECK(c.given->allow({"n", "content", "confidence"}));
    BW_TRY(n, required(*c.given, "n"));
    BW_TRY(content, required(*c.given, "content"));
    BW_TRY(confidence, required(*c.given, "confidence"));
    return Findings{{{"k", stat::tolerance_factor(static_cast<int>(n), content, confidence)}}, {}};
}

Result<Findings> gy_mass(const Case& c) {
    BW_CHECK(
        c.given->allow({"top_size_cm", "liberation_size_cm", "mineral_share", "mineral_density",
                        "rest_density", "relative_sd", "stages", "safety"}));
    blend::GyMaterial m;
    BW_TRY(top, required(*c.given, "top_size_cm"));
    BW_TRY(liberation, required(*c.given, "liberation_size_cm"));
    BW_TRY(share, required(*c.given, "mineral_share"));
    BW_TRY(mineral, required(*c.given, "mineral_density"));
    BW_TRY(rest, required(*c.given, "rest_density"));
    BW_TRY(sd, required(*c.given, "relative_sd"));
    BW_TRY(stages, required(*c.given, "stages"));
    BW_TRY(safety, required(*c.given, "safety"));
    m.top_size_cm = top;
    m.liberation_size_cm = liberation;
    m.mineral_share = share;
    m.mineral_density = mineral;
    m.rest_density = rest;
    BW_TRY(constant, blend::gy_constant(m));
    BW_TRY(mass, blend::gy_least_mass(m, sd, static_cast<int>(stages), safety));
    return Findings{{{"constant", constant}, {"g", mass}}, {}};
}

Result<Findings> scoop_scatter(const Case& c) {
    BW_CHECK(
        c.given->allow({"share", "density", "size_mm", "rest_density", "rest_size_mm", "scoop_g"}));
    BW_TRY(share, required(*c.given, "share"));
    BW_TRY(density, required(*c.given, "density"));
    BW_TRY(size, required(*c.given, "size_mm"));
    BW_TRY(rest_density, required(*c.given, "rest_density"));
    BW_TRY(rest_size, required(*c.given, "rest_size_mm"));
    BW_TRY(scoops, values_of(*c.given, "scoop_g"));
    constexpr double kMm = 1e-3, kDensity = 1e3, kLarge_g = 1e9, kWanted = 0.01;
    const auto grains = [&](double size_mm, double g_per_cm3) {
        const double cube = std::pow(size_mm * kMm, 3), kg_per_m3 = g_per_cm3 * kDensity;
        return blend::grain_mass_g({cube, cube, cube}, {kg_per_m3, kg_per_m3, kg_per_m3});
    };
    const std::vector<blend::GrainPart> parts{
        {"carrier", share, grains(size, density), {1}},
        {"rest", 1 - share, grains(rest_size, rest_density), {0}}};
    // The largest grain is told of a carrier among grains that do not count.
    const std::vector<blend::GrainPart> alone{parts[0], {"rest", 1 - share, {}, {0}}};
    BW_TRY(scatter, blend::scatter_of(parts));
    BW_TRY(carrier, blend::scatter_of(alone));
    Findings out;
    for (std::size_t i = 0; i < scoops.size(); ++i) {
        const auto factor =
            blend::size_factor_for(carrier.front(), 0, kWanted, scoops[i], kLarge_g);
        out.numbers[fmt::format("percent.{}", i + 1)] =
            100 * scatter.front().relative_sd(scoops[i], kLarge_g).expected;
        out.numbers[fmt::format("largest_mm.{}", i + 1)] = size * factor.value_or(0);
    }
    return out;
}

Result<Findings> charge_balance(const Case& c) {
    BW_CHECK(c.given->allow({"ions"}));
    BW_TRY(texts, c.given->texts("ions"));
    std::vector<assay::IonResult> ions;
    for (const std::string& text : texts) {
        const auto words = words_of(text);
        if (words.size() != 4) {
            return c.given->bad("ions", "an ion is a name, a charge, an amount and its u");
        }
        BW_TRY(charge, base::parse_number(words[1]));
        BW_TRY(amount, base::parse_number(words[2]));
        BW_TRY(u, base::parse_number(words[3]));
        ions.push_back({words[0], static_cast<int>(charge), amount, u});
    }
    BW_TRY(found, assay::balance_charges(ions));
    return Findings{{{"cations", found.cations_meq},
                     {"anions", found.anions_meq},
                     {"percent", found.percent},
                     {"u_percent", found.u_percent},
                     {"act_percent", found.act_percent}},
                    {{"verdict", std::string(assay::name(found.verdict))}}};
}

Result<Findings> closed_cell(const Case& c) {
    BW_CHECK(c.given->allow({"acid_step_g", "ph_free"}));
    BW_TRY(step, required(*c.given, "acid_step_g"));
    BW_TRY(ph, values_of(*c.given, "ph_free"));
    // Constants and totals of the paper's simulation, free scale.
    assay::ClosedCell cell;
    cell.sample_kg = 0.2;
    cell.acid_mol_per_kg = 0.3;
    cell.carbon_mol_per_kg = 2.2e-3;
    cell.totals.boron = 4.2e-4;
    cell.totals.sulfate = 2.824e-2;
    cell.totals.fluoride = 7e-5;
    cell.constants.k1 = 1e-6;
    cell.constants.k2 = 8.2e-10;
    cell.constants.kb = 1.78e-9;
    cell.constants.kw = 4.32e-14;
    cell.constants.ks = 1 / 12.3;
    cell.constants.kf = 1 / 408.0;
    std::vector<assay::ClosedCellPoint> points;
    for (std::size_t i = 0; i < ph.size(); ++i) {
        points.push_back({step * static_cast<double>(i) * 1e-3, ph[i]});
    }
    BW_TRY(found, assay::closed_cell_alkalinity(cell, points));
    double least = found.front();
    double most = found.front();
    for (const double a : found) {
        least = std::min(least, a);
        most = std::max(most, a);
    }
    return Findings{{{"least_umol_per_kg", least * 1e6}, {"most_umol_per_kg", most * 1e6}}, {}};
}

}  // namespace bw::check
