// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Propagation of certificate uncertainty: first order (JCGM 100, 5.1.2) by hand, and draws (JCGM
// 101) against exact answers. Draws are compared within four standard errors, which a right program
// fails once in 16 000; the seed is fixed, so a result does not come and go.
#include "recipe/robustness.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "io/document.hpp"
#include "service/solve_recipe.hpp"
#include "stat/draw.hpp"
#include "stat/normal.hpp"

namespace {

using namespace bw::recipe;
using bw::matter::Assay;
using bw::matter::AssayBasis;
using bw::matter::Component;
using bw::matter::constituent;
using bw::matter::Stated;
using bw::matter::UncertainInput;

constexpr double kStandardErrors = 4;

Target tracking(std::string_view symbol, double low, double high) {
    Target out;
    out.salinity = {1, 0, 1e6, 9, std::nullopt};
    ConstituentGoal goal;
    goal.constituent = constituent(symbol);
    goal.low = low;
    goal.high = high;
    out.constituents = {goal};
    return out;
}

Supply supply(bw::matter::Material material) {
    Supply out;
    out.material = std::move(material);
    out.make_up = bw::matter::make_up(out.material).value();
    return out;
}

Solution made_of(const std::vector<Supply>& supplies, std::vector<double> dose) {
    Solution out;
    out.verdict = Verdict::Solved;
    out.water = made_up_water(supplies, {}, dose);
    out.dose_kg_per_kg = std::move(dose);
    return out;
}

std::vector<SpreadModel::BlockSums> blocks(const SpreadModel& model, std::uint64_t seed,
                                           std::uint64_t count) {
    std::vector<SpreadModel::BlockSums> out;
    for (std::uint64_t b = 0; b < count; ++b) {
        out.push_back(model.draw_block(seed, b, kDrawsPerBlock));
    }
    return out;
}

Robustness both(const SpreadModel& model, std::uint64_t seed, std::uint64_t count) {
    Robustness out = model.first_order();
    model.merge(blocks(model, seed, count), seed, out);
    return out;
}

/// Calcium chloride: assay 99 % +- 0.3 %, strontium 900 +- 60 mg/kg, moisture not in play.
Supply calcium_chloride() {
    bw::matter::Material m;
    m.name = "calcium chloride";
    m.formula = "CaCl2.2H2O";
    m.assay = Assay{Stated::normal(0.99, 0.003), "", std::nullopt};
    m.impurities = {{"Sr", Stated::normal(900e-6, 60e-6), true, false},
                    {"Ca(OH)2", Stated::between(0, 600e-6), true, false}};
    return supply(m);
}

// u(Ca)^2 = (x u / M)^2 of the assay + (x w / sqrt 12 / M')^2 of the lime, M 147.008 and M' 74.092
// (CIAAW 2021). Tolerance: round-off.
TEST(FirstOrder, IsTheRootSumOfSquaresByHand) {
    const double x = 0.0015;
    const std::vector<Supply> supplies = {calcium_chloride()};
    const double expected = x * 990 / 147.008 + x * 0.3 / 74.092;
    const Target target = tracking("Ca", expected * 0.995, expected * 1.01);
    const Robustness r = SpreadModel(target, supplies, made_of(supplies, {x})).first_order();
    const double assay = x * 3 / 147.008;
    const double lime = x * 0.6 / std::sqrt(12.0) / 74.092;
    ASSERT_EQ(r.constituents.size(), 1U);
    const GoalSpread& ca = r.constituents[0];
    EXPECT_NEAR(ca.mean, expected, 1e-15);
    EXPECT_NEAR(ca.u, std::hypot(assay, lime), 1e-15);
    ASSERT_EQ(ca.drivers.size(), 2U);
    EXPECT_EQ(ca.drivers[0].input, "calcium chloride: assay");
    EXPECT_NEAR(ca.drivers[0].variance_share, assay * assay / (assay * assay + lime * lime), 1e-12);
    EXPECT_EQ(ca.drivers[1].input, "calcium chloride: Ca(OH)2");
    // Normal probability of -0.5 % to +1 % in units of u: erfc by definition.
    const auto phi = [](double z) { return std::erfc(-z / std::sqrt(2.0)) / 2; };
    EXPECT_NEAR(ca.inside_first_order, phi(0.01 * expected / ca.u) - phi(-0.005 * expected / ca.u),
                1e-9);
}

TEST(FirstOrder, TwoPartsAddAndAnUnusedOneDoesNot) {
    std::vector<Supply> supplies = {calcium_chloride(), calcium_chloride(), calcium_chloride()};
    supplies[1].material.name = "another";
    supplies[2].material.name = "unused";
    const Target target = tracking("Sr", 0, 1);
    const Robustness r =
        SpreadModel(target, supplies, made_of(supplies, {0.003, 0.004, 0})).first_order();
    // Independent lots: 60 mg/kg of each, 0.003^2 + 0.004^2 = 0.005^2.
    EXPECT_NEAR(r.constituents[0].u, 0.005 * 60e-3 / 87.62, 1e-18);
    EXPECT_EQ(r.constituents[0].drivers[0].input, "another: Sr");
    EXPECT_EQ(r.constituents[0].drivers.size(), 2U);
}

// r = Sr/Ca: what moves both alike cancels. dr = (dSr - r dCa) / Ca.
TEST(FirstOrder, RatiosKnowWhatCancels) {
    const double x = 0.0015;
    const std::vector<Supply> supplies = {calcium_chloride()};
    const Solution s = made_of(supplies, {x});
    Target target = tracking("Ca", 0, 1);
    RatioGoal ratio;
    ratio.numerator = constituent("Sr");
    ratio.denominator = constituent("Ca");
    ratio.by_mass = true;
    ratio.low = 0.003;
    ratio.high = 0.0036;
    target.ratios = {ratio};
    const GoalSpread spread = SpreadModel(target, supplies, s).first_order().ratios[0];
    const double ca = s.water.mol_per_kg[constituent("Ca")];
    const double sr = s.water.mol_per_kg[constituent("Sr")];
    const double mass = 87.62 / 40.078;
    const double of_sr = x * 60e-3 / 87.62 / ca;
    const double of_ca =
        sr / ca / ca * std::hypot(x * 3 / 147.008, x * 0.6 / std::sqrt(12.0) / 74.092);
    EXPECT_NEAR(spread.mean, mass * sr / ca, 1e-15);
    EXPECT_NEAR(spread.u, mass * std::hypot(of_sr, of_ca), 1e-15);
}

// Tare and gross are each read to a step d: each a rectangle of width d, together d / sqrt 6
// (JCGM 100, 4.3.7 and 5.1.2).
TEST(FirstOrder, WeighingAddsTwoReadings) {
    bw::matter::Material m;
    m.name = "salt";
    m.formula = "NaCl";
    m.assay = Assay{Stated::exactly(1), "", std::nullopt};
    const std::vector<Supply> supplies = {supply(m)};
    Solution s = made_of(supplies, {0.025});
    s.batch_finished_water_kg = 4000;  // 100 kg of salt
    Target target = tracking("Na", 0, 1);
    target.batch = Batch{100, 0, std::nullopt, 0.5};
    const GoalSpread na = SpreadModel(target, supplies, s).first_order().constituents[0];
    EXPECT_NEAR(na.u / na.mean, 0.5 / std::sqrt(6.0) / 100, 1e-15);
    EXPECT_EQ(na.drivers[0].input, "salt: weighing");
    target.batch.reset();
    EXPECT_DOUBLE_EQ(SpreadModel(target, supplies, s).first_order().constituents[0].u, 0);
}

TEST(FirstOrder, NothingUncertainIsInsideOrNot) {
    bw::matter::Material m;
    m.name = "salt";
    m.formula = "NaCl";
    m.assay = Assay{Stated::exactly(1), "", std::nullopt};
    const std::vector<Supply> supplies = {supply(m)};
    const Solution s = made_of(supplies, {0.02});  // 0.342 mol/kg
    for (const bool inside : {true, false}) {
        const Target target = tracking("Na", inside ? 0.3 : 0.35, 0.4);
        const Robustness r = both(SpreadModel(target, supplies, s), 1, 1);
        EXPECT_DOUBLE_EQ(r.constituents[0].inside_first_order, inside ? 1 : 0);
        EXPECT_DOUBLE_EQ(r.constituents[0].inside_monte_carlo, inside ? 1 : 0);
        EXPECT_DOUBLE_EQ(r.constituents[0].u_monte_carlo, 0);
        EXPECT_DOUBLE_EQ(r.all_inside, inside ? 1 : 0);
    }
}

/// A case of test/golden/propagation.json: a sum of coefficient times quantity, as one unit dose of
/// a made-up supply whose inputs bring "sodium".
struct GoldenCase {
    std::string id;
    std::vector<Supply> supplies{Supply{}};
    Solution solution;
    Target target;
    double mean = 0, u = 0, probability = 0;
};

double number(const bw::io::Node& node, std::string_view key) { return *node.find(key)->number(); }

std::vector<GoldenCase> golden_cases() {
    const auto document =
        bw::io::read_document(std::string(BW_SOURCE_DIR) + "/test/golden/propagation.json");
    EXPECT_TRUE(document.has_value());
    std::vector<GoldenCase> out;
    for (const bw::io::Node& node : *document.value().root.find("cases")->array()) {
        GoldenCase c;
        c.id = *node.find("id")->text();
        c.mean = number(node, "mean");
        c.u = number(node, "u");
        c.probability = number(node, "probability");
        c.target = tracking("Na", number(node, "low"), number(node, "high"));
        for (const bw::io::Node& term : *node.find("terms")->array()) {
            UncertainInput input;
            const double value = number(term, "value");
            const double u = number(term, "u");
            input.name = "x" + std::to_string(c.supplies[0].make_up.inputs.size());
            // A rectangle of standard deviation u has half-width u sqrt 3.
            input.stated =
                *term.find("kind")->text() == "normal"
                    ? Stated::normal(value, u)
                    : Stated::between(value - u * std::sqrt(3.0), value + u * std::sqrt(3.0));
            input.effect[constituent("Na")] = number(term, "coefficient");
            c.supplies[0].make_up.inputs.push_back(input);
        }
        c.solution.dose_kg_per_kg = {1};
        c.solution.water.mol_per_kg[constituent("Na")] = c.mean;
        out.push_back(std::move(c));
    }
    EXPECT_GE(out.size(), 5U);
    return out;
}

TEST(Propagation, FirstOrderGivesTheGoldenUncertainty) {
    for (const GoldenCase& c : golden_cases()) {
        const auto r = SpreadModel(c.target, c.supplies, c.solution).first_order().constituents[0];
        EXPECT_NEAR(r.u / c.u, 1, 1e-12) << c.id;  // linear: exact but for round-off
        if (c.id == "normal_only") {               // then the normal probability is the true one
            EXPECT_NEAR(r.inside_first_order, c.probability, 1e-10);
        }
    }
}

TEST(Propagation, DrawsGiveTheGoldenMeanUncertaintyAndProbability) {
    constexpr std::uint64_t kBlocks = 100;
    const auto n = static_cast<double>(kBlocks * kDrawsPerBlock);
    for (const GoldenCase& c : golden_cases()) {
        const SpreadModel model(c.target, c.supplies, c.solution);
        const GoalSpread r = both(model, 7, kBlocks).constituents[0];
        EXPECT_NEAR(r.mean, c.mean, kStandardErrors * c.u / std::sqrt(n)) << c.id;
        // Standard error of a standard deviation of normal draws; of rectangles it is smaller.
        EXPECT_NEAR(r.u_monte_carlo, c.u, kStandardErrors * c.u / std::sqrt(2 * n)) << c.id;
        const double p = c.probability;
        EXPECT_NEAR(r.inside_monte_carlo, p, kStandardErrors * std::sqrt(p * (1 - p) / n)) << c.id;
        const double own = r.inside_monte_carlo;
        EXPECT_NEAR(r.inside_standard_error, std::sqrt(own * (1 - own) / n), 1e-15) << c.id;
    }
}

// The main salt goes with assay * (1 - moisture), a product: E = a (1 - m), and exactly
// var = u_a^2 (1 - m)^2 + a^2 u_m^2 + u_a^2 u_m^2 for independent factors.
TEST(Propagation, DrawsKnowThatAssayAndMoistureMultiply) {
    bw::matter::Material m;
    m.name = "salt";
    m.formula = "NaCl";
    m.assay = Assay{Stated::normal(0.95, 0.05), "", AssayBasis::Dried};
    m.moisture = Stated::between(0.0, 0.4);
    const std::vector<Supply> supplies = {supply(m)};
    const Target target = tracking("Na", 0, 1);
    constexpr std::uint64_t kBlocks = 50;
    const auto n = static_cast<double>(kBlocks * kDrawsPerBlock);
    const Robustness r =
        both(SpreadModel(target, supplies, made_of(supplies, {0.025})), 3, kBlocks);
    const double scale = 25 / 58.440;  // mol/kg at 100 %, CIAAW 2021
    const double u_moisture = 0.4 / std::sqrt(12.0);
    const double first = std::hypot(0.05 * 0.8, 0.95 * u_moisture);
    const double exact = std::hypot(first, 0.05 * u_moisture);
    const GoalSpread& na = r.constituents[0];
    EXPECT_NEAR(na.u, scale * first, 1e-15);
    EXPECT_NEAR(na.mean, scale * 0.95 * 0.8, kStandardErrors * scale * exact / std::sqrt(n));
    EXPECT_NEAR(na.u_monte_carlo, scale * exact,
                kStandardErrors * scale * exact / std::sqrt(2 * n));
}

// Two independent normals within one u each are both inside with probability 0.6826895^2; one and
// the same input under two names of limits is inside with 0.6826895.
TEST(Propagation, AllInsideIsTheJointProbability) {
    const auto input = [](std::string name, std::string_view symbol) {
        UncertainInput out;
        out.name = std::move(name);
        out.stated = Stated::normal(0, 1);
        out.effect[constituent(symbol)] = 0.01;
        return out;
    };
    Target target = tracking("Na", 0.49, 0.51);
    target.constituents.push_back(tracking("K", 0.49, 0.51).constituents[0]);
    std::vector<Supply> supplies(1);
    Solution s;
    s.dose_kg_per_kg = {1};
    s.water.mol_per_kg[constituent("Na")] = 0.5;
    s.water.mol_per_kg[constituent("K")] = 0.5;
    s.water.dissolved_g_per_kg = 40;  // far from its limits
    constexpr std::uint64_t kBlocks = 50;
    const auto n = static_cast<double>(kBlocks * kDrawsPerBlock);
    const auto expect_all = [&](double p) {
        const Robustness r = both(SpreadModel(target, supplies, s), 13, kBlocks);
        EXPECT_NEAR(r.all_inside, p, kStandardErrors * std::sqrt(p * (1 - p) / n));
    };
    supplies[0].make_up.inputs = {input("a", "Na"), input("b", "K")};
    expect_all(0.6826895 * 0.6826895);
    supplies[0].make_up.inputs = {input("a", "Na")};
    supplies[0].make_up.inputs[0].effect[constituent("K")] = -0.01;
    expect_all(0.6826895);
}

TEST(Draws, BlocksDoNotKnowOfEachOther) {
    const std::vector<Supply> supplies = {calcium_chloride()};
    const Target target = tracking("Ca", 0.0100, 0.0102);
    const SpreadModel model(target, supplies, made_of(supplies, {0.0015}));
    const auto in_order = blocks(model, 11, 8);
    // The same blocks drawn backwards and by another model object are the same to the bit.
    const SpreadModel twin(target, supplies, made_of(supplies, {0.0015}));
    std::vector<SpreadModel::BlockSums> backwards(8);
    for (std::uint64_t b = 8; b-- > 0;) {
        backwards[b] = twin.draw_block(11, b, kDrawsPerBlock);
    }
    for (std::size_t b = 0; b < 8; ++b) {
        EXPECT_EQ(backwards[b].sum, in_order[b].sum) << b;
        EXPECT_EQ(backwards[b].sum_of_squares, in_order[b].sum_of_squares) << b;
        EXPECT_EQ(backwards[b].inside, in_order[b].inside) << b;
        EXPECT_EQ(backwards[b].all_inside, in_order[b].all_inside) << b;
    }
    // Merged in another order: counts to the bit, sums to their round-off.
    Robustness first = model.first_order();
    Robustness turned = model.first_order();
    model.merge(in_order, 11, first);
    std::vector<SpreadModel::BlockSums> shuffled = in_order;
    std::rotate(shuffled.begin(), shuffled.begin() + 3, shuffled.end());
    model.merge(shuffled, 11, turned);
    EXPECT_EQ(first.draws, 8 * kDrawsPerBlock);
    EXPECT_EQ(turned.constituents[0].inside_monte_carlo, first.constituents[0].inside_monte_carlo);
    EXPECT_EQ(turned.all_inside, first.all_inside);
    EXPECT_NEAR(turned.constituents[0].u_monte_carlo / first.constituents[0].u_monte_carlo, 1,
                1e-12);
}

TEST(Draws, SeedAndBlockChangeThem) {
    const std::vector<Supply> supplies = {calcium_chloride()};
    const SpreadModel model(tracking("Ca", 0, 1), supplies, made_of(supplies, {0.0015}));
    const auto a = model.draw_block(1, 0, 100);
    EXPECT_EQ(model.draw_block(1, 0, 100).sum, a.sum);
    EXPECT_NE(model.draw_block(2, 0, 100).sum, a.sum);
    EXPECT_NE(model.draw_block(1, 1, 100).sum, a.sum);
    // The upper half of a 64-bit seed counts, too.
    EXPECT_NE(model.draw_block(1 + (std::uint64_t{1} << 40U), 0, 100).sum, a.sum);
}

// Moments of the streams: mean, variance and fourth moment of a normal (0, 1, 3) and a uniform
// (1/2, 1/12, 1/80 about its mean) draw, within four standard errors.
TEST(Draws, StreamsHaveTheRightMoments) {
    constexpr std::size_t kDraws = 200000;
    const auto n = static_cast<double>(kDraws);
    std::vector<double> x(kDraws);
    bw::stat::DrawStream stream(5, 9);
    const auto moment = [&](double about, int power) {
        double sum = 0;
        for (const double v : x) {
            sum += std::pow(v - about, power);
        }
        return sum / n;
    };
    stream.normal(x);
    EXPECT_NEAR(moment(0, 1), 0, kStandardErrors / std::sqrt(n));
    EXPECT_NEAR(moment(0, 2), 1, kStandardErrors * std::sqrt(2 / n));
    EXPECT_NEAR(moment(0, 4), 3, kStandardErrors * std::sqrt(96 / n));  // E x^8 - 9 = 96
    stream.between_0_and_1(x);
    EXPECT_NEAR(moment(0, 1), 0.5, kStandardErrors * std::sqrt(1.0 / 12 / n));
    EXPECT_NEAR(moment(0.5, 2), 1.0 / 12, kStandardErrors * std::sqrt(1.0 / 180 / n));
    EXPECT_GE(*std::min_element(x.begin(), x.end()), 0);
    EXPECT_LT(*std::max_element(x.begin(), x.end()), 1);
}

// Tables of the normal distribution: Phi(1.96) = 0.9750021, Phi(-3) = 0.0013499.
TEST(Normal, ProbabilitiesAreThoseOfTheTables) {
    EXPECT_DOUBLE_EQ(bw::stat::normal_cdf(0), 0.5);
    EXPECT_NEAR(bw::stat::normal_cdf(1.96), 0.9750021, 5e-8);
    EXPECT_NEAR(bw::stat::normal_cdf(-3), 0.0013499, 5e-8);
    EXPECT_NEAR(bw::stat::normal_inside(10, 2, 8, 12), 0.6826895, 5e-8);  // one u each way
    EXPECT_DOUBLE_EQ(bw::stat::normal_inside(10, 0, 8, 12), 1);
    EXPECT_DOUBLE_EQ(bw::stat::normal_inside(13, 0, 8, 12), 0);
    EXPECT_NEAR(bw::stat::normal_inside(10, 2, -1e300, 1e300), 1, 1e-15);
}

bw::service::RecipeRequest raised() {
    const std::string works = std::string(BW_SOURCE_DIR) + "/examples/works/";
    bw::service::RecipeRequest out;
    out.target = bw::io::read_document(works + "raised.toml").value();
    out.materials = {bw::io::read_document(works + "materials.toml").value()};
    out.explain = false;
    return out;
}

// On a real recipe first order and draws must tell the same story: its inputs are a few percent at
// most, so the products they make are worth less than a thousandth of u; draws of n give u to four
// standard errors of a normal sample.
TEST(Robustness, FirstOrderAndDrawsAgreeOnTheExample) {
    bw::service::RecipeRequest request = raised();
    request.draws = 40000;
    const auto report = bw::service::solve_recipe(request);
    ASSERT_TRUE(report.has_value()) << report.error().text();
    ASSERT_TRUE(report->feasible());
    const Robustness& r = report->robustness;
    EXPECT_EQ(r.draws, 40000U);
    ASSERT_EQ(r.constituents.size(), report->target.constituents.size());
    const double n = 40000;
    int compared = 0;
    const auto compare = [&](const GoalSpread& s, const std::string& what) {
        if (s.u > 0) {
            ++compared;
            EXPECT_NEAR(s.u_monte_carlo / s.u, 1, kStandardErrors / std::sqrt(2 * n) + 1e-3)
                << what;
            EXPECT_GE(s.inside_monte_carlo, r.all_inside) << what;
        }
    };
    for (std::size_t i = 0; i < r.constituents.size(); ++i) {
        const auto& goal = report->target.constituents[i];
        const std::string what(goal.constituent.symbol());
        compare(r.constituents[i], what);
        const double mean = report->solution.water.mol_per_kg[goal.constituent];
        EXPECT_NEAR(r.constituents[i].mean, mean,
                    kStandardErrors * r.constituents[i].u / std::sqrt(n) + 1e-4 * mean)
            << what;
    }
    for (std::size_t i = 0; i < r.ratios.size(); ++i) {
        compare(r.ratios[i], report->target.ratios[i].name());
    }
    compare(r.salinity, "salinity");
    EXPECT_GE(compared, 10);
}

TEST(Robustness, ThreadsAndRepetitionChangeNothing) {
    const auto first = bw::service::solve_recipe(raised());
    const auto again = bw::service::solve_recipe(raised());
    bw::service::RecipeRequest other_seed = raised();
    other_seed.seed = 2;
    const auto other = bw::service::solve_recipe(other_seed);
    ASSERT_TRUE(first && again && other);
    EXPECT_EQ(first->solution.dose_kg_per_kg, again->solution.dose_kg_per_kg);
    EXPECT_EQ(first->solution.dose_kg_per_kg, other->solution.dose_kg_per_kg);
    ASSERT_EQ(first->robustness.constituents.size(), again->robustness.constituents.size());
    bool differs = false;
    for (std::size_t i = 0; i < first->robustness.constituents.size(); ++i) {
        const GoalSpread& a = first->robustness.constituents[i];
        EXPECT_EQ(a.u_monte_carlo, again->robustness.constituents[i].u_monte_carlo);
        EXPECT_EQ(a.inside_monte_carlo, again->robustness.constituents[i].inside_monte_carlo);
        EXPECT_EQ(a.u, other->robustness.constituents[i].u);
        differs = differs || a.u_monte_carlo != other->robustness.constituents[i].u_monte_carlo;
    }
    EXPECT_TRUE(differs);
}

}  // namespace
