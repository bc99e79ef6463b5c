// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "works/check_reading.hpp"
#include "works/signature.hpp"
#include "works/test_result.hpp"

namespace bw::works {

enum class RunState : std::uint8_t { Listed, Read, Judged, Signed };
template <>
inline constexpr std::size_t kWords<RunState> = 4;
[[nodiscard]] std::string_view name(RunState state);

/// One sequence of tests, typed or imported, with its results.
struct Run {
    std::string number;
    RunState state = RunState::Listed;
    std::string entered_by, entered_at;
    std::string file;  ///< SHA-256 of the table it was imported from; empty: typed
    std::string file_name;
    std::string column_map;  ///< SHA-256 of the column map with which it was read
    std::vector<TestResult> results;
    std::vector<CheckReading> checks;  ///< of check samples, as they were judged
    std::optional<Signature> approved;

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("number", x.number);
        v("state", x.state);
        v("entered_by", x.entered_by);
        v("entered_at", x.entered_at);
        v("file", x.file);
        v("file_name", x.file_name);
        v("column_map", x.column_map);
        v("results", x.results);
        v("checks", x.checks);
        v("approved", x.approved);
    }
};

/// Lists a run with its results and reads it: numbers its lines from 1.
///
/// Errors   BadInput without a result.
[[nodiscard]] Result<Run> read_run(Run run);

/// Checks results: all that are entered, or the lines named. Once none is left that waits, the run
/// is judged.
///
/// Errors   those of works::checked; NotFound for a line that is not there; Refused when nothing
///          waits.
[[nodiscard]] Result<Run> check_results(Run run, std::span<const std::int64_t> lines,
                                        std::string_view by);

/// Sets results aside, all or none. A signature is gone with it: the run is signed anew.
///
/// Errors   BadInput without a line; those of works::set_aside and line_of.
[[nodiscard]] Result<Run> set_aside_in(Run run, std::span<const std::int64_t> lines,
                                       std::string_view by, std::string_view reason);

/// Corrects one result; the run is read again, and unsigned.
[[nodiscard]] Result<Run> correct_in(Run run, const TestResult& next, std::int64_t line,
                                     std::string_view by, std::string_view reason);

/// Puts another reading in the place of one of a check sample, judged. What it vouches for, the
/// run's results of its analyte and method, is checked again, by somebody who did not correct it.
///
/// Errors   NotFound for a check sample that was not read; BadInput where nothing changes, or
///          without a reason.
[[nodiscard]] Result<Run> correct_check_in(Run run, CheckReading next, std::string_view by,
                                           std::string_view reason);

/// Whether a run holds, of two readings or more, the very ones of an earlier run: what was typed or
/// imported twice. A single reading is often alike by chance.
[[nodiscard]] bool repeats(const Run& run, const Run& earlier);

/// Counts what is checked; the run's signature follows with works::signed_run.
///
/// Errors   Refused unless the run is judged, and for a check sample that read too far off while a
///          result of its analyte and method is not set aside.
[[nodiscard]] Result<Run> count_results(Run run);
[[nodiscard]] Run signed_run(Run run, const Signature& signature);

/// Reading of a check sample; without a method, the only one of that name and analyte.
///
/// Errors   NotFound; BadInput where several methods read it.
[[nodiscard]] Result<const CheckReading*> check_of(const Run& run, std::string_view name,
                                                   std::string_view analyte,
                                                   std::string_view method);

[[nodiscard]] Result<const TestResult*> line_of(const Run& run, std::int64_t line);

}  // namespace bw::works
