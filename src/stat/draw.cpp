// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "stat/draw.hpp"

#include <array>
#include <random>

#include <boost/random/normal_distribution.hpp>

namespace bw::stat {
namespace {

std::mt19937_64 seeded(std::uint64_t seed, std::uint64_t block) {
    constexpr unsigned kHalf = 32;
    const std::array<std::uint32_t, 4> words = {
        static_cast<std::uint32_t>(seed), static_cast<std::uint32_t>(seed >> kHalf),
        static_cast<std::uint32_t>(block), static_cast<std::uint32_t>(block >> kHalf)};
    std::seed_seq sequence(words.begin(), words.end());
    return std::mt19937_64(sequence);
}

}  // namespace

struct DrawStream::Impl {
    std::mt19937_64 engine;
    boost::random::normal_distribution<double> normal{0, 1};

    explicit Impl(std::mt19937_64 seeded_engine) : engine(seeded_engine) {}
};

DrawStream::DrawStream(std::uint64_t seed, std::uint64_t block)
    : impl_(std::make_unique<Impl>(seeded(seed, block))) {}
DrawStream::~DrawStream() = default;

void DrawStream::normal(std::span<double> out) {
    for (double& z : out) {
        z = impl_->normal(impl_->engine);
    }
}

void DrawStream::between_0_and_1(std::span<double> out) {
    constexpr unsigned kDropped = 11;  // 64 - 53 bits of a double
    constexpr double kUnit = 0x1.0p-53;
    for (double& r : out) {
        r = static_cast<double>(impl_->engine() >> kDropped) * kUnit;
    }
}

}  // namespace bw::stat
