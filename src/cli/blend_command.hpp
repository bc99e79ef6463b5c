// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "cli/command_line.hpp"
#include "cli/commands.hpp"
#include "service/dry_blend.hpp"

namespace bw::cli {

struct BlendDryArguments {
    std::string recipe;
    std::vector<std::string> materials;
    std::string temperature = "25 degC";
    std::string humidity;  ///< "45 %"
    std::string bag = "20 kg";
    std::string days = "365";
    std::string wvtr = "0 g/m2/day";
    std::string area = "0 m2";
    bool json = false, quiet = false;
};
Command add_blend_dry(Command blend, BlendDryArguments& arguments);
[[nodiscard]] int blend_dry(const BlendDryArguments& arguments, const Streams& streams);

[[nodiscard]] std::string dry_text(const service::DryBlendReport& report);
[[nodiscard]] std::string dry_json(const service::DryBlendReport& report);

}  // namespace bw::cli
