// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Catalogues and lots as docs/reference/files.md describes them.
#include "io/material_file.hpp"

#include <cmath>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace {

using namespace bw::io;
using bw::ProblemCode;
using bw::matter::AssayBasis;
using bw::matter::constituent;
using bw::matter::Material;
using bw::matter::Stated;
using testing::HasSubstr;

bw::Result<std::vector<PlacedMaterial>> read_text(const std::string& text) {
    auto document = parse_document(text, "materials.toml");
    EXPECT_TRUE(document.has_value()) << (document ? "" : document.error().text());
    return document ? read_materials(*document) : tl::make_unexpected(document.error());
}

const std::string kHead = "format = \"brinewright/1\"\nkind = \"materials\"\n[[material]]\n";
// Lines 4 and 5; what a case adds starts on line 6.
const std::string kSalt = kHead + "name = \"salt\"\nformula = \"CaCl2.2H2O\"\n";

PlacedMaterial read(const std::string& lines) {
    auto out = read_text(kSalt + lines);
    EXPECT_TRUE(out.has_value()) << lines << (out ? "" : out.error().text());
    return out ? std::move(out->at(0)) : PlacedMaterial{};
}

bw::Problem refused(const std::string& lines) {
    const auto out = read_text(kSalt + lines);
    EXPECT_FALSE(out.has_value()) << lines;
    if (out) {
        return {};
    }
    EXPECT_EQ(out.error().place.file, "materials.toml") << out.error().text();
    EXPECT_GT(out.error().place.line, 0) << out.error().text();
    return out.error();
}

TEST(MaterialFile, ReadsEveryFieldOfTheReference) {
    const PlacedMaterial placed = read(R"(grade = "food"
assay = { value = "99.2 %", u = "0.3 %", as = "CaCl2.2H2O", basis = "as is" }
moisture = { value = "0.4 %", u = "0.1 %" }
loss_on_ignition = "51.0 %"
impurities = [
  { of = "Sr", value = "900 mg/kg", u = "60 mg/kg" },
  { of = "Mg(OH)2", high = "300 mg/kg" },
  { of = "insoluble", high = "0.02 %" },
  { of = "alkalinity", value = "4 meq/kg" },
  { of = "Cu", below = "1 mg/kg" },
]
price = "620 EUR/t"
package = "25 kg"
whole_packages = true
stock = "1.8 t"
step = "100 g"
least = "0.5 g/kg"
most = "2 g/kg"
grain = { d10 = "0.2 mm", d50 = "600 um", d90 = "1.1 mm" }
density = "1.85 g/cm3"
hazards = ["H319"]
cautions = ["Takes up water."]
role = "major"
)");
    const Material& m = placed.material;
    EXPECT_EQ(m.name, "salt");
    EXPECT_EQ(m.grade, "food");
    ASSERT_TRUE(m.assay.has_value());
    EXPECT_DOUBLE_EQ(m.assay->share.value, 0.992);
    EXPECT_DOUBLE_EQ(m.assay->share.u, 0.003);
    EXPECT_EQ(m.assay->as, "CaCl2.2H2O");
    EXPECT_EQ(m.assay->basis, AssayBasis::AsIs);
    EXPECT_DOUBLE_EQ(m.moisture.value().value, 0.004);
    EXPECT_DOUBLE_EQ(m.loss_on_ignition.value().value, 0.51);
    ASSERT_EQ(m.impurities.size(), 5U);
    EXPECT_DOUBLE_EQ(m.impurities[0].amount.value, 900e-6);
    EXPECT_EQ(m.impurities[1].amount.shape, Stated::Shape::Rectangular);
    EXPECT_DOUBLE_EQ(m.impurities[1].amount.high, 300e-6);
    EXPECT_DOUBLE_EQ(m.impurities[1].amount.low, 0);
    EXPECT_FALSE(m.impurities[3].by_mass);
    EXPECT_DOUBLE_EQ(m.impurities[3].amount.value, 4e-3);
    EXPECT_TRUE(m.impurities[4].below_reporting_limit);
    EXPECT_DOUBLE_EQ(m.impurities[4].amount.value, 0.5e-6);
    EXPECT_DOUBLE_EQ(m.price_per_kg.value(), 0.62);
    EXPECT_EQ(m.currency, "EUR");
    EXPECT_DOUBLE_EQ(m.package_kg.value(), 25);
    EXPECT_TRUE(m.whole_packages);
    EXPECT_DOUBLE_EQ(m.stock_kg.value(), 1800);
    EXPECT_DOUBLE_EQ(m.step_kg.value(), 0.1);
    EXPECT_DOUBLE_EQ(m.least_kg_per_kg.value(), 0.5e-3);
    EXPECT_DOUBLE_EQ(m.most_kg_per_kg.value(), 2e-3);
    EXPECT_DOUBLE_EQ(m.grain.value().d50_m, 600e-6);
    EXPECT_DOUBLE_EQ(m.density_kg_per_m3.value(), 1850);
    EXPECT_EQ(m.hazards, std::vector<std::string>{"H319"});
    EXPECT_EQ(m.role, "major");
    EXPECT_EQ(placed.place.line, 4);
    // Make-up by hand (CIAAW 2021): the main salt, and one ion, chloride, that closes the charge of
    // Sr, half a milligram of Cu and the alkalinity together. Round-off.
    const double calcium = 992 / 147.008;
    const double chloride = 2 * calcium + 2 * 0.9 / 87.62 + 2 * 0.5e-3 / 63.546 - 4e-3;
    EXPECT_NEAR(placed.make_up.mol_per_kg[constituent("Ca")], calcium, 1e-12);
    EXPECT_NEAR(placed.make_up.mol_per_kg[constituent("Cl")], chloride, 1e-12);
    EXPECT_NEAR(placed.make_up.mol_per_kg[constituent("alkalinity")], 4e-3 + 2 * 0.15 / 58.319,
                1e-12);
}

TEST(MaterialFile, SharesMayBeWrittenInFiveWays) {
    EXPECT_DOUBLE_EQ(read("assay = \"99 %\"\n").material.assay->share.u, 0);
    EXPECT_DOUBLE_EQ(read("assay = \"990 g/kg\"\n").material.assay->share.value, 0.99);
    EXPECT_DOUBLE_EQ(read("assay = { value = \"99 %\", u = \"1 g/kg\" }\n").material.assay->share.u,
                     0.001);
    const Stated limits =
        read("assay = { low = \"97 %\", high = \"103 %\" }\n").material.assay->share;
    EXPECT_DOUBLE_EQ(limits.value, 1);
    EXPECT_NEAR(limits.u, 0.06 / std::sqrt(12.0), 1e-15);  // JCGM 101, 6.4.2
    EXPECT_DOUBLE_EQ(read("moisture = { high = \"0.5 %\" }\n").material.moisture->value, 0.0025);
    // A unit of the table serves its bare numbers.
    EXPECT_DOUBLE_EQ(
        read("assay = { value = 99, u = 0.3, unit = \"%\" }\n").material.assay->share.u, 0.003);
}

TEST(MaterialFile, SharesThatMakeNoSenseAreRefused) {
    for (const char* assay :
         {"{ value = \"99 %\", high = \"100 %\" }", "{ u = \"1 %\" }", "{ low = \"97 %\" }",
          "{ low = \"103 %\", high = \"97 %\" }", "{ high = \"99 %\", u = \"1 %\" }",
          "{ value = \"-1 %\" }", "{ value = \"99 mg/L\" }", "99.2", "\"0 %\"", "\"111 %\"",
          "{ value = \"99 %\", basis = \"wet\" }", "{ value = \"99 %\", as = \"KBr\" }",
          "{ value = \"6 mol/kg\" }", "{ value = \"99 %\", u = \"1 mmol/kg\" }", "{}",
          "{ value = \"99 %\", basis = \"dried\" }", "{ value = \"99 %\", of = \"Ca\" }"}) {
        EXPECT_FALSE(refused("assay = " + std::string(assay) + "\n").message.empty()) << assay;
    }
    EXPECT_EQ(refused("moisture = \"100 %\"\n").code, ProblemCode::OutOfRange);
    EXPECT_EQ(refused("moisture = { value = \"60 %\", u = \"30 %\" }\n").code,
              ProblemCode::OutOfRange);
}

TEST(MaterialFile, ImpuritiesAreKnownAndUnique) {
    EXPECT_EQ(refused("impurities = [{ of = \"Sr\", value = \"1 mg/kg\" },\n"
                      "{ of = \"Sr\", value = \"2 mg/kg\" }]\n")
                  .code,
              ProblemCode::DuplicateName);
    EXPECT_EQ(refused("impurities = [{ of = \"dirt\", value = \"1 mg/kg\" }]\n").code,
              ProblemCode::UnknownName);
    EXPECT_EQ(refused("impurities = [{ value = \"1 mg/kg\" }]\n").place.line, 6);
    EXPECT_EQ(refused("impurities = [{ of = \"alkalinity\", value = \"1 mg/kg\" }]\n").code,
              ProblemCode::BadUnit);
    EXPECT_FALSE(refused("impurities = \"none\"\n").message.empty());
}

TEST(MaterialFile, ASieveTableGivesTheSizes) {
    const auto sieve = [](const std::string& rows) {
        return "grain = { sieve = [" + rows + "] }\n";
    };
    const auto grain =
        read(sieve(
                 "{ size = \"0.2 mm\", finer = \"10 %\" }, { size = \"800 um\", finer = \"90 %\" },"
                 " { size = \"1 mm\", finer = \"100 %\" }"))
            .material.grain.value();
    ASSERT_EQ(grain.sieve.size(), 3U);
    EXPECT_DOUBLE_EQ(grain.sieve[1].size_m, 8e-4);
    EXPECT_DOUBLE_EQ(grain.sieve[1].finer, 0.9);
    EXPECT_NEAR(grain.d10_m, 2e-4, 1e-12);
    EXPECT_NEAR(grain.d50_m, 4e-4, 1e-12);  // half way, by the logarithm
    EXPECT_NEAR(grain.d90_m, 8e-4, 1e-12);
    EXPECT_THAT(refused(sieve("{ size = \"0.2 mm\", finer = \"10 %\" }")).message,
                HasSubstr("two sieves at least"));
    for (const char* second :
         {"size = \"0.1 mm\", finer = \"90 %\"", "size = \"1 mm\", finer = \"5 %\"",
          "size = \"1 mm\", finer = \"110 %\"", "finer = \"90 %\""}) {
        EXPECT_EQ(refused(sieve("{ size = \"0.2 mm\", finer = \"10 %\" }, { " +
                                std::string(second) + " }"))
                      .code,
                  ProblemCode::OutOfRange)
            << second;
    }
}

TEST(MaterialFile, NumbersMustMakeSense) {
    EXPECT_EQ(refused("price = \"5 kg\"\n").code, ProblemCode::BadUnit);
    EXPECT_EQ(refused("price = \"-5 EUR/kg\"\n").code, ProblemCode::BadUnit);
    EXPECT_EQ(refused("price = 0.62\n").code, ProblemCode::BadUnit);
    EXPECT_EQ(refused("package = \"0 kg\"\n").code, ProblemCode::OutOfRange);
    EXPECT_THAT(refused("whole_packages = true\n").message, HasSubstr("need a package"));
    EXPECT_EQ(refused("stock = \"-1 kg\"\n").code, ProblemCode::OutOfRange);
    EXPECT_EQ(refused("step = \"0 g\"\n").code, ProblemCode::OutOfRange);
    EXPECT_EQ(refused("least = \"3 g/kg\"\nmost = \"2 g/kg\"\n").code, ProblemCode::OutOfRange);
    EXPECT_EQ(refused("most = \"2 g/L\"\n").code, ProblemCode::BadUnit);
    EXPECT_EQ(refused("grain = { d10 = \"2 mm\", d50 = \"1 mm\", d90 = \"3 mm\" }\n").code,
              ProblemCode::OutOfRange);
    EXPECT_EQ(refused("grain = { d50 = \"1 mm\" }\n").code, ProblemCode::OutOfRange);
    EXPECT_EQ(refused("density = \"0 g/cm3\"\n").code, ProblemCode::OutOfRange);
    EXPECT_DOUBLE_EQ(read("density = \"2.16 kg/L\"\n").material.density_kg_per_m3.value(), 2160);
    EXPECT_EQ(refused("density = \"2 mm\"\n").code, ProblemCode::BadUnit);
    EXPECT_EQ(refused("hazards = [\"H999\"]\n").code, ProblemCode::UnknownName);
    EXPECT_FALSE(refused("hazards = [1]\n").message.empty());
    EXPECT_THAT(refused("role = \"filler\"\n").message, HasSubstr("major, minor, trace"));
    EXPECT_THAT(refused("wholepackages = true\n").message, HasSubstr("whole_packages"));
}

TEST(MaterialFile, NamesAreUniqueAndNeeded) {
    const auto twice = read_text(kSalt + "[[material]]\nname = \"salt\"\nformula = \"NaCl\"\n");
    ASSERT_FALSE(twice.has_value());
    EXPECT_EQ(twice.error().code, ProblemCode::DuplicateName);
    EXPECT_EQ(twice.error().place.line, 7);
    EXPECT_THAT(twice.error().message, HasSubstr("line 4"));
    EXPECT_FALSE(read_text(kHead + "formula = \"NaCl\"\n").has_value());
    EXPECT_FALSE(read_text(kHead + "name = \"  \"\nformula = \"NaCl\"\n").has_value());
    EXPECT_FALSE(read_text(kHead + "name = \"salt\"\n").has_value());
    EXPECT_THAT(read_text("format=\"brinewright/1\"\nkind=\"materials\"\n").error().message,
                HasSubstr("no material"));
    EXPECT_EQ(read_text("format=\"brinewright/1\"\nkind=\"materials\"\nmaterial = 3\n")
                  .error()
                  .place.line,
              3);
}

TEST(MaterialFile, AMixtureIsGivenByItsAnalysis) {
    const auto out = read_text(kHead +
                               "name = \"solar salt\"\nbalance = \"Cl\"\ncomposition = [\n"
                               "{ of = \"NaCl\", value = \"97.1 %\", u = \"0.3 %\" },\n"
                               "{ of = \"Ca\", value = \"0.09 %\" },\n]\n");
    ASSERT_TRUE(out.has_value()) << out.error().text();
    const auto& made = out->at(0).make_up;
    // 971 / 58.440 of NaCl and 2 x 0.9 / 40.078 that close calcium's charge (CIAAW 2021).
    EXPECT_NEAR(made.mol_per_kg[constituent("Cl")], 971 / 58.440 + 2 * 0.9 / 40.078, 1e-12);
    EXPECT_NEAR(made.mol_per_kg.charge(), 0, 1e-12);
}

bw::Result<std::vector<PlacedLot>> lots(const std::string& lines) {
    auto document =
        parse_document("format = \"brinewright/1\"\nkind = \"lots\"\n" + lines, "lots.toml");
    EXPECT_TRUE(document.has_value());
    return document ? read_lots(*document) : tl::make_unexpected(document.error());
}

TEST(LotFile, ReadsWhatALotStates) {
    const auto out = lots(R"([[lot]]
material = "calcium chloride dihydrate"
number = "C26-0311"
state = "on hold"
stock = "900 kg"
assay = { value = "98.7 %", u = "0.2 %" }
impurities = [ { of = "Sr", value = "1100 mg/kg", u = "60 mg/kg" } ]
[[lot]]
material = "calcium chloride dihydrate"
number = "C26-0312"
price = "0.6 EUR/kg"
)");
    ASSERT_TRUE(out.has_value()) << out.error().text();
    ASSERT_EQ(out->size(), 2U);
    const PlacedLot& lot = out->at(0);
    EXPECT_EQ(lot.differs.name, "calcium chloride dihydrate");
    EXPECT_EQ(lot.differs.lot, "C26-0311");
    EXPECT_EQ(lot.state, "on hold");
    EXPECT_DOUBLE_EQ(lot.differs.stock_kg.value(), 900);
    EXPECT_DOUBLE_EQ(lot.differs.assay->share.value, 0.987);
    EXPECT_FALSE(lot.differs.assay->basis.has_value()) << "left to the catalogue";
    EXPECT_EQ(lot.place.line, 5);
    EXPECT_EQ(out->at(1).state, "accepted") << "unless said";
}

TEST(LotFile, StatesAndNumbersAreChecked) {
    const std::string lot = "[[lot]]\nmaterial = \"salt\"\nnumber = \"1\"\n";
    EXPECT_THAT(lots(lot + "state = \"released\"\n").error().message, HasSubstr("accepted"));
    EXPECT_EQ(lots(lot + lot).error().code, ProblemCode::DuplicateName);
    EXPECT_EQ(lots(lot + "formula = \"NaCl\"\n").error().place.line, 6);
    EXPECT_FALSE(lots("[[lot]]\nmaterial = \"salt\"\n").has_value());
    EXPECT_FALSE(lots("[[lot]]\nnumber = \"1\"\n").has_value());
    EXPECT_THAT(lots("").error().message, HasSubstr("no lot"));
    for (const char* state : {"received", "on hold", "accepted", "refused", "used up"}) {
        EXPECT_TRUE(lots(lot + "state = \"" + state + "\"\n").has_value()) << state;
    }
}

// Two suppliers may both call a lot 1: a lot is named by its material and its number.
TEST(LotFile, TheSameNumberOfAnotherMaterialIsAnotherLot) {
    const auto out = lots(
        "[[lot]]\nmaterial = \"salt\"\nnumber = \"1\"\n"
        "[[lot]]\nmaterial = \"soda\"\nnumber = \"1\"\n");
    EXPECT_TRUE(out.has_value()) << out.error().text();
}

}  // namespace
