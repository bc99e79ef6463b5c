// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/path_compare.hpp"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <mutex>
#include <tuple>

#include <fmt/format.h>

#include "path/onset.hpp"
#include "service/in_parts.hpp"

namespace bw::service {
namespace {

constexpr double kMinutesPerHour = 60;

double omega(const path::VatState& state, std::string_view key) {
    return std::exp(state.ln_omega.at(ref::mineral_place(key)));
}

/// What a path comes to.
void set_score(const std::vector<path::Moment>& moments, WayResult& out) {
    const auto exposures = path::exposures(moments);
    for (const path::Moment& m : moments) {
        out.peak_aragonite = std::max(out.peak_aragonite, m.omega_aragonite);
    }
    if (!exposures.empty() && exposures.front().score > 0) {
        out.worst_solid = exposures.front().solid->name;
        out.worst_peak = exposures.front().peak_omega;
        out.score_h = exposures.front().score;
    }
}

WayResult way(const path::VatPlan& plan, double keep_h, double step_h) {
    WayResult out;
    const auto course = path::run_course(plan);
    if (!course) {
        return out;
    }
    out.run = course->complete;
    const path::Verdict verdict = path::judge(plan, *course, keep_h);
    out.risk = verdict.risk;
    out.safe = verdict.safe;
    out.omega_at_end = course->moments.back().omega_aragonite;
    set_score(path::while_mixing(plan, *course, step_h), out);
    return out;
}

path::Dissolved whole(const std::vector<path::Part>& parts) {
    path::Dissolved out;
    for (const path::Part& part : parts) {
        out.add(part.brings, 1);
    }
    return out;
}

/// Water onto salt: brines from the pile to the finished vat, W rising evenly in the pour.
WayResult onto_salt(const path::VatPlan& plan, double pour_h, double keep_h,
                    std::vector<PileRow>& rows) {
    constexpr int kPoints = 60;
    constexpr double kPile = 0.4;  // kg of water per kg of salt between settled grains
    double salt = 0;
    for (const path::Part& part : plan.parts) {
        salt += part.kg_per_kg_water;
    }
    const double finished = 1 / salt;
    std::vector<double> w;
    for (int i = 0; i <= kPoints; ++i) {
        w.push_back(kPile + (finished - kPile) * std::pow(static_cast<double>(i) / kPoints, 2));
    }
    path::VatWater water;
    const auto points = path::pile_path(water, whole(plan.parts), salt, plan.start_celsius, w);
    path::Course course;
    WayResult out;
    out.name = "water onto salt";
    for (const path::PilePoint& p : points) {
        PileRow row;
        row.kg_water_per_kg_salt = p.kg_water_per_kg_salt;
        row.in_model = p.brine.has_value();
        if (p.brine) {
            row.omega_aragonite = omega(*p.brine, "aragonite");
            row.omega_gypsum = omega(*p.brine, "gypsum");
            row.omega_celestite = omega(*p.brine, "celestite");
            row.fugacity_co2_atm = p.brine->fugacity_co2_atm();
            path::Moment m;
            m.h = pour_h * (p.kg_water_per_kg_salt - kPile) / (finished - kPile);
            m.celsius = plan.start_celsius;
            m.dissolved_share = 1;
            m.water = *p.brine;
            m.omega_aragonite = row.omega_aragonite;
            course.moments.push_back(std::move(m));
        }
        rows.push_back(row);
    }
    if (course.moments.empty()) {
        return out;
    }
    // After the pour it is the same water as any other.
    const auto after = path::run_course(plan);
    if (!after) {
        return out;
    }
    std::vector<path::Moment> pour = std::move(course.moments);
    course = *after;
    course.moments = std::move(pour);
    out.run = true;
    const path::Verdict verdict = path::judge(plan, course, keep_h);
    out.risk = verdict.risk;
    out.safe = verdict.safe;
    out.omega_at_end = after->moments.back().omega_aragonite;
    set_score(course.moments, out);
    return out;
}

void note_gas(PathComparison& out) {
    constexpr double kBubbles_atm = 1;
    double most = 0;
    for (const PileRow& row : out.pile) {
        most = std::max(most, row.fugacity_co2_atm);
    }
    if (most > kBubbles_atm) {
        out.notices.push_back(
            {"path_pile_gas",
             fmt::format("In water onto salt CO2 reaches {:.2g} atm between the grains and bubbles "
                         "out, faster than the exchange counted here: what is left is richer in "
                         "carbonate than the table says.",
                         most)});
    }
}

/// Strong solutions of the parts that matter for carbonates, as when supplements are poured
/// together.
std::vector<Concentrate> concentrates(const path::VatPlan& plan) {
    using path::Role;
    const auto roles = path::roles_of(plan.parts);
    struct Mix {
        const char* name;
        bool magnesium, calcium, alkalinity;
    };
    constexpr std::array kMixes{
        Mix{"calcium and alkalinity", false, true, true},
        Mix{"calcium, magnesium and alkalinity", true, true, true},
        Mix{"magnesium and alkalinity", true, false, true},
    };
    constexpr std::array kStrengths{1.0, 3.0, 10.0, 30.0};
    path::VatWater water;
    std::vector<Concentrate> out;
    for (const Mix& mix : kMixes) {
        path::Dissolved parts;
        for (std::size_t p = 0; p < roles.size(); ++p) {
            const bool in = (roles[p] == Role::Magnesium && mix.magnesium) ||
                            (roles[p] == Role::Calcium && mix.calcium) ||
                            (roles[p] == Role::Alkalinity && mix.alkalinity);
            parts.add(plan.parts[p].brings, in ? 1 : 0);
        }
        for (const double strength : kStrengths) {
            Concentrate c;
            c.name = mix.name;
            c.strength = strength;
            path::Dissolved strong;
            strong.add(parts, strength);
            if (const path::VatState* state = water.at(strong, plan.start_celsius)) {
                path::OnsetWater sees;
                const auto ca = strong.mol[brine::index(brine::Total::Ca)];
                const auto mg = strong.mol[brine::index(brine::Total::Mg)];
                sees.omega_aragonite = omega(*state, "aragonite");
                sees.temperature = unit::Celsius(plan.start_celsius);
                sees.magnesium_share = path::magnesium_share(mg);
                sees.sulfate_share =
                    path::sulfate_share(strong.mol[brine::index(brine::Total::SO4)]);
                sees.magnesium_per_calcium = ca > 0 ? mg / ca : sees.magnesium_per_calcium;
                c.omega_aragonite = sees.omega_aragonite;
                const path::Onset onset = path::onset(sees);
                if (std::isfinite(onset.hours)) {
                    c.minutes_to_onset = onset.hours * kMinutesPerHour;
                }
                c.brucite = omega(*state, "brucite");
                c.gypsum = omega(*state, "gypsum");
            }
            out.push_back(std::move(c));
        }
    }
    return out;
}

/// The runs that are to be made; each fills its own places. Ways that ask for the same vat share
/// one run.
class Work {
public:
    explicit Work(std::function<bool(double)> progress) : progress_(std::move(progress)) {}

    void add(WayResult& place, std::string name, const path::VatPlan& plan) {
        const auto same = std::ranges::find(jobs_, plan, &Job::plan);
        auto& job = same != jobs_.end() ? *same : jobs_.emplace_back(Job{plan, {}});
        job.places.emplace_back(&place, std::move(name));
    }

    /// Another task beside the runs.
    void also(std::function<void()> task) { tasks_.push_back(std::move(task)); }

    /// Errors   Refused where it was called off.
    Result<void> do_all(double keep_h, double step_h) {
        const std::size_t all = tasks_.size() + jobs_.size();
        std::atomic<std::size_t> next = 0;
        std::atomic<std::size_t> done = 0;
        std::atomic<bool> called_off = false;
        std::mutex telling;
        in_parts(std::max<std::size_t>(1, std::thread::hardware_concurrency()), 0,
                 [&](std::size_t begin, std::size_t end) {
                     for (std::size_t worker = begin; worker < end; ++worker) {
                         for (std::size_t i = next++; i < all && !called_off; i = next++) {
                             if (i < tasks_.size()) {
                                 tasks_[i]();
                             } else {
                                 Job& job = jobs_[i - tasks_.size()];
                                 job.fill(way(job.plan, keep_h, step_h));
                             }
                             const std::size_t so_far = ++done;
                             if (progress_) {
                                 const std::scoped_lock lock(telling);
                                 if (!progress_(static_cast<double>(so_far) /
                                                static_cast<double>(all))) {
                                     called_off = true;
                                 }
                             }
                         }
                     }
                 });
        if (called_off) {
            return fail(ProblemCode::Refused, kCalledOff);
        }
        return {};
    }

private:
    struct Job {
        path::VatPlan plan;
        std::vector<std::pair<WayResult*, std::string>> places;

        void fill(const WayResult& found) {
            for (auto& [place, name] : places) {
                *place = found;
                place->name = name;
            }
        }
    };
    std::vector<std::function<void()>> tasks_;
    std::vector<Job> jobs_;
    std::function<bool(double)> progress_;
};

/// Carbonate for hydrogencarbonate, in shares of the carriers' alkalinity.
Result<void> add_carbonates(const path::VatPlan& plan, PathComparison& out, Work& work) {
    const auto neutral =
        path::neutral_carbonate_share(plan.parts, plan.air_co2_atm, plan.start_celsius);
    if (!neutral) {
        out.notices.push_back({"path_no_carbonate",
                               "No part brings carbonate or "
                               "hydrogencarbonate: nothing to compare there."});
        return {};
    }
    out.neutral_carbonate_share = *neutral;
    struct Share {
        std::string name;
        double share;
    };
    constexpr double kHalf = 0.5;
    const std::array<Share, 4> shares{{{"all hydrogencarbonate", 0},
                                       {"in balance with the air", *neutral},
                                       {"half of its alkalinity as carbonate", kHalf},
                                       {"all carbonate", 1}}};
    out.carbonate.resize(shares.size());
    for (std::size_t i = 0; i < shares.size(); ++i) {
        path::VatPlan with = plan;
        BW_TRY(parts, path::with_carbonate_share(plan.parts, shares[i].share));
        with.parts = std::move(parts);
        with.additions = all_at_once(with.parts.size());
        work.add(out.carbonate[i], shares[i].name, with);
    }
    return {};
}

void add_warming(const path::VatPlan& plan, double warm_celsius, PathComparison& out, Work& work) {
    constexpr double kCool = 20;
    constexpr double kCoolHours = 2;
    constexpr double kRate = 2;  // K/h
    path::VatPlan cool = kept_at(plan, kCool);
    cool.heating = path::VatPlan::Heating{kCoolHours, warm_celsius, kRate};
    work.add(out.cool_then_warm,
             fmt::format("mixed at {:g} \u00B0C, from {:g} h on heated to {:g} \u00B0C at {:g} K/h",
                         kCool, kCoolHours, warm_celsius, kRate),
             cool);
    work.add(out.warm_from_start, fmt::format("mixed at {:g} \u00B0C", warm_celsius),
             kept_at(plan, warm_celsius));
}

void add_grid(const path::VatPlan& plan, const std::vector<path::Order>& orders,
              PathComparison& out, Work& work) {
    out.grid.reserve(orders.size() * kComparedTemperatures.size() * kComparedSeeds.size());
    for (std::size_t o = 0; o < orders.size(); ++o) {
        for (const double celsius : kComparedTemperatures) {
            for (const double seed : kComparedSeeds) {
                out.grid.push_back({o, celsius, seed, {}});
                path::VatPlan there = kept_at(plan, celsius);
                there.additions = orders[o].additions;
                there.seed_mg_per_kg = seed;
                work.add(out.grid.back().result, orders[o].name, there);
            }
        }
    }
}

/// What an order is ranked by: differences that the laws cannot tell apart count as none.
std::tuple<bool, path::Risk, long> rank(const WayResult& w) {
    constexpr double kScore = 0.05;  // h: 10 % of Omega in half an hour
    return {!w.run, w.risk, std::lround(w.score_h / kScore)};
}

}  // namespace

Result<PathComparison> path_compare(const PathCompareRequest& request) {
    BW_TRY(planned, path_plan(request.run));
    PathComparison out;
    out.recipe = planned.recipe;
    out.invented = planned.invented;
    out.notices = std::move(planned.notices);
    out.plan = std::move(planned.plan);
    out.keep_h = request.run.keep_h;
    out.air_pressure_atm = request.run.air_pressure_atm;
    out.step_h = request.step_h;
    out.pour_h = request.pour_h;
    out.warm_celsius = request.warm_celsius;
    if (!(out.plan.drift_per_h > 0)) {  // as the vats of the grid, which their heaters hold
        out.plan = kept_at(out.plan, out.plan.start_celsius);
    }
    const path::VatPlan& plan = out.plan;
    BW_CHECK(path::check_plan(plan));

    Work work(request.progress);
    work.add(out.salt_into_water, "salt into water", plan);
    const std::vector<path::Order> orders = path::usual_orders(plan.parts, request.step_h);
    out.orders.resize(orders.size());
    for (std::size_t i = 0; i < orders.size(); ++i) {
        path::VatPlan with = plan;
        with.additions = orders[i].additions;
        work.add(out.orders[i], orders[i].name, with);
    }
    out.temperatures.resize(kComparedTemperatures.size());
    for (std::size_t i = 0; i < kComparedTemperatures.size(); ++i) {
        work.add(out.temperatures[i], fmt::format("{:g} \u00B0C", kComparedTemperatures[i]),
                 kept_at(plan, kComparedTemperatures[i]));
    }
    add_warming(plan, request.warm_celsius, out, work);
    work.add(out.open, "open to the air", plan);
    path::VatPlan closed = plan;
    closed.kla_per_h = 0;
    work.add(out.closed, "closed", closed);
    BW_CHECK(add_carbonates(plan, out, work));
    add_grid(plan, orders, out, work);
    work.also([&] { out.water_onto_salt = onto_salt(plan, request.pour_h, out.keep_h, out.pile); });
    work.also([&] { out.concentrates = concentrates(plan); });
    BW_CHECK(work.do_all(out.keep_h, out.step_h));

    note_gas(out);
    std::ranges::stable_sort(out.orders, {}, rank);
    out.orders_alike =
        static_cast<std::size_t>(std::ranges::count(out.orders, rank(out.orders.front()), rank));
    return out;
}

}  // namespace bw::service
