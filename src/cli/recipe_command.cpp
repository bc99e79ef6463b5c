// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/recipe_command.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "cli/answer.hpp"
#include "cli/json_values.inl"
#include "cli/recipe_output.hpp"
#include "cli/table.hpp"
#include "io/outputs.hpp"
#include "unit/factors.hpp"

namespace bw::cli {
namespace {

Result<service::RecipeRequest> request_of(const RecipeSolveArguments& a) {
    service::RecipeRequest request;
    BW_TRY(target, io::read_document(a.target));
    request.target = std::move(target);
    BW_TRY(materials, io::read_documents(a.materials));
    request.materials = std::move(materials);
    if (!a.lots.empty()) {
        BW_TRY(lots, io::read_document(a.lots));
        request.lots = std::move(lots);
    }
    if (!a.standing.empty()) {
        BW_TRY(standing, io::read_document(a.standing));
        request.standing = std::move(standing);
    }
    for (const std::string& choice : a.choose) {
        const auto equals = choice.rfind('=');
        if (equals == std::string::npos || equals == 0 || equals + 1 == choice.size()) {
            return fail(ProblemCode::BadInput,
                        fmt::format("{} does not choose a lot: write --choose \"calcium chloride "
                                    "dihydrate=C26-0311\"",
                                    base::quoted(choice)),
                        {"", 0, "--choose"});
        }
        request.chosen_lots.emplace_back(base::trim(choice.substr(0, equals)),
                                         base::trim(choice.substr(equals + 1)));
    }
    if (!request.chosen_lots.empty() && !request.lots) {
        return fail(ProblemCode::BadInput, "choosing a lot needs --lots FILE", {"", 0, "--choose"});
    }
    request.split_lots = a.split_lots;
    request.draws = a.draws;
    request.seed = a.seed;
    request.explain = !a.brief;
    request.free_shares = a.free_shares;
    return request;
}

/// An output may be neither another output nor a file that was read.
Result<void> check_outputs(const RecipeSolveArguments& a) {
    using Named = std::pair<std::string, std::string>;
    const std::vector<Named> outputs{{"--out", a.out}, {"--csv", a.csv}, {"--xlsx", a.xlsx}};
    std::vector<Named> others{{"TARGET", a.target}, {"--lots", a.lots}, {"--standing", a.standing}};
    for (const std::string& path : a.materials) {
        others.emplace_back("--materials", path);
    }
    for (std::size_t i = 0; i < outputs.size(); ++i) {
        for (const Named& other : others) {
            if (io::same_file(outputs[i].second, other.second)) {
                return fail(ProblemCode::BadInput,
                            fmt::format("{} would overwrite {}, the file of {}: name another",
                                        outputs[i].first, base::quoted(other.second), other.first));
            }
        }
        others.push_back(outputs[i]);
    }
    return {};
}

Result<void> write_files(const RecipeSolveArguments& a, const service::RecipeReport& report) {
    io::Outputs outputs;
    const std::vector<io::Sheet> sheets = recipe_sheets(report);
    if (!a.out.empty()) {
        BW_CHECK(outputs.add_text(a.out, io::recipe_toml(recipe_file(report))));
    }
    if (!a.csv.empty()) {
        BW_CHECK(outputs.add_text(a.csv, io::delimited(sheets.front())));
    }
    if (!a.xlsx.empty()) {
        BW_CHECK(outputs.add_workbook(a.xlsx, sheets));
    }
    return outputs.publish();
}

}  // namespace

int recipe_solve(const RecipeSolveArguments& a, const Streams& streams) {
    if (const auto free = check_outputs(a); !free) {
        return complain_of(free.error(), streams);
    }
    const auto request = request_of(a);
    if (!request) {
        return complain_of(request.error(), streams);
    }
    const auto report = service::solve_recipe(*request);
    if (!report) {
        return complain_of(report.error(), streams);
    }
    if (report->feasible()) {
        if (const auto written = write_files(a, *report); !written) {
            return complain_of(written.error(), streams);
        }
    } else if (!a.out.empty() || !a.csv.empty() || !a.xlsx.empty()) {
        std::fputs("brinewright: there is no recipe, so no file was written\n", streams.err);
    }
    if (a.json) {
        put(recipe_json(*report), streams);
    } else if (!a.quiet) {
        put(recipe_text(*report, a.brief), streams);
    }
    return report->feasible() ? 0 : 1;
}

int recipe_compare(const RecipeCompareArguments& a, const Streams& streams) {
    std::vector<io::RecipeFile> recipes;
    for (const std::string& path : {a.first, a.second}) {
        const auto document = io::read_document(path);
        if (!document) {
            return complain_of(document.error(), streams);
        }
        auto recipe = io::read_recipe(*document);
        if (!recipe) {
            return complain_of(recipe.error(), streams);
        }
        recipes.push_back(std::move(*recipe));
    }
    struct Row {
        std::string material;
        double first = 0, second = 0;
    };
    std::vector<Row> rows;
    for (std::size_t side = 0; side < recipes.size(); ++side) {
        for (const io::RecipePart& part : recipes[side].parts) {
            auto row = std::find_if(rows.begin(), rows.end(),
                                    [&](const Row& r) { return r.material == part.material; });
            if (row == rows.end()) {
                rows.push_back({part.material, 0, 0});
                row = rows.end() - 1;
            }
            (side == 0 ? row->first : row->second) += part.g_per_kg_purified_water;
        }
    }
    const auto relative = [](const Row& r) {
        return r.first > 0 ? r.second / r.first - 1 : HUGE_VAL;
    };
    std::stable_sort(rows.begin(), rows.end(), [&](const Row& x, const Row& y) {
        return std::abs(relative(x)) > std::abs(relative(y));
    });
    if (a.json) {
        Json parts = Json::array();
        for (const Row& r : rows) {
            parts.push_back({{"material", r.material},
                             {"first_g_per_kg_purified_water", r.first},
                             {"second_g_per_kg_purified_water", r.second},
                             {"change_percent",
                              r.first > 0 ? Json(relative(r) * unit::kPercent) : Json(nullptr)}});
        }
        const Json out = {{"version", 1},
                          {"first", recipes[0].name},
                          {"second", recipes[1].name},
                          {"parts", parts}};
        put(json_text(out), streams);
        return 0;
    }
    if (a.quiet) {
        return 0;
    }
    TextTable table({{{"material"}, Align::Left},
                     {{"first, g per kg", "of purified water"}, Align::Decimal},
                     {{"second"}, Align::Decimal},
                     {{"change, %"}, Align::Decimal}});
    constexpr int kDosePlaces = 5;
    for (const Row& r : rows) {
        const std::string change = r.first > 0
                                       ? (r.second >= r.first ? "+" : "") +
                                             base::format_places(relative(r) * unit::kPercent, 2)
                                       : "new";
        table.add({r.material, base::format_places(r.first, kDosePlaces),
                   base::format_places(r.second, kDosePlaces), change});
    }
    put(fmt::format("first   {}  ({})\nsecond  {}  ({})\n\n", recipes[0].name, a.first,
                    recipes[1].name, a.second) +
            table.text(),
        streams);
    return 0;
}

}  // namespace bw::cli
