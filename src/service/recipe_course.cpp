// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/recipe_course.hpp"

#include <numeric>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "io/water_closing.hpp"
#include "path/onset.hpp"
#include "service/path_plan.hpp"
#include "unit/factors.hpp"

namespace bw::service {

Result<path::SafeTime> recipe_safe_time(const std::vector<recipe::Supply>& supplies,
                                        const std::vector<double>& dose_kg_per_kg,
                                        const recipe::SafeTimeLimit& limit) {
    constexpr double kMicro = 1e6;
    constexpr int kDigits = 6;
    const double blend = std::accumulate(dose_kg_per_kg.begin(), dose_kg_per_kg.end(), 0.0);
    RecipeSupplies made;
    for (std::size_t j = 0; j < supplies.size(); ++j) {
        if (dose_kg_per_kg[j] > 0) {
            io::RecipePart part;
            part.material = supplies[j].material.name;
            part.lot = supplies[j].material.lot;
            part.g_per_kg_purified_water = dose_kg_per_kg[j] / (1 - blend) * unit::kGramPerKg;
            made.recipe.parts.push_back(std::move(part));
            made.materials.push_back({supplies[j].material, supplies[j].make_up, {}});
        }
    }
    BW_TRY(parts, path_parts(made));
    BW_TRY(fugacity,
           io::co2_fugacity_atm(limit.air_pco2_atm, unit::Celsius(limit.temperature_degC)));
    path::VatPlan plan;
    plan.parts = std::move(parts.parts);
    plan.additions = all_at_once(plan.parts.size());
    plan.start_celsius = plan.room_celsius = limit.temperature_degC;
    plan.air_co2_atm = plan.water_co2_atm = fugacity;
    plan.seed_mg_per_kg = limit.seed_mg_per_kg;
    plan.marks_until_h = path::kHoursPerYear;
    auto course = path::run_course(plan);
    if (!course) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("a vat of these materials cannot be followed at {} °C and {} uatm "
                                "CO2 ({}): leave safe_time out, or let it hold elsewhere",
                                base::format_exact(limit.temperature_degC),
                                base::format_short(limit.air_pco2_atm * kMicro, kDigits),
                                course.error().message),
                    {"", 0, "limits.safe_time"});
    }
    return path::safe_time(plan, *course);  // of a course that stops, no more than it reached
}

}  // namespace bw::service
