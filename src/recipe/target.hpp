// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "matter/concentration.hpp"
#include "matter/constituent.hpp"
#include "matter/material.hpp"
#include "unit/unit_table.hpp"

namespace bw::recipe {

/// Whether a target value is to be approached, or anything inside the band is equally good.
enum class Aim { Target, Band };

/// Where a goal comes from.
enum class Origin {
    Named,    ///< the target file names it
    Rest,     ///< filled in natural proportion
    Unnamed,  ///< not asked for: only to be kept from rising above nature
};

/// Priorities of goals that the file does not set.
inline constexpr int kDefaultPriority = 3;
inline constexpr int kRestPriority = 5;
inline constexpr int kGivesWayPriority = 6;  ///< Na and Cl of the rest close the charge
inline constexpr int kUnnamedPriority = 7;

/// Most of one material, beyond any water this program speaks of [kg per kg of finished water].
inline constexpr double kHighestDose = 0.4;

/// Scale on which an excess over nothing is counted [mol/kg].
inline constexpr double kNothing = 1e-6;

/// What is wanted of one constituent [mol or eq per kg of finished water].
struct ConstituentGoal {
    matter::Constituent constituent;
    std::optional<double> target;
    std::optional<double> low;
    std::optional<double> high;
    int priority = kDefaultPriority;
    Aim aim = Aim::Target;
    Origin origin = Origin::Named;
    unit::TypedQuantity shown;        ///< unit in which the user speaks of it
    double shown_per_mol_per_kg = 1;  ///< number in that unit per mol/kg
};

/// A ratio of two constituents with bounds.
struct RatioGoal {
    matter::Constituent numerator;
    matter::Constituent denominator;
    bool by_mass = false;
    std::optional<double> target;
    std::optional<double> low;
    std::optional<double> high;
    int priority = kDefaultPriority;
    [[nodiscard]] std::string name() const;
    /// Ratio as stated, per ratio of moles.
    [[nodiscard]] double per_mole_ratio() const;
    /// The ratio, as stated, in a water.
    [[nodiscard]] double in(const matter::Amounts& mol_per_kg) const;
};

/// The most of something that harms [mol per kg of finished water].
struct Ceiling {
    matter::Constituent constituent;
    double high = 0;
    unit::TypedQuantity shown;
    double shown_per_mol_per_kg = 1;
};

struct SalinityGoal {
    double target_g_per_kg = 0;
    double low_g_per_kg = 0;
    double high_g_per_kg = 0;
    int priority = 1;
    std::optional<double> practical;  ///< as typed, when it was practical salinity
};

/// The most that the finished water may be supersaturated with one solid.
struct SaturationLimit {
    std::string key;    ///< of the file: "omega_aragonite"
    std::string solid;  ///< key of ref::minerals()
    double highest_omega = 0;
    /// Of the air with which the water is at equilibrium; nothing: the carbon that the salt brings.
    std::optional<double> air_pco2_atm;
    double temperature_degC = 25;
};

/// How long a vat of the finished water has to stay clear.
struct SafeTimeLimit {
    double hours = 0;
    double seed_mg_per_kg = 0;  ///< dust of CaCO3 in the salt, per kg of purified water
    double air_pco2_atm = 0;
    double temperature_degC = 25;
};

struct Limits {
    std::optional<int> most_materials;
    std::optional<double> smallest_dose_kg_per_kg;
    std::vector<SaturationLimit> saturation;
    std::optional<SafeTimeLimit> safe_time;
    /// With which every band, ratio and the salinity is to hold, each for itself, under the
    /// uncertainty of the materials; from kLeastChance on.
    std::optional<double> chance_inside;
};
/// A margin for less is none.
inline constexpr double kLeastChance = 0.6;

/// A limit that is linear in the doses: near a water it stands for one that is not.
///
///   sum_i per_mol_per_kg[i] c_i + sum_j per_dose[j] x_j <= high
///
/// c amounts [mol/kg] and x doses [kg/kg] per kg of finished water; all divided so that numbers are
/// about 1. Cuts of one symbol are one demand.
struct Cut {
    std::string what;    ///< "Omega of aragonite at most 10 at 25 degC"
    std::string symbol;  ///< unlike that of any constituent or ratio
    matter::Amounts per_mol_per_kg;
    std::vector<std::pair<std::string, double>> per_dose;  ///< by Supply::label
    double high = 0;
};

/// How the recipe will be weighed.
struct Batch {
    double blend_kg = 0;
    double blend_swing = 0;
    std::optional<double> smallest_weighing_kg;
    std::optional<double> weighing_step_kg;
};

/// The water that the salt must make.
struct Target {
    std::string name;
    std::string source;
    bool invented = false;
    double temperature_degC = 25;
    SalinityGoal salinity;
    matter::WaterBasis basis;  ///< with which litres were converted
    std::vector<ConstituentGoal> constituents;
    std::vector<RatioGoal> ratios;
    std::vector<Ceiling> ceilings;
    Limits limits;
    std::vector<Cut> cuts;
    std::optional<Batch> batch;
    matter::Amounts purified_water;  ///< mol per kg of purified water
};

/// A material, or a lot of it, that the recipe may use.
struct Supply {
    matter::Material material;
    matter::MakeUp make_up;
    [[nodiscard]] std::string label() const;
    /// What it is bought for: the main salt, or all of a mixture given by composition [mol/kg].
    [[nodiscard]] const matter::Amounts& meant_mol_per_kg() const;
};

/// What a unit of a supply adds to a cut's left side in place of purified water [per kg/kg].
[[nodiscard]] double cut_slope(const Cut& cut, const Supply& supply,
                               const matter::Amounts& purified_water);

/// Adds a goal, at the last priority, for every constituent that no goal names but that a material
/// is bought for: not above its natural amount (nothing, when nature's is not on file). Impurities
/// do not count; Na, K, Mg, Ca, Cl, SO4, carbon and alkalinity are free, since they carry the
/// charge or follow the air.
void add_unnamed_goals(Target& target, const std::vector<Supply>& supplies);

/// Whether a single salt is left out because it is bought for something that the target does not
/// name: lithium chloride in a target without lithium. It would only serve as a filler. Mixtures
/// given by composition are never left out.
[[nodiscard]] bool is_left_out(const Target& target, const Supply& supply);

/// Charge that the bands cannot close: the part of sum(charge * amount) nearest to 0 that the low
/// and high of every constituent allow [eq/kg]. 0 when they allow neutrality, or when an ion that a
/// material or the purified water brings has no band, so that it can take up charge; traces too
/// small to do so are passed over.
[[nodiscard]] double unclosed_charge(const Target& target, const std::vector<Supply>& supplies);

}  // namespace bw::recipe
