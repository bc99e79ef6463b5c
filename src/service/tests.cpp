// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/tests.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <set>

#include <fmt/format.h>

#include "base/text.hpp"
#include "service/batch_file.hpp"
#include "service/papers.hpp"
#include "service/wanted_water.hpp"
#include "store/digest.hpp"
#include "store/instant.hpp"

namespace bw::service {
namespace {

constexpr std::int64_t kMostRows = 10000;

/// An instant of a day or an instant; a day begins at midnight.
Result<std::string> instant(const std::string& text, const std::string& otherwise) {
    constexpr std::string_view kDay = "0000-00-00";
    constexpr std::string_view kInstant = "0000-00-00T00:00:00.000Z";
    const auto shaped = [&](std::string_view shape) {
        return text.size() == shape.size() &&
               std::equal(text.begin(), text.end(), shape.begin(),
                          [](char c, char s) { return s == '0' ? base::is_digit(c) : c == s; });
    };
    if (text.empty()) {
        return otherwise;
    }
    constexpr std::string_view kToTheSecond = "0000-00-00T00:00:00";
    constexpr std::string_view kToTheMinute = "0000-00-00T00:00";
    if (shaped(kInstant)) {
        return text;
    }
    // Files say no zone; their clocks are taken for UTC.
    if (shaped(kToTheSecond)) {
        return text + ".000Z";
    }
    if (shaped(kToTheMinute)) {
        return text + ":00.000Z";
    }
    if (shaped(kDay)) {
        return text + "T00:00:00.000Z";
    }
    return fail(ProblemCode::BadInput,
                fmt::format("{} is neither a day, 2026-03-09, nor an instant", base::quoted(text)),
                {"", 0, "read_at"});
}

/// Clocks of instruments say no zone: a reading may lie as far ahead as the easternmost zone.
Result<void> check_read_by_now(const std::string& read_at, const std::string& now) {
    constexpr std::int64_t kFarthestZone = std::int64_t{14} * 3600 * 1000;  // ms
    BW_TRY(read, store::milliseconds_of(read_at));
    BW_TRY(at, store::milliseconds_of(now));
    if (read > at + kFarthestZone) {
        return fail(ProblemCode::BadInput,
                    fmt::format("the reading's time, {}, is still to come, for it is {} now: give "
                                "the time at which it was read",
                                read_at, now),
                    {"", 0, "read_at"});
    }
    return {};
}

/// A batch is not read before the day on which it was made, by any clock.
Result<void> check_read_since(const std::string& read_at, const works::Batch& batch) {
    constexpr std::int64_t kFarthestZone = std::int64_t{14} * 3600 * 1000;  // ms
    BW_TRY(read, store::milliseconds_of(read_at));
    const auto made = store::milliseconds_of(batch.made_on + "T00:00:00.000Z");
    if (made && read < *made - kFarthestZone) {
        return fail(ProblemCode::BadInput,
                    fmt::format("the reading's time, {}, is before batch {} was made, on {}: give "
                                "the time at which it was read",
                                read_at, batch.number, batch.made_on),
                    {"", 0, "read_at"});
    }
    return {};
}

/// Works entries out one after the other; looks each portion and method up once.
class ResultDesk {
public:
    explicit ResultDesk(const Desk& desk) : desk_(desk) {}

    Result<works::TestResult> result_of(const ResultEntry& entry, std::int64_t line) {
        auto result = worked_out(entry, line);
        if (!result) {
            Problem problem = result.error();
            const std::string numbered = fmt::format("line {}", line);
            const std::string place = entry.place.empty() ? numbered : entry.place;
            if (!problem.message.starts_with(numbered + ",")) {
                problem.message = fmt::format("{}: {}", place, problem.message);
            } else if (place != numbered) {  // it names the line of the run: the place says more
                problem.message.replace(0, numbered.size(), place);
            }
            return tl::make_unexpected(problem);
        }
        return result;
    }

    /// A result with other digits, or of another portion of its batch, worked out anew.
    Result<works::TestResult> corrected(works::TestResult r) {
        BW_TRY(portion, portion_of(r.portion));
        BW_CHECK(works::may_be_tested(portion.is));
        if (portion.is.batch != r.batch) {
            return fail(ProblemCode::Refused,
                        fmt::format("{} is of batch {}, and the result is of {}: set the result "
                                    "aside and enter it anew",
                                    r.portion, portion.is.batch, r.batch),
                        {"", 0, "portion"});
        }
        r.sample = portion.is.sample;
        return works::worked_out(std::move(r), portion.is, portion.wanted.strength);
    }

    Result<works::CheckReading> check_reading_of(const ResultEntry& entry) {
        BW_TRY(method, method_of(entry.method));
        BW_TRY(read_at, read_at_of(entry));
        for (const works::CheckSample& sample : method.checks) {
            if (sample.name == entry.check_sample && sample.analyte == entry.analyte) {
                works::CheckReading r;
                r.name = sample.name;
                take_down(entry, method, read_at, r);
                auto judged = works::judged(r, sample);
                if (!judged) {
                    return fail(judged.error().code, judged.error().message, {"", 0, "check"});
                }
                return judged;
            }
        }
        return fail(ProblemCode::BadInput,
                    fmt::format("method {} has no check sample {} for {}", method.id,
                                base::quoted(entry.check_sample), entry.analyte),
                    {"", 0, "check"});
    }

    /// Every check sample of a method that tests in the run is read in it.
    Result<void> check_all_read(const works::Run& run) {
        for (const works::TestResult& r : run.results) {
            BW_TRY(method, method_of(r.method));
            for (const works::CheckSample& sample : method.checks) {
                const bool read = std::any_of(
                    run.checks.begin(), run.checks.end(), [&](const works::CheckReading& c) {
                        return c.method == r.method && c.name == sample.name &&
                               c.analyte == sample.analyte;
                    });
                if (sample.analyte == r.analyte && !read) {
                    return fail(ProblemCode::BadInput,
                                fmt::format("method {} has check sample {} read for {} in each "
                                            "run, and this one has no reading of it",
                                            r.method, sample.name, r.analyte),
                                {"", 0, "check"});
                }
            }
        }
        return {};
    }

    [[nodiscard]] const std::vector<Kept<works::Batch>>& batches() const { return batches_; }

private:
    struct Portion {
        works::TestPortion is;
        WantedWater wanted;
    };

    Result<works::TestResult> worked_out(const ResultEntry& entry, std::int64_t line) {
        BW_TRY(portion, portion_of(entry.portion));
        BW_CHECK(works::may_be_tested(portion.is));
        BW_TRY(method, method_of(entry.method));
        BW_TRY(read_at, read_at_of(entry));
        for (const auto& batch : batches_) {
            if (batch.is.number == portion.is.batch) {
                BW_CHECK(check_read_since(read_at, batch.is));
            }
        }
        BW_CHECK(works::may_test(method, entry.analyte, desk_.day()));
        works::TestResult r;
        r.line = line;
        r.sample = portion.is.sample;
        r.portion = entry.portion;
        r.batch = portion.is.batch;
        take_down(entry, method, read_at, r);
        r.u_percent = method.u_percent;
        r.repeatability_percent = method.repeatability_percent;
        r.between_runs_percent = method.between_runs_percent;
        r.entered_by = desk_.person.id;
        return works::worked_out(r, portion.is, portion.wanted.strength);
    }

    /// What a result and a reading of a check sample have in common.
    template <class Reading>
    static void take_down(const ResultEntry& entry, const works::Method& method,
                          const std::string& read_at, Reading& out) {
        out.analyte = entry.analyte;
        out.method = method.id;
        out.method_number = method.number;
        out.digits = entry.digits;
        out.unit = entry.unit.empty() ? method.unit : entry.unit;
        out.dilution = entry.dilution;
        out.blank = entry.blank;
        out.read_at = read_at;
    }

    Result<std::string> read_at_of(const ResultEntry& entry) const {
        BW_TRY(read_at, instant(entry.read_at, desk_.at));
        BW_CHECK(check_read_by_now(read_at, desk_.at));
        return read_at;
    }

    Result<works::Method> method_of(const std::string& id) {
        const auto known = methods_.find(id);
        if (known != methods_.end()) {
            return known->second;
        }
        BW_TRY(method, kept<works::Method>(*desk_.books, id));
        return methods_.emplace(id, method.is).first->second;
    }

    Result<Portion> portion_of(const std::string& id) {
        const auto known = std::find_if(portions_.begin(), portions_.end(),
                                        [&](const Portion& p) { return p.is.id() == id; });
        if (known != portions_.end()) {
            return *known;
        }
        BW_TRY(portion, kept<works::TestPortion>(*desk_.books, id));
        BW_TRY(batch, kept<works::Batch>(*desk_.books, portion.is.batch));
        BW_TRY(wanted, wanted_water_of(*desk_.books, batch.is));
        if (std::none_of(batches_.begin(), batches_.end(),
                         [&](const auto& b) { return b.is.number == batch.is.number; })) {
            batches_.push_back(batch);
        }
        portions_.push_back({portion.is, wanted});
        return portions_.back();
    }

    const Desk& desk_;
    std::vector<Portion> portions_;
    std::map<std::string, works::Method> methods_;
    std::vector<Kept<works::Batch>> batches_;
};

Result<works::Run> run_of(const Desk& desk, const std::vector<ResultEntry>& entries,
                          std::vector<Kept<works::Batch>>& batches) {
    works::Run run;
    run.entered_by = desk.person.id;
    run.entered_at = desk.at;
    ResultDesk at_desk(desk);
    for (const ResultEntry& entry : entries) {
        if (!entry.check_sample.empty()) {
            BW_TRY(reading, at_desk.check_reading_of(entry));
            run.checks.push_back(std::move(reading));
            continue;
        }
        BW_TRY(result, at_desk.result_of(entry, static_cast<std::int64_t>(run.results.size()) + 1));
        run.results.push_back(std::move(result));
    }
    BW_CHECK(at_desk.check_all_read(run));
    batches = at_desk.batches();
    return works::read_run(std::move(run));
}

/// A batch that gets, loses or changes results is under test again; one that is decided is not
/// tested any more, but what was entered for it can be corrected: its release is then stale.
Result<void> test_again(const std::vector<Kept<works::Batch>>& batches, bool correction,
                        store::Change& change) {
    using enum works::BatchState;
    for (const auto& batch : batches) {
        const bool decided = batch.is.state == Released || batch.is.state == Rejected;
        if (batch.is.state == UnderTest || (decided && correction)) {
            change.expects.push_back(expect_same(batch));
            continue;
        }
        BW_TRY(next, works::moved(batch.is, UnderTest));
        change.writes.push_back(write_of(next, batch.version));
    }
    return {};
}

Result<std::vector<Kept<works::Batch>>> batches_of(const store::Books& books,
                                                   const works::Run& run) {
    std::set<std::string> numbers;
    for (const works::TestResult& r : run.results) {
        numbers.insert(r.batch);
    }
    std::vector<Kept<works::Batch>> out;
    for (const std::string& number : numbers) {
        BW_TRY(batch, kept<works::Batch>(books, number));
        out.push_back(std::move(batch));
    }
    return out;
}

/// A change of lines touches only the batches that they are of.
Result<std::vector<Kept<works::Batch>>> batches_of_lines(const store::Books& books,
                                                         const works::Run& run,
                                                         std::span<const std::int64_t> lines) {
    works::Run part;
    for (const std::int64_t line : lines) {
        BW_TRY(result, works::line_of(run, line));
        part.results.push_back(*result);
    }
    return batches_of(books, part);
}

/// What is entered a second time is most often a slip of the hand.
Result<void> check_new(const store::Books& books, const works::Run& run,
                       const std::vector<Kept<works::Batch>>& batches) {
    for (const auto& batch : batches) {
        BW_TRY(runs, runs_of(books, batch.is.number));
        for (const auto& earlier : runs) {
            const bool same_table = !run.file.empty() && run.file == earlier.is.file;
            if (same_table || works::repeats(run, earlier.is)) {
                return fail(
                    ProblemCode::Refused,
                    fmt::format("{} are those of run {}, digit for digit: if they were "
                                "read a second time, give the reason",
                                same_table ? "the table and its readings" : "these readings",
                                earlier.is.number),
                    {"", 0, "why"});
            }
        }
    }
    return {};
}

}  // namespace

Result<works::Run> preview_run(const Desk& desk, const std::vector<ResultEntry>& entries) {
    std::vector<Kept<works::Batch>> batches;
    return run_of(desk, entries, batches);
}

Result<store::Receipt> enter_results(const Desk& desk, const std::vector<ResultEntry>& entries,
                                     const std::optional<ResultSource>& source,
                                     const Intent& intent) {
    return act(desk,
               {works::Deed::EnterResults, source ? "results import" : "results enter",
                kKind<works::Run>, ""},
               intent, [&](store::Change& change) -> Result<void> {
                   std::vector<Kept<works::Batch>> batches;
                   BW_TRY(run, run_of(desk, entries, batches));
                   BW_CHECK(test_again(batches, false, change));
                   BW_TRY(number, next_identifier(desk, "R", change));
                   run.number = number;
                   if (source) {
                       run.file = store::sha256_hex(source->bytes);
                       run.file_name = source->file_name;
                       run.column_map = store::sha256_hex(source->column_map);
                       change.attachments = {
                           {source->file_name, "application/octet-stream", source->bytes},
                           {"column-map.toml", "application/toml", source->column_map}};
                   }
                   if (base::trim(intent.why).empty()) {
                       BW_CHECK(check_new(*desk.books, run, batches));
                   }
                   change.act.subject_id = number;
                   change.writes.push_back(write_of(run, 0));
                   change.answer = number;
                   return {};
               });
}

Result<store::Receipt> check_run(const Desk& desk, const std::string& number,
                                 std::span<const std::int64_t> lines, const Intent& intent) {
    return act(desk, {works::Deed::CheckResults, "results check", kKind<works::Run>, number},
               intent, [&](store::Change& change) -> Result<void> {
                   BW_TRY(run, kept<works::Run>(*desk.books, number));
                   BW_TRY(next, works::check_results(run.is, lines, desk.person.id));
                   change.writes.push_back(write_of(next, run.version));
                   return {};
               });
}

Result<store::Receipt> set_results_aside(const Desk& desk, const std::string& number,
                                         std::span<const std::int64_t> lines,
                                         const Intent& intent) {
    return act(desk, {works::Deed::CheckResults, "results set aside", kKind<works::Run>, number},
               intent, [&](store::Change& change) -> Result<void> {
                   BW_TRY(run, kept<works::Run>(*desk.books, number));
                   BW_TRY(next, works::set_aside_in(run.is, lines, desk.person.id, intent.why));
                   BW_TRY(batches, batches_of_lines(*desk.books, run.is, lines));
                   BW_CHECK(test_again(batches, true, change));
                   change.writes.push_back(write_of(next, run.version));
                   return {};
               });
}

Result<store::Receipt> correct_result(const Desk& desk, const ResultCorrection& correction,
                                      const Intent& intent) {
    return act(
        desk, {works::Deed::EnterResults, "results correct", kKind<works::Run>, correction.run},
        intent, [&](store::Change& change) -> Result<void> {
            BW_TRY(run, kept<works::Run>(*desk.books, correction.run));
            BW_TRY(before, works::line_of(run.is, correction.line));
            const auto or_before = [](const std::string& now, const std::string& then) {
                return now.empty() ? then : now;
            };
            // As the method's version stood that read it, whatever has become of the method since.
            works::TestResult next = *before;
            next.digits = or_before(correction.digits, before->digits);
            next.unit = or_before(correction.unit, before->unit);
            next.dilution = or_before(correction.dilution, before->dilution);
            next.portion = or_before(correction.portion, before->portion);
            ResultDesk at_desk(desk);
            BW_TRY(worked_out, at_desk.corrected(next));
            next = std::move(worked_out);
            BW_TRY(mended,
                   works::correct_in(run.is, next, correction.line, desk.person.id, intent.why));
            BW_TRY(batches, batches_of_lines(*desk.books, run.is, std::array{correction.line}));
            BW_CHECK(test_again(batches, true, change));
            change.writes.push_back(write_of(mended, run.version));
            return {};
        });
}

Result<store::Receipt> correct_check(const Desk& desk, const CheckCorrection& correction,
                                     const Intent& intent) {
    return act(
        desk,
        {works::Deed::EnterResults, "results correct check", kKind<works::Run>, correction.run},
        intent, [&](store::Change& change) -> Result<void> {
            BW_TRY(run, kept<works::Run>(*desk.books, correction.run));
            BW_TRY(before, works::check_of(run.is, correction.check_sample, correction.analyte,
                                           correction.method));
            works::CheckReading next = *before;
            next.digits = correction.digits.empty() ? next.digits : correction.digits;
            next.unit = correction.unit.empty() ? next.unit : correction.unit;
            next.dilution = correction.dilution.empty() ? next.dilution : correction.dilution;
            BW_TRY(judged,
                   works::judged(next, {next.name, next.analyte, next.value, next.within_percent}));
            BW_TRY(mended, works::correct_check_in(run.is, judged, desk.person.id, intent.why));
            BW_TRY(batches, batches_of(*desk.books, run.is));
            BW_CHECK(test_again(batches, true, change));
            change.writes.push_back(write_of(mended, run.version));
            return {};
        });
}

std::string signed_text(works::Run run) {
    run.state = works::RunState::Judged;
    run.approved.reset();
    return record_text(run);
}

Result<store::Receipt> count_run(const Desk& desk, const std::string& number,
                                 const Signing& signing, const Intent& intent) {
    return act(desk, {works::Deed::CheckResults, "results count", kKind<works::Run>, number},
               intent, [&](store::Change& change) -> Result<void> {
                   BW_TRY(run, kept<works::Run>(*desk.books, number));
                   if (!signing.shown.empty()) {
                       BW_TRY(mark, content_mark(*desk.books, kKind<works::Run>, number));
                       BW_CHECK(check_shown(
                           {signing.shown, fmt::format("run {} as it is now", number)}, mark));
                   }
                   BW_TRY(counted, works::count_results(run.is));
                   BW_TRY(signature, sign(desk, works::Deed::CheckResults, "results counted",
                                          signing, signed_text(counted)));
                   const works::Run next = works::signed_run(counted, signature);
                   change.writes.push_back(write_of(next, run.version));
                   BW_TRY(batches, batches_of(*desk.books, next));
                   for (const auto& batch : batches) {
                       if (batch.is.state != works::BatchState::UnderTest) {
                           change.expects.push_back(expect_same(batch));
                           continue;
                       }
                       BW_TRY(tested, is_tested(*desk.books, batch.is.number, &next));
                       if (tested) {
                           BW_TRY(ready, works::moved(batch.is, works::BatchState::Ready));
                           change.writes.push_back(write_of(ready, batch.version));
                       } else {
                           change.expects.push_back(expect_same(batch));
                       }
                   }
                   return {};
               });
}

Result<std::vector<Kept<works::Run>>> runs_of(const store::Books& books, const std::string& batch) {
    store::ListQuery query;
    query.pointing_to = store::Link{"tests", kKind<works::Batch>, batch};
    query.limit = kMostRows;
    return kept_list<works::Run>(books, query);
}

}  // namespace bw::service
