// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Check samples: what a method states of them, and readings beside it.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "works/check_reading.hpp"

namespace {

using namespace bw::works;
using testing::HasSubstr;

CheckReading reading(const std::string& digits, const std::string& unit = "mg/kg") {
    CheckReading r;
    r.name = "QC-1";
    r.analyte = "Ca";
    r.method = "M-07";
    r.digits = digits;
    r.unit = unit;
    return r;
}

const CheckSample kSample{"QC-1", "Ca", "412 mg/kg", 1.5};

TEST(CheckReadings, AreJudgedBesideWhatTheSampleHolds) {
    const auto good = judged(reading("418.18"), kSample);
    ASSERT_TRUE(good) << good.error().message;
    EXPECT_NEAR(good->off_percent, 1.5, 1e-9);
    EXPECT_FALSE(judged(reading("418.2"), kSample)->good);
    EXPECT_FALSE(judged(reading("405.8"), kSample)->good);
    EXPECT_TRUE(judged(reading("0.000412", "kg/kg"), kSample)->good);
    EXPECT_THAT(sentence_of(*judged(reading("430"), kSample)),
                HasSubstr("Ca by M-07 reads 430 mg/kg, 4.37 % above 412 mg/kg, 1.5 % allowed"));
}

TEST(CheckReadings, TakeBlankAndDilution) {
    CheckReading r = reading("8.34");
    r.blank = "0.1";
    r.dilution = "50";
    EXPECT_NEAR(judged(r, kSample)->off_percent, 0, 1e-9);  // (8.34 - 0.1) 50 = 412
}

TEST(CheckReadings, RefuseAnotherKindOfUnitAndWhatIsNotRead) {
    EXPECT_THAT(judged(reading("412", "mg/L"), kSample).error().message, HasSubstr("kind of unit"));
    EXPECT_THAT(judged(reading("< 2"), kSample).error().message, HasSubstr("below its limit"));
    EXPECT_FALSE(judged(reading("4,12"), kSample));
}

TEST(CheckSamples, AreRefusedWithoutAValueOrAWidth) {
    EXPECT_TRUE(check(kSample));
    EXPECT_FALSE(check(CheckSample{" ", "Ca", "412 mg/kg", 1.5}));
    EXPECT_FALSE(check(CheckSample{"QC-1", "Xx", "412 mg/kg", 1.5}));
    EXPECT_FALSE(check(CheckSample{"QC-1", "Ca", "412", 1.5}));
    EXPECT_FALSE(check(CheckSample{"QC-1", "Ca", "0 mg/kg", 1.5}));
    EXPECT_FALSE(check(CheckSample{"QC-1", "Ca", "412 mg/kg", 0}));
    EXPECT_FALSE(check(CheckSample{"QC-1", "Ca", "412 mg/kg", 100}));
}

}  // namespace
