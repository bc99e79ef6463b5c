// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "service/blend_grains.hpp"

namespace bw::service {

struct BlendScatterRequest {
    io::Document recipe;
    std::vector<io::Document> materials;
    std::vector<double> portions_kg;  ///< scoops, samples, packages; one at least
    double container_kg = 20;         ///< in which the user has it
    double batch_kg = 500;
    double wanted = 0.02;  ///< relative: what each constituent of a portion should keep within
};

/// Ways to bring a constituent within the promise, for the smallest portion; each is enough alone.
struct ScatterRemedy {
    std::string material;               ///< whose grains scatter it most
    double d50_m = 0;                   ///< its median; 0: not stated
    std::optional<double> finer_d50_m;  ///< its median must be no larger than this
    double all_finer = 1;               ///< or all grains must be by so much smaller, a factor
    std::string carrier;               ///< salt onto which it can be sprayed and dried; empty: none
    std::string no_carrier;            ///< why it is empty
    std::optional<double> bound_sd;    ///< the scatter that is left then
    std::optional<double> portion_kg;  ///< or portions must be this large
};

struct ScatterShare {
    std::string material;
    double share = 0;  ///< of the variance
};

struct ConstituentScatter {
    matter::Constituent constituent;
    double mol_per_kg = 0;                    ///< of blend
    std::vector<blend::Bounded> relative_sd;  ///< by portion
    std::vector<double> outside;              ///< chance beyond the wanted band, by portion
    std::vector<ScatterShare> shares;         ///< largest first, those of 1 % and more, at most 4
    std::optional<ScatterRemedy> remedy;      ///< where the smallest portion is too often outside
    blend::Thirds shaken, sorted;
};

struct BlendScatterReport {
    std::string recipe;
    bool invented = false;
    std::vector<double> portions_kg;
    double container_kg = 0, batch_kg = 0, wanted = 0;
    std::vector<ConstituentScatter> constituents;  ///< most scattered first
    std::vector<std::string> parts;                ///< names, by place
    std::vector<double> shares;                    ///< of the blend, by place
    blend::Layering layering;
    base::Notices notices;
};

/// How much portions of a recipe's blend differ: by chance, and after a container has layered.
///
/// Definition   a constituent is within the promise when the chance of a portion beyond the wanted
///              band is at most 5 %.
/// Errors       those of blend_grains and blend::scatter_of; OutOfRange: no portion, one above the
///              container, a container above the batch, a wanted band that is not above 0 and below
///              1.
[[nodiscard]] Result<BlendScatterReport> blend_scatter(const BlendScatterRequest& request);

/// What is to be heeded before the chosen parts are ground or sprayed, from the materials' hazards
/// and cautions; nothing where none is chosen.
[[nodiscard]] base::Notices grinding_cautions(const BlendGrains& of,
                                              const std::function<bool(std::size_t part)>& chosen);

/// What chance alone does to portions of a blend, in two sentences for a paper: the three
/// constituents that scatter most, and what materials were reckoned without their grain sizes.
///
/// Errors       those of blend::scatter_of.
[[nodiscard]] Result<std::vector<std::string>> scatter_sentences(const BlendGrains& of,
                                                                 double portion_g, double lot_g);

/// What the user of a container is told who takes part of it, for a mixing sheet: that it may be
/// dissolved whole where shaking sorts its grains, and below which mass chance alone puts a
/// constituent beyond kPromise in more than 5 of 100 portions, where that is above the least
/// portion of the sheet and all grain sizes are stated. The three largest masses are named.
///
/// Errors       those of blend::scatter_of and blend::layering_of.
inline constexpr double kPromise = 0.02;  ///< relative; common practice
[[nodiscard]] Result<std::vector<std::string>> taking_sentences(const BlendGrains& of,
                                                                double least_portion_g);

}  // namespace bw::service
