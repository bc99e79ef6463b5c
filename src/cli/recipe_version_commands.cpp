// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <fstream>
#include <memory>
#include <sstream>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "cli/books_options.hpp"
#include "cli/goal_rows.hpp"
#include "service/papers.hpp"
#include "service/recipe_versions.hpp"
#include "store/digest.hpp"
#include "unit/factors.hpp"

namespace bw::cli {
namespace {

constexpr int kDigits = 6;
constexpr std::int64_t kMostRows = 10000;

struct VersionArguments {
    BooksOptions books;
    std::string id;
    std::string shown;
    std::string target, recipe;
};

Result<std::string> text_of(const std::string& file) {
    BW_CHECK(io::read_document(file));  // says what is wrong with it
    std::ifstream in(file, std::ios::binary);
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

void add_keep(Command noun, BookCommands& commands) {
    auto a = std::make_shared<VersionArguments>();
    const Command keep =
        add_command(noun, "keep", "Takes a recipe into the books as a product's next version",
                    "recipe keep \"Raised reef\" --target examples/works/raised.toml "
                    "--recipe raised-recipe.toml --why \"first version\" --session s");
    keep.add_option("PRODUCT", a->id, "Name of the product").required();
    keep.add_option("--target", a->target, "File of kind \"target\"").required().check(named);
    keep.add_option("--recipe", a->recipe, "File of kind \"recipe\", from `recipe solve --out`")
        .required()
        .check(named);
    add_writing_options(keep, a->books);
    commands.add(keep, [a](const Streams& streams) -> Result<int> {
        BW_TRY(target, text_of(a->target));
        BW_TRY(recipe, text_of(a->recipe));
        BW_TRY(open, open_desk(a->books));
        BW_TRY(receipt, service::draft_recipe(open.desk, {a->id, target, recipe}, open.intent));
        report_receipt(
            a->books, receipt,
            fmt::format("Recipe {} is a draft; `recipe offer` comes next.", receipt.answer),
            streams);
        return 0;
    });
}

void add_move(Command noun, BookCommands& commands, const std::string& verb, works::VersionState to,
              const std::string& what) {
    auto a = std::make_shared<VersionArguments>();
    const Command command =
        add_command(noun, verb, what, fmt::format("recipe {} \"Raised reef/1\" --session s", verb));
    command.add_option("VERSION", a->id, "Product and number: \"Raised reef/1\"").required();
    add_writing_options(command, a->books);
    commands.add(command, [a, to](const Streams& streams) -> Result<int> {
        BW_TRY(open, open_desk(a->books));
        BW_TRY(receipt, service::move_recipe(open.desk, a->id, to, open.intent));
        report_receipt(a->books, receipt, fmt::format("Recipe {} is {}.", a->id, works::name(to)),
                       streams);
        return 0;
    });
}

void add_approve(Command noun, BookCommands& commands) {
    auto a = std::make_shared<VersionArguments>();
    const Command command = add_command(
        noun, "approve", "Signs a version and puts it in use in place of the one before",
        "recipe approve \"Raised reef/1\" --shown 9f3a6b1c22d04e57 --session q.session "
        "--password-file q.password");
    command.add_option("VERSION", a->id, "Product and number: \"Raised reef/1\"").required();
    command
        .add_option("--shown", a->shown,
                    "Mark of what `recipe show` showed; refused when it is no longer that")
        .required();
    add_writing_options(command, a->books);
    commands.add(command, [a](const Streams& streams) -> Result<int> {
        BW_TRY(signing, signing_from(a->books));
        BW_TRY(open, open_desk(a->books));
        BW_TRY(receipt, service::approve_recipe(open.desk, a->id, a->shown, signing, open.intent));
        BW_TRY(version, service::kept<works::RecipeVersion>(*open.books, a->id));
        BW_TRY(succession, service::succession_of(*open.books, version.is));
        const std::string retired =
            succession.replaced.empty() ? "" : fmt::format("; {} is retired", succession.replaced);
        report_receipt(a->books, receipt,
                       fmt::format("Recipe {} is signed and in use{}; content mark {}", a->id,
                                   retired, receipt.answer.substr(0, service::kShortMark)),
                       streams);
        return 0;
    });
}

/// What a signature of the version is of.
std::string mark_of(const works::RecipeVersion& version) {
    return store::sha256_hex(service::signed_text(version));
}

/// One version with what is read before it is approved.
struct ShownVersion {
    works::RecipeVersion is;
    std::vector<service::GoalRow> goals;
    service::Succession succession;
};

Result<ShownVersion> shown_version(const store::Books& books, const std::string& id) {
    BW_TRY(version, service::kept<works::RecipeVersion>(books, id));
    BW_TRY(goals, service::water_against_target(version.is));
    BW_TRY(succession, service::succession_of(books, version.is));
    return ShownVersion{std::move(version.is), std::move(goals), std::move(succession)};
}

std::string version_text(const ShownVersion& of) {
    const works::RecipeVersion& v = of.is;
    TextTable parts({{{"material"}},
                     {{"share", "%"}, Align::Decimal},
                     {{"dose", "g/kg water"}, Align::Decimal}});
    for (const works::RecipeShare& share : v.shares) {
        parts.add({share.material, base::format_short(share.share * unit::kPercent, kDigits),
                   base::format_short(share.share * v.blend_g_per_kg_purified_water, kDigits)});
    }
    std::string out =
        fmt::format("{}, {}{}\n\n{}\n  {} g of blend per kg of purified water; {} g/kg dissolved\n",
                    v.id(), works::name(v.state), v.invented ? " (invented)" : "", parts.text(),
                    base::format_short(v.blend_g_per_kg_purified_water, kDigits),
                    base::format_short(v.dissolved_g_per_kg, kDigits));
    out += "\n" + goals_text(of.goals) + "\n";
    out += fmt::format("  drafted by {}: {}\n", v.drafted_by, v.why);
    if (!of.succession.replaces.empty()) {
        out += fmt::format("  approving it retires {}, which is in use\n", of.succession.replaces);
    }
    if (!of.succession.replaced.empty()) {
        out += fmt::format("  before it {} was in use, which is retired\n", of.succession.replaced);
    }
    if (v.approved) {
        out += fmt::format("  signed by {} ({}), {}, {}; content mark {}\n", v.approved->name,
                           v.approved->duty, v.approved->meaning, v.approved->at, v.approved->mark);
    } else {
        out += fmt::format("  to sign exactly this: --shown {}\n",
                           mark_of(v).substr(0, service::kShortMark));
    }
    return out;
}

void add_show(Command noun, BookCommands& commands) {
    auto a = std::make_shared<VersionArguments>();
    const Command show = add_command(noun, "show", "One version of the books, or all of them",
                                     "recipe show \"Raised reef/1\" --books books");
    show.add_option("VERSION", a->id, "Product and number; none: a list");
    add_reading_options(show, a->books);
    commands.add(show, [a](const Streams& streams) -> Result<int> {
        BW_TRY(books, open_books(a->books, store::Mode::ReadOnly));
        if (!a->id.empty()) {
            BW_TRY(version, shown_version(books, a->id));
            put(a->books.json
                    ? json_text({{"version", 1},
                                 {"mark", mark_of(version.is)},
                                 {"recipe", json_of_text(service::record_text(version.is))},
                                 {"water_against_target", goals_json(version.goals)},
                                 {"replaces", version.succession.replaces},
                                 {"replaced", version.succession.replaced}})
                    : version_text(version),
                streams);
            return 0;
        }
        store::ListQuery query;
        query.limit = kMostRows;
        BW_TRY(versions, service::kept_list<works::RecipeVersion>(books, query));
        Json rows = Json::array();
        TextTable table({{{"recipe"}}, {{"state"}}, {{"why"}}});
        for (const auto& v : versions) {
            rows.push_back(
                {{"id", v.is.id()}, {"state", works::name(v.is.state)}, {"why", v.is.why}});
            table.add({v.is.id(), std::string(works::name(v.is.state)), v.is.why});
        }
        put(a->books.json ? json_text({{"version", 1}, {"recipes", rows}}) : table.text(), streams);
        return 0;
    });
}

}  // namespace

void add_recipe_version_commands(Command app, BookCommands& commands) {
    const Command noun = noun_of(app, "recipe", "Recipes");
    add_keep(noun, commands);
    add_move(noun, commands, "offer", works::VersionState::Offered, "Offers a draft for approval");
    add_move(noun, commands, "take-back", works::VersionState::Draft, "Takes an offer back");
    add_move(noun, commands, "retire", works::VersionState::Retired,
             "Ends the use of a version: no batch is planned by it any more");
    add_approve(noun, commands);
    add_show(noun, commands);
}

}  // namespace bw::cli
