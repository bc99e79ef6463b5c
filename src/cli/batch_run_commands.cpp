// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <fstream>
#include <memory>
#include <sstream>
#include <type_traits>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "cli/books_options.hpp"
#include "cli/json_values.inl"
#include "io/fields.hpp"
#include "service/batch_run.hpp"
#include "service/workroom_papers.hpp"
#include "unit/unit_table.hpp"

namespace bw::cli {
namespace {

constexpr std::int64_t kMostRows = 10000;

struct WeighArguments {
    BooksOptions books;
    std::string batch;
    std::string file;
    service::WeighingEntry entry;
};

/// The weighings of a file of kind "weighings".
Result<std::vector<service::WeighingEntry>> entries_from(const std::string& file) {
    BW_TRY(document, io::read_document(file));
    BW_TRY(root, io::open_kind(document, "weighings"));
    BW_CHECK(root.allow({"format", "kind", "invented", "note", "weighing"}));
    BW_TRY(tables, root.tables("weighing"));
    if (tables.empty()) {
        return root.bad("", "the file lists no weighing: add [[weighing]] tables");
    }
    std::vector<service::WeighingEntry> out;
    for (const io::Fields& table : tables) {
        BW_CHECK(
            table.allow({"step", "lot", "scale", "net", "tare", "by_hand", "confirmed", "note"}));
        service::WeighingEntry entry;
        constexpr int kMostSteps = 500;
        BW_TRY(step, table.whole_number("step", 1, kMostSteps));
        if (!step) {
            return table.bad("step", "a weighing belongs to a step of the sheet: add step = 1");
        }
        entry.step = *step;
        BW_TRY(lot, table.required_text("lot"));
        BW_TRY(net, table.required_text("net"));
        BW_TRY(tare, table.text("tare"));
        BW_TRY(scale, table.text("scale"));
        BW_TRY(by_hand, table.flag("by_hand"));
        BW_TRY(confirmed, table.flag("confirmed"));
        entry.lot = lot;
        entry.net = net;
        entry.tare = tare.value_or("");
        entry.scale = scale.value_or("");
        entry.by_hand = by_hand.value_or(true);
        entry.confirmed = confirmed.value_or(false);
        out.push_back(std::move(entry));
    }
    return out;
}

std::string in_words(const service::WeighingOutcome& o) {
    const double off = o.state.off_kg;
    std::string out =
        fmt::format("  step {}: {} of {} ({}); {} of {}, ", o.addition.step, o.weighing.net,
                    o.addition.material, o.weighing.lot, works::digits(o.state.weighed_kg, o.form),
                    works::in_words(o.addition.target_kg, o.form));
    switch (o.state.verdict) {
        case works::WeighingVerdict::Within:
            return out + "within\n";
        case works::WeighingVerdict::Short:
            return out + fmt::format("add {}\n", works::in_words(-off, o.form));
        case works::WeighingVerdict::Over:
            return out + fmt::format("over by {}: raise a departure about it\n",
                                     works::in_words(off, o.form));
    }
    return out;
}

Json as_json(const service::WeighingOutcome& o) {
    return {{"id", o.weighing.id()},
            {"step", o.addition.step},
            {"net", o.weighing.net},
            {"weighed_kg", o.state.weighed_kg},
            {"target_kg", o.addition.target_kg},
            {"tolerance_kg", o.addition.tolerance_kg},
            {"verdict", works::name(o.state.verdict)}};
}

void add_weigh(Command noun, BookCommands& commands) {
    auto a = std::make_shared<WeighArguments>();
    const Command command = add_command(
        noun, "weigh", "Records weighings and checks them against the sheet at once",
        "batch weigh B26-0001-K --step 3 --lot A26-0219 --net \"12.34 kg\" --session o");
    command.add_option("BATCH", a->batch, "Number of the batch").required();
    command.add_option("--step", a->entry.step, "Line of the sheet");
    command.add_option("--lot", a->entry.lot, "Lot as it stands on the bag");
    command.add_option("--net", a->entry.net, "Net mass as the scale shows it, \"12.34 kg\"");
    command.add_option("--tare", a->entry.tare, "Tare, the same");
    command.add_option("--scale", a->entry.scale, "Scale, where it is not the sheet's");
    command.add_flag("!--read", a->entry.by_hand, "Read from the scale, not typed");
    command.add_flag("--confirmed", a->entry.confirmed,
                     "The mass is right, though it was asked about: far from what "
                     "is wanted, or between two steps of the scale");
    command.add_option("--file", a->file, "Several: a file of kind \"weighings\"").check(named);
    add_writing_options(command, a->books);
    commands.add(command, [a](const Streams& streams) -> Result<int> {
        std::vector<service::WeighingEntry> entries = {a->entry};
        if (!a->file.empty()) {
            BW_TRY(read, entries_from(a->file));
            entries = read;
        } else if (a->entry.step == 0 || a->entry.net.empty()) {
            return fail(ProblemCode::BadInput,
                        "a weighing needs --step, --lot and --net; or give several by --file");
        }
        BW_TRY(open, open_desk(a->books));
        BW_TRY(outcomes, service::weigh(open.desk, a->batch, entries, open.intent));
        Json rows = Json::array();
        bool over = false;
        for (const service::WeighingOutcome& o : outcomes) {
            rows.push_back(as_json(o));
            over = over || o.state.verdict == works::WeighingVerdict::Over;
            if (!a->books.json && !a->books.quiet) {
                put(in_words(o), streams);
            }
        }
        if (a->books.json) {
            put(json_text({{"version", 1}, {"weighings", rows}}), streams);
        }
        return over ? 1 : 0;
    });
}

void add_correct(Command noun, BookCommands& commands) {
    auto a = std::make_shared<WeighArguments>();
    const Command command = add_command(
        noun, "correct", "Corrects a weighing; what stood before stays in the books",
        "batch correct B26-0001-K/3.1 --net \"12.43 kg\" --why \"figures swapped\" --session o");
    command.add_option("WEIGHING", a->batch, "Batch, step and part: B26-0001-K/3.1").required();
    command.add_option("--net", a->entry.net, "Net mass as it was").required();
    command.add_flag("--confirmed", a->entry.confirmed,
                     "The mass is right, though it was asked about: far from what "
                     "is wanted, or between two steps of the scale");
    add_writing_options(command, a->books);
    commands.add(command, [a](const Streams& streams) -> Result<int> {
        BW_TRY(open, open_desk(a->books));
        BW_TRY(receipt, service::correct_weighing(open.desk, a->batch, a->entry.net,
                                                  a->entry.confirmed, open.intent));
        report_receipt(a->books, receipt, fmt::format("{} is corrected.", a->batch), streams);
        return 0;
    });
}

void add_blend(Command noun, BookCommands& commands) {
    auto a = std::make_shared<WeighArguments>();
    const Command command = add_command(noun, "blend", "Says that everything is in and blended",
                                        "batch blend B26-0001-K --session o");
    command.add_option("BATCH", a->batch, "Number of the batch").required();
    add_writing_options(command, a->books);
    commands.add(command, [a](const Streams& streams) -> Result<int> {
        BW_TRY(open, open_desk(a->books));
        BW_TRY(receipt, service::blend_batch(open.desk, a->batch, open.intent));
        report_receipt(a->books, receipt, fmt::format("Batch {} is blended.", a->batch), streams);
        return 0;
    });
}

void add_close(Command noun, BookCommands& commands) {
    struct Arguments {
        BooksOptions books;
        std::string batch, packed, sampled = "0 kg", swept = "0 kg";
        works::Yield yield;
    };
    auto a = std::make_shared<Arguments>();
    const Command command = add_command(noun, "close", "Takes down what came out of a batch",
                                        "batch close B26-0001-K --packed \"995 kg\" --packs 199 "
                                        "--sampled \"0.6 kg\" --swept \"2 kg\" --session o");
    command.add_option("BATCH", a->batch, "Number of the batch").required();
    command.add_option("--packed", a->packed, "Mass packed").required();
    command.add_option("--packs", a->yield.packs, "Number of packs");
    command.add_option("--sampled", a->sampled, "Mass taken as samples");
    command.add_option("--swept", a->swept, "Mass of sweepings");
    add_writing_options(command, a->books);
    commands.add(command, [a](const Streams& streams) -> Result<int> {
        for (const auto& [option, text, kg] :
             {std::tuple("--packed", &a->packed, &a->yield.packed_kg),
              std::tuple("--sampled", &a->sampled, &a->yield.sampled_kg),
              std::tuple("--swept", &a->swept, &a->yield.swept_kg)}) {
            const auto typed = unit::parse_quantity(*text, "kg");
            if (!typed || typed->unit.dimension != unit::Dimension::Mass) {
                return fail(
                    ProblemCode::BadUnit,
                    fmt::format("{} is no mass: write it with g or kg", base::quoted(*text)),
                    {"", 0, option});
            }
            *kg = typed->value();
        }
        BW_TRY(open, open_desk(a->books));
        BW_TRY(receipt, service::close_batch(open.desk, a->batch, a->yield, open.intent));
        report_receipt(a->books, receipt, fmt::format("The yield of {} is taken down.", a->batch),
                       streams);
        return 0;
    });
}

struct ListArguments {
    BooksOptions books;
    std::string batch;
};

/// A list of one kind of record, of the whole works or of a batch; `role` links it to its batch.
template <class T>
void add_list_of_batch(Command noun, BookCommands& commands, const char* role,
                       const std::string& plural) {
    auto a = std::make_shared<ListArguments>();
    const Command list =
        add_command(noun, "list", fmt::format("All {}, or those of a batch", plural),
                    fmt::format("{} list --batch B26-0001-K --books books", noun.name()));
    list.add_option("--batch", a->batch, "Of this batch only");
    add_reading_options(list, a->books);
    commands.add(list, [a, role, plural](const Streams& streams) -> Result<int> {
        BW_TRY(books, open_books(a->books, store::Mode::ReadOnly));
        store::ListQuery query;
        query.kind = service::kKind<T>;
        query.limit = kMostRows;
        if (!a->batch.empty()) {
            BW_CHECK(service::kept<works::Batch>(books, a->batch));
            query.pointing_to = store::Link{role, service::kKind<works::Batch>, a->batch};
        }
        BW_TRY(rows, books.list(query));
        Json out = Json::array();
        std::vector<std::string> remarks;
        TextTable table({{{"number"}}, {{"state"}}, {{"what"}}});
        for (const store::Listed& row : rows) {
            Json line = {{"number", row.id}, {"state", row.state}, {"what", row.title}};
            table.add({row.id, row.state, row.title});
            if constexpr (std::is_same_v<T, works::Departure>) {
                BW_TRY(departure, service::kept<works::Departure>(books, row.id));
                BW_TRY(said, service::remarks_on(books, departure.is));
                line["remarks"] = said;
                for (const std::string& remark : said) {
                    remarks.push_back(row.id + ": " + remark);
                }
            }
            out.push_back(std::move(line));
        }
        const std::string text =
            rows.empty() ? fmt::format("No {}.\n", plural) : table.text() + dashes(remarks);
        put(a->books.json ? json_text({{"version", 1}, {plural, out}}) : text, streams);
        return 0;
    });
}

void add_departures(Command app, BookCommands& commands) {
    struct Arguments {
        BooksOptions books;
        works::Departure departure;
        std::int64_t step = 0;
        std::string about;
    };
    const Command noun = noun_of(app, "departure", "Departures: raise, answer, close, list");
    add_list_of_batch<works::Departure>(noun, commands, "holds", "departures");
    auto a = std::make_shared<Arguments>();
    const Command raise =
        add_command(noun, "raise", "Says what differed from the sheet or the method",
                    "departure raise --batch B26-0001-K --step 3 --what "
                    "\"0.4 kg too much went in\" --session o");
    raise.add_option("--batch", a->departure.batch, "Batch whose release waits for it").required();
    raise.add_option("--step", a->step, "Line of its sheet, when it is about one");
    raise.add_option("--about", a->about,
                     "What of the tests it speaks of: samples (not alike), charges (not balanced) "
                     "or fault (seen by them); once closed, it lifts that hold and no other");
    raise.add_option("--what", a->departure.what, "What differed").required();
    add_writing_options(raise, a->books);
    commands.add(raise, [a](const Streams& streams) -> Result<int> {
        if (!a->about.empty()) {
            const auto known = works::from_word<works::Concern>(a->about);
            if (!known || a->step > 0) {
                return fail(ProblemCode::BadInput,
                            a->step > 0
                                ? "a departure is about a step or about the tests: give "
                                  "--step or --about"
                                : fmt::format("{} is not known: write {}", base::quoted(a->about),
                                              works::all_words<works::Concern>()),
                            {"", 0, "--about"});
            }
            a->departure.about = *known;
        }
        a->departure.subject_kind = a->step > 0 ? works::kAddition : "batch";
        a->departure.subject =
            a->step > 0 ? fmt::format("{}/{}", a->departure.batch, a->step) : a->departure.batch;
        BW_TRY(open, open_desk(a->books));
        BW_TRY(receipt, service::raise_departure(open.desk, a->departure, open.intent));
        report_receipt(a->books, receipt, fmt::format("Departure {} is open.", receipt.answer),
                       streams);
        return 0;
    });
    auto w = std::make_shared<Arguments>();
    const Command answer = add_command(noun, "answer", "Answers a departure",
                                       "departure answer D26-0001-X --answer \"...\" --session f");
    answer.add_option("DEPARTURE", w->departure.number, "Its number").required();
    answer
        .add_option("--answer", w->departure.answer,
                    "What happened, what it did to the batch, what was done")
        .required();
    add_writing_options(answer, w->books);
    commands.add(answer, [w](const Streams& streams) -> Result<int> {
        BW_TRY(open, open_desk(w->books));
        BW_TRY(receipt, service::answer_departure(open.desk, w->departure.number,
                                                  w->departure.answer, open.intent));
        report_receipt(w->books, receipt,
                       fmt::format("Departure {} is answered.", w->departure.number), streams);
        return 0;
    });
    auto c = std::make_shared<Arguments>();
    const Command close = add_command(noun, "close", "Closes a departure that is answered",
                                      "departure close D26-0001-X --session q");
    close.add_option("DEPARTURE", c->departure.number, "Its number").required();
    add_writing_options(close, c->books);
    commands.add(close, [c](const Streams& streams) -> Result<int> {
        BW_TRY(open, open_desk(c->books));
        BW_TRY(receipt, service::close_departure(open.desk, c->departure.number, open.intent));
        report_receipt(c->books, receipt,
                       fmt::format("Departure {} is closed.", c->departure.number), streams);
        return 0;
    });
}

void add_samples(Command app, BookCommands& commands) {
    struct Arguments {
        BooksOptions books;
        service::SampleTaking taking;
    };
    const Command noun = noun_of(app, "sample", "Samples: take, list");
    add_list_of_batch<works::Sample>(noun, commands, "of", "samples");
    auto a = std::make_shared<Arguments>();
    const Command take = add_command(
        noun, "take", "Takes down a sample of a batch under the sampling plan",
        "sample take B26-0001-K --increments 10 --mass \"480 g\" --split-by riffle --session o");
    take.add_option("BATCH", a->taking.batch, "Number of the batch").required();
    take.add_option("--increments", a->taking.increments, "How many were taken").required();
    take.add_option("--mass", a->taking.mass, "Mass of all together, \"480 g\"").required();
    take.add_option("--where", a->taking.where, "Where, when not as the plan says");
    take.add_option("--split-by", a->taking.split_by,
                    "How it was split for the laboratory: riffle, rotary, scoop");
    add_writing_options(take, a->books);
    commands.add(take, [a](const Streams& streams) -> Result<int> {
        BW_TRY(open, open_desk(a->books));
        BW_TRY(receipt, service::take_sample(open.desk, a->taking, open.intent));
        report_receipt(a->books, receipt, fmt::format("Sample {} is taken.", receipt.answer),
                       streams);
        if (!a->books.json && !a->books.quiet) {
            BW_TRY(sample, service::kept<works::Sample>(*open.books, receipt.answer));
            put(dashes(sample.is.notices), streams);
        }
        return 0;
    });
}

void add_labels(Command app, BookCommands& commands) {
    struct Arguments {
        BooksOptions books;
        std::string sample, out, code = "square", stock = "sheet";
        int skip = 0;
    };
    const Command noun = noun_of(app, "sample", "Samples: take, labels");
    auto a = std::make_shared<Arguments>();
    const Command labels = add_command(
        noun, "labels", "Labels for a sample's increments, for what is tested and what is retained",
        "sample labels S26-0001-G --out labels.pdf --books books");
    labels.add_option("SAMPLE", a->sample, "Number of the sample").required();
    labels.add_option("--out", a->out, "Where the PDF goes").required().check(named);
    labels.add_option("--code", a->code, "square or bars").check_one_of({"square", "bars"});
    labels.add_option("--stock", a->stock, "sheet (A4, 24 labels) or roll")
        .check_one_of({"sheet", "roll"});
    labels.add_option("--skip", a->skip, "Places of the first sheet that are used already");
    add_reading_options(labels, a->books);
    commands.add(labels, [a](const Streams& streams) -> Result<int> {
        BW_TRY(books, open_books(a->books, store::Mode::ReadOnly));
        BW_TRY(paper, service::sample_labels(books, a->sample, instant_now()));
        paper.code = a->code == "bars" ? report::LabelCode::Bars : report::LabelCode::Square;
        paper.stock = a->stock == "roll" ? report::LabelStock::Roll : report::LabelStock::SheetA4;
        paper.skip = a->skip;
        BW_TRY(pdf, report::sample_labels_pdf(paper));
        return write_paper(a->books, a->out, pdf, streams);
    });
}

}  // namespace

void add_batch_run_commands(Command app, BookCommands& commands) {
    const Command noun = noun_of(app, "batch", "Batches");
    add_weigh(noun, commands);
    add_correct(noun, commands);
    add_blend(noun, commands);
    add_close(noun, commands);
    add_departures(app, commands);
    add_samples(app, commands);
    add_labels(app, commands);
}

}  // namespace bw::cli
