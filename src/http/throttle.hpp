// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <chrono>
#include <map>
#include <mutex>
#include <string>

namespace bw::http {

/// Lets each name do so many things at once, and then so many in a minute.
class Throttle {
public:
    using Instant = std::chrono::steady_clock::time_point;

    Throttle(double at_once, double per_minute) : at_once_(at_once), per_minute_(per_minute) {}
    /// Whether this one may; then it counts. Called by several threads.
    [[nodiscard]] bool may(const std::string& name, Instant now = std::chrono::steady_clock::now());

private:
    struct Left {
        double count;
        Instant at;
    };
    void forget_full(Instant now);

    double at_once_, per_minute_;
    std::mutex mutex_;
    std::map<std::string, Left> left_;
};

}  // namespace bw::http
