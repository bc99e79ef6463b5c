// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/water_route.hpp"

#include <cmath>

#include <fmt/format.h>

#include "brine/water_notices.hpp"
#include "brine/water_totals.hpp"

namespace bw::brine {
namespace {

Result<void> check_amounts(const WaterInput& input) {
    for (std::size_t i = 0; i < matter::constituent_count(); ++i) {
        const matter::Constituent c(i);
        const double amount = input.mol_per_kg[c];
        if (!std::isfinite(amount) || (amount < 0 && !c.is_alkalinity())) {
            return fail(ProblemCode::OutOfRange,
                        fmt::format("{} is {} mol/kg, but an amount is a number of 0 or more",
                                    c.symbol(), amount));
        }
    }
    return {};
}

Result<void> check_statements(const WaterInput& input) {
    BW_CHECK(check_closing(input.closing[0].kind, input.closing[1].kind));
    for (const auto& statement : input.closing) {
        if (!is_allowed(statement.kind, statement.value)) {
            return fail(ProblemCode::OutOfRange,
                        fmt::format("{} is {}, but {} is allowed",
                                    is_ph(statement.kind)                 ? "pH"
                                    : statement.kind == Closure::Carbon   ? "carbon"
                                    : statement.kind == Closure::Fugacity ? "CO2"
                                                                          : "alkalinity",
                                    statement.value,
                                    is_ph(statement.kind) ? "0 to 14" : "a number of 0 or more"));
        }
    }
    return {};
}

/// Amounts with alkalinity and carbon as the closing statements give them, or as last solved.
matter::Amounts stated_amounts(const WaterInput& input, double carbon, double alkalinity) {
    static const matter::Constituent kAlkalinity = matter::constituent("alkalinity");
    static const matter::Constituent kCarbon = matter::constituent("carbon");
    matter::Amounts out = input.mol_per_kg;
    out[kAlkalinity] = alkalinity;
    out[kCarbon] = carbon;
    for (const auto& statement : input.closing) {
        if (statement.kind == Closure::Alkalinity) {
            out[kAlkalinity] = statement.value;
        } else if (statement.kind == Closure::Carbon) {
            out[kCarbon] = statement.value;
        }
    }
    return out;
}

double alkalinity_of(const Speciation<double>& s) {
    return alkalinity_sum(s.molality) * s.conditions.water_share;
}

}  // namespace

Result<void> check_closing(Closure first, Closure second) {
    if (first == second || (is_ph(first) && is_ph(second))) {
        return fail(ProblemCode::BadInput,
                    "two different statements of alkalinity, carbon, pH and CO2 are needed to "
                    "settle the acid-base balance");
    }
    return {};
}

bool is_allowed(Closure kind, double value) {
    constexpr double kHighestPh = 14;
    return std::isfinite(value) && (kind == Closure::Alkalinity || value >= 0) &&
           (!is_ph(kind) || value <= kHighestPh);
}

Closing<double> closing_of(const WaterInput& input) {
    return {{input.closing[0].kind, input.closing[1].kind},
            {input.closing[0].value, input.closing[1].value}};
}

Result<SolvedWater> solve_route(const EquilibriumModel<double>& model, const WaterInput& input,
                                Route route) {
    BW_CHECK(check_amounts(input));
    BW_CHECK(check_statements(input));
    const PerTotal<double> totals = totals_of(input.mol_per_kg);
    const Closing<double> closing = closing_of(input);
    matter::Amounts amounts = stated_amounts(input, 0, 0);
    Speciation<double> last;
    bool have = false;
    for (int pass = 0; pass < kMassPasses; ++pass) {
        const double dissolved = amounts.dissolved_mass_g() / 1000;
        if (!(dissolved < 1)) {
            return fail(ProblemCode::OutOfRange,
                        "the constituents weigh more than the water they are in");
        }
        const Conditions<double> c = conditions(model, totals, dissolved, route);
        if (!(c.formal_strength <= kHighestStrength)) {
            return fail(
                ProblemCode::OutOfRange,
                fmt::format("the ionic strength is {:.1f} mol/kg-water, but the model holds "
                            "up to {:.0f}",
                            c.formal_strength, kHighestStrength));
        }
        BW_TRY(found, speciate(model, c, closing, have ? &last : nullptr));
        last = found;
        have = true;
        amounts =
            stated_amounts(input, carbon_sum(last.molality) * c.water_share, alkalinity_of(last));
        if (std::abs(amounts.dissolved_mass_g() / 1000 - dissolved) < kSteadyMass) {
            break;
        }
    }
    return SolvedWater{last, amounts};
}

}  // namespace bw::brine
