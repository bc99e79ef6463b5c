// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/recipe_file.hpp"

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "io/fields.hpp"
#include "io/purified_water.hpp"
#include "io/toml_string.hpp"

namespace bw::io {
Result<RecipeFile> read_recipe(const Document& document) {
    BW_TRY(root, open_kind(document, "recipe"));
    BW_CHECK(
        root.allow({"format", "kind", "name", "target", "program", "data_digest", "temperature",
                    "dissolved_g_per_kg", "invented", "note", "part", "purified_water"}));
    RecipeFile out;
    BW_TRY(name, root.required_text("name"));
    out.name = name;
    BW_TRY(target, root.text("target"));
    out.target = target.value_or("");
    BW_TRY(program, root.text("program"));
    out.program = program.value_or("");
    BW_TRY(digest, root.text("data_digest"));
    out.data_digest = digest.value_or("");
    BW_TRY(temperature, root.value_in("temperature", unit::Dimension::Temperature));
    out.temperature_degC = temperature.value_or(out.temperature_degC);
    BW_TRY(dissolved, root.number("dissolved_g_per_kg"));
    out.dissolved_g_per_kg = dissolved.value_or(0);
    BW_TRY(invented, root.flag("invented"));
    out.invented = invented.value_or(false);
    BW_TRY(purified, read_purified_water(root, out.temperature_degC));
    out.purified_water = purified;
    BW_TRY(tables, root.tables("part"));
    if (tables.empty()) {
        return root.bad("", "the recipe lists no part: add [[part]] tables");
    }
    for (const Fields& table : tables) {
        BW_CHECK(
            table.allow({"material", "lot", "g_per_kg_purified_water", "share_percent", "note"}));
        RecipePart part;
        BW_TRY(material, table.required_text("material"));
        part.material = material;
        BW_TRY(lot, table.text("lot"));
        part.lot = lot.value_or("");
        BW_TRY(dose, table.number("g_per_kg_purified_water"));
        constexpr double kMost = 1000;  // g per kg of water: beyond any recipe
        if (!dose || *dose < 0 || *dose > kMost) {
            return table.bad(dose ? "g_per_kg_purified_water" : "",
                             "g_per_kg_purified_water must be from 0 to 1000",
                             ProblemCode::OutOfRange);
        }
        part.g_per_kg_purified_water = *dose;
        BW_TRY(share, table.number("share_percent"));
        part.share_percent = share.value_or(0);
        part.place = table.place("material");
        for (const RecipePart& earlier : out.parts) {
            if (earlier.material == part.material && earlier.lot == part.lot) {
                return table.bad(
                    "material",
                    fmt::format("{} stands twice in the recipe", base::quoted(part.material)),
                    ProblemCode::DuplicateName);
            }
        }
        out.parts.push_back(std::move(part));
    }
    return out;
}

std::string recipe_toml(const RecipeFile& recipe) {
    std::string out = "format = \"brinewright/1\"\nkind = \"recipe\"\n";
    const auto line = [&](std::string_view key, const std::string& value) {
        out += fmt::format("{} = {}\n", key, value);
    };
    line("name", toml_string(recipe.name));
    line("target", toml_string(recipe.target));
    line("program", toml_string(recipe.program));
    line("data_digest", toml_string(recipe.data_digest));
    line("temperature", toml_string(base::format_exact(recipe.temperature_degC) + " degC"));
    line("dissolved_g_per_kg", base::format_exact(recipe.dissolved_g_per_kg));
    if (recipe.invented) {
        line("invented", "true");
    }
    out += purified_water_toml(recipe.purified_water);
    for (const RecipePart& part : recipe.parts) {
        out += "\n[[part]]\n";
        line("material", toml_string(part.material));
        if (!part.lot.empty()) {
            line("lot", toml_string(part.lot));
        }
        line("g_per_kg_purified_water", base::format_exact(part.g_per_kg_purified_water));
        line("share_percent", base::format_exact(part.share_percent));
    }
    return out;
}

}  // namespace bw::io
