// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <cmath>
#include <memory>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "cli/books_options.hpp"
#include "cli/json_values.inl"
#include "io/outputs.hpp"
#include "service/batch_plan.hpp"
#include "service/batch_run.hpp"
#include "service/papers.hpp"
#include "service/workroom_papers.hpp"
#include "unit/factors.hpp"
#include "unit/unit_table.hpp"

namespace bw::cli {
namespace {

constexpr int kDigits = 7;
constexpr int kShortDigits = 4;
constexpr std::int64_t kMostRows = 10000;

struct PlanArguments {
    BooksOptions books;
    service::BatchOrder order;
    std::string size;
    std::vector<std::string> chosen;
    std::string shown;
};

std::string number(double value) { return base::format_short(value, kDigits); }

std::string sheet_text(const works::Batch& batch, const std::vector<works::Weighing>& weighings) {
    TextTable table({{{"step"}, Align::Right},
                     {{"material"}},
                     {{"lot"}},
                     {{"target", "kg"}, Align::Decimal},
                     {{"either way", "kg"}, Align::Decimal},
                     {{"scale"}},
                     {{"into"}},
                     {{"weighed", "kg"}, Align::Decimal},
                     {{""}}});
    for (const works::Addition& a : batch.additions) {
        const works::AdditionState state = works::state_of(a, weighings);
        table.add({std::to_string(a.step), a.material, a.lot, number(a.target_kg),
                   number(a.tolerance_kg), a.scale, a.into,
                   state.parts > 0 ? number(state.weighed_kg) : "",
                   state.parts > 0 ? std::string(works::name(state.verdict)) : ""});
    }
    return table.text();
}

std::string changes_text(const works::Batch& batch) {
    if (batch.changes.empty()) {
        return "  The shares are the recipe's own.\n";
    }
    TextTable table({{{"changed for the lots"}},
                     {{"recipe", "%"}, Align::Decimal},
                     {{"batch", "%"}, Align::Decimal},
                     {{"change", "%"}, Align::Decimal}});
    for (const works::ShareChange& c : batch.changes) {
        table.add(
            {c.material, base::format_short(c.recipe_share * unit::kPercent, kDigits),
             base::format_short(c.batch_share * unit::kPercent, kDigits),
             c.recipe_share > 0
                 ? base::format_places((c.batch_share / c.recipe_share - 1) * unit::kPercent, 2)
                 : "new"});
    }
    return table.text();
}

std::string batch_text(const works::Batch& batch, const std::vector<works::Weighing>& weighings,
                       const std::vector<works::Departure>& departures, const std::string& mark) {
    std::string out = fmt::format(
        "Batch {} of {}, {} kg: {}{}\n  by recipe {}, planned by {} at {}\n\n", batch.number,
        batch.product, number(batch.size_kg), works::name(batch.state),
        batch.invented ? " (invented)" : "", batch.recipe, batch.planned_by, batch.planned_at);
    out += sheet_text(batch, weighings);
    constexpr int kTotalDigits = 4;
    const auto say = [&](const char* name, const char* into, const char* when,
                         const std::vector<works::PremixStage>& stages) {
        if (!stages.empty()) {
            out += fmt::format(
                "\n  {}: mix the steps \"{}\" first; then add the carrier, {}, in {} stages, "
                "mixing well\n  between them, up to about {} kg.{}\n",
                name, into, batch.premix_carrier, stages.size(),
                base::format_significant(stages.back().total_kg, kTotalDigits), when);
        }
    };
    say("Premix", works::kPremix, "", batch.premix);
    say("Late premix", works::kLatePremix,
        " It stays apart from the carbonates until it goes in, after\n  the dry salts.",
        batch.late_premix);
    out += "\n" + changes_text(batch);
    if (batch.adjustment_approved) {
        out += fmt::format("  change approved by {} ({}) at {}\n", batch.adjustment_approved->name,
                           batch.adjustment_approved->duty, batch.adjustment_approved->at);
    } else if (!batch.changes.empty()) {
        out += fmt::format(
            "  The change is not approved yet: nothing is weighed before. To sign exactly this: "
            "--shown {}\n",
            mark.substr(0, service::kShortMark));
    }
    out += fmt::format("  {} g of blend per kg of purified water\n",
                       base::format_short(batch.blend_g_per_kg_purified_water, kDigits));
    if (batch.yield) {
        const double in_kg = works::weighed_in_kg(weighings);
        const double out_kg = works::came_out_kg(*batch.yield);
        out += fmt::format(
            "  yield: {} kg in, {} kg packed in {} packs, {} kg sampled, {} kg "
            "swept; {} kg not explained ({} %)\n",
            number(in_kg), number(batch.yield->packed_kg), batch.yield->packs,
            number(batch.yield->sampled_kg), number(batch.yield->swept_kg),
            base::format_short(in_kg - out_kg, kShortDigits),
            base::format_places((in_kg - out_kg) / in_kg * unit::kPercent, 2));
    }
    for (const works::Departure& d : departures) {
        out +=
            wrapped("  departure ", fmt::format("{}{} ({}): {}{}", d.number, works::about_words(d),
                                                works::name(d.state), d.what,
                                                d.answer.empty() ? "" : ". Answer: " + d.answer));
    }
    return out + dashes(batch.notices);
}

Result<std::string> shown(const store::Books& books, const std::string& id, bool json) {
    BW_TRY(batch, service::kept<works::Batch>(books, id));
    BW_TRY(weighings, service::weighings_of(books, id));
    BW_TRY(departures, service::departures_of(books, id));
    if (!json) {
        BW_TRY(mark, service::content_mark(books, service::kKind<works::Batch>, id));
        return batch_text(batch.is, weighings, departures, mark);
    }
    Json rows = Json::array();
    for (const works::Weighing& w : weighings) {
        rows.push_back(json_of_text(service::record_text(w)));
    }
    Json told = Json::array();
    for (const works::Departure& d : departures) {
        told.push_back(json_of_text(service::record_text(d)));
    }
    return json_text({{"version", 1},
                      {"batch", json_of_text(service::record_text(batch.is))},
                      {"weighings", rows},
                      {"departures", told}});
}

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
            BW_TRY(text, shown(*open.books, receipt.answer, false));
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
        report_receipt(a->books, receipt,
                       fmt::format("The change of batch {} is approved.", a->order.recipe),
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
            BW_TRY(text, shown(books, a->order.recipe, a->books.json));
            put(text, streams);
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
    const Command noun =
        noun_of(app, "batch", "Batches: plan, approve, show, print, weigh, correct, blend, close");
    add_plan(noun, commands);
    add_approve(noun, commands);
    add_show(noun, commands);
    add_print(noun, commands);
}

}  // namespace bw::cli
