// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <memory>

#include <fmt/format.h>

#include "base/text.hpp"
#include "cli/batch_output.hpp"
#include "cli/books_options.hpp"
#include "cli/json_values.inl"
#include "io/outputs.hpp"
#include "service/batch_plan.hpp"
#include "service/papers.hpp"
#include "service/water_against_target.hpp"
#include "service/workroom_papers.hpp"
#include "unit/unit_table.hpp"

namespace bw::cli {
namespace {

constexpr std::int64_t kMostRows = 10000;

struct PlanArguments {
    BooksOptions books;
    service::BatchOrder order;
    std::string size;
    std::vector<std::string> chosen;
    std::string shown;
};

Result<void> read_order(PlanArguments& a) {
    const auto size = unit::parse_quantity(a.size, "kg");
    if (!size || size->unit.dimension != unit::Dimension::Mass) {
        return fail(ProblemCode::BadUnit,
                    fmt::format("{} is no mass: write it with kg", base::quoted(a.size)),
                    {"", 0, "--size"});
    }
    a.order.size_kg = size->value();
    for (const std::string& pair : a.chosen) {
        const std::size_t sign = pair.find('=');
        if (sign == std::string::npos || sign == 0 || sign + 1 == pair.size()) {
            return fail(
                ProblemCode::BadInput,
                fmt::format("{} does not choose a lot: write MATERIAL=LOT", base::quoted(pair)),
                {"", 0, "--choose"});
        }
        a.order.chosen_lots.emplace_back(pair.substr(0, sign), pair.substr(sign + 1));
    }
    return {};
}

void add_plan(Command noun, BookCommands& commands) {
    auto a = std::make_shared<PlanArguments>();
    const Command plan =
        add_command(noun, "plan", "Plans a batch: its sheet from the lots in hand",
                    "batch plan \"Raised reef\" --size \"1000 kg\" --open-packages --session s");
    plan.add_option("RECIPE", a->order.recipe, "Product (its version in use), or product/number")
        .required();
    plan.add_option("--size", a->size, "Mass of blend, \"1000 kg\"").required();
    plan.add_flag("--as-recipe", a->order.as_recipe,
                  "The recipe's own shares, whatever the lots hold");
    plan.add_flag("--open-packages", a->order.open_packages,
                  "Let bags be opened where a material is to be taken in whole ones");
    plan.add_option("--choose", a->chosen, "MATERIAL=LOT: weigh this lot of a material");
    plan.add_option("--rework-of", a->order.rework_of, "Rejected batch that goes into this one");
    add_writing_options(plan, a->books);
    commands.add(plan, [a](const Streams& streams) -> Result<int> {
        BW_CHECK(read_order(*a));
        BW_TRY(open, open_desk(a->books));
        BW_TRY(receipt, service::plan_batch(open.desk, a->order, open.intent));
        if (!a->books.json && !a->books.quiet) {
            BW_TRY(text, batch_text(*open.books, receipt.answer));
            put(text + "\n", streams);
        }
        report_receipt(a->books, receipt, fmt::format("Batch {} is planned.", receipt.answer),
                       streams);
        return 0;
    });
}

void add_approve(Command noun, BookCommands& commands) {
    auto a = std::make_shared<PlanArguments>();
    const Command command =
        add_command(noun, "approve", "Signs what the lots changed against the recipe",
                    "batch approve B26-0001-K --session q.session --password-file q.password");
    command.add_option("BATCH", a->order.recipe, "Number of the batch").required();
    command.add_option("--shown", a->shown,
                       "Content mark of what was looked at, by \"batch show\": 16 digits or more");
    add_writing_options(command, a->books);
    commands.add(command, [a](const Streams& streams) -> Result<int> {
        BW_TRY(signing, signing_from(a->books));
        signing.shown = a->shown;
        BW_TRY(open, open_desk(a->books));
        BW_TRY(receipt,
               service::approve_adjustment(open.desk, a->order.recipe, signing, open.intent));
        BW_TRY(batch, service::kept<works::Batch>(*open.books, a->order.recipe));
        BW_TRY(version, service::kept<works::RecipeVersion>(*open.books, batch.is.recipe));
        BW_TRY(note, service::retired_words(*open.books, version.is));
        report_receipt(a->books, receipt,
                       fmt::format("The change of batch {} is approved{}.", a->order.recipe,
                                   note.empty() ? "" : "; " + note),
                       streams);
        return 0;
    });
}

void add_show(Command noun, BookCommands& commands) {
    auto a = std::make_shared<PlanArguments>();
    const Command show = add_command(noun, "show", "One batch with its sheet, or a list of all",
                                     "batch show B26-0001-K --books books");
    show.add_option("BATCH", a->order.recipe, "Number of the batch; none: a list");
    add_reading_options(show, a->books);
    commands.add(show, [a](const Streams& streams) -> Result<int> {
        BW_TRY(books, open_books(a->books, store::Mode::ReadOnly));
        if (!a->order.recipe.empty()) {
            if (a->books.json) {
                BW_TRY(shown, batch_json(books, a->order.recipe));
                put(json_text(shown), streams);
            } else {
                BW_TRY(text, batch_text(books, a->order.recipe));
                put(text, streams);
            }
            return 0;
        }
        store::ListQuery query;
        query.kind = service::kKind<works::Batch>;
        query.limit = kMostRows;
        BW_TRY(rows, books.list(query));
        Json out = Json::array();
        TextTable table({{{"batch"}}, {{"state"}}, {{"what"}}});
        for (const store::Listed& row : rows) {
            out.push_back({{"number", row.id}, {"state", row.state}, {"what", row.title}});
            table.add({row.id, row.state, row.title});
        }
        put(a->books.json ? json_text({{"version", 1}, {"batches", out}}) : table.text(), streams);
        return 0;
    });
}

void add_print(Command noun, BookCommands& commands) {
    auto a = std::make_shared<PlanArguments>();
    const Command print =
        add_command(noun, "print", "The batch sheet as PDF: to fill in, or with what was weighed",
                    "batch print B26-0001-K --out sheet.pdf --books books");
    print.add_option("BATCH", a->order.recipe, "Number of the batch").required();
    print.add_option("--out", a->size, "Where the PDF goes").required().check(named);
    add_reading_options(print, a->books);
    commands.add(print, [a](const Streams& streams) -> Result<int> {
        BW_TRY(books, open_books(a->books, store::Mode::ReadOnly));
        BW_TRY(sheet, service::batch_sheet(books, a->order.recipe, instant_now()));
        BW_TRY(pdf, report::batch_sheet_pdf(sheet));
        return write_paper(a->books, a->size, pdf, streams);
    });
}

void add_sheet(Command noun, BookCommands& commands) {
    auto a = std::make_shared<PlanArguments>();
    const Command sheet =
        add_command(noun, "sheet", "What the batch sheet in PDF says, as text or JSON",
                    "batch sheet B26-0001-K --books books");
    sheet.add_option("BATCH", a->order.recipe, "Number of the batch").required();
    add_reading_options(sheet, a->books);
    commands.add(sheet, [a](const Streams& streams) -> Result<int> {
        BW_TRY(books, open_books(a->books, store::Mode::ReadOnly));
        BW_TRY(paper, service::batch_sheet(books, a->order.recipe, instant_now()));
        if (!a->books.json) {
            put(sheet_text(paper), streams);
            return 0;
        }
        BW_TRY(shown, batch_json(books, a->order.recipe));
        shown["paper"] = sheet_json(paper);
        put(json_text(shown), streams);
        return 0;
    });
}

}  // namespace

Result<int> write_paper(const BooksOptions& options, const std::string& path,
                        const std::string& bytes, const Streams& streams) {
    io::Outputs outputs;
    BW_CHECK(outputs.add_text(path, bytes));
    BW_CHECK(outputs.publish());
    if (options.json) {
        put(json_text({{"version", 1}, {"file", path}, {"bytes", bytes.size()}}), streams);
    } else if (!options.quiet) {
        put(fmt::format("Written to {}.\n", path), streams);
    }
    return 0;
}

void add_batch_commands(Command app, BookCommands& commands) {
    const Command noun = noun_of(
        app, "batch", "Batches: plan, approve, show, sheet, print, weigh, correct, blend, close");
    add_plan(noun, commands);
    add_approve(noun, commands);
    add_show(noun, commands);
    add_print(noun, commands);
    add_sheet(noun, commands);
}

}  // namespace bw::cli
