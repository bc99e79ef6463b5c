// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "io/document.hpp"
#include "recipe/target.hpp"
#include "unit/unit_table.hpp"

namespace bw::service {

/// Calcium against alkalinity at the limits on the finished water, for some magnesium.
struct TradeRequest {
    io::Document target;
    std::vector<io::Document> materials;
    std::optional<unit::TypedQuantity> calcium_from, calcium_to;  ///< else 10 % about the target
    std::vector<unit::TypedQuantity> magnesium;  ///< else the target and 5 % below and above
    int points = 9;                              ///< of calcium, 2 to 101
    std::function<bool(double)> progress;        ///< told the share done; false calls it off
};

/// The most alkalinity at one calcium and magnesium; amounts of the finished water.
struct TradePoint {
    double calcium_mol_per_kg = 0;
    double magnesium_mol_per_kg = 0;
    std::optional<double> alkalinity_eq_per_kg;  ///< nothing: no recipe at all
    std::optional<double> omega_aragonite;       ///< where the limits hold
    std::optional<double> safe_h;                ///< only for a target that limits it
    std::optional<double> use_within_h;          ///< what may be counted on: held
    std::optional<double> cost_per_t_blend;      ///< where all materials have a price
};

/// A constituent as the target speaks of it.
struct TradeAxis {
    std::string unit;
    double per_mol_per_kg = 1;
    std::optional<double> target_mol_per_kg;
};

struct TradeReport {
    std::string name;
    bool invented = false;
    std::vector<std::string> limits;  ///< in words
    TradeAxis calcium, magnesium, alkalinity;
    std::string currency;
    std::vector<std::string> notes;  ///< where the target lies, and what is set aside
    std::vector<TradePoint> points;  ///< by magnesium, then calcium, both as asked
};

/// Works out the curve.
///
/// Definition   at each point calcium and magnesium are held within kTradeBand; alkalinity is
///              driven up as far as the target's limits on saturation or safe time let it, at most
///              to kTradeMost; carbon keeps the target's proportion to alkalinity, or 0.85 to 0.95
///              mol per eq. All other bands and ceilings of the target hold; its bands for calcium,
///              magnesium, alkalinity and carbon, the ratios among them, chances, numbers of
///              materials and weighings are set aside.
/// Accuracy     the alkalinity within 0.05 % of what the model gives; the model's own factor is on
///              Omega.
/// Errors       those of the readers; BadInput for a target without a limit on aragonite or safe
///              time, or that names no calcium, magnesium or alkalinity; OutOfRange for
///              amounts that are not above 0 or do not rise, BadUnit.
/// Complexity   two searches per point on all cores: some 30 ms with limits on Omega, 0.5 s with a
///              safe time.
[[nodiscard]] Result<TradeReport> recipe_trade(const TradeRequest& request);

inline constexpr double kTradeBand = 2e-4;  ///< of the amount
inline constexpr double kTradeMost = 8e-3;  ///< eq/kg of alkalinity
inline constexpr int kMostTradePoints = 101;

}  // namespace bw::service
