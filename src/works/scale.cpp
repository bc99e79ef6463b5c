// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "works/scale.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

namespace bw::works {
namespace {

constexpr double kLeastFactor = 2000;        // USP <41>, see the header
constexpr double kRoundOffOfStep = 0.41;     // the same
constexpr double kToleranceOfTarget = 1e-3;  // common practice
constexpr double kMicrograms = 1e9;          // per kg: finer than any scale of a works
constexpr double kSlack = 1e-9;              // of a step, for round-off
constexpr double kDecimalSlack = 1e-6;       // of a step: what sums of decimals are off in doubles

bool serves(const Scale& scale, std::string_view day) {
    return scale.state == ServiceState::InService &&
           (scale.checked_until.empty() || scale.checked_until >= day);
}

}  // namespace

std::string_view name(ServiceState state) {
    constexpr std::array<std::string_view, kWords<ServiceState>> kNames = {"in service", "due",
                                                                           "out of service"};
    return kNames.at(static_cast<std::size_t>(state));
}

double least_well_weighed_kg(const Scale& scale) {
    return kLeastFactor * std::max(scale.repeatability_kg, kRoundOffOfStep * scale.step_kg);
}

Result<Scale> scale_for(double mass_kg, std::span<const Scale> scales, std::string_view day) {
    const Scale* best = nullptr;
    const Scale* finest = nullptr;
    const Scale* largest = nullptr;
    for (const Scale& scale : scales) {
        if (!serves(scale, day)) {
            continue;
        }
        if (largest == nullptr || scale.capacity_kg > largest->capacity_kg) {
            largest = &scale;
        }
        if (scale.capacity_kg < mass_kg) {
            continue;
        }
        if (finest == nullptr || scale.step_kg < finest->step_kg) {
            finest = &scale;
        }
        if (least_well_weighed_kg(scale) <= mass_kg &&
            (best == nullptr || scale.step_kg > best->step_kg)) {
            best = &scale;
        }
    }
    if (largest == nullptr) {
        return fail(ProblemCode::Refused,
                    fmt::format("no scale is in service and within its check on {}: register a "
                                "scale first, or have one checked",
                                day));
    }
    return best != nullptr ? *best : finest != nullptr ? *finest : *largest;
}

std::int64_t parts_of(double mass_kg, const Scale& scale) {
    return static_cast<std::int64_t>(
        std::max(1.0, std::ceil(mass_kg / scale.capacity_kg - kSlack)));
}

double weighing_tolerance_kg(double target_kg, const Scale& scale) {
    const auto parts = static_cast<double>(parts_of(target_kg, scale));
    const double steps = std::round(kToleranceOfTarget * target_kg / scale.step_kg);
    return scale.step_kg * std::max(parts, steps);
}

double on_steps(double mass_kg, const Scale& scale) {
    const double kg = std::round(mass_kg / scale.step_kg) * scale.step_kg;
    return std::round(kg * kMicrograms) / kMicrograms;
}

bool can_show(const Scale& scale, double mass_kg) {
    const double steps = mass_kg / scale.step_kg;
    return std::abs(steps - std::round(steps)) <= kDecimalSlack;
}

Result<void> check(const Scale& scale) {
    if (!(scale.step_kg > 0) || !(scale.capacity_kg > 0)) {
        return fail(ProblemCode::BadInput,
                    fmt::format("scale {}: its step and its capacity are to be above 0", scale.id));
    }
    if (scale.step_kg > scale.capacity_kg) {
        return fail(ProblemCode::BadInput,
                    fmt::format("scale {}: its step is above its capacity", scale.id));
    }
    if (!(scale.repeatability_kg >= 0)) {
        return fail(ProblemCode::BadInput,
                    fmt::format("scale {}: its repeatability is below 0", scale.id));
    }
    return {};
}

}  // namespace bw::works
