// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "base/notice.hpp"
#include "base/result.hpp"
#include "path/grains.hpp"
#include "path/vat_water.hpp"

namespace bw::path {

/// A part of the salt as the vat meets it.
struct Part {
    std::string name;
    double kg_per_kg_water = 0;  ///< of the part, per kg of purified water in the finished vat
    Dissolved brings;            ///< by all of it, per kg of purified water
    double water_kg_per_kg = 0;  ///< hydrate and moisture water of all of it, per kg of that water
    DissolvingSolid solid;
    std::vector<GrainClass> grains;

    bool operator==(const Part&) const = default;
};

/// When a part goes into the vat.
struct Addition {
    std::size_t part = 0;
    double at_h = 0;
    bool dissolved_before = false;  ///< as a solution in some of the vat's water

    bool operator==(const Addition&) const = default;
};

/// What is done with a vat.
struct VatPlan {
    std::vector<Part> parts;
    std::vector<Addition> additions;  ///< every part once
    double start_celsius = 25;        ///< of the purified water
    double room_celsius = 25;         ///< to which the vat drifts
    double drift_per_h = 0;           ///< share of the difference that a vat loses in an hour
    struct Heating {
        double from_h = 0, to_celsius = 25, celsius_per_h = 2;

        bool operator==(const Heating&) const = default;
    };
    std::optional<Heating> heating;
    double air_co2_atm = 420e-6;    ///< fugacity over the vat
    double kla_per_h = 1;           ///< of CO2; 0: closed
    double water_co2_atm = 420e-6;  ///< of the purified water at the start
    double seed_mg_per_kg = 0;      ///< dust of CaCO3 in the salt, per kg of purified water
    double particles = 1;           ///< foreign particles: 1 clean, 10 fine dust
    Stirring stirring;
    double hours = 48;
    /// Marks are looked for up to here, or until 5 % of alkalinity is lost; at most a year.
    double marks_until_h = 0;

    bool operator==(const VatPlan&) const = default;
};

/// The vat at one time; amounts per kg of purified water.
struct Moment {
    double h = 0;
    double celsius = 0;
    double dissolved_share = 0;  ///< of the salt's mass
    Dissolved dissolved;
    double caco3_mg = 0;       ///< fallen out
    double co2_taken_mol = 0;  ///< from the air, with what the purified water held; negative: given
    double alkalinity_lost_share = 0;
    double omega_aragonite = 0;
    VatState water;
};

/// How far the laws are trusted: rates within these factors.
inline constexpr double kOnsetFactor = 5;        ///< of an onset in clean water
inline constexpr double kDustyOnsetFactor = 10;  ///< where there are foreign particles
inline constexpr double kLossFactor = 3;         ///< of a loss by growth on seed
/// Of the onset in this vat.
[[nodiscard]] inline double onset_factor(const VatPlan& plan) {
    return plan.particles > 1 ? kDustyOnsetFactor : kOnsetFactor;
}
/// Alkalinity lost that ends a vat's good time: taken for the beginning of a haze, an assumption.
inline constexpr double kLostShare = 0.01;

/// Times at which something happened [h]; nothing: not within the run.
struct Marks {
    std::optional<double> dissolved;                       ///< 99.9 % of the salt
    std::optional<double> onset;                           ///< CaCO3 of itself
    std::optional<double> lost_1_percent, lost_5_percent;  ///< of alkalinity
    /// Where the onset and the loss of 1 % by growth on seed would be, were the laws' rates as much
    /// faster as they are trusted for.
    std::optional<double> earliest_onset, earliest_loss;
};

struct Course {
    std::vector<Moment> moments;
    Marks marks;
    std::vector<double> left;  ///< share of each part that is still solid after the last moment
    Moment last_looked;        ///< where the search for marks ended: at the onset, or its end
    /// Hours when less than 1 % of each part was left, to the next look; nothing: not in the run.
    std::vector<std::optional<double>> gone_h;
    bool complete = true;
    double reached_h = 0;
    base::Notices notices;
    long steps = 0, evaluations = 0;
};

/// Follows a vat from the first grain to the last hour.
///
/// Definition   grains shrink by film mass transfer; the bulk is at equilibrium with itself at
/// every
///              moment; CO2 passes to or from the air by kLa; aragonite grows on seeds and, from
///              its onset on, on crystals of its own, which at the onset are as much as can just be
///              seen (0.3 mg/kg). What falls out is CaCO3 alone; other solids are judged by
///              saturation.
/// Inputs       a plan whose additions name every part once.
/// Valid        5 to 40 degC; up to 120 g of salt per kg of solution in the finished vat.
/// Accuracy     integration 1e-6; matter is kept to round-off, because what is dissolved is counted
///              from the grains, the air and the crystals. The laws: growth x/÷ 2, onset x/÷ 5,
///              with unknown dust x/÷ 10.
/// Errors       BadInput, OutOfRange, with the field: temperature, room, hours, gas_exchange, air,
///              drift, seed, stirring, particles, heat_to, heat_from, heat_rate, add. A run that
///              cannot be finished is given as far as it came, with a notice.
/// Complexity   some thousand states of the water.
[[nodiscard]] Result<Course> run_course(const VatPlan& plan);

/// What run_course() would refuse, without the run.
[[nodiscard]] Result<void> check_plan(const VatPlan& plan);

}  // namespace bw::path
