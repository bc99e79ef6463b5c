// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "unit/unit_table.hpp"

#include <set>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "unit/quantity.hpp"

namespace {

using namespace bw::unit;
using bw::ProblemCode;
using testing::HasSubstr;

TypedQuantity read(std::string_view text) {
    auto out = parse_quantity(text);
    EXPECT_TRUE(out.has_value()) << text << ": " << (out ? "" : out.error().message);
    return out.value_or(TypedQuantity{});
}

bw::Problem refused(std::string_view text) {
    auto out = parse_quantity(text);
    EXPECT_FALSE(out.has_value()) << text << " should be refused";
    return out ? bw::Problem{} : out.error();
}

// The units that docs/reference/files.md promises.
TEST(UnitTable, KnowsEveryUnitOfTheReference) {
    for (const char* symbol : {"g/kg",
                               "mg/kg",
                               "ug/kg",
                               "ng/kg",
                               "mol/kg",
                               "mmol/kg",
                               "umol/kg",
                               "nmol/kg",
                               "g/L",
                               "mg/L",
                               "ug/L",
                               "mol/L",
                               "mmol/L",
                               "umol/L",
                               "nmol/L",
                               "mol/kg-water",
                               "mmol/kg-water",
                               "umol/kg-water",
                               "eq/kg",
                               "meq/kg",
                               "ueq/kg",
                               "meq/L",
                               "ueq/L",
                               "meq/kg-water",
                               "dKH",
                               "%",
                               "kg/kg",
                               "t",
                               "kg",
                               "g",
                               "mg",
                               "degC",
                               "K",
                               "um",
                               "mm",
                               "kg/m3",
                               "g/cm3",
                               "kg/L",
                               "g/mL",
                               "mS/cm",
                               "uS/cm",
                               "S/m",
                               "mS/m",
                               "m3",
                               "L",
                               "mL",
                               "%/K"}) {
        EXPECT_TRUE(find_unit(symbol).has_value()) << symbol;
    }
}

TEST(UnitTable, SymbolsAreUniqueAndFactorsPositive) {
    std::set<std::string_view> symbols;
    for (const Unit& unit : all_units()) {
        EXPECT_TRUE(symbols.insert(unit.symbol).second) << unit.symbol;
        EXPECT_GT(unit.factor, 0) << unit.symbol;
        EXPECT_FALSE(describe(unit.dimension).empty()) << unit.symbol;
    }
}

// SI prefixes and definitions; exact but for the rounding of a double, hence EXPECT_DOUBLE_EQ.
TEST(UnitTable, ValuesComeInTheUnitOfTheDimension) {
    EXPECT_DOUBLE_EQ(read("440 mg/L").value(), 440e-6);    // kg/L
    EXPECT_DOUBLE_EQ(read("3 ug/kg").value(), 3e-9);       // kg/kg
    EXPECT_DOUBLE_EQ(read("0.5 nmol/kg").value(), 5e-10);  // mol/kg
    EXPECT_DOUBLE_EQ(read("2.3 meq/kg").value(), 2.3e-3);  // eq/kg
    EXPECT_DOUBLE_EQ(read("25 t").value(), 25000);         // kg
    EXPECT_DOUBLE_EQ(read("250 um").value(), 250e-6);      // m
    EXPECT_DOUBLE_EQ(read("1.85 g/cm3").value(), 1850);    // kg/m3
    EXPECT_DOUBLE_EQ(read("99.2 %").value(), 0.992);
    EXPECT_DOUBLE_EQ(read("25 degC").value(), 25);
    EXPECT_DOUBLE_EQ(read("35 \u2030").value(), 0.035);
    EXPECT_DOUBLE_EQ(read("30 min").value(), 0.5);
    EXPECT_DOUBLE_EQ(read("2 days").value(), 48);
    EXPECT_DOUBLE_EQ(read("2 /min").value(), 120);
    EXPECT_DOUBLE_EQ(read("1.0233 g/mL").value(), 1023.3);     // kg/m3
    EXPECT_DOUBLE_EQ(read("5.307 S/m").value(), 53.07);        // mS/cm
    EXPECT_DOUBLE_EQ(read("1413 \u00B5S/cm").value(), 1.413);  // mS/cm
    EXPECT_DOUBLE_EQ(read("250 mL").value(), 0.25);            // L
    EXPECT_DOUBLE_EQ(read("1.2 m3").value(), 1200);            // L
    EXPECT_DOUBLE_EQ(read("2 %/K").value(), 0.02);             // 1/K
    EXPECT_NEAR(read("298.15 K").value(), 25, 1e-12);  // 273.15 K = 0 degC, SI; round-off only
}

// 1 dKH = 10 mg CaO per litre by definition; 1 mol CaO takes up 2 eq of acid; CaO = 40.078 +
// 15.999 = 56.077 g/mol (CIAAW 2021). Tolerance: round-off.
TEST(UnitTable, DegreeOfCarbonateHardnessIsTenMilligramOfLimePerLitre) {
    EXPECT_NEAR(read("1 dKH").value(), 2 * 0.010 / 56.077, 1e-15);
    EXPECT_NEAR(read("8 dKH").value() / read("1 meq/L").value(), 2.8532, 5e-5);  // 160/56.077
    EXPECT_EQ(read("8 dKH").unit.dimension, Dimension::EquivalentPerVolume);
}

TEST(UnitTable, ReadsNumberUnitAndForm) {
    const TypedQuantity q = read("  26 mg/L as H3BO3 ");
    EXPECT_DOUBLE_EQ(q.number, 26);
    EXPECT_EQ(q.unit.symbol, "mg/L");
    EXPECT_EQ(q.as, "H3BO3");
    EXPECT_EQ(q.text, "26 mg/L as H3BO3");
    EXPECT_DOUBLE_EQ(read("5mg/L").number, 5);
    EXPECT_DOUBLE_EQ(read("5eq/kg").number, 5);  // the e of eq is no exponent
    EXPECT_EQ(read("5eq/kg").unit.symbol, "eq/kg");
    EXPECT_DOUBLE_EQ(read("1.2e-3 mol/kg").number, 1.2e-3);
    EXPECT_DOUBLE_EQ(read("\u22121.5 meq/kg").number, -1.5);  // U+2212
    EXPECT_DOUBLE_EQ(read("+.5 mg/L").number, 0.5);
}

TEST(UnitTable, MicroMayBeWrittenThreeWays) {
    EXPECT_EQ(read("3 \u00B5g/L").unit.symbol, "ug/L");
    EXPECT_EQ(read("3 \u03BCg/L").unit.symbol, "ug/L");
    EXPECT_EQ(read("3 ug/L").unit.symbol, "ug/L");
    EXPECT_EQ(read("3 \u00B5mol/kg-water").unit.symbol, "umol/kg-water");
}

TEST(UnitTable, PricesTakeAnyCurrencyPerMass) {
    const TypedQuantity per_kg = read("0.62 EUR/kg");
    EXPECT_EQ(per_kg.currency, "EUR");
    EXPECT_EQ(per_kg.unit.dimension, Dimension::PricePerMass);
    EXPECT_DOUBLE_EQ(per_kg.value(), 0.62);
    EXPECT_DOUBLE_EQ(read("620 CHF/t").value(), 0.62);  // per kg
    EXPECT_DOUBLE_EQ(read("0.004 JPY/g").value(), 4);   // per kg
    EXPECT_THAT(refused("1 EUR/L").message, HasSubstr("a price is per kg, t or g"));
    EXPECT_EQ(refused("1 eur/kg").code, ProblemCode::BadUnit);
    EXPECT_EQ(refused("1 EURO/kg").code, ProblemCode::BadUnit);
}

// Parts per million mean one thing by mass and another by volume; seawater's density tells them
// apart by 2.3 %.
TEST(UnitTable, PartsPerAreRefusedWithTheReason) {
    EXPECT_EQ(refused("440 ppm").code, ProblemCode::BadUnit);
    EXPECT_THAT(refused("440 ppm").message, testing::AllOf(HasSubstr("mg/kg"), HasSubstr("mg/L")));
    EXPECT_THAT(refused("35 ppt").message, testing::AllOf(HasSubstr("g/kg"), HasSubstr("g/L")));
    EXPECT_THAT(refused("3 PPB").message, testing::AllOf(HasSubstr("ug/kg"), HasSubstr("ug/L")));
}

TEST(UnitTable, UnknownUnitsGetTheNearestOne) {
    EXPECT_THAT(refused("440 mg/l").message, HasSubstr("did you mean mg/L?"));
    EXPECT_THAT(refused("2.3 meq/Kg").message, HasSubstr("did you mean meq/kg?"));
    EXPECT_THAT(refused("5 furlongs").message, HasSubstr("unknown unit 'furlongs'"));
}

TEST(UnitTable, MissingPartsAreNamed) {
    EXPECT_EQ(refused("440").code, ProblemCode::BadUnit);
    EXPECT_THAT(refused("440").message, HasSubstr("has no unit"));
    EXPECT_EQ(refused("mg/L").code, ProblemCode::BadNumber);
    EXPECT_EQ(refused("").code, ProblemCode::BadNumber);
    EXPECT_EQ(refused("4,4 mg/L").code, ProblemCode::BadNumber);
    EXPECT_THAT(refused("1,000 mg/L").message, HasSubstr("decimal point"));
    EXPECT_EQ(refused("nan mg/L").code, ProblemCode::BadNumber);
    EXPECT_EQ(refused("1e999 mg/L").code, ProblemCode::BadNumber);
    EXPECT_EQ(refused("5-3 mg/L").code, ProblemCode::BadNumber);
    EXPECT_EQ(refused("5 mg/L as").code, ProblemCode::BadUnit);
    EXPECT_EQ(refused("5 mg/L as  ").code, ProblemCode::BadUnit);
}

TEST(Quantity, OnlyLikeAddsToLike) {
    constexpr GramPerKg kA(35.0);
    constexpr GramPerKg kB(0.165);
    static_assert(!std::is_convertible_v<double, GramPerKg>);
    static_assert(!std::is_same_v<GramPerKg, KgPerM3>);
    EXPECT_DOUBLE_EQ((kA + kB).value(), 35.165);
    EXPECT_DOUBLE_EQ((kA - kB).value(), 34.835);
    EXPECT_DOUBLE_EQ((2.0 * kA).value(), 70);
    EXPECT_DOUBLE_EQ((kA / 2.0).value(), 17.5);
    EXPECT_DOUBLE_EQ(kA / kB, 35.0 / 0.165);
    EXPECT_LT(kB, kA);
}

}  // namespace
