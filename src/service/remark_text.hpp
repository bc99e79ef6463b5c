// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <span>
#include <string>

#include "works/duplicate_remarks.hpp"
#include "works/reading_doubt.hpp"

namespace bw::service {

/// Remarks on results as JSON, a list each: the same for pages and commands.
[[nodiscard]] std::string remark_text(std::span<const works::DuplicateRemark> remarks);
[[nodiscard]] std::string remark_text(std::span<const works::ReadingDoubt> doubts);

}  // namespace bw::service
