// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "io/document.hpp"
#include "recipe/target.hpp"

namespace bw::io {

/// Reads a file of kind "target"; docs/reference/files.md describes it.
///
/// Errors   BadInput, BadUnit, UnknownName, DuplicateName, OutOfRange, WrongKind, each with its
/// place.
[[nodiscard]] Result<recipe::Target> read_target(const Document& document);

}  // namespace bw::io
