// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <vector>

#include "io/material_file.hpp"

namespace bw::service {

/// The materials of all files.
///
/// Errors   those of io::read_materials; DuplicateName for a name in two files; TooLarge for more
///          than io::kMostMaterials.
[[nodiscard]] Result<std::vector<io::PlacedMaterial>> read_catalogue(
    const std::vector<io::Document>& documents);

}  // namespace bw::service
