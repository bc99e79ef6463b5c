// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "blend/dry_bag.hpp"
#include "brine/solid_equilibrium.hpp"
#include "path/verdict.hpp"
#include "service/path_plan.hpp"

namespace bw::service {

/// Air blown through the vat, or the surface stirred: where the gas exchange comes from.
struct GasExchange {
    std::optional<double> per_h;              ///< of CO2, as it is
    std::optional<double> air_volumes_per_h;  ///< of an air stone, per volume of water
    std::optional<double> film_m_per_h;       ///< of the surface
    double depth_m = 1;
};

struct PathRequest {
    io::Document recipe;
    std::vector<io::Document> materials;
    path::VatPlan conditions;  ///< parts and additions come from the recipe and the two below
    struct Timed {
        std::string material;
        double at_h;
    };
    std::vector<Timed> later;                   ///< others go in at the start
    std::vector<std::string> dissolved_before;  ///< go in as a solution
    GasExchange exchange;
    double air_pressure_atm = 420e-6;  ///< partial pressure behind the conditions' fugacity
    double keep_h = 24;
    double volume_L = 1000;
};

/// How the verdict changes with the temperature of vat and room.
struct AtTemperature {
    double celsius;
    path::Risk risk;
    path::SafeTime safe;
    double omega_aragonite;  ///< at the end of the run
    bool complete = true;
    std::vector<std::string> against;  ///< what stands against it beside calcium carbonate
};

struct PathReport {
    std::string recipe;
    bool invented = false;
    path::VatPlan plan;
    path::Course course;
    path::Verdict verdict;
    double keep_h = 24;
    double volume_L = 1000;
    double air_pressure_atm = 420e-6;
    double finished_kg_per_L = 0;
    std::vector<path::Exposure> exposures;
    std::vector<AtTemperature> temperatures;
    std::string temperature_words;  ///< at which of them the vat may be counted on; empty: none run
    /// What has gone into the solid at the end of the run, shares of what the salt brought.
    struct Losses {
        double calcium_mg_per_kg_water = 0, calcium_share = 0;
        double alkalinity_meq_per_kg_water = 0, alkalinity_share = 0;
        /// With aragonite's partition of strontium, 1.13 times that of the water [mol/mol], from
        /// memory; magnesium loses less than a thousandth part of what calcium loses.
        double strontium_share = 0;
    };
    Losses losses;
    /// The same vat with a little dust of CaCO3 in its salt, where the plan has none.
    struct WithDust {
        path::Risk risk;
        path::SafeTime safe;
    };
    std::optional<WithDust> with_dust;
    static constexpr double kTrialSeed_mg_per_kg = 1;
    /// Whether the blend stays dry in its bag, which decides about dust; nothing where not known.
    std::optional<blend::DryVerdict> bag;
    /// The finished water in balance with the air, if nothing fell; nothing for a closed vat.
    struct AtRest {
        double ph_total = 0, omega_aragonite = 0;
    };
    std::optional<AtRest> at_rest;
    /// What is left when nothing more falls, in touch with the air, and how much fell [mg per kg of
    /// finished water].
    struct Limit {
        double ph_total = 0;
        double omega_aragonite = 0;
        struct Solid {
            const ref::MineralRow* solid;
            double mg_per_kg;
        };
        std::vector<Solid> fallen;
    };
    std::optional<Limit> limit;
    base::Notices notices;
};

/// A plan of the vat from a request.
///
/// Errors   those of recipe_supplies and path_parts; UnknownName for a material that is not a part
///          of the recipe; BadInput for one that is named twice, or more than one way to state the
///          gas exchange; OutOfRange.
struct PathPlan {
    std::string recipe;
    bool invented = false;
    path::VatPlan plan;
    base::Notices notices;
};
[[nodiscard]] Result<PathPlan> path_plan(const PathRequest& request);

/// Runs a recipe's vat and judges it.
///
/// Definition   see path::run_course and path::judge; the same vat is run at temperatures from 18
///              to 30 degC, without a heater, for the window in which it keeps.
/// Errors       those of path_plan and path::run_course.
/// Complexity   eight runs on two threads, some 20 ms each.
[[nodiscard]] Result<PathReport> path_run(const PathRequest& request);

}  // namespace bw::service
