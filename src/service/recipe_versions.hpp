// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "io/document.hpp"
#include "io/recipe_file.hpp"
#include "recipe/model.hpp"
#include "recipe/target.hpp"
#include "service/desk.hpp"

namespace bw::service {

/// A target and a recipe for it, as their files stand.
struct RecipeDraft {
    std::string product;
    std::string target;  ///< text of the file
    std::string recipe;  ///< text of the file
};

/// Takes a recipe into the books as the next version of its product, a draft.
///
/// Errors   those of the readers; NotFound for a material that is not in the books; BadInput for a
///          product's name that is not 1 to 60 letters, digits, blanks, '-' or '.', or no reason.
[[nodiscard]] Result<store::Receipt> draft_recipe(const Desk& desk, const RecipeDraft& draft,
                                                  const Intent& intent);

/// Moves a version on: offers it, takes an offer back, retires it.
[[nodiscard]] Result<store::Receipt> move_recipe(const Desk& desk, const std::string& id,
                                                 works::VersionState to, const Intent& intent);

/// Signs a version and puts it in use; the version that was in use is retired with it. Answer: the
/// content mark.
///
/// Inputs   shown: mark, or its beginning, of the version that was looked at; empty: as it is.
/// Errors   Refused where the version is not what was shown, and for a wrong password.
[[nodiscard]] Result<store::Receipt> approve_recipe(const Desk& desk, const std::string& id,
                                                    const std::string& shown,
                                                    const Signing& signing, const Intent& intent);

/// All versions of a product.
[[nodiscard]] Result<std::vector<Kept<works::RecipeVersion>>> versions_of(
    const store::Books& books, const std::string& product);

/// The bytes that an approval signs: the record without state and signature.
[[nodiscard]] std::string signed_text(works::RecipeVersion version);

/// Documents of a version's texts.
struct VersionDocuments {
    io::Document target, recipe, materials;
};
[[nodiscard]] Result<VersionDocuments> documents_of(const works::RecipeVersion& version);

/// What a version is made of, read from its texts: the parts that are weighed.
struct VersionParts {
    recipe::Target target;  ///< with goals for what it does not name
    io::RecipeFile recipe;
    std::vector<recipe::Supply> supplies;
    std::vector<double> g_per_kg_purified_water;
};
/// Errors   those of the readers; BadInput for a recipe without a part above 0, and for one that
///          was solved for another target.
[[nodiscard]] Result<VersionParts> parts_of(const works::RecipeVersion& version);

}  // namespace bw::service
