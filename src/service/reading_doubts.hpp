// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "store/books.hpp"
#include "works/reading_doubt.hpp"
#include "works/run.hpp"

namespace bw::service {

/// What the readings of a run raise beside the batches that it tests (works::doubts_about). A run
/// that is not in the books yet needs no number. Errors those of the store.
[[nodiscard]] Result<std::vector<works::ReadingDoubt>> doubts_of_run(const store::Books& books,
                                                                     const works::Run& run);

/// The same of all runs of a batch.
[[nodiscard]] Result<std::vector<works::ReadingDoubt>> doubts_of_batch(const store::Books& books,
                                                                       const std::string& batch);

}  // namespace bw::service
