// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <limits>
#include <string>
#include <vector>

#include "recipe/model.hpp"
#include "recipe/solve.hpp"

namespace bw::recipe {

/// An objective, and the row that keeps its best value while later ones are served (-1: none).
struct Objective {
    std::string what;
    std::vector<double> cost;
    int row = -1;
    bool measures_misses = false;
    double resolution = 0;  ///< a miss below this counts as none
    /// Columns of single misses, each of which may not grow beyond its value here but for a slip.
    std::vector<int> misses;
    /// Served per kilogram of finished water: the value over the size of the batch.
    bool per_water = true;
    bool coarse = false;  ///< weighings come in steps: the last digits of its best are not searched
    double unhindered = std::numeric_limits<double>::infinity();  ///< see SolveOptions
    double share = 0;     ///< its best may slip by this part of itself
    bool priced = false;  ///< `cost` holds the price of changes too, which the row does not
};

/// All objectives in the order in which they are served. Adds the rows that freeze them.
///
/// With a `resolution`, a frozen miss may grow by it for the sake of later goals; before the cost,
/// the sum of all misses is then made least, so that the cost does not live on it.
[[nodiscard]] std::vector<Objective> objectives_of(Model& m, const SolveOptions& options,
                                                   double resolution = 0);

/// Serves the objectives one after another; fills stages and doses of `out`. False
/// when no point holds all limits.
[[nodiscard]] Result<bool> serve(const Model& m, const std::vector<Objective>& objectives,
                                 Solution& out);

/// Branch and bound through all objectives.
struct WholeSearch {
    std::vector<double> point;  ///< the last found; empty when there is none
    bool proven = true;         ///< false when the limit of nodes cut a search short
    int nodes_left = 0;         ///< for all objectives together
};

/// The same with whole-number columns. A size of the batch that may move makes an objective a
/// quotient, value / size: it is made least by making value - q size least, with q the quotient of
/// the best point so far, until that finds none better (Dinkelbach's method).
[[nodiscard]] WholeSearch serve_in_whole_numbers(const Model& m,
                                                 const std::vector<Objective>& objectives,
                                                 const std::vector<int>& integer_columns,
                                                 int most_nodes);

}  // namespace bw::recipe
