// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "base/notice.hpp"
#include "blend/bag_reactions.hpp"
#include "blend/water_budget.hpp"

namespace bw::blend {

/// How a bag is made and kept.
struct BagConditions {
    unit::Celsius temperature{25};
    std::optional<double> room_humidity_percent;  ///< where it is blended and filled
    double bag_kg = 20;
    double days = 0;                  ///< in store
    double wvtr_g_per_m2_day = 0;     ///< water vapour through the film, at the store's climate
    double area_m2 = 0;               ///< of the film
    double blend_g_per_kg_water = 0;  ///< dose, per kg of purified water
};

enum class DryVerdict {
    StaysDry,  ///< water bound, nothing wets
    Watch,     ///< dry as far as it goes, with little to spare, or slow hydrates to come
    GetsWet,   ///< more water than the blend can bind: brine in the bag
};
[[nodiscard]] std::string_view name(DryVerdict verdict);

/// One line of advice: what to do, its figure, and how that is known.
struct Advice {
    std::string text;
    std::string basis;  ///< a source's key with how it is known, "computed", "estimate" or "common
                        ///< practice"
};

/// The stability of a dry blend in its bag.
struct DryBag {
    DryVerdict verdict = DryVerdict::StaysDry;
    std::string reason;
    BagConditions conditions;
    BagSalts salts;
    BlendHumidities humidities;
    BlendWater water;
    std::vector<Wetting> wettings;
    BagContents contents;
    std::vector<CarbonateLoss> losses;        ///< empty without hydrogencarbonate and calcium
    std::optional<GypsumMade> gypsum;         ///< for one per cent
    std::optional<double> co2_pressure_mbar;  ///< over the hydrogencarbonate, water vapour 10 mbar
    std::vector<Advice> advice;
    base::Notices notices;
};

/// Works out whether a blend stays dry in its bag and what it does if it does not.
///
/// Inputs   parts whose shares sum to 1; conditions: 5 to 40 degC; room 0 to 100 %; bag above 0 kg;
///          days, WVTR, area and dose not negative.
/// Accuracy of the table's humidities, 1 to 5 % RH; how fast anything happens is not known.
/// Errors   OutOfRange, at the condition's name (temperature, humidity, bag, days, wvtr, area);
///          BadInput when no salt is known in any part.
/// Source   data/deliquescence.toml, row by row.
[[nodiscard]] Result<DryBag> dry_bag(std::span<const BagPart> parts,
                                     const BagConditions& conditions);

/// The advice that follows; called by dry_bag.
[[nodiscard]] std::vector<Advice> storage_advice(const DryBag& bag);

}  // namespace bw::blend
