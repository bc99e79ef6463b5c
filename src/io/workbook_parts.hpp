// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace bw::io {

/// The files packed in a workbook, read one at a time within the limits of workbook_table.hpp.
class WorkbookParts {
public:
    /// Inputs   bytes, which must outlive the object.
    /// Errors   BadInput for what is no packed file or is encrypted; TooLarge.
    [[nodiscard]] static Result<WorkbookParts> open(std::string_view bytes);
    WorkbookParts(WorkbookParts&& other) noexcept;
    WorkbookParts& operator=(WorkbookParts&&) = delete;
    WorkbookParts(const WorkbookParts&) = delete;
    WorkbookParts& operator=(const WorkbookParts&) = delete;
    ~WorkbookParts();

    [[nodiscard]] bool has(const std::string& name) const;
    /// Errors   BadInput when it is not there or damaged.
    [[nodiscard]] Result<std::string> read(const std::string& name) const;

private:
    explicit WorkbookParts(void* archive) : archive_(archive) {}
    void* archive_;
};

/// A date or time of a day number of a workbook as ISO 8601, to the second.
///
/// Inputs   days since the calendar's beginning: 1 is 1900-01-01, or 0 is 1904-01-01.
/// Errors   OutOfRange for days before that and beyond the year 9995.
/// Source   ECMA-376-1 18.17.4.1; day 60 of the first calendar is 29 February 1900, which never
/// was.
[[nodiscard]] Result<std::string> date_of_serial(double days, bool from_1904);

/// Whether a number form of a workbook shows dates: "dd/mm/yyyy", not "0.00" nor "[Red]0.0".
[[nodiscard]] bool is_date_form(std::string_view code);
/// Likewise of the forms that have a number instead of a code.
/// Source   ECMA-376-1 18.8.30.
[[nodiscard]] bool is_date_form(int number);

}  // namespace bw::io
