// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "http/throttle.hpp"

#include <algorithm>

namespace bw::http {
namespace {

constexpr std::size_t kMostNames = 10000;
constexpr double kSecondsOfMinute = 60;

double minutes(Throttle::Instant from, Throttle::Instant to) {
    return std::chrono::duration<double>(to - from).count() / kSecondsOfMinute;
}

}  // namespace

bool Throttle::may(const std::string& name, Instant now) {
    const std::lock_guard lock(mutex_);
    if (left_.size() >= kMostNames) {
        forget_full(now);
    }
    auto [it, fresh] = left_.try_emplace(name, Left{at_once_, now});
    Left& left = it->second;
    left.count = std::min(at_once_, left.count + minutes(left.at, now) * per_minute_);
    left.at = now;
    if (left.count < 1) {
        return false;
    }
    left.count -= 1;
    return true;
}

/// Names that may again do all they might are as good as never seen.
void Throttle::forget_full(Instant now) {
    std::erase_if(left_, [&](const auto& entry) {
        return entry.second.count + minutes(entry.second.at, now) * per_minute_ >= at_once_;
    });
}

}  // namespace bw::http
