// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/recipe_file.hpp"

#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace {

using namespace bw::io;
using bw::ProblemCode;
using testing::HasSubstr;

bw::Result<RecipeFile> read(std::string_view text) {
    auto document = parse_document(text, "recipe.toml");
    EXPECT_TRUE(document.has_value()) << (document ? "" : document.error().text());
    return document ? read_recipe(*document) : tl::make_unexpected(document.error());
}

bw::Problem refused(const std::string& body) {
    const auto out = read("format = \"brinewright/1\"\nkind = \"recipe\"\n" + body);
    EXPECT_FALSE(out.has_value()) << body;
    return out ? bw::Problem{} : out.error();
}

RecipeFile sample() {
    RecipeFile out;
    out.name = "Raised \"reef\" salt \\ \u00B5";
    out.target = "Tief\u00ADsee\ttarget\nof two lines";
    out.program = "0.1.0";
    out.data_digest = "0123456789abcdef";
    out.temperature_degC = 24.900000000000002;
    out.dissolved_g_per_kg = 35.16504;
    out.invented = true;
    out.parts = {{"sodium chloride", "", 1.0 / 3, 65.297, {}},
                 {"sodium chloride", "N1", 0.1 + 0.2, 1e-7, {}},
                 {"'potassium' = iodide #1", "\x01\x7f", 5.5e-9, 0, {}},
                 {"calcium chloride dihydrate", "C26-0311", 999.9999999999999, 3.61, {}}};
    out.purified_water[bw::matter::constituent("Si")] = 1e-6 / 3;
    out.purified_water[bw::matter::constituent("alkalinity")] = -1e-7;
    return out;
}

TEST(RecipeFile, GoesThereAndBackExactly) {
    const RecipeFile before = sample();
    const auto after = read(recipe_toml(before));
    ASSERT_TRUE(after.has_value()) << after.error().text();
    EXPECT_EQ(after->name, before.name);
    EXPECT_EQ(after->target, before.target);
    EXPECT_EQ(after->program, before.program);
    EXPECT_EQ(after->data_digest, before.data_digest);
    EXPECT_EQ(after->temperature_degC, before.temperature_degC);  // to the bit
    EXPECT_EQ(after->dissolved_g_per_kg, before.dissolved_g_per_kg);
    EXPECT_EQ(after->invented, before.invented);
    ASSERT_EQ(after->parts.size(), before.parts.size());
    for (std::size_t i = 0; i < before.parts.size(); ++i) {
        EXPECT_EQ(after->parts[i].material, before.parts[i].material);
        EXPECT_EQ(after->parts[i].lot, before.parts[i].lot);
        EXPECT_EQ(after->parts[i].g_per_kg_purified_water, before.parts[i].g_per_kg_purified_water);
        EXPECT_EQ(after->parts[i].share_percent, before.parts[i].share_percent);
        EXPECT_GT(after->parts[i].place.line, 0);
    }
    for (std::size_t i = 0; i < bw::matter::constituent_count(); ++i) {
        const bw::matter::Constituent c(i);
        EXPECT_EQ(after->purified_water[c], before.purified_water[c]) << c.symbol();
    }
    EXPECT_EQ(recipe_toml(*after), recipe_toml(before));
}

TEST(RecipeFile, WhatIsNotSaidHasItsDefault) {
    const auto out = read(
        "format = 'brinewright/1'\nkind = 'recipe'\nname = 'r'\n"
        "[[part]]\nmaterial = 'salt'\ng_per_kg_purified_water = 27\n");
    ASSERT_TRUE(out.has_value()) << out.error().text();
    EXPECT_DOUBLE_EQ(out->temperature_degC, 25);
    EXPECT_FALSE(out->invented);
    EXPECT_TRUE(out->parts[0].lot.empty());
    EXPECT_EQ(out->parts[0].place.line, 5);
}

TEST(RecipeFile, RefusesWhatIsWrongWithItsPlace) {
    EXPECT_THAT(refused("[[part]]\nmaterial = 'salt'\n").message, HasSubstr("name is missing"));
    EXPECT_THAT(refused("name = 'r'\n").message, HasSubstr("no part"));
    const std::string part = "name = 'r'\n[[part]]\nmaterial = 'salt'\n";
    EXPECT_EQ(refused(part + "g_per_kg_purified_water = -1\n").code, ProblemCode::OutOfRange);
    EXPECT_EQ(refused(part + "g_per_kg_purified_water = 1001\n").place.line, 6);
    EXPECT_EQ(refused(part).code, ProblemCode::OutOfRange);  // the amount is missing
    const std::string whole = part + "g_per_kg_purified_water = 1\n";
    const bw::Problem twice =
        refused(whole + "[[part]]\nmaterial = 'salt'\ng_per_kg_purified_water = 2\n");
    EXPECT_EQ(twice.code, ProblemCode::DuplicateName);
    EXPECT_EQ(twice.place.line, 8);
    EXPECT_EQ(twice.place.file, "recipe.toml");
    EXPECT_THAT(refused(whole + "shared_percent = 3\n").message, HasSubstr("share_percent"));
    EXPECT_THAT(refused(whole + "[purified_water]\nSi = '1 EUR'\n").place.field, HasSubstr("Si"));
    EXPECT_EQ(refused(whole + "[purified_water]\nSi = '-1 mg/L'\n").code, ProblemCode::OutOfRange);
    EXPECT_EQ(read("format = 'brinewright/1'\nkind = 'target'\n").error().code,
              ProblemCode::WrongKind);
    EXPECT_EQ(read("format = 'brinewright/2'\nkind = 'recipe'\n").error().code,
              ProblemCode::WrongKind);
    EXPECT_EQ(read("name = 'x'\n").error().code, ProblemCode::WrongKind);
}

}  // namespace
