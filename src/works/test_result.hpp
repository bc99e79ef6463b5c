// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "works/wanted_strength.hpp"
#include "works/word.hpp"

namespace bw::works {

enum class ResultState : std::uint8_t { Entered, Checked, Counted, SetAside };
template <>
inline constexpr std::size_t kWords<ResultState> = 4;
[[nodiscard]] std::string_view name(ResultState state);

/// One result of a test, with the digits as typed or imported.
struct TestResult {
    std::int64_t line = 0;  ///< of its run, from 1
    std::string sample;
    std::string portion;  ///< id of the test portion
    std::string batch;
    std::string analyte;  ///< symbol of a constituent
    std::string method;
    std::int64_t method_number = 1;
    double u_percent = 0;  ///< of the method's version, as it was when the result was entered
    double repeatability_percent = 0;
    double between_runs_percent = 0;
    std::string digits;    ///< "412.3", "< 0.5"
    std::string unit;      ///< of the digits
    std::string dilution;  ///< factor as typed; empty: 1
    std::string blank;     ///< to be taken off the digits, same unit; empty: nothing
    std::string read_at;   ///< instant or day of the reading
    bool below_limit = false;
    double mol_per_kg = 0;  ///< of the made-up water at its wanted strength; an upper limit when
                            ///< below_limit
    ResultState state = ResultState::Entered;
    std::string reason;  ///< of setting aside, or of the last correction
    std::string entered_by, checked_by, set_aside_by;
    std::vector<std::string> touched_by;  ///< who entered what was corrected since

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("line", x.line);
        v("sample", x.sample);
        v("portion", x.portion);
        v("batch", x.batch);
        v("analyte", x.analyte);
        v("method", x.method);
        v("method_number", x.method_number);
        v("u_percent", x.u_percent);
        v("repeatability_percent", x.repeatability_percent);
        v("between_runs_percent", x.between_runs_percent);
        v("digits", x.digits);
        v("unit", x.unit);
        v("dilution", x.dilution);
        v("blank", x.blank);
        v("read_at", x.read_at);
        v("below_limit", x.below_limit);
        v("mol_per_kg", x.mol_per_kg);
        v("state", x.state);
        v("reason", x.reason);
        v("entered_by", x.entered_by);
        v("checked_by", x.checked_by);
        v("set_aside_by", x.set_aside_by);
        v("touched_by", x.touched_by);
    }
};

/// Works out mol_per_kg and below_limit from what was typed.
///
/// Definition   number less blank, times dilution, by the unit and the density of the portion's
/// solution to mol
///              (eq) per kg, divided by the portion's strength.
///              Below the limit no blank is taken off.
/// Inputs       digits with a decimal point, "<" before them for below the limit; a factor above 0.
/// Errors       UnknownName, BadNumber, BadUnit; OutOfRange for a number not above 0, or not above
///              its blank.
[[nodiscard]] Result<TestResult> worked_out(TestResult result, const TestPortion& portion,
                                            const WantedStrength& wanted);

/// A second person has compared the entry with its source.
///
/// Errors   Refused unless it is entered, or by who entered it, now or before a correction.
[[nodiscard]] Result<TestResult> checked(TestResult result, std::string_view by);

/// Takes a checked result into account. Errors Refused unless it is checked.
[[nodiscard]] Result<TestResult> counted(TestResult result);

/// Entered again, because of what somebody changed beside it: to be checked by another person.
[[nodiscard]] TestResult touched(TestResult result, std::string_view by);

/// Keeps a result without using it.
///
/// Errors   Refused when it is set aside already; BadInput without a reason.
[[nodiscard]] Result<TestResult> set_aside(TestResult result, std::string_view by,
                                           std::string_view reason);

/// A correction: what was typed is replaced, the result is entered anew and has to be checked
/// again.
///
/// Errors   BadInput without a reason, or where nothing changes; Refused for one that is set aside.
[[nodiscard]] Result<TestResult> corrected(const TestResult& before, TestResult next,
                                           std::string_view by, std::string_view reason);

}  // namespace bw::works
