// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// EOS-80 density against an independent implementation (test/golden/eos80.json, made by
// tools/reference/eos80.py). Tolerance 1e-9 kg/m3: both evaluate the same polynomial, so only
// round-off may differ.
#include <cmath>
#include <fstream>

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "brine/seawater_density.hpp"

namespace {

TEST(DensityGolden, Eos80OnAGrid) {
    std::ifstream in(std::string(BW_SOURCE_DIR) + "/test/golden/eos80.json");
    ASSERT_TRUE(in);
    const auto golden = nlohmann::json::parse(in);
    ASSERT_GE(golden["points"].size(), 90U);
    for (const auto& p : golden["points"]) {
        const auto rho =
            bw::brine::seawater_density(bw::unit::PracticalSalinity(p["practical_salinity"]),
                                        bw::unit::Celsius(p["temperature_degC_its90"]));
        ASSERT_TRUE(rho) << p.dump();
        EXPECT_NEAR(rho->value(), p["density_kg_per_m3"].get<double>(), 1e-9) << p.dump();
    }
}

}  // namespace
