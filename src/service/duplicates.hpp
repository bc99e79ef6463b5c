// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "store/books.hpp"
#include "works/duplicate_remarks.hpp"
#include "works/run.hpp"

namespace bw::service {

/// What the duplicates of a batch say, over all of its runs. Errors those of the store.
[[nodiscard]] Result<std::vector<works::DuplicateRemark>> duplicates_of_batch(
    const store::Books& books, const std::string& batch);

/// The same of the batches that a run tests, with the run as given in the place of the one kept;
/// only remarks in which it has a part. A run that is not in the books yet needs no number.
[[nodiscard]] Result<std::vector<works::DuplicateRemark>> duplicates_of_run(
    const store::Books& books, const works::Run& run);

}  // namespace bw::service
