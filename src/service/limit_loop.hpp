// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "recipe/model.hpp"
#include "recipe/solve.hpp"
#include "service/water_saturation.hpp"

namespace bw::service {

/// Key of a limit on Omega that stands for a safe time.
inline constexpr std::string_view kSafeTimeKey = "safe_time";

/// "Omega of aragonite at most 10 (air of 420 uatm CO2, 25 degC)".
[[nodiscard]] std::string limit_words(const recipe::SaturationLimit& limit);
/// "25 degC, air of 420 uatm CO2", or "25 degC, carbon as the materials bring it".
[[nodiscard]] std::string where_words(double temperature_degC, std::optional<double> air_pco2_atm);

/// "300 h", with all digits or so many.
[[nodiscard]] std::string time_words(double hours, int digits = 6);

/// Solves a recipe within limits that are not linear in the doses, by linear programs with cuts.
///
/// Definition   a limit on ln Omega is replaced by its tangent at the last water. ln Omega is
///              concave in the amounts as far as it is their product, so that the tangent lies
///              above it: each answer holds the limit, and the next, cut anew at it, is as good or
///              better, until nothing is won. Cuts of the chance asked for are kept all, since u is
///              convex. Where a cut leaves no recipe, the limits' breaches are made least by the
///              same rounds, until they hold or stand still. The levers are what the target names;
///              what it only lets come along in natural proportion is pushed to the edges of its
///              bands for a limit's sake only where nothing else holds it.
/// Accuracy     ln Omega within kHeld of its limit or below it, by the model's equilibrium. The
///              best recipe near the one without limits, as far as tangents show; where waters of
///              like worth lie far apart it may not be the best of all.
/// Errors       those of recipe::solve and the brine model.
/// Complexity   some 3 to 8 linear programs, a slope (1 ms) per limit and round.
class LimitLoop {
public:
    static constexpr double kHeld = 1e-6;
    static constexpr int kMostRounds = 25;

    /// `water` is shared, for its models.
    LimitLoop(const recipe::Target& target, const std::vector<recipe::Supply>& supplies,
              const recipe::SolveOptions& options, WaterSaturation& water,
              std::vector<recipe::SaturationLimit> limits);

    /// The verdict is Solved only when every limit holds.
    [[nodiscard]] Result<recipe::Solution> run();
    /// That answer with numbers of materials, packages and weighing steps; after run().
    [[nodiscard]] Result<recipe::Solution> in_whole_numbers(const recipe::Solution& plain);

    /// After run() found none: a recipe within the limits that breaks the bands least, all
    /// together; nothing where there is none.
    [[nodiscard]] Result<std::optional<recipe::Solution>> break_bands();

    /// The target with the last cuts: what a conflict is explained by.
    [[nodiscard]] const recipe::Target& with_cuts() const { return target_; }
    /// The recipe that no limit on the water holds back; empty when there is none.
    [[nodiscard]] const recipe::Solution& unlimited() const { return unlimited_; }
    /// Where no recipe holds the limits: the water that breaks them least.
    [[nodiscard]] const std::optional<recipe::Solution>& least_over() const { return least_over_; }
    [[nodiscard]] int rounds() const { return rounds_; }
    [[nodiscard]] bool settled() const { return settled_; }
    [[nodiscard]] bool has_cuts() const { return !omega_cuts_.empty() || !chance_cuts_.empty(); }

private:
    enum class Keep { Last, All };
    enum class Levers { Named, All, Strong };
    /// Cuts anew at a recipe. How far it is over its limits, all together [ln]; chance rows count
    /// as 1.
    [[nodiscard]] Result<double> cut_at(const recipe::Solution& at, Keep keep);
    [[nodiscard]] double cut_chances(const std::vector<double>& dose);
    [[nodiscard]] Result<recipe::Solution> towards(const recipe::Solution& held,
                                                   const recipe::Solution& over);
    [[nodiscard]] Result<bool> holds_all(const recipe::Solution& s);
    void drop_idle_chance_cuts(const recipe::Solution& at);
    void hold_cuts();
    [[nodiscard]] Result<bool> come_inside();
    [[nodiscard]] Result<bool> make_breaches_least();
    [[nodiscard]] bool is_cut(const std::string& symbol) const;
    [[nodiscard]] Result<void> cut_for_materials_of(const recipe::Solution& whole);
    [[nodiscard]] Result<recipe::Solution> solve_with_cuts(const recipe::SolveOptions& options);

    recipe::Target target_;  // with the cuts last solved with
    const std::vector<recipe::Supply>& supplies_;
    recipe::SolveOptions plain_, whole_;
    WaterSaturation& water_;
    std::vector<recipe::SaturationLimit> limits_;
    std::vector<recipe::Cut> omega_cuts_, chance_cuts_;
    std::vector<double> mean_dose_;
    recipe::Solution unlimited_;
    std::optional<recipe::Solution> least_over_;
    Levers levers_ = Levers::Named;
    int rounds_ = 0;
    int chance_rounds_ = 0;  // with a chance short
    bool settled_ = true;
};

}  // namespace bw::service
