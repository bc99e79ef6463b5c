// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "service/path_run.hpp"

namespace bw::service {

/// At which temperatures to mix and keep the vat: the longest row of neighbours at which it is
/// clear. The one sentence on it, for advice and pictures.
///
/// Inputs   at least one temperature.
[[nodiscard]] std::string temperature_words(const std::vector<AtTemperature>& window,
                                            double keep_h);

/// First and last temperature of the longest row of neighbours at which the vat is no worse than a
/// risk; nothing where there is none.
struct TemperatureRow {
    double low = 0, high = 0;
};
[[nodiscard]] std::optional<TemperatureRow> temperatures_no_worse(
    const std::vector<AtTemperature>& window, path::Risk most);

/// How the salt goes in: all at once, or as path::usual_orders() has it with the carriers of
/// alkalinity last, where that makes the verdict better or lowers the largest Omega of aragonite
/// while mixing by more than 10 %, the trust in it.
///
/// Inputs   the plan, its course, how long the vat has to keep [h]; plans with additions of their
///          own are left as they are.
/// Errors   those of path::run_course.
[[nodiscard]] Result<std::string> order_advice(const path::VatPlan& plan,
                                               const path::Course& course, double keep_h);

/// For a vat that is not clear: what all its alkalinity as hydrogencarbonate would make of it,
/// where that is better; else empty.
[[nodiscard]] std::string carbonate_advice(const path::VatPlan& plan, const path::Verdict& verdict,
                                           double keep_h);

}  // namespace bw::service
