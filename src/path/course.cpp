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

Result<void> check_number(std::string_view field, std::string_view what, double value, double low,
                          double high, std::string_view unit) {
    if (!(value >= low && value <= high)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("{} is {:g}{}{}, but {:g} to {:g} is allowed", what, value,
                                unit.empty() ? "" : " ", unit, low, high),
                    {"", 0, std::string(field)});
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
    constexpr double kMost = 0.12;  // kg per kg of solution, of liquid_of()
    if (finished.salt_kg() <= 0) {
        return fail(ProblemCode::BadInput,
                    "the recipe brings no salt into the water: give its parts amounts above 0");
    }
    if (finished.salt_kg() > kMost * (1 + finished.salt_kg())) {
        return fail(
            ProblemCode::OutOfRange,
            fmt::format("the finished water would hold {:.3g} g of salt per kg of solution; "
                        "vats are followed up to {:g} g/kg",
                        1000 * finished.salt_kg() / (1 + finished.salt_kg()), 1000 * kMost));
    }
    if (VatWater().at(finished, plan.start_celsius) == nullptr) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("the finished water would hold {:.3g} g of salt per kg of water, "
                                "for which the model has no state: it reaches to an ionic strength "
                                "of 8 mol/kg, some 350 g/kg of sea salt",
                                1000 * finished.salt_kg()));
    }
    return {};
}

Result<void> check_additions(const VatPlan& plan) {
    std::set<std::size_t> named;
    for (const Addition& a : plan.additions) {
        if (a.part >= plan.parts.size() || !named.insert(a.part).second) {
            return fail(ProblemCode::BadInput, "each part of the salt goes into the vat once",
                        {"", 0, "add"});
        }
        if (!(a.at_h >= 0 && a.at_h < plan.hours)) {
            return fail(ProblemCode::OutOfRange,
                        fmt::format("{} goes into the vat at {:g} h, but the run lasts from 0 to "
                                    "{:g} h: add it sooner, or run for longer",
                                    plan.parts[a.part].name, a.at_h, plan.hours),
                        {"", 0, "add"});
        }
    }
    if (named.size() != plan.parts.size()) {
        return fail(ProblemCode::BadInput, "every part of the salt has to go into the vat",
                    {"", 0, "add"});
    }
    return {};
}

constexpr double kRoundOff = 1e-9;

/// Hours at which the vat is looked at: round numbers, seconds after each addition, then ever
/// longer.
std::vector<double> looks(const VatPlan& plan) {
    constexpr std::array kFirst{5.0,   10.0,  20.0,   30.0,   60.0,   120.0,  180.0, 300.0,
                                600.0, 900.0, 1200.0, 1800.0, 2700.0, 3600.0, 5400.0};
    constexpr double kSecondsPerHour = 3600;
    constexpr std::array kSteps{1.0, 1.5};
    std::vector<double> out{plan.hours};
    std::set<double> starts{0};
    for (const Addition& a : plan.additions) {
        starts.insert(a.at_h);
    }
    for (const double start : starts) {
        for (const double s : kFirst) {
            out.push_back(start + s / kSecondsPerHour);
        }
    }
    for (double h = 2; h < plan.hours; h *= 2) {
        for (const double step : kSteps) {
            out.push_back(h * step);
        }
    }
    std::ranges::sort(out);
    const auto alike = [](double a, double b) { return b - a < kRoundOff * b; };
    out.erase(std::unique(out.begin(), out.end(), alike), out.end());
    std::erase_if(out, [&](double h) { return h > plan.hours * (1 + kRoundOff); });
    return out;
}

class Run {
public:
    explicit Run(const VatPlan& plan) : plan_(plan), vat_(plan), looks_(looks(plan)) {}

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
            if (next == order.size() && vat_.solid_share(y) < kDissolvedShare) {
                first(course_.marks.dissolved, h);  // as a solution: no event rises
            }
            if (h == 0) {
                course_.moments.push_back(vat_.moment(0, y));
            }
            const double until = next < order.size() ? order[next].at_h : plan_.hours;
            h = stretch(h, until, y);
        }
        course_.reached_h = h;
        course_.left = vat_.left(y);
        looking_on_ = true;
        while (h < plan_.marks_until_h && course_.complete && !course_.marks.lost_5_percent) {
            h = stretch(h, plan_.marks_until_h, y);
        }
        if (!course_.marks.onset) {
            course_.last_looked = vat_.moment(h, y);
        }
        note_warmth();
        return std::move(course_);
    }

private:
    // Places of what is watched for.
    using Event = std::size_t;
    static constexpr Event kDissolved = 0, kOnset = 1, kLost1 = 2, kLost5 = 3, kGrainsGone = 4,
                           kEarliestOnset = 5, kEarliestLoss = 6, kEvents = 7;

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
            g[kEarliestOnset] = vat_.waited(at) - 1 / onset_factor(plan_);
            g[kEarliestLoss] = vat_.face_um(at) - vat_.face_of_loss_um() / kLossFactor;
            g[kLost1] = lost - kLostShare;
            g[kLost5] = lost - 0.05;
        };
        problem.event_count = kEvents;
        problem.from = from;
        problem.start = y;
        problem.relative_tolerance = 1e-6;
        problem.absolute_tolerance = vat_.tolerances();
        std::vector<double> times;
        for (const double h : looks_) {
            if (h > from * (1 + kRoundOff) && h < until * (1 - kRoundOff)) {
                times.push_back(h);
            }
        }
        times.push_back(until);
        const num::OdeCourse found =
            num::integrate(problem, times, [&](const num::OdeEvent& e) { return note(e); });
        for (std::size_t i = 0; i < found.state.size() && !looking_on_; ++i) {
            course_.moments.push_back(vat_.moment(times[i], found.state[i]));
            note_gone(times[i], found.state[i]);
        }
        course_.steps += found.steps;
        course_.evaluations += found.evaluations;
        y = found.last;
        if (found.end == num::OdeEnd::Stopped && stopped_at_ == kGrainsGone) {
            vat_.drop_gone(y);
        } else if (found.end == num::OdeEnd::Stopped && stopped_at_ == kOnset) {
            vat_.start_crystals(y);
            course_.last_looked = vat_.moment(found.reached, y);
            if (!looking_on_) {
                course_.moments.push_back(course_.last_looked);
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

    void note_warmth() {
        double warmest = 0;
        for (const Moment& m : course_.moments) {
            warmest = std::max(warmest, m.celsius);
        }
        constexpr double kSeen = 0.05;  // K
        if (warmest > Vat::kModelEnds + kSeen) {
            course_.notices.push_back(
                {"path_warm",
                 fmt::format("The vat goes to {:.1f} degC, beyond the model of waters; "
                             "its chemistry counts as at {:g} degC there.",
                             warmest, Vat::kModelEnds)});
        }
    }

    void note_gone(double h, std::span<const double> y) {
        constexpr double kCounts = 0.01;  // of a part
        const std::vector<double> left = vat_.left(y);
        course_.gone_h.resize(left.size());
        for (std::size_t p = 0; p < left.size(); ++p) {
            if (left[p] < kCounts) {
                first(course_.gone_h[p], h);
            }
        }
    }

    static void first(std::optional<double>& mark, double h) {
        if (!mark) {
            mark = h;
        }
    }

    /// Notes an event; false where the equations change: at the onset, where crystals start to
    /// grow, and when the grains are gone.
    bool note(const num::OdeEvent& e) {
        if (!e.rising) {
            return true;
        }
        stopped_at_ = e.which;
        switch (e.which) {
            case kDissolved:
                first(course_.marks.dissolved, e.t);
                return true;
            case kLost1:
                first(course_.marks.lost_1_percent, e.t);
                return true;
            case kLost5:
                first(course_.marks.lost_5_percent, e.t);
                return !looking_on_;
            case kEarliestOnset:
                first(course_.marks.earliest_onset, e.t);
                return true;
            case kEarliestLoss:
                first(course_.marks.earliest_loss, e.t);
                return true;
            case kGrainsGone:
                return false;
            default:
                first(course_.marks.onset, e.t);
                return false;
        }
    }

    static constexpr double kDissolvedShare = 1e-3;  // of the salt, still solid
    const VatPlan& plan_;
    Vat vat_;
    std::vector<double> looks_;
    Event stopped_at_ = kEvents;
    bool looking_on_ = false;  ///< beyond the hours asked, for marks alone
    Course course_;
};

}  // namespace

Result<void> check_plan(const VatPlan& plan) {
    constexpr double kMostHours = 8760;
    constexpr double kMost = 1000;
    BW_CHECK(check_number("temperature", "the water's temperature", plan.start_celsius, kColdest,
                          kWarmest, "degC"));
    BW_CHECK(check_number("room", "the room's temperature", plan.room_celsius, kColdest, kWarmest,
                          "degC"));
    BW_CHECK(check_number("hours", "the length of the run", plan.hours, 1e-3, kMostHours, "h"));
    BW_CHECK(check_number("marks_until", "how long marks are looked for", plan.marks_until_h, 0,
                          kMostHours, "h"));
    BW_CHECK(check_number("gas_exchange", "the gas exchange", plan.kla_per_h, 0, kMost, "/h"));
    BW_CHECK(check_number("air", "the air's CO2", plan.air_co2_atm, 1e-6, 1, "atm"));
    BW_CHECK(check_number("air", "the purified water's CO2", plan.water_co2_atm, 0, 1, "atm"));
    BW_CHECK(check_number("drift", "the drift to the room", plan.drift_per_h, 0, kMost, "/h"));
    BW_CHECK(check_number("seed", "the dust of CaCO3", plan.seed_mg_per_kg, 0, kMost, "mg/kg"));
    BW_CHECK(check_number("stirring", "the stirring power", plan.stirring.power_W_per_kg, 1e-3, 100,
                          "W/kg"));
    BW_CHECK(check_number("particles", "the count of particles", plan.particles, 1, kMost, ""));
    if (const auto& heating = plan.heating) {
        BW_CHECK(check_number("heat_to", "the heater's end", heating->to_celsius, kColdest,
                              kWarmest, "degC"));
        BW_CHECK(check_number("heat_from", "the hour from which it heats", heating->from_h, 0,
                              kMostHours, "h"));
        BW_CHECK(check_number("heat_rate", "the rate at which it heats", heating->celsius_per_h,
                              0.01, kMost, "K/h"));
    }
    BW_CHECK(check_strength(plan));
    return check_additions(plan);
}

Result<Course> run_course(const VatPlan& plan) {
    BW_CHECK(check_plan(plan));
    return Run(plan).go();
}

}  // namespace bw::path
