// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "recipe/weighing.hpp"

#include <algorithm>
#include <cmath>

namespace bw::recipe {
namespace {

/// The least that the files allow of a material in this dose [kg/kg].
double least_dose(const Target& target, const matter::Material& m, double dose, double water_kg) {
    double least = m.least_kg_per_kg.value_or(0);
    if (dose > 0) {
        least = std::max(least, target.limits.smallest_dose_kg_per_kg.value_or(0));
        if (target.batch && target.batch->smallest_weighing_kg) {
            least = std::max(least, *target.batch->smallest_weighing_kg / water_kg);
        }
    }
    return least;
}

}  // namespace

std::optional<double> step_of(const Target& target, const Supply& supply) {
    if (!target.batch) {
        return std::nullopt;
    }
    if (supply.material.step_kg) {
        return supply.material.step_kg;
    }
    return target.batch->weighing_step_kg;
}

bool in_whole_packages(const Target& target, const Supply& supply) {
    return target.batch && supply.material.whole_packages && supply.material.package_kg;
}

std::vector<double> rounded(const Target& target, const std::vector<Supply>& supplies,
                            std::vector<double> dose, double water_kg) {
    for (std::size_t j = 0; j < dose.size(); ++j) {
        const matter::Material& m = supplies[j].material;
        if (in_whole_packages(target, supplies[j]) && dose[j] > 0) {
            dose[j] = std::round(dose[j] * water_kg / *m.package_kg) * *m.package_kg / water_kg;
            continue;
        }
        const auto unit = step_of(target, supplies[j]);
        if (!unit || dose[j] <= 0) {
            continue;
        }
        constexpr double kEnough = 1e-9;  // relative: a limit reached exactly is kept
        double most = m.most_kg_per_kg.value_or(1) * water_kg;
        most = std::min(most, m.stock_kg.value_or(most)) * (1 + kEnough);
        const double least = least_dose(target, m, dose[j], water_kg) * water_kg * (1 - kEnough);
        double steps = std::round(dose[j] * water_kg / *unit);
        steps = std::max(steps, std::ceil(least / *unit));
        steps = std::min(steps, std::floor(most / *unit));
        dose[j] = steps * *unit / water_kg;
    }
    return dose;
}

bool keeps_doses(const Target& target, const std::vector<Supply>& supplies,
                 const std::vector<double>& dose, double water_kg) {
    for (std::size_t j = 0; j < dose.size(); ++j) {
        const matter::Material& m = supplies[j].material;
        const double least = least_dose(target, m, dose[j], water_kg);
        if (dose[j] < least * (1 - kHardTolerance) ||
            dose[j] > m.most_kg_per_kg.value_or(1) * (1 + kHardTolerance)) {
            return false;
        }
    }
    return true;
}

Target narrowed(const Target& target, const std::vector<Supply>& supplies,
                const Solution& solution) {
    Target out = target;
    const double water_kg = solution.batch_finished_water_kg.value_or(1);
    std::vector<double> slip(supplies.size(), 0);  // kg per kg of finished water
    for (std::size_t j = 0; j < supplies.size(); ++j) {
        const auto step = step_of(target, supplies[j]);
        if (step && solution.dose_kg_per_kg[j] > 0 && !in_whole_packages(target, supplies[j])) {
            slip[j] = *step / 2 / water_kg;
        }
    }
    const auto moved = [&](const auto& brings) {
        double sum = 0;
        for (std::size_t j = 0; j < supplies.size(); ++j) {
            sum += std::abs(brings(supplies[j].make_up)) * slip[j];
        }
        return sum;
    };
    const auto moved_amount = [&](matter::Constituent c) {
        return moved([&](const matter::MakeUp& m) { return m.mol_per_kg[c]; });
    };
    for (ConstituentGoal& goal : out.constituents) {
        const double by = moved_amount(goal.constituent);
        const double middle = goal.low && goal.high ? (*goal.low + *goal.high) / 2 : 0;
        goal.low =
            goal.low ? std::optional(goal.high ? std::min(*goal.low + by, middle) : *goal.low + by)
                     : std::nullopt;
        goal.high = goal.high ? std::optional(goal.low ? std::max(*goal.high - by, middle)
                                                       : std::max(*goal.high - by, 0.0))
                              : std::nullopt;
        if (goal.target) {
            goal.target = std::clamp(*goal.target, goal.low.value_or(*goal.target),
                                     goal.high.value_or(*goal.target));
        }
    }
    for (Ceiling& ceiling : out.ceilings) {
        const double by =
            moved([&](const matter::MakeUp& m) { return m.worst_mol_per_kg[ceiling.constituent]; });
        ceiling.high = std::max(ceiling.high - by, ceiling.high / 2);
    }
    for (Cut& cut : out.cuts) {
        for (std::size_t j = 0; j < supplies.size(); ++j) {
            cut.high -= std::abs(cut_slope(cut, supplies[j], target.purified_water)) * slip[j];
        }
    }
    for (RatioGoal& ratio : out.ratios) {
        const auto& c = solution.water.mol_per_kg;
        const double by = moved_amount(ratio.numerator) / c[ratio.numerator] +
                          moved_amount(ratio.denominator) / c[ratio.denominator];
        ratio.low = ratio.low ? std::optional(*ratio.low * (1 + by)) : std::nullopt;
        ratio.high = ratio.high ? std::optional(*ratio.high * (1 - by)) : std::nullopt;
    }
    for (Cut& cut : out.cuts) {
        for (std::size_t j = 0; j < supplies.size(); ++j) {
            cut.high -= std::abs(cut_slope(cut, supplies[j], target.purified_water)) * slip[j];
        }
    }
    const double by =
        moved([](const matter::MakeUp& m) { return m.mol_per_kg.dissolved_mass_g(); });
    out.salinity.low_g_per_kg =
        std::min(out.salinity.low_g_per_kg + by, out.salinity.target_g_per_kg);
    out.salinity.high_g_per_kg =
        std::max(out.salinity.high_g_per_kg - by, out.salinity.target_g_per_kg);
    return out;
}

}  // namespace bw::recipe
