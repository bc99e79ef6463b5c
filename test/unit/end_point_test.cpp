// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// End points of curves that are known, and amounts by titration.
#include "assay/end_point.hpp"

#include <cmath>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "assay/titrated_amount.hpp"
#include "stat/draw.hpp"

namespace bw::assay {
namespace {

using testing::HasSubstr;

std::vector<double> volumes(double first, double last, double step) {
    std::vector<double> out;
    for (double v = first; v < last + step / 2; v += step) {
        out.push_back(v);
    }
    return out;
}

/// A silver or calcium electrode: exact without dilution.
std::vector<CurvePoint> potential(const std::vector<double>& at, double place, double width,
                                  double height, double noise = 0, std::uint64_t seed = 1) {
    std::vector<double> z(at.size(), 0.0);
    if (noise > 0) {
        stat::DrawStream(seed, 0).normal(z);
    }
    std::vector<CurvePoint> out;
    for (std::size_t i = 0; i < at.size(); ++i) {
        out.push_back({at[i], 200 + height * std::asinh((at[i] - place) / width) + noise * z[i]});
    }
    return out;
}

TEST(EndPoint, OfAnExactCurveIsFoundExactly) {
    for (const double place : {4.013, 4.05, 4.0871}) {
        const auto found = find_end_points(potential(volumes(3, 5, 0.1), place, 0.05, -25.7));
        ASSERT_TRUE(found) << found.error().text();
        ASSERT_EQ(found->points.size(), 1U);
        const EndPoint& p = found->points.front();
        EXPECT_NEAR(p.volume, place, 1e-7);
        EXPECT_LT(p.rms, 1e-6);
        // The derivatives know no more than their points' spacing lets them.
        EXPECT_NEAR(p.by_first_derivative, place, 0.05);
        EXPECT_NEAR(p.by_second_derivative, place, 0.05);
        EXPECT_LT(p.step, 0);
    }
}

// Nineteen of twenty fits lie within 2.2 u (t of 13 degrees of freedom), as a standard uncertainty
// should have it.
TEST(EndPoint, UncertaintyCoversTheScatter) {
    int covered = 0;
    constexpr int kCurves = 400;
    for (int i = 0; i < kCurves; ++i) {
        const auto curve =
            potential(volumes(3, 5, 0.1), 4.03, 0.08, 25.7, 0.5, static_cast<std::uint64_t>(i + 1));
        const auto found = find_end_points(curve);
        ASSERT_TRUE(found) << i << found.error().text();
        const EndPoint& p = found->points.front();
        covered += std::abs(p.volume - 4.03) <= 2.16 * p.u ? 1 : 0;
    }
    EXPECT_GT(covered, kCurves * 0.92);
    EXPECT_LT(covered, kCurves * 0.98);
}

TEST(EndPoint, TwoStepsOfOneCurveAreTwoEndPoints) {
    auto curve = potential(volumes(1, 9, 0.1), 3.02, 0.05, 25);
    for (CurvePoint& p : curve) {
        p.signal += 40 * std::asinh((p.volume - 7.04) / 0.05);
    }
    EndPointOptions options;
    options.most = 2;
    const auto found = find_end_points(curve, options);
    ASSERT_TRUE(found) << found.error().text();
    ASSERT_EQ(found->points.size(), 2U);
    EXPECT_NEAR(found->points[0].volume, 3.02, 0.01);
    EXPECT_NEAR(found->points[1].volume, 7.04, 0.01);
    // Asked for one, the steeper one is given.
    options.most = 1;
    EXPECT_NEAR(find_end_points(curve, options)->points.front().volume, 7.04, 0.01);
}

TEST(EndPoint, OfAnIndicatorAndOfTwoLines) {
    std::vector<CurvePoint> colour;
    std::vector<CurvePoint> light;
    for (const double v : volumes(0, 10, 0.25)) {
        colour.push_back({v, 0.4 + 0.3 * std::tanh((v - 6.11) / 0.4)});
        light.push_back({v, v < 6.11 ? 0.02 + 0.001 * v : 0.02 + 0.00611 + 0.08 * (v - 6.11)});
    }
    EndPointOptions options;
    options.shape = CurveShape::Indicator;
    EXPECT_NEAR(find_end_points(colour, options)->points.front().volume, 6.11, 1e-6);
    options.shape = CurveShape::TwoLines;
    EXPECT_NEAR(find_end_points(light, options)->points.front().volume, 6.11, 1e-6);
}

TEST(EndPoint, CurvesThatDoNotPassAreRefusedInOneSentence) {
    const auto says = [](const std::vector<CurvePoint>& curve, CurveShape shape) {
        EndPointOptions options;
        options.shape = shape;
        const auto found = find_end_points(curve, options);
        return found ? std::string("found") : found.error().message;
    };
    const auto at = volumes(3, 5, 0.1);
    EXPECT_THAT(says({{1, 1}, {2, 2}}, CurveShape::Potential), HasSubstr("needs 8 points"));
    auto back = potential(at, 4, 0.05, 25);
    back[7].volume = back[6].volume;
    EXPECT_THAT(says(back, CurveShape::Potential), HasSubstr("point 8 of the curve"));
    std::vector<CurvePoint> line;
    for (const double v : at) {
        line.push_back({v, 3 * v});
    }
    EXPECT_THAT(says(line, CurveShape::Potential), HasSubstr("no inflection"));
    // Ended before the step: steepest at the last point.
    EXPECT_THAT(says(potential(at, 5.1, 0.1, 25), CurveShape::Potential),
                HasSubstr("no inflection"));
    for (std::size_t i = 0; i < line.size(); ++i) {
        line[i].signal += i % 2 == 0 ? 0.05 : -0.05;
    }
    EXPECT_THAT(says(line, CurveShape::TwoLines), HasSubstr("one straight line"));
}

Consumption of(double volume, double strength, double sample) {
    return {{volume, 0.01}, {0.02, 0.005}, {strength, strength * 1e-3}, {1, 0}, {sample, 0.001}};
}

TEST(TitratedAmount, CalciumLosesTheStrontiumThatItsTitrantTakes) {
    const auto ca = calcium_by_egta(of(10.32, 0.01, 10), {0.09, 0.002}, {0.4, 0.1});
    ASSERT_TRUE(ca);
    EXPECT_NEAR(ca->mmol_per_kg.value, 10.3 - 0.4 * 0.09, 1e-9);
    // Titrant 0.1 %, volume 0.01 of 10.3, blank 0.005, sample 0.01 %, share 0.1 of 0.09, strontium.
    const double u2 = 0.0103 * 0.0103 + 0.01 * 0.01 + 0.005 * 0.005 + 0.00103 * 0.00103 +
                      0.009 * 0.009 + 0.0008 * 0.0008;
    EXPECT_NEAR(ca->mmol_per_kg.u, std::sqrt(u2), 1e-6);
    double shares = 0;
    for (const Contribution& c : ca->budget.contributions) {
        shares += c.share;
    }
    EXPECT_NEAR(shares, 1, 1e-12);
    EXPECT_GE(ca->budget.contributions[0].share, ca->budget.contributions[1].share);
}

// Strontium that EGTA leaves out is subtracted once: Mg = EDTA - EGTA - (1 - phi) Sr.
TEST(TitratedAmount, MagnesiumByDifferenceKnowsWhatItShares) {
    const auto both =
        calcium_and_magnesium(of(10.32, 0.01, 10), of(31.78, 0.02, 10), {0.09, 0.02}, {0.4, 0});
    ASSERT_TRUE(both);
    const double edta = 31.76 * 0.02 * 100;
    EXPECT_NEAR(both->magnesium.mmol_per_kg.value, edta - 10.3 - 0.6 * 0.09, 1e-9);
    EXPECT_LT(both->correlation, 0);
    const auto alone = magnesium_by_edta(of(31.78, 0.02, 10), both->calcium.mmol_per_kg, {0.09, 0});
    EXPECT_NEAR(alone->mmol_per_kg.value, both->magnesium.mmol_per_kg.value, 1e-9);
}

TEST(TitratedAmount, ChlorideIsSilverLessBromideAndIodide) {
    const auto cl = chloride_by_silver(of(10.97, 0.05, 1), {0.84, 0.01}, {0.0005, 0});
    ASSERT_TRUE(cl);
    EXPECT_NEAR(cl->mmol_per_kg.value, 10.95 * 0.05 * 1000 - 0.8405, 1e-9);
    EXPECT_THAT(chloride_by_silver(of(10.97, 0.05, 1), {600, 0}, {}).error().message,
                HasSubstr("nothing is left for chloride"));
    EXPECT_THAT(titrated_amount(of(0.01, 0.05, 1)).error().message, HasSubstr("above the blank"));
    EXPECT_FALSE(calcium_by_egta(of(10, 0.01, 10), {0.09, 0}, {1.4, 0}));
}

}  // namespace
}  // namespace bw::assay
