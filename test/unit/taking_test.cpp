// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// What a mixing sheet says to who takes part of a container.
#include <gmock/gmock.h>

#include "service/blend_scatter.hpp"

namespace bw {
namespace {

using testing::HasSubstr;

io::Document document(const std::string& text) {
    return io::parse_document("format = \"brinewright/1\"\n" + text, "here").value();
}

std::vector<std::string> said(const std::string& grain, double least_g) {
    const io::Document recipe = document(
        "kind = \"recipe\"\nname = \"Trial\"\n[[part]]\nmaterial = \"salt\"\n"
        "g_per_kg_purified_water = 41.276\n[[part]]\nmaterial = \"strontium salt\"\n"
        "g_per_kg_purified_water = 0.024\n");
    const io::Document materials = document(
        "kind = \"materials\"\n[[material]]\nname = \"salt\"\nformula = \"NaCl\"\nassay = \"100 "
        "%\"\n"
        "density = \"2 g/cm3\"\ngrain = { d10 = \"0.3 mm\", d50 = \"0.3 mm\", d90 = \"0.3 mm\" }\n"
        "[[material]]\nname = \"strontium salt\"\nformula = \"SrCl2.6H2O\"\nassay = \"100 %\"\n"
        "density = \"1.93 g/cm3\"\n" +
        grain);
    const auto grains = service::blend_grains(recipe, {materials}).value();
    return service::taking_sentences(grains, least_g).value();
}

const std::string kCoarse = "grain = { d10 = \"1 mm\", d50 = \"1 mm\", d90 = \"1 mm\" }\n";

// 1 mm grains of 1.01 mg at 5.8e-4: (0.0102)^-2 x 1.01e-3 (1 - w)/w g = 16.7 kg keep within 2 % in
// 95 of 100; 1 mm in 0.3 mm rises when shaken (3.3 > 2.8).
TEST(Taking, NamesTheMassBelowWhichGrainsCount) {
    const auto sentences = said(kCoarse, 400);
    ASSERT_EQ(sentences.size(), 2U);
    EXPECT_THAT(sentences[0], HasSubstr("dissolved whole"));
    EXPECT_THAT(sentences[1], HasSubstr("than 17 kg for Sr single grains count"));
    EXPECT_THAT(sentences[1], HasSubstr("by over 2 %"));
}

TEST(Taking, SaysNothingWhereEveryPortionOfTheSheetIsLarger) {
    EXPECT_EQ(said(kCoarse, 20'000).size(), 1U);
    const std::string like_the_bed =
        "grain = { d10 = \"0.3 mm\", d50 = \"0.3 mm\", d90 = \"0.3 mm\" }\n";
    EXPECT_TRUE(said(like_the_bed, 20'000).empty());
}

TEST(Taking, ClaimsNothingOfGrainsThatNobodyStated) { EXPECT_TRUE(said("", 1).empty()); }

}  // namespace
}  // namespace bw
