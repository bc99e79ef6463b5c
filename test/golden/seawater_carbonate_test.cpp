// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Constants and states of the carbon dioxide system against an independent implementation
// (test/golden/seawater_carbonate.json, made by tools/reference/seawater_carbonate.py).
//
// Constants 1e-9 relative: the same formulas, so only round-off and powers may differ. States 1e-6
// in pH and 1e-6 relative otherwise: the other implementation ends its search at steps of 1e-8 in
// pH. pH(NBS) rests on the same fit. Revelle factors 1e-5: the other one differentiates its own
// solution.
#include <cmath>
#include <fstream>
#include <map>
#include <string>

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "brine/carbonate_system.hpp"
#include "brine/seawater_constants.hpp"

namespace {

using namespace bw::brine;
using Json = nlohmann::json;

const Json& golden() {
    static const Json parsed = [] {
        std::ifstream in(std::string(BW_SOURCE_DIR) + "/test/golden/seawater_carbonate.json");
        return Json::parse(in);
    }();
    return parsed;
}

/// A row by the names of its columns.
class Row {
public:
    Row(const Json& names, const Json& values) {
        for (std::size_t i = 0; i < names.size(); ++i) {
            cells_.emplace(names[i].get<std::string>(), &values[i]);
        }
    }
    double number(const std::string& name) const { return cells_.at(name)->get<double>(); }
    std::string word(const std::string& name) const { return cells_.at(name)->get<std::string>(); }
    SeawaterFits fits() const {
        static const std::map<std::string, CarbonicFit> kCarbonic = {
            {"lueker", CarbonicFit::Lueker2000},
            {"sulpis", CarbonicFit::Sulpis2020},
            {"waters", CarbonicFit::Waters2014}};
        return {kCarbonic.at(word("carbonic")),
                word("fluoride") == "perez_fraga" ? FluorideFit::PerezFraga1987
                                                  : FluorideFit::DicksonRiley1979,
                word("boron") == "lee" ? BoronRatio::Lee2010 : BoronRatio::Uppstrom1974};
    }
    bw::unit::PracticalSalinity salinity() const {
        return bw::unit::PracticalSalinity(number("salinity"));
    }
    bw::unit::Celsius celsius() const { return bw::unit::Celsius(number("celsius")); }

private:
    std::map<std::string, const Json*> cells_;
};

void expect_close(const std::string& name, double found, double expected, double relative) {
    EXPECT_NEAR(found, expected, relative * std::abs(expected)) << name;
}

TEST(SeawaterCarbonateGolden, ConstantsOnAGrid) {
    constexpr double kSame = 1e-9;
    ASSERT_GE(golden()["constants"].size(), 168U);
    for (const Json& values : golden()["constants"]) {
        SCOPED_TRACE(values.dump());
        const Row row(golden()["constants_columns"], values);
        const auto k = seawater_constants(row.salinity(), row.celsius(), row.fits());
        ASSERT_TRUE(k);
        const std::map<std::string, double> found = {{"k0", k->k0},
                                                     {"fugacity_factor", k->fugacity_factor},
                                                     {"k1", k->k1},
                                                     {"k2", k->k2},
                                                     {"kb", k->kb},
                                                     {"kw", k->kw},
                                                     {"ks", k->ks},
                                                     {"kf", k->kf},
                                                     {"kp1", k->kp1},
                                                     {"kp2", k->kp2},
                                                     {"kp3", k->kp3},
                                                     {"ksi", k->ksi},
                                                     {"knh4", k->knh4},
                                                     {"ksp_calcite", k->ksp_calcite},
                                                     {"ksp_aragonite", k->ksp_aragonite}};
        for (const auto& [name, value] : found) {
            expect_close(name, value, row.number(name), kSame);
        }
        const auto totals = natural_totals(row.salinity(), row.fits().boron);
        ASSERT_TRUE(totals);
        expect_close("sulfate", totals->sulfate, row.number("total_sulfate"), kSame);
        expect_close("fluoride", totals->fluoride, row.number("total_fluoride"), kSame);
        expect_close("calcium", totals->calcium, row.number("total_calcium"), kSame);
        // The other implementation rounds Uppstrom's ratio to 415.7 umol/kg at S 35.
        const bool rounded = row.word("boron") == "uppstrom";
        const double uppstrom_per_rounded = 2.32e-4 / 10.811 / 1.80655 / (415.7e-6 / 35);
        expect_close("boron", totals->boron / (rounded ? uppstrom_per_rounded : 1),
                     row.number("total_boron"), kSame);
    }
}

CarbonateQuantity kind_of(const std::string& name) {
    if (name == "inorganic_carbon") {
        return CarbonateQuantity::InorganicCarbon;
    }
    return name == "ph_total" ? CarbonateQuantity::PhTotal : CarbonateQuantity::PartialPressure;
}

TEST(SeawaterCarbonateGolden, StatesFromThreePairs) {
    constexpr double kPh = 1e-6;
    constexpr double kRelative = 1e-6;
    ASSERT_GE(golden()["states"].size(), 1890U);
    for (const Json& values : golden()["states"]) {
        SCOPED_TRACE(values.dump());
        const Row row(golden()["states_columns"], values);
        const auto k = seawater_constants(row.salinity(), row.celsius(), row.fits());
        auto totals = natural_totals(row.salinity(), row.fits().boron);
        ASSERT_TRUE(k && totals);
        totals->boron = row.number("total_boron");
        totals->phosphate = row.number("total_phosphate");
        totals->silicate = row.number("total_silicate");
        totals->ammonia = row.number("total_ammonia");
        const auto s = solve_carbonate(
            CarbonateInput{CarbonateQuantity::Alkalinity, kind_of(row.word("second_kind")),
                           row.number("first"), row.number("second"), *totals},
            *k);
        ASSERT_TRUE(s) << s.error().message;
        EXPECT_NEAR(s->ph_total, row.number("ph_total"), kPh);
        EXPECT_NEAR(s->ph_free, row.number("ph_free"), kPh);
        EXPECT_NEAR(s->ph_sws, row.number("ph_sws"), kPh);
        EXPECT_NEAR(s->ph_nbs, row.number("ph_nbs"), kPh);
        expect_close("pco2", s->pco2_uatm, row.number("pco2_uatm"), kRelative);
        expect_close("calcite", s->omega_calcite, row.number("omega_calcite"), kRelative);
        expect_close("aragonite", s->omega_aragonite, row.number("omega_aragonite"), kRelative);
        expect_close("revelle", s->revelle, row.number("revelle"), 10 * kRelative);
        expect_close("alkalinity", s->alkalinity, row.number("alkalinity"), kRelative);
        expect_close("carbon", s->inorganic_carbon, row.number("inorganic_carbon"), kRelative);
        expect_close("carbonate", s->co3, row.number("co3"), kRelative);
        expect_close("borate", s->boh4, row.number("boh4"), kRelative);
    }
}

}  // namespace
