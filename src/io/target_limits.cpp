// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/target_limits.hpp"

#include <utility>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"

namespace bw::io {

using recipe::Target;
using unit::Dimension;

namespace {

/// Numbers of a ratio must be above 0 and within reason.
Result<void> check_bounds(const Fields& table, const recipe::RatioGoal& ratio) {
    constexpr double kFarthest = 1e9;  // water holds no two things farther apart
    for (const auto& [key, bound] : {std::pair{"low", ratio.low}, std::pair{"high", ratio.high},
                                     std::pair{"target", ratio.target}}) {
        if (bound && !(*bound > 0)) {
            return table.bad(key, "a ratio's numbers must be above 0", ProblemCode::OutOfRange);
        }
        if (bound && (*bound < 1 / kFarthest || *bound > kFarthest)) {
            return table.bad(key,
                             fmt::format("a ratio of {} is beyond reason: ratios are from 1e-9 to "
                                         "1e9",
                                         base::format_significant(*bound, 4)),
                             ProblemCode::OutOfRange);
        }
    }
    return {};
}

}  // namespace

Result<recipe::RatioGoal> read_ratio(const Fields& table) {
    BW_CHECK(table.allow({"of", "low", "high", "target", "basis", "priority", "note"}));
    BW_TRY(of, table.required_text("of"));
    const auto slash = of.find('/');
    if (slash == std::string::npos) {
        return table.bad("of", fmt::format("{} is not a ratio: write, for example, of = \"Mg/Ca\"",
                                           base::quoted(of)));
    }
    recipe::RatioGoal out;
    const auto numerator =
        matter::require_constituent(base::trim(std::string_view(of).substr(0, slash)));
    const auto denominator =
        matter::require_constituent(base::trim(std::string_view(of).substr(slash + 1)));
    for (const auto& side : {numerator, denominator}) {
        if (!side) {
            return table.placed("of", side.error());
        }
    }
    if (*numerator == *denominator) {
        return table.bad("of",
                         fmt::format("the ratio of {} to itself is always 1", numerator->symbol()));
    }
    out.numerator = *numerator;
    out.denominator = *denominator;
    BW_TRY(basis, table.text("basis"));
    if (basis && *basis != "mol" && *basis != "mass") {
        return table.bad("basis", fmt::format("{} is not a basis: write \"mol\" or \"mass\"",
                                              base::quoted(*basis)));
    }
    out.by_mass = basis && *basis == "mass";
    BW_TRY(low, table.number("low"));
    BW_TRY(high, table.number("high"));
    BW_TRY(wanted, table.number("target"));
    BW_TRY(priority, table.whole_number("priority", 1, kLowestPriority));
    out.low = low;
    out.high = high;
    out.target = wanted;
    out.priority = priority.value_or(recipe::kDefaultPriority);
    if (!low && !high && !wanted) {
        return table.bad("", "the ratio has neither low, nor high, nor target");
    }
    BW_CHECK(check_bounds(table, out));
    if (low && high && *low > *high) {
        return table.bad("low", "low of the ratio is above its high", ProblemCode::OutOfRange);
    }
    if (wanted && ((low && *wanted < *low) || (high && *wanted > *high))) {
        return table.bad("target", "the ratio's target does not lie between its low and its high",
                         ProblemCode::OutOfRange);
    }
    return out;
}

Result<void> read_limits(const Fields& root, Target& target) {
    BW_TRY(limits, root.table("limits"));
    if (limits) {
        BW_CHECK(limits->allow({"most_materials", "smallest_dose", "note"}));
        constexpr int kMost = 200;
        BW_TRY(most, limits->whole_number("most_materials", 1, kMost));
        target.limits.most_materials = most;
        BW_TRY(dose, limits->value_in("smallest_dose", Dimension::MassPerMass));
        target.limits.smallest_dose_kg_per_kg = dose;
    }
    BW_TRY(batch, root.table("batch"));
    if (batch) {
        BW_CHECK(
            batch->allow({"blend", "blend_swing", "smallest_weighing", "weighing_step", "note"}));
        recipe::Batch out;
        BW_TRY(blend, batch->value_in("blend", Dimension::Mass));
        if (!blend || !(*blend > 0)) {
            return batch->bad(blend ? "blend" : "",
                              "blend, the mass of the batch, is needed and must be above 0");
        }
        out.blend_kg = *blend;
        BW_TRY(swing, batch->value_in("blend_swing", Dimension::Fraction));
        constexpr double kLargestSwing = 0.2;
        if (swing && *swing > kLargestSwing) {
            return batch->bad("blend_swing", "the swing of the batch may be at most 20 %",
                              ProblemCode::OutOfRange);
        }
        out.blend_swing = swing.value_or(0);
        BW_TRY(smallest, batch->value_in("smallest_weighing", Dimension::Mass));
        BW_TRY(step, batch->value_in("weighing_step", Dimension::Mass));
        if (step && !(*step > 0)) {
            return batch->bad("weighing_step", "a weighing step must be above 0",
                              ProblemCode::OutOfRange);
        }
        out.smallest_weighing_kg = smallest;
        out.weighing_step_kg = step;
        target.batch = out;
    }
    return {};
}

}  // namespace bw::io
