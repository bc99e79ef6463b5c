// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/path_advice.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace bw::service {
namespace {

using path::Risk;
using testing::HasSubstr;

std::vector<AtTemperature> window(const std::vector<Risk>& risks) {
    std::vector<AtTemperature> out;
    out.reserve(risks.size());
    for (const Risk risk : risks) {
        out.push_back({20.0 + 2 * static_cast<double>(out.size()), risk, {}, 8, true, {}});
    }
    return out;
}

TEST(PathAdvice, TheTemperaturesAtWhichAVatIsClear) {
    const auto c = Risk::Clear;
    const auto w = Risk::Watch;
    EXPECT_EQ(temperature_words(window({c, c, c}), 24),
              "Held at 20 to 24 \u00B0C it may be counted on for 24 h.");
    EXPECT_THAT(temperature_words(window({c, c, w}), 24),
                testing::AllOf(HasSubstr("at 20 to 22 \u00B0C"), HasSubstr("at 24 \u00B0C it")));
    EXPECT_THAT(temperature_words(window({w, c, c}), 24),
                testing::AllOf(HasSubstr("at 22 to 24 \u00B0C"), HasSubstr("at 20 \u00B0C it")));
    EXPECT_THAT(temperature_words(window({w, c, c, w}), 24), HasSubstr("at 22 to 24 \u00B0C"));
    EXPECT_THAT(temperature_words(window({c, w, c, c, w}), 24), HasSubstr("at 24 to 26 \u00B0C"));
    EXPECT_THAT(temperature_words(window({w, w}), 36),
                HasSubstr("At no temperature from 20 to 22 \u00B0C may it be counted on for 36 h"));
}

TEST(PathAdvice, ATimeThatWouldDoDoesNotContradictAVatThatIsNotClear) {
    auto at = window({Risk::WillCloud, Risk::WillCloud, Risk::Watch});
    at[0].safe.use_within_h = 100;
    at[1].safe.use_within_h = 30;
    at[2].safe.use_within_h = 3;
    at[0].against = {"brucite"};
    at[1].against = {"brucite", "sodium fluoride, not dissolved by then"};
    at[2].against = {"gypsum"};
    EXPECT_THAT(temperature_words(at, 24),
                testing::AllOf(HasSubstr("At no temperature from 20 to 24 \u00B0C"),
                               HasSubstr("alone would do at 20 to 22 \u00B0C; against it stand "
                                         "brucite and sodium fluoride, not dissolved by then")));
    at[0].risk = Risk::Clear;
    EXPECT_THAT(
        temperature_words(at, 24),
        HasSubstr("at 22 \u00B0C it may not: not for the time to calcium carbonate, but for "
                  "brucite and sodium fluoride, not dissolved by then."));
    at[0].risk = Risk::Watch;
    for (AtTemperature& one : at) {
        one.safe.use_within_h = 3;
    }
    EXPECT_THAT(temperature_words(at, 24), testing::Not(HasSubstr("alone would do")));
}

}  // namespace
}  // namespace bw::service
