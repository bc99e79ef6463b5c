// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "http/throttle.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

namespace bw::http {
namespace {

using namespace std::chrono_literals;

TEST(Throttle, LetsSomeAtOnceAndThenSoManyInAMinute) {
    Throttle throttle(2, 6);
    const Throttle::Instant start{};
    EXPECT_TRUE(throttle.may("olga", start));
    EXPECT_TRUE(throttle.may("olga", start));
    EXPECT_FALSE(throttle.may("olga", start + 9s));
    EXPECT_TRUE(throttle.may("mira", start + 9s));
    EXPECT_TRUE(throttle.may("olga", start + 19s));
    EXPECT_FALSE(throttle.may("olga", start + 20s));
}

// Whoever makes up names is not to fill the memory, nor to let others be forgotten.
TEST(Throttle, ForgetsThoseWhoMayDoAllAgainAndNobodyElse) {
    Throttle throttle(1, 1);
    const Throttle::Instant start{};
    constexpr int kMore = 10'001;
    for (int i = 0; i < kMore; ++i) {
        ASSERT_TRUE(throttle.may(fmt::format("made up {}", i), start));
    }
    EXPECT_TRUE(throttle.may("olga", start + 50s));
    EXPECT_TRUE(throttle.may("piet", start + 61s));  // the others are forgotten now
    EXPECT_FALSE(throttle.may("olga", start + 62s));
    EXPECT_TRUE(throttle.may("made up 1", start + 62s));
}

}  // namespace
}  // namespace bw::http
