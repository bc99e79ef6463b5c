// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/solid_equilibrium.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include <fmt/format.h>

#include "brine/derivatives.hpp"
#include "brine/saturation.hpp"
#include "brine/water_route.hpp"
#include "brine/water_totals.hpp"
#include "matter/formula.hpp"

namespace bw::brine {
namespace {

constexpr int kMostSolids = 8;
using ByAmount = num::Dual<kMostSolids>;
constexpr double kSettled = 1e-10;  // in ln Omega

/// What one mole of a solid takes out of the water.
struct Taken {
    std::size_t row = 0;
    PerTotal<double> totals{};
    double carbon = 0, alkalinity = 0, water_kg = 0, mass_kg = 0;
};

std::optional<Total> total_of_species(Species s) {
    for (std::size_t t = 0; t <= index(Total::Si); ++t) {
        if (kTotalFacts[t].acts_as == s) {
            return static_cast<Total>(t);
        }
    }
    if (s == Species::PO4 || s == Species::HPO4) {
        return Total::P;
    }
    return std::nullopt;
}

Result<Taken> taken_by(std::string_view key, const EquilibriumModel<double>& model) {
    const auto rows = ref::minerals();
    const auto row = std::find_if(rows.begin(), rows.end(),
                                  [&](const ref::MineralRow& r) { return r.key == key; });
    if (row == rows.end()) {
        return fail(ProblemCode::UnknownName,
                    fmt::format("No solid '{}' is known; the sheet of a water lists all.", key));
    }
    Taken out;
    out.row = static_cast<std::size_t>(row - rows.begin());
    const SolidAction<double>& action = model.solids[out.row];
    for (const auto& term : action.terms) {
        if (const auto total = total_of_species(term.species)) {
            out.totals[index(*total)] += term.coefficient;
        } else if (term.species == Species::CO3 || term.species == Species::HCO3) {
            out.carbon += term.coefficient;
        }
        out.alkalinity += term.coefficient * facts(term.species).alkalinity;
    }
    out.water_kg = action.water * kWaterKgPerMol;
    BW_TRY(formula, matter::parse_formula(row->formula));
    BW_TRY(mass, matter::molar_mass_g_per_mol(formula));
    out.mass_kg = mass / 1000;
    return out;
}

bool same_ions(const SolidAction<double>& a, const SolidAction<double>& b) {
    if (a.terms.size() != b.terms.size()) {
        return false;
    }
    return std::all_of(a.terms.begin(), a.terms.end(), [&](const auto& x) {
        return std::any_of(b.terms.begin(), b.terms.end(), [&](const auto& y) {
            return x.species == y.species && x.coefficient == y.coefficient;
        });
    });
}

/// The water that is left, per kg of solution before.
struct Start {
    PerTotal<double> totals{};
    double alkalinity = 0, carbon = 0, water_share = 1;
    std::optional<double> fugacity;
};

template <class S>
struct Left {
    PerTotal<S> mol_per_kg;
    S dissolved, mass;
    Closing<S> closing;
};

template <class S>
Left<S> left_after(const Start& start, const std::vector<Taken>& solids, const std::vector<S>& n) {
    Left<S> out;
    S water(start.water_share);
    S alkalinity(start.alkalinity);
    S carbon(start.carbon);
    out.mass = S(1.0);
    for (std::size_t t = 0; t < kTotals; ++t) {
        out.mol_per_kg[t] = S(start.totals[t]);
    }
    for (std::size_t p = 0; p < solids.size(); ++p) {
        const Taken& solid = solids[p];
        water -= solid.water_kg * n[p];
        out.mass -= solid.mass_kg * n[p];
        alkalinity -= solid.alkalinity * n[p];
        carbon -= solid.carbon * n[p];
        for (std::size_t t = 0; t < kTotals; ++t) {
            out.mol_per_kg[t] -= solid.totals[t] * n[p];
        }
    }
    for (S& amount : out.mol_per_kg) {
        amount = amount / out.mass;
    }
    out.dissolved = 1.0 - water / out.mass;
    out.closing.kind = {Closure::Alkalinity, start.fugacity ? Closure::Fugacity : Closure::Carbon};
    out.closing.value = {alkalinity / out.mass,
                         start.fugacity ? S(*start.fugacity) : S(carbon / out.mass)};
    return out;
}

class Settling {
public:
    Settling(const EquilibriumModel<double>& model, const Start& start, std::vector<Taken> solids)
        : model_(model),
          start_(start),
          solids_(std::move(solids)),
          n_(solids_.size(), 0.0),
          active_(solids_.size(), false) {}

    Result<void> run() {
        constexpr int kMostSets = 40;
        for (int set = 0; set < kMostSets; ++set) {
            BW_CHECK(settle_active());
            if (drop_negative()) {
                continue;
            }
            if (!add_most_supersaturated()) {
                return {};
            }
        }
        return fail(ProblemCode::OutOfRange,
                    "No set of the chosen solids comes to rest with this water; choose fewer.");
    }

    [[nodiscard]] const std::vector<double>& amounts() const { return n_; }
    [[nodiscard]] const Speciation<double>& state() const { return state_; }
    [[nodiscard]] int rounds() const { return rounds_; }

private:
    Result<void> solve_here() {
        const Left<double> left = left_after(start_, solids_, n_);
        const Conditions<double> c = conditions(model_, left.mol_per_kg, left.dissolved);
        auto found = speciate(model_, c, left.closing, have_ ? &state_ : nullptr);
        if (!found && have_) {
            found = speciate(model_, c, left.closing);
        }
        if (!found) {
            return tl::make_unexpected(found.error());
        }
        state_ = *found;
        have_ = true;
        ln_saturation(model_, state_, ln_omega_);
        return {};
    }

    /// Newton on the amounts of the active solids, held inside what the water has.
    Result<void> settle_active() {
        constexpr int kMostRounds = 60;
        for (int round = 0; round < kMostRounds; ++round) {
            ++rounds_;
            BW_CHECK(solve_here());
            std::vector<std::size_t> on;
            double worst = 0;
            for (std::size_t p = 0; p < solids_.size(); ++p) {
                if (active_[p]) {
                    on.push_back(p);
                    worst = std::max(worst, std::abs(ln_omega_[solids_[p].row]));
                }
            }
            if (worst < kSettled) {
                return {};
            }
            BW_CHECK(move(on));
        }
        return fail(ProblemCode::OutOfRange,
                    "The amounts of solids did not settle; the water may be outside the model.");
    }

    Result<void> move(const std::vector<std::size_t>& on) {
        std::vector<ByAmount> n(n_.begin(), n_.end());
        for (std::size_t k = 0; k < on.size(); ++k) {
            n[on[k]] = ByAmount::variable(n_[on[k]], static_cast<int>(k));
        }
        const Left<ByAmount> left = left_after(start_, solids_, n);
        const Left<double> plain = left_after(start_, solids_, n_);
        const auto s = with_derivatives(model_, conditions(model_, left.mol_per_kg, left.dissolved),
                                        left.closing, model_, plain.closing, state_);
        std::vector<ByAmount> ln_omega;
        ln_saturation(model_, s, ln_omega);
        std::vector<double> jacobian(on.size() * on.size());
        std::vector<double> step(on.size());
        for (std::size_t i = 0; i < on.size(); ++i) {
            step[i] = -ln_omega_[solids_[on[i]].row];
            for (std::size_t k = 0; k < on.size(); ++k) {
                jacobian[i * on.size() + k] = ln_omega[solids_[on[i]].row].g[k];
            }
        }
        if (!num::solve_dense(on.size(), jacobian, step)) {
            return fail(
                ProblemCode::OutOfRange,
                "Two of the chosen solids hold the same ions in the same ratio; choose one.");
        }
        const double scale = longest_step(on, step);
        for (std::size_t k = 0; k < on.size(); ++k) {
            n_[on[k]] += scale * step[k];
        }
        return {};
    }

    /// The part of a step that takes at most nine tenths of what is left of anything.
    double longest_step(const std::vector<std::size_t>& on, const std::vector<double>& step) const {
        constexpr double kMostOfRest = 0.9;
        double scale = 1;
        const auto bound = [&](double at_start, const auto& per_mol) {
            double left = at_start;
            double used = 0;
            for (std::size_t p = 0; p < solids_.size(); ++p) {
                left -= per_mol(solids_[p]) * n_[p];
            }
            for (std::size_t k = 0; k < on.size(); ++k) {
                used += per_mol(solids_[on[k]]) * step[k];
            }
            if (left > 0 && used > kMostOfRest * left) {
                scale = std::min(scale, kMostOfRest * left / used);
            }
        };
        for (std::size_t t = 0; t < kTotals; ++t) {
            bound(start_.totals[t], [t](const Taken& solid) { return solid.totals[t]; });
        }
        if (start_.fugacity) {
            bound(start_.alkalinity, [](const Taken& solid) { return solid.alkalinity; });
        } else {
            bound(start_.carbon, [](const Taken& solid) { return solid.carbon; });
        }
        return scale;
    }

    bool drop_negative() {
        const auto least = std::min_element(n_.begin(), n_.end());
        constexpr double kRoundOff = -1e-16;
        if (least == n_.end() || *least >= kRoundOff) {
            return false;
        }
        active_[static_cast<std::size_t>(least - n_.begin())] = false;
        *least = 0;
        return true;
    }

    bool add_most_supersaturated() {
        std::size_t best = solids_.size();
        constexpr double kSupersaturated = 1e-9;
        for (std::size_t p = 0; p < solids_.size(); ++p) {
            const double ln_omega = ln_omega_[solids_[p].row];
            if (!active_[p] && ln_omega > kSupersaturated &&
                (best == solids_.size() || ln_omega > ln_omega_[solids_[best].row])) {
                best = p;
            }
        }
        if (best == solids_.size()) {
            return false;
        }
        for (std::size_t q = 0; q < solids_.size(); ++q) {
            if (active_[q] &&
                same_ions(model_.solids[solids_[q].row], model_.solids[solids_[best].row])) {
                n_[best] = n_[q];
                n_[q] = 0;
                active_[q] = false;
            }
        }
        active_[best] = true;
        return true;
    }

    const EquilibriumModel<double>& model_;
    const Start& start_;
    std::vector<Taken> solids_;
    std::vector<double> n_;
    std::vector<bool> active_;
    Speciation<double> state_;
    std::vector<double> ln_omega_;
    bool have_ = false;
    int rounds_ = 0;
};

/// What is left as a water of its own.
WaterInput left_water(const WaterInput& before, const Start& start, const Left<double>& left) {
    WaterInput out = before;
    for (std::size_t i = 0; i < matter::constituent_count(); ++i) {
        const matter::Constituent c(i);
        if (const auto to = total_of(c)) {
            const double was = start.totals[index(to->total)];
            out.mol_per_kg[c] =
                was > 0 ? before.mol_per_kg[c] * left.mol_per_kg[index(to->total)] / was : 0;
        }
    }
    for (std::size_t k = 0; k < out.closing.size(); ++k) {
        out.closing[k] = {left.closing.kind[k], left.closing.value[k]};
    }
    return out;
}

}  // namespace

Result<SolidEquilibrium> equilibrate(const WaterModel& model, const WaterInput& water,
                                     std::span<const std::string_view> solids,
                                     std::optional<double> fugacity_atm) {
    const EquilibriumModel<double>& equations = model.equations();
    if (solids.size() > static_cast<std::size_t>(kMostSolids)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("At most {} solids at once.", kMostSolids));
    }
    std::vector<Taken> taken;
    for (const std::string_view key : solids) {
        BW_TRY(one, taken_by(key, equations));
        taken.push_back(one);
    }
    BW_TRY(before, solve_route(equations, water, Route::Joined));
    Start start;
    start.totals = totals_of(water.mol_per_kg);
    const double share = before.speciation.conditions.water_share;
    start.water_share = share;
    start.alkalinity = alkalinity_sum(before.speciation.molality) * share;
    start.carbon = carbon_sum(before.speciation.molality) * share;
    start.fugacity = fugacity_atm;
    Settling settling(equations, start, taken);
    BW_CHECK(settling.run());
    const Left<double> left = left_after(start, taken, settling.amounts());
    SolidEquilibrium out;
    out.water = left_water(water, start, left);
    out.solution_kg_per_kg = left.mass;
    out.rounds = settling.rounds();
    for (std::size_t p = 0; p < taken.size(); ++p) {
        const double n = settling.amounts()[p];
        out.precipitates.push_back(
            {&ref::minerals()[taken[p].row], n, n * taken[p].mass_kg * 1000});
    }
    BW_TRY(state, model.state(out.water));
    out.state = std::move(state);
    return out;
}

}  // namespace bw::brine
