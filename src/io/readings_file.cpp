// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/readings_file.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "io/fields.hpp"

namespace bw::io {
namespace {

/// name, unit and invented, of the lines above a table; a head that holds no keys says nothing.
template <class File>
Result<void> read_head(const NumberColumns& table, File& out) {
    out.file = table.file;
    if (table.head.find("format") == std::string::npos) {
        return {};
    }
    BW_TRY(head, parse_document(table.head, table.file));
    BW_TRY(root, open_kind(head, "readings"));
    BW_CHECK(root.allow({"format", "kind", "name", "unit", "invented", "note"}));
    BW_TRY(name, root.text("name"));
    BW_TRY(unit, root.text("unit"));
    BW_TRY(invented, root.flag("invented"));
    out.name = name.value_or("");
    out.unit = unit.value_or("");
    out.invented = invented.value_or(false);
    return {};
}

Result<std::size_t> values_column(const NumberColumns& table, const ReadingsColumns& columns) {
    if (!columns.values.empty()) {
        return column(table, columns.values);
    }
    if (const auto named = column(table, "value")) {
        return *named;
    }
    std::vector<std::string> numeric;
    std::size_t found = 0;
    for (std::size_t i = 0; i < table.names.size(); ++i) {
        if (table.names[i] != columns.labels && table.names[i] != columns.groups &&
            table.names[i] != "group" && is_numeric(table, i)) {
            numeric.push_back(table.names[i]);
            found = i;
        }
    }
    if (numeric.size() == 1) {
        return found;
    }
    return fail(ProblemCode::BadInput,
                numeric.empty() ? std::string("no column holds numbers throughout: name the column "
                                              "to see which cell does not")
                                : fmt::format("columns {} all hold numbers: name one column",
                                              base::join_words(numeric)),
                {table.file, 0, {}});
}

std::vector<std::string> cells(const NumberColumns& table, std::size_t column) {
    std::vector<std::string> out;
    for (const auto& row : table.rows) {
        out.push_back(row[column]);
    }
    return out;
}

}  // namespace

Result<ReadingsFile> readings_of(const NumberColumns& table, const ReadingsColumns& columns) {
    ReadingsFile out;
    BW_CHECK(read_head(table, out));
    BW_TRY(at, values_column(table, columns));
    BW_TRY(values, numbers(table, at));
    out.values = std::move(values);
    if (out.name.empty()) {
        out.name = table.names[at];
    }
    if (!columns.groups.empty()) {
        BW_TRY(groups, column(table, columns.groups));
        out.groups = cells(table, groups);
    } else if (const auto groups = column(table, "group")) {
        out.groups = cells(table, *groups);
    }
    if (!columns.labels.empty()) {
        BW_TRY(labels, column(table, columns.labels));
        out.labels = cells(table, labels);
        return out;
    }
    for (std::size_t i = 0; i < table.names.size(); ++i) {
        if (i != at && table.names[i] != "group" && !is_numeric(table, i)) {
            out.labels = cells(table, i);
            break;
        }
    }
    return out;
}

Result<ReadingsFile> readings_of(const Document& document) {
    BW_TRY(root, open_kind(document, "readings"));
    BW_CHECK(root.allow(
        {"format", "kind", "name", "unit", "invented", "note", "values", "labels", "groups"}));
    ReadingsFile out;
    out.file = document.name;
    BW_TRY(name, root.text("name"));
    BW_TRY(unit, root.text("unit"));
    BW_TRY(invented, root.flag("invented"));
    out.name = name.value_or("readings");
    out.unit = unit.value_or("");
    out.invented = invented.value_or(false);
    const Node* values = root.node("values");
    if (values == nullptr || values->array() == nullptr || values->array()->empty()) {
        return root.bad(values == nullptr ? "" : "values", "values is a list of numbers");
    }
    for (const Node& v : *values->array()) {
        if (v.number() == nullptr) {
            return fail(ProblemCode::BadInput, fmt::format("a number is needed, not {}", v.kind()),
                        {document.name, v.line, "values"});
        }
        out.values.push_back(*v.number());
    }
    BW_TRY(labels, root.texts("labels"));
    BW_TRY(groups, root.texts("groups"));
    for (const auto* list : {&labels, &groups}) {
        if (!list->empty() && list->size() != out.values.size()) {
            return root.bad(
                list == &labels ? "labels" : "groups",
                fmt::format("{} are there for {} values", list->size(), out.values.size()));
        }
    }
    out.labels = std::move(labels);
    out.groups = std::move(groups);
    return out;
}

Result<ReadingsFile> read_readings(const std::string& path, const ReadingsColumns& columns) {
    if (is_document_name(path)) {
        BW_TRY(document, read_document(path));
        return readings_of(document);
    }
    BW_TRY(table, read_columns(path));
    return readings_of(table, columns);
}

Result<UnitsFile> units_of(const NumberColumns& table) {
    UnitsFile out;
    BW_CHECK(read_head(table, out));
    const bool named = table.names.front() == "unit" || !is_numeric(table, 0);
    const std::size_t first = named ? 1 : 0;
    if (table.names.size() < first + 2) {
        return fail(ProblemCode::BadInput,
                    "homogeneity needs two results or more of each unit, a column each",
                    {table.file, 0, {}});
    }
    out.results.resize(table.rows.size());
    for (std::size_t c = first; c < table.names.size(); ++c) {
        BW_TRY(values, numbers(table, c));
        for (std::size_t i = 0; i < values.size(); ++i) {
            out.results[i].push_back(values[i]);
        }
    }
    for (std::size_t i = 0; i < table.rows.size(); ++i) {
        out.names.push_back(named ? table.rows[i].front() : fmt::format("{}", i + 1));
    }
    return out;
}

Result<UnitsFile> read_units(const std::string& path) {
    BW_TRY(table, read_columns(path));
    return units_of(table);
}

}  // namespace bw::io
