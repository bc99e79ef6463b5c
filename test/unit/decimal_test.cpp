// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "base/decimal.hpp"

#include <gtest/gtest.h>

namespace {

using bw::base::format_short;
using bw::base::format_with_uncertainty;

// Rounding table: GUM (JCGM 100:2008) 7.2.6, two significant digits on u, half to even in decimal.
TEST(Decimal, ValueAndUncertaintyRoundTogether) {
    struct Row {
        double value, u;
        const char *shown, *shown_u;
    };
    for (const Row& row :
         {Row{412.347, 1.236, "412.3", "1.2"}, Row{19353.2, 118.4, "19350", "120"},
          Row{0.001873, 0.0000996, "0.00187", "0.00010"}, Row{7.9, 0.996, "7.9", "1.0"},
          Row{1290, 9.96, "1290", "10"}, Row{2.675, 0.0145, "2.675", "0.014"},
          Row{-0.0004, 0.00031, "-0.00040", "0.00031"}, Row{3.2, 47, "3", "47"},
          Row{35.17, 1.33e9, "0", "1300000000"}, Row{35.17, 4700, "0", "4700"},
          Row{75, 4700, "100", "4700"}}) {
        const auto out = format_with_uncertainty(row.value, row.u);
        EXPECT_EQ(out.value, row.shown) << row.value;
        EXPECT_EQ(out.uncertainty, row.shown_u) << row.value;
    }
}

TEST(Decimal, ValueAndUncertaintyAsOneText) {
    EXPECT_EQ(format_with_uncertainty(412.347, 1.236).text(), "412.3 \u00B1 1.2");
    EXPECT_EQ(format_with_uncertainty(412.347, 0).text(), "412.35");
}

TEST(Decimal, ShortNumbersEndWithoutZeros) {
    struct Row {
        double value;
        const char* shown;
    };
    for (const Row& row :
         {Row{35, "35"}, Row{35.16504, "35.165"}, Row{0.25, "0.25"}, Row{1200, "1200"}, Row{0, "0"},
          Row{-2.5, "-2.5"}, Row{2e-9, "2.0000e-09"}}) {
        EXPECT_EQ(format_short(row.value, 5), row.shown);
    }
}

}  // namespace
