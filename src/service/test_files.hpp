// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "io/document.hpp"
#include "works/limits.hpp"
#include "works/method.hpp"

namespace bw::service {

/// Reads a file of kind "method": id, title, analytes, measures, unit, u, repeatability, source,
/// checked_until, state, outside_laboratory.
///
/// Errors   BadInput, BadUnit, each with its place; those of works::check.
[[nodiscard]] Result<works::Method> read_method(const io::Document& file);

/// Reads a file of kind "limits": product, percent, rule, width, least, joint_least, and [[band]]
/// symbol with percent, or low and high.
[[nodiscard]] Result<works::Limits> read_limits(const io::Document& file);

}  // namespace bw::service
