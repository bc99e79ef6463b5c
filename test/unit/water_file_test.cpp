// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/water_file.hpp"

#include <cmath>
#include <string>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "brine/reference_density.hpp"
#include "brine/seawater_density.hpp"
#include "brine/water_density.hpp"
#include "figure.hpp"
#include "io/water_doubts.hpp"
#include "matter/concentration.hpp"

namespace {

using namespace bw::io;
using bw::ProblemCode;
using bw::brine::Closure;
using bw::matter::constituent;
using testing::HasSubstr;

bw::Result<WaterSpec> read(const std::string& body) {
    auto document =
        parse_document("format = \"brinewright/1\"\nkind = \"water\"\n" + body, "water.toml");
    EXPECT_TRUE(document.has_value()) << (document ? "" : document.error().text());
    return document ? read_water(*document) : tl::make_unexpected(document.error());
}

WaterSpec good(const std::string& body) {
    auto out = read(body);
    EXPECT_TRUE(out.has_value()) << (out ? "" : out.error().text());
    return out.value_or(WaterSpec{});
}

double amount(const WaterSpec& spec, const char* symbol) {
    return spec.input.mol_per_kg[constituent(symbol)];
}

bool notes(const WaterSpec& spec, const std::string& code) {
    return std::any_of(spec.notices.begin(), spec.notices.end(),
                       [&](const auto& n) { return n.code == code; });
}

const std::string kIons = R"([constituents]
unit = "mmol/kg"
Na = 468.97
K = 10.21
Mg = 52.82
Ca = 10.28
Cl = 545.87
SO4 = 28.235
Br = 0.842
)";

TEST(WaterFile, BareNumbersTakeTheUnitOfTheTable) {
    const WaterSpec spec = good(kIons + "alkalinity = 2.30\ncarbon = 2.0\n");
    EXPECT_DOUBLE_EQ(amount(spec, "Na"), 0.46897);
    EXPECT_DOUBLE_EQ(amount(spec, "alkalinity"), 0.0023);
    EXPECT_EQ(spec.input.temperature.value(), 25);
    EXPECT_EQ(spec.input.closing[0].kind, Closure::Alkalinity);
    EXPECT_EQ(spec.input.closing[1].kind, Closure::Carbon);
    EXPECT_DOUBLE_EQ(spec.input.closing[1].value, 0.002);
    EXPECT_TRUE(spec.notices.empty());
    EXPECT_FALSE(spec.litre_kg_per_m3.has_value());
}

TEST(WaterFile, AnOwnUnitGoesBeforeTheTables) {
    const WaterSpec spec = good(kIons + "Sr = \"7.95 mg/kg\"\nalkalinity = \"6.44 dKH\"\n");
    EXPECT_NEAR(amount(spec, "Sr"), 7.95e-3 / 87.62, 1e-12);
    ASSERT_TRUE(spec.litre_kg_per_m3.has_value());
    EXPECT_NEAR(amount(spec, "alkalinity"), 6.44 * 20e-3 / 56.077 / (*spec.litre_kg_per_m3 / 1000),
                1e-8);
}

const std::string kLitres = R"([constituents]
unit = "mg/L"
Na = 11033
K = 408.4
Mg = 1313.7
Ca = 421.7
Cl = 19803
SO4 = 2775.5
Br = 68.9
alkalinity = 2.35
carbon = 24.7
)";

TEST(WaterFile, LitresWeighWhatTheResultWeighs) {
    const WaterSpec spec = good(kLitres);
    ASSERT_TRUE(spec.litre_kg_per_m3.has_value());
    const auto density = bw::brine::density(spec.input.mol_per_kg, bw::unit::Celsius(25));
    ASSERT_TRUE(density.has_value());
    EXPECT_NEAR(*spec.litre_kg_per_m3, density->value, 1e-9);
    EXPECT_NEAR(amount(spec, "Cl"), 19.803 / 35.45 / (density->value / 1000), 1e-9);
    EXPECT_NEAR(amount(spec, "alkalinity"), 2.35e-3 / (density->value / 1000), 1e-12)
        << "a bare alkalinity among masses is in meq on the same basis";
    EXPECT_FALSE(notes(spec, "litre_density")) << "known to 0.004 kg/m3";
}

/// A file of the water by mass per litre, at the density given.
std::string by_litre(const bw::matter::Amounts& water, double kg_per_m3, double t) {
    std::string out =
        fmt::format("temperature = \"{} degC\"\n[constituents]\nunit = \"mmol/L\"\n", t);
    for (std::size_t i = 0; i < bw::matter::constituent_count(); ++i) {
        const bw::matter::Constituent c(i);
        if (water[c] != 0) {
            out += fmt::format("{} = {:.17g}\n", c.symbol(), water[c] * kg_per_m3);
        }
    }
    return out;
}

// EOS-80 was used before. At S 35 the two equations of natural seawater differ by 4.2e-6 at most
// (20 degC; 2.4e-6 at 25), half of it from the water without salt.
TEST(WaterFile, NaturalSeawaterByLitreIsNaturalSeawater) {
    const auto natural = bw::matter::reference_seawater(35.16504);
    for (const double t : {0.0, 10.0, 20.0, 25.0, 30.0, 40.0}) {
        const auto eos80 =
            bw::brine::seawater_density(bw::unit::PracticalSalinity(35), bw::unit::Celsius(t));
        const auto teos10 = bw::brine::reference_seawater_density(bw::unit::GramPerKg(35.16504),
                                                                  bw::unit::Celsius(t));
        ASSERT_TRUE(eos80 && teos10);
        const WaterSpec spec = good(by_litre(natural, teos10->value(), t));
        for (const char* symbol : {"Na", "Cl", "Mg", "SO4", "alkalinity", "carbon"}) {
            EXPECT_NEAR(amount(spec, symbol) / natural[constituent(symbol)], 1, 1e-7)
                << symbol << " " << t;
        }
        EXPECT_NEAR(*spec.litre_kg_per_m3 / teos10->value(), 1, 1e-7) << t;
        EXPECT_NEAR(*spec.litre_kg_per_m3 / eos80->value(), 1, 5e-6) << t;
        EXPECT_FALSE(notes(spec, "litre_density"));
    }
}

// Specific volumes of NaCl of 5 mol/kg-water [cm3/g]: Rogers, Pitzer (1982), J. Phys. Chem. Ref.
// Data 11, 15; read in an open transcription of a handbook's table. Found: 1.8e-3 at 0 degC, 7e-4
// at 10, 2e-4 and less from 20 on; the density by composition claims 1.6e-3 (k = 1).
TEST(WaterFile, SodiumChlorideByLitre) {
    struct Row {
        double t, cm3_per_g, within;
    };
    for (const Row& row :
         {Row{0, 0.848646, 2e-3}, Row{10, 0.851958, 8e-4}, Row{20, 0.855469, 2e-4},
          Row{25, 0.857301, 2e-4}, Row{30, 0.859185, 2e-4}, Row{40, 0.863108, 2e-4}}) {
        const double share = 5 / (1 + 5 * 58.4428e-3);  // mol/kg of solution
        const double mmol_per_L = 1000 * share / row.cm3_per_g;
        const WaterSpec spec =
            good(fmt::format("temperature = \"{} degC\"\n[constituents]\nunit = \"mmol/L\"\nNa = "
                             "{}\nCl = {}\n",
                             row.t, mmol_per_L, mmol_per_L));
        EXPECT_NEAR(amount(spec, "Na") / share, 1, row.within) << row.t;
        EXPECT_NEAR(*spec.litre_kg_per_m3 * row.cm3_per_g / 1000, 1, row.within) << row.t;
        EXPECT_TRUE(notes(spec, "litre_density"));
    }
}

// Dead Sea, surface, early 1980s, g/kg; its density of 1.24 kg/L. Both read in open texts that name
// no primary source, so within 1 %. Natural seawater carried on in a straight line weighs 1.20.
TEST(WaterFile, BitternByLitre) {
    const WaterSpec by_mass = good(R"([constituents]
unit = "g/kg"
Na = 32.5
K = 6.2
Mg = 35.2
Ca = 14.1
Cl = 181.4
Br = 4.2
SO4 = 0.4
)");
    const double kg_per_m3 = 1240;
    const WaterSpec spec = good(by_litre(by_mass.input.mol_per_kg, kg_per_m3, 25));
    EXPECT_NEAR(*spec.litre_kg_per_m3, kg_per_m3, 10);
    EXPECT_TRUE(notes(spec, "litre_density"));
    for (const char* symbol : {"Na", "Mg", "Ca", "Cl"}) {
        EXPECT_NEAR(amount(spec, symbol) / by_mass.input.mol_per_kg[constituent(symbol)], 1, 0.008)
            << symbol;
        EXPECT_NEAR(amount(spec, symbol) * *spec.litre_kg_per_m3,
                    by_mass.input.mol_per_kg[constituent(symbol)] * kg_per_m3, 1e-8)
            << symbol << ", there and back";
    }
}

TEST(WaterFile, ThereAndBack) {
    const WaterSpec spec = good(kLitres);
    const std::string again = by_litre(spec.input.mol_per_kg, *spec.litre_kg_per_m3, 25);
    const WaterSpec back = good(again);
    for (const char* symbol : {"Na", "K", "Mg", "Ca", "Cl", "SO4", "Br", "alkalinity", "carbon"}) {
        EXPECT_NEAR(amount(back, symbol) / amount(spec, symbol), 1, 1e-12) << symbol;
    }
    EXPECT_NEAR(amount(spec, "Ca") * *spec.litre_kg_per_m3 * 40.078, 421.7, 421.7 * 1e-12);
}

// Without alkalinity in the file the litre weighs what it does with the one that the charges leave.
TEST(WaterFile, AlkalinityByChargeWeighsInTheLitre) {
    std::string file = kLitres;
    file.resize(file.find("alkalinity"));
    const WaterSpec spec = good(file);
    bw::matter::Amounts water = spec.input.mol_per_kg;
    EXPECT_GT(amount(spec, "alkalinity"), 1e-3);
    water[constituent("carbon")] = 0.87 * amount(spec, "alkalinity");  // about what air gives it
    const auto density = bw::brine::density(water, bw::unit::Celsius(25));
    ASSERT_TRUE(density.has_value());
    EXPECT_NEAR(*spec.litre_kg_per_m3 / density->value, 1, 2e-5);
}

std::string complaint(const std::string& body) {
    const auto out = read("[constituents]\n" + body);
    EXPECT_FALSE(out.has_value()) << body;
    return out ? "" : out.error().text();
}

TEST(WaterFile, LitresThatNoDensityFits) {
    EXPECT_THAT(
        complaint("unit = \"g/L\"\nNa = 160\nCl = 247\n"),
        AllOf(HasSubstr("water.toml:3"), HasSubstr("litres cannot be turned into kilograms"),
              HasSubstr("0 to 300 g/kg"), HasSubstr("state the amounts per kg")));
    EXPECT_THAT(complaint("unit = \"g/L\"\nNa = 1e300\nCl = 1e300\n"),
                HasSubstr("more than a kilogram"));
    EXPECT_THAT(complaint("unit = \"mol/kg-water\"\nNa = 154\nCl = 154\n"),
                HasSubstr("more than it can hold"));
}

TEST(WaterFile, KilogramsOfWaterAreThoseOfTheResult) {
    const WaterSpec spec = good("[constituents]\nunit = \"mol/kg-water\"\nNa = 6\nCl = 6\n");
    const double salt = 6 * 58.4428e-3;
    EXPECT_NEAR(amount(spec, "Na"), 6 / (1 + salt), 2e-5);
    const double dissolved = spec.input.mol_per_kg.dissolved_mass_g() / 1000;
    EXPECT_NEAR(amount(spec, "Na") / (1 - dissolved), 6, 1e-11);
}

TEST(WaterFile, SeawaterFillsAndNamedConstituentsReplace) {
    const auto reference = bw::matter::reference_seawater(35.16504);
    const WaterSpec plain = good("seawater = \"35\"\n");
    EXPECT_DOUBLE_EQ(amount(plain, "Mg"), reference[constituent("Mg")]);
    EXPECT_EQ(plain.input.closing[0].kind, Closure::Alkalinity);
    EXPECT_EQ(plain.input.closing[1].kind, Closure::Carbon);
    EXPECT_TRUE(notes(plain, "carbon_natural"));
    const WaterSpec by_mass = good("seawater = \"35.16504 g/kg\"\n");
    EXPECT_NEAR(amount(by_mass, "Cl"), amount(plain, "Cl"), 1e-15);
    const WaterSpec changed =
        good("seawater = 35\n[constituents]\nunit = \"mmol/kg\"\nCa = 10.9\npCO2 = \"420 uatm\"\n");
    EXPECT_DOUBLE_EQ(amount(changed, "Ca"), 0.0109);
    EXPECT_DOUBLE_EQ(amount(changed, "Na"), reference[constituent("Na")]) << "nothing else moves";
    EXPECT_DOUBLE_EQ(amount(changed, "alkalinity"), reference[constituent("alkalinity")]);
    EXPECT_EQ(changed.closed_by, "pCO2 and natural alkalinity");
}

TEST(WaterFile, ThePartialPressureBecomesAFugacity) {
    const WaterSpec spec = good("seawater = \"35\"\npCO2 = \"420 uatm\"\n");
    EXPECT_EQ(spec.input.closing[0].kind, Closure::Fugacity);
    EXPECT_NEAR(spec.input.closing[0].value / 420e-6, 0.9968, 2e-4) << "[weiss-1974] at 25 degC";
    EXPECT_DOUBLE_EQ(spec.pco2_atm.value_or(0), 420e-6);
    EXPECT_DOUBLE_EQ(good("seawater = 35\npCO2 = \"0.00042 atm\"\n").input.closing[0].value,
                     spec.input.closing[0].value);
}

TEST(WaterFile, ScalesOfPh) {
    const auto kind = [](const std::string& scale) {
        return good("seawater = \"35\"\npH = 8.1\n" + scale).input.closing[0].kind;
    };
    EXPECT_EQ(kind(""), Closure::PhTotal);
    EXPECT_EQ(kind("pH_scale = \"total\"\n"), Closure::PhTotal);
    EXPECT_EQ(kind("pH_scale = \"free\"\n"), Closure::PhFree);
    EXPECT_EQ(kind("pH_scale = \"nbs\"\n"), Closure::PhNbs);
}

TEST(WaterFile, WithoutAnyStatementChargeAndAirClose) {
    const WaterSpec spec = good(kIons);
    EXPECT_TRUE(notes(spec, "alkalinity_by_charge"));
    EXPECT_TRUE(notes(spec, "air_assumed"));
    EXPECT_NEAR(amount(spec, "alkalinity"), 0.002198, 1e-9);
    EXPECT_NEAR(spec.input.mol_per_kg.charge(), 0, 1e-15);
    EXPECT_DOUBLE_EQ(spec.pco2_atm.value_or(0), 420e-6);
}

TEST(WaterFile, AlkalinityAloneTakesAir) {
    const WaterSpec spec = good(kIons + "alkalinity = 2.3\n");
    EXPECT_TRUE(notes(spec, "air_assumed"));
    EXPECT_FALSE(notes(spec, "alkalinity_by_charge"));
}

TEST(WaterFile, AnotherStatementAloneTakesAlkalinityByCharge) {
    for (const std::string one : {"carbon = 2.0\n", "pH = 8.1\n", "pCO2 = \"420 uatm\"\n"}) {
        const WaterSpec spec = good(kIons + one);
        EXPECT_TRUE(notes(spec, "alkalinity_by_charge")) << one;
        EXPECT_FALSE(notes(spec, "air_assumed")) << one;
    }
}

TEST(WaterFile, TwoStatementsLeaveTheThirdOpen) {
    const WaterSpec spec = good(kIons + "carbon = 2.0\npH = 8.1\npH_scale = \"total\"\n");
    EXPECT_FALSE(spec.alkalinity_known);
    EXPECT_TRUE(spec.notices.empty());
    EXPECT_TRUE(notes(good(kIons + "carbon = 2.0\npH = 8.1\n"), "ph_scale_assumed"));
    EXPECT_EQ(spec.closed_by, "carbon and pH 8.1 (total scale)");
}

TEST(WaterFile, ThreeStatementsAreNamed) {
    const auto out = read(kIons + "alkalinity = 2.3\ncarbon = 2\npH = 8.1\n");
    ASSERT_FALSE(out.has_value());
    EXPECT_THAT(out.error().message,
                HasSubstr("alkalinity, carbon and pH 8.1 (total scale) are all stated"));
    EXPECT_EQ(out.error().place.line, 3);
}

TEST(WaterFile, SlipsOfUnitsAreNoticed) {
    EXPECT_TRUE(notes(good(kIons + "alkalinity = 2.3\nB = 415\n"), "unit_doubtful"));
    EXPECT_TRUE(notes(good(kIons + "alkalinity = 2.3\nF = 0.000068\n"), "unit_doubtful"));
    EXPECT_FALSE(notes(good(kIons + "alkalinity = 2.3\nB = 0.415\n"), "unit_doubtful"));
    EXPECT_FALSE(notes(good(kIons + "alkalinity = 2.3\nLi = 0.5\n"), "unit_doubtful"))
        << "lithium has no constant proportion";
    bw::test::record({"Waters", "B or F of a water a thousand times too much or too little",
                      "noticed", "2 of 2; the right value, and one of lithium, raise no notice",
                      !HasFailure()});
}

std::string imbalance(const std::string& from, const std::string& to) {
    std::string text = kIons + "alkalinity = 2.3\n";
    text.replace(text.find(from), from.size(), to);
    const auto out = read(text);
    EXPECT_FALSE(out.has_value()) << text;
    return out ? "" : out.error().message;
}

TEST(WaterFile, ChargesOffBalanceNameTheLikelyIon) {
    EXPECT_THAT(imbalance("SO4 = 28.235\n", ""), HasSubstr("SO4 is probably missing, about 28.2"));
    EXPECT_THAT(imbalance("Mg = 52.82\n", ""), HasSubstr("Mg is probably missing, about 52.8"));
    EXPECT_THAT(imbalance("Cl = 545.87\n", ""), HasSubstr("Cl is probably missing, about 545.9"));
    EXPECT_THAT(imbalance("Na = 468.97", "Na = 528.97"), HasSubstr("Na is probably too high"));
    EXPECT_THAT(imbalance("Mg = 52.82", "Mg = 1283"), HasSubstr("in mg rather than mmol"));
    EXPECT_THAT(imbalance("alkalinity = 2.3", "alkalinity = 2300"),
                HasSubstr("alkalinity is 2300 meq/kg, about a thousand times"));
    EXPECT_THAT(imbalance("\"mmol/kg\"", "\"mg/kg\""),
                HasSubstr("the same numbers balance in mmol"));
    bw::test::record({"Waters",
                      "waters off charge balance by a unit: Mg in mg for mmol, alkalinity a "
                      "thousandfold, all ions in mg for mmol",
                      "refused, with the likely unit named", "3 of 3", !HasFailure()});
    bw::test::record({"Waters", "waters that lack an ion, or hold too much of one",
                      "refused, with the likely ion named", "4 of 4", !HasFailure()});
}

TEST(WaterDoubts, FivePercentIsAllowed) {
    bw::matter::Amounts water;
    water[constituent("Na")] = 1.0;
    water[constituent("Cl")] = 0.951;
    EXPECT_NEAR(water.charge_imbalance_percent(), 100 * 0.049 / 0.9755, 1e-9);
    water[constituent("Cl")] = 0.953;
    const double below = water.charge_imbalance_percent();
    EXPECT_TRUE(check_charge(water, {}).has_value());
    water[constituent("Cl")] = 0.95;
    const double above = water.charge_imbalance_percent();
    EXPECT_FALSE(check_charge(water, {}).has_value());
    bw::test::record({"Waters", "a water whose charges do not balance", "refused over 5 %",
                      fmt::format("taken at {:.1f} %, refused at {:.1f} %", below, above),
                      below < 5 && above > 5 && !HasFailure()});
}

}  // namespace
