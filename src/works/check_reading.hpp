// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include "base/result.hpp"

namespace bw::works {

/// Known material that a method asks for in each of its runs: what it holds of one analyte.
struct CheckSample {
    std::string name;  ///< as tables have it
    std::string analyte;
    std::string value;          ///< as typed: "412 mg/kg"
    double within_percent = 0;  ///< of the value, either way

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("name", x.name);
        v("analyte", x.analyte);
        v("value", x.value);
        v("within_percent", x.within_percent);
    }
};

/// Reading of a check sample in a run, judged.
struct CheckReading {
    std::string name, analyte, method;
    std::int64_t method_number = 1;
    std::string digits, unit;
    std::string dilution, blank;  ///< as of a result
    std::string read_at;
    std::string value;  ///< what it was to be
    double within_percent = 0;
    double off_percent = 0;
    bool good = false;
    std::string corrected_by;    ///< empty: it stands as it was entered
    std::string corrected_from;  ///< digits and unit before
    std::string reason;          ///< of the correction

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("name", x.name);
        v("analyte", x.analyte);
        v("method", x.method);
        v("method_number", x.method_number);
        v("digits", x.digits);
        v("unit", x.unit);
        v("dilution", x.dilution);
        v("blank", x.blank);
        v("read_at", x.read_at);
        v("value", x.value);
        v("within_percent", x.within_percent);
        v("off_percent", x.off_percent);
        v("good", x.good);
        v("corrected_by", x.corrected_by);
        v("corrected_from", x.corrected_from);
        v("reason", x.reason);
    }
};

/// Errors   BadInput: no name, a value not above 0, a share not above 0 and below 100 %.
///          UnknownName, BadNumber, BadUnit.
[[nodiscard]] Result<void> check(const CheckSample& sample);

/// What was read: (number less blank) times dilution, in the reading's unit.
///
/// Errors   BadNumber; BadInput for a reading below its limit.
[[nodiscard]] Result<double> read_of(const CheckReading& reading);

/// Judges a reading: (number less blank) times dilution beside the value that the sample has.
///
/// Inputs   a reading and a sample that check() passes, both in one kind of unit (per mass, per
///          volume; mass, amount or equivalents).
/// Errors   BadNumber, BadUnit; BadInput for a reading below its limit, or two kinds of unit.
[[nodiscard]] Result<CheckReading> judged(CheckReading reading, const CheckSample& sample);

/// "check sample QC-1: Ca by M-01 430 mg/kg, 4.4 % above 412 mg/kg, 1.5 % allowed".
[[nodiscard]] std::string sentence_of(const CheckReading& reading);

}  // namespace bw::works
