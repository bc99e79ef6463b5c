// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "store/secrets.hpp"

#include <algorithm>
#include <array>
#include <condition_variable>
#include <mutex>

#include <fmt/format.h>
#include <sodium.h>

#include "store/allowed.hpp"
#include "store/digest.hpp"
#include "store/instant.hpp"
#include "store/shelf.hpp"

namespace bw::store {
namespace {

// People-and-promises 4.7, after OWASP ASVS 5.0 6.2 and 7.3: lengths, cost, attempts, session ends.
constexpr std::size_t kFewestBytes = 15, kMostBytes = 1024;
constexpr std::size_t kMemory_bytes = std::size_t{47104} * 1024;
constexpr unsigned long long kPasses = 1;
constexpr std::int64_t kFreeFailures = 5, kMostFailures = 100;
constexpr std::int64_t kSecond_ms = 1000, kLongestWait_ms = 900 * kSecond_ms;
constexpr std::int64_t kMinute_ms = 60 * kSecond_ms, kSessionLife_ms = 720 * kMinute_ms;
constexpr int kTokenBytes = 32;
constexpr int kMostHashesAtOnce = 2;  // each takes 46 MiB: sign-in must not exhaust memory

/// A place among those who may hash at the same time.
class Turn {
public:
    Turn() {
        std::unique_lock<std::mutex> lock(mutex());
        freed().wait(lock, [] { return running() < kMostHashesAtOnce; });
        ++running();
    }
    ~Turn() {
        {
            const std::lock_guard<std::mutex> lock(mutex());
            --running();
        }
        freed().notify_one();
    }
    Turn(const Turn&) = delete;
    Turn& operator=(const Turn&) = delete;

private:
    static std::mutex& mutex() {
        static std::mutex one;
        return one;
    }
    static std::condition_variable& freed() {
        static std::condition_variable one;
        return one;
    }
    static int& running() {
        static int count = 0;
        return count;
    }
};

Result<std::string> hashed(std::string_view password) {
    base::expect(sodium_init() >= 0, "the system offers random bytes");
    const Turn turn;
    std::array<char, crypto_pwhash_STRBYTES> hash{};
    if (crypto_pwhash_str_alg(hash.data(), password.data(), password.size(), kPasses, kMemory_bytes,
                              crypto_pwhash_ALG_ARGON2ID13) != 0) {
        return fail(ProblemCode::Disk, "there is not enough memory to make the password's hash");
    }
    return std::string(hash.data());
}

bool matches(const std::string& hash, std::string_view password) {
    const Turn turn;
    return crypto_pwhash_str_verify(hash.c_str(), password.data(), password.size()) == 0;
}

/// A hash that no password is known for, so that unknown people take as long as known ones.
const std::string& nobodys_hash() {
    static const std::string kHash = hashed(random_hex(kTokenBytes)).value_or(std::string());
    return kHash;
}

std::int64_t wait_ms(std::int64_t failures) {
    if (failures < kFreeFailures) {
        return 0;
    }
    constexpr std::int64_t kMostDoublings = 10;  // 1024 s is beyond the longest wait already
    const std::int64_t doublings = std::min(failures - kFreeFailures, kMostDoublings);
    return std::min(kSecond_ms << doublings, kLongestWait_ms);
}

/// What an attempt may do, decided and counted before the password is looked at: attempts sent at
/// the same time then count as well.
struct Attempt {
    PasswordCheck check;
    std::string hash;  ///< empty: not looked at
};

Result<Attempt> count_attempt(Connection& c, std::string_view person, std::string_view at) {
    BW_TRY(now, milliseconds_of(at));
    BW_TRY(rows, c.query("SELECT hash, failures, last_failure FROM secret WHERE person = $1",
                         {text(person)}));
    if (rows.empty()) {
        return Attempt{{}, nobodys_hash()};
    }
    Attempt attempt;
    attempt.check.failures = rows.front().integer(1);
    if (attempt.check.failures >= kMostFailures) {
        attempt.check.stopped = true;
        return attempt;
    }
    if (attempt.check.failures >= kFreeFailures) {
        BW_TRY(last, milliseconds_of(rows.front().text(2)));
        const std::int64_t until = last + wait_ms(attempt.check.failures);
        if (now < until) {
            attempt.check.wait_until = instant_of(until);
            return attempt;
        }
    }
    ++attempt.check.failures;
    BW_CHECK(c.run("UPDATE secret SET failures = failures + 1, last_failure = $2 WHERE person = $1",
                   {text(person), text(at)}));
    attempt.hash = rows.front().text(0);
    return attempt;
}

/// All of a person's sessions but the one of this token; of no token, all.
Result<void> end_sessions(Connection& c, std::string_view person, std::string_view but = {}) {
    return c.run("DELETE FROM session WHERE person = $1 AND token_hash <> $2",
                 {text(person), but.empty() ? std::string() : sha256_hex(but)});
}

}  // namespace

Result<void> write_secret(Connection& c, const Secret& secret, std::string_view at) {
    if (!secret.replaces.empty()) {
        BW_TRY(rows, c.query("SELECT hash FROM secret WHERE person = $1", {secret.person}));
        if (rows.empty() || sha256_hex(rows.front().text(0)) != secret.replaces) {
            return fail(ProblemCode::Conflict,
                        fmt::format("the password of {} was changed while this was asked for: "
                                    "nothing is changed",
                                    secret.person));
        }
    }
    BW_CHECK(c.run("DELETE FROM secret WHERE person = $1", {secret.person}));
    if (!secret.hash.empty()) {
        BW_CHECK(
            c.run("INSERT INTO secret (person, hash, at, failures, last_failure) "
                  "VALUES ($1, $2, $3, 0, '')",
                  {secret.person, secret.hash, text(at)}));
    }
    return end_sessions(c, secret.person, secret.session);
}

Result<void> Books::check_password(std::string_view password) {
    if (password.size() < kFewestBytes || password.size() > kMostBytes) {
        return fail(ProblemCode::BadInput,
                    fmt::format("a password has {} to {} bytes, and this one has {}", kFewestBytes,
                                kMostBytes, password.size()),
                    {{}, 0, "password"});
    }
    return {};
}

Result<std::string> Books::hashed_password(std::string_view password) {
    BW_CHECK(check_password(password));
    return hashed(password);
}

Result<PasswordCheck> Books::check_password(std::string_view person, std::string_view password,
                                            std::string_view at) {
    BW_CHECK(expect_name(person, "person"));
    BW_TRY(attempt, shelf_->write([&](Connection& c) { return count_attempt(c, person, at); }));
    PasswordCheck check = attempt.check;
    if (attempt.hash.empty() || password.size() > kMostBytes) {
        return check;
    }
    check.right = matches(attempt.hash, password) && check.failures > 0;
    if (check.right) {
        check.failures = 0;
        check.of = sha256_hex(attempt.hash);
        BW_CHECK(reset_failures(person));
        return check;
    }
    const std::int64_t wait = wait_ms(check.failures);
    check.stopped = check.failures >= kMostFailures;
    if (wait > 0 && !check.stopped) {
        BW_TRY(now, milliseconds_of(at));
        check.wait_until = instant_of(now + wait);
    }
    return check;
}

Result<void> Books::reset_failures(std::string_view person) {
    BW_CHECK(expect_name(person, "person"));
    return shelf_->write([&](Connection& c) {
        return c.run("UPDATE secret SET failures = 0, last_failure = '' WHERE person = $1",
                     {text(person)});
    });
}

Result<bool> Books::has_password(std::string_view person) const {
    BW_CHECK(expect_name(person, "person"));
    return shelf_->read([&](Connection& c) -> Result<bool> {
        BW_TRY(rows, c.query("SELECT 1 FROM secret WHERE person = $1", {text(person)}));
        return !rows.empty();
    });
}

Result<std::string> Books::open_session(std::string_view person, std::string_view device,
                                        std::string_view at, int idle_minutes) {
    BW_CHECK(expect_name(person, "person"));
    BW_CHECK(expect_name(device, "device"));
    BW_TRY(now, milliseconds_of(at));
    std::string token = random_hex(kTokenBytes);
    auto opened = shelf_->write([&](Connection& c) -> Result<void> {
        BW_CHECK(c.run("DELETE FROM session WHERE ends <= $1", {text(at)}));
        return c.run(
            "INSERT INTO session (token_hash, person, device, opened, used, ends, "
            "idle_minutes) VALUES ($1, $2, $3, $4, $4, $5, $6)",
            {sha256_hex(token), text(person), text(device), text(at),
             instant_of(now + kSessionLife_ms), std::int64_t{idle_minutes}});
    });
    if (!opened) {
        return tl::make_unexpected(std::move(opened).error());
    }
    return token;
}

Result<Session> Books::session(std::string_view token, std::string_view at) {
    BW_TRY(now, milliseconds_of(at));
    const std::string hash = sha256_hex(token);
    BW_TRY(rows, shelf_->read([&](Connection& c) {
        return c.query(
            "SELECT person, device, opened, used, ends, idle_minutes FROM session "
            "WHERE token_hash = $1",
            {hash});
    }));
    const auto ended = [] {
        return fail(ProblemCode::NotFound, "there is no such session, or it has ended: sign in");
    };
    if (rows.empty()) {
        return ended();
    }
    Row& row = rows.front();
    Session session{row.text(0), row.text(1), row.text(2), row.text(3), row.text(4)};
    BW_TRY(used, milliseconds_of(session.used));
    BW_TRY(ends, milliseconds_of(session.ends));
    if (now >= ends || now >= used + row.integer(5) * kMinute_ms) {
        BW_CHECK(close_session(token));
        return ended();
    }
    if (now >= used + kMinute_ms) {  // a use is written down once a minute, not with each look
        BW_CHECK(shelf_->write([&](Connection& c) {
            return c.run("UPDATE session SET used = $2 WHERE token_hash = $1 AND used < $2",
                         {hash, text(at)});
        }));
        session.used = std::string(at);
    }
    return session;
}

Result<void> Books::close_session(std::string_view token) {
    return shelf_->write([&](Connection& c) {
        return c.run("DELETE FROM session WHERE token_hash = $1", {sha256_hex(token)});
    });
}

Result<void> Books::close_all_sessions(std::string_view person) {
    BW_CHECK(expect_name(person, "person"));
    return shelf_->write([&](Connection& c) { return end_sessions(c, person); });
}

}  // namespace bw::store
