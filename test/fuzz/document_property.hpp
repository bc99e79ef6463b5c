// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <string_view>
#include <utility>

#include "command/document_as_json.hpp"
#include "fuzz/one_line.hpp"
#include "io/material_file.hpp"
#include "io/recipe_file.hpp"
#include "io/target_file.hpp"

namespace bw::fuzz {

inline bool same_node(const io::Node& a, const io::Node& b) {
    if (a.value.index() != b.value.index()) {
        return false;
    }
    if (const auto* table = a.table()) {
        return std::equal(table->begin(), table->end(), b.table()->begin(), b.table()->end(),
                          [](const io::Node::Entry& x, const io::Node::Entry& y) {
                              return x.key == y.key && same_node(x.value, y.value);
                          });
    }
    if (const auto* array = a.array()) {
        return std::equal(array->begin(), array->end(), b.array()->begin(), b.array()->end(),
                          same_node);
    }
    if (const auto* text = a.text()) {
        return *text == *b.text();
    }
    if (const auto* number = a.number()) {
        return *number == *b.number();
    }
    return *a.flag() == *b.flag();
}

/// The document with another kind, so that one input reaches every reader.
inline io::Document of_kind(io::Document document, std::string_view kind) {
    auto& table = std::get<io::Node::Table>(document.root.value);
    const std::array<std::pair<std::string_view, std::string_view>, 2> head{
        {{"format", "brinewright/1"}, {"kind", kind}}};
    for (const auto& [key, text] : head) {
        const auto found =
            std::find_if(table.begin(), table.end(),
                         [&, &k = key](const auto& entry) { return entry.key == k; });
        if (found != table.end()) {
            found->value.value = std::string(text);
        } else {
            table.push_back({std::string(key), io::Node{std::string(text), 1}});
        }
    }
    return document;
}

inline bool above_zero(double value) { return value > 0 && std::isfinite(value); }

inline Fault fault_of_band(std::optional<double> low, std::optional<double> target,
                           std::optional<double> high) {
    for (const auto& value : {low, target, high}) {
        if (value && !std::isfinite(*value)) {
            return "a limit is not finite";
        }
    }
    const bool crossed = (low && high && *low > *high) || (low && target && *low > *target) ||
                         (target && high && *target > *high);
    return crossed ? Fault("low, target and high are not in this order") : Fault();
}

inline Fault fault_of_target(const io::Document& document) {
    const auto target = io::read_target(document);
    if (!target) {
        return fault_of_complaint(target.error());
    }
    if (!above_zero(target->salinity.target_g_per_kg) || target->constituents.empty()) {
        return "a target without salinity or constituents";
    }
    if (const Fault fault =
            fault_of_band(target->salinity.low_g_per_kg, target->salinity.target_g_per_kg,
                          target->salinity.high_g_per_kg)) {
        return fault;
    }
    for (const auto& goal : target->constituents) {
        if (const Fault fault = fault_of_band(goal.low, goal.target, goal.high)) {
            return fault;
        }
        if (!above_zero(goal.shown_per_mol_per_kg)) {
            return "a constituent cannot be shown in its unit";
        }
    }
    for (const auto& ratio : target->ratios) {
        if (const Fault fault = fault_of_band(ratio.low, ratio.target, ratio.high)) {
            return fault;
        }
    }
    for (const auto& ceiling : target->ceilings) {
        if (!above_zero(ceiling.high)) {
            return "a ceiling is not finite and above 0";
        }
    }
    for (const double amount : target->purified_water.values()) {
        if (!std::isfinite(amount)) {
            return "the purified water is not finite";
        }
    }
    return {};
}

inline Fault fault_of_make_up(const matter::MakeUp& made) {
    double size = 0;
    for (const auto* amounts : {&made.mol_per_kg, &made.worst_mol_per_kg, &made.main_mol_per_kg}) {
        for (const double value : amounts->values()) {
            if (!std::isfinite(value)) {
                return "an amount in a material is not finite";
            }
        }
    }
    for (const double value : made.mol_per_kg.values()) {
        size += std::abs(value);
    }
    constexpr double kRounding = 1e-9;
    constexpr double kLargestCharge = 9;
    if (std::abs(made.mol_per_kg.charge()) > kRounding * (1 + kLargestCharge * size)) {
        return "a material is not neutral";
    }
    if (!(made.water_share >= 0 && made.water_share <= 1) || !(made.insoluble_share >= 0)) {
        return "a share of a material is not one";
    }
    for (const auto& input : made.inputs) {
        if (!above_zero(input.stated.u)) {
            return "an uncertain input without a finite uncertainty";
        }
    }
    return {};
}

inline Fault fault_of_materials(const io::Document& document) {
    const auto materials = io::read_materials(document);
    if (!materials) {
        return fault_of_complaint(materials.error());
    }
    for (const io::PlacedMaterial& material : *materials) {
        if (const Fault fault = fault_of_make_up(material.make_up)) {
            return fault;
        }
        const double price = material.material.price_per_kg.value_or(0);
        if (!(price >= 0) || !std::isfinite(price)) {
            return "a price is not finite";
        }
    }
    return {};
}

inline Fault fault_of_lots(const io::Document& document) {
    const auto lots = io::read_lots(document);
    if (!lots) {
        return fault_of_complaint(lots.error());
    }
    for (const io::PlacedLot& lot : *lots) {
        if (lot.differs.name.empty() || lot.differs.lot.empty()) {
            return "a lot without material or number";
        }
    }
    return {};
}

/// A recipe that is read is written so that it reads back to the same.
inline Fault fault_of_recipe(const io::Document& document) {
    const auto recipe = io::read_recipe(document);
    if (!recipe) {
        return fault_of_complaint(recipe.error());
    }
    const auto written = io::parse_document(io::recipe_toml(*recipe), "written");
    const auto again = written ? io::read_recipe(*written)
                               : Result<io::RecipeFile>(tl::make_unexpected(written.error()));
    if (!again) {
        return "a recipe does not read back: " + again.error().text();
    }
    const bool head = again->name == recipe->name && again->target == recipe->target &&
                      again->program == recipe->program &&
                      again->data_digest == recipe->data_digest &&
                      again->temperature_degC == recipe->temperature_degC &&
                      again->dissolved_g_per_kg == recipe->dissolved_g_per_kg &&
                      again->invented == recipe->invented;
    const bool parts =
        std::equal(again->parts.begin(), again->parts.end(), recipe->parts.begin(),
                   recipe->parts.end(), [](const io::RecipePart& a, const io::RecipePart& b) {
                       return a.material == b.material && a.lot == b.lot &&
                              a.g_per_kg_purified_water == b.g_per_kg_purified_water &&
                              a.share_percent == b.share_percent;
                   });
    return head && parts ? Fault() : Fault("a recipe reads back to another one");
}

/// Any bytes are a document or a complaint; a document is the same in JSON; every reader gives
/// sound values or a complaint.
inline Fault fault_of_document(std::string_view bytes) {
    const auto document = io::parse_document(bytes, "input");
    if (!document) {
        return fault_of_complaint(document.error());
    }
    constexpr int kIndent = -1;
    const std::string json = command_test::json_of(document->root).dump(kIndent);
    if (json.size() <= io::kLargestFile) {
        const auto again = io::parse_document(json, "input");
        if (!again || !same_node(document->root, again->root)) {
            return "in JSON it is another document";
        }
    }
    using Check = Fault (*)(const io::Document&);
    const std::array<std::pair<std::string_view, Check>, 4> readers{
        {{"target", fault_of_target},
         {"materials", fault_of_materials},
         {"lots", fault_of_lots},
         {"recipe", fault_of_recipe}}};
    for (const auto& [kind, check] : readers) {
        if (const Fault fault = check(of_kind(*document, kind))) {
            return fault;
        }
    }
    return {};
}

}  // namespace bw::fuzz
