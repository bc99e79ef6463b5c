// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/recipe_versions.hpp"

#include <algorithm>
#include <numeric>

#include <fmt/format.h>

#include "base/program.hpp"
#include "base/text.hpp"
#include "io/document_text.hpp"
#include "io/target_file.hpp"
#include "recipe/evaluate.hpp"
#include "ref/tables.hpp"
#include "service/papers.hpp"
#include "service/prediction.hpp"
#include "service/recipe_supplies.hpp"
#include "store/digest.hpp"
#include "unit/factors.hpp"

namespace bw::service {
namespace {

constexpr std::size_t kLongestName = 60;
constexpr std::int64_t kMostVersions = 1000;  // of one product, all of which are looked at

Result<void> check_product(const std::string& product) {
    const bool fits = !product.empty() && product.size() <= kLongestName &&
                      product.front() != ' ' && product.back() != ' ' &&
                      std::all_of(product.begin(), product.end(), [](char c) {
                          return base::is_lower(c) || base::is_upper(c) || base::is_digit(c) ||
                                 c == ' ' || c == '-' || c == '.';
                      });
    if (!fits) {
        return fail(ProblemCode::BadInput,
                    fmt::format("{} is no name of a product: write 1 to 60 letters, digits, "
                                "blanks, '-' or '.'",
                                base::quoted(product)),
                    {"", 0, "product"});
    }
    return {};
}

/// The materials of the books that a recipe's parts name, as one document.
Result<std::string> materials_text(const store::Books& books, const io::RecipeFile& recipe) {
    std::vector<io::Node> tables;
    std::vector<std::string> seen;
    for (const io::RecipePart& part : recipe.parts) {
        if (std::find(seen.begin(), seen.end(), part.material) != seen.end()) {
            continue;
        }
        seen.push_back(part.material);
        BW_TRY(material, if_kept<works::Material>(books, part.material));
        if (!material) {
            return fail(ProblemCode::NotFound,
                        fmt::format("{} is not among the materials of the books: keep "
                                    "the material first",
                                    base::quoted(part.material)),
                        part.place);
        }
        BW_TRY(document, io::parse_document(material->is.text, part.material));
        tables.push_back(document.root);
    }
    return io::json_text(
        io::document_of("materials", "material", std::move(tables), "materials").root);
}

/// Fills in what the recipe makes.
Result<void> predict(works::RecipeVersion& version) {
    BW_TRY(parts, parts_of(version));
    const std::vector<double>& grams = parts.g_per_kg_purified_water;
    const double blend = std::accumulate(grams.begin(), grams.end(), 0.0);
    for (std::size_t i = 0; i < parts.supplies.size(); ++i) {
        const matter::Material& m = parts.supplies[i].material;
        version.shares.push_back({m.name, grams[i] / blend, m.formula, m.hazards, m.cautions});
    }
    const std::vector<double> doses = doses_of_parts(grams);
    version.water = predicted_water(parts.target, parts.supplies, doses);
    version.blend_g_per_kg_purified_water = blend;
    version.dissolved_g_per_kg =
        recipe::made_up_water(parts.supplies, parts.target.purified_water, doses)
            .dissolved_g_per_kg;
    version.invented = parts.target.invented;
    return {};
}

}  // namespace

Result<std::vector<Kept<works::RecipeVersion>>> versions_of(const store::Books& books,
                                                            const std::string& product) {
    store::ListQuery query;
    query.id_prefix = product + "/";
    query.limit = kMostVersions;
    return kept_list<works::RecipeVersion>(books, query);
}

Result<store::Receipt> draft_recipe(const Desk& desk, const RecipeDraft& draft,
                                    const Intent& intent) {
    BW_CHECK(works::duty_for(desk.person, works::Deed::DraftRecipe));
    BW_CHECK(check_product(draft.product));
    if (base::trim(intent.why).empty()) {
        return fail(ProblemCode::BadInput, "a recipe version needs its reason", {"", 0, "why"});
    }
    works::RecipeVersion version;
    version.product = draft.product;
    version.target = draft.target;
    version.recipe = draft.recipe;
    version.drafted_by = desk.person.id;
    version.why = intent.why;
    version.program = std::string(base::kProgramVersion);
    version.data_digest = std::string(ref::data_digest());
    BW_TRY(recipe_document, io::parse_document(draft.recipe, "recipe"));
    BW_TRY(recipe, io::read_recipe(recipe_document));
    BW_TRY(materials, materials_text(*desk.books, recipe));
    version.materials = materials;
    BW_CHECK(predict(version));
    return act(
        desk, {works::Deed::DraftRecipe, "recipe keep", kKind<works::RecipeVersion>, draft.product},
        intent, [&](store::Change& change) -> Result<void> {
            BW_TRY(before, versions_of(*desk.books, draft.product));
            version.number = 1;
            for (const auto& v : before) {
                version.number = std::max(version.number, v.is.number + 1);
            }
            change.act.subject_id = version.id();
            change.writes.push_back(write_of(version, 0));
            change.answer = version.id();
            return {};
        });
}

Result<store::Receipt> move_recipe(const Desk& desk, const std::string& id, works::VersionState to,
                                   const Intent& intent) {
    const bool retires = to == works::VersionState::Retired;
    const works::Deed deed = retires ? works::Deed::ApproveRecipe : works::Deed::DraftRecipe;
    const std::string_view verb = retires                              ? "recipe retire"
                                  : to == works::VersionState::Offered ? "recipe offer"
                                                                       : "recipe take back";
    return act(desk, {deed, verb, kKind<works::RecipeVersion>, id}, intent,
               [&](store::Change& change) -> Result<void> {
                   BW_TRY(version, kept<works::RecipeVersion>(*desk.books, id));
                   BW_TRY(next, works::moved(version.is, to));
                   change.writes.push_back(write_of(next, version.version));
                   return {};
               });
}

std::string signed_text(works::RecipeVersion version) {
    version.state = works::VersionState::Offered;
    version.approved.reset();
    return record_text(version);
}

Result<store::Receipt> approve_recipe(const Desk& desk, const std::string& id,
                                      const std::string& shown, const Signing& signing,
                                      const Intent& intent) {
    return act(
        desk, {works::Deed::ApproveRecipe, "recipe approve", kKind<works::RecipeVersion>, id},
        intent, [&](store::Change& change) -> Result<void> {
            BW_TRY(version, kept<works::RecipeVersion>(*desk.books, id));
            const std::string text = signed_text(version.is);
            if (!shown.empty()) {
                BW_CHECK(check_shown({shown, "recipe " + id}, store::sha256_hex(text)));
            }
            BW_TRY(signature,
                   sign(desk, works::Deed::ApproveRecipe, "approved for use", signing, text));
            version.is.approved = signature;
            BW_TRY(next, works::moved(version.is, works::VersionState::InUse));
            change.writes.push_back(write_of(next, version.version));
            BW_TRY(others, versions_of(*desk.books, next.product));
            for (const auto& other : others) {
                if (other.is.state == works::VersionState::InUse &&
                    other.is.number != next.number) {
                    BW_TRY(retired, works::moved(other.is, works::VersionState::Retired));
                    change.writes.push_back(write_of(retired, other.version));
                }
            }
            change.answer = signature.mark;
            return {};
        });
}

Result<VersionDocuments> documents_of(const works::RecipeVersion& version) {
    BW_TRY(target, io::parse_document(version.target, version.id() + " target"));
    BW_TRY(recipe, io::parse_document(version.recipe, version.id() + " recipe"));
    BW_TRY(materials, io::parse_document(version.materials, version.id() + " materials"));
    return VersionDocuments{std::move(target), std::move(recipe), std::move(materials)};
}

Result<VersionParts> parts_of(const works::RecipeVersion& version) {
    BW_TRY(documents, documents_of(version));
    BW_TRY(target, io::read_target(documents.target));
    BW_TRY(read, recipe_supplies(documents.recipe, {documents.materials}));
    VersionParts out{std::move(target), std::move(read.recipe), {}, {}};
    for (std::size_t i = 0; i < read.materials.size(); ++i) {
        const double grams = out.recipe.parts[i].g_per_kg_purified_water;
        if (grams > 0) {
            out.supplies.push_back({read.materials[i].material, read.materials[i].make_up});
            out.g_per_kg_purified_water.push_back(grams);
        }
    }
    if (out.supplies.empty()) {
        return fail(ProblemCode::BadInput, "the recipe has no part above 0",
                    {documents.recipe.name, 0, "part"});
    }
    if (!out.recipe.target.empty() && out.recipe.target != out.target.name) {
        return fail(ProblemCode::BadInput,
                    fmt::format("the recipe was solved for the target {}, and the target given is "
                                "{}: give the one it was solved for",
                                base::quoted(out.recipe.target), base::quoted(out.target.name)),
                    {"", 0, "target"});
    }
    recipe::add_unnamed_goals(out.target, out.supplies);
    return out;
}

}  // namespace bw::service
