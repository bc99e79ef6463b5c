// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/relative_figure.hpp"

#include <algorithm>
#include <set>

#include <fmt/format.h>

namespace bw::service {

Result<std::vector<double>> figure_for_each(const RelativeFigure& figure,
                                            std::span<const matter::Constituent> constituents,
                                            const char* field) {
    std::vector<double> out(constituents.size(), figure.all);
    const auto right = [&](double value) -> Result<void> {
        if (!(value > 0 && value < 1)) {
            return fail(ProblemCode::OutOfRange,
                        "a relative figure lies between 0 and 100 %: write \"2 %\"",
                        {"", 0, field});
        }
        return {};
    };
    BW_CHECK(right(figure.all));
    std::set<std::string> seen;
    for (const auto& [symbol, value] : figure.own) {
        if (!seen.insert(symbol).second) {
            return fail(ProblemCode::BadInput, fmt::format("{} is given twice", symbol),
                        {"", 0, field});
        }
        auto known = matter::require_constituent(symbol);
        if (!known) {
            known.error().place.field = field;
        }
        BW_TRY(constituent, std::move(known));
        BW_CHECK(right(value));
        const auto found = std::find(constituents.begin(), constituents.end(), constituent);
        if (found == constituents.end()) {
            return fail(ProblemCode::BadInput,
                        fmt::format("no material of the recipe is weighed for {}", symbol),
                        {"", 0, field});
        }
        out[static_cast<std::size_t>(found - constituents.begin())] = value;
    }
    return out;
}

}  // namespace bw::service
