// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/goal_rows.hpp"

#include "base/decimal.hpp"
#include "cli/recipe_output.hpp"
#include "cli/table.hpp"

namespace bw::cli {
namespace {

constexpr int kDigits = 5;
/// What was typed is shown without the last digits that its conversion left.
constexpr int kTypedDigits = 13;

std::string shown(std::optional<double> v) { return v ? base::format_short(*v, kDigits) : ""; }

Json typed(std::optional<double> v) {
    if (!v) {
        return nullptr;
    }
    const auto plain = base::parse_number(base::format_significant(*v, kTypedDigits));
    return json_number(plain ? *plain : *v);
}

std::string verdict(const service::GoalRow& row) {
    return !row.low && !row.high ? "no band"
                                 : verdict_words(row.inside, row.chance_inside.value_or(1));
}

}  // namespace

std::string goals_text(const std::vector<service::GoalRow>& rows) {
    constexpr int kDigitsOfU = 2;
    TextTable table({{{"water against target"}},
                     {{"target"}, Align::Decimal},
                     {{"predicted"}, Align::Decimal},
                     {{"u"}, Align::Decimal},
                     {{"low"}, Align::Decimal},
                     {{"high"}, Align::Decimal},
                     {{"unit"}},
                     {{""}}});
    for (const service::GoalRow& row : rows) {
        table.add({row.what, shown(row.target), shown(row.achieved),
                   row.u ? base::format_short(*row.u, kDigitsOfU) : "", shown(row.low),
                   shown(row.high), row.unit, verdict(row)});
    }
    return table.text();
}

Json goals_json(const std::vector<service::GoalRow>& rows) {
    Json out = Json::array();
    for (const service::GoalRow& row : rows) {
        out.push_back({{"what", row.what},
                       {"unit", row.unit},
                       {"target", typed(row.target)},
                       {"low", typed(row.low)},
                       {"high", typed(row.high)},
                       {"achieved", row.achieved},
                       {"u", json_number(row.u)},
                       {"per_mol_per_kg", row.per_mol_per_kg},
                       {"certificate_unit", row.certificate.unit},
                       {"certificate_per_mol_per_kg", row.certificate.per_mol_per_kg},
                       {"inside", row.inside},
                       {"chance_inside", json_number(row.chance_inside)},
                       {"verdict", verdict(row)}});
    }
    return out;
}

}  // namespace bw::cli
