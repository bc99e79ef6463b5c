// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "path/dissolving_solid.hpp"

#include <array>
#include <vector>

#include <gtest/gtest.h>

#include "figure.hpp"
#include "path/heat_of_solution.hpp"
#include "ref/tables.hpp"

namespace bw::path {
namespace {

// Nernst and Hartley from limiting conductivities [robinson-stokes-2002], from memory: NaCl 1.61,
// KCl 1.99, MgCl2 1.25, CaCl2 1.33, LiCl 1.37, KBr 2.02 in 1e-9 m2/s.
TEST(DissolvingSolid, DiffusionOfTheIons) {
    EXPECT_NEAR(dissolving_solid("NaCl")->diffusion_25_m2_per_s, 1.61e-9, 0.01e-9);
    EXPECT_NEAR(dissolving_solid("KCl")->diffusion_25_m2_per_s, 1.99e-9, 0.02e-9);
    EXPECT_NEAR(dissolving_solid("KBr")->diffusion_25_m2_per_s, 2.02e-9, 0.02e-9);
    EXPECT_NEAR(dissolving_solid("CaCl2")->diffusion_25_m2_per_s, 1.33e-9, 0.01e-9);
    EXPECT_NEAR(dissolving_solid("LiCl")->diffusion_25_m2_per_s, 1.37e-9, 0.01e-9);
}

TEST(DissolvingSolid, SaturationCountsHydrateWater) {
    // 6.15 mol/kg-water [crc-98-solubility, table of common salts]: 359.6 g per kg of water.
    EXPECT_NEAR(dissolving_solid("NaCl")->saturation_kg_per_m3, 0.3596 / 1.3596 * 1197, 0.5);
    const double dry = dissolving_solid("MgSO4")->saturation_kg_per_m3;
    EXPECT_NEAR(dissolving_solid("MgSO4.7H2O")->saturation_kg_per_m3 / dry, 246.47 / 120.37, 1e-3);
}

TEST(DissolvingSolid, EveryRowHoldsTogether) {
    for (const ref::DissolvingRow& row : ref::dissolving()) {
        const auto solid = dissolving_solid(row.formula);
        ASSERT_TRUE(solid) << row.formula;
        EXPECT_EQ(solid->formula, row.formula);
        EXPECT_FALSE(solid->estimated);
        EXPECT_GT(solid->saturation_kg_per_m3, 1) << row.formula;
        EXPECT_LT(solid->saturation_kg_per_m3, row.saturated_density_kg_per_m3) << row.formula;
        EXPECT_GT(solid->diffusion_25_m2_per_s, 0.5e-9) << row.formula;
        EXPECT_LT(solid->diffusion_25_m2_per_s, 2.1e-9) << row.formula;
        EXPECT_GT(solid->density_kg_per_m3, 1400) << row.formula;
    }
}

// What is bought by the kilogram for sea salt must not rest on an estimate.
TEST(DissolvingSolid, SaltsOfSeaSaltAreInTheTable) {
    for (const char* formula :
         {"NaCl", "Na2SO4", "MgSO4.7H2O", "MgCl2.6H2O", "CaCl2.2H2O", "KCl", "K2SO4", "NaHCO3",
          "Na2CO3", "SrCl2.6H2O", "NaBr", "KBr", "H3BO3", "Na2B4O7.10H2O", "NaF", "KI", "LiCl"}) {
        EXPECT_FALSE(dissolving_solid(formula)->estimated) << formula;
    }
}

TEST(DissolvingSolid, UnknownIsEstimatedAndSaysSo) {
    const auto unknown = dissolving_solid("CsCl");
    ASSERT_TRUE(unknown);
    EXPECT_TRUE(unknown->estimated);
    EXPECT_EQ(unknown->heat_of_solution_J_per_mol, 0);
    EXPECT_EQ(dissolving_solid("B(OH)3")->formula, "H3BO3");
    EXPECT_FALSE(dissolving_solid("Xx2"));
}

struct Part {
    const char* formula;
    double mmol_per_kg;
};

double change_K(const std::vector<Part>& parts) {
    const Liquid sea = liquid_of(unit::GramPerKg(35.16504), unit::Celsius(25)).value();
    std::vector<SolidDissolved> dissolved;
    dissolved.reserve(parts.size());
    for (const Part& part : parts) {
        dissolved.push_back(
            {part.mmol_per_kg * 1e-3, dissolving_solid(part.formula)->heat_of_solution_J_per_mol});
    }
    return temperature_change_K(dissolved, sea);
}

// Contributions and sums that another hand printed for a seawater of 52.8 mmol/kg of
// magnesium, 28.2 of sulfate and 10.28 of calcium, to the digits given. NaCl 465.5 where no sodium
// sulfate brings sodium, else 56.4 less.
TEST(HeatOfSolution, OfFourWaysToMakeOneSeawater) {
    EXPECT_NEAR(change_K({{"NaCl", 465.5}}), -0.45, 0.006);
    EXPECT_NEAR(change_K({{"KCl", 10.2}}), -0.04, 0.005);
    EXPECT_NEAR(change_K({{"MgCl2.6H2O", 24.6}}), 0.11, 0.006);
    const std::vector<Part> common = {{"KCl", 10.2}, {"NaHCO3", 2.0}};
    const auto with = [&](std::vector<Part> more) {
        more.insert(more.end(), common.begin(), common.end());
        return change_K(more);
    };
    EXPECT_NEAR(
        with({{"NaCl", 409.1}, {"MgCl2.6H2O", 52.8}, {"Na2SO4", 28.2}, {"CaCl2.2H2O", 10.28}}),
        -0.1, 0.05);
    EXPECT_NEAR(
        with({{"NaCl", 465.5}, {"MgCl2.6H2O", 24.6}, {"MgSO4.7H2O", 28.2}, {"CaCl2.2H2O", 10.28}}),
        -0.4, 0.05);
    EXPECT_NEAR(with({{"NaCl", 465.5}, {"MgCl2.6H2O", 24.6}, {"MgSO4", 28.2}, {"CaCl2", 10.28}}),
                0.45, 0.03);
    EXPECT_NEAR(with({{"NaCl", 465.5}, {"MgCl2", 24.6}, {"MgSO4", 28.2}, {"CaCl2", 10.28}}), 1.3,
                0.05);
    EXPECT_EQ(change_K({}), 0);
    bw::test::record(
        {"Dissolving",
         "change of temperature as the salts of a seawater dissolve, three salts alone "
         "and four recipes, against values worked out by hand elsewhere",
         "the digits printed there",
         "7 of 7; -0.4 K with Epsom salt and hydrates to +1.3 K with all anhydrous",
         !HasFailure()});
}

}  // namespace
}  // namespace bw::path
