// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>

#include "cli/json_values.inl"
#include "report/batch_sheet.hpp"
#include "store/books.hpp"

namespace bw::cli {

/// One batch with its sheet, as text for the terminal.
[[nodiscard]] Result<std::string> batch_text(const store::Books& books, const std::string& id);

/// The same as JSON: the batch as it is kept, each addition with how its masses are written; the
/// weighings, the departures, and what comes next.
[[nodiscard]] Result<Json> batch_json(const store::Books& books, const std::string& id);

/// What the batch sheet in PDF says, as text and as JSON.
[[nodiscard]] std::string sheet_text(const report::BatchSheet& sheet);
[[nodiscard]] Json sheet_json(const report::BatchSheet& sheet);

}  // namespace bw::cli
