// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "cli/command_line.hpp"
#include "cli/commands.hpp"
#include "cli/salt_options.hpp"

namespace bw::cli {

struct VatPlanArguments {
    std::string salinity, at = "25 degC", volume, mass, purified;
    std::optional<std::string> anhydrous;
    std::string purified_at, purified_solids, weighing = "0.1 %";
    SaltOptions salt;
    bool json = false, quiet = false;
};
[[nodiscard]] Command add_vat_plan(Command vat, VatPlanArguments& arguments);
[[nodiscard]] int vat_plan(const VatPlanArguments& arguments, const Streams& streams);

struct VatCorrectArguments {
    std::string volume, mass, holds, wanted, at = "25 degC", evaporated;
    std::optional<std::string> anhydrous;
    std::string concentrate, purified_at, purified_solids;
    SaltOptions salt;
    bool json = false, quiet = false;
};
[[nodiscard]] Command add_vat_correct(Command vat, VatCorrectArguments& arguments);
[[nodiscard]] int vat_correct(const VatCorrectArguments& arguments, const Streams& streams);

struct VatMixArguments {
    std::vector<std::string> waters;  ///< "600 L of 30, at 25 degC", "600 L of water.toml"
    std::string at = "25 degC";
    SaltOptions salt;
    bool json = false, quiet = false;
};
[[nodiscard]] Command add_vat_mix(Command vat, VatMixArguments& arguments);
[[nodiscard]] int vat_mix(const VatMixArguments& arguments, const Streams& streams);

}  // namespace bw::cli
