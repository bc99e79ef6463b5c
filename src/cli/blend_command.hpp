// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "cli/commands.hpp"
#include "service/dry_blend.hpp"

namespace CLI {  // NOLINT(readability-identifier-naming): the library names it so
class App;
}

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
CLI::App& add_blend_dry(CLI::App& blend, BlendDryArguments& arguments);
[[nodiscard]] int blend_dry(const BlendDryArguments& arguments, const Streams& streams);

[[nodiscard]] std::string dry_text(const service::DryBlendReport& report);
[[nodiscard]] std::string dry_json(const service::DryBlendReport& report);

}  // namespace bw::cli
