// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "io/document.hpp"
#include "matter/material.hpp"
#include "unit/unit_table.hpp"

namespace bw::io {

/// Reads the fields of one table, each by its kind, with the place in every message.
class Fields {
public:
    /// Errors   BadInput when the node is no table.
    [[nodiscard]] static Result<Fields> of(const Document& document, const Node& node,
                                           std::string path);

    /// Errors   BadInput naming the first key that is not among those allowed, with the nearest
    /// one.
    [[nodiscard]] Result<void> allow(std::initializer_list<std::string_view> keys) const;

    [[nodiscard]] bool has(std::string_view key) const { return node_->find(key) != nullptr; }
    [[nodiscard]] const Node* node(std::string_view key) const { return node_->find(key); }
    [[nodiscard]] const Node& self() const { return *node_; }

    /// Absent fields give nothing; fields of another kind are errors.
    [[nodiscard]] Result<std::optional<std::string>> text(std::string_view key) const;
    [[nodiscard]] Result<std::string> required_text(std::string_view key) const;
    [[nodiscard]] Result<std::optional<double>> number(std::string_view key) const;
    [[nodiscard]] Result<std::optional<int>> whole_number(std::string_view key, int least,
                                                          int most) const;
    [[nodiscard]] Result<std::optional<bool>> flag(std::string_view key) const;
    [[nodiscard]] Result<std::vector<std::string>> texts(std::string_view key) const;
    /// The tables of a list [[key]].
    [[nodiscard]] Result<std::vector<Fields>> tables(std::string_view key) const;
    [[nodiscard]] Result<std::optional<Fields>> table(std::string_view key) const;

    /// A quantity "440 mg/L"; a bare number takes the table's own `unit`, when it has one.
    /// `example_unit` is what a message suggests when the unit is missing.
    [[nodiscard]] Result<std::optional<unit::TypedQuantity>> quantity(
        std::string_view key, std::string_view example_unit = "mg/L") const;
    /// A quantity of one dimension, in that dimension's unit, that is not negative.
    [[nodiscard]] Result<std::optional<double>> value_in(std::string_view key,
                                                         unit::Dimension dimension) const;

    [[nodiscard]] Place place(std::string_view key) const;
    [[nodiscard]] tl::unexpected<Problem> bad(std::string_view key, std::string why,
                                              ProblemCode code = ProblemCode::BadInput) const;
    /// Puts file, line and field into a problem that lacks them.
    [[nodiscard]] tl::unexpected<Problem> placed(std::string_view key, Problem problem) const;

private:
    Fields(const Document& document, const Node& node, std::string path)
        : document_(&document), node_(&node), path_(std::move(path)) {}
    [[nodiscard]] Result<unit::TypedQuantity> quantity_of(std::string_view key, const Node& value,
                                                          std::string_view example_unit) const;
    [[nodiscard]] Result<std::optional<unit::TypedQuantity>> own_unit() const;

    const Document* document_;
    const Node* node_;
    std::string path_;
};

/// Checks format and kind.
///
/// Errors   WrongKind, BadInput.
[[nodiscard]] Result<Fields> open_kind(const Document& document, std::string_view kind);

/// A share as a certificate states it: "99.2 %", { value, u }, { low, high }, { high }, { below }.
///
/// Errors   BadInput, BadUnit; low > high; a negative share.
struct StatedShare {
    matter::Stated stated;
    bool by_mass = true;  ///< kg/kg; otherwise mol/kg (eq/kg)
    bool below = false;
};
[[nodiscard]] Result<StatedShare> stated_share(const Fields& holder, std::string_view key);
[[nodiscard]] Result<StatedShare> stated_share_in(const Fields& table);

}  // namespace bw::io
