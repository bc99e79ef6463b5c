// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Conversions by hand. Molar masses are sums of CIAAW 2021 weights (Prohaska et al. 2022), given
// with each case. Every case is a product of a few doubles, so 1e-12 relative is round-off.
#include "matter/concentration.hpp"

#include <cmath>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace {

using namespace bw::matter;
using testing::HasSubstr;

constexpr double kDensity = 1.02334;       // kg/L, EOS-80 at 35 and 25 degC (UNESCO 44)
constexpr double kDissolved = 0.03516504;  // kg/kg, Millero et al. 2008
constexpr double kRelative = 1e-12;

WaterBasis seawater() {
    return {bw::unit::KgPerM3(kDensity * 1000), bw::unit::GramPerKg(kDissolved * 1000)};
}

bw::Result<double> convert(std::string_view quantity, std::string_view symbol) {
    const auto typed = bw::unit::parse_quantity(quantity);
    EXPECT_TRUE(typed.has_value()) << quantity;
    return typed ? mol_per_kg(*typed, constituent(symbol), seawater())
                 : bw::Result<double>(tl::make_unexpected(typed.error()));
}

void expect_mol(std::string_view quantity, std::string_view symbol, double expected) {
    const auto out = convert(quantity, symbol);
    ASSERT_TRUE(out.has_value()) << quantity << ' ' << symbol << ": " << out.error().message;
    EXPECT_NEAR(*out / expected, 1, kRelative) << quantity << ' ' << symbol;
}

std::string refusal(std::string_view quantity, std::string_view symbol) {
    const auto out = convert(quantity, symbol);
    EXPECT_FALSE(out.has_value()) << quantity << " of " << symbol << " should be refused";
    if (out) {
        return {};
    }
    EXPECT_EQ(out.error().code, bw::ProblemCode::BadUnit);
    return out.error().message;
}

TEST(Concentration, MassPerKilogramAndPerLitre) {
    expect_mol("412.08 mg/kg", "Ca", 412.08e-3 / 40.078);
    expect_mol("0.41208 g/kg", "Ca", 0.41208 / 40.078);
    expect_mol("412080 ug/kg", "Ca", 0.41208 / 40.078);
    expect_mol("440 mg/L", "Ca", 440e-3 / 40.078 / kDensity);
    expect_mol("2712 mg/kg", "SO4", 2.712 / 96.056);  // 32.06 + 4 x 15.999
    expect_mol("3 ug/L", "Cu", 3e-6 / 63.546 / kDensity);
    expect_mol("10 ng/kg", "Co", 10e-9 / 58.933);
}

TEST(Concentration, AmountPerKilogramPerLitreAndPerKilogramOfWater) {
    expect_mol("10.28 mmol/kg", "Ca", 10.28e-3);
    expect_mol("10.52 mmol/L", "Ca", 10.52e-3 / kDensity);
    // Molality to amount content: (1 - dissolved), by definition of both.
    expect_mol("10.6568 mmol/kg-water", "Ca", 10.6568e-3 * (1 - kDissolved));
    expect_mol("0.4860597 mol/kg-water", "Na", 0.4860597 * (1 - kDissolved));
    expect_mol("105 nmol/kg", "Mo", 105e-9);
}

TEST(Concentration, EquivalentsAreDividedByTheCharge) {
    expect_mol("20.56 meq/kg", "Ca", 10.28e-3);
    expect_mol("56.4 meq/L", "SO4", 28.2e-3 / kDensity);
    expect_mol("2.3 meq/kg", "alkalinity", 2.3e-3);
    expect_mol("2.3 mmol/kg", "alkalinity", 2.3e-3);  // docs/reference/files.md: mmol means meq
    expect_mol("2.5 meq/L", "alkalinity", 2.5e-3 / kDensity);
    expect_mol("2.38 meq/kg-water", "alkalinity", 2.38e-3 * (1 - kDissolved));
    expect_mol("2300 ueq/kg", "alkalinity", 2.3e-3);
}

// dKH: 10 mg CaO/L by definition, CaO 40.078 + 15.999 = 56.077 g/mol, two equivalents each.
TEST(Concentration, DegreesOfCarbonateHardness) {
    expect_mol("8 dKH", "alkalinity", 8 * 2 * 10e-3 / 56.077 / kDensity);
}

TEST(Concentration, AlkalinityAsAForm) {
    // CaCO3 40.078 + 12.011 + 47.997 = 100.086, two equivalents.
    expect_mol("125 mg/L as CaCO3", "alkalinity", 2 * 125e-3 / 100.086 / kDensity);
    // HCO3 1.0080 + 12.011 + 47.997 = 61.016, one equivalent.
    expect_mol("140 mg/L as HCO3", "alkalinity", 140e-3 / 61.016 / kDensity);
    // CO3 60.008, two; CaO 56.077, two; NaHCO3 22.990 + 61.016 = 84.006, one.
    expect_mol("70 mg/kg as CO3", "alkalinity", 2 * 70e-3 / 60.008);
    expect_mol("70 mg/kg as CaO", "alkalinity", 2 * 70e-3 / 56.077);
    expect_mol("200 mg/kg as NaHCO3", "alkalinity", 200e-3 / 84.006);
}

TEST(Concentration, OtherFormsThatTheTradeUses) {
    expect_mol("26 mg/L as H3BO3", "B", 26e-3 / 61.831 / kDensity);  // 3.024 + 10.81 + 47.997
    expect_mol("0.5 mg/L as N", "NO3", 0.5e-3 / 14.007 / kDensity);
    expect_mol("70 ug/L as N", "NH4", 70e-6 / 14.007 / kDensity);
    expect_mol("0.1 mg/L as N", "NO2", 0.1e-3 / 14.007 / kDensity);
    expect_mol("30 ug/L as P", "PO4", 30e-6 / 30.974 / kDensity);
    expect_mol("5 mg/kg as P2O5", "PO4", 2 * 5e-3 / 141.943);      // 61.948 + 79.995
    expect_mol("1 mg/L as SiO2", "Si", 1e-3 / 60.083 / kDensity);  // 28.085 + 31.998
    expect_mol("900 mg/kg as S", "SO4", 900e-3 / 32.06);
    expect_mol("24 mg/kg as C", "carbon", 24e-3 / 12.011);
    expect_mol("88 mg/kg as CO2", "carbon", 88e-3 / 44.009);   // 12.011 + 31.998
    expect_mol("400 mg/kg as K2O", "K", 2 * 400e-3 / 94.195);  // 78.196 + 15.999
    expect_mol("60 ug/kg as IO3", "I", 60e-6 / 174.897);       // 126.90 + 47.997
    expect_mol("1000 mg/kg as CaCO3", "Ca", 1 / 100.086);
}

TEST(Concentration, EveryUnitGoesThereAndBack) {
    for (const char* quantity :
         {"412.08 mg/kg", "421.7 mg/L", "10.28 mmol/kg", "10.5 mmol/L", "10.65 mmol/kg-water",
          "20.6 meq/kg", "21 meq/L", "21.3 meq/kg-water", "1053 mg/L as CaCO3"}) {
        const auto typed = bw::unit::parse_quantity(quantity);
        ASSERT_TRUE(typed.has_value());
        const auto factor = mol_per_kg_per_unit(*typed, constituent("Ca"), seawater());
        const auto amount = mol_per_kg(*typed, constituent("Ca"), seawater());
        ASSERT_TRUE(factor.has_value() && amount.has_value()) << quantity;
        EXPECT_NEAR(*amount / *factor, typed->number, kRelative * typed->number) << quantity;
        // All of these are nature's calcium, 10.28 mmol/kg (Millero et al. 2008), rounded to 0.3 %:
        // a density, a water share or a charge gone astray would show.
        EXPECT_NEAR(*amount, 10.28e-3, 0.03e-3) << quantity;
    }
}

TEST(Concentration, WhatCannotBeStatedIsRefusedWithTheReason) {
    EXPECT_THAT(refusal("0.62 EUR/kg", "Ca"), HasSubstr("Ca cannot be given in"));
    EXPECT_THAT(refusal("5 kg", "Ca"), HasSubstr("mmol/kg"));
    EXPECT_THAT(refusal("5 %", "Ca"), HasSubstr("Ca cannot be given in %"));
    EXPECT_THAT(refusal("25 degC", "Ca"), HasSubstr("Ca"));
    EXPECT_THAT(refusal("0.4 meq/kg", "B"), HasSubstr("no charge"));
    EXPECT_THAT(refusal("2 meq/L", "carbon"), HasSubstr("no charge"));
    EXPECT_THAT(refusal("8 dKH", "Si"), HasSubstr("no charge"));
    EXPECT_THAT(refusal("125 mg/L", "alkalinity"), HasSubstr("as CaCO3"));
    EXPECT_THAT(refusal("125 mg/kg", "alkalinity"), HasSubstr("as CaCO3"));
}

TEST(Concentration, AFormMustHoldTheConstituent) {
    EXPECT_THAT(refusal("5 mg/L as NaCl", "K"), HasSubstr("NaCl holds no potassium"));
    EXPECT_THAT(refusal("1300 mg/L as CaCO3", "Mg"), HasSubstr("CaCO3 holds no magnesium"));
    EXPECT_THAT(refusal("5 mg/L as NaCl", "alkalinity"), HasSubstr("holds no total alkalinity"));
    EXPECT_THAT(refusal("1 mg/L as N", "PO4"), HasSubstr("holds no phosphate"));
    EXPECT_THAT(refusal("1 mg/L as Na2SO3", "SO4"), HasSubstr("holds no sulfate"));
    EXPECT_THAT(refusal("1 mg/L as HCl", "alkalinity"), HasSubstr("HCl"));  // takes it away
    const auto nonsense = convert("1 mg/L as Foo", "Ca");
    ASSERT_FALSE(nonsense.has_value());
    EXPECT_EQ(nonsense.error().code, bw::ProblemCode::BadFormula);
}

// 1.15 mmol of CaCO3 carry 2.30 meq. A form named after an amount must count or be refused: to
// drop it unsaid makes a factor of two.
TEST(Concentration, AFormBesideAnAmountIsNotDropped) {
    const auto carbonate = convert("1.15 mmol/kg as CaCO3", "alkalinity");
    EXPECT_TRUE(!carbonate || std::abs(*carbonate - 2.30e-3) < 1e-15) << carbonate.value_or(0);
    const auto borate = convert("0.1 mmol/kg as Na2B4O7", "B");
    EXPECT_TRUE(!borate || std::abs(*borate - 0.4e-3) < 1e-15) << borate.value_or(0);
}

TEST(Concentration, NormalisingScalesEveryConstituentAlike) {
    Amounts half = reference_seawater(17.58252);
    half[constituent("Mo")] = 50e-9;
    const Amounts full = normalised_to(half, bw::unit::GramPerKg(35.16504));
    EXPECT_NEAR(full.dissolved_mass_g(), 35.16504, 1e-12);
    EXPECT_NEAR(full[constituent("Mo")] / half[constituent("Mo")],
                full[constituent("Na")] / half[constituent("Na")], 1e-14);
    // The same water at full strength, to the 1e-6 at which its mass is its salinity.
    EXPECT_NEAR(full[constituent("Na")] / reference_seawater(35.16504)[constituent("Na")], 1, 2e-6);
}

// Chlorinity: 0.3285234 g of silver per g, by definition (Millero et al. 2008, section 2); silver
// 107.8682 g/mol (CIAAW 2005). 1 mol of halide is 35.4372 g: bromide and iodide count as chloride.
TEST(Concentration, ChlorinityCountsAllHalidesAsChloride) {
    Amounts water;
    water[constituent("Cl")] = 0.5;
    water[constituent("Br")] = 0.3;
    water[constituent("I")] = 0.2;
    water[constituent("F")] = 7;  // silver fluoride dissolves
    EXPECT_NEAR(chlorinity_g_per_kg(water), 0.3285234 * 107.8682, 1e-12);
}

}  // namespace
