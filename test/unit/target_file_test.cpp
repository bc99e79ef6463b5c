// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Target files as docs/reference/files.md describes them. Expected amounts are by hand from CIAAW
// 2021 weights; natural ones from Millero et al. 2008. Litres at 25 degC: EOS-80 gives 1023.3431
// kg/m3 for salinity 35 and 997.0480 for pure water at t68 = 25 (UNESCO 44); 25 degC of ITS-90 is
// t68 = 25.006, which with -0.304 and -0.257 kg/m3 per degree makes 1023.3412 and 997.0464.
#include "io/target_file.hpp"

#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace {

using namespace bw::io;
using bw::ProblemCode;
using bw::matter::constituent;
using bw::recipe::Aim;
using bw::recipe::ConstituentGoal;
using bw::recipe::Origin;
using bw::recipe::Target;
using testing::HasSubstr;

constexpr double kDensity = 1.0233412;  // kg/L
constexpr double kPure = 0.9970464;     // kg/L
constexpr double kDigits = 2e-7;        // relative: one or two units of their last digit

// The first five lines of every case.
constexpr const char* kHead =
    "format = \"brinewright/1\"\nkind = \"target\"\nname = \"case\"\nsalinity = \"35\"\n\n";

bw::Result<Target> read_text(const std::string& text, const char* name = "target.toml") {
    auto document = parse_document(text, name);
    EXPECT_TRUE(document.has_value()) << (document ? "" : document.error().text());
    return document ? read_target(*document) : tl::make_unexpected(document.error());
}

Target read(const std::string& body) {
    auto out = read_text(kHead + body);
    EXPECT_TRUE(out.has_value()) << (out ? "" : out.error().text());
    return out ? std::move(*out) : Target{};
}

bw::Problem refused(const std::string& body) {
    const auto out = read_text(kHead + body);
    EXPECT_FALSE(out.has_value()) << body;
    if (out) {
        return {};
    }
    EXPECT_EQ(out.error().place.file, "target.toml") << out.error().text();
    return out.error();
}

const ConstituentGoal& goal(const Target& target, std::string_view symbol) {
    static const ConstituentGoal kNone;
    for (const ConstituentGoal& g : target.constituents) {
        if (g.constituent.symbol() == symbol) {
            return g;
        }
    }
    ADD_FAILURE() << "no goal for " << symbol;
    return kNone;
}

void expect_relative(double value, double expected, double tolerance = kDigits) {
    EXPECT_NEAR(value, expected, tolerance * std::abs(expected));
}

const std::string kCalcium = "[[constituent]]\nsymbol = \"Ca\"\n";  // lines 6 and 7

TEST(TargetFile, ReadsAGoalInItsUnit) {
    const Target t = read(kCalcium +
                          "target = \"445 mg/L\"\nlow = \"440 mg/L\"\nhigh = \"460 mg/kg\"\n"
                          "priority = 1\naim = \"band\"\n");
    const ConstituentGoal& ca = goal(t, "Ca");
    expect_relative(ca.target.value(), 0.445 / 40.078 / kDensity);
    expect_relative(ca.low.value(), 0.440 / 40.078 / kDensity);
    expect_relative(ca.high.value(), 0.460 / 40.078);
    EXPECT_EQ(ca.priority, 1);
    EXPECT_EQ(ca.aim, Aim::Band);
    EXPECT_EQ(ca.origin, Origin::Named);
    EXPECT_EQ(ca.shown.unit.symbol, "mg/L");
    expect_relative(ca.target.value() * ca.shown_per_mol_per_kg, 445, 1e-12);
}

TEST(TargetFile, DefaultsAreThoseOfTheReference) {
    const Target t = read(kCalcium + "target = \"10 mmol/kg\"\n");
    const ConstituentGoal& ca = goal(t, "Ca");
    expect_relative(ca.low.value(), 9.8e-3, 1e-12);  // 2 % below and above
    expect_relative(ca.high.value(), 10.2e-3, 1e-12);
    EXPECT_EQ(ca.priority, 3);
    EXPECT_EQ(ca.aim, Aim::Target);
    EXPECT_DOUBLE_EQ(t.temperature_degC, 25);
    EXPECT_EQ(t.name, "case");
    EXPECT_FALSE(t.invented);
    EXPECT_FALSE(t.batch.has_value());
    EXPECT_FALSE(t.limits.most_materials.has_value());
    // Practical 35 is 35.16504 g/kg (Millero et al. 2008); within 0.2 % unless said.
    expect_relative(t.salinity.target_g_per_kg, 35.16504, 1e-12);
    expect_relative(t.salinity.low_g_per_kg, 35.16504 * 0.998, 1e-12);
    expect_relative(t.salinity.high_g_per_kg, 35.16504 * 1.002, 1e-12);
    EXPECT_DOUBLE_EQ(t.salinity.practical.value(), 35);
    expect_relative(t.basis.density.value(), kDensity * 1000);
    expect_relative(t.basis.dissolved.value(), 35.16504, 1e-12);
}

TEST(TargetFile, SalinityMayBeANumberOrAMass) {
    const std::string rest = kCalcium + "target = \"10 mmol/kg\"\n";
    const auto with = [&](const std::string& lines) {
        return read_text("format='brinewright/1'\nkind='target'\nname='s'\n" + lines + rest);
    };
    EXPECT_DOUBLE_EQ(with("salinity = 30\n")->salinity.practical.value(), 30);
    expect_relative(with("salinity = 30\n")->salinity.target_g_per_kg, 30 * 35.16504 / 35, 1e-12);
    const auto mass = with("salinity = '34 g/kg'\nsalinity_low='33.9 g/kg'\nsalinity_high=34.5\n");
    ASSERT_TRUE(mass.has_value()) << mass.error().text();
    EXPECT_FALSE(mass->salinity.practical.has_value());
    expect_relative(mass->salinity.target_g_per_kg, 34, 1e-12);
    expect_relative(mass->salinity.low_g_per_kg, 33.9, 1e-12);
    expect_relative(mass->salinity.high_g_per_kg, 34.5 * 35.16504 / 35, 1e-12);
    for (const char* bad :
         {"salinity = 0\n", "salinity = -1\n", "salinity = 43\n", "salinity = '90 g/kg'\n",
          "salinity = 35\nsalinity_low = 36\n", "salinity = 35\nsalinity_high = 34\n"}) {
        const auto out = with(bad);
        ASSERT_FALSE(out.has_value()) << bad;
        EXPECT_EQ(out.error().code, ProblemCode::OutOfRange) << bad;
    }
    EXPECT_THAT(with("").error().message, HasSubstr("salinity is missing"));
    EXPECT_FALSE(with("salinity = '35 mg/L'\n").has_value());
    EXPECT_FALSE(with("salinity = true\n").has_value());
}

TEST(TargetFile, TemperatureSetsTheLitre) {
    const Target cold = read("temperature = \"10 degC\"\n" + kCalcium + "target = \"445 mg/L\"\n");
    EXPECT_DOUBLE_EQ(cold.temperature_degC, 10);
    // EOS-80 at 35 and 10 degC: 1026.952 kg/m3 (UNESCO 44).
    expect_relative(goal(cold, "Ca").target.value(), 0.445 / 40.078 / 1.026952, 1e-5);
    const Target kelvin = read("temperature = \"298.15 K\"\n" + kCalcium + "target = \"1 mg/L\"\n");
    EXPECT_NEAR(kelvin.temperature_degC, 25, 1e-12);
    EXPECT_EQ(refused("temperature = \"41 degC\"\n" + kCalcium + "target=\"1 mg/L\"\n").place.line,
              6);
    EXPECT_EQ(refused("temperature = \"25 mg/L\"\n").code, ProblemCode::BadUnit);
    EXPECT_EQ(refused("temperature = 25\n").code, ProblemCode::BadUnit);
}

TEST(TargetFile, NaturalIsNatureAtTheSalinity) {
    const auto t = read_text(
        "format='brinewright/1'\nkind='target'\nname='n'\nsalinity='17.58252 g/kg'\n" + kCalcium +
        "target = \"natural\"\n[[constituent]]\nsymbol=\"Mo\"\ntarget=\" natural \"\n");
    ASSERT_TRUE(t.has_value()) << t.error().text();
    // Half of 0.0091823 x 35.16504 / 31.4038218 (Millero et al. 2008).
    expect_relative(goal(*t, "Ca").target.value(), 0.0091823 * 17.58252 / 31.4038218, 1e-5);
    expect_relative(goal(*t, "Mo").target.value(), 105e-9 / 2, 1e-9);  // data/natural_traces.toml
    EXPECT_EQ(goal(*t, "Ca").shown.unit.symbol, "mg/kg") << "nothing in the file speaks of litres";
    EXPECT_EQ(refused("[[constituent]]\nsymbol=\"Ag\"\ntarget=\"natural\"\n").place.line, 8);
}

TEST(TargetFile, RestFollowsChlorinity) {
    const Target t =
        read("rest = \"natural\"\n" + kCalcium + "target = \"445 mg/L\"\npriority=1\n");
    ASSERT_EQ(t.constituents.size(), 11U);     // Ca, then ten of the eleven of the reference
    const double all = 35.16504 / 31.4038218;  // mol/kg of all species (Millero et al. 2008)
    const ConstituentGoal& mg = goal(t, "Mg");
    EXPECT_EQ(mg.origin, Origin::Rest);
    EXPECT_EQ(mg.priority, bw::recipe::kRestPriority);
    expect_relative(mg.target.value(), 0.0471678 * all, 1e-6);
    expect_relative(mg.low.value(), 0.0471678 * all * 0.98, 1e-6);
    EXPECT_EQ(mg.shown.unit.symbol, "mg/L") << "the file speaks of litres";
    const ConstituentGoal& na = goal(t, "Na");
    EXPECT_EQ(na.priority, bw::recipe::kGivesWayPriority);
    expect_relative(na.high.value(), 0.4188071 * all * 1.03, 1e-6);
    EXPECT_EQ(goal(t, "alkalinity").shown.unit.symbol, "meq/kg");
    expect_relative(goal(t, "Ca").target.value(), 0.445 / 40.078 / kDensity);  // named: kept
    // A chloride that the file names sets the chlorinity of the rest.
    const Target more = read(
        "rest = \"natural\"\n[[constituent]]\nsymbol=\"Cl\"\n"
        "target = \"600 mmol/kg\"\n");
    expect_relative(goal(more, "Mg").target.value(), 0.600 * 0.0471678 / 0.4874839, 1e-6);
    EXPECT_EQ(refused("rest = \"reef\"\n").place.line, 6);
}

TEST(TargetFile, AimOfTheFileHoldsUnlessAGoalSaysOtherwise) {
    const Target t = read("aim = \"band\"\nrest = \"natural\"\n" + kCalcium +
                          "target = \"445 mg/L\"\naim = \"target\"\n");
    EXPECT_EQ(goal(t, "Ca").aim, Aim::Target);
    EXPECT_EQ(goal(t, "Mg").aim, Aim::Band);
    EXPECT_THAT(refused("aim = \"mid\"\n").message, HasSubstr("\"target\" or \"band\""));
}

TEST(TargetFile, RatiosCeilingsLimitsAndBatch) {
    const Target t = read(
        "rest = \"natural\"\n"
        "[[ratio]]\nof = \"Mg / Ca\"\nlow = 4.9\nhigh = 5.4\ntarget = 5.14\nbasis = \"mass\"\n"
        "priority = 2\n[[ratio]]\nof = \"Ca/alkalinity\"\nhigh = 5\n"
        "[[ceiling]]\nsymbol = \"Cu\"\nhigh = \"3 ug/L\"\n"
        "[limits]\nmost_materials = 14\nsmallest_dose = \"2 mg/kg\"\n"
        "[batch]\nblend = \"1 t\"\nblend_swing = \"2 %\"\nsmallest_weighing = \"50 g\"\n"
        "weighing_step = \"10 g\"\n");
    ASSERT_EQ(t.ratios.size(), 2U);
    EXPECT_EQ(t.ratios[0].name(), "Mg/Ca");
    EXPECT_TRUE(t.ratios[0].by_mass);
    EXPECT_DOUBLE_EQ(t.ratios[0].target.value(), 5.14);
    EXPECT_EQ(t.ratios[0].priority, 2);
    EXPECT_FALSE(t.ratios[1].by_mass);
    EXPECT_FALSE(t.ratios[1].low.has_value());
    EXPECT_TRUE(t.ratios[1].denominator.is_alkalinity());
    ASSERT_EQ(t.ceilings.size(), 1U);
    expect_relative(t.ceilings[0].high, 3e-6 / 63.546 / kDensity);
    expect_relative(t.ceilings[0].high * t.ceilings[0].shown_per_mol_per_kg, 3, 1e-12);
    EXPECT_EQ(t.limits.most_materials.value(), 14);
    EXPECT_DOUBLE_EQ(t.limits.smallest_dose_kg_per_kg.value(), 2e-6);
    ASSERT_TRUE(t.batch.has_value());
    EXPECT_DOUBLE_EQ(t.batch->blend_kg, 1000);
    EXPECT_DOUBLE_EQ(t.batch->blend_swing, 0.02);
    EXPECT_DOUBLE_EQ(t.batch->smallest_weighing_kg.value(), 0.05);
    EXPECT_DOUBLE_EQ(t.batch->weighing_step_kg.value(), 0.01);
}

TEST(TargetFile, PurifiedWaterIsPerKilogramOfItself) {
    const Target t = read(kCalcium +
                          "target = \"10 mmol/kg\"\n[purified_water]\n"
                          "unit = \"mg/L\"\nSi = 0.05\nCu = \"1 ug/L\"\nMg = \"0.02\"\n"
                          "Na = \"10 umol/kg\"\nnote = \"after the resin\"\n");
    expect_relative(t.purified_water[constituent("Si")], 0.05e-3 / 28.085 / kPure);
    expect_relative(t.purified_water[constituent("Cu")], 1e-6 / 63.546 / kPure);
    expect_relative(t.purified_water[constituent("Mg")], 0.02e-3 / 24.305 / kPure);
    expect_relative(t.purified_water[constituent("Na")], 10e-6, 1e-12);
    const std::string ca = kCalcium + "target = \"10 mmol/kg\"\n";
    EXPECT_EQ(refused(ca + "[purified_water]\nSi = 0.05\n").code, ProblemCode::BadUnit);
    EXPECT_EQ(refused(ca + "[purified_water]\nXi = \"1 mg/L\"\n").place.line, 10);
    EXPECT_EQ(refused(ca + "[purified_water]\nSi = \"-1 mg/L\"\n").code, ProblemCode::OutOfRange);
}

TEST(TargetFile, AUnitOfTheTableServesItsBareNumbers) {
    const Target t = read(kCalcium +
                          "unit = \"mg/L\"\ntarget = 445\nlow = \"440\"\n"
                          "high = \"0.46 g/kg\"\n");
    expect_relative(goal(t, "Ca").target.value(), 0.445 / 40.078 / kDensity);
    expect_relative(goal(t, "Ca").low.value(), 0.440 / 40.078 / kDensity);
    expect_relative(goal(t, "Ca").high.value(), 0.460 / 40.078);
    const bw::Problem bare = refused(kCalcium + "target = 445\n");
    EXPECT_EQ(bare.code, ProblemCode::BadUnit);
    EXPECT_EQ(bare.place.line, 8);
    EXPECT_THAT(bare.message, HasSubstr("\"445 mg/L\""));
}

TEST(TargetFile, MisspeltKeysAreRefusedWithTheNearest) {
    const bw::Problem key = refused(kCalcium + "targt = \"445 mg/L\"\n");
    EXPECT_EQ(key.code, ProblemCode::UnknownName);
    EXPECT_EQ(key.place.line, 8);
    EXPECT_THAT(key.message, HasSubstr("did you mean target?"));
    EXPECT_THAT(refused("salinty = 35\n").message, HasSubstr("did you mean salinity?"));
    EXPECT_EQ(refused("[limits]\nmost_material = 3\n").place.line, 7);
    EXPECT_EQ(refused("[batch]\nblend = \"1 t\"\nstep = \"1 g\"\n").place.line, 8);
    EXPECT_EQ(refused("[[ratio]]\nof = \"Mg/Ca\"\nbase = \"mol\"\n").place.line, 8);
    EXPECT_EQ(refused("[[ceiling]]\nsymbol = \"Cu\"\nlow = \"1 ug/L\"\n").place.line, 8);
}

TEST(TargetFile, NotesAreWelcomeInEveryTable) {
    read("note = \"n\"\ninvented = true\n" + kCalcium +
         "target = \"10 mmol/kg\"\nnote = \"n\"\n[[ceiling]]\nsymbol=\"Cu\"\nhigh=\"1 ug/L\"\n"
         "note=\"n\"\n[limits]\nnote=\"n\"\n[batch]\nblend=\"1 kg\"\nnote=\"n\"\n");
}

TEST(TargetFile, BandsMustBeInOrder) {
    EXPECT_EQ(refused(kCalcium + "low = \"450 mg/L\"\nhigh = \"440 mg/L\"\n").code,
              ProblemCode::OutOfRange);
    // 445 mg/kg is above 450 mg/L.
    EXPECT_EQ(refused(kCalcium + "target = \"445 mg/kg\"\nhigh = \"450 mg/L\"\n").place.line, 8);
    EXPECT_EQ(refused(kCalcium + "target = \"430 mg/L\"\nlow = \"440 mg/L\"\n").code,
              ProblemCode::OutOfRange);
    EXPECT_EQ(refused(kCalcium + "target = \"-1 mg/L\"\n").code, ProblemCode::OutOfRange);
    EXPECT_THAT(refused(kCalcium).message, HasSubstr("neither target, nor low, nor high"));
    const Target one_sided = read(kCalcium + "high = \"450 mg/L\"\n");
    EXPECT_FALSE(goal(one_sided, "Ca").low.has_value());
    EXPECT_FALSE(goal(one_sided, "Ca").target.has_value());
}

TEST(TargetFile, PrioritiesAreOneToNine) {
    for (const char* bad : {"0", "10", "2.5", "-1", "\"first\"", "true"}) {
        EXPECT_EQ(refused(kCalcium + "target=\"10 mmol/kg\"\npriority = " + bad + "\n").place.line,
                  9)
            << bad;
    }
    EXPECT_EQ(goal(read(kCalcium + "target=\"10 mmol/kg\"\npriority=9\n"), "Ca").priority, 9);
}

TEST(TargetFile, NamesMustBeKnownAndUnique) {
    EXPECT_EQ(refused(kCalcium + "target=\"10 mmol/kg\"\n" + kCalcium + "target=\"1 mg/L\"\n").code,
              ProblemCode::DuplicateName);
    EXPECT_THAT(refused("[[constituent]]\nsymbol=\"KH\"\ntarget=\"8 dKH\"\n").message,
                HasSubstr("did you mean alkalinity?"));
    EXPECT_EQ(refused("[[constituent]]\ntarget=\"8 dKH\"\n").place.line, 6);
    const std::string cu = "[[ceiling]]\nsymbol=\"Cu\"\nhigh=\"1 ug/L\"\n";
    EXPECT_EQ(refused(kCalcium + "target=\"10 mmol/kg\"\n" + cu + cu).code,
              ProblemCode::DuplicateName);
    EXPECT_THAT(refused("").message, HasSubstr("names no constituent"));
    EXPECT_EQ(refused(kCalcium + "target = \"10 mmol/kg\"\n[[ratio]]\nof=\"Mg/Ca\"\nlow=5\n").code,
              ProblemCode::UnknownName);
}

TEST(TargetFile, RatiosAndCeilingsAreChecked) {
    const std::string natural = "rest = \"natural\"\n[[ratio]]\n";
    EXPECT_THAT(refused(natural + "of = \"Mg\"\nlow = 5\n").message, HasSubstr("not a ratio"));
    EXPECT_THAT(refused(natural + "of = \"Mg/Ca\"\n").message, HasSubstr("neither low"));
    EXPECT_EQ(refused(natural + "of = \"Mg/Ca\"\nlow = 6\nhigh = 5\n").code,
              ProblemCode::OutOfRange);
    EXPECT_EQ(refused(natural + "of = \"Mg/Ca\"\nlow = 5\ntarget = 4\n").code,
              ProblemCode::OutOfRange);
    EXPECT_EQ(refused(natural + "of = \"Mg/Ca\"\nlow = 0\n").code, ProblemCode::OutOfRange);
    EXPECT_FALSE(
        refused(natural + "of = \"Mg/Ca\"\nlow = 5\nbasis = \"volume\"\n").message.empty());
    EXPECT_EQ(refused("[[ceiling]]\nsymbol=\"Cu\"\nhigh=\"0 ug/L\"\n").code,
              ProblemCode::OutOfRange);
    EXPECT_THAT(refused("[[ceiling]]\nsymbol=\"Cu\"\n").message, HasSubstr("no high"));
}

TEST(TargetFile, BatchesAreChecked) {
    const std::string ca = kCalcium + "target = \"10 mmol/kg\"\n";
    EXPECT_THAT(refused(ca + "[batch]\nweighing_step = \"1 g\"\n").message, HasSubstr("blend"));
    EXPECT_FALSE(refused(ca + "[batch]\nblend = \"0 kg\"\n").message.empty());
    EXPECT_EQ(refused(ca + "[batch]\nblend = \"1 L\"\n").place.line, 10);
    EXPECT_EQ(refused(ca + "[batch]\nblend=\"1 t\"\nblend_swing = \"25 %\"\n").code,
              ProblemCode::OutOfRange);
    EXPECT_EQ(refused(ca + "[batch]\nblend=\"1 t\"\nweighing_step = \"0 g\"\n").code,
              ProblemCode::OutOfRange);
    EXPECT_EQ(refused(ca + "[limits]\nmost_materials = 0\n").code, ProblemCode::OutOfRange);
}

TEST(TargetFile, UnitsThatCannotStateAConstituentAreRefusedAtTheirLine) {
    for (const char* quantity :
         {"440 ppm", "440 EUR/kg", "440", "440 kg", "440 mg/l", "4,4 mg/L"}) {
        EXPECT_EQ(refused(kCalcium + "target = \"" + quantity + "\"\n").place.line, 8) << quantity;
    }
    EXPECT_EQ(refused("[[constituent]]\nsymbol=\"B\"\ntarget=\"0.4 meq/kg\"\n").place.line, 8);
    EXPECT_EQ(refused("[[constituent]]\nsymbol=\"alkalinity\"\ntarget=\"125 mg/L\"\n").place.line,
              8);
    EXPECT_EQ(refused(kCalcium + "target = [1]\n").place.line, 8);
}

TEST(TargetFile, JsonIsTheSameFile) {
    const auto json = read_text(
        R"({"format": "brinewright/1", "kind": "target", "name": "case", "salinity": "35",
            "constituent": [{"symbol": "Ca", "target": "445 mg/L", "priority": 1}]})",
        "target.json");
    ASSERT_TRUE(json.has_value()) << json.error().text();
    const Target toml = read(kCalcium + "target = \"445 mg/L\"\npriority = 1\n");
    EXPECT_EQ(goal(*json, "Ca").target, goal(toml, "Ca").target);
    const auto bad = read_text(
        R"({"format": "brinewright/1", "kind": "target", "name": "case", "salinity": "35",
            "constituent": [{"symbol": "Ca", "target": 445}]})",
        "target.json");
    ASSERT_FALSE(bad.has_value());
    EXPECT_EQ(bad.error().place.line, 0);
    EXPECT_THAT(bad.error().place.field, HasSubstr("constituent 1"));
}

TEST(TargetFile, OtherKindsAndFormatsAreRefused) {
    EXPECT_EQ(read_text("kind = 'target'\n").error().code, ProblemCode::WrongKind);
    EXPECT_EQ(read_text("format = 'brinewright/1'\n").error().code, ProblemCode::WrongKind);
    const auto lots = read_text("format = 'brinewright/1'\nkind = 'lots'\n");
    EXPECT_THAT(lots.error().message, HasSubstr("'lots'"));
    EXPECT_EQ(lots.error().place.line, 2);
}

}  // namespace
