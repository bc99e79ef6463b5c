// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/budget_file.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "assay/written_model.hpp"
#include "base/text.hpp"
#include "io/fields.hpp"
#include "unit/unit_table.hpp"

namespace bw::io {
namespace {

using assay::InputShape;

struct NamedShape {
    std::string_view name;
    InputShape shape;
};
// Below, the variance of Student's t is endless (at 2 and less) or hardly to be drawn.
constexpr double kLeastFreedom = 3;
// Our rule: the adaptive draws settle the ends of such intervals within their most trials.
constexpr double kLeastCoverage = 0.5, kMostCoverage = 0.999;

constexpr std::array kShapes = {NamedShape{"rectangular", InputShape::Rectangular},
                                NamedShape{"triangular", InputShape::Triangular},
                                NamedShape{"arc sine", InputShape::ArcSine}};

/// A number with the unit it is typed in; a bare number has none.
struct Typed {
    double number = 0;
    std::optional<unit::Unit> unit;
};

Result<std::optional<Typed>> typed(const Fields& table, std::string_view key) {
    if (!table.has(key)) {
        return std::optional<Typed>();
    }
    if (const auto bare = table.number(key)) {
        return std::optional(Typed{**bare, std::nullopt});
    }
    BW_TRY(quantity, table.quantity(key, "mL"));
    return std::optional(Typed{quantity->number, quantity->unit});
}

/// A width in the unit of the value: as typed there, in a unit of its kind, or in per cent of it.
Result<double> width_of(const Fields& table, std::string_view key, const Typed& width,
                        const Typed& value) {
    if (!(width.number >= 0)) {
        return table.bad(key, "is not negative");
    }
    if (!width.unit && !value.unit) {
        return width.number;
    }
    const bool percent = width.unit && width.unit->dimension == unit::Dimension::Fraction;
    if (percent && value.number == 0 && width.number > 0) {
        return table.bad(key, "is no share of a value of 0: give it in the value's unit");
    }
    if (percent && !(value.unit && value.unit->dimension == unit::Dimension::Fraction)) {
        return std::abs(value.number) * width.unit->factor * width.number;
    }
    if (!width.unit || !value.unit || width.unit->dimension != value.unit->dimension) {
        return table.bad(key, "is in the kind of unit that the value is in, or in per cent of it",
                         ProblemCode::BadUnit);
    }
    return width.number * width.unit->factor / value.unit->factor;
}

Result<assay::BudgetInput> shaped(const Fields& table, const std::string& name, const Typed& value,
                                  double freedom) {
    BW_TRY(u, typed(table, "u"));
    BW_TRY(half, typed(table, "half_width"));
    BW_TRY(shape, table.text("shape"));
    if (u.has_value() == half.has_value()) {
        return table.bad(u ? "half_width" : "u",
                         fmt::format("input {} needs its standard uncertainty, u, or the "
                                     "half_width of its limits, one of the two",
                                     base::quoted(name)));
    }
    if (u) {
        if (shape && *shape != "normal") {
            return table.bad("shape", "of an input with u is normal, and need not be written");
        }
        BW_TRY(width, width_of(table, "u", *u, value));
        if (!shape && freedom < kLeastFreedom) {
            return table.bad("freedom",
                             fmt::format("Student's t of fewer than {} degrees of freedom has no "
                                         "standard deviation to draw: read more often, or write "
                                         "shape = \"normal\" to take u as it is",
                                         kLeastFreedom));
        }
        return shape || freedom == assay::kManyFreedom
                   ? assay::normal_input(name, value.number, width, freedom)
                   : assay::student_input(name, value.number, width, freedom);
    }
    const std::string wanted = shape.value_or("rectangular");
    for (const NamedShape& known : kShapes) {
        if (known.name == wanted) {
            BW_TRY(width, width_of(table, "half_width", *half, value));
            return assay::limited_input(name, value.number, width, known.shape, 0, freedom);
        }
    }
    return table.bad("shape", fmt::format("{} is not known: write rectangular, triangular or "
                                          "\"arc sine\"",
                                          base::quoted(wanted)));
}

Result<void> add_input(const Fields& table, BudgetFile& out) {
    BW_CHECK(table.allow({"name", "value", "u", "half_width", "shape", "freedom", "note"}));
    BW_TRY(name, table.required_text("name"));
    const bool fits =
        !name.empty() && !base::is_digit(name.front()) &&
        std::all_of(name.begin(), name.end(), [](char c) {
            return base::is_lower(c) || base::is_upper(c) || base::is_digit(c) || c == '_';
        });
    if (!fits) {
        return table.bad("name", "is of letters, digits and _, and begins with no digit");
    }
    BW_TRY(value, typed(table, "value"));
    if (!value) {
        return table.bad("value", fmt::format("input {} needs its value", base::quoted(name)));
    }
    BW_TRY(freedom, table.number("freedom"));
    if (freedom && !(*freedom >= 1)) {
        return table.bad("freedom", "degrees of freedom are 1 or more");
    }
    BW_TRY(input, shaped(table, name, *value, freedom.value_or(assay::kManyFreedom)));
    out.inputs.push_back(std::move(input));
    out.units.emplace_back(value->unit ? value->unit->symbol : "");
    return {};
}

Result<void> add_correlation(const Fields& table, BudgetFile& out) {
    BW_CHECK(table.allow({"of", "r", "note"}));
    BW_TRY(of, table.texts("of"));
    BW_TRY(r, table.number("r"));
    if (of.size() != 2 || !r) {
        return table.bad("of", "a correlation names two inputs and their r");
    }
    std::array<std::size_t, 2> index{};
    for (std::size_t i = 0; i < 2; ++i) {
        const auto found = std::find_if(out.inputs.begin(), out.inputs.end(),
                                        [&](const auto& input) { return input.name == of[i]; });
        if (found == out.inputs.end()) {
            return table.bad("of", fmt::format("{} is no input", base::quoted(of[i])),
                             ProblemCode::UnknownName);
        }
        index[i] = static_cast<std::size_t>(found - out.inputs.begin());
    }
    out.correlations.push_back({index[0], index[1], *r});
    return {};
}

}  // namespace

Result<BudgetFile> read_budget(const Document& document) {
    BW_TRY(root, open_kind(document, "budget"));
    BW_CHECK(root.allow({"format", "kind", "name", "unit", "model", "coverage", "input",
                         "correlation", "invented", "note"}));
    BudgetFile out;
    BW_TRY(name, root.required_text("name"));
    BW_TRY(formula, root.required_text("model"));
    BW_TRY(unit, root.text("unit"));
    BW_TRY(coverage, root.value_in("coverage", unit::Dimension::Fraction));
    BW_TRY(invented, root.flag("invented"));
    if (coverage && (*coverage < kLeastCoverage || *coverage > kMostCoverage)) {
        return root.bad("coverage", "lies between 50 % and 99.9 %, which drawn values can show",
                        ProblemCode::OutOfRange);
    }
    out.name = name;
    out.formula = formula;
    out.unit = unit.value_or("");
    out.coverage = coverage.value_or(out.coverage);
    out.invented = invented.value_or(false);
    BW_TRY(inputs, root.tables("input"));
    for (const Fields& table : inputs) {
        BW_CHECK(add_input(table, out));
    }
    BW_TRY(correlations, root.tables("correlation"));
    for (const Fields& table : correlations) {
        BW_CHECK(add_correlation(table, out));
    }
    std::vector<std::string> names;
    names.reserve(out.inputs.size());
    for (const assay::BudgetInput& input : out.inputs) {
        names.push_back(input.name);
    }
    const auto model = assay::written_model(out.formula, names);
    if (!model) {
        return root.placed("model", model.error());
    }
    out.model = *model;
    return out;
}

}  // namespace bw::io
