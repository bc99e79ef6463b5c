// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/target_limits.hpp"

namespace bw::io {

using recipe::Target;
using unit::Dimension;

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
