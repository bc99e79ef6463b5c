// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <fstream>
#include <memory>
#include <sstream>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "cli/books_options.hpp"
#include "cli/json_values.inl"
#include "io/material_file.hpp"
#include "service/papers.hpp"
#include "service/shelves.hpp"
#include "unit/unit_table.hpp"

namespace bw::cli {
namespace {

constexpr int kDigits = 6;
constexpr std::int64_t kMostRows = 10000;

struct FileArguments {
    BooksOptions books;
    std::string file;
    std::string certificate;
};

Result<std::vector<store::Attachment>> certificate_from(const std::string& file) {
    if (file.empty()) {
        return std::vector<store::Attachment>{};
    }
    std::ifstream in(file, std::ios::binary);
    std::ostringstream bytes;
    if (!in || !(bytes << in.rdbuf())) {
        return fail(ProblemCode::BadInput, fmt::format("{} cannot be read", base::quoted(file)),
                    {"", 0, "--certificate"});
    }
    const std::string name = file.substr(file.find_last_of('/') + 1);
    const bool pdf = bytes.str().starts_with("%PDF");
    return std::vector<store::Attachment>{
        {name, pdf ? service::kPdf : "application/octet-stream", bytes.str()}};
}

Result<double> kg_of(const std::string& option, const std::string& text) {
    const auto typed = unit::parse_quantity(text, "kg");
    if (!typed || typed->unit.dimension != unit::Dimension::Mass) {
        return fail(ProblemCode::BadUnit,
                    fmt::format("{} is no mass: write it with g or kg", base::quoted(text)),
                    {"", 0, option});
    }
    return typed->value();
}

void add_materials(Command app, BookCommands& commands) {
    const Command noun = noun_of(app, "material", "Materials in the books: keep");
    auto a = std::make_shared<FileArguments>();
    const Command keep = add_command(noun, "keep", "Takes the materials of a file into the books",
                                     "material keep examples/works/materials.toml --session s");
    keep.add_option("FILE", a->file, "File of kind \"materials\"").required().check(named);
    add_writing_options(keep, a->books);
    commands.add(keep, [a](const Streams& streams) -> Result<int> {
        BW_TRY(document, io::read_document(a->file));
        BW_TRY(open, open_desk(a->books));
        BW_TRY(receipt, service::keep_materials(open.desk, document, open.intent));
        report_receipt(a->books, receipt, "The materials are in the books.", streams);
        return 0;
    });
}

void add_scales(Command app, BookCommands& commands) {
    struct Arguments {
        BooksOptions books;
        works::Scale scale;
        std::string step, capacity, repeatability, state = "in service";
    };
    const Command noun = noun_of(app, "scale", "Scales: keep");
    auto a = std::make_shared<Arguments>();
    const Command keep =
        add_command(noun, "keep", "Registers a scale, or changes one",
                    "scale keep W2 --step \"10 g\" --capacity \"60 kg\" --session s");
    keep.add_option("ID", a->scale.id, "As it stands on the scale").required();
    keep.add_option("--step", a->step, "Step of its display, \"10 g\"").required();
    keep.add_option("--capacity", a->capacity, "What it carries, \"60 kg\"").required();
    keep.add_option("--repeatability", a->repeatability, "Its standard deviation, \"5 g\"");
    keep.add_option("--checked-until", a->scale.checked_until, "Last day of its check");
    keep.add_option("--state", a->state, works::all_words<works::ServiceState>());
    add_writing_options(keep, a->books);
    commands.add(keep, [a](const Streams& streams) -> Result<int> {
        BW_TRY(step, kg_of("--step", a->step));
        BW_TRY(capacity, kg_of("--capacity", a->capacity));
        a->scale.step_kg = step;
        a->scale.capacity_kg = capacity;
        if (!a->repeatability.empty()) {
            BW_TRY(sd, kg_of("--repeatability", a->repeatability));
            a->scale.repeatability_kg = sd;
        }
        const auto state = works::from_word<works::ServiceState>(a->state);
        if (!state) {
            return fail(ProblemCode::UnknownName,
                        fmt::format("{} is no state of a scale: write {}", base::quoted(a->state),
                                    works::all_words<works::ServiceState>()),
                        {"", 0, "--state"});
        }
        a->scale.state = *state;
        if (!a->scale.checked_until.empty() && !io::is_day(a->scale.checked_until)) {
            return fail(ProblemCode::BadInput, io::not_a_day(a->scale.checked_until),
                        {"", 0, "--checked-until"});
        }
        BW_TRY(open, open_desk(a->books));
        BW_TRY(receipt, service::keep_scale(open.desk, a->scale, open.intent));
        report_receipt(
            a->books, receipt,
            fmt::format("Scale {} is in the books; it weighs well from {} kg on.", a->scale.id,
                        base::format_short(works::least_well_weighed_kg(a->scale), kDigits)),
            streams);
        return 0;
    });
}

void add_judgement(Command noun, BookCommands& commands, const std::string& verb,
                   works::LotState to, const std::string& what) {
    auto a = std::make_shared<FileArguments>();
    const Command command = add_command(noun, verb, what,
                                        fmt::format("lot {} A26-0219 --why \"assay as certified\" "
                                                    "--session s",
                                                    verb));
    command.add_option("LOT", a->file, "Number of the lot").required();
    add_writing_options(command, a->books);
    commands.add(command, [a, to](const Streams& streams) -> Result<int> {
        BW_TRY(open, open_desk(a->books));
        BW_TRY(receipt, service::judge_lot(open.desk, a->file, to, open.intent));
        report_receipt(a->books, receipt, fmt::format("Lot {} is {}.", a->file, works::name(to)),
                       streams);
        return 0;
    });
}

void add_lot_list(Command noun, BookCommands& commands) {
    auto a = std::make_shared<BooksOptions>();
    const Command list = add_command(noun, "list", "All lots: state, what is left, use by",
                                     "lot list --books books");
    add_reading_options(list, *a);
    commands.add(list, [a](const Streams& streams) -> Result<int> {
        BW_TRY(books, open_books(*a, store::Mode::ReadOnly));
        store::ListQuery query;
        query.limit = kMostRows;
        BW_TRY(lots, service::kept_list<works::Lot>(books, query));
        Json rows = Json::array();
        TextTable table({{{"lot"}},
                         {{"material"}},
                         {{"state"}},
                         {{"left", "kg"}, Align::Decimal},
                         {{"use by"}}});
        for (const auto& lot : lots) {
            BW_TRY(stock, service::kept<works::Stock>(books, lot.is.number));
            rows.push_back({{"number", lot.is.number},
                            {"material", lot.is.material},
                            {"state", works::name(lot.is.state)},
                            {"received_kg", lot.is.quantity_kg},
                            {"left_kg", stock.is.left_kg()},
                            {"use_by", lot.is.use_by}});
            table.add({lot.is.number, lot.is.material, std::string(works::name(lot.is.state)),
                       base::format_short(stock.is.left_kg(), kDigits), lot.is.use_by});
        }
        if (a->json || !a->quiet) {
            put(a->json ? json_text({{"version", 1}, {"lots", rows}}) : table.text(), streams);
        }
        return 0;
    });
}

void add_lots(Command app, BookCommands& commands) {
    const Command noun = noun_of(app, "lot", "Lots: receive, accept, hold, refuse, end, list");
    auto a = std::make_shared<FileArguments>();
    const Command receive =
        add_command(noun, "receive", "Receives the lots of a file; nobody weighs them yet",
                    "lot receive examples/first_batch/lots.toml --session s");
    receive.add_option("FILE", a->file, "File of kind \"lots\"").required().check(named);
    receive.add_option("--certificate", a->certificate,
                       "The supplier's certificate: kept as it is, with its SHA-256");
    add_writing_options(receive, a->books);
    commands.add(receive, [a](const Streams& streams) -> Result<int> {
        BW_TRY(document, io::read_document(a->file));
        BW_TRY(certificate, certificate_from(a->certificate));
        BW_TRY(open, open_desk(a->books));
        const std::size_t lots = document.root.find("lot")->array()->size();
        BW_TRY(receipt, service::receive_lots(open.desk, document, certificate, open.intent));
        report_receipt(
            a->books, receipt,
            fmt::format("{}; somebody else accepts {}.{}{}",
                        lots == 1 ? "1 lot is received, whatever state the file gives it"
                                  : fmt::format("{} lots are received, whatever state the file "
                                                "gives them",
                                                lots),
                        lots == 1 ? "it" : "them", receipt.answer.empty() ? "" : "\n",
                        receipt.answer),
            streams);
        return 0;
    });
    add_judgement(noun, commands, "accept", works::LotState::Accepted,
                  "Accepts a lot: it may be weighed");
    add_judgement(noun, commands, "hold", works::LotState::OnHold,
                  "Holds a lot until it is known what is with it");
    add_judgement(noun, commands, "refuse", works::LotState::Refused, "Refuses a lot for good");
    add_judgement(noun, commands, "end", works::LotState::UsedUp, "Says that a lot is used up");
    add_lot_list(noun, commands);
}

}  // namespace

void add_shelf_commands(Command app, BookCommands& commands) {
    add_materials(app, commands);
    add_scales(app, commands);
    add_lots(app, commands);
}

}  // namespace bw::cli
