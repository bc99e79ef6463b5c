// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/carbonate_system.hpp"

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <limits>
#include <utility>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "brine/carbonate_equations.hpp"
#include "brine/seawater_fits.hpp"

namespace bw::brine {
namespace {

using Kind = CarbonateQuantity;

constexpr double kLowestLnH = -60;  // pH 26: no alkalinity of kQuantities is reached beyond
constexpr double kHighestLnH = 12;  // pH -5
constexpr double kUsualLnH = -8 * std::numbers::ln10;
constexpr double kCloseEnough = 1e-7;  // of a quadratic step in ln [H]: the next would be 1e-14
constexpr int kMostSteps = 200;
constexpr double kNoAlkalinity = 1e-14;  // eq/kg of carbon: round-off of a water without any

struct QuantityRow {
    std::string_view name, unit;
    double low, high;
};
// In the order of CarbonateQuantity.
constexpr std::array<QuantityRow, 7> kQuantities = {{
    {"alkalinity", "eq/kg", -1, 1},
    {"inorganic carbon", "mol/kg", 0, 1},
    {"pH on the total scale", "", -1, 15},
    {"partial pressure of CO2", "uatm", 0, 1e8},
    {"fugacity of CO2", "uatm", 0, 1e8},
    {"bicarbonate", "mol/kg", 0, 1},
    {"carbonate", "mol/kg", 0, 1},
}};

const QuantityRow& row_of(Kind kind) { return kQuantities[static_cast<std::size_t>(kind)]; }

bool is_pressure(Kind kind) { return kind == Kind::PartialPressure || kind == Kind::Fugacity; }

/// The input with its kinds in rising order.
template <class T>
CarbonateInputOf<T> ordered(CarbonateInputOf<T> in) {
    if (in.second_kind < in.first_kind) {
        std::swap(in.first_kind, in.second_kind);
        std::swap(in.first, in.second);
    }
    return in;
}

CarbonateFault fault_of_pair(Kind first, Kind second) {
    if (first == second || (is_pressure(first) && is_pressure(second))) {
        return CarbonateFault::SamePair;
    }
    if ((first == Kind::Alkalinity && second == Kind::Carbonate) ||
        (first == Kind::InorganicCarbon && second == Kind::Bicarbonate)) {
        return CarbonateFault::TwoSolutions;
    }
    return CarbonateFault::None;
}

CarbonateFault fault_of_numbers(const CarbonateInput& in, const SeawaterConstants& k) {
    const auto& t = in.totals;
    for (const double total :
         {t.boron, t.sulfate, t.fluoride, t.phosphate, t.silicate, t.calcium, t.ammonia}) {
        if (!std::isfinite(total)) {
            return CarbonateFault::NotFinite;
        }
        if (total < 0) {
            return CarbonateFault::NegativeTotal;
        }
    }
    for (const double constant :
         {k.k0, k.fugacity_factor, k.k1, k.k2, k.kb, k.kw, k.ks, k.kf, k.kp1, k.kp2, k.kp3, k.ksi,
          k.knh4, k.ksp_calcite, k.ksp_aragonite, k.hydrogen_activity}) {
        if (!std::isfinite(constant)) {
            return CarbonateFault::NotFinite;
        }
        if (constant <= 0) {
            return CarbonateFault::BadConstant;
        }
    }
    for (const auto& [kind, value] :
         {std::pair{in.first_kind, in.first}, std::pair{in.second_kind, in.second}}) {
        if (!std::isfinite(value)) {
            return CarbonateFault::NotFinite;
        }
        if (value < row_of(kind).low || value > row_of(kind).high) {
            return CarbonateFault::OutsideRange;
        }
    }
    return CarbonateFault::None;
}

/// Faults of pairs of carbon alone, whose [H] is a closed formula.
CarbonateFault fault_of_carbon_pair(const CarbonateInput& in, const SeawaterConstants& k) {
    if (in.first <= 0 || in.second <= 0) {
        return CarbonateFault::NoCarbon;
    }
    if (in.first_kind == Kind::InorganicCarbon) {
        if (in.second_kind == Kind::Carbonate) {
            return in.second >= in.first ? CarbonateFault::TooMuchCarbonate : CarbonateFault::None;
        }
        return balance::dissolved_co2(in.second_kind, in.second, k) >= in.first
                   ? CarbonateFault::TooMuchCarbonDioxide
                   : CarbonateFault::None;
    }
    return CarbonateFault::None;
}

/// ln [H] at which the alkalinities sum to the known one: Newton's method inside a bracket. The sum
/// falls strictly with [H], so the bracket holds exactly one solution.
CarbonateFault balance_alkalinity(const CarbonateInput& in, const SeawaterConstants& k,
                                  double& hydrogen) {
    const double to_free = balance::total_per_free(in.totals, k);
    double low = kLowestLnH;
    double high = kHighestLnH;
    double x = kUsualLnH;
    double last_step = high - low;
    for (int i = 0; i < kMostSteps; ++i) {
        const double h = std::exp(x);
        const auto carbon = balance::alkalinity_of_carbon(in.second_kind, in.second, h, k);
        const auto rest = balance::alkalinity_without_carbon(h, to_free, in.totals, k);
        const double excess = carbon.value + rest.value - in.first;
        (excess > 0 ? low : high) = x;
        double step = -excess / (carbon.slope + rest.slope);
        const bool newton = x + step > low && x + step < high && std::abs(step) <= 0.5 * last_step;
        if (std::abs(step) <= kCloseEnough && (newton || excess == 0)) {
            hydrogen = std::exp(x + step);
            return CarbonateFault::None;
        }
        if (!newton) {
            step = 0.5 * (low + high) - x;
            if (std::abs(step) <= std::numeric_limits<double>::epsilon() * std::abs(x)) {
                hydrogen = h;
                return CarbonateFault::None;
            }
        }
        last_step = std::abs(step);
        x += step;
    }
    return CarbonateFault::NotConverged;
}

/// [H] and carbon of an ordered input.
CarbonateFault find(const CarbonateInput& in, const SeawaterConstants& k,
                    balance::Solved<double>& out) {
    CarbonateFault fault = fault_of_pair(in.first_kind, in.second_kind);
    if (fault == CarbonateFault::None) {
        fault = fault_of_numbers(in, k);
    }
    if (fault != CarbonateFault::None) {
        return fault;
    }
    if (balance::by_alkalinity_balance(in.first_kind, in.second_kind)) {
        fault = balance_alkalinity(in, k, out.h);
        if (fault == CarbonateFault::None) {
            out.carbon = balance::carbon_at(in.second_kind, in.second, out.h, k);
        }
        return fault;
    }
    const bool with_ph = in.first_kind == Kind::PhTotal || in.second_kind == Kind::PhTotal;
    if (!with_ph) {
        fault = fault_of_carbon_pair(in, k);
        if (fault != CarbonateFault::None) {
            return fault;
        }
    }
    out = balance::follow(in, k, 0.0);
    if (in.first_kind == Kind::Alkalinity && out.carbon < 0) {
        const double to_free = balance::total_per_free(in.totals, k);
        if (in.first - balance::alkalinity_without_carbon(out.h, to_free, in.totals, k).value <
            -kNoAlkalinity) {
            return CarbonateFault::TooLittleAlkali;
        }
        out.carbon = 0;
    }
    return CarbonateFault::None;
}

std::string shown(Kind kind, double value) {
    const QuantityRow& row = row_of(kind);
    return fmt::format("{} {}{}{}", row.name, base::format_exact(value),
                       row.unit.empty() ? "" : " ", row.unit);
}

std::string outside(const CarbonateInput& in) {
    const bool first =
        !(in.first >= row_of(in.first_kind).low && in.first <= row_of(in.first_kind).high);
    const Kind kind = first ? in.first_kind : in.second_kind;
    const QuantityRow& row = row_of(kind);
    return fmt::format("{} is outside what waters have, {} to {}{}{}",
                       shown(kind, first ? in.first : in.second), base::format_exact(row.low),
                       base::format_exact(row.high), row.unit.empty() ? "" : " ", row.unit);
}

ProblemCode code_of(CarbonateFault fault) {
    switch (fault) {
        case CarbonateFault::NotFinite:
        case CarbonateFault::BadConstant:
        case CarbonateFault::NegativeTotal:
        case CarbonateFault::OutsideRange:
            return ProblemCode::OutOfRange;
        case CarbonateFault::None:
        case CarbonateFault::NotConverged:
            return ProblemCode::Internal;
        default:
            return ProblemCode::BadInput;
    }
}

CarbonateInputOf<CarbonateDual> as_variables(const CarbonateInput& in) {
    const auto variable = [](double value, CarbonateVariable which) {
        return CarbonateDual::variable(value, static_cast<int>(which));
    };
    using V = CarbonateVariable;
    const auto& t = in.totals;
    return {in.first_kind,
            in.second_kind,
            variable(in.first, V::First),
            variable(in.second, V::Second),
            {variable(t.boron, V::Boron), variable(t.sulfate, V::Sulfate),
             variable(t.fluoride, V::Fluoride), variable(t.phosphate, V::Phosphate),
             variable(t.silicate, V::Silicate), variable(t.calcium, V::Calcium),
             variable(t.ammonia, V::Ammonia)}};
}

}  // namespace

std::string describe(CarbonateFault fault, const CarbonateInput& input) {
    const std::string first = shown(input.first_kind, input.first);
    const std::string second = shown(input.second_kind, input.second);
    switch (fault) {
        case CarbonateFault::None:
            return "the carbon dioxide system is solved";
        case CarbonateFault::NotFinite:
            return "the carbon dioxide system needs finite numbers; an amount, a total or a "
                   "constant is not one";
        case CarbonateFault::BadConstant:
            return "an equilibrium constant is not above 0";
        case CarbonateFault::NegativeTotal:
            return "a total concentration is below 0";
        case CarbonateFault::OutsideRange:
            return outside(input);
        case CarbonateFault::SamePair:
            return fmt::format("{} and {} say the same: one other quantity is needed", first,
                               second);
        case CarbonateFault::TwoSolutions:
            return fmt::format(
                "two different waters have {} and {}: give pH instead of one of them", first,
                second);
        case CarbonateFault::TooLittleAlkali:
            return fmt::format(
                "{} and {} cannot belong together: at this pH boron, hydroxide and "
                "the other bases alone hold more alkalinity",
                first, second);
        case CarbonateFault::TooMuchCarbonDioxide:
            return fmt::format(
                "{} and {} cannot belong together: the dissolved CO2 alone is not "
                "less than the inorganic carbon",
                first, second);
        case CarbonateFault::TooMuchCarbonate:
            return fmt::format(
                "{} and {} cannot belong together: carbonate must be less than the "
                "inorganic carbon",
                first, second);
        case CarbonateFault::NoCarbon:
            return fmt::format("{} and {} have no pH: both must be above 0", first, second);
        case CarbonateFault::NotConverged:
            break;
    }
    return fmt::format("no pH was found for {} and {}", first, second);
}

CarbonateFault solve_carbonate(const CarbonateInput& input, const SeawaterConstants& constants,
                               CarbonateState& state) {
    const CarbonateInput in = ordered(input);
    balance::Solved<double> solved{};
    const CarbonateFault fault = find(in, constants, solved);
    if (fault == CarbonateFault::None) {
        state = balance::state_at(solved.h, solved.carbon, in.totals, constants);
    }
    return fault;
}

Result<CarbonateState> solve_carbonate(const CarbonateInput& input,
                                       const SeawaterConstants& constants) {
    CarbonateState state;
    const CarbonateFault fault = solve_carbonate(input, constants, state);
    if (fault != CarbonateFault::None) {
        return fail(code_of(fault), describe(fault, input));
    }
    return state;
}

Result<CarbonateGradient> carbonate_gradient(const CarbonateInput& input,
                                             unit::PracticalSalinity salinity,
                                             unit::Celsius temperature, const SeawaterFits& fits) {
    BW_TRY(constants, seawater_constants(salinity, temperature, fits));
    balance::Solved<double> solved{};
    const CarbonateFault fault = find(ordered(input), constants, solved);
    if (fault != CarbonateFault::None) {
        return fail(code_of(fault), describe(fault, input));
    }
    const auto variable = [](double value, CarbonateVariable which) {
        return CarbonateDual::variable(value, static_cast<int>(which));
    };
    const auto k = fits::constants<CarbonateDual>(
        variable(salinity.value(), CarbonateVariable::Salinity),
        variable(temperature.value(), CarbonateVariable::Temperature), fits);
    const auto in = ordered(as_variables(input));
    const auto followed = balance::follow(in, k, solved.h);
    return balance::state_at(followed.h, followed.carbon, in.totals, k);
}

}  // namespace bw::brine
