// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <memory>

#include <fmt/format.h>

#include "base/text.hpp"
#include "cli/books_options.hpp"
#include "cli/file_bytes.hpp"
#include "cli/json_values.inl"
#include "cli/results_command.hpp"
#include "io/table_file.hpp"
#include "service/results_import.hpp"

namespace bw::cli {
namespace {

constexpr int kRefused = 2;

struct ImportArguments {
    BooksOptions books;
    service::ImportOrder order;
    std::string file, map;
    std::vector<std::string> methods, portions;
    bool dry_run = false;
};

Result<std::pair<std::string, std::string>> pair_of(const std::string& option,
                                                    const std::string& text) {
    const std::size_t sign = text.rfind('=');
    if (sign == std::string::npos || sign == 0 || sign + 1 == text.size()) {
        return fail(ProblemCode::BadInput, fmt::format("{} is not NAME=VALUE", base::quoted(text)),
                    {"", 0, option});
    }
    return std::pair(text.substr(0, sign), text.substr(sign + 1));
}

Result<void> read_order(ImportArguments& a) {
    BW_TRY(bytes, io::read_table_bytes(a.file));
    BW_TRY(map, bytes_of(a.map, kMostAttached));
    a.order.bytes = std::move(bytes);
    a.order.map = std::move(map);
    const std::size_t folder = a.file.find_last_of('/');
    a.order.file_name = folder == std::string::npos ? a.file : a.file.substr(folder + 1);
    for (const std::string& text : a.methods) {
        if (text.find('=') == std::string::npos) {
            a.order.method = text;
            continue;
        }
        BW_TRY(pair, pair_of("--method", text));
        a.order.methods.push_back(pair);
    }
    for (const std::string& text : a.portions) {
        BW_TRY(pair, pair_of("--portion", text));
        a.order.portions.push_back(pair);
    }
    return {};
}

std::string far_apart(const std::vector<works::DuplicateRemark>& remarks) {
    std::string out;
    for (const works::DuplicateRemark& remark : remarks) {
        out += wrapped("  far apart: ", remark.sentence);
    }
    return out;
}

std::string far_from_wanted(const std::vector<works::ReadingDoubt>& doubts) {
    std::string out;
    for (const works::ReadingDoubt& doubt : doubts) {
        out += wrapped("  far from what is wanted: ", doubt.sentence);
    }
    return out;
}

Json sentences(const auto& remarks) {
    Json out = Json::array();
    for (const auto& remark : remarks) {
        out.push_back(remark.sentence);
    }
    return out;
}

void show(const ImportArguments& a, const service::ImportPlan& plan, const Streams& streams) {
    if (a.books.json) {
        put(json_text(
                {{"version", 1},
                 {"file", a.file},
                 {"committable", plan.committable()},
                 {"readings", plan.entries.size()},
                 {"problems", plan.problems},
                 {"notes", plan.notes},
                 {"far_apart", sentences(plan.duplicates)},
                 {"far_from_wanted", sentences(plan.far_from_wanted)},
                 {"run", plan.run.results.empty() ? Json(nullptr)
                                                  : json_of_text(service::record_text(plan.run))}}),
            streams);
    } else if (!a.books.quiet) {
        put(preview_text(plan.preview, a.file) +
                (plan.problems.empty()
                     ? fmt::format("\nResults that could be kept: {}; this was a dry run.\n",
                                   plan.entries.size())
                     : "\nNothing can be kept:\n" + bullets(plan.problems)) +
                dashes(plan.notes) + far_apart(plan.duplicates) +
                far_from_wanted(plan.far_from_wanted),
            streams);
    }
}

}  // namespace

void add_results_import(Command noun, BookCommands& commands) {
    auto a = std::make_shared<ImportArguments>();
    const Command import = add_command(
        noun, "import", "Results of a table, all of them or none",
        "results import icp.csv --map icp_map.toml --batch B26-0001-K --method M-07 --session a");
    import.add_option("FILE", a->file, "The table: comma-separated text or .xlsx")
        .required()
        .check(named);
    import.add_option("--map", a->map, "File of kind \"column-map\"").required().check(named);
    import.add_option("--batch", a->order.batch, "Refuse samples of any other batch");
    import.add_option("--method", a->methods, "Method of all, or ANALYTE=METHOD").required();
    import.add_option("--portion", a->portions, "NAME=PORTION: the test portion behind a name");
    import.add_flag("--dry-run", a->dry_run, "Say what would be kept, and keep nothing");
    add_writing_options(import, a->books);
    commands.add(import, [a](const Streams& streams) -> Result<int> {
        BW_CHECK(read_order(*a));
        BW_TRY(open, open_desk(a->books));
        if (a->dry_run) {
            BW_TRY(plan, service::plan_import(open.desk, a->order));
            show(*a, plan, streams);
            return plan.committable() ? 0 : kRefused;
        }
        BW_TRY(receipt, service::import_results(open.desk, a->order, open.intent));
        BW_TRY(run, service::kept<works::Run>(*open.desk.books, receipt.answer));
        BW_TRY(remarks, service::duplicates_of_run(*open.desk.books, run.is));
        BW_TRY(doubts, service::doubts_of_run(*open.desk.books, run.is));
        std::string apart = far_apart(remarks) + far_from_wanted(doubts);
        if (!apart.empty()) {
            apart.insert(0, "\n");
            apart.pop_back();  // the report of a receipt ends its line itself
        }
        report_receipt(
            a->books, receipt,
            fmt::format("Run {} is imported; somebody else checks it.", receipt.answer) + apart,
            streams);
        return 0;
    });
}

}  // namespace bw::cli
