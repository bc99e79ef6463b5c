// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <algorithm>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "blend/dry_bag.hpp"

namespace bw::blend {
namespace {

std::string percent(double value) { return base::format_places(value, 0) + " %"; }

void on_air(const DryBag& bag, std::vector<Advice>& out) {
    const Humidity& lowest = bag.humidities.lowest;
    out.push_back(
        {fmt::format("Blend and fill in air below {} humidity: {} takes water from any air "
                     "above that.",
                     percent(lowest.low), bag.humidities.lowest_of),
         fmt::format("{}, {}", lowest.mark, lowest.source)});
    if (bag.water.left() <= 0) {
        out.push_back(
            {fmt::format("Test a bag: a humidity sensor in a sealed jar of the blend must stay "
                         "below {}.",
                         percent(lowest.low)),
             "computed: the line above"});
    } else {
        out.push_back(
            {fmt::format("A humidity sensor in a sealed jar of this blend will come to rest at {} "
                         "or above, as over a brine: what the changes below are worth shows in how "
                         "much lower it stays.",
                         percent(lowest.low)),
             "computed: the line above"});
    }
    if (lowest.low < 40) {
        out.push_back(
            {"Use a foil-laminate bag with a one-way valve, and fill it cold; days and "
             "nights of changing temperature move water to the cold wall.",
             "common practice"});
    }
}

void on_hydrates(const DryBag& bag, std::vector<Advice>& out) {
    for (const Wetting& w : bag.wettings) {
        if (w.giver.starts_with("MgSO4.7H2O")) {
            out.push_back(
                {fmt::format("Take dried magnesium sulfate or sodium sulfate instead of the "
                             "heptahydrate, which gives off water below {} humidity while "
                             "{} is wet above {}.",
                             percent(w.gives_below.low), w.taker, percent(w.wet_above.low)),
                 fmt::format("{}, {}", w.gives_below.mark, w.gives_below.source)});
            break;
        }
    }
    double dihydrate = 0;  // mol per kg of blend
    for (const BagSalt& salt : bag.salts.salts) {
        constexpr double kHydrate = 1.5;  // waters
        dihydrate += salt.dry == "CaCl2" && salt.waters > kHydrate ? salt.mol_per_kg : 0;
    }
    constexpr double kTwoWaters = 36.03;  // g/mol
    constexpr double kLittle = 0.5;       // g/kg
    const double binds = dihydrate * kTwoWaters;
    if (bag.water.left() > kLittle && dihydrate > 0) {
        out.push_back(
            {fmt::format(
                 "Anhydrous calcium chloride in place of all the dihydrate would bind {} g of "
                 "the {} g of water per kg of blend{}.",
                 base::format_significant(binds, 2), base::format_significant(bag.water.left(), 2),
                 binds < bag.water.left() ? ": not enough by itself" : ""),
             "computed: two waters per mol"});
    }
}

void on_reactions(const DryBag& bag, std::vector<Advice>& out) {
    if (!bag.losses.empty()) {
        out.push_back(
            {"Keep calcium chloride and the carbonates apart: one of them in a sachet or "
             "a layer of its own, or calcium chloride in coarse or coated grains.",
             "common practice"});
    }
    if (bag.gypsum) {
        out.push_back(
            {"Keep calcium chloride from sulfates too: gypsum that forms dissolves again, "
             "but in half an hour or more.",
             "estimate: grains of 0.3 mm"});
    }
    if (bag.co2_pressure_mbar) {
        out.push_back(
            {"Store below 35 degC: above it hydrogencarbonate drifts towards carbonate in dry "
             "moving "
             "air; a closed bag holds it.",
             "computed, extended-uniquac"});
    }
    out.push_back(
        {"Keep grains of one size within a factor of two (d50), and do not stack bags high "
         "when damp: caking begins with sorbed moisture, goes on with liquid bridges and "
         "ends with crystal bridges.",
         "read, caking-review-2017; factor: common practice"});
}

}  // namespace

std::vector<Advice> storage_advice(const DryBag& bag) {
    std::vector<Advice> out;
    on_air(bag, out);
    on_hydrates(bag, out);
    on_reactions(bag, out);
    return out;
}

}  // namespace bw::blend
