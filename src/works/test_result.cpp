// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "works/test_result.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "matter/concentration.hpp"
#include "unit/factors.hpp"
#include "works/ways.hpp"

namespace bw::works {
namespace {

using ResultWay = Way<ResultState>;

std::string what(const TestResult& r) {
    return fmt::format("line {}, {} of {}", r.line, r.analyte, r.portion);
}

Result<void> check_move(const TestResult& r, ResultState to) {
    using enum ResultState;
    constexpr std::array kWays = {ResultWay{Entered, Checked}, ResultWay{Checked, Counted},
                                  ResultWay{Entered, SetAside}, ResultWay{Checked, SetAside},
                                  ResultWay{Counted, SetAside}};
    return check_way<ResultState>(what(r), r.state, to, kWays);
}

Result<double> dilution_of(const TestResult& r) {
    if (r.dilution.empty()) {
        return 1.0;
    }
    BW_TRY(factor, base::parse_number(r.dilution));
    if (!(factor > 0)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("{}: a dilution is above 0, 50 for one part in fifty; {} was typed",
                                what(r), base::quoted(r.dilution)),
                    {"", 0, "dilution"});
    }
    return factor;
}

/// No water holds more of a constituent than its own mass.
Result<void> check_fits_in(double mol_per_kg, matter::Constituent constituent,
                           const TestResult& r) {
    const double g_per_kg = mol_per_kg * matter::counted_molar_mass_g(constituent);
    if (g_per_kg > unit::kGramPerKg) {
        return fail(
            ProblemCode::OutOfRange,
            fmt::format("{}: {} {}, diluted {} times, would be {:.3g} g in a kg of "
                        "solution: check digits, unit and dilution",
                        what(r), r.digits, r.unit, r.dilution.empty() ? "1" : r.dilution, g_per_kg),
            {"", 0, "digits"});
    }
    return {};
}

}  // namespace

std::string_view name(ResultState state) {
    constexpr std::array<std::string_view, kWords<ResultState>> kNames = {"entered", "checked",
                                                                          "counted", "set aside"};
    return kNames.at(static_cast<std::size_t>(state));
}

Result<TestResult> worked_out(TestResult r, const TestPortion& portion,
                              const WantedStrength& wanted) {
    BW_TRY(constituent, matter::require_constituent(r.analyte));
    std::string_view number = base::trim(r.digits);
    r.below_limit = number.starts_with('<');
    if (r.below_limit) {
        number = base::trim(number.substr(1));
    }
    BW_TRY(quantity, unit::parse_quantity(fmt::format("{} {}", number, r.unit)));
    if (!(quantity.number >= 0) || (r.below_limit && !(quantity.number > 0))) {
        return fail(
            ProblemCode::OutOfRange,
            fmt::format("{}: {} is no amount and no limit above 0: where nothing was found, "
                        "write the limit that the method can see, \"< 0.5\"",
                        what(r), base::quoted(r.digits)),
            {"", 0, "digits"});
    }
    if (quantity.number == 0) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("{}: no method sees 0: write the limit that the method can see, "
                                "\"< 0.5\"",
                                what(r)),
                    {"", 0, "digits"});
    }
    BW_TRY(dilution, dilution_of(r));
    if (!r.blank.empty() && !r.below_limit) {
        BW_TRY(blank, base::parse_number(r.blank));
        quantity.number -= blank;
        if (!(quantity.number > 0)) {
            return fail(ProblemCode::OutOfRange,
                        fmt::format("{}: the blank, {}, is not below the reading, {}: nothing was "
                                    "found, so write the limit that the method can see, \"< 0.5\"",
                                    what(r), r.blank, r.digits),
                        {"", 0, "digits"});
        }
    }
    BW_TRY(density, density_of(portion, wanted));
    const matter::WaterBasis basis{unit::KgPerM3(density * unit::kLitrePerM3), {}};
    BW_TRY(found, matter::mol_per_kg(quantity, constituent, basis));
    BW_CHECK(check_fits_in(found * dilution, constituent, r));
    r.mol_per_kg = found * dilution / strength_of(portion, wanted).ratio;
    return r;
}

Result<TestResult> checked(TestResult r, std::string_view by) {
    BW_CHECK(check_move(r, ResultState::Checked));
    if (r.entered_by == by ||
        std::find(r.touched_by.begin(), r.touched_by.end(), by) != r.touched_by.end()) {
        return fail(ProblemCode::Refused,
                    fmt::format("{} entered {}: somebody else checks it", by, what(r)));
    }
    r.state = ResultState::Checked;
    r.checked_by = by;
    return r;
}

Result<TestResult> counted(TestResult r) {
    BW_CHECK(check_move(r, ResultState::Counted));
    r.state = ResultState::Counted;
    return r;
}

Result<TestResult> set_aside(TestResult r, std::string_view by, std::string_view reason) {
    BW_CHECK(check_move(r, ResultState::SetAside));
    if (base::trim(reason).empty()) {
        return fail(ProblemCode::BadInput,
                    fmt::format("{}: setting aside needs its cause; a test for outliers alone is "
                                "none",
                                what(r)),
                    {"", 0, "why"});
    }
    r.state = ResultState::SetAside;
    r.set_aside_by = by;
    r.reason = reason;
    return r;
}

TestResult touched(TestResult r, std::string_view by) {
    if (std::find(r.touched_by.begin(), r.touched_by.end(), by) == r.touched_by.end()) {
        r.touched_by.emplace_back(by);
    }
    r.state = ResultState::Entered;
    r.checked_by.clear();
    return r;
}

Result<TestResult> corrected(const TestResult& before, TestResult next, std::string_view by,
                             std::string_view reason) {
    if (base::trim(reason).empty()) {
        return fail(ProblemCode::BadInput,
                    fmt::format("{}: a correction needs its reason", what(before)), {"", 0, "why"});
    }
    if (before.state == ResultState::SetAside) {
        return fail(ProblemCode::Refused,
                    fmt::format("{} is set aside: what was read again is entered as a new result",
                                what(before)));
    }
    if (before.digits == next.digits && before.unit == next.unit &&
        before.dilution == next.dilution && before.portion == next.portion) {
        return fail(ProblemCode::BadInput,
                    fmt::format("{}: the correction changes nothing", what(before)),
                    {"", 0, "digits"});
    }
    next.line = before.line;
    next.state = ResultState::Entered;
    next.touched_by = before.touched_by;
    if (before.entered_by != by && std::find(next.touched_by.begin(), next.touched_by.end(),
                                             before.entered_by) == next.touched_by.end()) {
        next.touched_by.push_back(before.entered_by);
    }
    next.entered_by = by;
    next.checked_by.clear();
    next.set_aside_by.clear();
    next.reason = reason;
    return next;
}

}  // namespace bw::works
