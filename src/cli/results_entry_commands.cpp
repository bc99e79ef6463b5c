// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <memory>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "cli/books_options.hpp"
#include "cli/json_values.inl"
#include "service/duplicates.hpp"
#include "service/papers.hpp"
#include "service/reading_doubts.hpp"
#include "service/remark_text.hpp"
#include "service/shown_amount.hpp"
#include "service/tests.hpp"

namespace bw::cli {
namespace {

constexpr int kDigits = 6;

struct PortionArguments {
    BooksOptions books;
    service::PortionEntry entry;
    std::string by;
};

void add_portion(Command app, BookCommands& commands) {
    const Command noun = noun_of(app, "sample", "Samples: take, portion");
    auto a = std::make_shared<PortionArguments>();
    const Command portion = add_command(
        noun, "portion", "Takes down a test portion, weighed and dissolved by itself",
        "sample portion S26-0001-X --salt \"41.32 g\" --water \"1000.4 g\" --salinity 35.02 "
        "--salinity-u 0.03 --by conductivity --session a");
    portion.add_option("SAMPLE", a->entry.sample, "Number of the sample").required();
    portion.add_option("--salt", a->entry.salt, "Mass of the mix as read, \"41.32 g\"").required();
    portion.add_option("--water", a->entry.water, "Mass of purified water as read").required();
    portion.add_option("--by", a->by,
                       "By what its strength is known: conductivity, density, chlorinity or \"dry "
                       "mass\" (the default without a salinity)");
    portion.add_option("--salinity", a->entry.salinity, "Practical salinity as read");
    portion.add_option("--salinity-u", a->entry.salinity_u, "Its standard uncertainty");
    portion.add_option("--temperature", a->entry.temperature,
                       "At which volumes are taken, \"20 degC\"");
    portion.add_option("--density", a->entry.density,
                       "Of the solution as measured, \"1024.8 kg/m3\"; else that of seawater");
    add_writing_options(portion, a->books);
    commands.add(portion, [a](const Streams& streams) -> Result<int> {
        const std::string by = !a->by.empty()              ? a->by
                               : a->entry.salinity.empty() ? "dry mass"
                                                           : "conductivity";
        const auto known = works::from_word<works::StrengthBy>(by);
        if (!known) {
            return fail(ProblemCode::BadInput,
                        fmt::format("{} is not known: write {}", base::quoted(by),
                                    works::all_words<works::StrengthBy>()),
                        {"", 0, "--by"});
        }
        a->entry.strength_by = *known;
        BW_TRY(open, open_desk(a->books));
        BW_TRY(receipt, service::keep_portion(open.desk, a->entry, open.intent));
        report_receipt(a->books, receipt, fmt::format("Test portion {} is kept.", receipt.answer),
                       streams);
        return 0;
    });
}

void add_set_portion_aside(Command app, BookCommands& commands) {
    const Command noun = noun_of(app, "sample", "Samples: take, portion");
    auto a = std::make_shared<PortionArguments>();
    const Command aside = add_command(
        noun, "set-portion-aside",
        "Keeps a test portion without using it, for a recorded cause; its results are set aside "
        "first",
        "sample set-portion-aside S26-0001-X/1 --why \"spilt when it was dissolved\" --session b");
    aside.add_option("PORTION", a->entry.sample, "The test portion").required();
    add_writing_options(aside, a->books);
    commands.add(aside, [a](const Streams& streams) -> Result<int> {
        BW_TRY(open, open_desk(a->books));
        BW_TRY(receipt, service::set_portion_aside(open.desk, a->entry.sample, open.intent));
        report_receipt(a->books, receipt,
                       fmt::format("Test portion {} is set aside.", a->entry.sample), streams);
        return 0;
    });
}

struct EnterArguments {
    BooksOptions books;
    service::ResultEntry common;
    std::vector<std::string> results, checks;
    std::string check_dilution;
};

/// "Ca=412.3 mg/kg", "Cu=< 0.5 ug/kg".
Result<service::ResultEntry> entry_of(const service::ResultEntry& common, const std::string& text) {
    service::ResultEntry out = common;
    const std::size_t sign = text.find('=');
    if (sign == std::string::npos || sign == 0) {
        return fail(ProblemCode::BadInput,
                    fmt::format("{} is no result: write \"Ca=412.3 mg/kg\"", base::quoted(text)),
                    {"", 0, "RESULT"});
    }
    out.analyte = base::trim(std::string_view(text).substr(0, sign));
    std::string_view rest = base::trim(std::string_view(text).substr(sign + 1));
    std::string lead;
    if (rest.starts_with('<')) {
        lead = "< ";
        rest = base::trim(rest.substr(1));
    }
    const std::size_t blank = rest.find(' ');
    out.digits = lead + std::string(rest.substr(0, blank));
    if (blank != std::string_view::npos) {
        out.unit = base::trim(rest.substr(blank));
    }
    return out;
}

/// "S26-0001-X/2: Ca=412.3 mg/kg": of a portion of its own, else of --portion.
Result<service::ResultEntry> portion_entry_of(const service::ResultEntry& common,
                                              const std::string& text) {
    const std::size_t colon = text.find(':');
    const std::string_view whole = text;
    const bool named = colon < text.find('=');
    BW_TRY(out, entry_of(common, std::string(named ? whole.substr(colon + 1) : whole)));
    if (named) {
        out.portion = base::trim(whole.substr(0, colon));
    }
    if (out.portion.empty()) {
        return fail(ProblemCode::BadInput,
                    fmt::format("{} names no test portion: give --portion, or write "
                                "\"S26-0001-X/1: Ca=412.3 mg/kg\"",
                                base::quoted(text)),
                    {"", 0, "RESULT"});
    }
    return std::move(out);
}

/// "QC-1: Ca=411.2 mg/kg".
Result<service::ResultEntry> check_entry_of(const service::ResultEntry& common,
                                            const std::string& text) {
    const std::size_t colon = text.find(':');
    const std::string name(base::trim(std::string_view(text).substr(0, colon)));
    if (colon == std::string::npos || name.empty()) {
        return fail(ProblemCode::BadInput,
                    fmt::format("{} is no reading of a check sample: write \"QC-1: Ca=411.2 "
                                "mg/kg\"",
                                base::quoted(text)),
                    {"", 0, "--check"});
    }
    BW_TRY(out,
           entry_of(common, std::string(base::trim(std::string_view(text).substr(colon + 1)))));
    out.portion.clear();
    out.check_sample = name;
    return std::move(out);
}

/// What a run's check samples said, a line each.
std::string check_words(const works::Run& run) {
    std::string out;
    for (const works::CheckReading& c : run.checks) {
        out += fmt::format("\n  {}{}", works::sentence_of(c),
                           c.good ? "" : ": too far, so what it vouches for is not counted");
    }
    return out;
}

/// What the duplicates of a run say and its readings raise, a line each, told while there is time.
Result<std::string> remark_words(const store::Books& books, const std::string& number) {
    BW_TRY(run, service::kept<works::Run>(books, number));
    BW_TRY(remarks, service::duplicates_of_run(books, run.is));
    std::string out;
    for (const works::DuplicateRemark& remark : remarks) {
        out += "\n" + wrapped("  far apart: ", remark.sentence);
        out.pop_back();  // the report of a receipt ends its line itself
    }
    BW_TRY(doubts, service::doubts_of_run(books, run.is));
    for (const works::ReadingDoubt& doubt : doubts) {
        out += "\n" + wrapped("  far from what is wanted: ", doubt.sentence);
        out.pop_back();
    }
    return out;
}

void add_enter(Command noun, BookCommands& commands) {
    auto a = std::make_shared<EnterArguments>();
    const Command enter = add_command(
        noun, "enter", "Enters results by one method as one run, of one test portion or several",
        "results enter \"S26-0001-X/1: Ca=412.3 mg/kg\" \"S26-0001-X/2: Ca=412.9 mg/kg\" "
        "--method M-07 --session a");
    enter
        .add_option("RESULT", a->results,
                    "Test portion and result, \"S26-0001-X/1: Ca=412.3 mg/kg\"; \"Cu=< 0.5 ug/kg\" "
                    "below the limit; what is compared, duplicates or samples, stands in one run")
        .required();
    enter.add_option("--check", a->checks,
                     "Reading of a check sample that the method asks for, \"QC-1: Ca=411.2 "
                     "mg/kg\"; once for each");
    enter.add_option("--portion", a->common.portion, "Test portion of results that name none");
    enter.add_option("--method", a->common.method, "Method").required();
    enter.add_option("--dilution", a->common.dilution,
                     "Factor that the readings, those of check samples too, are still to be "
                     "multiplied by: 50");
    enter.add_option("--check-dilution", a->check_dilution,
                     "Another factor for the readings of check samples: 1");
    enter.add_option("--read-at", a->common.read_at, "Day or instant of the readings");
    add_writing_options(enter, a->books);
    commands.add(enter, [a](const Streams& streams) -> Result<int> {
        std::vector<service::ResultEntry> entries;
        for (const std::string& text : a->results) {
            BW_TRY(entry, portion_entry_of(a->common, text));
            entries.push_back(std::move(entry));
        }
        for (const std::string& text : a->checks) {
            BW_TRY(entry, check_entry_of(a->common, text));
            entry.dilution = a->check_dilution.empty() ? entry.dilution : a->check_dilution;
            entries.push_back(std::move(entry));
        }
        BW_TRY(open, open_desk(a->books));
        BW_TRY(receipt, service::enter_results(open.desk, entries, std::nullopt, open.intent));
        BW_TRY(run, service::kept<works::Run>(*open.desk.books, receipt.answer));
        BW_TRY(far_apart, remark_words(*open.desk.books, receipt.answer));
        report_receipt(
            a->books, receipt,
            fmt::format("Run {} is entered, {} result{}; somebody else checks it.", receipt.answer,
                        a->results.size(), a->results.size() == 1 ? "" : "s") +
                check_words(run.is) + far_apart,
            streams);
        return 0;
    });
}

struct RunArguments {
    BooksOptions books;
    std::string run;
    std::vector<std::int64_t> lines;
    service::ResultCorrection correction;
    std::string check, method;  ///< of a check sample's correction
    std::string shown;          ///< of signing
};

void add_check(Command noun, BookCommands& commands) {
    auto a = std::make_shared<RunArguments>();
    const Command check = add_command(noun, "check", "Says that entries agree with their source",
                                      "results check R26-0001-X --session b");
    check.add_option("RUN", a->run, "Number of the run").required();
    check.add_option("--line", a->lines, "These lines only");
    add_writing_options(check, a->books);
    commands.add(check, [a](const Streams& streams) -> Result<int> {
        BW_TRY(open, open_desk(a->books));
        BW_TRY(receipt, service::check_run(open.desk, a->run, a->lines, open.intent));
        BW_TRY(far_apart, remark_words(*open.desk.books, a->run));
        report_receipt(a->books, receipt, fmt::format("Run {} is checked.", a->run) + far_apart,
                       streams);
        return 0;
    });
}

void add_count(Command noun, BookCommands& commands) {
    auto a = std::make_shared<RunArguments>();
    const Command count =
        add_command(noun, "count", "Counts the checked results of a run and signs it",
                    "results count R26-0001-X --session b --password-file b.password");
    count.add_option("RUN", a->run, "Number of the run").required();
    count.add_option("--shown", a->shown,
                     "Content mark of what was looked at, by \"results show\": 16 digits or more");
    add_writing_options(count, a->books);
    commands.add(count, [a](const Streams& streams) -> Result<int> {
        BW_TRY(signing, signing_from(a->books));
        signing.shown = a->shown;
        BW_TRY(open, open_desk(a->books));
        BW_TRY(receipt, service::count_run(open.desk, a->run, signing, open.intent));
        BW_TRY(far_apart, remark_words(*open.desk.books, a->run));
        report_receipt(a->books, receipt, fmt::format("Run {} is signed.", a->run) + far_apart,
                       streams);
        return 0;
    });
}

void add_set_aside(Command noun, BookCommands& commands) {
    auto a = std::make_shared<RunArguments>();
    const Command aside = add_command(
        noun, "set-aside", "Keeps a result without using it, for a recorded cause",
        "results set-aside R26-0001-X --line 3 --why \"bubble in the cell\" --session b");
    aside.add_option("RUN", a->run, "Number of the run").required();
    aside.add_option("--line", a->lines, "Its line; several: --line 1 --line 3").required();
    add_writing_options(aside, a->books);
    commands.add(aside, [a](const Streams& streams) -> Result<int> {
        BW_TRY(open, open_desk(a->books));
        BW_TRY(receipt, service::set_results_aside(open.desk, a->run, a->lines, open.intent));
        report_receipt(
            a->books, receipt,
            fmt::format("Of run {}, set aside: line {}.", a->run, fmt::join(a->lines, ", ")),
            streams);
        return 0;
    });
}

Result<int> correct_check(const RunArguments& a, const Streams& streams) {
    BW_TRY(entry, check_entry_of({}, a.check));
    service::CheckCorrection correction = {
        a.correction.run, entry.check_sample, entry.analyte,         a.method,
        entry.digits,     entry.unit,         a.correction.dilution,
    };
    BW_TRY(open, open_desk(a.books));
    BW_TRY(receipt, service::correct_check(open.desk, correction, open.intent));
    BW_TRY(run, service::kept<works::Run>(*open.desk.books, correction.run));
    report_receipt(a.books, receipt,
                   fmt::format("Check sample {} of run {} is corrected; somebody else checks the "
                               "results of {} again.",
                               correction.check_sample, correction.run, correction.analyte) +
                       check_words(run.is),
                   streams);
    return 0;
}

void add_correct(Command noun, BookCommands& commands) {
    auto a = std::make_shared<RunArguments>();
    const Command correct = add_command(
        noun, "correct", "Corrects what was typed; the first entry stays in the books",
        "results correct R26-0001-X --line 3 --digits 412.3 --why \"misread\" --session a");
    correct.add_option("RUN", a->correction.run, "Number of the run").required();
    const Option line = correct.add_option("--line", a->correction.line, "Its line");
    correct
        .add_option("--check", a->check,
                    "In place of a line: the reading of a check sample as it should stand, "
                    "\"QC-1: Ca=412.1 mg/kg\"")
        .excludes(line);
    correct.add_option("--method", a->method, "By which it was read, where several did");
    correct.add_option("--digits", a->correction.digits, "The number as it should stand");
    correct.add_option("--unit", a->correction.unit, "Its unit");
    correct.add_option("--dilution", a->correction.dilution, "Its dilution");
    correct.add_option("--portion", a->correction.portion, "The portion that it is of");
    add_writing_options(correct, a->books);
    commands.add(correct, [a](const Streams& streams) -> Result<int> {
        if (!a->check.empty()) {
            return correct_check(*a, streams);
        }
        if (a->correction.line == 0) {
            return fail(ProblemCode::BadInput,
                        "say what is corrected: --line 3, or --check \"QC-1: Ca=412.1 mg/kg\"",
                        {"", 0, "--line"});
        }
        BW_TRY(open, open_desk(a->books));
        BW_TRY(receipt, service::correct_result(open.desk, a->correction, open.intent));
        BW_TRY(far_apart, remark_words(*open.desk.books, a->correction.run));
        report_receipt(a->books, receipt,
                       fmt::format("Line {} of run {} is corrected; somebody else checks it.",
                                   a->correction.line, a->correction.run) +
                           far_apart,
                       streams);
        return 0;
    });
}

std::string run_text(const works::Run& run, const std::string& mark) {
    std::string out = fmt::format(
        "Run {}: {}, entered by {} at {}{}\n", run.number, works::name(run.state), run.entered_by,
        run.entered_at, run.file_name.empty() ? "" : ", from " + base::one_line(run.file_name));
    TextTable table({{{"line"}, Align::Right},
                     {{"portion"}},
                     {{""}},
                     {{"as typed"}, Align::Right},
                     {{"unit"}},
                     {{"dilution"}, Align::Decimal},
                     {{"at full", "strength"}, Align::Right},
                     {{"method"}},
                     {{"state"}},
                     {{"reason"}}});
    for (const works::TestResult& r : run.results) {
        const service::ShownUnit shown = service::shown_unit(r.analyte, r.mol_per_kg);
        table.add(
            {std::to_string(r.line), r.portion, r.analyte, r.digits, r.unit, r.dilution,
             fmt::format("{}{} {}", r.below_limit ? "< " : "",
                         base::format_significant(r.mol_per_kg * shown.per_mol_per_kg, kDigits),
                         shown.unit),
             fmt::format("{} v{}", r.method, r.method_number), std::string(works::name(r.state)),
             r.reason});
    }
    out += table.text();
    for (const works::CheckReading& c : run.checks) {
        out += wrapped("  ", fmt::format("{}{}", works::sentence_of(c), c.good ? "" : ": too far"));
    }
    if (run.state == works::RunState::Judged) {
        out += fmt::format("  To count exactly this: --shown {}\n",
                           mark.substr(0, service::kShortMark));
    }
    if (run.approved) {
        out += fmt::format("  {} by {} ({}) at {}\n", run.approved->meaning, run.approved->name,
                           run.approved->duty, run.approved->at);
    }
    return out;
}

std::string portion_text(const works::TestPortion& p) {
    return wrapped(
        "  ", fmt::format("Test portion {}: {} of salt in {} of water by {} at {}{}", p.id(),
                          p.salt, p.water, p.by, p.at,
                          p.set_aside ? fmt::format("; set aside by {} at {}: {}", p.set_aside->by,
                                                    p.set_aside->at, p.set_aside->reason)
                                      : ""));
}

void add_show(Command noun, BookCommands& commands) {
    auto a = std::make_shared<RunArguments>();
    const Command show = add_command(
        noun, "show", "A run with its results, or all runs and test portions of a batch",
        "results show R26-0001-X --books books");
    show.add_option("RUN", a->run, "Number of a run, or of a batch").required();
    add_reading_options(show, a->books);
    commands.add(show, [a](const Streams& streams) -> Result<int> {
        BW_TRY(books, open_books(a->books, store::Mode::ReadOnly));
        BW_TRY(run, service::if_kept<works::Run>(books, a->run));
        std::vector<works::Run> runs;
        std::vector<works::DuplicateRemark> remarks;
        std::vector<works::ReadingDoubt> doubts;
        Json portions = Json::array();
        std::string text;
        if (run) {
            runs.push_back(run->is);
            BW_TRY(of_run, service::duplicates_of_run(books, run->is));
            remarks = std::move(of_run);
            BW_TRY(asked, service::doubts_of_run(books, run->is));
            doubts = std::move(asked);
        } else {
            BW_TRY(of_batch, service::duplicates_of_batch(books, a->run));
            remarks = std::move(of_batch);
            BW_TRY(asked, service::doubts_of_batch(books, a->run));
            doubts = std::move(asked);
            BW_TRY(all, service::runs_of(books, a->run));
            for (const auto& one : all) {
                runs.push_back(one.is);
            }
            BW_TRY(dissolved, service::portions_of(books, a->run));
            for (const auto& one : dissolved) {
                portions.push_back(json_of_text(service::record_text(one.is)));
                text += portion_text(one.is);
            }
        }
        Json out = Json::array();
        for (const works::Run& one : runs) {
            out.push_back(json_of_text(service::record_text(one)));
            BW_TRY(mark, service::content_mark(books, service::kKind<works::Run>, one.number));
            text += run_text(one, mark);
        }
        for (const works::DuplicateRemark& remark : remarks) {
            text += wrapped("  far apart: ", remark.sentence);
        }
        for (const works::ReadingDoubt& doubt : doubts) {
            text += wrapped("  far from what is wanted: ", doubt.sentence);
        }
        put(a->books.json
                ? json_text({{"version", 1},
                             {"portions", portions},
                             {"runs", out},
                             {"duplicates", json_of_text(service::remark_text(remarks))},
                             {"far_from_wanted", json_of_text(service::remark_text(doubts))}})
                : text,
            streams);
        return 0;
    });
}

}  // namespace

void add_results_commands(Command app, BookCommands& commands) {
    add_portion(app, commands);
    add_set_portion_aside(app, commands);
    const Command noun = noun_of(app, "results", "Results of tests: enter, check, count, correct");
    add_results_import(noun, commands);
    add_enter(noun, commands);
    add_check(noun, commands);
    add_count(noun, commands);
    add_set_aside(noun, commands);
    add_correct(noun, commands);
    add_show(noun, commands);
}

}  // namespace bw::cli
