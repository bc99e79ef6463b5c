// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <utility>
#include <vector>

#include "io/column_map.hpp"
#include "io/result_preview.hpp"
#include "service/duplicates.hpp"
#include "service/reading_doubts.hpp"
#include "service/tests.hpp"

namespace bw::service {

/// A table of results on its way into the books.
struct ImportOrder {
    std::string file_name;
    std::string bytes;
    std::string map;    ///< text of a file of kind "column-map"
    std::string batch;  ///< the samples are to be this batch's; empty: of any
    std::string method;
    std::vector<std::pair<std::string, std::string>> methods;   ///< analyte, method
    std::vector<std::pair<std::string, std::string>> portions;  ///< name in the file, test portion
};

/// What an import would keep: everything or, with a problem, nothing.
struct ImportPlan {
    io::ResultPreview preview;
    std::vector<ResultEntry> entries;
    std::vector<std::string> problems;  ///< refused cells and what the books lack, a sentence each
    std::vector<std::string> unplaced;  ///< names of samples that are no test portion
    std::vector<std::string> notes;
    works::Run run;  ///< as it would be entered; empty with a problem
    std::vector<works::DuplicateRemark> duplicates;  ///< of the run, beside what is in the books
    std::vector<works::ReadingDoubt> far_from_wanted;
    [[nodiscard]] bool committable() const { return problems.empty() && !entries.empty(); }
};

/// Reads a table through its map and matches it with the books; nothing is written.
///
/// Definition   a sample of the table is a test portion's id, a name given in `portions`, or a
///              sample of which there is one test portion. Blanks and check samples are counted,
///              not kept as results. A dilution is multiplied in unless the table says that it is;
///              masses before and after stand for one. Over the range, a pure number, an analyte
///              without a method: problems.
/// Errors       those of the map's and the table's reader, and of the store.
[[nodiscard]] Result<ImportPlan> plan_import(const Desk& desk, const ImportOrder& order);

/// Keeps what plan_import reads, the file's bytes beside it: all or nothing.
///
/// Errors   BadInput with the first problem and how many there are.
[[nodiscard]] Result<store::Receipt> import_results(const Desk& desk, const ImportOrder& order,
                                                    const Intent& intent);

}  // namespace bw::service
