// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0

#include <fmt/format.h>
#include <xlsxwriter.h>

#include "base/text.hpp"
#include "io/sheet.hpp"

namespace bw::io {
namespace {

constexpr double kNarrowest = 10;  // characters
constexpr double kWidest = 48;

void fill(lxw_workbook* book, const Sheet& sheet) {
    lxw_worksheet* page = workbook_add_worksheet(book, sheet.name.c_str());
    lxw_format* head = workbook_add_format(book);
    format_set_bold(head);
    format_set_text_wrap(head);
    format_set_align(head, LXW_ALIGN_VERTICAL_TOP);
    for (std::size_t c = 0; c < sheet.head.size(); ++c) {
        const auto column = static_cast<lxw_col_t>(c);
        worksheet_write_string(page, 0, column, sheet.head[c].c_str(), head);
        double width = kNarrowest;
        for (std::size_t r = 0; r < sheet.rows.size(); ++r) {
            const auto row = static_cast<lxw_row_t>(r + 1);
            const Cell& cell = sheet.rows[r][c];
            if (const auto* text = std::get_if<std::string>(&cell)) {
                worksheet_write_string(page, row, column, text->c_str(), nullptr);
                width = std::max(width, static_cast<double>(base::display_width(*text)) + 1);
            } else if (const auto* number = std::get_if<double>(&cell)) {
                worksheet_write_number(page, row, column, *number, nullptr);
            }
        }
        worksheet_set_column(page, column, column, std::min(width, kWidest), nullptr);
    }
    worksheet_freeze_panes(page, 1, 1);
}

}  // namespace

Result<void> write_workbook(const std::string& path, const std::vector<Sheet>& sheets) {
    lxw_workbook* book = workbook_new(path.c_str());
    if (book == nullptr) {
        return fail(ProblemCode::Disk, "the workbook cannot be made", {path, 0, {}});
    }
    // 2025-01-01T00:00:00Z, so that the same sheets give the same bytes
    constexpr time_t kFixedDate = 1735689600;
    lxw_doc_properties properties{};
    properties.created = kFixedDate;
    workbook_set_properties(book, &properties);
    for (const Sheet& sheet : sheets) {
        fill(book, sheet);
    }
    const lxw_error error = workbook_close(book);
    if (error != LXW_NO_ERROR) {
        return fail(ProblemCode::Disk,
                    fmt::format("writing the workbook failed: {}", lxw_strerror(error)),
                    {path, 0, {}});
    }
    return {};
}

}  // namespace bw::io
