// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstddef>
#include <vector>

#include "base/result.hpp"
#include "matter/material.hpp"

namespace bw::blend {

/// A quantity with the bounds that its data leave.
struct Bounded {
    double expected = 0, low = 0, high = 0;
};

/// The sizes of a material's grains, by mass.
///
/// Definition   the logarithm of the size is linear in the normal quantile of the share that is
///              finer, between the stated points and beyond the first and last of them: two
///              log-normal halves for d10, d50, d90. A point of share 1 cuts the sizes off.
class GrainSizes {
public:
    /// Inputs       sizes above 0; d10 <= d50 <= d90, or a sieve table of two points or more with
    ///              rising sizes and shares from 0 to 1.
    /// Errors       OutOfRange.
    [[nodiscard]] static Result<GrainSizes> of(const matter::Grain& grain);

    /// Size that a share of the mass is finer than [m]; share strictly between 0 and 1.
    [[nodiscard]] double size_m(double finer) const;

    /// Mean of the cube of the size, weighted by mass [m3]: that of the distribution, with what it
    /// can be at most and at least when only the points are known. Above the last point the highest
    /// is as far as the line reaches at a share of 99.5 %.
    ///
    /// Source       moments of the truncated normal distribution.
    [[nodiscard]] Bounded mean_cube_m3() const;
    /// Of the mean cube, the share that grains above the last stated point make; 0 with a top.
    [[nodiscard]] double beyond_last_point() const;
    /// Share of the mass that is coarser than the last stated point; 0 with a top.
    [[nodiscard]] double coarser_than_last_point() const;

private:
    struct Knot {
        double z = 0;      ///< normal quantile of the share that is finer
        double log_m = 0;  ///< logarithm of the size
    };
    explicit GrainSizes(std::vector<Knot> knots, double top_log_m)
        : knots_(std::move(knots)), top_log_m_(top_log_m) {}
    [[nodiscard]] double slope(std::size_t segment) const;
    [[nodiscard]] double log_at(double z) const;

    std::vector<Knot> knots_;  ///< two at least
    double top_log_m_;         ///< nothing is larger; infinity: not stated
};

}  // namespace bw::blend
