// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>

#include "report/batch_sheet.hpp"
#include "report/sample_label.hpp"
#include "store/books.hpp"

namespace bw::service {

/// The batch sheet of a batch as the books have it: to fill in by hand where nothing is weighed
/// yet, with what was weighed, departures and yield where there is.
///
/// Definition   hazards are those of the recipe's materials, as their files state them; they count
/// as
///              decided with the signature that put the recipe version in use.
/// Errors       NotFound; those of the store.
[[nodiscard]] Result<report::BatchSheet> batch_sheet(const store::Books& books,
                                                     const std::string& number,
                                                     const std::string& at);

/// A label for each increment of a sample, and one for what is retained.
[[nodiscard]] Result<report::SampleLabels> sample_labels(const store::Books& books,
                                                         const std::string& number,
                                                         const std::string& at);

}  // namespace bw::service
