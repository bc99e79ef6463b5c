// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "assay/run_length.hpp"

#include <algorithm>
#include <limits>

#include "stat/draw.hpp"

namespace bw::assay {
namespace {

constexpr std::size_t kNone = std::numeric_limits<std::size_t>::max();

/// Place of the first mark, counted from 1.
std::size_t first_mark(std::span<const double> values, const ChartWatch& watch) {
    std::size_t out = kNone;
    const auto marked = signals(values, 0, 1, watch.rules);
    if (!marked.empty()) {
        out = marked.front().point + 1;
    }
    if (watch.ewma) {
        const auto points = ewma(values, 0, 1, watch.ewma->lambda, watch.ewma->width);
        for (std::size_t i = 0; i < std::min(points.size(), out); ++i) {
            if (points[i].beyond()) {
                out = i + 1;
            }
        }
    }
    if (watch.cusum) {
        const auto sums = cusum(values, 0, 1, watch.cusum->k);
        for (std::size_t i = 0; i < std::min(sums.size(), out); ++i) {
            if (std::max(sums[i].up, sums[i].down) > watch.cusum->h) {
                out = i + 1;
            }
        }
    }
    return out;
}

}  // namespace

double simulated_run_length(const ChartWatch& watch, double shift, std::size_t runs,
                            std::uint64_t seed) {
    constexpr std::size_t kFirst = 256;
    constexpr std::size_t kMost = 65'536;  // beyond, the series is counted as it is
    constexpr std::size_t kGrowth = 4;
    double sum = 0;
    for (std::size_t run = 0; run < runs; ++run) {
        stat::DrawStream stream(seed, run);
        std::vector<double> values;
        std::size_t found = kNone;
        for (std::size_t size = kFirst; found == kNone && size <= kMost; size *= kGrowth) {
            const std::size_t before = values.size();
            values.resize(size);
            stream.normal(std::span(values).subspan(before));
            std::for_each(values.begin() + static_cast<std::ptrdiff_t>(before), values.end(),
                          [&](double& v) { v += shift; });
            found = first_mark(values, watch);
        }
        sum += static_cast<double>(found == kNone ? kMost : found);
    }
    return sum / static_cast<double>(runs);
}

}  // namespace bw::assay
