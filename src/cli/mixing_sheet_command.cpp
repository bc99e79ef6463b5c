// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <memory>

#include <fmt/format.h>

#include "base/text.hpp"
#include "cli/books_options.hpp"
#include "cli/json_values.inl"
#include "io/outputs.hpp"
#include "service/mixing_sheets.hpp"

namespace bw::cli {
namespace {

struct SheetArguments {
    BooksOptions books;
    service::MixingOrder order;
};

struct PrintArguments {
    BooksOptions books;
    std::string batch, out, data, xlsx;
    bool narrow = false;
};

constexpr std::size_t kShortMark = 16;

void add_order_options(Command command, service::MixingOrder& order) {
    command.add_option("BATCH", order.batch, "Number of the batch").required();
    command.add_option("--use-by", order.use_by, "Last day of the salt, 2027-12-31").required();
    command.add_option("--litres", order.litres, "Volumes that it gives amounts for");
    command.add_option("--keep", order.keep_h, "Hours that the finished water is to keep")
        .capture_default_str();
}

std::string summary_of(const report::MixingSheet& sheet) {
    return fmt::format(
        "{}, batch {}: {} of salt per litre of finished water, {} per kg of purified water\n  mix "
        "at {} to {} degC, stir {}, use within {}\n",
        sheet.product, sheet.batch, sheet.salt_per_litre, sheet.salt_per_kg_water,
        sheet.temperature_low, sheet.temperature_high, sheet.stir_time, sheet.use_within);
}

/// What else the sheet says: what instruments show, how to mix, keep and store.
std::string checks_text(const report::MixingSheet& sheet) {
    TextTable readings({{{"right water", "at, degC"}, Align::Right},
                        {{"conductivity", "mS/cm"}, Align::Right},
                        {{"relative density", sheet.density_reference}, Align::Right},
                        {{"seawater dial", sheet.dial_unit}, Align::Right},
                        {{"NaCl dial", sheet.dial_unit}, Align::Right}});
    for (const report::CheckReading& r : sheet.readings) {
        readings.add({r.temperature, r.conductivity, r.relative_density, r.dial_seawater,
                      r.dial_sodium_chloride});
    }
    std::vector<std::string> lines = {fmt::format(
        "salinity {}{}; litres at {}", sheet.salinity,
        sheet.practical_salinity.empty() ? "" : ", practical salinity " + sheet.practical_salinity,
        sheet.basis)};
    const auto say = [&](const std::string& what, const std::string& value) {
        if (!value.empty()) {
            lines.push_back(what + value);
        }
    };
    say("purified water: ", sheet.purified_water);
    say("wait before checking: ", sheet.wait_time);
    say("water that is still cloudy is not used: after ", sheet.cloudy_after);
    lines.insert(lines.end(), sheet.taking.begin(), sheet.taking.end());
    lines.insert(lines.end(), sheet.instrument_notes.begin(), sheet.instrument_notes.end());
    lines.insert(lines.end(), sheet.storing.begin(), sheet.storing.end());
    return "\nWhat it says on mixing, checking and storing\n" + readings.text() + bullets(lines);
}

std::string draft_text(const service::MixingDraft& draft) {
    std::string out = summary_of(draft.sheet);
    TextTable amounts({{{"finished water"}}, {{"purified water"}}, {{"salt"}}});
    for (const report::MixingAmount& a : draft.sheet.amounts) {
        amounts.add({a.volume, a.water, a.salt});
    }
    out += amounts.text() + "\nWhat it says on safety\n";
    const report::SafetyBox& safety = draft.sheet.safety;
    std::vector<std::string> lines;
    for (const auto* statements : {&safety.hazards, &safety.precautions}) {
        for (const report::HazardStatement& s : *statements) {
            lines.push_back(s.code + ": " + s.text);
        }
    }
    lines.insert(lines.end(), safety.cautions.begin(), safety.cautions.end());
    out += safety.signal_word.empty() ? "" : "  " + safety.signal_word + "\n";
    out += bullets(lines);
    return out + checks_text(draft.sheet) +
           fmt::format("To sign exactly this: --shown {}\n", draft.mark.substr(0, kShortMark));
}

void add_draft(Command noun, BookCommands& commands) {
    auto a = std::make_shared<SheetArguments>();
    const Command draft = add_command(
        noun, "draft", "What the sheet of a released batch would say, above all on safety",
        "mixing-sheet draft B26-0001-K --use-by 2027-12-31 --books books");
    add_order_options(draft, a->order);
    add_reading_options(draft, a->books);
    commands.add(draft, [a](const Streams& streams) -> Result<int> {
        BW_TRY(books, open_books(a->books, store::Mode::ReadOnly));
        BW_TRY(drafted, service::draft_mixing_sheet(books, a->order));
        if (a->books.json) {
            Json out = json_of_text(service::mixing_sheet_json(drafted.sheet));
            out["mark"] = drafted.mark;
            put(json_text(out), streams);
        } else if (!a->books.quiet) {
            put(draft_text(drafted), streams);
        }
        return 0;
    });
}

void add_sign(Command noun, BookCommands& commands) {
    auto a = std::make_shared<SheetArguments>();
    const Command sign = add_command(
        noun, "sign", "Signs the sheet, for what it says on safety, and keeps its papers",
        "mixing-sheet sign B26-0001-K --use-by 2027-12-31 --shown 9f3a6b1c22d04e57 --session q "
        "--password-file q.password");
    add_order_options(sign, a->order);
    sign.add_option("--shown", a->order.shown,
                    "Mark of what `mixing-sheet draft` showed; refused when it is no longer that")
        .required();
    add_writing_options(sign, a->books);
    commands.add(sign, [a](const Streams& streams) -> Result<int> {
        BW_TRY(signing, signing_from(a->books));
        BW_TRY(open, open_desk(a->books));
        BW_TRY(receipt, service::sign_mixing_sheet(open.desk, a->order, signing, open.intent));
        report_receipt(a->books, receipt,
                       fmt::format("Mixing sheet {} is signed and kept.", receipt.answer), streams);
        return 0;
    });
}

void add_print(Command noun, BookCommands& commands) {
    auto a = std::make_shared<PrintArguments>();
    const Command print = add_command(
        noun, "print", "Writes the kept bytes of a batch's newest signed sheet, and its data",
        "mixing-sheet print B26-0001-K --out sheet.pdf --books books");
    print.add_option("BATCH", a->batch, "Number of the batch").required();
    print.add_option("--out", a->out, "Where the PDF goes").check(named);
    print.add_option("--data", a->data, "Where its data as JSON go").check(named);
    print.add_option("--xlsx", a->xlsx, "Where its data as a workbook go").check(named);
    print.add_flag("--narrow", a->narrow, "A6, narrow, instead of A5");
    add_reading_options(print, a->books);
    commands.add(print, [a](const Streams& streams) -> Result<int> {
        if (a->out.empty() && a->data.empty() && a->xlsx.empty() && !a->books.json) {
            return fail(ProblemCode::BadInput, "nothing to write: give --out, --data or --xlsx");
        }
        BW_TRY(books, open_books(a->books, store::Mode::ReadOnly));
        BW_TRY(papers, service::mixing_papers(books, a->batch));
        BW_TRY(sheet, service::mixing_sheet_of_json(papers.json));
        io::Outputs outputs;
        if (!a->out.empty()) {
            BW_CHECK(outputs.add_text(a->out, a->narrow ? papers.narrow_pdf : papers.pdf));
        }
        if (!a->data.empty()) {
            BW_CHECK(outputs.add_text(a->data, papers.json));
        }
        if (!a->xlsx.empty()) {
            BW_CHECK(outputs.add_workbook(a->xlsx, service::mixing_sheet_sheets(sheet)));
        }
        BW_CHECK(outputs.publish());
        if (a->books.json) {
            put(papers.json, streams);
        } else if (!a->books.quiet) {
            put(summary_of(sheet) + fmt::format("  sheet {}, safety decided by {}\n",
                                                papers.is.id(), sheet.safety.decided_by),
                streams);
        }
        return 0;
    });
}

}  // namespace

void add_mixing_sheet_command(Command app, BookCommands& commands) {
    const Command noun =
        noun_of(app, "mixing-sheet", "End users' mixing sheets: draft, sign, print");
    add_draft(noun, commands);
    add_sign(noun, commands);
    add_print(noun, commands);
}

}  // namespace bw::cli
