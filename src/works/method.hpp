// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "works/check_reading.hpp"
#include "works/scale.hpp"

namespace bw::works {

/// Numbered, versioned way of testing.
struct Method {
    std::string id;           ///< "M-07"
    std::int64_t number = 1;  ///< of its version
    std::string title;
    std::vector<std::string> analytes;  ///< symbols of constituents
    std::string measures;               ///< "the diluted solution, matched to its salt"
    std::string unit;                   ///< in which its results are given: "mg/L", "mmol/kg"
    double u_percent = 0;               ///< standard uncertainty of one result, relative
    double repeatability_percent = 0;   ///< standard deviation of repeatability, relative
    double between_runs_percent = 0;    ///< standard deviation between runs besides; 0: not stated
    std::string source;                 ///< where it is written
    std::string checked_until;          ///< last day of its check; empty: not stated
    ServiceState state = ServiceState::InService;
    bool outside_laboratory = false;
    std::vector<CheckSample> checks;  ///< read in each run, or it does not count

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("id", x.id);
        v("number", x.number);
        v("title", x.title);
        v("analytes", x.analytes);
        v("measures", x.measures);
        v("unit", x.unit);
        v("u_percent", x.u_percent);
        v("repeatability_percent", x.repeatability_percent);
        v("between_runs_percent", x.between_runs_percent);
        v("source", x.source);
        v("checked_until", x.checked_until);
        v("state", x.state);
        v("outside_laboratory", x.outside_laboratory);
        v("checks", x.checks);
    }
};

/// Errors   BadInput: an id that is not 2 to 32 of A-Z, a-z, 0-9, '-'; no title, analyte or source;
///          an analyte twice; an uncertainty that is not above 0 and below 100 %; a repeatability
///          above the uncertainty, of which it is a part, alone or with what differs between runs;
///          a check sample of another analyte, or
///          twice for one. UnknownName for an analyte, BadUnit.
[[nodiscard]] Result<void> check(const Method& method);

/// Whether a method may test an analyte on a day (ISO 8601 date).
///
/// Errors   Refused: out of service, past its check, another analyte.
[[nodiscard]] Result<void> may_test(const Method& method, std::string_view analyte,
                                    std::string_view day);

}  // namespace bw::works
