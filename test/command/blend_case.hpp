// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <gmock/gmock.h>
#include <nlohmann/json.hpp>

#include "command/bad_case.hpp"

namespace bw::command_test {

using Json = nlohmann::json;
using Words = std::vector<std::string>;

/// A recipe with its materials, in a folder of their own, that a command of `blend` is asked about.
class BlendCase {
public:
    /// Writes both files; each text without its head.
    void write(const std::string& materials, const std::string& recipe) {
        materials_ = folder_.write(
            "materials.toml", "format = \"brinewright/1\"\nkind = \"materials\"\n" + materials);
        recipe_ = folder_.write(
            "recipe.toml",
            "format = \"brinewright/1\"\nkind = \"recipe\"\nname = \"Trial\"\n" + recipe);
    }
    [[nodiscard]] Outcome run(const std::string& what, const Words& more = {}) const {
        Words words{"blend", what, recipe_, "--materials", materials_};
        words.insert(words.end(), more.begin(), more.end());
        return run_here(words);
    }
    [[nodiscard]] Json json(const std::string& what, int code, Words more = {}) const {
        more.emplace_back("--json");
        const Outcome got = run(what, more);
        EXPECT_EQ(got.code, code) << got.err;
        Json out = Json::parse(got.out, nullptr, false);
        EXPECT_FALSE(out.is_discarded()) << got.out;
        EXPECT_EQ(out.value("version", 0), 1);
        return out;
    }
    [[nodiscard]] TestFolder& folder() { return folder_; }
    [[nodiscard]] const std::string& materials() const { return materials_; }
    [[nodiscard]] const std::string& recipe() const { return recipe_; }

private:
    TestFolder folder_;
    std::string materials_, recipe_;
};

/// A material as a file has it: its name, its formula and further lines.
inline std::string material_of(const std::string& name, const std::string& formula,
                               const std::string& more = "") {
    return "[[material]]\nname = \"" + name + "\"\nformula = \"" + formula +
           "\"\nassay = \"100 %\"\n" + more;
}
inline std::string part_of(const std::string& name, const std::string& g_per_kg) {
    return "[[part]]\nmaterial = \"" + name + "\"\ng_per_kg_purified_water = " + g_per_kg + "\n";
}
/// Grains of one size.
inline std::string grain_of(const std::string& size) {
    return "grain = { d10 = \"" + size + "\", d50 = \"" + size + "\", d90 = \"" + size + "\" }\n";
}
/// Sodium chloride with a little of another salt: 0.024 in 41.3.
inline void write_minor(BlendCase& blend, const std::string& name, const std::string& formula,
                        const std::string& more) {
    blend.write(material_of("salt", "NaCl",
                            "step = \"10 g\"\ndensity = \"2 g/cm3\"\n" + grain_of("0.3 mm")) +
                    material_of(name, formula, "step = \"0.1 g\"\n" + more),
                part_of("salt", "41.276") + part_of(name, "0.024"));
}

/// What an answer has of a constituent.
inline Json of(const Json& document, const std::string& symbol) {
    for (const Json& c : document.at("constituents")) {
        if (c.at("symbol") == symbol) {
            return c;
        }
    }
    ADD_FAILURE() << "no " << symbol;
    return {};
}

}  // namespace bw::command_test
