// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "works/reading_doubt.hpp"

namespace bw::works {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;
using testing::SizeIs;

Batch batch() {
    Batch out;
    out.number = "B26-0001-K";
    out.water = {{"Cl", 0.5459, 0.0005}, {"Cu", 1e-8, 2e-8}, {"alkalinity", 0.0028, 0}};
    return out;
}
TestResult reading(const std::string& analyte, double mol_per_kg, const std::string& digits,
                   const std::string& unit) {
    TestResult out;
    out.portion = "S26-0001-X/1";
    out.batch = "B26-0001-K";
    out.analyte = analyte;
    out.method = "M-02";
    out.digits = digits;
    out.unit = unit;
    out.mol_per_kg = mol_per_kg;
    return out;
}
std::vector<ReadingDoubt> of(const TestResult& r) { return doubts_about(batch(), std::vector{r}); }

TEST(ReadingDoubt, AsksAboutAReadingFarFromWhatTheBatchIsToHave) {
    const auto found = of(reading("Cl", 0.0193, "19.3", "mmol/kg"));
    ASSERT_THAT(found, SizeIs(1));
    EXPECT_EQ(found[0].sentence,
              "Cl 19.3 mmol/kg of S26-0001-X/1 comes to 19.30 mmol per kg of made-up water, less "
              "than a fifth of the 545.9 that the batch is to have: are the figures, the unit and "
              "the dilution as the instrument has them?");
    EXPECT_NEAR(found[0].times, 0.0193 / 0.5459, 1e-12);
    EXPECT_THAT(of(reading("Cl", 5.46, "5460", "mmol/kg"))[0].sentence,
                HasSubstr("about ten times the 545.9"));
    EXPECT_THAT(of(reading("alkalinity", 2.8e-6, "0.0028", "meq/kg"))[0].sentence,
                HasSubstr("meq per kg of made-up water, about a thousandth of the 2.8"));
}

TEST(ReadingDoubt, AsksFromAFactorOfFiveOnAndNoSooner) {
    EXPECT_THAT(of(reading("alkalinity", 0.0028 * 4.99, "13.97", "meq/kg")), IsEmpty());
    EXPECT_THAT(of(reading("alkalinity", 0.0028 * 5.01, "14.03", "meq/kg")), SizeIs(1));
    EXPECT_THAT(of(reading("alkalinity", 0.0028 / 4.99, "0.561", "meq/kg")), IsEmpty());
    EXPECT_THAT(of(reading("alkalinity", 0.0028 / 5.01, "0.559", "meq/kg")), SizeIs(1));
}

TEST(ReadingDoubt, LeavesRoomForWhatAPredictionDoesNotKnow) {
    EXPECT_THAT(of(reading("Cu", 0, "0", "mmol/kg")), IsEmpty()) << "it may hold none";
    EXPECT_THAT(of(reading("Cu", 2e-7, "0.0002", "mmol/kg")), IsEmpty())
        << "1e-8 + 2 u, five times";
    EXPECT_THAT(of(reading("Cu", 3e-7, "0.0003", "mmol/kg")), SizeIs(1));
    EXPECT_THAT(of(reading("Pb", 1, "1000", "mmol/kg")), IsEmpty()) << "nothing is predicted";
}

TEST(ReadingDoubt, KnowsUpperLimitsAndWhatIsSetAside) {
    TestResult below = reading("Cl", 1, "< 1000", "mmol/kg");
    below.below_limit = true;
    EXPECT_THAT(of(below), IsEmpty());
    below.mol_per_kg = 0.01;
    ASSERT_THAT(of(below), SizeIs(1));
    EXPECT_THAT(of(below)[0].sentence, HasSubstr("comes to at most 10.00 mmol per kg"));
    TestResult aside = reading("Cl", 0.0193, "19.3", "mmol/kg");
    aside.state = ResultState::SetAside;
    EXPECT_THAT(of(aside), IsEmpty());
    TestResult other = reading("Cl", 0.0193, "19.3", "mmol/kg");
    other.batch = "B26-0002-P";
    EXPECT_THAT(of(other), IsEmpty());
}

}  // namespace
}  // namespace bw::works
