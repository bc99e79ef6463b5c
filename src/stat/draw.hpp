// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <memory>
#include <span>

namespace bw::stat {

/// A stream of random draws that depends on its seed and block number only, so that blocks may be
/// drawn in any order or on any thread and give the same numbers.
///
/// Source   the 64-bit Mersenne twister of the C++ standard, seeded by (seed, block); normal draws
/// by the ziggurat of
///          Boost.Random, the same on every platform (std::normal_distribution is not).
class DrawStream {
public:
    DrawStream(std::uint64_t seed, std::uint64_t block);
    ~DrawStream();
    DrawStream(const DrawStream&) = delete;
    DrawStream& operator=(const DrawStream&) = delete;

    /// Fills with draws of mean 0 and standard deviation 1.
    void normal(std::span<double> out);
    /// Fills with uniform draws from 0 to 1, 53 bits each.
    void between_0_and_1(std::span<double> out);

private:
    struct Impl;
    std::unique_ptr<Impl> impl_;
};

}  // namespace bw::stat
