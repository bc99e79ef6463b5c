// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <algorithm>
#include <cstddef>
#include <thread>
#include <vector>

namespace bw::service {

/// What a long computation says that its asker does not want any more.
inline constexpr const char* kCalledOff = "called off before it was done";

/// Calls run(begin, end) for parts of 0 to count on `threads` threads (0: as many as there are
/// cores), and returns when all are done.
template <class Run>
void in_parts(std::size_t count, unsigned threads, const Run& run) {
    const std::size_t cores = threads == 0 ? std::thread::hardware_concurrency() : threads;
    const std::size_t parts = std::clamp<std::size_t>(cores, 1, std::max<std::size_t>(count, 1));
    std::vector<std::jthread> workers;
    for (std::size_t part = 1; part < parts; ++part) {
        workers.emplace_back([&run, begin = count * part / parts,
                              end = count * (part + 1) / parts] { run(begin, end); });
    }
    run(std::size_t{0}, count / parts);
}

}  // namespace bw::service
