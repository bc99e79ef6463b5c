// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Make-ups by hand, with CIAAW 2021 weights (Prohaska et al. 2022) typed here. Amounts are some mol
// per kg and products of a few doubles: 1e-12 mol/kg is round-off.
#include "matter/material.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "io/material_file.hpp"

namespace {

using namespace bw::matter;
using testing::HasSubstr;

constexpr double kRoundOff = 1e-12;

// g/mol, CIAAW 2021
constexpr double kWater = 18.015;                          // 2 x 1.0080 + 15.999
constexpr double kNaCl = 58.440;                           // 22.990 + 35.45
constexpr double kMgSO4 = 24.305 + 32.06 + 4 * 15.999;     // 120.361
constexpr double kMgCl2 = 24.305 + 2 * 35.45;              // 95.205
constexpr double kCaCl2 = 40.078 + 2 * 35.45;              // 110.978
constexpr double kMgOH2 = 24.305 + 2 * (15.999 + 1.0080);  // 58.319

Material pure(std::string name, std::string formula, double assay = 1) {
    Material m;
    m.name = std::move(name);
    m.formula = std::move(formula);
    m.assay = Assay{Stated::exactly(assay), "", std::nullopt};
    return m;
}

Component by_mass(std::string of, Stated amount) { return {std::move(of), amount, true, false}; }
Component by_amount(std::string of, Stated amount) { return {std::move(of), amount, false, false}; }

MakeUp made(const Material& m) {
    auto out = make_up(m);
    EXPECT_TRUE(out.has_value()) << m.name << ": " << (out ? "" : out.error().text());
    return out.value_or(MakeUp{});
}

bw::Problem refused(const Material& m) {
    auto out = make_up(m);
    EXPECT_FALSE(out.has_value()) << m.name << " should be refused";
    return out ? bw::Problem{} : out.error();
}

double mol(const MakeUp& m, std::string_view symbol) { return m.mol_per_kg[constituent(symbol)]; }

/// Neutral as expected, and with every uncertain input at either end of what it may be.
void expect_neutral(const MakeUp& m, const std::string& name) {
    EXPECT_NEAR(m.mol_per_kg.charge(), 0, kRoundOff) << name;
    EXPECT_NEAR(m.main_mol_per_kg.charge(), 0, kRoundOff) << name;
    for (const UncertainInput& input : m.inputs) {
        for (const double at : {input.stated.low, input.stated.high}) {
            Amounts moved = m.mol_per_kg;
            moved.add(input.effect, at - input.stated.value);
            EXPECT_NEAR(moved.charge(), 0, kRoundOff) << name << ": " << input.name;
        }
    }
}

TEST(Stated, ShapesHaveTheMomentsOfTheGuide) {
    // Rectangle from 0.97 to 1.03: u = width / sqrt 12 (JCGM 101, 6.4.2; JCGM 100, 4.3.7).
    const Stated limits = Stated::between(0.97, 1.03);
    EXPECT_DOUBLE_EQ(limits.value, 1.0);
    EXPECT_NEAR(limits.u, 0.06 / std::sqrt(12.0), 1e-16);
    EXPECT_DOUBLE_EQ(limits.worst(), 1.03);
    const Stated normal = Stated::normal(0.992, 0.003);
    EXPECT_DOUBLE_EQ(normal.u, 0.003);
    EXPECT_DOUBLE_EQ(normal.worst(), 0.998);  // two standard uncertainties, about 95 %
    EXPECT_DOUBLE_EQ(Stated::exactly(0.5).u, 0);
    EXPECT_DOUBLE_EQ(Stated::exactly(0.5).worst(), 0.5);
}

TEST(Material, AssayAsIsCountsTheHydrate) {
    const MakeUp m = made(pure("calcium chloride", "CaCl2.2H2O", 0.992));
    const double expected = 0.992 * 1000 / (kCaCl2 + 2 * kWater);
    EXPECT_NEAR(mol(m, "Ca"), expected, kRoundOff);
    EXPECT_NEAR(mol(m, "Cl"), 2 * expected, kRoundOff);
    EXPECT_NEAR(mol(m, "alkalinity"), 0, kRoundOff);
    // The rest, hydrate water and what is not said, is water.
    EXPECT_NEAR(m.water_share, 1 - expected * kCaCl2 / 1000, kRoundOff);
    expect_neutral(m, "CaCl2.2H2O");
}

TEST(Material, AssayOnTheDriedBasisIsDilutedByMoisture) {
    Material salt = pure("sodium chloride", "NaCl");
    salt.assay = Assay{Stated::normal(0.999, 0.0005), "", AssayBasis::Dried};
    salt.moisture = Stated::normal(0.03, 0.002);
    const MakeUp m = made(salt);
    EXPECT_NEAR(mol(m, "Na"), 0.999 * 0.97 * 1000 / kNaCl, kRoundOff);
    ASSERT_EQ(m.inputs.size(), 2U);
    EXPECT_EQ(m.inputs[0].kind, UncertainInput::Kind::Assay);
    EXPECT_EQ(m.inputs[1].kind, UncertainInput::Kind::Loss);
    // Partial derivatives of assay * (1 - moisture) / M (JCGM 100, 5.1.3).
    EXPECT_NEAR(m.inputs[0].effect[constituent("Na")], 0.97 * 1000 / kNaCl, kRoundOff);
    EXPECT_NEAR(m.inputs[1].effect[constituent("Na")], -0.999 * 1000 / kNaCl, kRoundOff);
    expect_neutral(m, salt.name);
}

TEST(Material, AssayOnTheIgnitedBasisAsAnotherForm) {
    Material salt = pure("magnesium sulfate heptahydrate", "MgSO4.7H2O");
    salt.assay = Assay{Stated::exactly(0.997), "MgSO4", AssayBasis::Ignited};
    salt.loss_on_ignition = Stated::exactly(0.511);
    EXPECT_NEAR(mol(made(salt), "Mg"), 0.997 * (1 - 0.511) * 1000 / kMgSO4, kRoundOff);
}

TEST(Material, AnAsIsAssayLeavesMoistureAlone) {
    Material salt = pure("sodium chloride", "NaCl", 0.95);
    salt.moisture = Stated::exactly(0.04);
    EXPECT_NEAR(mol(made(salt), "Na"), 0.95 * 1000 / kNaCl, kRoundOff);
}

TEST(Material, ABasisNeedsItsLoss) {
    Material salt = pure("sodium chloride", "NaCl");
    salt.assay->basis = AssayBasis::Dried;
    EXPECT_THAT(refused(salt).message, HasSubstr("give moisture"));
    salt.moisture = Stated::exactly(0.01);
    salt.assay->basis = AssayBasis::Ignited;  // moisture does not stand in for it
    EXPECT_THAT(refused(salt).message, HasSubstr("give loss_on_ignition"));
}

TEST(Material, AssayMayBeStatedAsElementOxideOrOtherHydrate) {
    struct Row {
        const char* formula;
        const char* as;
        double assay;
        const char* symbol;
        double mol_per_kg;
    };
    for (const Row& row :
         {Row{"MgSO4.7H2O", "Mg", 0.0986, "Mg", 98.6 / 24.305},
          Row{"MgCl2.6H2O", "MgCl2", 0.464, "Mg", 464 / kMgCl2},
          Row{"CaCl2", "CaCl2.2H2O", 1.02, "Ca", 1020 / (kCaCl2 + 2 * kWater)},
          Row{"KCl", "K2O", 0.62, "K", 2 * 620 / (2 * 39.098 + 15.999)},
          Row{"Na2B4O7.10H2O", "B2O3", 0.365, "B", 2 * 365 / (2 * 10.81 + 3 * 15.999)},
          Row{"Na2SO4", "SO4", 0.67, "SO4", 670 / (32.06 + 4 * 15.999)}}) {
        Material m = pure(row.formula, row.formula, row.assay);
        m.assay->as = row.as;
        EXPECT_NEAR(mol(made(m), row.symbol), row.mol_per_kg, kRoundOff)
            << row.formula << " as " << row.as;
    }
    Material odd = pure("odd", "NaCl");
    odd.assay->as = "KBr";
    EXPECT_THAT(refused(odd).message, HasSubstr("share no element"));
    odd.assay->as = "H2O";
    EXPECT_THAT(refused(odd).message, HasSubstr("share no element"));
    odd.assay->as = "salt";
    EXPECT_EQ(refused(odd).code, bw::ProblemCode::BadFormula);
}

TEST(Material, LimitsAreARectangle) {
    Material salt = pure("sodium fluoride", "NaF");
    salt.assay = Assay{Stated::between(0.97, 1.03), "", std::nullopt};
    const MakeUp m = made(salt);
    EXPECT_NEAR(mol(m, "F"), 1000 / (22.990 + 18.998), kRoundOff);
    ASSERT_EQ(m.inputs.size(), 1U);
    EXPECT_EQ(m.inputs[0].stated.shape, Stated::Shape::Rectangular);
}

TEST(Material, ImpuritiesBySymbolArePairedWithTheMainSaltsOtherIon) {
    Material calcium = pure("calcium chloride", "CaCl2.2H2O", 0.99);
    calcium.impurities = {by_mass("Sr", Stated::normal(900e-6, 60e-6))};
    const MakeUp c = made(calcium);
    const double strontium = 900e-3 / 87.62;
    EXPECT_NEAR(mol(c, "Sr"), strontium, kRoundOff);
    EXPECT_NEAR(mol(c, "Cl"), 2 * 990 / (kCaCl2 + 2 * kWater) + 2 * strontium, kRoundOff);
    EXPECT_NEAR(mol(c, "alkalinity"), 0, kRoundOff);
    expect_neutral(c, calcium.name);

    Material sodium = pure("sodium chloride", "NaCl", 0.999);
    sodium.impurities = {by_mass("SO4", Stated::exactly(220e-6))};
    const MakeUp s = made(sodium);
    EXPECT_NEAR(mol(s, "Na"), 999 / kNaCl + 2 * 0.220 / 96.056, kRoundOff);
    EXPECT_NEAR(mol(s, "Cl"), 999 / kNaCl, kRoundOff);
    expect_neutral(s, sodium.name);
}

TEST(Material, ImpuritiesByFormulaBringTheirOwnIons) {
    Material m = pure("magnesium chloride", "MgCl2.6H2O", 0.994);
    m.impurities = {by_mass("Mg(OH)2", Stated::between(0, 300e-6))};
    const MakeUp out = made(m);
    // Half of the limit is expected: 150 mg/kg, two equivalents each.
    EXPECT_NEAR(mol(out, "alkalinity"), 2 * 0.150 / kMgOH2, kRoundOff);
    EXPECT_NEAR(out.worst_mol_per_kg[constituent("alkalinity")], 2 * 0.300 / kMgOH2, kRoundOff);
    EXPECT_NEAR(mol(out, "Mg"), 994 / (kMgCl2 + 6 * kWater) + 0.150 / kMgOH2, kRoundOff);
    expect_neutral(out, m.name);
}

TEST(Material, AlkalinityByTitrationIsPairedWithTheMainCation) {
    Material m = pure("magnesium chloride", "MgCl2.6H2O", 0.994);
    m.impurities = {by_amount("alkalinity", Stated::normal(4e-3, 0.5e-3))};
    const MakeUp out = made(m);
    EXPECT_NEAR(mol(out, "alkalinity"), 4e-3, kRoundOff);
    EXPECT_NEAR(mol(out, "Mg"), 994 / (kMgCl2 + 6 * kWater) + 2e-3, kRoundOff);
    EXPECT_NEAR(mol(out, "carbon"), 0, kRoundOff) << "a titration does not tell carbonate";
    expect_neutral(out, m.name);
    m.impurities = {by_mass("alkalinity", Stated::exactly(200e-6))};
    EXPECT_THAT(refused(m).message, HasSubstr("meq/kg"));
}

TEST(Material, BelowTheReportingLimitIsAnythingUpToIt) {
    Material m = pure("sodium chloride", "NaCl");
    m.impurities = {{"Cu", Stated::between(0, 1e-6), true, true}};
    const MakeUp out = made(m);
    EXPECT_NEAR(mol(out, "Cu"), 0.5e-3 / 63.546, kRoundOff);
    EXPECT_NEAR(out.worst_mol_per_kg[constituent("Cu")], 1e-3 / 63.546, kRoundOff);
    ASSERT_EQ(out.inputs.size(), 1U);
    EXPECT_NEAR(out.inputs[0].stated.u, 1e-6 / std::sqrt(12.0), 1e-18);  // JCGM 101, 6.4.2
}

TEST(Material, InsolubleIsNoConstituentButCounts) {
    Material m = pure("sodium chloride", "NaCl", 0.99);
    m.impurities = {by_mass("insoluble", Stated::between(0, 0.0004))};
    const MakeUp out = made(m);
    EXPECT_NEAR(out.insoluble_share, 0.0002, kRoundOff);
    EXPECT_NEAR(out.water_share, 1 - 0.99 - 0.0002, kRoundOff);
    EXPECT_NEAR(mol(out, "Na"), 990 / kNaCl, kRoundOff);
}

TEST(Material, ANaturalMixtureIsClosedByItsBalance) {
    Material m;
    m.name = "solar salt";
    m.composition = {by_mass("NaCl", Stated::normal(0.971, 0.003)),
                     by_mass("Ca", Stated::exactly(0.0009)),
                     by_mass("SO4", Stated::exactly(0.002))};
    m.balance = "Cl";
    const MakeUp out = made(m);
    const double open = 2 * 0.9 / 40.078 - 2 * 2.0 / 96.056;  // eq/kg of calcium and sulfate
    EXPECT_NEAR(mol(out, "Na"), 971 / kNaCl, kRoundOff);
    EXPECT_NEAR(mol(out, "Cl"), 971 / kNaCl + open, kRoundOff);
    expect_neutral(out, m.name);
    m.balance = "Na";
    EXPECT_NEAR(mol(made(m), "Na"), 971 / kNaCl - open, kRoundOff);
    expect_neutral(made(m), "closed by Na");
}

TEST(Material, AnAnalysisThatDoesNotBalanceIsRefused) {
    Material m;
    m.name = "salt";
    // NaCl would be 39.34 % Na and 60.66 % Cl; 55 % Cl leaves 0.16 of 1.71 eq open, 9 %.
    m.composition = {by_mass("Na", Stated::exactly(0.393)), by_mass("Cl", Stated::exactly(0.55))};
    EXPECT_THAT(refused(m).message, HasSubstr("an ion is missing"));
    EXPECT_THAT(refused(m).place.field, HasSubstr("salt"));
    m.composition[1].amount = Stated::exactly(0.60);  // 1 %: analytical error, closed
    expect_neutral(made(m), m.name);
    m.composition[1].amount = Stated::exactly(0.55);
    m.balance = "Cl";  // said to be the one not measured
    const MakeUp closed = made(m);
    EXPECT_NEAR(mol(closed, "Cl"), 393 / 22.990, kRoundOff);
}

TEST(Material, ABalanceMustBeAnIonAndStayPositive) {
    Material m = pure("sodium chloride", "NaCl", 0.95);
    m.impurities = {by_mass("SO4", Stated::exactly(0.03))};
    m.balance = "B";
    EXPECT_THAT(refused(m).message, HasSubstr("cannot close a charge"));
    m.balance = "alkalinity";
    EXPECT_THAT(refused(m).message, HasSubstr("cannot close a charge"));
    m.balance = "Br";  // would have to be negative
    EXPECT_THAT(refused(m).message, HasSubstr("negative amount of Br"));
    m.balance = "Xy";
    EXPECT_EQ(refused(m).code, bw::ProblemCode::UnknownName);
}

TEST(Material, AssayMustBeAboveNothingAndAtMostOneHundredAndTenPercent) {
    EXPECT_THAT(refused(pure("salt", "MgSO4.7H2O", 0)).message, HasSubstr("above 0"));
    EXPECT_THAT(refused(pure("salt", "MgSO4.7H2O", 1.11)).message, HasSubstr("at most 110 %"));
    // A heptahydrate that lost a good part of its water is possible.
    EXPECT_NEAR(mol(made(pure("dry", "MgSO4.7H2O", 1.09)), "Mg"), 1090 / (kMgSO4 + 7 * kWater),
                kRoundOff);
    Material limits = pure("salt", "MgSO4.7H2O");
    limits.assay = Assay{Stated::between(0.99, 1.11), "", std::nullopt};
    EXPECT_THAT(refused(limits).message, HasSubstr("at most 110 %"));
}

TEST(Material, DryPartsMayNotPassOneHundredAndOnePercent) {
    EXPECT_THAT(refused(pure("salt", "NaCl", 1.02)).message, HasSubstr("at most 101 %"));
    Material m = pure("salt", "NaCl", 0.995);
    m.impurities = {by_mass("insoluble", Stated::exactly(0.01))};  // 100.5 %: rounding
    EXPECT_DOUBLE_EQ(made(m).water_share, 0);
    m.impurities[0].amount = Stated::exactly(0.015);  // 101 %, whatever round-off adds
    made(m);
    Material twice = pure("salt", "NaCl", 1);
    twice.impurities = {by_mass("NaCl", Stated::exactly(0.01))};
    made(twice);
    m.impurities[0].amount = Stated::exactly(0.02);  // 101.5 %
    EXPECT_THAT(refused(m).message, HasSubstr("101.5 %"));
}

TEST(Material, FormulaAndCompositionExcludeEachOther) {
    Material m;
    m.name = "nothing";
    EXPECT_THAT(refused(m).message, HasSubstr("formula"));
    m = pure("both", "NaCl");
    m.composition = {by_mass("NaCl", Stated::exactly(1))};
    EXPECT_THAT(refused(m).message, HasSubstr("not both"));
    EXPECT_THAT(refused(pure("ion", "SO4^2-")).message, HasSubstr("is an ion"));
    EXPECT_EQ(refused(pure("unknown", "KCN")).code, bw::ProblemCode::BadFormula);
    EXPECT_THAT(refused(pure("unknown", "KCN")).place.field, HasSubstr("unknown: formula"));
    m = pure("salt", "NaCl");
    m.impurities = {by_mass("dirt", Stated::exactly(1e-3))};
    EXPECT_EQ(refused(m).code, bw::ProblemCode::UnknownName);
}

TEST(Material, NoAssayIsTakenAsPureAndSaid) {
    Material m = pure("salt", "NaCl");
    m.assay.reset();
    const MakeUp out = made(m);
    EXPECT_NEAR(mol(out, "Na"), 1000 / kNaCl, kRoundOff);
    ASSERT_EQ(out.notices.size(), 1U);
    EXPECT_EQ(out.notices[0].code, "assay_not_stated");
    EXPECT_TRUE(made(pure("salt", "NaCl")).notices.empty());
}

// Electroneutrality of every material of the example works, as expected and at either end of
// every uncertain input. Alkalinity then follows from charge (Wolf-Gladrow et al. 2007, eq. 32).
TEST(Material, EveryMaterialOfTheExampleIsNeutral) {
    const auto document =
        bw::io::read_document(std::string(BW_SOURCE_DIR) + "/examples/works/materials.toml");
    ASSERT_TRUE(document.has_value());
    const auto materials = bw::io::read_materials(*document);
    ASSERT_TRUE(materials.has_value()) << materials.error().text();
    ASSERT_GE(materials->size(), 20U);
    for (const auto& placed : *materials) {
        expect_neutral(placed.make_up, placed.material.name);
        EXPECT_NEAR(placed.make_up.mol_per_kg.alkalinity_by_charge(),
                    mol(placed.make_up, "alkalinity"), kRoundOff)
            << placed.material.name;
        for (std::size_t i = 0; i < constituent_count(); ++i) {
            EXPECT_GE(placed.make_up.worst_mol_per_kg[Constituent(i)],
                      placed.make_up.mol_per_kg[Constituent(i)] - kRoundOff)
                << placed.material.name << ": " << Constituent(i).symbol();
        }
    }
}

TEST(Lot, ReplacesWhatItStatesAndKeepsTheRest) {
    Material catalogue = pure("magnesium sulfate", "MgSO4.7H2O");
    catalogue.assay = Assay{Stated::normal(0.997, 0.002), "MgSO4", AssayBasis::Ignited};
    catalogue.loss_on_ignition = Stated::exactly(0.511);
    catalogue.impurities = {by_mass("Ca", Stated::exactly(60e-6)),
                            by_mass("Na", Stated::exactly(70e-6))};
    catalogue.price_per_kg = 0.47;
    catalogue.currency = "EUR";
    catalogue.stock_kg = 3000;
    catalogue.step_kg = 0.05;
    Material lot;
    lot.name = catalogue.name;
    lot.lot = "M26-1";
    lot.assay = Assay{Stated::normal(0.992, 0.001), "", std::nullopt};
    lot.impurities = {by_mass("Ca", Stated::exactly(90e-6)), by_mass("K", Stated::exactly(10e-6))};
    lot.stock_kg = 900;
    const Material out = with_lot(catalogue, lot);
    EXPECT_EQ(out.lot, "M26-1");
    EXPECT_EQ(out.name, catalogue.name);
    EXPECT_DOUBLE_EQ(out.assay->share.value, 0.992);
    EXPECT_EQ(out.assay->as, "MgSO4") << "the form stays the catalogue's";
    EXPECT_EQ(out.assay->basis, AssayBasis::Ignited) << "and the basis";
    EXPECT_DOUBLE_EQ(out.loss_on_ignition->value, 0.511);
    ASSERT_EQ(out.impurities.size(), 3U);
    EXPECT_DOUBLE_EQ(out.impurities[0].amount.value, 90e-6);  // Ca replaced
    EXPECT_DOUBLE_EQ(out.impurities[1].amount.value, 70e-6);  // Na kept
    EXPECT_EQ(out.impurities[2].of, "K");                     // K added
    EXPECT_DOUBLE_EQ(*out.stock_kg, 900);
    EXPECT_DOUBLE_EQ(*out.price_per_kg, 0.47);
    EXPECT_EQ(out.currency, "EUR");
    EXPECT_DOUBLE_EQ(*out.step_kg, 0.05);
    EXPECT_NEAR(mol(made(out), "Mg"), 0.992 * 0.489 * 1000 / kMgSO4, kRoundOff);
}

TEST(Lot, MayStateItsOwnFormAndBasis) {
    Material catalogue = pure("magnesium sulfate", "MgSO4.7H2O");
    catalogue.assay = Assay{Stated::exactly(0.997), "MgSO4", AssayBasis::Ignited};
    catalogue.loss_on_ignition = Stated::exactly(0.511);
    Material lot;
    lot.lot = "M26-2";
    lot.assay = Assay{Stated::exactly(0.0986), "Mg", AssayBasis::AsIs};
    EXPECT_NEAR(mol(made(with_lot(catalogue, lot)), "Mg"), 98.6 / 24.305, kRoundOff);
    Material price;
    price.price_per_kg = 0.5;
    price.currency = "CHF";
    EXPECT_EQ(with_lot(catalogue, price).currency, "CHF");
}

}  // namespace
