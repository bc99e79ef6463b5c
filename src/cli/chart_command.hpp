// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "cli/books_options.hpp"
#include "cli/command_line.hpp"
#include "io/readings_file.hpp"
#include "service/book_trend.hpp"
#include "service/trend.hpp"

namespace bw::cli {

struct ChartTrendArguments {
    std::string file, column, label, group, csv, svg;
    std::vector<std::string> rules;
    std::vector<double> ewma, cusum, frozen, limits;
    std::size_t phase_one = 0;
    std::optional<std::int64_t> last;  ///< newest results of the books
    bool no_ewma = false, use_cusum = false;
    bool json = false, quiet = false;
    BooksOptions books;  ///< where they are
    service::BookTrendQuery
        query;  ///< with an analyte: what to chart of the books, in place of a file
};
[[nodiscard]] Command add_chart_trend(Command chart, ChartTrendArguments& arguments);
/// 0 done; 1 a point signals; 2 bad input; 3 the store, or a file could not be written.
[[nodiscard]] int chart_trend(const ChartTrendArguments& arguments, const Streams& streams);

/// A chart with what it is of.
struct ChartAnswer {
    io::ReadingsFile file;
    service::TrendRequest request;
    service::TrendReport report;
    std::string allowed_from;  ///< whose limits the request's low and high are; empty: it has none
};
[[nodiscard]] std::string chart_text(const ChartAnswer& answer);
[[nodiscard]] std::string chart_json(const ChartAnswer& answer);
[[nodiscard]] std::string chart_csv(const ChartAnswer& answer);
[[nodiscard]] std::string chart_picture(const ChartAnswer& answer);

}  // namespace bw::cli
