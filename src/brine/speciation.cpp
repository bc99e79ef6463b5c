// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/speciation.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>

#include "brine/speciation_solver.hpp"
#include "num/bracketed_root.hpp"

namespace bw::brine {
namespace {

using speciation_detail::Solver;

/// Hydrogen by halving, everything else by Newton at each trial: slow, and certain where the
/// statement left out grows or falls with pH.
bool halve(Solver& solver, std::size_t left_out, int most) {
    constexpr double kLowPh = -1;
    constexpr double kHighPh = 15;
    double low = -kHighPh * std::numbers::ln10;
    double high = -kLowPh * std::numbers::ln10;
    const auto at = [&](double ln_hydrogen, double& value) {
        solver.start_cold(-ln_hydrogen / std::numbers::ln10);
        solver.fix_hydrogen(ln_hydrogen, left_out);
        if (!solver.run(most)) {
            return false;
        }
        value = solver.closing_residual(left_out);
        return true;
    };
    double at_low = 0;
    double at_high = 0;
    if (!at(low, at_low) || !at(high, at_high) || (at_low > 0) == (at_high > 0)) {
        return false;
    }
    constexpr int kHalvings = 60;
    for (int k = 0; k < kHalvings; ++k) {
        const double middle = 0.5 * (low + high);
        double value = 0;
        if (!at(middle, value)) {
            return false;
        }
        ((value > 0) == (at_low > 0) ? low : high) = middle;
    }
    return true;
}

/// Alkalinity with pH, by a bracketed search for carbon. Newton loses its way where carbon is a
/// small part of the alkalinity, as in acid waters: while the coefficients are not yet right, the
/// rest alone seems too much, and carbon runs to nothing. Halving pH is no way out: pH is stated.
std::optional<Speciation<double>> search_carbon(const EquilibriumModel<double>& model,
                                                const Conditions<double>& c,
                                                const Closing<double>& closing, int most) {
    const std::size_t ph = is_ph(closing.kind[0]) ? 0 : 1;
    const double alkalinity = closing.value[1 - ph] / c.water_share;
    Closing<double> at{{closing.kind[ph], Closure::Carbon}, {closing.value[ph], 0}};
    std::optional<Speciation<double>> found;
    const auto excess = [&](double carbon) {
        at.value[1] = carbon;
        Solver solver(model, c, at);
        solver.start_cold(closing.value[ph]);
        solver.improve_start();
        found.reset();
        if (!solver.run(most)) {
            return std::numeric_limits<double>::quiet_NaN();
        }
        found = solver.result();
        return alkalinity_sum(found->molality) - alkalinity;
    };
    if (!(excess(0) <= 0)) {  // too much without carbon, or no number
        return std::nullopt;
    }
    constexpr double kMostCarbon = 10;  // mol/kg
    constexpr double kTolerance = 1e-18;
    constexpr double kStep = 10;
    double high = 1e-8;  // up to the first that is enough: much carbon lessens alkalinity again
    while (high < kMostCarbon && excess(high) < 0) {
        high *= kStep;
    }
    const auto carbon = num::bracketed_root(excess, 0, high, kTolerance);
    if (carbon) {
        excess(*carbon);
    }
    return carbon ? found : std::nullopt;
}

}  // namespace

Result<Speciation<double>> speciate(const EquilibriumModel<double>& model,
                                    const Conditions<double>& conditions,
                                    const Closing<double>& closing,
                                    const Speciation<double>* start) {
    constexpr int kMostRounds = 80;
    double ph = 8;  // of most waters
    for (std::size_t i = 0; i < closing.kind.size(); ++i) {
        ph = is_ph(closing.kind[i]) ? closing.value[i] : ph;
    }
    Solver solver(model, conditions, closing);
    if (start != nullptr) {
        solver.start_from(*start);
    } else {
        solver.start_cold(ph);
        solver.improve_start();
    }
    if (solver.run(kMostRounds)) {
        return solver.result();
    }
    const bool alkalinity =
        closing.kind[0] == Closure::Alkalinity || closing.kind[1] == Closure::Alkalinity;
    const bool searched = alkalinity && (is_ph(closing.kind[0]) || is_ph(closing.kind[1]));
    if (searched) {
        if (const auto found = search_carbon(model, conditions, closing, kMostRounds)) {
            return *found;
        }
    }
    for (std::size_t left_out = 0; left_out < 2 && !searched; ++left_out) {
        Solver safe(model, conditions, closing);
        if (halve(safe, left_out, kMostRounds) && std::isfinite(safe.result().residual)) {
            return safe.result();
        }
    }
    return fail(ProblemCode::OutOfRange,
                "no acid-base state of this water satisfies both closing statements: check "
                "alkalinity, carbon, pH and CO2 against each other");
}

}  // namespace bw::brine
