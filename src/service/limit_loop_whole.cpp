// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// The part of LimitLoop that deals in whole numbers: materials, packages and the scales' steps.
#include <algorithm>

#include <fmt/format.h>

#include "recipe/discrete.hpp"
#include "recipe/evaluate.hpp"
#include "service/limit_loop.hpp"

namespace bw::service {

using recipe::Solution;
using recipe::Verdict;

/// Cuts anew until the recipe from these materials alone holds the limits: a plain program each,
/// far cheaper than a search in whole numbers.
Result<void> LimitLoop::cut_for_materials_of(const Solution& whole) {
    std::vector<recipe::Supply> used;
    for (std::size_t j = 0; j < supplies_.size(); ++j) {
        if (whole.dose_kg_per_kg[j] > 0) {
            used.push_back(supplies_[j]);
        }
    }
    constexpr int kRounds = 12;
    for (int i = 0; i < kRounds; ++i) {
        recipe::SolveOptions options = plain_;
        options.stay_near.clear();
        auto tried = recipe::solve(target_, used, options);
        if (!tried || tried->verdict != Verdict::Solved) {
            break;  // only a help
        }
        Solution found = std::move(*tried);
        std::vector<double> doses;
        std::size_t next = 0;
        for (const double dose : whole.dose_kg_per_kg) {
            doses.push_back(dose > 0 ? found.dose_kg_per_kg[next++] : 0);
        }
        found.water = recipe::made_up_water(supplies_, target_.purified_water, doses);
        found.dose_kg_per_kg = std::move(doses);
        BW_TRY(over, cut_at(found, Keep::All));
        if (!(over > 0)) {
            break;
        }
    }
    return {};
}

Result<Solution> LimitLoop::in_whole_numbers(const Solution& plain) {
    const auto& dose = plain.dose_kg_per_kg;
    const double smallest = target_.limits.smallest_dose_kg_per_kg.value_or(0);
    const auto used = std::count_if(dose.begin(), dose.end(), [](double d) { return d > 0; });
    recipe::Target weighed = target_;
    weighed.limits.most_materials.reset();
    weighed.limits.smallest_dose_kg_per_kg.reset();
    if (!recipe::needs_whole_numbers(weighed, supplies_) &&
        used <= target_.limits.most_materials.value_or(static_cast<int>(used)) &&
        std::all_of(dose.begin(), dose.end(), [&](double d) { return d == 0 || d >= smallest; })) {
        return plain;
    }
    constexpr int kTries = 10;
    Solution out;
    for (int i = 0; i < kTries; ++i) {
        BW_TRY(found, solve_with_cuts(whole_));
        out = std::move(found);
        if (out.verdict == Verdict::Infeasible && out.notices.empty()) {
            break;  // by cuts that the plain recipe only just holds
        }
        if (out.verdict != Verdict::Solved) {
            return out;
        }
        BW_TRY(over, cut_at(out, Keep::All));
        if (!(over > 0)) {
            return out;
        }
        BW_CHECK(cut_for_materials_of(out));
    }
    out.verdict = Verdict::NotProven;
    out.dose_kg_per_kg.clear();
    out.notices.push_back(
        {"limits_not_met",
         fmt::format("There is a recipe, but none was found whose {} go with the "
                     "limits on the water: loosen one of these.",
                     target_.batch ? "number of materials, smallest doses and weighings"
                                   : "number of materials and smallest doses")});
    return out;
}

}  // namespace bw::service
