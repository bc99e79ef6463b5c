// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/trend_limits.hpp"

#include <algorithm>
#include <vector>

#include <fmt/format.h>

#include "base/text.hpp"
#include "io/target_file.hpp"
#include "service/methods_limits.hpp"
#include "service/recipe_versions.hpp"

namespace bw::service {
namespace {

constexpr double kMilli = 1000;                   // mmol per mol
constexpr const char* kAfterAll = "9999-12-31U";  // behind every instant

Result<std::optional<double>> target_of(const store::Books& books, const std::string& version,
                                        const std::string& analyte) {
    BW_TRY(record, kept<works::RecipeVersion>(books, version));
    BW_TRY(document, io::parse_document(record.is.target, "target of " + version));
    BW_TRY(target, io::read_target(document));
    for (const recipe::ConstituentGoal& goal : target.constituents) {
        if (goal.constituent.symbol() == analyte) {
            return goal.target;
        }
    }
    return std::optional<double>();
}

std::optional<double> in_mmol(const std::optional<double>& mol) {
    return mol ? std::optional<double>(*mol * kMilli) : std::nullopt;
}

}  // namespace

Result<std::optional<AllowedBand>> allowed_band(const store::Books& books,
                                                const std::string& product,
                                                const std::set<std::string>& versions,
                                                const std::string& analyte,
                                                base::Notices& notices) {
    BW_TRY(kept_limits, limits_before(books, product, kAfterAll));
    if (!kept_limits ||
        std::none_of(kept_limits->is.bands.begin(), kept_limits->is.bands.end(),
                     [&](const works::Band& band) { return band.symbol == analyte; })) {
        return std::optional<AllowedBand>();
    }
    const works::Limits& limits = kept_limits->is;
    std::optional<assay::ToleranceInterval> interval;
    for (const std::string& version : versions) {
        BW_TRY(target, target_of(books, version, analyte));
        const auto next = works::interval_of(limits, analyte, target);
        if (!next || (interval && (interval->low != next->low || interval->high != next->high))) {
            notices.push_back(
                {"no_limits",
                 fmt::format("The signed limits of {} are in per cent of the target of {}, {}: no "
                             "limits are drawn on; state some with the chart.",
                             product, analyte,
                             next ? "which differs between the recipe's versions " +
                                        base::join_words(std::vector<std::string>(versions.begin(),
                                                                                  versions.end()))
                                  : "of which " + version + " has none")});
            return std::optional<AllowedBand>();
        }
        interval = *next;
    }
    if (!interval) {
        return std::optional<AllowedBand>();
    }
    return std::optional(AllowedBand{
        in_mmol(interval->low), in_mmol(interval->high),
        fmt::format("limits {} of {}, signed on {}", limits.number, product,
                    limits.approved ? limits.approved->at.substr(0, Desk::kDayLength) : "")});
}

}  // namespace bw::service
