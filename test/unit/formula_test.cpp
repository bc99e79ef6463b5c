// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Atomic weights in this file are typed from the abridged table of CIAAW 2021 (Prohaska et al.
// 2022) and, where said, of CIAAW 2005 (Wieser 2006), not taken from the program's tables.
// Molar masses are sums of at most a dozen decimals: 1e-9 g/mol is round-off and no more.
#include "matter/formula.hpp"

#include <cmath>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace {

using namespace bw::matter;
using testing::HasSubstr;

constexpr double kRoundOff = 1e-9;  // g/mol

Formula read(std::string_view text) {
    auto out = parse_formula(text);
    EXPECT_TRUE(out.has_value()) << text << ": " << (out ? "" : out.error().message);
    return out.value_or(Formula{});
}

bw::Problem refused(std::string_view text) {
    auto out = parse_formula(text);
    EXPECT_FALSE(out.has_value()) << text << " should be refused";
    if (!out) {
        EXPECT_EQ(out.error().code, bw::ProblemCode::BadFormula) << text;
        return out.error();
    }
    return {};
}

double mass(std::string_view text, WeightSet set = WeightSet::Ciaaw2021) {
    const auto out = molar_mass_g_per_mol(read(text), set);
    EXPECT_TRUE(out.has_value()) << text;
    return out.value_or(0);
}

void expect_atoms(std::string_view text, const std::vector<AtomCount>& expected) {
    const Formula f = read(text);
    EXPECT_EQ(f.atoms.size(), expected.size()) << text;
    for (const AtomCount& atom : expected) {
        EXPECT_DOUBLE_EQ(f.count(atom.element), atom.count) << text << ": " << atom.element;
    }
}

TEST(Formula, HydrateWaterIsCountedInAtomsAndApart) {
    expect_atoms("MgCl2.6H2O", {{"Mg", 1}, {"Cl", 2}, {"H", 12}, {"O", 6}});
    EXPECT_DOUBLE_EQ(read("MgCl2.6H2O").waters, 6);
    expect_atoms("Na2B4O7.10H2O", {{"Na", 2}, {"B", 4}, {"O", 17}, {"H", 20}});
    EXPECT_DOUBLE_EQ(read("Na2B4O7.10H2O").waters, 10);
    EXPECT_DOUBLE_EQ(read("MnSO4.H2O").waters, 1);
    EXPECT_DOUBLE_EQ(read("H2O").waters, 0) << "water itself is no hydrate";
}

TEST(Formula, HydratesMayHaveDecimalsOrFractions) {
    for (const char* text : {"CaSO4.0.5H2O", "CaSO4.1/2H2O"}) {
        expect_atoms(text, {{"Ca", 1}, {"S", 1}, {"O", 4.5}, {"H", 1}});
        EXPECT_DOUBLE_EQ(read(text).waters, 0.5) << text;
    }
    expect_atoms("MgSO4.6.8H2O", {{"Mg", 1}, {"S", 1}, {"O", 10.8}, {"H", 13.6}});
    EXPECT_DOUBLE_EQ(read("MgSO4.6.8H2O").waters, 6.8);
}

// A bracketed hydrate, as crystallographers write it, holds as much water as the plain one.
TEST(Formula, WaterInBracketsCountsWithItsFactor) {
    expect_atoms("MgCl2.(H2O)6", {{"Mg", 1}, {"Cl", 2}, {"H", 12}, {"O", 6}});
    EXPECT_DOUBLE_EQ(read("MgCl2.(H2O)6").waters, 6);
    EXPECT_DOUBLE_EQ(read("MgCl2.2(H2O)3").waters, 6);
}

TEST(Formula, GroupsAreFoundBeforeTheBracketIsMultiplied) {
    const Formula f = read("(NH4)2SO4");
    expect_atoms("(NH4)2SO4", {{"N", 2}, {"H", 8}, {"S", 1}, {"O", 4}});
    EXPECT_DOUBLE_EQ(f.group_count("NH4"), 2);
    EXPECT_DOUBLE_EQ(f.group_count("SO4"), 1);
    EXPECT_DOUBLE_EQ(f.group_count("NO3"), 0);
    EXPECT_DOUBLE_EQ(read("NH4NO3").group_count("NH4"), 1);
    EXPECT_DOUBLE_EQ(read("NH4NO3").group_count("NO3"), 1);
    EXPECT_DOUBLE_EQ(read("Na2S2O3.5H2O").group_count("S2O3"), 1);
    EXPECT_DOUBLE_EQ(read("Ca(NO2)2").group_count("NO2"), 2);
    EXPECT_DOUBLE_EQ(read("K2SO3").group_count("SO4"), 0);
}

TEST(Formula, PartsMayCarryLeadingNumbers) {
    const Formula f = read("3MgCO3.Mg(OH)2.3H2O");
    expect_atoms("3MgCO3.Mg(OH)2.3H2O", {{"Mg", 4}, {"C", 3}, {"O", 14}, {"H", 8}});
    EXPECT_DOUBLE_EQ(f.group_count("CO3"), 3);
    EXPECT_DOUBLE_EQ(f.waters, 3);
}

TEST(Formula, BracketsNest) {
    expect_atoms("[Co(NH3)6]Cl3", {{"Co", 1}, {"N", 6}, {"H", 18}, {"Cl", 3}});
    expect_atoms("K4[Fe(CN)6]", {{"K", 4}, {"Fe", 1}, {"C", 6}, {"N", 6}});
    expect_atoms("Mg5(CO3)4(OH)2.4H2O", {{"Mg", 5}, {"C", 4}, {"O", 18}, {"H", 10}});
    expect_atoms("((Na)2(Cl)2)3", {{"Na", 6}, {"Cl", 6}});
}

TEST(Formula, PrintedDotsAndSubscriptsReadAsPlainOnes) {
    const double plain = mass("MgCl2.6H2O");
    for (const char* text : {"MgCl\u2082\u00B76H\u2082O", "MgCl2\u20226H2O", "MgCl2\u22C56H2O",
                             "MgCl2\u22196H2O", "MgCl2*6H2O", "  MgCl2.6H2O\t"}) {
        EXPECT_DOUBLE_EQ(mass(text), plain) << text;
        EXPECT_DOUBLE_EQ(read(text).waters, 6) << text;
    }
    // All ten subscript digits.
    EXPECT_DOUBLE_EQ(
        read("H\u2081\u2080C\u2082\u2083O\u2084\u2085N\u2086\u2087S\u2088\u2089").count("S"), 89);
    EXPECT_DOUBLE_EQ(read("Na\u2082B\u2084O\u2087\u00B7\u2081\u2080H\u2082O").waters, 10);
}

TEST(Formula, ChargesInEverySpelling) {
    struct Row {
        const char* text;
        int charge;
        const char* neutral;  ///< the same atoms
    };
    for (const Row& row :
         {Row{"Na+", 1, "Na"},        Row{"Na+1", 1, "Na"},          Row{"Cl-", -1, "Cl"},
          Row{"Cl\u2212", -1, "Cl"},  Row{"SO4^2-", -2, "SO4"},      Row{"SO4-2", -2, "SO4"},
          Row{"SO4 2-", -2, "SO4"},   Row{"SO4^2\u2212", -2, "SO4"}, Row{"Ca2+", 2, "Ca"},
          Row{"Ca+2", 2, "Ca"},       Row{"Fe3+", 3, "Fe"},          Row{"F-", -1, "F"},
          Row{"HCO3-", -1, "HCO3"},   Row{"NH4+", 1, "NH4"},         Row{"PO4^3-", -3, "PO4"},
          Row{"CO3-2", -2, "CO3"},    Row{"B(OH)4-", -1, "B(OH)4"},  Row{"OH^-", -1, "OH"},
          Row{"S2O3^2-", -2, "S2O3"}, Row{"Hg2^2+", 2, "Hg2"}}) {
        const Formula f = read(row.text);
        EXPECT_EQ(f.charge, row.charge) << row.text;
        EXPECT_DOUBLE_EQ(mass(row.text), mass(row.neutral)) << row.text;
    }
    EXPECT_EQ(read("NaCl").charge, 0);
}

TEST(Formula, ChargesThatCouldMeanTwoThingsAreRefused) {
    for (const char* text : {"SO42-", "HPO42-", "PO43-", "S2O32-", "CO32-"}) {
        EXPECT_THAT(refused(text).message, HasSubstr("SO4^2-")) << text;
    }
    for (const char* text : {"Ca22+", "Na+0", "Na0+", "SO4-10", "SO4--", "-SO4", "S-O4"}) {
        refused(text);
    }
}

TEST(Formula, WhatIsNoElementIsRefusedAndQuoted) {
    EXPECT_THAT(refused("XzCl2").message, HasSubstr("Xz is not an element"));
    EXPECT_THAT(refused("NaQ").message, HasSubstr("Q is not an element"));
    EXPECT_THAT(refused("nacl").message, HasSubstr("'nacl'"));
    EXPECT_THAT(refused("Mg Cl2").message, HasSubstr("capital letter"));
    refused("MgCl2;6H2O");
    refused("NaCl\xFF");
}

TEST(Formula, EmptyIsRefused) {
    refused("");
    refused(" \t ");
    refused("+");
    refused("^2-");
    refused("2");
}

TEST(Formula, LengthIsLimited) {
    std::string longest;
    for (int i = 0; i < 100; ++i) {
        longest += "Na";
    }
    EXPECT_DOUBLE_EQ(read(longest).count("Na"), 100);  // 200 characters
    EXPECT_THAT(refused(longest + "K").message, HasSubstr("too long"));
    EXPECT_THAT(refused(std::string(1U << 20U, '(')).message, HasSubstr("too long"));
}

TEST(Formula, DepthIsLimited) {
    EXPECT_DOUBLE_EQ(read(std::string(8, '(') + "Na" + std::string(8, ')')).count("Na"), 1);
    EXPECT_THAT(refused(std::string(9, '(') + "Na" + std::string(9, ')')).message,
                HasSubstr("too deep"));
}

TEST(Formula, CountsAreOneToTenThousand) {
    EXPECT_DOUBLE_EQ(read("Na10000").count("Na"), 10000);
    for (const char* text :
         {"Na0", "NaCl0", "(NaCl)0", "Na01", "Na10001", "Na99999999999999999999", "NaCl.0H2O",
          "NaCl.0.0H2O", "NaCl.10001H2O", "NaCl.99999999999999999999H2O", "CaSO4.1/0H2O"}) {
        refused(text);
    }
    EXPECT_DOUBLE_EQ(read("Na.10000H2O").waters, 10000);
}

TEST(Formula, BracketsAndDotsMustBeWhole) {
    EXPECT_THAT(refused("(NaCl").message, HasSubstr("not closed"));
    EXPECT_THAT(refused("NaCl)").message, HasSubstr("not opened"));
    EXPECT_THAT(refused("(NaCl]").message, HasSubstr("not closed"));
    EXPECT_THAT(refused("Na()Cl").message, HasSubstr("holds nothing"));
    EXPECT_THAT(refused("MgCl2.").message, HasSubstr("ends with a dot"));
    refused(".MgCl2");
    refused("MgCl2..6H2O");
    refused("MgCl2.6");
    refused("(MgCl2.6H2O)");  // a dot within brackets is not part of the grammar
}

// CIAAW 2021, abridged.
constexpr double kH = 1.0080, kB = 10.81, kC = 12.011, kN = 14.007, kO = 15.999, kF = 18.998;
constexpr double kNa = 22.990, kMg = 24.305, kSi = 28.085, kP = 30.974, kS = 32.06, kCl = 35.45;
constexpr double kK = 39.098, kCa = 40.078, kBr = 79.904, kSr = 87.62, kI = 126.90;
constexpr double kWater = 2 * kH + kO;

TEST(MolarMass, IsTheSumOfTheAtomicWeights) {
    struct Row {
        const char* text;
        double g_per_mol;
    };
    for (const Row& row :
         {Row{"NaCl", kNa + kCl}, Row{"MgCl2.6H2O", kMg + 2 * kCl + 6 * kWater},
          Row{"CaCl2.2H2O", kCa + 2 * kCl + 2 * kWater},
          Row{"MgSO4.7H2O", kMg + kS + 4 * kO + 7 * kWater},
          Row{"MgSO4.6.8H2O", kMg + kS + 4 * kO + 6.8 * kWater},
          Row{"CaSO4.1/2H2O", kCa + kS + 4 * kO + 0.5 * kWater},
          Row{"Na2B4O7.10H2O", 2 * kNa + 4 * kB + 7 * kO + 10 * kWater},
          Row{"H3BO3", 3 * kH + kB + 3 * kO}, Row{"NaHCO3", kNa + kH + kC + 3 * kO},
          Row{"SrCl2.6H2O", kSr + 2 * kCl + 6 * kWater}, Row{"KBr", kK + kBr}, Row{"NaF", kNa + kF},
          Row{"KI", kK + kI}, Row{"(NH4)2SO4", 2 * kN + 8 * kH + kS + 4 * kO},
          Row{"Na2HPO4", 2 * kNa + kH + kP + 4 * kO},
          Row{"Na2SiO3.9H2O", 2 * kNa + kSi + 3 * kO + 9 * kWater},
          Row{"3MgCO3.Mg(OH)2.3H2O", 4 * kMg + 3 * kC + 11 * kO + 2 * kH + 3 * kWater}}) {
        EXPECT_NEAR(mass(row.text), row.g_per_mol, kRoundOff) << row.text;
    }
    EXPECT_NEAR(mass("NaCl"), 58.440, kRoundOff);         // 22.990 + 35.45
    EXPECT_NEAR(mass("MgCl2.6H2O"), 203.295, kRoundOff);  // 24.305 + 70.90 + 6 x 18.015
}

// CIAAW 2005 (Wieser 2006): the set in which the Reference Composition is defined.
TEST(MolarMass, KnowsTheSetOf2005ForSeawatersElements) {
    EXPECT_NEAR(mass("H2O", WeightSet::Ciaaw2005), 2 * 1.00794 + 15.9994, kRoundOff);
    EXPECT_NEAR(mass("NaCl", WeightSet::Ciaaw2005), 22.98976928 + 35.453, kRoundOff);
    EXPECT_NEAR(mass("SO4^2-", WeightSet::Ciaaw2005), 32.065 + 4 * 15.9994, kRoundOff);
    const auto lithium = molar_mass_g_per_mol(read("LiCl"), WeightSet::Ciaaw2005);
    ASSERT_FALSE(lithium.has_value());
    EXPECT_THAT(lithium.error().message, testing::AllOf(HasSubstr("Li"), HasSubstr("2005")));
}

TEST(MolarMass, ElementsWithoutAWeightAreRefused) {
    EXPECT_EQ(read("TcO4-").charge, -1);  // technetium is an element all the same
    EXPECT_FALSE(molar_mass_g_per_mol(read("TcO4-")).has_value());
    EXPECT_FALSE(molar_mass_uncertainty_g_per_mol(read("TcO4-")).has_value());
}

// The limits of CIAAW 2021 are half-widths of rectangles, u = a / sqrt 3 (JCGM 100, 4.3.7); atoms
// of one element share their weight, so their limits add before the squares do.
TEST(MolarMass, UncertaintyComesFromTheLimitsOfTheWeights) {
    const auto u = [](std::string_view text) {
        return molar_mass_uncertainty_g_per_mol(read(text)).value_or(-1);
    };
    constexpr double kNaLimit = 0.001, kClLimit = 0.01, kCaLimit = 0.004, kLiLimit = 0.06;
    EXPECT_NEAR(u("NaCl"), std::hypot(kNaLimit, kClLimit) / std::sqrt(3), 1e-12);
    EXPECT_NEAR(u("CaCl2"), std::hypot(kCaLimit, 2 * kClLimit) / std::sqrt(3), 1e-12);
    EXPECT_NEAR(u("LiCl"), std::hypot(kLiLimit, kClLimit) / std::sqrt(3), 1e-12);
    EXPECT_GT(u("MgCl2.6H2O"), u("MgCl2"));
}

TEST(Element, WeightsAndNames) {
    ASSERT_TRUE(atomic_weight("Na").has_value());
    EXPECT_DOUBLE_EQ(atomic_weight("Na")->value_g_per_mol, kNa);  // CIAAW 2021
    EXPECT_FALSE(atomic_weight("na").has_value());
    EXPECT_FALSE(atomic_weight("").has_value());
    EXPECT_TRUE(is_element("Tc"));
    EXPECT_FALSE(is_element("D"));
}

}  // namespace
