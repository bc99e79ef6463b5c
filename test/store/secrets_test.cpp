// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <atomic>
#include <thread>

#include <fmt/format.h>

#include "store/ground.hpp"
#include "store/instant.hpp"

namespace bw::store {
namespace {

using ground::kMorning;
using ground::must;

const std::string kPassword = "correct brine 35 staple";

std::string after(std::int64_t ms) { return instant_of(must(milliseconds_of(kMorning)) + ms); }

class Secrets : public ground::OnBoth {
protected:
    std::string place_ = ground_.place();
    Books books_ = must(Books::create(place_, kMorning));
};
BW_ON_BOTH(Secrets);

TEST_P(Secrets, APasswordIsKeptAsAHashOnly) {
    EXPECT_FALSE(must(books_.has_password("ines")));
    must(ground::set_password(books_, "ines", kPassword));
    EXPECT_TRUE(must(books_.has_password("ines")));
    EXPECT_TRUE(must(books_.check_password("ines", kPassword, kMorning)).right);
    EXPECT_FALSE(must(books_.check_password("ines", kPassword + " ", kMorning)).right);
    EXPECT_FALSE(must(books_.check_password("nobody", kPassword, kMorning)).right);
    EXPECT_PROBLEM(ground::set_password(books_, "ines", "too short"), ProblemCode::BadInput);
    EXPECT_PROBLEM(ground::set_password(books_, "ines", std::string(1025, 'x')),
                   ProblemCode::BadInput);
    const Rows rows = must(ground_.beside(place_)->query("SELECT hash FROM secret"));
    ASSERT_EQ(rows.size(), 1U);
    // argon2id, version 1.3, 47 104 KiB, 1 pass, 1 lane: the cost that the cheat sheet names.
    EXPECT_TRUE(rows[0].text(0).starts_with("$argon2id$v=19$m=47104,t=1,p=1$")) << rows[0].text(0);
    must(ground::set_password(books_, "ines", ""));
    EXPECT_FALSE(must(books_.check_password("ines", kPassword, kMorning)).right);
}

TEST_P(Secrets, GuessingWaitsAndStopsAtAHundred) {
    must(ground::set_password(books_, "ines", kPassword));
    must(ground::set_password(books_, "ada", kPassword));
    std::int64_t now = 0;
    for (int i = 1; i <= 4; ++i) {
        const PasswordCheck check =
            must(books_.check_password("ines", "wrong wrong wrong", after(now)));
        EXPECT_EQ(check.failures, i);
        EXPECT_EQ(check.wait_until, "");
    }
    PasswordCheck check = must(books_.check_password("ines", "wrong wrong wrong", after(now)));
    EXPECT_EQ(check.failures, 5);
    EXPECT_EQ(check.wait_until, after(1000));
    check = must(books_.check_password("ines", kPassword, after(999)));  // right, but too early
    EXPECT_FALSE(check.right);
    EXPECT_EQ(check.failures, 5);
    EXPECT_TRUE(must(books_.check_password("ines", kPassword, after(1000))).right);
    EXPECT_EQ(must(books_.check_password("ines", "wrong wrong wrong", after(1000))).failures, 1);
    // The attempts that follow are written down without hashing each: only their count matters.
    must(ground_.beside(place_)->script("UPDATE secret SET failures = 98 WHERE person = 'ines'"));
    now = 3600000;
    check = must(books_.check_password("ines", "wrong wrong wrong", after(now)));
    EXPECT_EQ(check.failures, 99);
    EXPECT_EQ(check.wait_until, after(now + 900000));
    now += 900000;
    EXPECT_TRUE(must(books_.check_password("ines", "wrong wrong wrong", after(now))).stopped);
    now += 86400000;
    check = must(books_.check_password("ines", kPassword, after(now)));
    EXPECT_FALSE(check.right);
    EXPECT_TRUE(check.stopped);
    EXPECT_TRUE(must(books_.check_password("ada", kPassword, after(now))).right);
    must(books_.reset_failures("ines"));
    EXPECT_TRUE(must(books_.check_password("ines", kPassword, after(now))).right);
}

TEST_P(Secrets, AttemptsSentAtOnceAllCount) {
    must(ground::set_password(books_, "ines", kPassword));
    std::atomic<int> looked{0};
    std::vector<std::thread> threads;
    for (int i = 0; i < 8; ++i) {
        threads.emplace_back([&] {
            const PasswordCheck check =
                must(books_.check_password("ines", "wrong wrong wrong", kMorning));
            looked += check.failures <= 5 ? 1 : 0;
        });
    }
    for (std::thread& thread : threads) {
        thread.join();
    }
    const Rows rows = must(ground_.beside(place_)->query("SELECT failures FROM secret"));
    EXPECT_EQ(rows.at(0).integer(0), 5);  // the sixth and later had to wait
}

TEST_P(Secrets, SessionsEndByIdlenessByAgeAndByOrder) {
    constexpr std::int64_t kMinute = 60000;
    const std::string token = must(books_.open_session("ines", "desk 1", kMorning));
    EXPECT_EQ(token.size(), 64U);
    EXPECT_NE(token, must(books_.open_session("ines", "desk 1", kMorning)));
    const Session session = must(books_.session(token, after(29 * kMinute)));
    EXPECT_EQ(session.person, "ines");
    EXPECT_EQ(session.device, "desk 1");
    EXPECT_EQ(session.ends, after(720 * kMinute));
    must(books_.session(token, after(58 * kMinute)));  // the use at 29 min counts
    EXPECT_PROBLEM(books_.session(token, after(88 * kMinute)), ProblemCode::NotFound);
    EXPECT_PROBLEM(books_.session(token, after(58 * kMinute)), ProblemCode::NotFound);
    const std::string day = must(books_.open_session("ines", "scale 1", kMorning, 1000));
    must(books_.session(day, after(719 * kMinute)));
    EXPECT_PROBLEM(books_.session(day, after(720 * kMinute)), ProblemCode::NotFound);
    const std::string third = must(books_.open_session("ada", "desk 2", kMorning));
    const std::string fourth = must(books_.open_session("ada", "desk 3", kMorning));
    must(books_.close_session(third));
    EXPECT_PROBLEM(books_.session(third, kMorning), ProblemCode::NotFound);
    must(books_.session(fourth, kMorning));
    const Rows rows = must(ground_.beside(place_)->query("SELECT token_hash FROM session"));
    EXPECT_TRUE(std::none_of(rows.begin(), rows.end(), [&](const Row& row) {
        return row.text(0) == fourth || row.text(0) == third;
    }));
    must(ground::set_password(books_, "ada", kPassword));
    EXPECT_PROBLEM(books_.session(fourth, kMorning), ProblemCode::NotFound);
    const std::string fifth = must(books_.open_session("ada", "desk 3", kMorning));
    must(books_.close_all_sessions("ada"));
    EXPECT_PROBLEM(books_.session(fifth, kMorning), ProblemCode::NotFound);
    EXPECT_PROBLEM(books_.session("", kMorning), ProblemCode::NotFound);
    EXPECT_TRUE(must(books_.verify()).sound());
    EXPECT_EQ(must(books_.counts()).entries,
              1);  // the act that set the password: sessions leave none
}

}  // namespace
}  // namespace bw::store
