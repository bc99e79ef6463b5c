// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/notice.hpp"
#include "service/trend_limits.hpp"
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
    /// Only so many results, the newest, counted or not; of a check sample, only of so many runs.
    /// 0: kNewestResults or kNewestRuns, and all with a first day.
    std::int64_t last = 0;
    bool batch_means = false;  ///< one value for each batch: the mean of its results
    bool by_batch = false;     ///< values will be taken together by batch
    bool with_limits = false;  ///< look for the product's limits
};
inline constexpr std::int64_t kNewestResults = 1000, kNewestRuns = 100;
inline constexpr std::int64_t kMostLast = 100000;

/// Values of the books in the order of time, as a chart takes them.
struct BookTrend {
    std::string name, unit;
    bool invented = false;
    std::vector<double> values;
    std::vector<std::string>
        labels;  ///< of each: batch and result, "R26-0003-T/5"; or run and cell
    std::vector<std::string> groups;     ///< of each: its batch, or its run
    std::optional<AllowedBand> allowed;  ///< by the limits of the one product
    base::Notices notices;
};

/// Reads results for a chart.
///
/// Definition   of batches: counted results in mmol per kg of the made-up water, by the instant of
///              reading; what is not counted, set aside or below its limit is left out, and said.
///              Where older results are left out, that is said too, and of values by batch a batch
///              is left out whole.
///              Of a check sample: its readings in the tables that results were imported from, less
///              blank, times dilution where the table says that it is not in yet, in its unit.
/// Errors       BadInput: no analyte, a day that is none, a `last` out of 1 to kMostLast, results
/// by
///              several methods, of several products or in several units, a recipe, material or
///              means asked of a check sample. NotFound where nothing is left; those of the store.
/// Complexity   up to `last` results and the links of their batches and runs: no record is read but
///              runs by several methods and, for limits, recipe versions. A choice that few of the
///              newest results meet goes through older ones.
[[nodiscard]] Result<BookTrend> results_in_time(const store::Books& books,
                                                const BookTrendQuery& query);

}  // namespace bw::service
