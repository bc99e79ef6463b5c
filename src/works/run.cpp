// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "works/run.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "base/text.hpp"
#include "works/ways.hpp"

namespace bw::works {
namespace {

bool waits(const TestResult& r) { return r.state == ResultState::Entered; }

/// A run stands where its results stand.
void settle(Run& run) {
    run.approved.reset();
    run.state = std::any_of(run.results.begin(), run.results.end(), waits) ? RunState::Read
                                                                           : RunState::Judged;
}

Result<void> check_readings(const Run& run) {
    for (const CheckReading& reading : run.checks) {
        const bool used =
            std::any_of(run.results.begin(), run.results.end(), [&](const TestResult& r) {
                return r.analyte == reading.analyte && r.method == reading.method &&
                       r.state != ResultState::SetAside;
            });
        if (!reading.good && used) {
            return fail(
                ProblemCode::Refused,
                fmt::format("run {} is not counted: {}; if it was misread, correct it; else "
                            "set its results of {} aside, find the cause and test again",
                            run.number, sentence_of(reading), reading.analyte));
        }
    }
    return {};
}

Result<TestResult*> find_line(Run& run, std::int64_t line) {
    BW_TRY(found, line_of(run, line));
    return const_cast<TestResult*>(found);  // NOLINT(cppcoreguidelines-pro-type-const-cast): ours
}

}  // namespace

std::string_view name(RunState state) {
    constexpr std::array<std::string_view, kWords<RunState>> kNames = {"listed", "read", "judged",
                                                                       "signed"};
    return kNames.at(static_cast<std::size_t>(state));
}

Result<const TestResult*> line_of(const Run& run, std::int64_t line) {
    const auto found = std::find_if(run.results.begin(), run.results.end(),
                                    [&](const TestResult& r) { return r.line == line; });
    if (found == run.results.end()) {
        return fail(
            ProblemCode::NotFound,
            fmt::format("run {} has no line {}: it has {}", run.number, line, run.results.size()),
            {"", 0, "line"});
    }
    return &*found;
}

Result<const CheckReading*> check_of(const Run& run, std::string_view name,
                                     std::string_view analyte, std::string_view method) {
    const CheckReading* out = nullptr;
    for (const CheckReading& c : run.checks) {
        if (c.name != name || c.analyte != analyte || (!method.empty() && c.method != method)) {
            continue;
        }
        if (out != nullptr) {
            return fail(ProblemCode::BadInput,
                        fmt::format("{} and {} both read check sample {} for {}: say by which "
                                    "method",
                                    out->method, c.method, name, analyte),
                        {"", 0, "method"});
        }
        out = &c;
    }
    if (out == nullptr) {
        return fail(ProblemCode::NotFound,
                    fmt::format("run {} has no reading of check sample {} for {}{}", run.number,
                                name, analyte, method.empty() ? "" : fmt::format(" by {}", method)),
                    {"", 0, "check"});
    }
    return out;
}

Result<Run> read_run(Run run) {
    constexpr std::array kWays = {Way{RunState::Listed, RunState::Read}};
    BW_CHECK(check_way<RunState>("run " + run.number, run.state, RunState::Read, kWays));
    if (run.results.empty()) {
        return fail(ProblemCode::BadInput, "a run needs a result", {"", 0, "result"});
    }
    for (std::size_t i = 0; i < run.results.size(); ++i) {
        run.results[i].line = static_cast<std::int64_t>(i) + 1;
    }
    run.state = RunState::Read;
    return run;
}

Result<Run> check_results(Run run, std::span<const std::int64_t> lines, std::string_view by) {
    std::vector<std::int64_t> wanted(lines.begin(), lines.end());
    if (wanted.empty()) {
        for (const TestResult& r : run.results) {
            if (waits(r)) {
                wanted.push_back(r.line);
            }
        }
    }
    if (wanted.empty()) {
        return fail(ProblemCode::Refused,
                    fmt::format("run {} is {}: no result of it waits for a check", run.number,
                                name(run.state)));
    }
    for (const std::int64_t line : wanted) {
        BW_TRY(found, find_line(run, line));
        BW_TRY(next, checked(*found, by));
        *found = next;
    }
    settle(run);
    return run;
}

Result<Run> set_aside_in(Run run, std::span<const std::int64_t> lines, std::string_view by,
                         std::string_view reason) {
    if (lines.empty()) {
        return fail(ProblemCode::BadInput, "say which lines are set aside", {"", 0, "line"});
    }
    for (const std::int64_t line : lines) {
        BW_TRY(found, find_line(run, line));
        BW_TRY(next, set_aside(*found, by, reason));
        *found = next;
    }
    settle(run);
    return run;
}

Result<Run> correct_in(Run run, const TestResult& next, std::int64_t line, std::string_view by,
                       std::string_view reason) {
    BW_TRY(found, find_line(run, line));
    BW_TRY(mended, corrected(*found, next, by, reason));
    *found = mended;
    settle(run);
    return run;
}

Result<Run> correct_check_in(Run run, CheckReading next, std::string_view by,
                             std::string_view reason) {
    if (base::trim(reason).empty()) {
        return fail(ProblemCode::BadInput,
                    fmt::format("run {}: a correction needs its reason", run.number),
                    {"", 0, "why"});
    }
    BW_TRY(known, check_of(run, next.name, next.analyte, next.method));
    CheckReading* before = const_cast<CheckReading*>(known);  // NOLINT: of our own run
    if (before->digits == next.digits && before->unit == next.unit &&
        before->dilution == next.dilution) {
        return fail(ProblemCode::BadInput,
                    fmt::format("run {}: the correction changes nothing", run.number),
                    {"", 0, "digits"});
    }
    next.corrected_by = by;
    next.corrected_from = fmt::format("{} {}", before->digits, before->unit);
    next.reason = reason;
    *before = next;
    for (TestResult& r : run.results) {
        if (r.analyte == next.analyte && r.method == next.method &&
            r.state != ResultState::SetAside) {
            r = touched(r, by);
        }
    }
    settle(run);
    return run;
}

bool repeats(const Run& run, const Run& earlier) {
    const auto is_there = [&](const TestResult& r) {
        return std::any_of(
            earlier.results.begin(), earlier.results.end(), [&](const TestResult& e) {
                return e.state != ResultState::SetAside && e.portion == r.portion &&
                       e.analyte == r.analyte && e.method == r.method && e.digits == r.digits &&
                       e.unit == r.unit && e.dilution == r.dilution;
            });
    };
    return run.results.size() > 1 && std::all_of(run.results.begin(), run.results.end(), is_there);
}

Result<Run> count_results(Run run) {
    constexpr std::array kWays = {Way{RunState::Read, RunState::Judged},
                                  Way{RunState::Judged, RunState::Signed}};
    BW_CHECK(check_way<RunState>("run " + run.number, run.state, RunState::Signed, kWays));
    BW_CHECK(check_readings(run));
    for (TestResult& r : run.results) {
        if (r.state == ResultState::Checked) {
            BW_TRY(next, counted(r));
            r = next;
        }
    }
    return run;
}

Run signed_run(Run run, const Signature& signature) {
    run.state = RunState::Signed;
    run.approved = signature;
    return run;
}

}  // namespace bw::works
