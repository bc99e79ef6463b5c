// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// curve read, chart trend and sample homogeneity: answers, exit codes, files and problems.
#include <cmath>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <nlohmann/json.hpp>

#include "command/command_run.hpp"

namespace {

using namespace bw::command_test;
using nlohmann::json;
using testing::HasSubstr;

std::string laboratory(std::string_view name) {
    return std::string(BW_SOURCE_DIR) + "/examples/laboratory/" + std::string(name);
}

json parsed(const std::vector<std::string>& arguments, int code = 0) {
    auto typed = arguments;
    typed.emplace_back("--json");
    const Outcome got = run_here(typed);
    EXPECT_EQ(got.code, code) << got.err;
    EXPECT_EQ(got.err, "");
    const json out = json::parse(got.out, nullptr, false);
    EXPECT_FALSE(out.is_discarded()) << got.out;
    return out;
}

// The example was made from 2487.0 umol/kg with 0.03 mV of scatter.
TEST(CurveRead, AlkalinityWithGransLinesBesideIt) {
    const json r = parsed({"curve", "read", laboratory("alkalinity.csv")});
    EXPECT_EQ(r["version"], 1);
    EXPECT_EQ(r["method"], "alkalinity");
    EXPECT_NEAR(r["alkalinity_umol_per_kg"].get<double>(), 2487.0, 1.5);
    EXPECT_NEAR(r["modified_gran_umol_per_kg"].get<double>(),
                r["alkalinity_umol_per_kg"].get<double>(), 1);
    EXPECT_NEAR(r["gran_umol_per_kg"].get<double>() - r["alkalinity_umol_per_kg"].get<double>(),
                3.3, 1);
    EXPECT_NEAR(r["standard_potential_mV"].get<double>(), 396.2, 0.1);
    EXPECT_NEAR(r["alkalinity_dKH"].get<double>(),
                r["alkalinity_meq_per_L"].get<double>() / 0.35665, 0.001);
    double shares = 0;
    for (const json& part : r["budget"]) {
        shares += part["share_percent"].get<double>();
    }
    EXPECT_NEAR(shares, 100, 1e-6);
    EXPECT_EQ(r["residuals"].size(), 19U);
    const Outcome text = run_here({"curve", "read", laboratory("alkalinity.csv")});
    EXPECT_THAT(text.out, HasSubstr("(invented example)"));
    EXPECT_THAT(text.out, HasSubstr("Gran's line, modified"));
    EXPECT_THAT(text.out, HasSubstr("Where the uncertainty comes from"));
}

TEST(CurveRead, PointsComeWithTheirResiduals) {
    const json acid = parsed({"curve", "read", laboratory("alkalinity.csv")});
    EXPECT_EQ(acid["titrant_unit"], "mL");
    EXPECT_EQ(acid["signal_unit"], "mV");
    EXPECT_EQ(acid["residual_unit"], "umol/kg");
    ASSERT_EQ(acid["points"].size(), 20U);
    EXPECT_TRUE(acid["points"][0]["residual"].is_null());
    for (std::size_t i = 1; i < 20; ++i) {
        EXPECT_EQ(acid["points"][i]["residual"], acid["residuals"][i - 1]["residual_umol_per_kg"]);
    }
    EXPECT_NEAR(acid["points"][19]["titrant"].get<double>(), 5.05, 1e-12);
    EXPECT_NEAR(acid["points"][19]["signal"].get<double>(), 216.56, 1e-12);
    const json ca = parsed({"curve", "read", laboratory("calcium.toml")});
    EXPECT_EQ(ca["residual_unit"], "mV");
    json used = json::array();
    for (const json& p : ca["points"]) {
        if (!p["residual"].is_null()) {
            used.push_back(p["residual"]);
        }
    }
    EXPECT_EQ(used, ca["end_points"][0]["residuals"]);
}

// Made from 10.31 mmol/kg of calcium, 546.1 of chloride.
TEST(CurveRead, EndPointsOfCalciumAndChloride) {
    const json ca = parsed({"curve", "read", laboratory("calcium.toml")});
    EXPECT_EQ(ca["titrated"], "calcium");
    EXPECT_NEAR(ca["mmol_per_kg"].get<double>(), 10.31, 0.03);
    EXPECT_NEAR(ca["end_points"][0]["volume_mL"].get<double>(), 10.3715, 0.002);
    const json cl = parsed({"curve", "read", laboratory("chloride.csv")});
    EXPECT_NEAR(cl["mmol_per_kg"].get<double>(), 546.1, 1);
    EXPECT_NEAR(cl["expanded_uncertainty_mmol_per_kg"].get<double>(), 0.81, 0.05);
}

std::string with(std::string text, std::string_view from, std::string_view to) {
    const std::size_t at = text.find(from);
    EXPECT_NE(at, std::string::npos) << from;
    return text.replace(at, from.size(), to);
}

TEST(CurveRead, AScatteredCurveFailsItsTest) {
    const TestFolder folder;
    const std::string bad =
        with(read_bytes(laboratory("alkalinity.csv")), "\n4.50,203.77", "\n4.50,203.07");
    const Outcome got = run_here({"curve", "read", folder.write("bad.csv", bad)});
    EXPECT_EQ(got.code, 1);
    EXPECT_THAT(got.out, HasSubstr("The curve does not pass"));
    EXPECT_THAT(got.out, HasSubstr("times the rms off the fit"));
    const std::string lax = with(bad, "# salinity", "# most_rms = \"20 umol/kg\"\n# salinity");
    EXPECT_EQ(run_here({"curve", "read", folder.write("lax.csv", lax)}).code, 0);
}

TEST(CurveRead, TotalsOfNaturalSeawaterAreSaidAndTheRecipesAreUsed) {
    const TestFolder folder;
    std::string natural =
        with(read_bytes(laboratory("alkalinity.csv")),
             "# sulfate = { value = \"27.84 mmol/kg\", u = \"0.3 mmol/kg\" }\n", "");
    natural = with(natural, "# fluoride = \"0.069 mmol/kg\"\n", "");
    const std::string file = folder.write("natural.csv", natural);
    const json r = parsed({"curve", "read", file});
    EXPECT_NEAR(r["sulfate_mmol_per_kg"].get<double>(), 28.24, 0.01);
    EXPECT_THAT(r["notices"].dump(), HasSubstr("natural seawater"));
    const std::string recipe = folder.path("recipe.toml");
    ASSERT_EQ(run_here(solve_example("natural.toml", {"--out", recipe, "--quiet"})).code, 0);
    const json by_recipe = parsed(
        {"curve", "read", file, "--recipe", recipe, "--materials", example("materials.toml")});
    EXPECT_GT(by_recipe["sulfate_mmol_per_kg"].get<double>(), 20);
    EXPECT_NE(by_recipe["sulfate_mmol_per_kg"], r["sulfate_mmol_per_kg"]);
    EXPECT_EQ(run_here({"curve", "read", file, "--materials", example("materials.toml")}).code, 2);
}

TEST(CurveRead, BadFilesAreRefusedWithTheirPlace) {
    const TestFolder folder;
    const std::string good = read_bytes(laboratory("alkalinity.csv"));
    struct Bad {
        std::string text, says;
    };
    int number = 0;
    for (const Bad& b :
         {Bad{with(good, "4.20,", "4.10,"), ":17: titrant 4.1 mL is not above that"},
          Bad{with(good, "4.20,", "4.2x,"), ":17"},
          Bad{with(good, "4.20,", "4,20,"), "the row has 3 cells"},
          Bad{with(good, "# salinity = 35.0\n", ""), "temperature and salinity"},
          Bad{with(good, "# titrant_density = \"1.0237 kg/L\"\n", ""),
              "titrant_density is missing"},
          Bad{with(good, "\"150.38 g\"", "150.38"), "has no unit"},
          Bad{with(good, "\"alkalinity\"", "\"alkalinty\""), "alkalinity or end-point"},
          Bad{with(good, "# burette_u", "# buret_u"), "did you mean burette_u?"},
          Bad{good.substr(0, good.find("4.10,")), "no rows"},
          Bad{"acid mL,potential mV\n1,2\n", "format"},
          Bad{with(good, "# kind = \"titration\"", "# kind = \"water\""), "titration"}}) {
        SCOPED_TRACE(b.says);
        const Outcome got =
            run_here({"curve", "read", folder.write(fmt::format("bad{}.csv", ++number), b.text)});
        EXPECT_EQ(got.code, 2);
        EXPECT_THAT(got.err, HasSubstr(b.says));
        EXPECT_EQ(std::count(got.err.begin(), got.err.end(), '\n'), 1) << got.err;
    }
    const Outcome none = run_here({"curve", "read", folder.path("none.csv")});
    EXPECT_EQ(none.code, 2);
    EXPECT_THAT(none.err, HasSubstr("no such file"));
    const std::string flat =
        with(read_bytes(laboratory("calcium.toml")), "points = [", "points = [[-1.0, 5.0], \"x\",");
    EXPECT_THAT(run_here({"curve", "read", folder.write("flat.toml", flat)}).err,
                HasSubstr("a pair of numbers"));
}

TEST(CurveRead, WritesPointsAndAPicture) {
    const TestFolder folder;
    const std::string csv = folder.path("curve.csv");
    const std::string svg = folder.path("curve.svg");
    const std::string file = laboratory("chloride.csv");
    const Outcome got = run_here({"curve", "read", file, "--csv", csv, "--svg", svg, "--quiet"});
    EXPECT_EQ(got.code, 0) << got.err;
    EXPECT_EQ(got.out, "");
    EXPECT_THAT(read_bytes(csv), HasSubstr("titrant mL,signal mV,residual mV"));
    const std::string picture = read_bytes(svg);
    EXPECT_THAT(picture, HasSubstr("<svg"));
    EXPECT_THAT(picture, HasSubstr("</svg>"));
    EXPECT_THAT(picture, HasSubstr("(invented example)"));
    EXPECT_EQ(picture.find("nan"), std::string::npos);
    EXPECT_EQ(run_here({"curve", "read", file, "--csv", csv, "--svg", csv}).code, 2);
    const std::string copy = folder.write("own.csv", read_bytes(file));
    const Outcome over = run_here({"curve", "read", copy, "--csv", copy});
    EXPECT_EQ(over.code, 2);
    EXPECT_THAT(over.err, HasSubstr("would overwrite"));
    EXPECT_EQ(read_bytes(copy), read_bytes(file));
}

// The example's level rises by one per cent from batch 23 on.
TEST(ChartTrend, SeesTheShiftOfTheExample) {
    const json r =
        parsed({"chart", "trend", laboratory("calcium_batches.csv"), "--phase-1", "20"}, 1);
    EXPECT_EQ(r["version"], 1);
    EXPECT_EQ(r["limits_from"], "the first 20 points, frozen");
    EXPECT_TRUE(r["signals"].get<bool>());
    EXPECT_NEAR(r["false_alarm_points"].get<double>(), 150, 15);
    for (std::size_t i = 0; i < 22; ++i) {
        EXPECT_TRUE(r["points"][i]["marked"].empty()) << i;
    }
    EXPECT_FALSE(r["points"][22]["marked"].empty());
    EXPECT_TRUE(r["capability_within"].is_null());
    EXPECT_THAT(r["no_capability"].get<std::string>(), HasSubstr("a lower and an upper limit"));
}

std::string steady(int count) {
    std::string out = "batch,value\n";
    for (int i = 0; i < count; ++i) {
        out += fmt::format("b{},{}\n", i, 10 + 0.1 * ((i * 7) % 5 - 2));
    }
    return out;
}

TEST(ChartTrend, CapabilityNeedsTwentySteadyValues) {
    const TestFolder folder;
    const std::string few = folder.write("few.csv", steady(19));
    const std::string many = folder.write("many.csv", steady(30));
    EXPECT_THAT(parsed({"chart", "trend", few, "--limits", "9,11"})["no_capability"].dump(),
                HasSubstr("too few"));
    const json r = parsed({"chart", "trend", many, "--limits", "9,11"});
    EXPECT_GT(r["capability_overall"]["cpk"].get<double>(), 2);
    EXPECT_LT(r["capability_overall"]["cpk_low"], r["capability_overall"]["cpk"]);
    EXPECT_EQ(r["capability_overall"]["count"], 30);
    EXPECT_THAT(parsed({"chart", "trend", many, "--limits", "9,11", "--frozen", "12,0.1"},
                       1)["no_capability"]
                    .dump(),
                HasSubstr("signals"));
}

TEST(ChartTrend, RulesAreSwitchedOnKnowingly) {
    const std::string file = laboratory("calcium_batches.csv");
    const json plain = parsed({"chart", "trend", file, "--no-ewma", "--phase-1", "20"}, 1);
    EXPECT_NEAR(plain["false_alarm_points"].get<double>(), 370, 40);
    const json all = parsed({"chart", "trend", file, "--no-ewma", "--phase-1", "20", "--rules",
                             "two-of-three,four-of-five,eight", "--cusum"},
                            1);
    EXPECT_LT(all["false_alarm_points"].get<double>(), 100);
    EXPECT_TRUE(all["points"][27].contains("sum_up"));
    EXPECT_FALSE(all["points"][27].contains("weighted_mean"));
    const Outcome wrong = run_here({"chart", "trend", file, "--rules", "nine"});
    EXPECT_EQ(wrong.code, 2);
    EXPECT_THAT(wrong.err, HasSubstr("two-of-three, four-of-five and eight"));
    EXPECT_EQ(run_here({"chart", "trend", file, "--ewma", "0.2,3", "--no-ewma"}).code, 2);
    EXPECT_EQ(run_here({"chart", "trend", file, "--frozen", "1,0"}).code, 2);
    EXPECT_EQ(run_here({"chart", "trend", file, "--phase-1", "99"}).code, 2);
}

// Montgomery and Runger, concentrations of twenty batches: 99.1, 105.99 and 92.21, see
// test/unit/trend_chart_test.cpp.
TEST(ChartTrend, ReadsTomlAndGroups) {
    const TestFolder folder;
    const std::string head = "format = \"brinewright/1\"\nkind = \"readings\"\nname = \"c\"\n";
    const std::string file = folder.write(
        "c.toml", head +
                      "values = [102.0, 94.8, 98.3, 98.4, 102.0, 98.5, 99.0, 97.7, 100.0, 98.1, "
                      "101.3, 98.7, 101.1, 98.4, 97.0, 96.7, 100.3, 101.4, 97.2, 101.0]\n");
    const json r = parsed({"chart", "trend", file});
    EXPECT_NEAR(r["limits"]["high"].get<double>(), 105.99, 0.02);
    EXPECT_NEAR(r["limits"]["low"].get<double>(), 92.21, 0.02);
    const std::string groups = folder.write(
        "g.csv", "group,value\na,33\na,29\na,31\nb,33\nb,31\nb,35\nc,35\nc,37\nc,33\n");
    const json g = parsed({"chart", "trend", groups});
    EXPECT_EQ(g["kind"], "groups");
    EXPECT_EQ(g["points"].size(), 3U);
    EXPECT_NEAR(g["limits"]["centre"].get<double>(), 33, 1e-12);
    EXPECT_NEAR(g["limits"]["high"].get<double>(), 33 + 1.023 * 4, 0.01);
    const Outcome uneven =
        run_here({"chart", "trend", folder.write("u.csv", "group,value\na,1\na,2\nb,3\n")});
    EXPECT_EQ(uneven.code, 2);
    EXPECT_THAT(uneven.err, HasSubstr("of as many values"));
    const Outcome two = run_here({"chart", "trend", folder.write("t.csv", "a,b\n1,2\n3,4\n")});
    EXPECT_EQ(two.code, 2);
    EXPECT_THAT(two.err, HasSubstr("name one column"));
    EXPECT_EQ(run_here({"chart", "trend", folder.write("s.csv", steady(5))}).code, 2);
}

TEST(ChartTrend, WarnsOfNeighboursThatAreAlike) {
    const TestFolder folder;
    std::string slow = "value\n";
    for (int i = 0; i < 40; ++i) {
        slow += fmt::format("{}\n", 10 + std::sin(i / 5.0) + 0.01 * ((i * 7) % 5));
    }
    const json r = parsed({"chart", "trend", folder.write("slow.csv", slow)}, 1);
    EXPECT_TRUE(r["autocorrelated"].get<bool>());
    EXPECT_THAT(r["notices"].dump(), HasSubstr("alike"));
    const std::string svg = folder.path("slow.svg");
    const std::string csv = folder.path("points.csv");
    const Outcome written = run_here(
        {"chart", "trend", folder.path("slow.csv"), "--svg", svg, "--csv", csv, "--quiet"});
    EXPECT_EQ(written.code, 1);
    EXPECT_THAT(read_bytes(svg), HasSubstr("</svg>"));
    EXPECT_THAT(read_bytes(csv), HasSubstr("point,value,low,high"));
}

TEST(SampleHomogeneity, OfTheExample) {
    const json r = parsed({"sample", "homogeneity", laboratory("calcium_packs.csv")});
    EXPECT_EQ(r["verdict"], "homogeneous");
    EXPECT_EQ(r["units"], 10);
    EXPECT_NEAR(r["tolerance_factor"].get<double>(), 3.393, 0.001);
    const json strict =
        parsed({"sample", "homogeneity", laboratory("calcium_packs.csv"), "--goal", "0.2 %"}, 1);
    EXPECT_NE(strict["verdict"], "homogeneous");
    EXPECT_EQ(
        run_here({"sample", "homogeneity", laboratory("calcium_packs.csv"), "--goal", "2"}).code,
        2);
}

// Soya flour of the harmonized protocol: differs, and is sufficiently alike for its sigma of 1.14,
// 11.4 % of the mean, see harmonized_soya in test/check/laboratory.toml.
TEST(SampleHomogeneity, SignificantIsNotUnfit) {
    const TestFolder folder;
    const std::vector<double> a{10.5, 9.6, 10.4, 9.5, 10, 9.6, 9.8, 9.8, 10.8, 10.2, 9.8, 10.2};
    const std::vector<double> b{10.4, 9.5, 9.9, 9.9, 9.7, 10.1, 10.4, 10.2, 10.7, 10, 9.5, 10};
    std::string text = "first,second\n";
    for (std::size_t i = 0; i < a.size(); ++i) {
        text += fmt::format("{},{}\n", a[i], b[i]);
    }
    const std::string file = folder.write("soya.csv", text);
    const json r = parsed({"sample", "homogeneity", file, "--goal", "22.7 %"});
    EXPECT_TRUE(r["significant"].get<bool>());
    EXPECT_TRUE(r["sufficient"].get<bool>());
    EXPECT_NEAR(r["f"].get<double>(), 3.777, 0.01);
    EXPECT_NEAR(r["between_variance"].get<double>(), 0.085038, 0.0002);
    EXPECT_NEAR(r["largest_variance"].get<double>(), 0.2618, 0.003);
    EXPECT_THAT(r["notices"].dump(), HasSubstr("significant is not the same as unfit"));
    EXPECT_EQ(parsed({"sample", "homogeneity", file, "--goal", "5 %"}, 1)["verdict"],
              "not homogeneous");
    const std::string csv = folder.path("means.csv");
    EXPECT_EQ(
        run_here({"sample", "homogeneity", file, "--goal", "22.7 %", "--csv", csv, "--quiet"}).code,
        0);
    EXPECT_THAT(read_bytes(csv), HasSubstr("unit,mean"));
    EXPECT_EQ(
        run_here({"sample", "homogeneity", folder.write("one.csv", "unit,x\na,1\nb,2\n")}).code, 2);
}

// The same flour against floors by hand: 0.085038 between; 0.020 x 10.03 squared is 0.0402.
TEST(SampleHomogeneity, ReadsDifferencesAgainstTheChanceOfGrains) {
    const TestFolder folder;
    const std::vector<double> a{10.5, 9.6, 10.4, 9.5, 10, 9.6, 9.8, 9.8, 10.8, 10.2, 9.8, 10.2};
    const std::vector<double> b{10.4, 9.5, 9.9, 9.9, 9.7, 10.1, 10.4, 10.2, 10.7, 10, 9.5, 10};
    std::string text = "first,second\n";
    for (std::size_t i = 0; i < a.size(); ++i) {
        text += fmt::format("{},{}\n", a[i], b[i]);
    }
    const std::string file = folder.write("soya.csv", text);
    const auto with = [&](const char* floor) {
        return parsed({"sample", "homogeneity", file, "--goal", "22.7 %", "--by-chance", floor});
    };
    const json r = with("2 %");
    const double floor = 0.02 * r["mean"].get<double>();
    EXPECT_NEAR(r["chance_sd"].get<double>(), floor, 1e-9);
    EXPECT_NEAR(r["mixing_sd"].get<double>(), std::sqrt(0.085038 - floor * floor), 0.0005);
    EXPECT_THAT(r["notices"].dump(), Not(HasSubstr("chance")));
    EXPECT_EQ(with("3.5 %")["mixing_sd"], 0);
    EXPECT_THAT(with("3.5 %")["notices"].dump(), HasSubstr("no more than the chance"));
    EXPECT_THAT(with("6 %")["notices"].dump(), HasSubstr("less than grains alone should give"));
    EXPECT_THAT(parsed({"sample", "homogeneity", file, "--goal", "5 %", "--by-chance", "2.8 %"},
                       1)["notices"]
                    .dump(),
                HasSubstr("no mixing meets it"));
    EXPECT_TRUE(parsed({"sample", "homogeneity", file, "--goal", "22.7 %"})["chance_sd"].is_null());
    EXPECT_EQ(run_here({"sample", "homogeneity", file, "--by-chance", "2"}).code, 2);
}

// A method that scatters by two per cent cannot show two per cent.
TEST(SampleHomogeneity, APoorMethodTellsNothing) {
    const TestFolder folder;
    const std::string file = folder.write(
        "poor.csv", "unit,a,b\n1,98,102\n2,102,98\n3,98.1,102.1\n4,101.9,98\n5,98,102\n6,102,98\n");
    EXPECT_EQ(parsed({"sample", "homogeneity", file}, 1)["verdict"], "cannot tell");
}

}  // namespace
