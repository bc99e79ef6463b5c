// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <array>
#include <string>
#include <vector>

#include "path/course.hpp"

namespace bw::path {

/// What a part of the salt is in the vat, by what it brings most of.
enum class Role : std::uint8_t { Alkalinity, Calcium, Magnesium, Rest };

/// The role of each part.
///
/// Definition   alkalinity: most of its charge that counts for the carbonates is alkalinity, as in
///              hydrogencarbonate, carbonate, borax and hydroxide; calcium and magnesium: more than
///              a tenth of its mass of dissolved ions; rest: everything else.
[[nodiscard]] std::vector<Role> roles_of(const std::vector<Part>& parts);

/// An order of additions with a name.
struct Order {
    std::string name;  ///< "calcium, then alkalinity"
    std::vector<Addition> additions;
};

/// Eight orders in which a salt may go into the whole of its water.
///
/// Inputs   the parts; hours between two additions, above 0.
[[nodiscard]] std::vector<Order> usual_orders(const std::vector<Part>& parts, double step_h);
inline constexpr std::size_t kUsualOrders = 8;
inline constexpr std::size_t kAlkalinityLast = 1;  ///< among them: the rest, calcium, alkalinity

/// The parts with every carrier of carbon replaced by hydrogencarbonate and carbonate of sodium of
/// the same alkalinity, `carbonate_share` of it as carbonate.
///
/// Inputs   a share of 0 to 1. Errors those of dissolving_solid and grains_about.
[[nodiscard]] Result<std::vector<Part>> with_carbonate_share(const std::vector<Part>& parts,
                                                             double carbonate_share);

/// The share of carbonate with which the water is in balance with the air as soon as it is mixed.
///
/// Definition   fugacity of CO2 of the finished water equals the air's, by bisection; 0 where
///              hydrogencarbonate alone has too little CO2, 1 where carbonate alone has too much.
[[nodiscard]] Result<double> neutral_carbonate_share(const std::vector<Part>& parts,
                                                     double air_co2_atm, double celsius);

}  // namespace bw::path
