// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/fields.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"

namespace bw::io {

using unit::Dimension;
using unit::TypedQuantity;

Result<Fields> Fields::of(const Document& document, const Node& node, std::string path) {
    if (node.table() == nullptr) {
        return fail(ProblemCode::BadInput,
                    fmt::format("a table is needed here, not {}", node.kind()),
                    {document.name, node.line, std::move(path)});
    }
    return Fields(document, node, std::move(path));
}

Place Fields::place(std::string_view key) const {
    const Node* at = key.empty() ? nullptr : node_->find(key);
    std::string field = path_;
    if (!key.empty()) {
        field += (field.empty() ? "" : ".") + std::string(key);
    }
    return {document_->name, at != nullptr ? at->line : node_->line, field};
}

tl::unexpected<Problem> Fields::bad(std::string_view key, std::string why, ProblemCode code) const {
    return fail(code, std::move(why), place(key));
}

tl::unexpected<Problem> Fields::placed(std::string_view key, Problem problem) const {
    Place where = place(key);
    if (!problem.place.field.empty()) {
        where.field = problem.place.field;
    }
    problem.place = std::move(where);
    return tl::make_unexpected(std::move(problem));
}

Result<void> Fields::allow(std::initializer_list<std::string_view> keys) const {
    for (const auto& [key, value] : *node_->table()) {
        if (std::find(keys.begin(), keys.end(), key) != keys.end()) {
            continue;
        }
        const std::vector<std::string_view> known(keys);
        const auto near = base::closest(key, known);
        std::vector<std::string> names(keys.begin(), keys.end());
        return fail(ProblemCode::UnknownName,
                    fmt::format("the key {} is not known here{}", base::quoted(key),
                                near ? fmt::format(": did you mean {}?", *near)
                                     : fmt::format(": allowed are {}", base::join_words(names))),
                    {document_->name, value.line, path_});
    }
    return {};
}

Result<std::optional<std::string>> Fields::text(std::string_view key) const {
    const Node* found = node(key);
    if (found == nullptr) {
        return std::nullopt;
    }
    if (found->text() == nullptr) {
        return bad(key, fmt::format("text in quotes is needed, not {}", found->kind()));
    }
    return std::string(base::trim(*found->text()));
}

Result<std::string> Fields::required_text(std::string_view key) const {
    BW_TRY(found, text(key));
    if (!found || found->empty()) {
        return bad(has(key) ? key : "",
                   fmt::format("{} is missing: it must be text that is not empty", key));
    }
    return *found;
}

Result<std::optional<double>> Fields::number(std::string_view key) const {
    const Node* found = node(key);
    if (found == nullptr) {
        return std::nullopt;
    }
    if (found->number() != nullptr) {
        return *found->number();
    }
    if (found->text() != nullptr) {
        auto value = base::parse_number(base::trim(*found->text()));
        return value ? Result<std::optional<double>>(*value) : placed(key, value.error());
    }
    return bad(key, fmt::format("a number is needed, not {}", found->kind()));
}

Result<std::optional<int>> Fields::whole_number(std::string_view key, int least, int most) const {
    BW_TRY(value, number(key));
    if (!value) {
        return std::nullopt;
    }
    if (std::floor(*value) != *value || *value < least || *value > most) {
        return bad(key,
                   fmt::format("{} is not a whole number from {} to {}", base::format_exact(*value),
                               least, most),
                   ProblemCode::OutOfRange);
    }
    return static_cast<int>(*value);
}

Result<std::optional<bool>> Fields::flag(std::string_view key) const {
    const Node* found = node(key);
    if (found == nullptr) {
        return std::nullopt;
    }
    if (found->flag() == nullptr) {
        return bad(key, fmt::format("true or false is needed, not {}", found->kind()));
    }
    return *found->flag();
}

Result<std::vector<std::string>> Fields::texts(std::string_view key) const {
    std::vector<std::string> out;
    const Node* found = node(key);
    if (found == nullptr) {
        return out;
    }
    if (found->array() == nullptr) {
        return bad(key, fmt::format("a list of texts is needed, not {}", found->kind()));
    }
    for (const Node& item : *found->array()) {
        if (item.text() == nullptr) {
            return bad(key, fmt::format("the list may hold only text, not {}", item.kind()));
        }
        out.push_back(*item.text());
    }
    return out;
}

Result<std::vector<Fields>> Fields::tables(std::string_view key) const {
    std::vector<Fields> out;
    const Node* found = node(key);
    if (found == nullptr) {
        return out;
    }
    if (found->array() == nullptr) {
        return bad(key,
                   fmt::format("a list of tables [[{}]] is needed, not {}", key, found->kind()));
    }
    std::size_t number = 0;
    for (const Node& item : *found->array()) {
        ++number;
        const std::string path =
            (path_.empty() ? "" : path_ + ".") + fmt::format("{} {}", key, number);
        BW_TRY(fields, Fields::of(*document_, item, path));
        out.push_back(fields);
    }
    return out;
}

Result<std::optional<Fields>> Fields::table(std::string_view key) const {
    const Node* found = node(key);
    if (found == nullptr) {
        return std::nullopt;
    }
    BW_TRY(fields,
           Fields::of(*document_, *found, (path_.empty() ? "" : path_ + ".") + std::string(key)));
    return fields;
}

Result<std::optional<TypedQuantity>> Fields::own_unit() const {
    const Node* found = node("unit");
    if (found == nullptr) {
        return std::nullopt;
    }
    if (found->text() == nullptr) {
        return bad("unit", "a unit in quotes is needed");
    }
    auto parsed = unit::parse_unit_phrase(*found->text());
    return parsed ? Result<std::optional<TypedQuantity>>(*parsed) : placed("unit", parsed.error());
}

Result<TypedQuantity> Fields::quantity_of(std::string_view key, const Node& value,
                                          std::string_view example_unit) const {
    if (value.text() != nullptr) {
        const std::string_view typed = base::trim(*value.text());
        BW_TRY(own, own_unit());
        if (own) {  // "2.30" in quotes is still a bare number
            if (const auto number = base::parse_number(typed)) {
                own->number = *number;
                own->text = std::string(typed);
                return *own;
            }
        }
        auto parsed = unit::parse_quantity(typed, example_unit);
        return parsed ? Result<TypedQuantity>(*parsed) : placed(key, parsed.error());
    }
    if (value.number() == nullptr) {
        return bad(key,
                   fmt::format("a quantity such as \"440 mg/L\" is needed, not {}", value.kind()));
    }
    BW_TRY(own, own_unit());
    if (!own) {
        return bad(key,
                   fmt::format(
                       "{0} has no unit: write, for example, \"{0} {1}\", or give the table a unit",
                       base::format_exact(*value.number()), example_unit),
                   ProblemCode::BadUnit);
    }
    own->number = *value.number();
    own->text = base::format_exact(*value.number());
    return *own;
}

Result<std::optional<TypedQuantity>> Fields::quantity(std::string_view key,
                                                      std::string_view example_unit) const {
    const Node* found = node(key);
    if (found == nullptr) {
        return std::nullopt;
    }
    BW_TRY(out, quantity_of(key, *found, example_unit));
    return out;
}

Result<std::optional<double>> Fields::value_in(std::string_view key, Dimension dimension) const {
    BW_TRY(typed, quantity(key, unit::example_unit(dimension)));
    if (!typed) {
        return std::nullopt;
    }
    const bool share_as_mass =
        dimension == Dimension::MassPerMass && typed->unit.dimension == Dimension::Fraction;
    if (typed->unit.dimension != dimension && !share_as_mass) {
        return bad(
            key, fmt::format("{} is not {}", base::quoted(typed->text), unit::describe(dimension)),
            ProblemCode::BadUnit);
    }
    const double value = typed->value();
    if (dimension != Dimension::Temperature && value < 0) {
        return bad(key, fmt::format("{} is negative", base::quoted(typed->text)),
                   ProblemCode::OutOfRange);
    }
    return value;
}

Result<Fields> open_kind(const Document& document, std::string_view kind) {
    BW_TRY(root, Fields::of(document, document.root, ""));
    const Node* format = root.node("format");
    if (format == nullptr || format->text() == nullptr || *format->text() != "brinewright/1") {
        return root.bad(format == nullptr ? "" : "format",
                        "the file must start with format = \"brinewright/1\"",
                        ProblemCode::WrongKind);
    }
    const Node* found = root.node("kind");
    if (found == nullptr || found->text() == nullptr) {
        return root.bad("", fmt::format("the file must say kind = \"{}\"", kind),
                        ProblemCode::WrongKind);
    }
    if (*found->text() != kind) {
        return root.bad("kind",
                        fmt::format("a file of kind \"{}\" is needed here, this one is of kind {}",
                                    kind, base::quoted(*found->text())),
                        ProblemCode::WrongKind);
    }
    return root;
}

namespace {

struct Share {
    double value;
    bool by_mass;
};

Result<std::optional<Share>> share_of(const Fields& table, std::string_view key) {
    BW_TRY(typed, table.quantity(key, "%"));
    if (!typed) {
        return std::nullopt;
    }
    const Dimension d = typed->unit.dimension;
    const bool by_mass = d == Dimension::Fraction || d == Dimension::MassPerMass;
    const bool by_amount = d == Dimension::AmountPerMass || d == Dimension::EquivalentPerMass;
    if (!by_mass && !by_amount) {
        return table.bad(
            key,
            fmt::format("{} is not a share of a material: use %, g/kg, mg/kg, mmol/kg or meq/kg",
                        base::quoted(typed->text)),
            ProblemCode::BadUnit);
    }
    if (typed->number < 0) {
        return table.bad(key, fmt::format("{} is negative", base::quoted(typed->text)),
                         ProblemCode::OutOfRange);
    }
    return Share{typed->value(), by_mass};
}

}  // namespace

Result<StatedShare> stated_share_in(const Fields& table) {
    BW_TRY(value, share_of(table, "value"));
    BW_TRY(u, share_of(table, "u"));
    BW_TRY(low, share_of(table, "low"));
    BW_TRY(high, share_of(table, "high"));
    BW_TRY(below, share_of(table, "below"));
    const int ways = (value ? 1 : 0) + (low || high ? 1 : 0) + (below ? 1 : 0);
    if (ways != 1) {
        return table.bad("", "say one of: value (with u), low and high, high alone, or below");
    }
    StatedShare out;
    if (value) {
        if (u && u->by_mass != value->by_mass) {
            return table.bad("u", "value and u must both be by mass or both by amount",
                             ProblemCode::BadUnit);
        }
        out.stated = u ? matter::Stated::normal(value->value, u->value)
                       : matter::Stated::exactly(value->value);
        out.by_mass = value->by_mass;
        return out;
    }
    if (u) {
        return table.bad("u", "u goes with value; limits carry their own uncertainty");
    }
    if (below) {
        out.stated = matter::Stated::between(0, below->value);
        out.by_mass = below->by_mass;
        out.below = true;
        return out;
    }
    if (!high) {
        return table.bad("low", "low needs a high beside it");
    }
    if (low && low->by_mass != high->by_mass) {
        return table.bad("low", "low and high must both be by mass or both by amount",
                         ProblemCode::BadUnit);
    }
    if (low && low->value > high->value) {
        return table.bad("low",
                         fmt::format("low is above high: {} > {}", base::format_exact(low->value),
                                     base::format_exact(high->value)),
                         ProblemCode::OutOfRange);
    }
    out.stated = matter::Stated::between(low ? low->value : 0, high->value);
    out.by_mass = high->by_mass;
    return out;
}

Result<StatedShare> stated_share(const Fields& holder, std::string_view key) {
    const Node* found = holder.node(key);
    if (found != nullptr && found->table() != nullptr) {
        BW_TRY(table, holder.table(key));
        return stated_share_in(*table);
    }
    BW_TRY(share, share_of(holder, key));
    if (!share) {
        return holder.bad(key, fmt::format("{} is missing", key));
    }
    return StatedShare{matter::Stated::exactly(share->value), share->by_mass, false};
}

}  // namespace bw::io
