// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/salinity_field.hpp"

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "ref/tables.hpp"
#include "unit/factors.hpp"

namespace bw::io {
namespace {

constexpr double kPracticalReference = 35;
constexpr double kLowestPractical = 2;  // of the practical salinity scale

}  // namespace

double g_per_kg_per_practical() { return ref::reference_salinity_g_per_kg() / kPracticalReference; }

Result<std::optional<StatedSalinity>> salinity_of(const Fields& table, std::string_view key,
                                                  const SalinityRange& range) {
    const Node* node = table.node(key);
    if (node == nullptr) {
        return std::nullopt;
    }
    StatedSalinity out;
    if (node->number() != nullptr) {
        out.practical = *node->number();
    } else if (node->text() != nullptr) {
        if (const auto plain = base::parse_number(base::trim(*node->text()))) {
            out.practical = *plain;
        }
    }
    if (out.practical) {
        out.g_per_kg = *out.practical * g_per_kg_per_practical();
    } else {
        BW_TRY(mass, table.value_in(key, unit::Dimension::MassPerMass));
        out.g_per_kg = *mass * unit::kGramPerKg;
    }
    if (out.practical && *out.practical < kLowestPractical) {
        return table.bad(
            key,
            fmt::format(
                "practical salinity {} is below 2: seawater has 35 (if this is a specific gravity, "
                "it is no salinity; if it is g/kg, write the unit)",
                base::format_exact(*out.practical)),
            ProblemCode::OutOfRange);
    }
    const double as_practical = out.g_per_kg / g_per_kg_per_practical();
    if (!(as_practical > 0) || as_practical > range.highest_practical) {
        return table.bad(key,
                         fmt::format("salinity {} is outside 0 to {} (practical), {}",
                                     base::format_significant(as_practical, 4),
                                     base::format_exact(range.highest_practical), range.why),
                         ProblemCode::OutOfRange);
    }
    return out;
}

}  // namespace bw::io
