// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "path/course.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

#include <fmt/format.h>

#include "num/ode.hpp"
#include "path/vat.hpp"

namespace bw::path {
namespace {

constexpr double kColdest = 5;
constexpr double kWarmest = 40;

Result<void> check_number(std::string_view what, double value, double low, double high,
                          std::string_view unit) {
    if (!(value >= low && value <= high)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("{} is {:g} {}, but {:g} to {:g} is allowed", what, value, unit,
                                low, high));
    }
    return {};
}

/// The finished water must be one that the model knows.
Result<void> check_strength(const VatPlan& plan) {
    Dissolved all;
    double water = 1;
    for (const Part& part : plan.parts) {
        all.add(part.brings, 1);
        water += part.water_kg_per_kg;
    }
    Dissolved finished;
    finished.add(all, 1 / water);
    if (finished.salt_kg() <= 0 || VatWater().at(finished, plan.start_celsius) == nullptr) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("the finished water would hold {:.3g} g of salt per kg of water, "
                                "for which the model has no state: it reaches to an ionic strength "
                                "of 8 mol/kg, some 350 g/kg of sea salt",
                                1000 * finished.salt_kg()));
    }
    return {};
}

Result<void> check_plan(const VatPlan& plan) {
    constexpr double kMostHours = 8760;
    constexpr double kMostExchange = 1000;
    constexpr double kMostSeed = 1000;
    constexpr double kMostParticles = 1000;
    BW_CHECK(
        check_number("the water's temperature", plan.start_celsius, kColdest, kWarmest, "degC"));
    BW_CHECK(check_number("the room's temperature", plan.room_celsius, kColdest, kWarmest, "degC"));
    BW_CHECK(check_number("the length of the run", plan.hours, 1e-3, kMostHours, "h"));
    BW_CHECK(check_number("how long marks are looked for", plan.marks_until_h, 0, kMostHours, "h"));
    BW_CHECK(check_number("the gas exchange", plan.kla_per_h, 0, kMostExchange, "/h"));
    BW_CHECK(check_number("the air's CO2", plan.air_co2_atm, 1e-6, 1, "atm"));
    BW_CHECK(check_number("the purified water's CO2", plan.water_co2_atm, 0, 1, "atm"));
    BW_CHECK(check_number("the drift to the room", plan.drift_per_h, 0, 1000, "/h"));
    BW_CHECK(check_number("the seed", plan.seed_mg_per_kg, 0, kMostSeed, "mg/kg"));
    BW_CHECK(check_number("the stirring power", plan.stirring.power_W_per_kg, 1e-3, 100, "W/kg"));
    BW_CHECK(check_number("the count of particles", plan.particles, 1, kMostParticles, ""));
    if (plan.heating) {
        BW_CHECK(
            check_number("the heater's end", plan.heating->to_celsius, kColdest, kWarmest, "degC"));
        BW_CHECK(
            check_number("the hour from which it heats", plan.heating->from_h, 0, kMostHours, "h"));
        BW_CHECK(check_number("the rate at which it heats", plan.heating->celsius_per_h, 0.01, 1000,
                              "K/h"));
    }
    std::set<std::size_t> named;
    for (const Addition& a : plan.additions) {
        if (a.part >= plan.parts.size() || !named.insert(a.part).second) {
            return fail(ProblemCode::BadInput, "each part of the salt goes into the vat once");
        }
        if (!(a.at_h >= 0 && a.at_h < plan.hours)) {
            return fail(ProblemCode::OutOfRange,
                        fmt::format("{} goes into the vat at {:g} h, but the run lasts from 0 to "
                                    "{:g} h",
                                    plan.parts[a.part].name, a.at_h, plan.hours));
        }
    }
    if (named.size() != plan.parts.size() || plan.parts.empty()) {
        return fail(ProblemCode::BadInput, "every part of the salt has to go into the vat");
    }
    return check_strength(plan);
}

/// Hours at which the vat is looked at: round numbers, seconds at first, then ever longer.
std::vector<double> looks(double hours) {
    constexpr std::array kFirst{5.0,   10.0,  20.0,   30.0,   60.0,   120.0,  180.0, 300.0,
                                600.0, 900.0, 1200.0, 1800.0, 2700.0, 3600.0, 5400.0};
    constexpr double kSecondsPerHour = 3600;
    constexpr std::array kSteps{1.0, 1.5};
    std::vector<double> out;
    const auto look = [&](double h) {
        if (h < hours * (1 - 1e-9)) {
            out.push_back(h);
        }
    };
    for (const double s : kFirst) {
        look(s / kSecondsPerHour);
    }
    for (double h = 2; h < hours; h *= 2) {
        for (const double step : kSteps) {
            look(h * step);
        }
    }
    out.push_back(hours);
    return out;
}

class Run {
public:
    explicit Run(const VatPlan& plan) : plan_(plan), vat_(plan) {}

    Course go() {
        std::vector<Addition> order = plan_.additions;
        std::ranges::stable_sort(order, {}, &Addition::at_h);
        std::vector<double> y = vat_.start();
        double h = 0;
        std::size_t next = 0;
        while (h < plan_.hours && course_.complete) {
            for (; next < order.size() && order[next].at_h <= h; ++next) {
                vat_.add(order[next], y);
            }
            if (h == 0) {
                course_.moments.push_back(vat_.moment(0, y));
            }
            const double until = next < order.size() ? order[next].at_h : plan_.hours;
            h = stretch(h, until, y);
        }
        course_.reached_h = h;
        looking_on_ = true;
        while (h < plan_.marks_until_h && course_.complete && !course_.marks.lost_5_percent) {
            h = stretch(h, plan_.marks_until_h, y);
        }
        return std::move(course_);
    }

private:
    // Places of what is watched for.
    using Event = std::size_t;
    static constexpr Event kDissolved = 0, kOnset = 1, kLost1 = 2, kLost5 = 3, kGrainsGone = 4,
                           kEvents = 5;

    /// Integrates to `until`, or to where the equations change; leaves the state there in y.
    double stretch(double from, double until, std::vector<double>& y) {
        num::OdeProblem problem;
        problem.slope = [&](double h, std::span<const double> at, std::span<double> dy) {
            return vat_.slope(h, at, dy);
        };
        problem.jacobian = [&](double h, std::span<const double> at, std::span<double> j) {
            return vat_.jacobian(h, at, j);
        };
        problem.events = [&](double, std::span<const double> at, std::span<double> g) {
            g[kDissolved] = kDissolvedShare - vat_.solid_share(at);
            g[kGrainsGone] = Vat::kGone / 2 - vat_.most_left(at);
            g[kOnset] = vat_.waited(at) - 1;
            const double lost = vat_.alkalinity_lost_share(at);
            g[kLost1] = lost - 0.01;
            g[kLost5] = lost - 0.05;
        };
        problem.event_count = kEvents;
        problem.from = from;
        problem.start = y;
        problem.relative_tolerance = 1e-6;
        problem.absolute_tolerance = vat_.tolerances();
        std::vector<double> times;
        for (const double h : looks(plan_.hours)) {
            if (h > from && h < until) {
                times.push_back(h);
            }
        }
        times.push_back(until);
        const num::OdeCourse found =
            num::integrate(problem, times, [&](const num::OdeEvent& e) { return note(e); });
        for (std::size_t i = 0; i < found.state.size() && !looking_on_; ++i) {
            course_.moments.push_back(vat_.moment(times[i], found.state[i]));
        }
        course_.steps += found.steps;
        course_.evaluations += found.evaluations;
        y = found.last;
        if (found.end == num::OdeEnd::Stopped && stopped_at_ == kGrainsGone) {
            vat_.drop_gone(y);
        } else if (found.end == num::OdeEnd::Stopped && stopped_at_ == kOnset) {
            vat_.start_crystals(y);
            if (!looking_on_) {
                course_.moments.push_back(vat_.moment(found.reached, y));
            }
        } else if (found.end != num::OdeEnd::Reached && found.end != num::OdeEnd::Stopped) {
            course_.complete = false;
            course_.notices.push_back(
                {"path_stopped",
                 fmt::format("The run could not be carried on beyond {:.3g} h; what it gives ends "
                             "there.",
                             found.reached)});
        }
        return found.reached;
    }

    /// Notes an event; false where the equations change: at the onset, where crystals start to
    /// grow, and when the grains are gone.
    bool note(const num::OdeEvent& e) {
        if (!e.rising) {
            return true;
        }
        stopped_at_ = e.which;
        const auto first = [&](std::optional<double>& mark) {
            if (!mark) {
                mark = e.t;
            }
        };
        switch (e.which) {
            case kDissolved:
                first(course_.marks.dissolved);
                return true;
            case kLost1:
                first(course_.marks.lost_1_percent);
                return true;
            case kLost5:
                first(course_.marks.lost_5_percent);
                return !looking_on_;
            case kGrainsGone:
                return false;
            default:
                first(course_.marks.onset);
                return false;
        }
    }

    static constexpr double kDissolvedShare = 1e-3;  // of the salt, still solid
    const VatPlan& plan_;
    Vat vat_;
    Event stopped_at_ = kEvents;
    bool looking_on_ = false;  ///< beyond the hours asked, for marks alone
    Course course_;
};

}  // namespace

Result<Course> run_course(const VatPlan& plan) {
    BW_CHECK(check_plan(plan));
    return Run(plan).go();
}

}  // namespace bw::path
