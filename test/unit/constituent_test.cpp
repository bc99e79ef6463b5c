// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "matter/constituent.hpp"

#include <cmath>
#include <set>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "figure.hpp"
#include "matter/concentration.hpp"
#include "matter/element.hpp"

namespace {

using namespace bw::matter;
using testing::HasSubstr;

// Amounts per mole of formula are small whole numbers: only round-off is allowed.
constexpr double kRoundOff = 1e-12;

Dissolved dissolved(std::string_view text) {
    const auto formula = parse_formula(text);
    EXPECT_TRUE(formula.has_value()) << text;
    if (!formula) {
        return {};
    }
    auto out = dissolve(*formula);
    EXPECT_TRUE(out.has_value()) << text << ": " << (out ? "" : out.error().message);
    return out.value_or(Dissolved{});
}

double alkalinity_per_mol(std::string_view text) {
    return dissolved(text).per_mol[constituent("alkalinity")];
}

// Charge balance of the conservative ions: Wolf-Gladrow et al. 2007, eq. 32; zero level of protons
// (acids with pK < 4.5 count as their base, others as the acid): Dickson et al. 2007, chapter 2.
struct AlkalinityRow {
    const char* formula;
    double eq_per_mol;
    const char* why;
};
class AlkalinityOf : public testing::TestWithParam<AlkalinityRow> {};
TEST_P(AlkalinityOf, FollowsFromConservativeCharge) {
    EXPECT_NEAR(alkalinity_per_mol(GetParam().formula), GetParam().eq_per_mol, kRoundOff)
        << GetParam().formula << ": " << GetParam().why;
}
INSTANTIATE_TEST_SUITE_P(
    Compounds, AlkalinityOf,
    testing::Values(
        AlkalinityRow{"NaCl", 0, "strong acid, strong base"},
        AlkalinityRow{"Na2B4O7.10H2O", 2, "4 B(OH)3 and 2 OH-"},
        AlkalinityRow{"H3BO3", 0, "boric acid is its own zero level, pK 8.6"},
        AlkalinityRow{"NaBO2", 1, "takes one H+ to B(OH)3"},
        AlkalinityRow{"Na2CO3", 2, "takes two H+ to CO2"},
        AlkalinityRow{"NaHCO3", 1, "takes one H+ to CO2"},
        AlkalinityRow{"CO2", 0, "carbon's zero level"},
        AlkalinityRow{"Mg(OH)2", 2, "two hydroxides"}, AlkalinityRow{"MgO", 2, "becomes Mg(OH)2"},
        AlkalinityRow{"3MgCO3.Mg(OH)2.3H2O", 8, "three carbonates, two hydroxides"},
        AlkalinityRow{"Mg5(CO3)4(OH)2.4H2O", 10, "four carbonates, two hydroxides"},
        AlkalinityRow{"Na2SiO3", 2, "Si(OH)4 is the zero level, pK 9.5"},
        AlkalinityRow{"KH2PO4", 0, "H2PO4- is the zero level, pK1 2, pK2 6"},
        AlkalinityRow{"Na2HPO4", 1, "takes one H+ to H2PO4-"},
        AlkalinityRow{"Na3PO4.12H2O", 2, "takes two H+ to H2PO4-"},
        AlkalinityRow{"H3PO4", -1, "gives one H+ to reach H2PO4-"},
        AlkalinityRow{"NaF", 0, "HF has pK 3.2, so F- is the zero level"},
        AlkalinityRow{"NH4Cl", 0, "NH4+ is the zero level, pK 9.3"},
        AlkalinityRow{"(NH4)2CO3", 2, "carbonate alone counts"},
        AlkalinityRow{"C4H11NO3", 1, "tris takes one H+, pK 8.1"},
        AlkalinityRow{"C4H11NO3.HCl", 0, "tris hydrochloride is the acid form"},
        AlkalinityRow{"C10H14N2Na2O8.2H2O", 0, "disodium EDTA is the form with two protons"},
        AlkalinityRow{"Na3C6H5O7.2H2O", 2, "citrate takes two H+ above pK 4.5 (4.8, 6.4)"},
        AlkalinityRow{"C6H8O7.H2O", -1, "citric acid gives its first H+, pK 3.1"},
        AlkalinityRow{"FePO4", -1, "Fe(OH)3 and H3PO4, which gives one H+"},
        AlkalinityRow{"NaHSO4", -1, "gives its H+, pK 2"},
        AlkalinityRow{"H2SO4", -2, "gives two H+"}, AlkalinityRow{"HCl", -1, "gives one H+"},
        AlkalinityRow{"Ca(OH)2", 2, "two hydroxides"},
        AlkalinityRow{"AlCl3.6H2O", -3, "hydrolyses to Al(OH)3"},
        AlkalinityRow{"KIO3", 0, "iodate, a strong acid's ion"},
        AlkalinityRow{"Na2MoO4.2H2O", 0, "molybdate"}, AlkalinityRow{"NaNO2", 0, "HNO2 has pK 3.3"},
        AlkalinityRow{"Na2S2O3.5H2O", 0, "thiosulfate"},
        AlkalinityRow{"HCO3-", 1, "an ion by itself"},
        AlkalinityRow{"CO3^2-", 2, "an ion by itself"},
        AlkalinityRow{"B(OH)4-", 1, "an ion by itself"},
        AlkalinityRow{"OH-", 1, "an ion by itself"}));

TEST(Dissolve, GivesTheConstituentsAndTheWater) {
    const Dissolved borax = dissolved("Na2B4O7.10H2O");
    EXPECT_NEAR(borax.per_mol[constituent("Na")], 2, kRoundOff);
    EXPECT_NEAR(borax.per_mol[constituent("B")], 4, kRoundOff);
    EXPECT_NEAR(borax.water_mol, 10, kRoundOff);
    const Dissolved citrate = dissolved("Na3C6H5O7.2H2O");
    EXPECT_NEAR(citrate.per_mol[constituent("citrate")], 1, kRoundOff);
    EXPECT_NEAR(citrate.per_mol[constituent("carbon")], 0, kRoundOff) << "no inorganic carbon";
    const Dissolved nitrate = dissolved("NH4NO3");
    EXPECT_NEAR(nitrate.per_mol[constituent("NH4")], 1, kRoundOff);
    EXPECT_NEAR(nitrate.per_mol[constituent("NO3")], 1, kRoundOff);
    const Dissolved iodate = dissolved("KIO3");
    EXPECT_NEAR(iodate.per_mol[constituent("I")], 1, kRoundOff);
    // 2 x 22.990 + 4 x 10.81 + 7 x 15.999 + 10 x 18.015 (CIAAW 2021); round-off of the sum.
    EXPECT_NEAR(borax.molar_mass_g, 381.363, 1e-9);
}

TEST(Dissolve, EveryNeutralFormulaStaysNeutral) {
    for (const bw::ref::PureSalt& salt : bw::ref::pure_salts()) {
        EXPECT_NEAR(dissolved(salt.formula).per_mol.charge(), 0, kRoundOff) << salt.formula;
    }
    EXPECT_NEAR(dissolved("SO4^2-").per_mol.charge(), -2, kRoundOff);
    EXPECT_NEAR(dissolved("HCO3-").per_mol.charge(), -1, kRoundOff);
}

// What sulfite, cyanide or acetate do in seawater is not decided here: refused, with the reason.
TEST(Dissolve, UnknownFormsOfSulfurNitrogenAndCarbonAreRefused) {
    for (const char* text : {"Na2SO3", "Na2S", "K2S2O8", "KCN", "K4[Fe(CN)6]", "CH3COONa",
                             "NaC2H3O2", "Na2C2O4", "CO(NH2)2", "NH3", "KSCN", "C6H12O6"}) {
        const auto formula = parse_formula(text);
        ASSERT_TRUE(formula.has_value()) << text;
        const auto out = dissolve(*formula);
        ASSERT_FALSE(out.has_value()) << text;
        EXPECT_EQ(out.error().code, bw::ProblemCode::BadFormula) << text;
        EXPECT_THAT(out.error().message,
                    testing::AllOf(HasSubstr(text), HasSubstr("sulfur must be SO4")));
    }
}

// Tris, EDTA and citrate are known by their atoms; others with the same carbon, nitrogen and oxygen
// are not they: threonine has two hydrogens less than tris, gluconic acid four more than citric.
TEST(Dissolve, AnotherOrganicOfTheSameSkeletonIsNotTakenForIt) {
    for (const char* text : {"C4H9NO3", "C6H11NaO7", "KC6H11O7"}) {
        const auto formula = parse_formula(text);
        ASSERT_TRUE(formula.has_value()) << text;
        EXPECT_FALSE(dissolve(*formula).has_value()) << text;
    }
}

// Iron(III) EDTA of culture media and iron(III) citrate: three of the places are the iron's.
// Alkalinity: Fe(OH)3 takes 3 OH-, EDTA4- takes 2 H+, citrate3- takes 2 H+ (Dickson et al. 2007,
// chapter 2, by the zero level of each).
TEST(Dissolve, OrganicSaltsOfIronAreKnown) {
    const Dissolved edta = dissolved("C10H12FeN2NaO8.3H2O");
    EXPECT_NEAR(edta.per_mol[constituent("EDTA")], 1, kRoundOff);
    EXPECT_NEAR(edta.per_mol[constituent("Fe")], 1, kRoundOff);
    EXPECT_NEAR(edta.per_mol[constituent("alkalinity")], -1, kRoundOff);
    EXPECT_NEAR(alkalinity_per_mol("FeC6H5O7"), -1, kRoundOff);
    EXPECT_NEAR(alkalinity_per_mol("CaNa2C10H12N2O8.2H2O"), 2, kRoundOff);
}

// Hypochlorite is a base (HOCl pK 7.5) and an oxidant, perchlorate is no chloride: neither may
// pass for chloride.
TEST(Dissolve, OxidisedChlorineIsNotChloride) {
    for (const char* text : {"NaClO", "NaOCl", "Ca(ClO)2", "NaClO3", "Mg(ClO4)2"}) {
        const auto formula = parse_formula(text);
        ASSERT_TRUE(formula.has_value()) << text;
        EXPECT_FALSE(dissolve(*formula).has_value()) << text << " was taken for a chloride";
    }
}

TEST(Dissolve, ElementsThatAreNoConstituentAreNamed) {
    const auto out = dissolve(*parse_formula("GaCl3"));
    ASSERT_FALSE(out.has_value());
    EXPECT_THAT(out.error().message, testing::AllOf(HasSubstr("Ga"), HasSubstr("GaCl3")));
}

// Millero et al. 2008: the mole fractions sum to one and their charges to nothing, exactly in
// seven decimals (15 terms of 5e-17 round-off); mean molar mass 31.4038218 g/mol with the weights
// of 2005, half a unit of whose last digit is 5e-8.
TEST(ReferenceComposition, MoleFractionsChargeAndMolarMassArePublished) {
    double sum = 0;
    double charge = 0;
    double mass = 0;
    for (const bw::ref::ReferenceSpecies& species : bw::ref::reference_species()) {
        const auto formula = parse_formula(species.formula);
        ASSERT_TRUE(formula.has_value()) << species.formula;
        const auto molar = molar_mass_g_per_mol(*formula, WeightSet::Ciaaw2005);
        ASSERT_TRUE(molar.has_value()) << species.formula;
        sum += species.mole_fraction;
        charge += species.mole_fraction * formula->charge;
        mass += species.mole_fraction * *molar;
    }
    EXPECT_EQ(bw::ref::reference_species().size(), 15U);
    EXPECT_NEAR(sum, 1, 1e-14);
    EXPECT_NEAR(charge, 0, 1e-14);
    EXPECT_NEAR(mass, 31.4038218, 5e-8);
    EXPECT_DOUBLE_EQ(bw::ref::reference_molar_mass_g_per_mol(), 31.4038218);
    EXPECT_DOUBLE_EQ(bw::ref::reference_salinity_g_per_kg(), 35.16504);
}

// Millero et al. 2008. Amount of all species: 35.16504 / 31.4038218 = 1.11976943 mol/kg; times
// the mole fractions. One unit of a mole fraction's last digit is 1.1e-7 mol/kg, half is the
// tolerance.
TEST(ReferenceComposition, TotalsAreSumsOverSpecies) {
    const Amounts sea = reference_seawater(35.16504);
    const double all = 35.16504 / 31.4038218;
    struct Row {
        const char* symbol;
        double mole_fraction;
    };
    for (const Row& row :
         {Row{"Na", 0.4188071}, Row{"Mg", 0.0471678}, Row{"Ca", 0.0091823}, Row{"K", 0.0091159},
          Row{"Sr", 0.0000810}, Row{"Cl", 0.4874839}, Row{"SO4", 0.0252152}, Row{"Br", 0.0007520},
          Row{"F", 0.0000610}, Row{"B", 0.0000900 + 0.0002807},
          Row{"carbon", 0.0015340 + 0.0002134 + 0.0000086}}) {
        EXPECT_NEAR(sea[constituent(row.symbol)], all * row.mole_fraction, 6e-8) << row.symbol;
    }
    EXPECT_DOUBLE_EQ(sea[constituent("Li")], 0);
}

// HCO3- + 2 CO3-2 + B(OH)4- + OH- of Millero et al. 2008: 0.0020579 x 1.11976943 mol/kg.
TEST(ReferenceComposition, AlkalinityIsTwoPointThirtyMillimolePerKilogram) {
    const Amounts sea = reference_seawater(35.16504);
    EXPECT_NEAR(sea[constituent("alkalinity")], 2.30e-3, 0.005e-3);  // as it is quoted
    EXPECT_NEAR(sea[constituent("alkalinity")], 0.0020579 * 1.11976943, 6e-8);
    // Wolf-Gladrow et al. 2007, eq. 32: the conservative ions imply the same; they balance to
    // seven decimals of a mole fraction, so to round-off.
    EXPECT_NEAR(sea.alkalinity_by_charge(), sea[constituent("alkalinity")], 1e-13);
    EXPECT_NEAR(sea.charge(), 0, 1e-13);
}

TEST(ReferenceComposition, DissolvedMassIsTheReferenceSalinity) {
    for (const double salinity : {35.16504, 5.0, 42.0}) {
        EXPECT_NEAR(reference_seawater(salinity).dissolved_mass_g() / salinity, 1, 1e-6);
    }
}

// Salinity is 1.80655 times chlorinity (Wooster, Lee & Dietrich 1969): 19.3740 at 35. Tolerance:
// the published composition rests on a chlorinity of 19.374 g/kg, five digits.
TEST(ReferenceComposition, ChlorinityIsThatOfStandardSeawater) {
    EXPECT_NEAR(chlorinity_g_per_kg(reference_seawater(35.16504)), 35 / 1.80655, 0.0005);
}

TEST(Amounts, AddScaleAndMass) {
    Amounts salt;
    salt.add(dissolved("NaCl").per_mol, 2);
    salt.add(dissolved("NaHCO3").per_mol, 0.5);
    salt.scale(0.1);
    EXPECT_NEAR(salt[constituent("Na")], 0.25, kRoundOff);
    EXPECT_NEAR(salt[constituent("alkalinity")], 0.05, kRoundOff);
    EXPECT_NEAR(salt[constituent("carbon")], 0.05, kRoundOff);
    // Salt in solution: 0.2 mol NaCl and 0.05 mol of Na+ and HCO3- (CIAAW 2005; the H of the acid
    // form goes with the alkalinity). Tolerance: round-off.
    const double nacl = 22.98976928 + 35.453;
    const double nahco3 = 22.98976928 + 1.00794 + 12.0107 + 3 * 15.9994;
    EXPECT_NEAR(salt.dissolved_mass_g(), 0.2 * nacl + 0.05 * nahco3, 1e-9);
}

TEST(Constituent, CountedMassIsWhatTheSymbolSays) {
    // CIAAW 2021: S 32.06 + 4 x 15.999; N 14.007 + 3 x 15.999; P 30.974 + 4 x 15.999; half of
    // CaCO3 (40.078 + 12.011 + 3 x 15.999).
    EXPECT_NEAR(counted_molar_mass_g(constituent("SO4")), 96.056, 1e-9);
    EXPECT_NEAR(counted_molar_mass_g(constituent("NO3")), 62.004, 1e-9);
    EXPECT_NEAR(counted_molar_mass_g(constituent("PO4")), 94.970, 1e-9);
    EXPECT_NEAR(counted_molar_mass_g(constituent("B")), 10.81, 1e-9);
    EXPECT_NEAR(counted_molar_mass_g(constituent("alkalinity")), 50.043, 1e-9);
    EXPECT_NEAR(counted_molar_mass_g(constituent("carbon")), 12.011, 1e-9);
}

TEST(Constituent, SymbolsAreUniqueAndFound) {
    std::set<std::string_view> symbols;
    for (std::size_t i = 0; i < constituent_count(); ++i) {
        const Constituent c(i);
        EXPECT_TRUE(symbols.insert(c.symbol()).second) << c.symbol();
        EXPECT_EQ(find_constituent(c.symbol()), c);
        EXPECT_GT(counted_molar_mass_g(c), 0) << c.symbol();
    }
    EXPECT_TRUE(constituent("alkalinity").is_alkalinity());
    EXPECT_FALSE(constituent("carbon").is_alkalinity());
    EXPECT_FALSE(find_constituent("na").has_value());
}

TEST(Constituent, WhatPeopleTypeIsPointedToTheRightSymbol) {
    struct Row {
        const char* typed;
        const char* meant;
    };
    for (const Row& row : {Row{"KH", "alkalinity"}, Row{"Alk", "alkalinity"}, Row{"HCO3", "carbon"},
                           Row{"DIC", "carbon"}, Row{"magnesium", "Mg"}, Row{"S", "SO4"},
                           Row{"P", "PO4"}, Row{"mg", "Mg"}, Row{"Boron", "B"}}) {
        const auto out = require_constituent(row.typed);
        ASSERT_FALSE(out.has_value()) << row.typed;
        EXPECT_EQ(out.error().code, bw::ProblemCode::UnknownName);
        EXPECT_THAT(out.error().message, HasSubstr("did you mean " + std::string(row.meant) + "?"));
    }
    EXPECT_TRUE(require_constituent("SO4").has_value());
}

TEST(NaturalAmount, TakesSeawaterFirstAndTracesNext) {
    const auto calcium = natural_amount_at_35(constituent("Ca"));
    ASSERT_TRUE(calcium.has_value());
    EXPECT_FALSE(calcium->trace);
    // Millero et al. 2008: 0.0091823 x 1.11976943; tolerance as above.
    EXPECT_NEAR(calcium->mol_per_kg, 0.0091823 * 1.11976943, 6e-8);
    const auto molybdenum = natural_amount_at_35(constituent("Mo"));
    ASSERT_TRUE(molybdenum.has_value());
    EXPECT_TRUE(molybdenum->trace);
    // Collier 1985: 107 nmol/L +- 2.5 in the open ocean; two of its standard deviations.
    EXPECT_NEAR(molybdenum->mol_per_kg, 105e-9, 5e-9);
    const auto silver = natural_amount_at_35(constituent("Ag"));
    ASSERT_FALSE(silver.has_value());
    EXPECT_THAT(silver.error().message, HasSubstr("Ag"));
}

TEST(AlkalinityOfBoron, BoraxBringsTwoAndBoricAcidNone) {
    const double borax = alkalinity_per_mol("Na2B4O7.10H2O");
    const double acid = std::abs(alkalinity_per_mol("H3BO3"));
    bw::test::record({"Recipes", "alkalinity that a mole of borax and of boric acid bring",
                      "2 eq and 0 eq", fmt::format("{:.6f} eq and {:.6f} eq", borax, acid),
                      std::abs(borax - 2) < kRoundOff && acid < kRoundOff});
}

}  // namespace
