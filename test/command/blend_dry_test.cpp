// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// blend dry: verdicts, fields and exit codes that scripts rely on, and complaints in one line.
#include "command/blend_case.hpp"

namespace {

using namespace bw::command_test;

struct Salt {
    std::string name, formula;
    double dose;
};

/// A recipe of pure salts.
class Blend {
public:
    explicit Blend(const std::vector<Salt>& salts) {
        std::string materials, recipe;
        for (const Salt& s : salts) {
            materials += material_of(s.name, s.formula);
            recipe += part_of(s.name, std::to_string(s.dose));
        }
        case_.write(materials, recipe);
    }
    [[nodiscard]] Outcome run(const Words& more = {}) const { return case_.run("dry", more); }
    [[nodiscard]] Json json(int code, const Words& more = {}) const {
        return case_.json("dry", code, more);
    }

private:
    BlendCase case_;
};

Blend damp() {
    return Blend({{"salt", "NaCl", 24},
                  {"bitter", "MgSO4.7H2O", 7},
                  {"magnesium", "MgCl2.6H2O", 5},
                  {"calcium", "CaCl2.2H2O", 1.5},
                  {"soda", "NaHCO3", 0.2}});
}

// Heptahydrate beside magnesium chloride: the pair wets itself.
TEST(BlendDry, HeptahydrateWetsMagnesiumChloride) {
    const Json got = damp().json(1);
    EXPECT_EQ(got["verdict"], "gets wet");
    EXPECT_FALSE(got["stays_dry"].get<bool>());
    EXPECT_GT(got["water"]["released_g_per_kg_blend"].get<double>(), 10);
    bool wets = false;
    for (const Json& w : got["wettings"]) {
        wets = wets || (w["giver"] == "MgSO4.7H2O" && w["taker"] == "MgCl2.6H2O");
    }
    EXPECT_TRUE(wets) << got["wettings"].dump();
    EXPECT_EQ(got["humidity"]["lowest"]["mark"], "computed");
}

// Without chlorides of magnesium and calcium the heptahydrate keeps its water.
TEST(BlendDry, HeptahydrateWithSodiumChlorideStaysDry) {
    const Json got = Blend({{"salt", "NaCl", 24}, {"bitter", "MgSO4.7H2O", 7}}).json(0);
    EXPECT_EQ(got["verdict"], "stays dry");
    // As they lie; at rest a double salt comes out and the film goes lower.
    const Json& pair = got["humidity"]["pairs"][0];
    EXPECT_NEAR(pair["humidity"]["low_percent"].get<double>(), 69.2, 0.1);
    EXPECT_EQ(pair["humidity"]["mark"], "model");
    EXPECT_LT(got["humidity"]["lowest"]["low_percent"].get<double>(), 69.2);
    EXPECT_GT(got["humidity"]["lowest"]["low_percent"].get<double>(), 52.5) << "keeps its water";
    EXPECT_TRUE(got["wettings"].empty());
    EXPECT_TRUE(got["reactions"]["losses"].empty());
}

// 0.2 g of NaHCO3 in 37.7 g of blend, 20 kg of it: 1.263 mol; a tenth gives half of 0.1263 mol.
TEST(BlendDry, SeedsFollowTheLoss) {
    const Json got = damp().json(1);
    const Json& reactions = got["reactions"];
    EXPECT_NEAR(reactions["hydrogencarbonate_mol"].get<double>(), 1.263, 0.001);
    EXPECT_NEAR(reactions["finished_water_kg"].get<double>(), 20 * (1 + 1000 / 37.7), 0.01);
    const Json& last = reactions["losses"].back();
    EXPECT_NEAR(last["loss_percent"].get<double>(), 10, 1e-9);
    EXPECT_NEAR(last["calcium_carbonate_g"].get<double>(), 6.32, 0.01);
    EXPECT_NEAR(last["co2_L"].get<double>(), 1.545, 0.005);
    EXPECT_NEAR(last["seed_mg_per_kg_water"].get<double>(), 6320 / 550.5, 0.02);
}

// 0.5 g/m2/day through 0.6 m2 in a year is 109.5 g: 5.475 g per kg in 20 kg.
TEST(BlendDry, VapourThroughTheFilmIsCounted) {
    const Blend plain({{"salt", "NaCl", 24}, {"potash", "KCl", 1}});
    const Words film{"--wvtr", "0.5 g/m2/day", "--area", "0.6 m2", "--days", "365"};
    const Json got = plain.json(1, film);
    EXPECT_NEAR(got["water"]["ingress_g_per_kg_blend"].get<double>(), 5.475, 1e-9);
    EXPECT_EQ(plain.json(0)["verdict"], "stays dry");
}

// Anhydrous calcium chloride binds what enters: 0.1 mol per kg takes 3.6 g.
TEST(BlendDry, DrySaltsBindWater) {
    const Blend bound({{"salt", "NaCl", 988.902}, {"calcium", "CaCl2", 11.098}});
    const Json got = bound.json(0, {"--wvtr", "0.1 g/m2/day", "--area", "1 m2", "--days", "365"});
    EXPECT_NEAR(got["water"]["capacity_g_per_kg_blend"].get<double>(), 3.603, 0.002);
    EXPECT_LT(got["water"]["left_g_per_kg_blend"].get<double>(), 0);
    EXPECT_EQ(got["verdict"], "stays dry");
}

TEST(BlendDry, ADampRoomIsSaidToBeSo) {
    const Blend plain({{"salt", "NaCl", 24}, {"potash", "KCl", 1}});
    EXPECT_THAT(plain.run({"--humidity", "60 %"}).out, testing::HasSubstr("stays dry"));
    const Outcome damp_room = plain.run({"--humidity", "80 %"});
    EXPECT_EQ(damp_room.code, 0);
    EXPECT_THAT(damp_room.out, testing::HasSubstr("80 % humidity is too wet"));
}

TEST(BlendDry, TextSaysTheVerdictFirstAndQuietSaysNothing) {
    const Blend blend = damp();
    EXPECT_THAT(blend.run().out, testing::StartsWith("Trial: gets wet\n"));
    const Outcome quiet = blend.run({"--quiet"});
    EXPECT_EQ(quiet.code, 1);
    EXPECT_EQ(quiet.out, "");
}

TEST(BlendDry, BadInputIsRefusedInOneLine) {
    const Blend blend = damp();
    const auto refused = [&](const Words& more, const std::string& place, const std::string& says) {
        SCOPED_TRACE(place);
        expect_complaint(blend.run(more), 2, place, {says});
    };
    refused({"--temperature", "60 degC"}, "--temperature", "5 to 40 degC");
    refused({"--temperature", "25"}, "--temperature", "");
    refused({"--humidity", "120 %"}, "--humidity", "from 0 to 100");
    refused({"--humidity", "45"}, "--humidity", "45 %");
    refused({"--bag", "0 kg"}, "--bag", "above 0");
    refused({"--bag", "20 L"}, "--bag", "");
    refused({"--days", "-1"}, "--days", "from 0");
    refused({"--wvtr", "0.5", "--area", "1 m2"}, "--wvtr", "g/m2/day");
    refused({"--wvtr", "0.5 g/m2/day"}, "--wvtr", "--area");
    refused({"--wvtr", "1 g/m2/day", "--area", "-2 m2"}, "--area", "from 0");
    refused({"--wvtr", "1 g/m2/day", "--area", "wide m2"}, "--area", "");
}

TEST(BlendDry, ARecipeNeedsItsMaterials) {
    const TestFolder folder;
    const std::string recipe = folder.write("recipe.toml", kRecipe);
    expect_complaint(run_here({"blend", "dry", recipe}), 2, recipe, {"add the file of materials"});
    const std::string materials =
        folder.write("materials.toml", instead(kMaterials, "table", "rock"));
    expect_complaint(run_here({"blend", "dry", recipe, "--materials", materials}), 2, recipe,
                     {"not among the materials"});
    const std::string nothing =
        folder.write("nothing.toml", instead(kRecipe, "water = 30", "water = 0"));
    const std::string good = folder.write("good.toml", kMaterials);
    expect_complaint(run_here({"blend", "dry", nothing, "--materials", good}), 2, nothing,
                     {"weighs nothing"});
}

}  // namespace
