// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "works/check_reading.hpp"

#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "matter/constituent.hpp"
#include "unit/factors.hpp"
#include "unit/unit_table.hpp"

namespace bw::works {

Result<void> check(const CheckSample& sample) {
    if (base::trim(sample.name).empty()) {
        return fail(ProblemCode::BadInput, "a check sample needs the name that tables give it",
                    {"", 0, "name"});
    }
    BW_CHECK(matter::require_constituent(sample.analyte));
    BW_TRY(value, unit::parse_quantity(sample.value, "mg/kg"));
    if (!(value.number > 0)) {
        return fail(ProblemCode::BadInput,
                    fmt::format("check sample {}: what it holds of {} is above 0", sample.name,
                                sample.analyte),
                    {"", 0, "value"});
    }
    if (!(sample.within_percent > 0) || !(sample.within_percent < unit::kPercent)) {
        return fail(ProblemCode::BadInput,
                    fmt::format("check sample {}: how far a reading of {} may be off lies above 0 "
                                "and below 100 %",
                                sample.name, sample.analyte),
                    {"", 0, "within"});
    }
    return {};
}

Result<double> read_of(const CheckReading& reading) {
    if (base::trim(reading.digits).starts_with('<')) {
        return fail(ProblemCode::BadInput,
                    fmt::format("check sample {}: {} reads {}, below its limit; a check sample is "
                                "to be read",
                                reading.name, reading.analyte, base::quoted(reading.digits)),
                    {"", 0, "digits"});
    }
    BW_TRY(out, base::parse_number(reading.digits));
    if (!reading.blank.empty()) {
        BW_TRY(blank, base::parse_number(reading.blank));
        out -= blank;
    }
    if (!reading.dilution.empty()) {
        BW_TRY(dilution, base::parse_number(reading.dilution));
        out *= dilution;
    }
    return out;
}

Result<CheckReading> judged(CheckReading reading, const CheckSample& sample) {
    BW_TRY(amount, read_of(reading));
    BW_TRY(read, unit::parse_quantity(fmt::format("{} {}", reading.digits, reading.unit)));
    read.number = amount;
    BW_TRY(value, unit::parse_quantity(sample.value));
    if (read.unit.dimension != value.unit.dimension || read.as != value.as) {
        return fail(ProblemCode::BadUnit,
                    fmt::format("check sample {}: {} is read in {} and stated in {}: give the "
                                "method's check sample in the kind of unit that is read",
                                reading.name, reading.analyte, base::quoted(reading.unit),
                                base::quoted(sample.value)),
                    {"", 0, "unit"});
    }
    reading.value = sample.value;
    reading.within_percent = sample.within_percent;
    reading.off_percent = (read.value() / value.value() - 1) * unit::kPercent;
    reading.good = std::abs(reading.off_percent) <= reading.within_percent;
    return reading;
}

std::string sentence_of(const CheckReading& r) {
    return fmt::format("check sample {}: {} by {} reads {} {}{}, {:.2f} % {} {}, {} % allowed{}",
                       r.name, r.analyte, r.method, r.digits, r.unit,
                       r.dilution.empty() ? "" : fmt::format(" (diluted {} times)", r.dilution),
                       std::abs(r.off_percent), r.off_percent < 0 ? "below" : "above", r.value,
                       base::format_short(r.within_percent, 3),
                       r.corrected_by.empty()
                           ? ""
                           : fmt::format("; corrected from {} by {}: {}", r.corrected_from,
                                         r.corrected_by, r.reason));
}

}  // namespace bw::works
