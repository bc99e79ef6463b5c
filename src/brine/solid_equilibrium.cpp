// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/solid_equilibrium.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include <fmt/format.h>

#include "brine/saturation.hpp"
#include "brine/solid_balance.hpp"
#include "brine/water_route.hpp"
#include "brine/water_totals.hpp"
#include "num/linear_solve.hpp"

namespace bw::brine {
namespace {

constexpr std::size_t kMostSolids = 8;
constexpr double kSettled = 1e-10;  // in ln Omega

/// An active set, with Newton's method on the amounts of its solids.
class Settling {
public:
    Settling(const EquilibriumModel<double>& model, const WaterBefore& start,
             std::vector<Taken> solids, const Speciation<double>& state)
        : model_(model),
          start_(start),
          solids_(std::move(solids)),
          n_(solids_.size(), 0.0),
          carbon_(start.carbon),
          state_(state) {}

    Result<void> run() {
        constexpr int kMostSets = 60;
        constexpr double kNearly = 1e-5;  // enough to see which solids come
        double within = kSettled;
        for (int set = 0; set < kMostSets; ++set) {
            BW_CHECK(settle(within));
            constexpr double kClear = 10;  // more than the active solids are off
            if (add_most_supersaturated(kClear * within)) {
                within = kNearly;
            } else if (within == kSettled) {
                return {};
            } else {
                within = kSettled;
            }
        }
        return fail(ProblemCode::OutOfRange,
                    "No set of the chosen solids comes to rest with this water; choose fewer.");
    }

    [[nodiscard]] const std::vector<double>& amounts() const { return n_; }
    [[nodiscard]] WaterLeft left() const { return left_after(start_, solids_, n_, carbon_); }
    [[nodiscard]] int rounds() const { return rounds_; }

private:
    using Values = std::array<double, kMostSolids>;

    /// ln Omega of all solids where amounts n have fallen out; `state` is start and result.
    Result<void> evaluate(const std::vector<double>& n, double carbon, Speciation<double>& state,
                          std::vector<double>& ln_omega) const {
        const WaterLeft left = left_after(start_, solids_, n, carbon);
        const Conditions<double> c = conditions(model_, left.mol_per_kg, left.dissolved);
        auto found = speciate(model_, c, left.closing, &state);
        if (!found) {
            found = speciate(model_, c, left.closing);
        }
        if (!found) {
            return tl::make_unexpected(found.error());
        }
        state = *found;
        ln_saturation(model_, state, ln_omega);
        return {};
    }

    /// The state at n_, with the mass of the carbon that air gives or takes.
    Result<void> evaluate_here() {
        constexpr int kPasses = 4;
        constexpr double kSame = 1e-10;  // mol/kg, which weighs 2e-12 of water
        for (int pass = 0; pass < kPasses; ++pass) {
            BW_CHECK(evaluate(n_, carbon_, state_, ln_omega_));
            if (!start_.fugacity) {
                return {};
            }
            const double before = carbon_;
            carbon_ = carbon_sum(state_.molality) * state_.conditions.water_share * left().mass;
            if (std::abs(carbon_ - before) < kSame) {
                return {};
            }
        }
        return {};
    }

    /// Newton on the amounts of the active solids, held inside what the water has. A step that does
    /// not help is halved, a solid that is used up goes. The slopes are kept while they serve.
    Result<void> settle(double within) {
        constexpr int kMostRounds = 60;
        constexpr double kServes = 0.1;
        constexpr double kNever = std::numeric_limits<double>::infinity();
        double last = kNever;
        bool fresh = false;
        step_.fill(0);
        for (int round = 0; round < kMostRounds; ++round) {
            ++rounds_;
            auto found = evaluate_here();
            const double worst = found ? farthest() : kNever;
            if (round == 0 && !found) {
                return found;
            }
            if (worst < within) {
                return {};
            }
            if (!(worst < last)) {
                take_step(fresh ? -0.5 : -1.0);
                if (!fresh) {
                    last = kNever;
                }
                continue;
            }
            fresh = last == kNever || worst > kServes * last;
            if (fresh) {
                BW_CHECK(find_slopes());
            }
            last = worst;
            BW_CHECK(find_step());
            const std::size_t used_up = shorten_step();
            take_step(1);
            if (used_up < active_.size()) {
                drop(active_[used_up]);
                step_.fill(0);
                last = kNever;
            }
        }
        return fail(ProblemCode::OutOfRange,
                    "The amounts of solids did not settle; the water may be outside the model.");
    }

    /// Largest |ln Omega| of the active solids.
    double farthest() const {
        double out = 0;
        for (const std::size_t p : active_) {
            out = std::max(out, std::abs(ln_omega_[solids_[p].row]));
        }
        return out;
    }

    /// Goes a part of step_, which then is what was gone.
    void take_step(double part) {
        for (std::size_t k = 0; k < active_.size(); ++k) {
            n_[active_[k]] += part * step_[k];
            step_[k] *= std::abs(part);
        }
    }

    /// ln Omega of the active solids by the amount of each, in parts of what is left for it: the
    /// water with a little more fallen out less the water at hand.
    Result<void> find_slopes() {
        constexpr double kPart = 1e-5;  // between its curve and the 1e-11 of a state
        const std::size_t size = active_.size();
        std::vector<double> moved;
        for (std::size_t k = 0; k < size; ++k) {
            const std::size_t p = active_[k];
            room_[k] = room_for(solids_[p]);
            std::vector<double> n = n_;
            n[p] += kPart * room_[k];
            Speciation<double> state = state_;
            BW_CHECK(evaluate(n, carbon_, state, moved));
            for (std::size_t i = 0; i < size; ++i) {
                const std::size_t row = solids_[active_[i]].row;
                slopes_[i * size + k] = (moved[row] - ln_omega_[row]) / kPart;
            }
        }
        return {};
    }

    Result<void> find_step() {
        const std::size_t size = active_.size();
        for (std::size_t k = 0; k < size; ++k) {
            step_[k] = -ln_omega_[solids_[active_[k]].row];
        }
        if (!num::solve_dense(size, slopes_, step_)) {
            return fail(ProblemCode::OutOfRange,
                        "The chosen solids depend on one another in this water; choose fewer.");
        }
        for (std::size_t k = 0; k < size; ++k) {
            step_[k] *= room_[k];
        }
        const double scale = longest_step();
        for (std::size_t k = 0; k < size; ++k) {
            step_[k] *= scale;
        }
        return {};
    }

    /// Ends a step where the first solid is used up; its place in active_, or the number of them.
    std::size_t shorten_step() {
        std::size_t first = active_.size();
        double part = 1;
        for (std::size_t k = 0; k < active_.size(); ++k) {
            const double n = n_[active_[k]];
            if (n + part * step_[k] < 0) {
                part = -n / step_[k];
                first = k;
            }
        }
        for (double& step : step_) {
            step *= part;
        }
        return first;
    }

    /// Calls use(left, taken(solid)) for every amount of the water that does not go below 0: with
    /// no alkalinity left, nothing that takes it is saturated.
    template <class Use>
    void for_each_amount(const Use& use) const {
        const auto of = [&](double at_start, const auto& taken) {
            double left = at_start;
            for (std::size_t p = 0; p < solids_.size(); ++p) {
                left -= taken(solids_[p]) * n_[p];
            }
            if (left > 0) {
                use(left, taken);
            }
        };
        for (std::size_t t = 0; t < kTotals; ++t) {
            of(start_.totals[t], [t](const Taken& solid) { return solid.totals[t]; });
        }
        of(start_.alkalinity, [](const Taken& solid) { return solid.alkalinity; });
        if (!start_.fugacity) {
            of(start_.carbon, [](const Taken& solid) { return solid.carbon; });
        }
    }

    /// The amount of one solid that would take the last of something.
    double room_for(const Taken& solid) const {
        double room = 1;
        for_each_amount([&](double left, const auto& taken) {
            if (taken(solid) > 0) {
                room = std::min(room, left / taken(solid));
            }
        });
        return room;
    }

    /// The part of a step to go, as if it were one in the logarithm of what is left of each amount.
    double longest_step() const {
        constexpr double kMostOfRest = 0.99;
        double scale = 1;
        for_each_amount([&](double left, const auto& taken) {
            double used = 0;
            for (std::size_t k = 0; k < active_.size(); ++k) {
                used += taken(solids_[active_[k]]) * step_[k];
            }
            if (used > 0) {
                const double part = std::min(kMostOfRest, -std::expm1(-used / left));
                scale = std::min(scale, part * left / used);
            }
        });
        return scale;
    }

    void drop(std::size_t p) {
        active_.erase(std::find(active_.begin(), active_.end(), p));
        n_[p] = 0;
    }

    bool add_most_supersaturated(double from) {
        std::size_t best = solids_.size();
        for (std::size_t p = 0; p < solids_.size(); ++p) {
            const bool active = std::find(active_.begin(), active_.end(), p) != active_.end();
            const double ln_omega = ln_omega_[solids_[p].row];
            if (!active && ln_omega > from &&
                (best == solids_.size() || ln_omega > ln_omega_[solids_[best].row])) {
                best = p;
            }
        }
        if (best == solids_.size()) {
            return false;
        }
        exchange_for(best);
        active_.push_back(best);
        return true;
    }

    /// A solid that the active ones can be turned into, water aside, takes the place of the one
    /// that is used up first: all of them together would fix the water's activity as well.
    void exchange_for(std::size_t best) {
        const std::size_t size = active_.size();
        if (size == 0) {
            return;
        }
        Values share{};
        std::array<double, kMostSolids * kMostSolids> products{};
        for (std::size_t i = 0; i < size; ++i) {
            share[i] = product(solids_[active_[i]], solids_[best]);
            for (std::size_t k = 0; k < size; ++k) {
                products[i * size + k] = product(solids_[active_[i]], solids_[active_[k]]);
            }
        }
        if (!num::solve_dense(size, products, share)) {
            return;
        }
        double rest = product(solids_[best], solids_[best]);
        for (std::size_t i = 0; i < size; ++i) {
            rest -= share[i] * product(solids_[active_[i]], solids_[best]);
        }
        constexpr double kNone = 1e-9;
        if (rest > kNone) {
            return;
        }
        std::size_t first = size;
        for (std::size_t i = 0; i < size; ++i) {
            if (share[i] > kNone &&
                (first == size || n_[active_[i]] * share[first] < n_[active_[first]] * share[i])) {
                first = i;
            }
        }
        base::expect(first < size, "a solid is made of others in positive amounts");
        const double made = n_[active_[first]] / share[first];
        for (std::size_t i = 0; i < size; ++i) {
            n_[active_[i]] -= share[i] * made;
        }
        n_[best] = made;
        drop(active_[first]);
    }

    /// Of what two solids take from the water, as vectors.
    double product(const Taken& a, const Taken& b) const {
        double out = a.alkalinity * b.alkalinity + (start_.fugacity ? 0 : a.carbon * b.carbon);
        for (std::size_t t = 0; t < kTotals; ++t) {
            out += a.totals[t] * b.totals[t];
        }
        return out;
    }

    const EquilibriumModel<double>& model_;
    const WaterBefore& start_;
    std::vector<Taken> solids_;
    std::vector<double> n_;
    double carbon_;
    Speciation<double> state_;
    std::vector<double> ln_omega_;
    std::vector<std::size_t> active_;
    Values room_{};
    Values step_{};
    std::array<double, kMostSolids * kMostSolids> slopes_{};
    int rounds_ = 0;
};

}  // namespace

Result<SolidEquilibrium> equilibrate(const WaterModel& model, const WaterInput& water,
                                     std::span<const std::string_view> solids,
                                     std::optional<double> fugacity_atm) {
    const EquilibriumModel<double>& equations = model.equations();
    if (solids.size() > kMostSolids) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("At most {} solids at once.", kMostSolids));
    }
    std::vector<Taken> taken;
    for (const std::string_view key : solids) {
        BW_TRY(one, taken_by(key, equations));
        taken.push_back(one);
    }
    BW_TRY(before, solve_route(equations, water, Route::Joined));
    WaterBefore start;
    start.totals = totals_of(water.mol_per_kg);
    const double share = before.speciation.conditions.water_share;
    start.water_kg = share;
    start.alkalinity = alkalinity_sum(before.speciation.molality) * share;
    start.carbon = carbon_sum(before.speciation.molality) * share;
    start.fugacity = fugacity_atm;
    Settling settling(equations, start, taken, before.speciation);
    BW_CHECK(settling.run());
    const WaterLeft left = settling.left();
    SolidEquilibrium out;
    out.water = left_water(water, start, left);
    out.solution_kg_per_kg = left.mass;
    out.rounds = settling.rounds();
    for (std::size_t p = 0; p < taken.size(); ++p) {
        const double n = std::max(0.0, settling.amounts()[p]);
        out.precipitates.push_back(
            {&ref::minerals()[taken[p].row], n, n * taken[p].mass_kg * 1000});
    }
    BW_TRY(state, model.state(out.water));
    out.state = std::move(state);
    return out;
}

}  // namespace bw::brine
