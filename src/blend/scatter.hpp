// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "blend/grain_sizes.hpp"

namespace bw::blend {

/// One material of a blend as grains.
struct GrainPart {
    std::string name;
    double share = 0;             ///< of the blend's mass
    Bounded grain_g;              ///< mean mass of a grain, weighted by mass
    std::vector<double> content;  ///< of each constituent, per mass of the material
};

/// Mean mass of a grain, weighted by mass [g]: pi/6 rho times the mean cube of the size.
[[nodiscard]] Bounded grain_mass_g(const Bounded& mean_cube_m3, const Bounded& density_kg_per_m3);

/// What chance alone does to one constituent of a portion taken from a blend that is mixed as well
/// as can be.
struct Scatter {
    double content = 0;                 ///< of the blend, per mass
    Bounded relative_variance_g;        ///< relative variance of a portion, times its mass
    std::vector<double> variance_g_of;  ///< of it, by part

    /// Relative standard deviation among portions of a lot.
    [[nodiscard]] Bounded relative_sd(double portion_g, double lot_g) const;
    /// Mass of a portion of a large lot that scatters by no more than this.
    [[nodiscard]] double least_portion_g(double relative_sd) const;
};

/// The scatter of every constituent.
///
/// Definition   s^2 = (1/M_portion - 1/M_lot) sum_k w_k m_k ((c_k - c)/c)^2 over the materials:
/// grains
///              fall into the portion independently of each other.
/// Inputs       parts with shares that sum to 1 (to 1e-6), grain masses not negative, and as many
///              contents as there are constituents. A constituent whose content is 0 on the whole
///              has no scatter (0).
/// Errors       BadInput. Source [gy-sampling], first order, exact form.
[[nodiscard]] Result<std::vector<Scatter>> scatter_of(std::span<const GrainPart> parts);

/// Errors   BadInput for a portion that is not above 0, OutOfRange for one above its lot.
[[nodiscard]] Result<void> check_portion(double portion_g, double lot_g);

/// By what one part's grains may be multiplied in size at most so that the constituent scatters by
/// no more than wanted among portions; nothing when the other parts alone scatter more.
[[nodiscard]] std::optional<double> size_factor_for(const Scatter& scatter, std::size_t part,
                                                    double relative_sd, double portion_g,
                                                    double lot_g);

/// The blend with one part bound to the grains of another, as a solution sprayed onto them and
/// dried, or ground together with them, makes it.
///
/// Definition   the carrier's grains hold what both held, in number as before.
[[nodiscard]] std::vector<GrainPart> bound_to(std::span<const GrainPart> parts, std::size_t part,
                                              std::size_t carrier);

/// Probability that a portion lies more than `share` off the blend's content.
///
/// Definition   that of a Poisson number of equal grains with the same relative standard deviation,
///              their number being 1/s^2; from a million on, normal.
/// Inputs       relative standard deviation 0 or more, share above 0.
/// Accuracy     exact for one carrier with equal grains; else its skewness is that of equal grains.
[[nodiscard]] double chance_outside(double relative_sd, double share);

}  // namespace bw::blend
