// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>

#include "cli/command_line.hpp"
#include "cli/commands.hpp"
#include "cli/salt_options.hpp"

namespace bw::cli {

struct CalibrationFluidArguments {
    std::string instrument;
    std::string salinity = "35", at = "25 degC", amount = "1 kg";
    std::string fluid = "sodium-chloride", assay = "100 %", moisture = "0 %", weighing = "0.02 %";
    SaltOptions salt;
    bool json = false, quiet = false;
};
[[nodiscard]] Command add_calibration_fluid_plan(Command fluid,
                                                 CalibrationFluidArguments& arguments);
[[nodiscard]] int calibration_fluid_plan(const CalibrationFluidArguments& arguments,
                                         const Streams& streams);

}  // namespace bw::cli
