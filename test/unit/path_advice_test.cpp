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
        out.push_back({20.0 + 2 * static_cast<double>(out.size()), risk, {}, 8});
    }
    return out;
}

TEST(PathAdvice, TheTemperaturesAtWhichAVatIsClear) {
    const auto c = Risk::Clear;
    const auto w = Risk::Watch;
    EXPECT_EQ(temperature_advice(window({c, c, c}), 24), "");
    EXPECT_THAT(temperature_advice(window({c, c, w}), 24),
                testing::AllOf(HasSubstr("at 20 to 22 \u00B0C"), HasSubstr("at 24 \u00B0C it")));
    EXPECT_THAT(temperature_advice(window({w, c, c}), 24),
                testing::AllOf(HasSubstr("at 22 to 24 \u00B0C"), HasSubstr("at 20 \u00B0C it")));
    EXPECT_THAT(temperature_advice(window({w, c, c, w}), 24), HasSubstr("at 22 to 24 \u00B0C"));
    EXPECT_THAT(temperature_advice(window({c, w, c, c, w}), 24), HasSubstr("at 24 to 26 \u00B0C"));
    EXPECT_THAT(temperature_advice(window({w, w}), 36),
                HasSubstr("At no temperature from 20 to 22 \u00B0C may it be counted on for 36 h"));
}

}  // namespace
}  // namespace bw::service
