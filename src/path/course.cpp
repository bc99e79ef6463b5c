// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "path/course.hpp"

#include <algorithm>
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

Result<void> check_plan(const VatPlan& plan) {
    constexpr double kMostHours = 8760;
    constexpr double kMostExchange = 1000;
    constexpr double kMostSeed = 1000;
    constexpr double kMostParticles = 1000;
    BW_CHECK(
        check_number("the water's temperature", plan.start_celsius, kColdest, kWarmest, "degC"));
    BW_CHECK(check_number("the room's temperature", plan.room_celsius, kColdest, kWarmest, "degC"));
    BW_CHECK(check_number("the length of the run", plan.hours, 1e-3, kMostHours, "h"));
    BW_CHECK(check_number("the gas exchange", plan.kla_per_h, 0, kMostExchange, "1/h"));
    BW_CHECK(check_number("the air's CO2", plan.air_co2_atm, 1e-6, 1, "atm"));
    BW_CHECK(check_number("the purified water's CO2", plan.water_co2_atm, 0, 1, "atm"));
    BW_CHECK(check_number("the seed", plan.seed_mg_per_kg, 0, kMostSeed, "mg/kg"));
    BW_CHECK(check_number("the count of particles", plan.particles, 1, kMostParticles, ""));
    if (plan.heating) {
        BW_CHECK(
            check_number("the heater's end", plan.heating->to_celsius, kColdest, kWarmest, "degC"));
    }
    std::set<std::size_t> named;
    for (const Addition& a : plan.additions) {
        if (a.part >= plan.parts.size() || !named.insert(a.part).second) {
            return fail(ProblemCode::BadInput, "each part of the salt goes into the vat once");
        }
        BW_CHECK(check_number("the hour of an addition", a.at_h, 0, plan.hours, "h"));
    }
    if (named.size() != plan.parts.size() || plan.parts.empty()) {
        return fail(ProblemCode::BadInput, "every part of the salt has to go into the vat");
    }
    return {};
}

/// Hours at which the vat is looked at: minutes at first, then ever longer.
std::vector<double> looks(double hours) {
    std::vector<double> out;
    constexpr double kFirst = 1.0 / 60;
    constexpr double kRatio = 1.25;
    for (double h = kFirst; h < hours * (1 - 1e-9); h *= kRatio) {
        out.push_back(h);
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
        return std::move(course_);
    }

private:
    // Places of what is watched for.
    enum Event : std::size_t { kDissolved, kOnset, kLost1, kLost5, kEvents };

    /// Integrates to `until`, or to the onset; leaves the state there in y.
    double stretch(double from, double until, std::vector<double>& y) {
        num::OdeProblem problem;
        problem.slope = [&](double h, std::span<const double> at, std::span<double> dy) {
            return vat_.slope(h, at, dy);
        };
        problem.jacobian = [&](double h, std::span<const double> at, std::span<double> j) {
            return vat_.jacobian(h, at, j);
        };
        problem.events = [&](double, std::span<const double> at, std::span<double> g) {
            g[kDissolved] = kGone - vat_.solid_share(at);
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
        for (std::size_t i = 0; i < found.state.size(); ++i) {
            course_.moments.push_back(vat_.moment(times[i], found.state[i]));
        }
        course_.steps += found.steps;
        course_.evaluations += found.evaluations;
        y = found.last;
        if (found.end == num::OdeEnd::Stopped) {
            vat_.start_crystals(y);
            course_.moments.push_back(vat_.moment(found.reached, y));
        } else if (found.end != num::OdeEnd::Reached) {
            course_.complete = false;
            course_.notices.push_back(
                {"path_stopped",
                 fmt::format("The run could not be carried on beyond {:.3g} h; what it gives ends "
                             "there.",
                             found.reached)});
        }
        return found.reached;
    }

    /// Notes an event; false at the onset, where crystals start to grow.
    bool note(const num::OdeEvent& e) {
        if (!e.rising) {
            return true;
        }
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
                return true;
            default:
                first(course_.marks.onset);
                return false;
        }
    }

    static constexpr double kGone = 1e-3;
    const VatPlan& plan_;
    Vat vat_;
    Course course_;
};

}  // namespace

Result<Course> run_course(const VatPlan& plan) {
    BW_CHECK(check_plan(plan));
    return Run(plan).go();
}

}  // namespace bw::path
