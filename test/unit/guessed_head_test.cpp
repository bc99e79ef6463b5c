// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/guessed_head.hpp"

#include <gtest/gtest.h>

#include "io/suggested_map.hpp"
#include "io/table_file.hpp"

namespace bw::io {
namespace {

std::string parts(std::string_view head) {
    const auto found = guess_analyte_head(head);
    return found ? found->analyte + "|" + found->wavelength + "|" + found->unit
                 : std::string("none");
}

TEST(GuessedHead, ReadsWhatLaboratoriesWrite) {
    EXPECT_EQ(parts("Ca (mg/L)"), "Ca||mg/L");
    EXPECT_EQ(parts("Ca mg/L"), "Ca||mg/L");
    EXPECT_EQ(parts("Ca_mg/L"), "Ca||mg/L");
    EXPECT_EQ(parts("Calcium (mg/L)"), "Ca||mg/L");
    EXPECT_EQ(parts("MAGNESIUM [ppm]"), "Mg||ppm");
    EXPECT_EQ(parts("Natrium, mg/kg"), "Na||mg/kg");
    EXPECT_EQ(parts("Sulphate mg/L"), "SO4||mg/L");
    EXPECT_EQ(parts("Na line"), "Na||");
    EXPECT_EQ(parts("Ca (317.933) [mg/L]"), "Ca|317.933|mg/L");
    EXPECT_EQ(parts("Ca 317.933 nm mg/L"), "Ca|317.933|mg/L");
    EXPECT_EQ(parts("Ca2+ (mg/L)"), "Ca||mg/L");
    EXPECT_EQ(parts("SO42- (mg/L)"), "SO4||mg/L");
    EXPECT_EQ(parts("Cl-"), "Cl||");
    EXPECT_EQ(parts("Ca (found)"), "Ca||found");  // the map then says that it is no unit
    EXPECT_EQ(parts("S 181.975 [mg/L as SO4]"), "S|181.975|mg/L as SO4");
}

TEST(GuessedHead, LeavesOtherWordsAlone) {
    for (const char* none : {"", "Sample", "Calcium found", "mg/L", "line", "S123", "B26-0001",
                             "Ca 31", "317.933", "Ca 1 2", "pH", "+", "-"}) {
        EXPECT_EQ(parts(none), "none") << none;
    }
    EXPECT_FALSE(guess_analyte("furlong").has_value());
    EXPECT_EQ(guess_analyte("NO3-"), "NO3");
}

TEST(GuessedHead, AMapIsSuggestedForNamesAndTheirUnits) {
    const auto wide =
        read_table("Probe;Calcium mg/L;Magnesium mg/L\none;430,1;1295,5\n", "a.csv", {}, "");
    const auto of_wide = suggest_map(*wide);
    ASSERT_TRUE(of_wide) << of_wide.error().text();
    EXPECT_NE(of_wide->find("analyte = \"Ca\"\nunit = \"mg/L\""), std::string::npos) << *of_wide;
    const auto tall =
        read_table("Sample,Analyte,Value,Unit\none,Calcium,430.1,mg/L\n", "a.csv", {}, "");
    const auto of_tall = suggest_map(*tall);
    ASSERT_TRUE(of_tall) << of_tall.error().text();
    EXPECT_NE(of_tall->find("\"Calcium\" = \"Ca\""), std::string::npos) << *of_tall;
    // A head that is understood as it is comes before one that is guessed.
    const auto both = read_table("Export,Calcium\nSample,Ca (mg/L)\none,430.1\n", "a.csv", {}, "");
    EXPECT_NE(suggest_map(*both)->find("head_row = 2"), std::string::npos);
}

}  // namespace
}  // namespace bw::io
