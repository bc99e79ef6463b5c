// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "cli/command_line.hpp"
#include "cli/commands.hpp"
#include "service/read_curve.hpp"

namespace bw::cli {

struct CurveReadArguments {
    std::string file, recipe, csv, svg;
    std::vector<std::string> materials;
    bool json = false, quiet = false;
};
[[nodiscard]] Command add_curve_read(Command curve, CurveReadArguments& arguments);
/// 0 done; 1 the fit fails its test; 2 bad input; 3 a file could not be written.
[[nodiscard]] int curve_read(const CurveReadArguments& arguments, const Streams& streams);

[[nodiscard]] std::string curve_text(const service::CurveReport& report);
[[nodiscard]] std::string curve_json(const service::CurveReport& report);
/// The points with their residuals.
[[nodiscard]] std::string curve_csv(const service::CurveReport& report);
/// The curve with a strip of residuals below.
[[nodiscard]] std::string curve_picture(const service::CurveReport& report);

}  // namespace bw::cli
