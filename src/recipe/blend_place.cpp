// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "recipe/blend_place.hpp"

#include <algorithm>
#include <initializer_list>

#include "ref/dry_bag_tables.hpp"

namespace bw::recipe {
namespace {

using matter::constituent;

constexpr double kMuch = 0.5;            // mol/kg of material: what it brings beside is an impurity
constexpr double kMainly = 2;            // mol/kg of material: what it is bought for
constexpr double kHumidityOfRooms = 60;  // per cent: common practice for a blending room

bool brings(const Supply& supply, std::string_view symbol, double above) {
    return supply.meant_mol_per_kg()[constituent(symbol)] > above;
}

bool brings_any(const Supply& supply, std::initializer_list<std::string_view> symbols,
                double above) {
    return std::any_of(symbols.begin(), symbols.end(),
                       [&](std::string_view symbol) { return brings(supply, symbol, above); });
}

bool basic(const Supply& supply) {
    return brings(supply, "alkalinity", kMuch) ||
           brings_any(supply, {"B", "F", "carbon", "Si", "PO4"}, 0);
}

bool pure(const Supply& supply) { return !supply.material.formula.empty(); }

std::string_view without_water(std::string_view formula) {
    return formula.substr(0, formula.find('.'));
}

}  // namespace

bool draws_water(const Supply& supply) {
    if (brings(supply, "Cl", kMainly) && brings_any(supply, {"Mg", "Ca", "Sr", "Li"}, kMainly)) {
        return true;
    }
    const auto rows = ref::deliquescence();
    return pure(supply) && std::any_of(rows.begin(), rows.end(), [&](const auto& row) {
               return without_water(supply.material.formula) == without_water(row.formula) &&
                      row.low < kHumidityOfRooms;
           });
}

BlendGroup blend_group(const Supply& supply) {
    if (supply.material.role == "premix") {
        return BlendGroup::Premix;
    }
    if (basic(supply) && pure(supply)) {
        return BlendGroup::Basic;
    }
    if (draws_water(supply)) {
        return BlendGroup::Hygroscopic;
    }
    if (supply.material.role == "trace") {
        return BlendGroup::Premix;
    }
    if (brings(supply, "SO4", kMainly)) {
        return BlendGroup::Sulfate;
    }
    if (brings(supply, "Na", kMainly) && brings(supply, "Cl", kMainly)) {
        return BlendGroup::Carrier;
    }
    return brings(supply, "K", kMainly) ? BlendGroup::Potassium : BlendGroup::Other;
}

Company company_of(const Supply& supply) {
    const bool earths = brings_any(supply, {"Mg", "Ca", "Sr", "Li"}, kMuch);
    const bool sulfate = brings(supply, "SO4", kMuch);
    if (basic(supply)) {
        return earths && !pure(supply) ? Company::None : Company::Carbonates;
    }
    if (earths || draws_water(supply)) {
        return sulfate ? Company::None : Company::Chlorides;
    }
    return sulfate ? Company::Carbonates : Company::Any;
}

}  // namespace bw::recipe
