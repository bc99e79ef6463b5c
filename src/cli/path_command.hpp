// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "cli/command_line.hpp"
#include "cli/commands.hpp"
#include "service/path_run.hpp"

namespace bw::cli {

/// What path run and path compare share: the recipe and how the vat is kept.
struct VatArguments {
    std::string recipe;
    std::vector<std::string> materials;
    std::string temperature = "25 degC";  ///< of water and room
    std::string room;                     ///< where it differs
    std::string drift = "0 /h";
    std::string air = "420 uatm";
    std::string gas_exchange;  ///< "1 /h"
    std::string stone;         ///< "3 /h"
    std::string film;          ///< "0.1 m/h"
    std::string depth;         ///< "1 m"
    std::string stirring = "0.1 W/kg";
    std::string seed = "0 mg/kg";
    double particles = 1;
    std::string hours = "48 h";
    std::string keep = "24 h";
    std::string volume = "1000 L";
};

struct PathRunArguments {
    VatArguments vat;
    std::vector<std::string> add;           ///< "MATERIAL=30 min"
    std::vector<std::string> predissolved;  ///< MATERIAL
    std::string heat_to, heat_from = "0 h", heat_rate = "2 K/h";
    std::string csv;
    bool json = false, quiet = false;
};
Command add_path_run(Command path, PathRunArguments& arguments);
[[nodiscard]] int path_run(const PathRunArguments& arguments, const Streams& streams);

/// The files that these arguments name to be read.
[[nodiscard]] std::vector<std::string> files_of(const VatArguments& arguments);
void add_vat_arguments(Command command, VatArguments& arguments);
[[nodiscard]] Result<service::PathRequest> request_of(const VatArguments& arguments);

[[nodiscard]] std::string path_text(const service::PathReport& report);
[[nodiscard]] std::string path_json(const service::PathReport& report);
[[nodiscard]] std::string path_csv(const service::PathReport& report);

}  // namespace bw::cli
