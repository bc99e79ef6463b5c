// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "service/path_run.hpp"

namespace bw::service {

/// In which temperatures to mix and keep the vat: the longest row of neighbours at which it is
/// clear; empty where it is clear at all of them.
[[nodiscard]] std::string temperature_advice(const std::vector<AtTemperature>& window,
                                             double keep_h);

/// How the salt goes in: all at once, or as path::usual_orders() has it with the carriers of
/// alkalinity last, where that makes less of supersaturation while mixing.
///
/// Inputs   the plan and its course; plans with additions of their own are left as they are.
/// Errors   those of path::run_course.
[[nodiscard]] Result<std::string> order_advice(const path::VatPlan& plan,
                                               const path::Course& course);

}  // namespace bw::service
