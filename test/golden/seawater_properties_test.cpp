// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Natural seawater against an independent implementation (test/golden/seawater_properties.json,
// made by tools/reference/seawater_properties.py).
#include <cmath>
#include <fstream>
#include <string>

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "brine/practical_salinity.hpp"
#include "brine/reference_density.hpp"
#include "figure.hpp"

namespace {

using bw::unit::Celsius;
using bw::unit::GramPerKg;
using bw::unit::PracticalSalinity;

nlohmann::json golden() {
    std::ifstream in(std::string(BW_SOURCE_DIR) + "/test/golden/seawater_properties.json");
    EXPECT_TRUE(in);
    return nlohmann::json::parse(in);
}

// From S = 2 up both evaluate PSS-78: the reference inverts it by two steps of Newton, good to
// 1e-9. Below, both join the term of Hill et al.; the reference finds R_t at S = 2 by one step from
// a fit, so the factor may differ a little more.
TEST(SeawaterPropertiesGolden, ConductivityBothWays) {
    const auto points = golden()["conductivity"];
    ASSERT_GE(points.size(), 140U);
    double worst = 0;
    for (const auto& p : points) {
        const double S = p["practical_salinity"];
        const Celsius t(p["t90_degC"]);
        const double expected = p["mS_per_cm"];
        const auto kappa = bw::brine::conductivity_of_salinity(PracticalSalinity(S), t);
        ASSERT_TRUE(kappa) << p.dump();
        worst = std::fmax(worst, std::fabs(kappa->kappa_mS_per_cm - expected));
        EXPECT_NEAR(kappa->kappa_mS_per_cm, expected, 1e-7) << p.dump();
        const auto back = bw::brine::salinity_of_conductivity(expected, t);
        ASSERT_TRUE(back) << p.dump();
        EXPECT_NEAR(back->salinity.value(), S, 1e-7) << p.dump();
        EXPECT_EQ(back->extrapolated, false) << p.dump();
    }
    RecordProperty("worst_mS_per_cm", std::to_string(worst));
    constexpr double kAsked = 1e-3;
    bw::test::record({"Waters",
                      fmt::format("conductivity by the practical salinity scale against an open "
                                  "package, {} points",
                                  points.size()),
                      "within 0.001 mS/cm", bw::test::share_used(worst, kAsked), worst <= kAsked});
}

// One polynomial evaluated twice; the file has 9 decimals.
TEST(SeawaterPropertiesGolden, DensityOfReferenceSeawater) {
    const auto points = golden()["density"];
    ASSERT_GE(points.size(), 130U);
    double worst = 0;
    for (const auto& p : points) {
        const auto rho =
            bw::brine::reference_seawater_density(GramPerKg(p["g_per_kg"]), Celsius(p["t90_degC"]));
        ASSERT_TRUE(rho) << p.dump();
        EXPECT_NEAR(rho->value(), p["kg_per_m3"].get<double>(), 2e-9) << p.dump();
        worst = std::fmax(worst, std::fabs(rho->value() - p["kg_per_m3"].get<double>()));
    }
    constexpr double kAsked = 5e-3;
    bw::test::record({"Waters",
                      fmt::format("density by the equation of natural seawater against an open "
                                  "package, {} points",
                                  points.size()),
                      "within 0.005 kg/m3", bw::test::share_used(worst, kAsked), worst <= kAsked});
}

}  // namespace
