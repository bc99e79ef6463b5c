// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <memory>

#include <fmt/format.h>

#include "base/text.hpp"
#include "cli/books_options.hpp"
#include "cli/json_values.inl"
#include "cli/table.hpp"
#include "io/material_file.hpp"
#include "service/suppliers.hpp"

namespace bw::cli {
namespace {

constexpr std::int64_t kMostRows = 10000;
constexpr const char* kNoLotTests =
    "The books hold no tests of lots, only of batches: what a supplier's certificate promised is "
    "not held against a measurement here. `batch explain` names a lot that would explain a batch.";

struct KeepArguments {
    BooksOptions books;
    works::Supplier supplier;
    std::string state = "approved";
};

Json supplier_json(const works::Supplier& s) {
    return {{"name", s.name},           {"contact", s.contact},
            {"materials", s.materials}, {"state", works::name(s.state)},
            {"reason", s.reason},       {"review_by", s.review_by}};
}

Result<int> keep_supplier(KeepArguments& a, const Streams& streams) {
    const auto state = works::from_word<works::SupplierState>(a.state);
    if (!state) {
        return fail(ProblemCode::UnknownName,
                    fmt::format("{} is no state of a supplier: write {}", base::quoted(a.state),
                                works::all_words<works::SupplierState>()),
                    {"", 0, "--state"});
    }
    a.supplier.state = *state;
    if (!a.supplier.review_by.empty() && !io::is_day(a.supplier.review_by)) {
        return fail(ProblemCode::BadInput, io::not_a_day(a.supplier.review_by),
                    {"", 0, "--review-by"});
    }
    BW_TRY(open, open_desk(a.books));
    BW_TRY(receipt, service::keep_supplier(open.desk, a.supplier, open.intent));
    report_receipt(a.books, receipt,
                   fmt::format("Supplier {} is in the books, {}.", a.supplier.name, a.state),
                   streams);
    return 0;
}

void add_keep(Command noun, BookCommands& commands) {
    auto a = std::make_shared<KeepArguments>();
    const Command keep =
        add_command(noun, "keep", "Keeps a supplier, or corrects one",
                    "supplier keep \"Invented salts\" --contact \"1 Invented Road\" "
                    "--material \"sodium chloride\" --review-by 2027-06-30 "
                    "--session s");
    keep.add_option("NAME", a->supplier.name, "As lots name the supplier").required();
    keep.add_option("--contact", a->supplier.contact, "How they are reached, free text");
    keep.add_option("--material", a->supplier.materials, "What they may supply; once for each")
        .required();
    keep.add_option("--state", a->state, works::all_words<works::SupplierState>());
    keep.add_option("--reason", a->supplier.reason,
                    "Why it is in that state; needed unless approved");
    keep.add_option(
        "--review-by", a->supplier.review_by,
        "Day by which it is looked at anew, needed unless stopped; after it, lots are received "
        "held");
    add_writing_options(keep, a->books);
    commands.add(keep,
                 [a](const Streams& streams) -> Result<int> { return keep_supplier(*a, streams); });
}

void put_view(const service::SupplierView& view, bool json, const Streams& streams) {
    const works::Supplier& s = view.supplier.is;
    Json rows = Json::array();
    TextTable table(
        {{{"lot"}}, {{"material"}}, {{"state"}}, {{"received"}}, {{"certificate"}}, {{"judged"}}});
    for (const works::Lot& lot : view.lots) {
        const std::string judged = lot.judged_by.empty()
                                       ? lot.judged_why
                                       : fmt::format("by {}: {}", lot.judged_by, lot.judged_why);
        rows.push_back({{"number", lot.number},
                        {"material", lot.material},
                        {"state", works::name(lot.state)},
                        {"received_at", lot.received_at},
                        {"certificate", lot.certificate},
                        {"judged_by", lot.judged_by},
                        {"judged_why", lot.judged_why}});
        table.add({lot.number, lot.material, std::string(works::name(lot.state)),
                   lot.received_at.substr(0, service::Desk::kDayLength),
                   lot.certificate.empty() ? "none"
                                           : lot.certificate.substr(0, service::Desk::kDayLength),
                   judged});
    }
    if (json) {
        Json out = supplier_json(s);
        out["lots"] = rows;
        out["note"] = kNoLotTests;
        put(json_text({{"version", 1}, {"supplier", out}}), streams);
        return;
    }
    put(fmt::format("Supplier {}, {}{}{}\n", s.name, works::name(s.state),
                    s.reason.empty() ? "" : ": " + s.reason,
                    s.review_by.empty() ? "" : "; to be reviewed by " + s.review_by) +
            (s.contact.empty() ? "" : "  contact: " + s.contact + "\n") +
            wrapped("  may supply: ", base::join_words(s.materials, "and")) +
            (view.lots.empty() ? "  no lots\n" : table.text()) + wrapped("  - ", kNoLotTests),
        streams);
}

void add_show(Command noun, BookCommands& commands) {
    struct Arguments {
        BooksOptions books;
        std::string name;
    };
    auto a = std::make_shared<Arguments>();
    const Command show =
        add_command(noun, "show", "A supplier and its lots, with how each was judged",
                    "supplier show \"Invented salts\" --books books");
    show.add_option("NAME", a->name, "Name of the supplier").required();
    add_reading_options(show, a->books);
    commands.add(show, [a](const Streams& streams) -> Result<int> {
        BW_TRY(books, open_books(a->books, store::Mode::ReadOnly));
        BW_TRY(view, service::show_supplier(books, a->name));
        put_view(view, a->books.json, streams);
        return 0;
    });
}

void add_list(Command noun, BookCommands& commands) {
    auto a = std::make_shared<BooksOptions>();
    const Command list =
        add_command(noun, "list", "All suppliers: state, review, what they may supply",
                    "supplier list --books books");
    add_reading_options(list, *a);
    commands.add(list, [a](const Streams& streams) -> Result<int> {
        BW_TRY(books, open_books(*a, store::Mode::ReadOnly));
        store::ListQuery query;
        query.limit = kMostRows;
        BW_TRY(suppliers, service::kept_list<works::Supplier>(books, query));
        Json rows = Json::array();
        std::string text;
        for (const auto& each : suppliers) {
            rows.push_back(supplier_json(each.is));
            text += fmt::format(
                "{}: {}{}\n", each.is.name, works::name(each.is.state),
                each.is.review_by.empty() ? "" : ", to be reviewed by " + each.is.review_by);
            text += wrapped("  may supply: ", base::join_words(each.is.materials, "and"));
        }
        put(a->json ? json_text({{"version", 1}, {"suppliers", rows}}) : text, streams);
        return 0;
    });
}

}  // namespace

void add_supplier_commands(Command app, BookCommands& commands) {
    const Command noun = noun_of(app, "supplier", "Suppliers: keep, show, list");
    add_keep(noun, commands);
    add_show(noun, commands);
    add_list(noun, commands);
}

}  // namespace bw::cli
