// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <string_view>

#include "io/cell_table.hpp"
#include "io/delimited_table.hpp"

namespace bw::io {

/// The bytes of a file of at most kMostTableBytes.
///
/// Errors   BadInput when it does not exist or is no file; TooLarge; Disk when reading fails.
[[nodiscard]] Result<std::string> read_table_bytes(const std::string& path);

/// A workbook when the bytes begin as one does and `name` ends with .xlsx, else delimited text.
///
/// Errors   those of read_workbook and read_delimited, with the name of the file; BadInput for a
///          name that says another thing than the bytes.
[[nodiscard]] Result<SourceTable> read_table(std::string_view bytes, const std::string& name,
                                             const TableForm& form = {},
                                             const std::string& sheet = {});

}  // namespace bw::io
