// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <span>
#include <vector>

#include "path/course.hpp"
#include "ref/brine_tables.hpp"

namespace bw::path {

/// How far, and for how long, one solid was above saturation on a path.
struct Exposure {
    const ref::MineralRow* solid = nullptr;
    double peak_omega = 0;
    double peak_at_h = 0;
    double trusted = 1;                      ///< the peak is trusted within this factor
    double hours_over = 0;                   ///< above critical_omega()
    double score = 0;                        ///< h
    ref::Forming soon = ref::Forming::Days;  ///< how soon it can fall at its peak, see soon_at()
};

/// The saturation from which a solid counts on a path.
///
/// Definition   5 for the carbonates of calcium that wait hours, below which added alkalinity was
///              stable [moras-2022]; 1 for all others, which is on the safe side.
[[nodiscard]] double critical_omega(const ref::MineralRow& solid);

/// How soon a solid can fall at an Omega.
///
/// Definition   what its row says of a water a few times supersaturated; one class sooner for each
///              ten times beyond the trust in its constant: an assumption.
[[nodiscard]] ref::Forming soon_at(const ref::MineralRow& solid, double omega, double trusted);

/// Solids that can fall by themselves within days, in the order of their scores.
///
/// Definition   the score is the largest product, over all levels S, of ln(S / critical) and the
///              hours spent at S or above, ln Omega running straight between moments.
/// Inputs       moments in time's order.
/// Errors       none; moments without a state of the water are left out.
/// Complexity   the square of the number of moments, for each solid.
[[nodiscard]] std::vector<Exposure> exposures(std::span<const Moment> course);

/// Moments of the mixing: until some hours after the last addition.
[[nodiscard]] std::vector<Moment> while_mixing(const VatPlan& plan, const Course& course,
                                               double after_h);

}  // namespace bw::path
