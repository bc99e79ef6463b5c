// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <memory>

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "base/text.hpp"
#include "cli/books_options.hpp"
#include "io/outputs.hpp"
#include "service/mixing_sheets.hpp"

namespace bw::cli {
namespace {

struct SheetArguments {
    BooksOptions books;
    service::MixingOrder order;
    std::string out, data, xlsx;
    bool narrow = false;
};

Result<void> write_files(const SheetArguments& a, const report::MixingSheet& sheet) {
    io::Outputs outputs;
    if (!a.out.empty()) {
        BW_TRY(pdf, report::mixing_sheet_pdf(sheet, a.narrow ? report::MixingFormat::NarrowA6
                                                             : report::MixingFormat::A5));
        BW_CHECK(outputs.add_text(a.out, pdf));
    }
    if (!a.data.empty()) {
        BW_CHECK(outputs.add_text(a.data, service::mixing_sheet_json(sheet)));
    }
    if (!a.xlsx.empty()) {
        BW_CHECK(outputs.add_workbook(a.xlsx, service::mixing_sheet_sheets(sheet)));
    }
    return outputs.publish();
}

}  // namespace

void add_mixing_sheet_command(CLI::App& app, BookCommands& commands) {
    CLI::App& noun = noun_of(app, "mixing-sheet", "End users' mixing sheets: print");
    auto a = std::make_shared<SheetArguments>();
    CLI::App& print = add_command(
        noun, "print", "The sheet for whoever mixes the water, of a released batch",
        "mixing-sheet print B26-0001-K --use-by 2027-12-31 --safety-decided-by \"A. Person, "
        "2026-01-04\" --out sheet.pdf --books books");
    print.add_option("BATCH", a->order.batch, "Number of the batch")->required();
    print.add_option("--use-by", a->order.use_by, "Last day of the salt, 2027-12-31")->required();
    print
        .add_option("--safety-decided-by", a->order.safety_decided_by,
                    "Who decided what it says on safety, and when")
        ->required();
    print.add_option("--litres", a->order.litres, "Volumes that it gives amounts for")
        ->check(CLI::PositiveNumber);
    print.add_option("--keep", a->order.keep_h, "Hours that the finished water is to keep")
        ->check(CLI::PositiveNumber)
        ->capture_default_str();
    print.add_option("--out", a->out, "Where the PDF goes")->check(named);
    print.add_option("--data", a->data, "Where its data as JSON go")->check(named);
    print.add_option("--xlsx", a->xlsx, "Where its data as a workbook go")->check(named);
    print.add_flag("--narrow", a->narrow, "A6, narrow, instead of A5");
    add_reading_options(print, a->books);
    commands.add(print, [a](const Streams& streams) -> Result<int> {
        BW_TRY(books, open_books(a->books, store::Mode::ReadOnly));
        BW_TRY(sheet, service::mixing_sheet(books, a->order));
        BW_CHECK(write_files(*a, sheet));
        if (a->books.json) {
            put(service::mixing_sheet_json(sheet), streams);
        } else if (!a->books.quiet) {
            put(fmt::format("{}, batch {}: {} of salt per litre of finished water, {} per kg of "
                            "purified water\n  mix at {} to {} degC, stir {}, use within {}\n",
                            sheet.product, sheet.batch, sheet.salt_per_litre,
                            sheet.salt_per_kg_water, sheet.temperature_low, sheet.temperature_high,
                            sheet.stir_time, sheet.use_within),
                streams);
        }
        return 0;
    });
}

}  // namespace bw::cli
