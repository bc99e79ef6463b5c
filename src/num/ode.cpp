// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "num/ode.hpp"

#include <algorithm>
#include <memory>

#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>

#include "base/result.hpp"

namespace bw::num {
namespace {

template <auto Free>
struct Deleter {
    template <class T>
    void operator()(T* what) const {
        Free(what);
    }
};
using Vector = std::unique_ptr<std::remove_pointer_t<N_Vector>, Deleter<N_VDestroy>>;
using Matrix = std::unique_ptr<std::remove_pointer_t<SUNMatrix>, Deleter<SUNMatDestroy>>;
using Solver = std::unique_ptr<std::remove_pointer_t<SUNLinearSolver>, Deleter<SUNLinSolFree>>;

struct FreeContext {
    void operator()(SUNContext context) const { SUNContext_Free(&context); }
};
struct FreeMemory {
    void operator()(void* memory) const { CVodeFree(&memory); }
};

std::span<double> values(N_Vector v) {
    return {N_VGetArrayPointer(v), static_cast<std::size_t>(N_VGetLength(v))};
}

int slope(double t, N_Vector y, N_Vector dy, void* data) {
    const auto& problem = *static_cast<const OdeProblem*>(data);
    return problem.slope(t, values(y), values(dy)) ? 0 : 1;  // 1: try a shorter step
}

int jacobian(double t, N_Vector y, N_Vector, SUNMatrix j, void* data, N_Vector, N_Vector,
             N_Vector) {
    const auto& problem = *static_cast<const OdeProblem*>(data);
    const std::span<double> columns(SM_DATA_D(j), static_cast<std::size_t>(SM_LDATA_D(j)));
    std::ranges::fill(columns, 0.0);
    return problem.jacobian(t, values(y), columns) ? 0 : 1;
}

int events(double t, N_Vector y, double* out, void* data) {
    const auto& problem = *static_cast<const OdeProblem*>(data);
    problem.events(t, values(y), {out, problem.event_count});
    return 0;
}

void be_silent(int, const char*, const char*, char*, void*) {}

/// CVODE's objects for one problem, freed in the right order.
class Run {
public:
    explicit Run(OdeProblem& problem) : problem_(problem) {
        SUNContext context = nullptr;
        base::expect(SUNContext_Create(nullptr, &context) == 0, "the integrator starts");
        context_.reset(context);
        const auto n = static_cast<sunindextype>(problem.start.size());
        y_.reset(N_VMake_Serial(n, problem.start.data(), context));
        tolerance_.reset(N_VMake_Serial(n, problem.absolute_tolerance.data(), context));
        matrix_.reset(SUNDenseMatrix(n, n, context));
        solver_.reset(SUNLinSol_Dense(y_.get(), matrix_.get(), context));
        memory_.reset(CVodeCreate(CV_BDF, context));
        base::expect(y_ && tolerance_ && matrix_ && solver_ && memory_, "the integrator has room");
        void* memory = memory_.get();
        bool ok = CVodeInit(memory, slope, problem.from, y_.get()) == CV_SUCCESS;
        ok = ok && CVodeSetErrHandlerFn(memory, be_silent, nullptr) == CV_SUCCESS;
        ok = ok &&
             CVodeSVtolerances(memory, problem.relative_tolerance, tolerance_.get()) == CV_SUCCESS;
        ok = ok && CVodeSetUserData(memory, &problem) == CV_SUCCESS;
        ok = ok && CVodeSetLinearSolver(memory, solver_.get(), matrix_.get()) == CV_SUCCESS;
        ok = ok && (!problem.jacobian || CVodeSetJacFn(memory, jacobian) == CV_SUCCESS);
        ok = ok && CVodeSetMaxNumSteps(memory, problem.most_steps) == CV_SUCCESS;
        ok = ok && (problem.largest_step <= 0 ||
                    CVodeSetMaxStep(memory, problem.largest_step) == CV_SUCCESS);
        if (problem.event_count > 0) {
            ok = ok &&
                 CVodeRootInit(memory, static_cast<int>(problem.event_count), events) == CV_SUCCESS;
            ok = ok && CVodeSetNoInactiveRootWarn(memory) == CV_SUCCESS;
        }
        base::expect(ok, "the integrator takes the problem");
    }

    /// The slopes are never asked for beyond `t_end`. Times on the way do not shorten the steps:
    /// the state there is the integrator's own interpolation.
    void end_at(double t_end) { CVodeSetStopTime(memory_.get(), t_end); }

    /// CVODE's answer on the way to t_out; `t` is where it stands.
    int advance(double t_out, double& t) {
        return CVode(memory_.get(), t_out, y_.get(), &t, CV_NORMAL);
    }

    std::vector<double> state() const {
        const auto v = values(y_.get());
        return {v.begin(), v.end()};
    }

    void add_events(double t, std::vector<OdeEvent>& out) const {
        std::vector<int> found(problem_.event_count);
        CVodeGetRootInfo(memory_.get(), found.data());
        for (std::size_t i = 0; i < found.size(); ++i) {
            if (found[i] != 0) {
                out.push_back({t, i, found[i] > 0, state()});
            }
        }
    }

    void count(OdeCourse& course) const {
        long from_jacobian = 0;
        CVodeGetNumSteps(memory_.get(), &course.steps);
        CVodeGetNumRhsEvals(memory_.get(), &course.evaluations);
        CVodeGetNumLinRhsEvals(memory_.get(), &from_jacobian);
        course.evaluations += from_jacobian;
    }

private:
    OdeProblem& problem_;
    std::unique_ptr<std::remove_pointer_t<SUNContext>, FreeContext> context_;
    Vector y_, tolerance_;
    Matrix matrix_;
    Solver solver_;
    std::unique_ptr<void, FreeMemory> memory_;
};

}  // namespace

OdeCourse integrate(const OdeProblem& problem, std::span<const double> output_times,
                    const std::function<bool(const OdeEvent&)>& go_on) {
    base::expect(!problem.start.empty() &&
                     problem.absolute_tolerance.size() == problem.start.size() &&
                     std::ranges::is_sorted(output_times),
                 "one tolerance per unknown, and rising times");
    OdeProblem own = problem;  // the integrator writes into its start
    Run run(own);
    OdeCourse course;
    course.reached = problem.from;
    course.last = problem.start;
    course.end = OdeEnd::Reached;
    if (!output_times.empty()) {
        run.end_at(output_times.back());
    }
    for (const double t_out : output_times) {
        while (course.reached < t_out) {
            double t = course.reached;
            const int answer = run.advance(t_out, t);
            if (t > course.reached) {  // also when it stops on the way
                course.reached = t;
                course.last = run.state();
            }
            if (answer < 0) {
                course.end = answer == CV_TOO_MUCH_WORK ? OdeEnd::TooManySteps : OdeEnd::Failed;
                break;
            }
            if (answer != CV_ROOT_RETURN) {
                continue;
            }
            const std::size_t before = course.events.size();
            run.add_events(t, course.events);
            for (std::size_t i = before; i < course.events.size() && go_on; ++i) {
                if (!go_on(course.events[i])) {
                    course.end = OdeEnd::Stopped;
                }
            }
            if (course.end != OdeEnd::Reached) {
                break;
            }
        }
        if (course.end != OdeEnd::Reached) {
            break;
        }
        course.state.push_back(course.last);
    }
    run.count(course);
    return course;
}

}  // namespace bw::num
