// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <memory>

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

    [[nodiscard]] double normal();           ///< mean 0, standard deviation 1
    [[nodiscard]] double between_0_and_1();  ///< uniform, 53 bits

  private:
    struct Impl;
    std::unique_ptr<Impl> impl_;
};

}  // namespace bw::stat
