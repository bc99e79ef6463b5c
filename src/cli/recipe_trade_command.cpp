// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// recipe trade: options, text, JSON, comma-separated text and picture.
#include "cli/recipe_trade_command.hpp"

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "cli/answer.hpp"
#include "cli/json_values.inl"
#include "cli/progress.hpp"
#include "cli/table.hpp"
#include "io/outputs.hpp"

namespace bw::cli {
namespace {

constexpr int kDigits = 4;

Result<unit::TypedQuantity> quantity(const std::string& option, const std::string& text) {
    auto typed = unit::parse_quantity(text);
    if (!typed) {
        Problem problem = typed.error();
        problem.place.field = option;
        return tl::make_unexpected(std::move(problem));
    }
    return typed;
}

Result<service::TradeRequest> request_of(const RecipeTradeArguments& a) {
    service::TradeRequest out;
    for (const auto& [output, name] : {std::pair{a.csv, "--csv"}, std::pair{a.svg, "--svg"}}) {
        std::vector<std::string> read = a.materials;
        read.push_back(a.target);
        for (const std::string& path : read) {
            if (io::same_file(output, path)) {
                return fail(ProblemCode::BadInput,
                            fmt::format("{} would overwrite {}, which is read: name another file",
                                        name, base::quoted(path)));
            }
        }
    }
    if (io::same_file(a.csv, a.svg)) {
        return fail(ProblemCode::BadInput, "--csv and --svg name one file: name two");
    }
    BW_TRY(target, io::read_document(a.target));
    out.target = std::move(target);
    BW_TRY(materials, io::read_documents(a.materials));
    out.materials = std::move(materials);
    if (!a.calcium_from.empty()) {
        BW_TRY(from, quantity("--calcium-from", a.calcium_from));
        out.calcium_from = from;
    }
    if (!a.calcium_to.empty()) {
        BW_TRY(to, quantity("--calcium-to", a.calcium_to));
        out.calcium_to = to;
    }
    for (const std::string& text : a.magnesium) {
        BW_TRY(typed, quantity("--magnesium", text));
        out.magnesium.push_back(typed);
    }
    out.points = a.points;
    return out;
}

bool is_timed(const service::TradeReport& r) {
    for (const service::TradePoint& p : r.points) {
        if (p.safe_h) {
            return true;
        }
    }
    return false;
}

std::string number(std::optional<double> value, double per, int digits) {
    return value ? base::format_significant(*value * per, digits) : "none";
}

std::string trade_text(const service::TradeReport& r) {
    std::string out = r.name + (r.invented ? "  (invented example)" : "") + "\n";
    out += wrapped("  at          ", base::join_words(r.limits));
    out += "\n";
    const bool timed = is_timed(r);
    std::vector<Column> columns{{{"Mg", r.magnesium.unit}, Align::Decimal},
                                {{"Ca", r.calcium.unit}, Align::Decimal},
                                {{"highest alkalinity", r.alkalinity.unit}, Align::Decimal},
                                {{"Omega", "aragonite"}, Align::Decimal}};
    if (timed) {
        columns.push_back({{"use within", "h"}, Align::Decimal});
    }
    const bool priced = !r.points.empty() && r.points.front().cost_per_t_blend.has_value();
    if (priced) {
        columns.push_back({{r.currency, "per t of blend"}, Align::Decimal});
    }
    TextTable table(columns);
    for (const service::TradePoint& p : r.points) {
        std::vector<std::string> row{
            number(p.magnesium_mol_per_kg, r.magnesium.per_mol_per_kg, kDigits),
            number(p.calcium_mol_per_kg, r.calcium.per_mol_per_kg, kDigits),
            number(p.alkalinity_eq_per_kg, r.alkalinity.per_mol_per_kg, kDigits),
            number(p.omega_aragonite, 1, kDigits)};
        if (timed) {
            row.push_back(number(p.use_within_h, 1, kDigits));
        }
        if (priced) {
            row.push_back(p.cost_per_t_blend ? base::format_places(*p.cost_per_t_blend, 2)
                                             : "none");
        }
        table.add(row);
    }
    out += table.text();
    for (const std::string& note : r.notes) {
        out += wrapped("  * ", note);
    }
    return out;
}

Json trade_json(const service::TradeReport& r) {
    Json points = Json::array();
    for (const service::TradePoint& p : r.points) {
        const auto scaled = [](std::optional<double> v, double by) {
            return v ? Json(*v * by) : Json(nullptr);
        };
        points.push_back(
            {{"magnesium", p.magnesium_mol_per_kg * r.magnesium.per_mol_per_kg},
             {"calcium", p.calcium_mol_per_kg * r.calcium.per_mol_per_kg},
             {"alkalinity", scaled(p.alkalinity_eq_per_kg, r.alkalinity.per_mol_per_kg)},
             {"omega_aragonite", json_number(p.omega_aragonite)},
             {"safe_h", json_number(p.safe_h)},
             {"use_within_h", json_number(p.use_within_h)},
             {"cost_per_t_blend", json_number(p.cost_per_t_blend)}});
    }
    return {{"version", 1},
            {"target", r.name},
            {"limits", r.limits},
            {"currency", r.currency},
            {"notes", r.notes},
            {"units",
             {{"magnesium", r.magnesium.unit},
              {"calcium", r.calcium.unit},
              {"alkalinity", r.alkalinity.unit}}},
            {"points", points}};
}

io::Sheet trade_sheet(const service::TradeReport& r) {
    io::Sheet out;
    out.name = "trade";
    out.head = {"magnesium, " + r.magnesium.unit,
                "calcium, " + r.calcium.unit,
                "highest alkalinity, " + r.alkalinity.unit,
                "Omega aragonite",
                "safe time, h",
                "use within, h",
                r.currency + " per t of blend"};
    const auto cell = [](std::optional<double> v, double by) {
        return v ? io::Cell(*v * by) : io::Cell();
    };
    for (const service::TradePoint& p : r.points) {
        out.rows.push_back({cell(p.magnesium_mol_per_kg, r.magnesium.per_mol_per_kg),
                            cell(p.calcium_mol_per_kg, r.calcium.per_mol_per_kg),
                            cell(p.alkalinity_eq_per_kg, r.alkalinity.per_mol_per_kg),
                            cell(p.omega_aragonite, 1), cell(p.safe_h, 1), cell(p.use_within_h, 1),
                            cell(p.cost_per_t_blend, 1)});
    }
    return out;
}

}  // namespace

Command add_recipe_trade(Command recipe, RecipeTradeArguments& a) {
    const Command trade = recipe.add_subcommand(
        "trade", "How much alkalinity the limits on the water leave at each calcium and magnesium");
    const auto named = [](const std::string& text) {
        return text.empty() ? std::string("a file has a name") : std::string();
    };
    trade
        .add_option("TARGET", a.target, "File of kind \"target\" with omega_aragonite or safe_time")
        .check(named)
        .required();
    trade.add_option("--materials", a.materials, "Files of kind \"materials\": what may be bought")
        .check(named)
        .required();
    trade.add_option("--calcium-from", a.calcium_from,
                     "Least calcium, \"400 mg/L\"; 10 % below the target unless said");
    trade.add_option("--calcium-to", a.calcium_to,
                     "Most calcium; 10 % above the target unless said");
    trade.add_option("--magnesium", a.magnesium,
                     "One or more, \"1345 mg/L\"; the target and 5 % about it unless said");
    trade.add_option("--points", a.points, "Points of calcium")
        .check_range(2, service::kMostTradePoints)
        .capture_default_str();
    trade.add_option("--csv", a.csv, "Write the points as comma-separated text").check(named);
    trade.add_option("--svg", a.svg, "Draw the curve").check(named);
    add_output_flags(trade, a.json, a.quiet, true);
    trade.footer(
        "Example:\n  brinewright recipe trade examples/works/raised_omega.toml --materials "
        "examples/works/materials.toml --svg trade.svg\n\n"
        "Exit codes: 0 some point has a recipe; 1 none has; 2 bad input; 3 a file could not be "
        "written.");
    return trade;
}

int recipe_trade(const RecipeTradeArguments& a, const Streams& streams) {
    auto request = request_of(a);
    if (!request) {
        return complain_of(request.error(), streams);
    }
    Progress progress(streams, !a.quiet, "points");
    request->progress = [&](double share) { return progress.tell(share); };
    const auto report = service::recipe_trade(*request);
    if (!report) {
        return complain_of(report.error(), streams);
    }
    io::Outputs outputs;
    const auto write = [&]() -> Result<void> {
        if (!a.csv.empty()) {
            BW_CHECK(outputs.add_text(a.csv, io::delimited(trade_sheet(*report))));
        }
        if (!a.svg.empty()) {
            BW_CHECK(outputs.add_text(a.svg, trade_picture(*report)));
        }
        return outputs.publish();
    };
    if (const auto written = write(); !written) {
        return complain_of(written.error(), streams);
    }
    if (a.json) {
        put(json_text(trade_json(*report)), streams);
    } else if (!a.quiet) {
        put(trade_text(*report), streams);
    }
    for (const service::TradePoint& p : report->points) {
        if (p.alkalinity_eq_per_kg) {
            return 0;
        }
    }
    return 1;
}

}  // namespace bw::cli
