// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// The rows of data/ions.toml stand in the order of the Ion that names them.
#include <gtest/gtest.h>

#include "brine/ion_volumes.hpp"

namespace {

using namespace bw::brine;

TEST(IonTable, RowsStandInTheOrderOfTheirNames) {
    EXPECT_EQ(ion_table().size(), kIonCount);
    EXPECT_EQ(row_of(Ion::Na).symbol, "Na");
    EXPECT_EQ(row_of(Ion::NH4).symbol, "NH4");
    EXPECT_EQ(row_of(Ion::H).symbol, "H");
    EXPECT_EQ(row_of(Ion::Cl).symbol, "Cl");
    EXPECT_EQ(row_of(Ion::SO4).symbol, "SO4");
    EXPECT_EQ(row_of(Ion::NO3).symbol, "NO3");
    EXPECT_EQ(row_of(Ion::BOH4).symbol, "BOH4");
    EXPECT_EQ(row_of(Ion::SiOH4).symbol, "SiOH4");
}

TEST(IonTable, EveryRowSaysWhereItsNumbersComeFrom) {
    for (const IonRow& row : ion_table()) {
        EXPECT_FALSE(row.volume_source.empty()) << row.symbol;
        EXPECT_FALSE(row.refraction_source.empty()) << row.symbol;
        EXPECT_EQ(row.mobility[0] > 0 || row.viscosity[0] != 0, !row.mobility_source.empty())
            << row.symbol;
        EXPECT_FALSE(row.at.empty()) << row.symbol;
    }
}

}  // namespace
