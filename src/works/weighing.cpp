// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "works/weighing.hpp"

#include <array>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"

namespace bw::works {
namespace {

constexpr int kDigits = 7;
/// Of a tolerance: what decimal masses may be off in doubles.
constexpr double kRoundOff = 1e-6;

}  // namespace

std::string_view name(WeighingVerdict verdict) {
    constexpr std::array<std::string_view, kWords<WeighingVerdict>> kNames = {"within", "short",
                                                                              "over"};
    return kNames.at(static_cast<std::size_t>(verdict));
}

AdditionState state_of(const Addition& addition, std::span<const Weighing> weighings) {
    AdditionState out;
    for (const Weighing& w : weighings) {
        if (w.step == addition.step) {
            out.weighed_kg += w.net_kg;
            ++out.parts;
        }
    }
    out.off_kg = out.weighed_kg - addition.target_kg;
    const double allowed = addition.tolerance_kg * (1 + kRoundOff);
    if (std::abs(out.off_kg) <= allowed) {
        out.verdict = WeighingVerdict::Within;
    } else {
        out.verdict = out.off_kg < 0 ? WeighingVerdict::Short : WeighingVerdict::Over;
    }
    return out;
}

Result<void> may_record(const Batch& batch, const Addition& addition,
                        std::span<const Weighing> before, const Weighing& next,
                        double capacity_kg) {
    const std::string where = fmt::format("batch {}, step {}", batch.number, addition.step);
    if (batch.state != BatchState::Planned && batch.state != BatchState::Weighing) {
        return fail(ProblemCode::Refused,
                    fmt::format("batch {} is {}: nothing is weighed for it any more", batch.number,
                                name(batch.state)));
    }
    if (!batch.changes.empty() && !batch.adjustment_approved) {
        return fail(ProblemCode::Refused,
                    fmt::format("batch {} is changed for its lots and not approved yet: "
                                "its lot adjustment is approved first",
                                batch.number));
    }
    if (next.material != addition.material || next.lot != addition.lot) {
        return fail(ProblemCode::Refused,
                    fmt::format("{}: {} of {} is wanted, and {} of {} is on the scale", where,
                                addition.lot, addition.material, next.lot, next.material));
    }
    if (!(next.net_kg > 0)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("{}: a net mass is above 0, and {} was typed", where,
                                base::quoted(next.net)),
                    {"", 0, "net"});
    }
    if (next.net_kg > capacity_kg) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("{}: {} kg is above what scale {} carries, {} kg; weigh it in "
                                "parts, or check the unit",
                                where, base::format_short(next.net_kg, kDigits), next.scale,
                                base::format_short(capacity_kg, kDigits)),
                    {"", 0, "net"});
    }
    const AdditionState state = state_of(addition, before);
    if (state.parts > 0 && state.verdict != WeighingVerdict::Short) {
        return fail(ProblemCode::Refused,
                    fmt::format("{}: {} kg of {} are in already, which is {}; raise a departure if "
                                "more went in",
                                where, base::format_short(state.weighed_kg, kDigits),
                                addition.material, name(state.verdict)));
    }
    return {};
}

double weighed_in_kg(std::span<const Weighing> weighings) {
    double out = 0;
    for (const Weighing& w : weighings) {
        out += w.net_kg;
    }
    return out;
}

double came_out_kg(const Yield& yield) {
    return yield.packed_kg + yield.sampled_kg + yield.swept_kg;
}

Result<void> check_yield(const Batch& batch, const Yield& yield,
                         std::span<const Weighing> weighings, std::string_view why) {
    if (batch.state == BatchState::Planned || batch.state == BatchState::Weighing) {
        return fail(ProblemCode::Refused,
                    fmt::format("batch {} is {}: its yield is taken down once it is blended",
                                batch.number, name(batch.state)));
    }
    if (batch.yield) {
        return fail(ProblemCode::Refused,
                    fmt::format("the yield of batch {} is taken down already", batch.number));
    }
    if (!(yield.packed_kg >= 0) || !(yield.sampled_kg >= 0) || !(yield.swept_kg >= 0) ||
        yield.packs < 0) {
        return fail(ProblemCode::OutOfRange, "nothing of a yield is below 0", {"", 0, "packed"});
    }
    const double in_kg = weighed_in_kg(weighings), out_kg = came_out_kg(yield);
    if (out_kg > kMostYieldGain * in_kg) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("batch {}: {} kg came out of {} kg that went in; check the masses "
                                "and their units",
                                batch.number, base::format_short(out_kg, kDigits),
                                base::format_short(in_kg, kDigits)),
                    {"", 0, "packed"});
    }
    constexpr double kUsualLoss = 0.03;  // our rule: dust, what sticks to the blender
    if (in_kg - out_kg > kUsualLoss * in_kg && base::trim(why).empty()) {
        return fail(ProblemCode::BadInput,
                    fmt::format("{} kg of the {} kg weighed in are not explained: look at the "
                                "masses, or give the reason if they are right",
                                base::format_short(in_kg - out_kg, kDigits),
                                base::format_short(in_kg, kDigits)),
                    {"", 0, "why"});
    }
    return {};
}

}  // namespace bw::works
