// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "works/limits.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "matter/concentration.hpp"
#include "stat/normal.hpp"
#include "stat/quantiles.hpp"
#include "unit/factors.hpp"

namespace bw::works {
namespace {

constexpr int kDigits = 3;
constexpr int kWidthDigits = 4;     // 1.645
constexpr double kLeastRule = 0.5;  // below, a rule would accept what is likelier not to conform

bool is_percent(double x) { return x > 0 && x < unit::kPercent; }

bool per_mass(unit::Dimension d) {
    return d == unit::Dimension::AmountPerMass || d == unit::Dimension::MassPerMass ||
           d == unit::Dimension::EquivalentPerMass;
}

Result<std::optional<double>> edge(const std::string& typed, matter::Constituent c,
                                   std::string_view field) {
    if (typed.empty()) {
        return std::optional<double>();
    }
    BW_TRY(quantity, unit::parse_quantity(typed, "mmol/kg"));
    if (!per_mass(quantity.unit.dimension)) {
        return fail(ProblemCode::BadUnit,
                    fmt::format("{} of {}: limits are per kg of water, in mmol/kg, meq/kg or mg/kg",
                                base::quoted(typed), c.symbol()),
                    {"", 0, std::string(field)});
    }
    BW_TRY(value, matter::mol_per_kg(quantity, c, matter::WaterBasis{}));
    return std::optional<double>(value);
}

Result<assay::ToleranceInterval> typed_edges(const Band& band) {
    BW_TRY(constituent, matter::require_constituent(band.symbol));
    BW_TRY(low, edge(band.low, constituent, "low"));
    BW_TRY(high, edge(band.high, constituent, "high"));
    if (low && high && !(*low < *high)) {
        return fail(
            ProblemCode::BadInput,
            fmt::format("{}: low, {}, is not below high, {}", band.symbol, band.low, band.high),
            {"", 0, "low"});
    }
    return assay::ToleranceInterval{low, high};
}

}  // namespace

std::string_view name(RuleKind kind) {
    constexpr std::array<std::string_view, kWords<RuleKind>> kNames = {"simple", "guarded",
                                                                       "probability"};
    return kNames.at(static_cast<std::size_t>(kind));
}

Result<void> check(const Limits& limits) {
    if (limits.bands.empty()) {
        return fail(ProblemCode::BadInput, "limits name no constituent that is to be tested",
                    {"", 0, "band"});
    }
    if (!is_percent(limits.percent)) {
        return fail(ProblemCode::BadInput, "the limits' per cent lies above 0 and below 100",
                    {"", 0, "percent"});
    }
    if (!(limits.sampling_percent >= 0) || limits.sampling_percent >= unit::kPercent) {
        return fail(ProblemCode::BadInput,
                    "the uncertainty of one sample beside the batch is 0 to below 100 %",
                    {"", 0, "sampling"});
    }
    if (!(limits.width >= 0) || !(limits.least >= kLeastRule) || !(limits.least < 1) ||
        !(limits.joint_least >= 0) || !(limits.joint_least < 1)) {
        return fail(ProblemCode::BadInput,
                    "the rule's width is 0 or more, its least chance 0.5 to below 1, and that of "
                    "all at once 0 to below 1",
                    {"", 0, "rule"});
    }
    for (std::size_t i = 0; i < limits.bands.size(); ++i) {
        const Band& band = limits.bands[i];
        BW_CHECK(typed_edges(band));
        if (band.percent != 0 && !is_percent(band.percent)) {
            return fail(ProblemCode::BadInput,
                        fmt::format("{}: the per cent lies above 0 and below 100", band.symbol),
                        {"", 0, "percent"});
        }
        for (std::size_t k = 0; k < i; ++k) {
            if (limits.bands[k].symbol == band.symbol) {
                return fail(ProblemCode::BadInput, fmt::format("{} stands twice", band.symbol),
                            {"", 0, "band"});
            }
        }
    }
    return {};
}

Result<assay::ToleranceInterval> interval_of(const Limits& limits, std::string_view symbol,
                                             std::optional<double> target) {
    const auto band = std::find_if(limits.bands.begin(), limits.bands.end(),
                                   [&](const Band& b) { return b.symbol == symbol; });
    if (band == limits.bands.end()) {
        return fail(ProblemCode::NotFound, fmt::format("limits {} of {} have no band for {}",
                                                       limits.number, limits.product, symbol));
    }
    if (!band->low.empty() || !band->high.empty()) {
        return typed_edges(*band);
    }
    if (!target || !(*target > 0)) {
        return fail(ProblemCode::BadInput,
                    fmt::format("{} has no target above 0, so its limits cannot be in per cent of "
                                "it: give low or high",
                                symbol),
                    {"", 0, "percent"});
    }
    const double part = (band->percent > 0 ? band->percent : limits.percent) / unit::kPercent;
    return assay::ToleranceInterval{*target * (1 - part), *target * (1 + part)};
}

assay::DecisionRule rule_of(const Limits& limits) {
    using Kind = assay::DecisionRule::Kind;
    const Kind kind = limits.rule == RuleKind::Simple    ? Kind::Simple
                      : limits.rule == RuleKind::Guarded ? Kind::Guarded
                                                         : Kind::Probability;
    return {kind, limits.width, limits.least};
}

std::string sentence_of_rule(const Limits& limits) {
    const auto percent = [](double share) {
        return base::format_short(share * unit::kPercent, kDigits);
    };
    std::string out;
    switch (limits.rule) {
        case RuleKind::Simple:
            out =
                "Simple acceptance: a value inside its limits is accepted; at a limit the risk of "
                "a wrong acceptance is 50 %.";
            break;
        case RuleKind::Guarded:
            out = fmt::format(
                "Guarded acceptance: the limits are drawn in by {} standard uncertainties; at the "
                "acceptance limit the risk of a wrong acceptance is {} %.",
                base::format_short(limits.width, kWidthDigits),
                percent(stat::normal_cdf(-limits.width)));
            break;
        case RuleKind::Probability:
            out = fmt::format(
                "A value is accepted when the probability that it conforms is at least {} %.",
                percent(limits.least));
            break;
    }
    if (limits.joint_least > 0) {
        out += fmt::format(" All together conform with a probability of at least {} %.",
                           percent(limits.joint_least));
    }
    return out + " Values and limits are compared unrounded.";
}

}  // namespace bw::works
