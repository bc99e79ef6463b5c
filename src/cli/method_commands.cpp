// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <memory>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "cli/books_options.hpp"
#include "cli/json_values.inl"
#include "service/methods_limits.hpp"
#include "service/shelves.hpp"
#include "service/test_files.hpp"

namespace bw::cli {
namespace {

constexpr int kDigits = 4;
constexpr std::int64_t kMostRows = 10000;

struct FileArguments {
    BooksOptions books;
    std::string file;
};

std::string method_text(const works::Method& m) {
    std::string out = fmt::format(
        "Method {} version {}: {} ({})\n  tests {} in {}\n  standard uncertainty of one result {} "
        "%, repeatability {} %{}\n  source: {}\n",
        m.id, m.number, m.title, works::name(m.state), fmt::join(m.analytes, ", "), m.unit,
        base::format_short(m.u_percent, kDigits),
        base::format_short(m.repeatability_percent, kDigits),
        m.between_runs_percent > 0
            ? fmt::format(", between runs {} %",
                          base::format_short(m.between_runs_percent, kDigits))
            : "",
        m.source);
    for (const works::CheckSample& c : m.checks) {
        out += fmt::format("  check sample {}: {} is {}, within {} %\n", c.name, c.analyte, c.value,
                           base::format_short(c.within_percent, kDigits));
    }
    return out;
}

void add_methods(Command app, BookCommands& commands) {
    const Command noun = noun_of(app, "method", "Methods of testing: keep, show, budget");
    auto a = std::make_shared<FileArguments>();
    const Command keep = add_command(noun, "keep", "Registers a method, or its next version",
                                     "method keep icp.toml --session a");
    keep.add_option("FILE", a->file, "File of kind \"method\"").required().check(named);
    add_writing_options(keep, a->books);
    commands.add(keep, [a](const Streams& streams) -> Result<int> {
        BW_TRY(document, io::read_document(a->file));
        BW_TRY(method, service::read_method(document));
        BW_TRY(open, open_desk(a->books));
        BW_CHECK(service::refuse_invented(*open.books, document));
        BW_TRY(receipt, service::keep_method(open.desk, method, open.intent));
        report_receipt(a->books, receipt, fmt::format("Method {} is kept.", receipt.answer),
                       streams);
        return 0;
    });
    add_method_budget(noun, commands);
    auto s = std::make_shared<FileArguments>();
    const Command show =
        add_command(noun, "show", "One method, or all", "method show M-07 --books books");
    show.add_option("METHOD", s->file, "Its number; none: all");
    add_reading_options(show, s->books);
    commands.add(show, [s](const Streams& streams) -> Result<int> {
        BW_TRY(books, open_books(s->books, store::Mode::ReadOnly));
        std::vector<works::Method> methods;
        if (!s->file.empty()) {
            BW_TRY(method, service::kept<works::Method>(books, s->file));
            methods.push_back(method.is);
        } else {
            store::ListQuery query;
            query.limit = kMostRows;
            BW_TRY(rows, service::kept_list<works::Method>(books, query));
            for (const auto& row : rows) {
                methods.push_back(row.is);
            }
        }
        Json out = Json::array();
        std::string text;
        for (const works::Method& m : methods) {
            out.push_back(json_of_text(service::record_text(m)));
            text += method_text(m);
        }
        put(s->books.json ? json_text({{"version", 1}, {"methods", out}}) : text, streams);
        return 0;
    });
}

std::string limits_text(const works::Limits& l) {
    std::string out = fmt::format("Limits {} of {}\n", l.number, l.product);
    TextTable table({{{"constituent"}}, {{"limits"}}});
    for (const works::Band& b : l.bands) {
        const bool typed = !b.low.empty() || !b.high.empty();
        table.add({b.symbol,
                   typed ? fmt::format("{} to {}", b.low.empty() ? "open" : b.low,
                                       b.high.empty() ? "open" : b.high)
                         : "target \u00B1 " +
                               base::format_short(b.percent > 0 ? b.percent : l.percent, kDigits) +
                               " %"});
    }
    out += table.text() + wrapped("  ", works::sentence_of_rule(l));
    if (l.sampling_percent > 0) {
        out += fmt::format("  one sample lies within {} % of the batch, standard uncertainty\n",
                           base::format_short(l.sampling_percent, kDigits));
    }
    if (l.approved) {
        out += fmt::format("  signed by {} ({}) at {}: {}\n", l.approved->name, l.approved->duty,
                           l.approved->at, l.why);
    }
    return out;
}

void add_limits(Command app, BookCommands& commands) {
    const Command noun = noun_of(app, "limits", "Acceptance limits of a product: keep, show");
    auto a = std::make_shared<FileArguments>();
    const Command keep = add_command(
        noun, "keep", "Signs limits with their decision rule, for batches tested from now on",
        "limits keep limits.toml --why \"first limits\" --session q --password-file q.password");
    keep.add_option("FILE", a->file, "File of kind \"limits\"").required().check(named);
    add_writing_options(keep, a->books);
    commands.add(keep, [a](const Streams& streams) -> Result<int> {
        BW_TRY(document, io::read_document(a->file));
        BW_TRY(limits, service::read_limits(document));
        BW_TRY(signing, signing_from(a->books));
        BW_TRY(open, open_desk(a->books));
        BW_CHECK(service::refuse_invented(*open.books, document));
        BW_TRY(receipt, service::keep_limits(open.desk, limits, signing, open.intent));
        report_receipt(a->books, receipt, fmt::format("Limits {} are signed.", receipt.answer),
                       streams);
        return 0;
    });
    auto s = std::make_shared<FileArguments>();
    const Command show = add_command(noun, "show", "The limits of a product as they stand",
                                     "limits show \"Raised reef\" --books books");
    show.add_option("PRODUCT", s->file, "Name of the product").required();
    add_reading_options(show, s->books);
    commands.add(show, [s](const Streams& streams) -> Result<int> {
        BW_TRY(books, open_books(s->books, store::Mode::ReadOnly));
        BW_TRY(limits, service::kept<works::Limits>(books, s->file));
        put(s->books.json ? json_text({{"version", 1},
                                       {"limits", json_of_text(service::record_text(limits.is))},
                                       {"rule_text", works::sentence_of_rule(limits.is)}})
                          : limits_text(limits.is),
            streams);
        return 0;
    });
}

}  // namespace

void add_method_commands(Command app, BookCommands& commands) {
    add_methods(app, commands);
    add_limits(app, commands);
}

}  // namespace bw::cli
