// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "base/notice.hpp"
#include "store/books.hpp"

namespace bw::service {

/// Which results of the books a chart is of; empty texts do not choose.
struct BookTrendQuery {
    std::string analyte;       ///< symbol of a constituent; needed
    std::string method;        ///< "M-07"
    std::string recipe;        ///< of the batches: product, or product/number of a version
    std::string material;      ///< that went into the batches, or the number of one of its lots
    std::string check_sample;  ///< readings of this check sample, in place of batches' results
    std::string since, until;  ///< first and last day of the readings, "2026-11-26"
    bool batch_means = false;  ///< one value for each batch: the mean of its results
};

/// Values of the books in the order of time, as a chart takes them.
struct BookTrend {
    std::string name, unit;
    bool invented = false;
    std::vector<double> values;
    std::vector<std::string> labels;  ///< of each: batch and test portion, or run and cell
    std::vector<std::string> groups;  ///< of each: its batch, or its run
    base::Notices notices;
};

/// Reads results for a chart.
///
/// Definition   of batches: counted results in mmol per kg of the made-up water, by the instant of
///              reading; what is not counted, set aside or below its limit is left out, and said.
///              Of a check sample: its readings in the tables that results were imported from, less
///              blank, times dilution where the table says that it is not in yet, in its unit.
/// Errors       BadInput: no analyte, a day that is none, results of several products or in several
///              units, a recipe, material or means asked of a check sample. NotFound where nothing
///              is left; those of the store.
[[nodiscard]] Result<BookTrend> results_in_time(const store::Books& books,
                                                const BookTrendQuery& query);

}  // namespace bw::service
