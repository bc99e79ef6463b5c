// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string_view>

#include "io/cell_table.hpp"

namespace bw::io {

struct TableForm {
    std::optional<Encoding> encoding;    ///< found, where it is not given
    std::optional<Separator> separator;  ///< likewise; None is not allowed
};

/// Reads delimited text (RFC 4180) from memory; rows and cells as a spreadsheet would number them.
///
/// Definition   Rows end with CR LF, LF or CR. A field in quotes may hold separators, line ends and
///              doubled quotes. A blank line is a row without cells. A first line "sep=;" sets the
///              separator and is no row. Otherwise the separator is the one with which most rows
///              are equally wide; between equals tab, then semicolon, then comma.
/// Errors       Those of decode_text; TooLarge beyond the limits of CellTable; BadInput for a quote
///              that is not closed, stands within a field without quotes, or is followed by text;
///              each names the cell.
/// Notices      encoding, mixed line ends, rows of another width.
/// Complexity   one pass over the bytes, and three over the first rows for the separator.
[[nodiscard]] Result<SourceTable> read_delimited(std::string_view bytes,
                                                 const TableForm& form = {});

}  // namespace bw::io
