// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// recipe sweep: many targets, lots and prices into one folder, a file for each case, by as many
// processes as there are shards.
#include "cli/recipe_sweep_command.hpp"

#include <atomic>
#include <cmath>
#include <filesystem>
#include <mutex>
#include <set>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "cli/answer.hpp"
#include "cli/file_bytes.hpp"
#include "cli/json_values.inl"
#include "cli/progress.hpp"
#include "io/outputs.hpp"
#include "io/sheet.hpp"
#include "service/in_parts.hpp"
#include "service/recipe_sweep.hpp"

namespace bw::cli {
namespace {

namespace fs = std::filesystem;
using service::Shard;
using service::SweepAnswer;
using service::SweepCase;
using service::SweepRequest;

/// "MATERIAL=0.8,1,1.2"
Result<service::PriceSteps> price_steps(const std::string& text) {
    const auto equals = text.rfind('=');
    service::PriceSteps out;
    out.material = std::string(base::trim(std::string_view(text).substr(0, equals)));
    const auto wrong = [&](const std::string& why) {
        return fail(
            ProblemCode::BadInput,
            fmt::format("{}: {}: write \"sodium chloride=0.8,1,1.2\"", base::quoted(text), why),
            {"", 0, "--price"});
    };
    if (equals == std::string::npos || out.material.empty()) {
        return wrong("a material and its factors are wanted");
    }
    std::string_view rest = std::string_view(text).substr(equals + 1);
    while (true) {
        const auto comma = rest.find(',');
        const auto factor = base::parse_number(base::trim(rest.substr(0, comma)));
        if (!factor) {
            return wrong("a factor is not a number");
        }
        out.factors.push_back(*factor);
        if (comma == std::string_view::npos) {
            return out;
        }
        rest.remove_prefix(comma + 1);
    }
}

/// "2/8"
Result<Shard> shard_of(const std::string& text) {
    const auto slash = text.find('/');
    constexpr double kMost = 1e6;
    if (slash != std::string::npos) {
        const auto k = base::parse_number(std::string_view(text).substr(0, slash));
        const auto n = base::parse_number(std::string_view(text).substr(slash + 1));
        if (k && n && *k >= 1 && *k <= *n && *n <= kMost && *k == std::floor(*k) &&
            *n == std::floor(*n)) {
            return Shard{static_cast<std::size_t>(*k), static_cast<std::size_t>(*n)};
        }
    }
    return fail(ProblemCode::BadInput,
                fmt::format("{} is no share of the work: write \"2/8\" for the second of eight",
                            base::quoted(text)),
                {"", 0, "--shard"});
}

Result<SweepRequest> request_of(const RecipeSweepArguments& a) {
    SweepRequest out;
    for (const std::string& text : a.prices) {
        BW_TRY(steps, price_steps(text));
        out.prices.push_back(std::move(steps));
    }
    BW_TRY(targets, io::read_documents(a.targets));
    BW_TRY(materials, io::read_documents(a.materials));
    BW_TRY(lots, io::read_documents(a.lots));
    out.targets = std::move(targets);
    out.materials = std::move(materials);
    out.lots = std::move(lots);
    out.draws = a.draws;
    out.seed = a.seed;
    return out;
}

std::string case_json(const SweepRequest& r, const SweepCase& of, const SweepAnswer& answer) {
    Json prices = Json::array(), parts = Json::array();
    for (std::size_t i = 0; i < r.prices.size(); ++i) {
        prices.push_back({{"material", r.prices[i].material}, {"factor", of.factors[i]}});
    }
    for (const SweepAnswer::Part& part : answer.parts) {
        parts.push_back(
            {{"material", part.material}, {"lot", part.lot}, {"share", json_number(part.share)}});
    }
    return json_text({{"version", 1},
                      {"case", of.id},
                      {"target", answer.target},
                      {"target_file", r.targets[of.target].name},
                      {"lots_file", of.lots ? Json(r.lots[*of.lots].name) : Json(nullptr)},
                      {"prices", prices},
                      {"draws", r.draws},
                      {"seed", r.seed},
                      {"solved", answer.solved},
                      {"currency", answer.currency},
                      {"cost_per_t_blend", json_number(answer.cost_per_t_blend)},
                      {"all_inside", json_number(answer.all_inside)},
                      {"parts", parts},
                      {"why", answer.why}});
}

/// Whether a file holds what case_json() writes.
bool sound(const Json& j, const SweepCase& of) {
    const auto holds = [&](const char* key, auto is) { return j.contains(key) && is(j.at(key)); };
    const auto text = [](const Json& x) { return x.is_string(); };
    const auto number = [](const Json& x) { return x.is_number() || x.is_null(); };
    return j.is_object() && holds("case", text) && j.at("case") == of.id &&
           holds("solved", [](const Json& x) { return x.is_boolean(); }) &&
           holds("currency", text) && holds("cost_per_t_blend", number) &&
           holds("all_inside", number) && holds("why", text) &&
           holds("parts", [](const Json& x) { return x.is_array(); });
}

/// The folder that all shards of a sweep write into.
class Folder {
public:
    explicit Folder(std::string path) : path_(std::move(path)) {}
    [[nodiscard]] std::string file(const SweepCase& of) const {
        return (fs::path(path_) / (of.id + ".json")).string();
    }
    [[nodiscard]] Result<void> make() const {
        std::error_code why;
        fs::create_directories(path_, why);
        return why || !fs::is_directory(path_)
                   ? fail(ProblemCode::Disk,
                          fmt::format("the folder cannot be made: {}",
                                      why ? why.message() : "a file stands there"),
                          {path_, 0, "--into"})
                   : Result<void>();
    }
    /// What a case was answered; nothing where it has not been yet.
    [[nodiscard]] Result<std::optional<Json>> answer(const SweepCase& of) const {
        if (!fs::exists(file(of))) {
            return std::optional<Json>();
        }
        BW_TRY(bytes, bytes_of(file(of), io::kLargestFile));
        Json out = Json::parse(bytes, nullptr, false);
        if (!sound(out, of)) {
            return fail(ProblemCode::BadInput,
                        "this is no answer of a sweep: take the file away and it is worked out "
                        "anew",
                        {file(of), 0, ""});
        }
        return std::optional<Json>(std::move(out));
    }

private:
    std::string path_;
};

/// Works out the cases of a shard that nobody has answered yet; how many those were.
Result<std::size_t> work(const SweepRequest& request, const std::vector<SweepCase>& cases,
                         const Shard& shard, const Folder& folder, Progress& progress) {
    std::vector<const SweepCase*> open;
    std::set<std::string> ids;  // files that say the same are one case
    for (std::size_t i = 0; i < cases.size(); ++i) {
        if (shard.holds(i) && !fs::exists(folder.file(cases[i])) &&
            ids.insert(cases[i].id).second) {
            open.push_back(&cases[i]);
        }
    }
    std::atomic<std::size_t> worked = 0;
    std::mutex one_at_a_time;
    std::optional<Problem> wrong;
    std::atomic<std::size_t> done = 0, next = 0;
    service::in_parts(open.size(), 0, [&](std::size_t, std::size_t) {
        for (std::size_t i = next++; i < open.size(); i = next++) {
            if (fs::exists(folder.file(*open[i]))) {
                ++done;  // another process has answered it meanwhile
                continue;
            }
            ++worked;
            auto answer = service::sweep_case(request, *open[i]);
            Result<void> kept;
            if (answer) {
                io::Outputs outputs;
                kept =
                    outputs.add_text(folder.file(*open[i]), case_json(request, *open[i], *answer));
                kept = kept ? outputs.publish() : kept;
            }
            const std::lock_guard lock(one_at_a_time);
            if (!answer || !kept) {
                wrong = answer ? kept.error() : answer.error();
                next = open.size();
                return;
            }
            static_cast<void>(
                progress.tell(static_cast<double>(++done) / static_cast<double>(open.size())));
        }
    });
    if (wrong) {
        return tl::make_unexpected(std::move(*wrong));
    }
    return worked.load();
}

struct Row {
    SweepCase of;
    std::optional<Json> answer;
};

std::string table_text(const SweepRequest& r, const std::vector<Row>& rows) {
    std::vector<Column> columns{{{"target", ""}, Align::Left}};
    if (!r.lots.empty()) {
        columns.push_back({{"lots", ""}, Align::Left});
    }
    for (const service::PriceSteps& steps : r.prices) {
        columns.push_back({{steps.material, "price times"}, Align::Decimal});
    }
    columns.push_back({{"cost", "per t of blend"}, Align::Decimal});
    columns.push_back({{"all inside", "of 100"}, Align::Right});
    columns.push_back({{"", ""}, Align::Left});
    TextTable table(columns);
    constexpr int kDigits = 3, kPlaces = 2;
    constexpr double kPercent = 100;
    for (const Row& row : rows) {
        std::vector<std::string> cells{r.targets[row.of.target].name};
        if (row.of.lots) {
            cells.push_back(r.lots[*row.of.lots].name);
        }
        for (const double factor : row.of.factors) {
            cells.push_back(base::format_exact(factor));
        }
        const bool solved = row.answer && row.answer->value("solved", false);
        const auto number = [&](const char* key) {
            return solved && row.answer->at(key).is_number()
                       ? std::optional(row.answer->at(key).get<double>())
                       : std::nullopt;
        };
        const auto cost = number("cost_per_t_blend"), inside = number("all_inside");
        cells.push_back(cost ? base::format_places(*cost, kPlaces) + " " +
                                   row.answer->value("currency", "")
                             : "");
        cells.push_back(inside ? base::format_short(*inside * kPercent, kDigits) : "");
        cells.emplace_back(!row.answer ? "not worked out yet" : solved ? "" : "no recipe");
        table.add(cells);
    }
    return table.text();
}

/// Why cases have no recipe, each reason once with the number of cases that it holds for.
std::vector<std::string> reasons(const std::vector<Row>& rows) {
    std::vector<std::pair<std::string, int>> found;
    for (const Row& row : rows) {
        const std::string why = row.answer ? row.answer->value("why", "") : "";
        if (why.empty()) {
            continue;
        }
        const auto known = std::ranges::find(found, why, &std::pair<std::string, int>::first);
        if (known == found.end()) {
            found.emplace_back(why, 1);
        } else {
            ++known->second;
        }
    }
    std::vector<std::string> out;
    out.reserve(found.size());
    for (const auto& [why, cases] : found) {
        out.push_back(fmt::format("no recipe in {} case{}: {}", cases, cases == 1 ? "" : "s", why));
    }
    return out;
}

std::string csv_text(const SweepRequest& r, const std::vector<Row>& rows) {
    io::Sheet sheet{"sweep", {"case", "target", "lots"}, {}};
    for (const service::PriceSteps& steps : r.prices) {
        sheet.head.push_back("price of " + base::one_line(steps.material) + ", times");
    }
    for (const char* name :
         {"solved", "currency", "cost per t of blend", "all inside", "why no recipe"}) {
        sheet.head.emplace_back(name);
    }
    for (const Row& row : rows) {
        std::vector<io::Cell> cells{row.of.id, r.targets[row.of.target].name,
                                    row.of.lots ? r.lots[*row.of.lots].name : std::string()};
        for (const double factor : row.of.factors) {
            cells.emplace_back(factor);
        }
        const bool solved = row.answer && row.answer->value("solved", false);
        cells.emplace_back(std::string(!row.answer ? "" : solved ? "yes" : "no"));
        cells.emplace_back(solved ? row.answer->value("currency", "") : std::string());
        for (const char* key : {"cost_per_t_blend", "all_inside"}) {
            if (solved && row.answer->at(key).is_number()) {
                cells.emplace_back(row.answer->at(key).get<double>());
            } else {
                cells.emplace_back(std::string());
            }
        }
        cells.emplace_back(row.answer ? row.answer->value("why", "") : std::string());
        sheet.rows.push_back(std::move(cells));
    }
    return io::delimited(sheet);
}

struct Outcome {
    SweepRequest request;
    std::vector<Row> rows;
    std::size_t worked = 0, open = 0, without = 0;
};

Result<Outcome> outcome_of(const RecipeSweepArguments& a, const Streams& streams) {
    Outcome out;
    BW_TRY(shard, shard_of(a.shard));
    BW_TRY(request, request_of(a));
    out.request = std::move(request);
    BW_TRY(cases, service::sweep_cases(out.request));
    if (!a.csv.empty() && io::same_file(fs::path(a.csv).parent_path().string(), a.into)) {
        return fail(ProblemCode::BadInput,
                    "the table would lie among the cases: name another folder for it",
                    {"", 0, "--csv"});
    }
    const Folder folder(a.into);
    BW_CHECK(folder.make());
    {
        Progress progress(streams, !a.quiet, "cases");
        BW_TRY(worked, work(out.request, cases, shard, folder, progress));
        out.worked = worked;
    }
    for (SweepCase& of : cases) {
        BW_TRY(answer, folder.answer(of));
        out.open += answer ? 0U : 1U;
        out.without += answer && !answer->value("solved", false) ? 1U : 0U;
        out.rows.push_back({std::move(of), std::move(answer)});
    }
    return out;
}

std::string json_of(const Outcome& o) {
    Json rows = Json::array();
    for (const Row& row : o.rows) {
        Json one = row.answer ? *row.answer : Json{{"case", row.of.id}, {"solved", nullptr}};
        // A case is kept by what its files say; here they are called what they are called now.
        one["target_file"] = o.request.targets[row.of.target].name;
        one["lots_file"] = row.of.lots ? Json(o.request.lots[*row.of.lots].name) : Json(nullptr);
        rows.push_back(std::move(one));
    }
    return json_text({{"version", 1},
                      {"worked_out_now", o.worked},
                      {"still_open", o.open},
                      {"without_recipe", o.without},
                      {"cases", rows}});
}

}  // namespace

Command add_recipe_sweep(Command recipe, RecipeSweepArguments& a) {
    const Command sweep = recipe.add_subcommand(
        "sweep", "Recipes for many targets, lots and prices, resumable and in shares");
    sweep.add_option("TARGET", a.targets, "Files of kind \"target\"").check(named).required();
    sweep.add_option("--materials", a.materials, "Files of kind \"materials\": what may be bought")
        .check(named)
        .required();
    sweep.add_option("--lots", a.lots, "Files of kind \"lots\", each a case of its own")
        .check(named);
    sweep.add_option("--price", a.prices,
                     "Factors of a material's price, \"sodium chloride=0.8,1,1.2\"; once for each "
                     "material, all combinations are worked out");
    sweep
        .add_option("--into", a.into,
                    "Folder with a file for each case; what is there already is not worked out "
                    "again")
        .check(named)
        .required();
    sweep.add_option("--shard", a.shard, "This process's share of the cases, \"2/8\"")
        .capture_default_str();
    constexpr std::uint64_t kMostDraws = 10'000'000;
    sweep.add_option("--draws", a.draws, "Draws of the lots' uncertainty")
        .check_range(std::uint64_t{100}, kMostDraws)
        .capture_default_str();
    sweep.add_option("--seed", a.seed, "Seed of the draws").capture_default_str();
    sweep.add_option("--csv", a.csv, "Write all cases as comma-separated text").check(named);
    add_output_flags(sweep, a.json, a.quiet, true);
    sweep.footer(
        "Example:\n  brinewright recipe sweep examples/works/natural.toml "
        "examples/works/raised.toml --materials examples/works/materials.toml --price "
        "\"sodium chloride=0.8,1,1.2\" --into sweep --shard 1/2\n\n"
        "Exit codes: 0 every case has a recipe; 1 some have none, or other shards still have to "
        "work them out; 2 bad input; 3 a file could not be read or written.");
    return sweep;
}

int recipe_sweep(const RecipeSweepArguments& a, const Streams& streams) {
    const auto outcome = outcome_of(a, streams);
    if (!outcome) {
        return complain_of(as_option(outcome.error()), streams);
    }
    std::vector<std::string> read = a.targets;
    read.insert(read.end(), a.materials.begin(), a.materials.end());
    read.insert(read.end(), a.lots.begin(), a.lots.end());
    if (const auto written = write_files(
            {{"--csv", a.csv, a.csv.empty() ? "" : csv_text(outcome->request, outcome->rows)}},
            read);
        !written) {
        return complain_of(written.error(), streams);
    }
    if (a.json) {
        put(json_of(*outcome), streams);
    } else if (!a.quiet) {
        put(table_text(outcome->request, outcome->rows) +
                fmt::format("  {} case{}: {} worked out now, {} without a recipe, {} still open\n",
                            outcome->rows.size(), outcome->rows.size() == 1 ? "" : "s",
                            outcome->worked, outcome->without, outcome->open) +
                bullets(reasons(outcome->rows)),
            streams);
    }
    return outcome->open + outcome->without > 0 ? 1 : 0;
}

}  // namespace bw::cli
