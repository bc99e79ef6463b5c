// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "service/shown_amount.hpp"
#include "store/books.hpp"
#include "works/batch.hpp"
#include "works/recipe_version.hpp"

namespace bw::service {

/// A goal of the target beside the water that is predicted: what is read before it is approved.
struct GoalRow {
    std::string what;                         ///< "Mg", "Mg/Ca by mass", "salinity"
    std::string unit;                         ///< in which the target speaks of it; empty: a ratio
    std::optional<double> target, low, high;  ///< in that unit; none: not asked for
    double achieved = 0;
    std::optional<double> u;  ///< standard uncertainty of the materials' certificates; none: not
                              ///< worked out
    bool inside = true;       ///< the predicted value itself keeps low and high
    std::optional<double> chance_inside = {};  ///< where it is worked out
    double per_mol_per_kg = 0;   ///< number in its unit per mol (eq) per kg; 0: no constituent
    ShownUnit certificate = {};  ///< in which a certificate has it; no unit: no constituent
};

/// What is predicted of a version, or of a batch of it from the lots in hand, against the version's
/// target: the salinity, the constituents that the target names, the ratios.
///
/// Accuracy  chance_inside: of a normal distribution with u where that is above 0, each goal for
///           itself.
/// Errors    those of reading the version's target; UnknownName.
[[nodiscard]] Result<std::vector<GoalRow>> water_against_target(
    const works::RecipeVersion& version, std::span<const works::Predicted> water);

/// The same of the version's own water, with the uncertainty of salinity and ratios too and the
/// chances by as many draws as a solve takes: the figures that the solve showed.
[[nodiscard]] Result<std::vector<GoalRow>> water_against_target(
    const works::RecipeVersion& version);

/// The version in use that approving this one retires; and, once it is approved, the one that was
/// in use before it and is retired. "Product/2", or empty.
struct Succession {
    std::string replaces;
    std::string replaced;
};
[[nodiscard]] Succession succession_of(const works::RecipeVersion& version,
                                       std::span<const works::RecipeVersion> of_product);
/// The same, of the books.
[[nodiscard]] Result<Succession> succession_of(const store::Books& books,
                                               const works::RecipeVersion& version);

/// That a version is retired, and which one of its product is in use; empty for any other.
[[nodiscard]] std::string retired_words(const works::RecipeVersion& version,
                                        std::span<const works::RecipeVersion> of_product);
[[nodiscard]] Result<std::string> retired_words(const store::Books& books,
                                                const works::RecipeVersion& version);

}  // namespace bw::service
