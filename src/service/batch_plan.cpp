// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/batch_plan.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "io/document_text.hpp"
#include "io/material_file.hpp"
#include "io/target_file.hpp"
#include "recipe/blend_place.hpp"
#include "recipe/evaluate.hpp"
#include "service/adjustment_reasons.hpp"
#include "service/papers.hpp"
#include "service/prediction.hpp"
#include "service/recipe_versions.hpp"
#include "service/solve_recipe.hpp"
#include "unit/factors.hpp"
#include "works/sheet.hpp"

namespace bw::service {
namespace {

constexpr std::int64_t kMostRows = 10000;  // lots, scales: what one page of the store holds
constexpr std::uint64_t kDraws = 2048;     // the prediction's uncertainty is by first order

/// An accepted lot with what is left of it.
struct Available {
    works::Lot lot;
    double left_kg = 0;
};

/// A batch's materials by lot, with doses per kg of finished water.
struct Doses {
    recipe::Target target;
    std::vector<recipe::Supply> supplies;
    std::vector<double> dose_kg_per_kg;
    std::vector<std::string> notices;
};

Result<Kept<works::RecipeVersion>> version_for(const store::Books& books,
                                               const std::string& recipe) {
    if (recipe.find('/') != std::string::npos) {
        return kept<works::RecipeVersion>(books, recipe);
    }
    store::ListQuery query;
    query.id_prefix = recipe + "/";
    query.state = name(works::VersionState::InUse);
    BW_TRY(found, kept_list<works::RecipeVersion>(books, query));
    if (found.empty()) {
        return fail(ProblemCode::NotFound,
                    fmt::format("no version of {} is in use", base::quoted(recipe)),
                    {"", 0, "recipe"});
    }
    return found.front();
}

Result<std::vector<Available>> lots_on_hand(const Desk& desk, const works::RecipeVersion& version) {
    store::ListQuery query;
    query.state = name(works::LotState::Accepted);
    query.limit = kMostRows;
    BW_TRY(lots, kept_list<works::Lot>(*desk.books, query));
    std::vector<Available> out;
    for (const auto& lot : lots) {
        const bool used =
            std::any_of(version.shares.begin(), version.shares.end(),
                        [&](const works::RecipeShare& s) { return s.material == lot.is.material; });
        if (!used || !works::may_be_weighed(lot.is, desk.day())) {
            continue;
        }
        BW_TRY(stock, kept<works::Stock>(*desk.books, lot.is.number));
        if (stock.is.left_kg() > 0) {
            out.push_back({lot.is, stock.is.left_kg()});
        }
    }
    // First in, first out.
    std::stable_sort(out.begin(), out.end(), [](const Available& a, const Available& b) {
        return a.lot.received_at < b.lot.received_at;
    });
    for (const works::RecipeShare& share : version.shares) {
        if (std::none_of(out.begin(), out.end(),
                         [&](const Available& a) { return a.lot.material == share.material; })) {
            return fail(
                ProblemCode::Refused,
                fmt::format("no lot of {} is accepted, in date and in stock", share.material));
        }
    }
    return out;
}

Result<io::Document> lots_document(const std::vector<Available>& lots) {
    std::vector<io::Node> tables;
    for (const Available& a : lots) {
        BW_TRY(document, io::parse_document(a.lot.make_up, "lot " + a.lot.number));
        io::Node table = document.root;
        io::add_text(table, "material", a.lot.material);
        io::add_text(table, "number", a.lot.number);
        io::add_text(table, "state", "accepted");
        io::add_text(table, "stock", base::format_exact(a.left_kg) + " kg");
        tables.push_back(std::move(table));
    }
    return io::document_of("lots", "lot", std::move(tables), "lots of the books");
}

Result<Doses> adjusted(const VersionDocuments& documents, const io::Document& lots,
                       const BatchOrder& order) {
    RecipeRequest request;
    request.target = documents.target;
    request.materials = {documents.materials};
    request.lots = lots;
    request.standing = documents.recipe;
    request.keep_water = true;
    request.chosen_lots = order.chosen_lots;
    request.blend_kg = order.size_kg;
    request.open_packages = order.open_packages;
    request.draws = kDraws;
    request.explain = false;
    BW_TRY(report, solve_recipe(request));
    if (!report.feasible()) {
        std::vector<std::string> why;
        if (report.conflict) {
            why = report.conflict->sentences;
        }
        base::Notices notices = report.notices;
        for (const base::Notice& n : notices) {
            why.push_back(n.text);
        }
        return fail(ProblemCode::Refused,
                    fmt::format("the lots on hand make no batch of this size within the target's "
                                "bands{}{}{}",
                                why.empty() ? "" : ": ", fmt::join(why, " "),
                                order.open_packages
                                    ? ""
                                    : " Let bags be opened, or choose a size that whole bags "
                                      "make"));
    }
    Doses out{report.target, {}, {}, {}};
    for (std::size_t j = 0; j < report.supplies.size(); ++j) {
        if (report.solution.dose_kg_per_kg[j] > 0) {
            out.supplies.push_back(report.supplies[j]);
            out.dose_kg_per_kg.push_back(report.solution.dose_kg_per_kg[j]);
        }
    }
    for (const base::Notice& n : report.notices) {
        if (n.code != "batch_mass") {  // the sheet weighs the size that was asked for
            out.notices.push_back(n.text);
        }
    }
    return out;
}

/// The recipe's own shares, each from the oldest lots that hold it.
class RecipeShares {
public:
    RecipeShares(const works::RecipeVersion& version, const BatchOrder& order,
                 const std::vector<Available>& lots)
        : version_(version), order_(order), lots_(lots) {}

    Result<Doses> doses(const VersionDocuments& documents, const io::Document& lots_file) const {
        BW_TRY(target, io::read_target(documents.target));
        BW_TRY(materials, io::read_materials(documents.materials));
        BW_TRY(placed, io::read_lots(lots_file));
        Doses out{target, {}, {}, {}};
        const double blend = version_.blend_g_per_kg_purified_water / unit::kGramPerKg;
        const double blend_per_water = blend / (1 + blend);
        for (const works::RecipeShare& share : version_.shares) {
            double missing_kg = share.share * order_.size_kg;
            for (std::size_t i = 0; i < lots_.size() && missing_kg > 0; ++i) {
                if (!may_take(share.material, lots_[i])) {
                    continue;
                }
                const double kg = std::min(missing_kg, lots_[i].left_kg);
                BW_TRY(supply, supply_of(materials, placed[i]));
                out.supplies.push_back(supply);
                out.dose_kg_per_kg.push_back(kg / order_.size_kg * blend_per_water);
                missing_kg -= kg;
            }
            if (missing_kg > kLeast_kg) {
                constexpr int kDigits = 4;
                return fail(ProblemCode::Refused,
                            fmt::format("{} kg of {} are missing in the lots that may be weighed",
                                        base::format_short(missing_kg, kDigits), share.material));
            }
        }
        recipe::add_unnamed_goals(out.target, out.supplies);
        return out;
    }

private:
    static constexpr double kLeast_kg = 1e-9;

    [[nodiscard]] bool may_take(const std::string& material, const Available& a) const {
        if (a.lot.material != material) {
            return false;
        }
        return std::all_of(order_.chosen_lots.begin(), order_.chosen_lots.end(),
                           [&](const auto& chosen) {
                               return chosen.first != material || chosen.second == a.lot.number;
                           });
    }

    static Result<recipe::Supply> supply_of(const std::vector<io::PlacedMaterial>& materials,
                                            const io::PlacedLot& lot) {
        const auto material = std::find_if(
            materials.begin(), materials.end(),
            [&](const io::PlacedMaterial& m) { return m.material.name == lot.differs.name; });
        base::expect(material != materials.end(), "lots on hand are of the recipe's materials");
        matter::Material weighed = matter::with_lot(material->material, lot.differs);
        BW_TRY(made, matter::make_up(weighed));
        return recipe::Supply{std::move(weighed), std::move(made)};
    }

    const works::RecipeVersion& version_;
    const BatchOrder& order_;
    const std::vector<Available>& lots_;
};

std::vector<works::Portion> portions_of(const Doses& doses) {
    double blend = 0;
    for (const double dose : doses.dose_kg_per_kg) {
        blend += dose;
    }
    std::vector<works::Portion> out;
    for (std::size_t j = 0; j < doses.supplies.size(); ++j) {
        const matter::Material& m = doses.supplies[j].material;
        std::vector<std::string> cautions = m.cautions;
        cautions.insert(cautions.end(), m.hazards.begin(), m.hazards.end());
        out.push_back({m.name, m.lot, doses.dose_kg_per_kg[j] / blend,
                       recipe::draws_water(doses.supplies[j]), cautions,
                       recipe::company_of(doses.supplies[j])});
    }
    return out;
}

/// What of a material is in the batch, as its first lot holds it, beside its share in the recipe.
std::vector<AdjustedMaterial> adjusted_materials(const works::RecipeVersion& version,
                                                 const VersionParts& parts, const Doses& doses) {
    const double blend = version.blend_g_per_kg_purified_water / unit::kGramPerKg;
    std::vector<AdjustedMaterial> out;
    for (std::size_t i = 0; i < parts.supplies.size(); ++i) {
        AdjustedMaterial material{parts.supplies[i], version.shares[i].share * blend / (1 + blend)};
        for (std::size_t j = 0; j < doses.supplies.size(); ++j) {
            if (doses.supplies[j].material.name == parts.supplies[i].material.name) {
                if (material.batch_kg_per_kg == 0) {
                    material.as_weighed = doses.supplies[j];
                }
                material.batch_kg_per_kg += doses.dose_kg_per_kg[j];
            }
        }
        out.push_back(std::move(material));
    }
    return out;
}

Result<std::vector<works::ShareChange>> changes_of(const works::RecipeVersion& version,
                                                   const Doses& doses) {
    BW_TRY(parts, parts_of(version));
    const std::vector<AdjustedMaterial> materials = adjusted_materials(version, parts, doses);
    const recipe::MadeUpWater standing = recipe::made_up_water(
        parts.supplies, parts.target.purified_water, doses_of_parts(parts.g_per_kg_purified_water));
    const std::vector<std::string> reasons =
        adjustment_reasons(recipe::aiming_at(doses.target, standing), materials);
    const double blend =
        std::accumulate(doses.dose_kg_per_kg.begin(), doses.dose_kg_per_kg.end(), 0.0);
    std::vector<works::ShareChange> out;
    for (std::size_t i = 0; i < materials.size(); ++i) {
        const works::RecipeShare& share = version.shares[i];
        const double in_batch = materials[i].batch_kg_per_kg / blend;
        if (std::abs(in_batch - share.share) > works::kChangedShare * share.share) {
            out.push_back({share.material, share.share, in_batch,
                           reasons[i].empty() ? std::nullopt : std::optional(reasons[i])});
        }
    }
    return out;
}

/// Of each constituent, what each line of the sheet brings, weighed to its target.
std::vector<works::ElementShare> element_shares(const Doses& doses,
                                                const std::vector<works::Addition>& additions) {
    std::vector<works::ElementShare> out;
    for (const recipe::ConstituentGoal& goal : doses.target.constituents) {
        works::ElementShare share{std::string(goal.constituent.symbol()), {}};
        double total = 0;
        for (const works::Addition& a : additions) {
            const auto supply = std::find_if(
                doses.supplies.begin(), doses.supplies.end(), [&](const recipe::Supply& s) {
                    return s.material.name == a.material && s.material.lot == a.lot;
                });
            base::expect(supply != doses.supplies.end(), "additions are of the batch's supplies");
            share.by_step.push_back(a.target_kg * supply->make_up.mol_per_kg[goal.constituent]);
            total += share.by_step.back();
        }
        for (double& part : share.by_step) {
            part = total != 0 ? part / total : 0;
        }
        out.push_back(std::move(share));
    }
    return out;
}

Result<std::vector<works::Scale>> scales_of(const store::Books& books) {
    store::ListQuery query;
    query.limit = kMostRows;
    BW_TRY(scales, kept_list<works::Scale>(books, query));
    std::vector<works::Scale> out;
    out.reserve(scales.size());
    for (const auto& s : scales) {
        out.push_back(s.is);
    }
    return out;
}

Result<works::Batch> batch_of(const Desk& desk, const works::RecipeVersion& version,
                              const BatchOrder& order) {
    BW_TRY(documents, documents_of(version));
    BW_TRY(lots, lots_on_hand(desk, version));
    BW_TRY(file, lots_document(lots));
    BW_TRY(doses, order.as_recipe ? RecipeShares(version, order, lots).doses(documents, file)
                                  : adjusted(documents, file, order));
    BW_TRY(scales, scales_of(*desk.books));
    const std::vector<works::Portion> portions = portions_of(doses);
    BW_TRY(sheet, works::sheet_for(portions, order.size_kg, scales, desk.day()));
    works::Batch batch;
    batch.recipe = version.id();
    batch.product = version.product;
    batch.size_kg = order.size_kg;
    batch.planned_by = desk.person.id;
    batch.planned_at = desk.at;
    batch.additions = sheet.additions;
    batch.premix_carrier = sheet.premix_carrier;
    batch.premix = sheet.premix;
    batch.late_premix = sheet.late_premix;
    if (!order.as_recipe) {
        BW_TRY(changes, changes_of(version, doses));
        batch.changes = std::move(changes);
    }
    batch.water = predicted_water(doses.target, doses.supplies, doses.dose_kg_per_kg);
    batch.shares = element_shares(doses, batch.additions);
    double dose = 0;
    for (const double d : doses.dose_kg_per_kg) {
        dose += d;
    }
    batch.blend_g_per_kg_purified_water = dose / (1 - dose) * unit::kGramPerKg;
    batch.rework_of = order.rework_of;
    batch.notices = doses.notices;
    batch.notices.insert(batch.notices.end(), sheet.notices.begin(), sheet.notices.end());
    batch.invented = version.invented;
    return batch;
}

}  // namespace

Result<store::Receipt> plan_batch(const Desk& desk, const BatchOrder& order, const Intent& intent) {
    BW_CHECK(works::duty_for(desk.person, works::Deed::PlanBatch));
    constexpr double kLargest_kg = 1e5;  // beyond any blender
    if (!(order.size_kg > 0) || order.size_kg > kLargest_kg) {
        return fail(ProblemCode::OutOfRange, "a batch is above 0 and at most 100 000 kg",
                    {"", 0, "size"});
    }
    BW_TRY(version, version_for(*desk.books, order.recipe));
    if (version.is.state != works::VersionState::InUse) {
        return fail(ProblemCode::Refused,
                    fmt::format("recipe {} is {}: batches are made of versions in use",
                                version.is.id(), name(version.is.state)));
    }
    BW_TRY(planned, batch_of(desk, version.is, order));
    return act(desk, {works::Deed::PlanBatch, "batch plan", kKind<works::Batch>, ""}, intent,
               [&](store::Change& change) -> Result<void> {
                   BW_TRY(number, next_identifier(desk, "B", change));
                   planned.number = number;
                   change.act.subject_id = number;
                   change.writes.push_back(write_of(planned, 0));
                   change.expects.push_back(expect_same(version));
                   change.answer = number;
                   return {};
               });
}

Result<store::Receipt> approve_adjustment(const Desk& desk, const std::string& number,
                                          const Signing& signing, const Intent& intent) {
    return act(desk, {works::Deed::ApproveAdjustment, "batch approve", kKind<works::Batch>, number},
               intent, [&](store::Change& change) -> Result<void> {
                   BW_TRY(batch, kept<works::Batch>(*desk.books, number));
                   if (!signing.shown.empty()) {
                       BW_TRY(mark, content_mark(*desk.books, kKind<works::Batch>, number));
                       BW_CHECK(check_shown(
                           {signing.shown, fmt::format("batch {} as it is now", number)}, mark));
                   }
                   if (batch.is.changes.empty()) {
                       return fail(ProblemCode::Refused,
                                   fmt::format("batch {} follows its recipe: there is no change to "
                                               "approve",
                                               number));
                   }
                   if (batch.is.adjustment_approved) {
                       return fail(ProblemCode::Refused,
                                   fmt::format("the change of batch {} is approved already by {}",
                                               number, batch.is.adjustment_approved->name));
                   }
                   if (batch.is.planned_by == desk.person.id) {
                       return fail(ProblemCode::Refused,
                                   fmt::format("{} planned batch {}: somebody else approves its "
                                               "change",
                                               desk.person.id, number));
                   }
                   BW_TRY(signature,
                          sign(desk, works::Deed::ApproveAdjustment, "lot adjustment approved",
                               signing, record_text(batch.is)));
                   batch.is.adjustment_approved = signature;
                   change.writes.push_back(write_of(batch.is, batch.version));
                   return {};
               });
}

}  // namespace bw::service
