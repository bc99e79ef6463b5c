// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstddef>
#include <functional>
#include <span>
#include <string>
#include <vector>

namespace bw::num {

/// A stiff initial-value problem dy/dt = f(t, y) with events where g(t, y) changes sign.
struct OdeProblem {
    /// Fills dy; false where f cannot be had at this y (the step is then tried shorter).
    std::function<bool(double t, std::span<const double> y, std::span<double> dy)> slope;
    /// Fills the Jacobian df/dy, column after column (J[row + column * n]), which comes as zeros;
    /// an approximate one costs steps, not accuracy. Empty: by differences.
    std::function<bool(double t, std::span<const double> y, std::span<double> jacobian)> jacobian;
    /// Fills the event values; may be empty when event_count is 0.
    std::function<void(double t, std::span<const double> y, std::span<double> values)> events;
    std::size_t event_count = 0;
    double from = 0;
    std::vector<double> start;
    double relative_tolerance = 1e-7;
    std::vector<double> absolute_tolerance;  ///< one per unknown
    double largest_step = 0;                 ///< 0: no limit
    long most_steps = 20'000;
};

enum class OdeEnd : unsigned char {
    Reached,       ///< the last output time
    Stopped,       ///< by the caller, at an event
    TooManySteps,  ///< what was reached is given
    Failed,        ///< no step could be made; what was reached is given
};

struct OdeEvent {
    double t;
    std::size_t which;
    bool rising;
    std::vector<double> y;
};

struct OdeCourse {
    OdeEnd end = OdeEnd::Failed;
    double reached = 0;                      ///< t of the last state
    std::vector<double> last;                ///< that state
    std::vector<std::vector<double>> state;  ///< at the output times that were reached
    std::vector<OdeEvent> events;            ///< in time's order
    long steps = 0, evaluations = 0;
};

/// Integrates by backward differentiation of order 1 to 5 with a dense Jacobian.
///
/// Inputs     output times, rising, from `problem.from` on; `go_on` is asked at every event and
///            may end the run (empty: go on).
/// Accuracy   local error within the tolerances; the error of a run is usually some ten times it.
/// Errors     in `end`; never throws for a hard problem.
/// Source     CVODE of SUNDIALS [hindmarsh-2005].
[[nodiscard]] OdeCourse integrate(const OdeProblem& problem, std::span<const double> output_times,
                                  const std::function<bool(const OdeEvent&)>& go_on = {});

}  // namespace bw::num
