// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <vector>

#include "check/case_file.hpp"

namespace bw::check {

/// One file of published cases.
struct NamedCases {
    std::string name;  ///< "density.toml"
    CaseFile file;
};
/// All files of test/check, by name.
[[nodiscard]] std::vector<NamedCases> read_all();

}  // namespace bw::check
