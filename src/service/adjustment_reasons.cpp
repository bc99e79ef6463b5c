// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/adjustment_reasons.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "recipe/evaluate.hpp"
#include "unit/factors.hpp"

namespace bw::service {
namespace {

/// Relative to the target; what no sheet or analysis would show is no reason. Ours, as are the two
/// below.
constexpr double kFelt = 5e-4;
/// Of a constituent's aim; a material that brings less of it is not weighed for it.
constexpr double kBringsSome = 0.05;

class Reasons {
public:
    Reasons(const recipe::Target& target, const std::vector<AdjustedMaterial>& materials)
        : materials_(materials) {
        std::vector<recipe::Supply> supplies;
        std::vector<double> doses;
        for (const AdjustedMaterial& m : materials) {
            supplies.push_back(m.as_weighed);
            doses.push_back(m.recipe_kg_per_kg);
        }
        const matter::Amounts by_recipe =
            recipe::made_up_water(supplies, target.purified_water, doses).mol_per_kg;
        for (const recipe::ConstituentGoal& goal : target.constituents) {
            if (goal.target && *goal.target > 0) {
                goals_.push_back({goal.constituent, *goal.target,
                                  by_recipe[goal.constituent] / *goal.target - 1});
            }
        }
    }

    [[nodiscard]] std::string of(std::size_t j) const {
        const auto [miss, moved] = served(j);
        if (miss != nullptr) {
            return fmt::format("{} would be {} % {} by the recipe's shares",
                               miss->constituent.symbol(),
                               base::format_significant(std::abs(miss->miss) * unit::kPercent, 2),
                               miss->miss < 0 ? "low" : "high");
        }
        return moved == nullptr ? "" : balance(j, *moved);
    }

private:
    struct Goal {
        matter::Constituent constituent;
        double target;
        double miss;  ///< of the recipe's own shares in these lots, relative
    };

    /// The goal whose miss a material's change takes most off, and the one that it moves most; none
    /// where neither would be felt.
    [[nodiscard]] std::pair<const Goal*, const Goal*> served(std::size_t j) const {
        std::pair<const Goal*, const Goal*> out{nullptr, nullptr};
        double most_served = kFelt;
        double most_moved = kFelt;
        for (const Goal& goal : goals_) {
            if (brought_by(j, goal) < kBringsSome) {
                continue;
            }
            const double effect = effect_of(j, goal);
            const double took_off = std::abs(goal.miss) - std::abs(goal.miss + effect);
            if (took_off > most_served) {
                most_served = took_off;
                out.first = &goal;
            }
            if (std::abs(effect) > most_moved) {
                most_moved = std::abs(effect);
                out.second = &goal;
            }
        }
        return out;
    }

    /// By what the material is bought for, of the aim, with the larger of both doses.
    [[nodiscard]] double brought_by(std::size_t j, const Goal& goal) const {
        const AdjustedMaterial& m = materials_[j];
        return std::max(m.batch_kg_per_kg, m.recipe_kg_per_kg) *
               m.as_weighed.meant_mol_per_kg()[goal.constituent] / goal.target;
    }

    [[nodiscard]] double effect_of(std::size_t j, const Goal& goal) const {
        const AdjustedMaterial& m = materials_[j];
        return (m.batch_kg_per_kg - m.recipe_kg_per_kg) *
               m.as_weighed.make_up.mol_per_kg[goal.constituent] / goal.target;
    }

    /// What a change that meets no miss by itself is for: the change of one other material that
    /// moves the constituent by as much the other way, or none that could be named.
    [[nodiscard]] std::string balance(std::size_t j, const Goal& goal) const {
        constexpr double kMostOfIt = 0.5;  // of the own effect
        const double own = effect_of(j, goal);
        std::size_t other = j;
        double most = kMostOfIt * std::abs(own);
        for (std::size_t k = 0; k < materials_.size(); ++k) {
            const double against = -effect_of(k, goal) * (own < 0 ? -1 : 1);
            if (k != j && against > most && served(k).first != nullptr) {
                most = against;
                other = k;
            }
        }
        return other == j
                   ? fmt::format("keeps {} with the other changes", goal.constituent.symbol())
                   : fmt::format(
                         "balances the {} that the change of {} {}", goal.constituent.symbol(),
                         materials_[other].as_weighed.material.name, own < 0 ? "brings" : "takes");
    }

    const std::vector<AdjustedMaterial>& materials_;
    std::vector<Goal> goals_;
};

}  // namespace

std::vector<std::string> adjustment_reasons(const recipe::Target& target,
                                            const std::vector<AdjustedMaterial>& materials) {
    const Reasons reasons(target, materials);
    std::vector<std::string> out;
    for (std::size_t j = 0; j < materials.size(); ++j) {
        const AdjustedMaterial& m = materials[j];
        out.push_back(m.batch_kg_per_kg == m.recipe_kg_per_kg ? "" : reasons.of(j));
    }
    return out;
}

}  // namespace bw::service
