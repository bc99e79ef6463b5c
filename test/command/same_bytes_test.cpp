// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// The same input gives the same bytes, whatever the order or the notation of the files.
#include <cmath>
#include <set>

#include <nlohmann/json.hpp>

#include "command/bad_case.hpp"

namespace {

using namespace bw::command_test;
using Json = nlohmann::json;

const std::vector<std::string> kTargets{"natural.toml", "raised.toml", "hatchery.toml",
                                        "low_magnesium.toml", "impossible.toml"};

/// Paths of what differs by more than 1e-9, list indices left out.
void differences(const Json& a, const Json& b, const std::string& path,
                 std::set<std::string>& out) {
    if (a.is_number() && b.is_number()) {
        const double x = a;
        const double y = b;
        if (std::abs(x - y) > 1e-9 * std::max({1.0, std::abs(x), std::abs(y)})) {
            out.insert(path);
        }
    } else if (a.is_object() && b.is_object() && a.size() == b.size()) {
        for (const auto& [key, value] : a.items()) {
            differences(value, b.contains(key) ? b[key] : Json("absent"), path + "/" + key, out);
        }
    } else if (a.is_array() && b.is_array() && a.size() == b.size()) {
        for (std::size_t i = 0; i < a.size(); ++i) {
            differences(a[i], b[i], path + "[]", out);
        }
    } else if (a != b) {
        out.insert(path);
    }
}

std::set<std::string> differences(const std::string& a, const std::string& b) {
    std::set<std::string> out;
    differences(Json::parse(a), Json::parse(b), "", out);
    return out;
}

TEST(SameBytes, RunTwice) {
    const std::string lots = example("lots.toml");
    for (const std::string& target : kTargets) {
        for (const auto& more : std::vector<std::vector<std::string>>{
                 {}, {"--lots", lots, "--split-lots", "--json"}}) {
            SCOPED_TRACE(target + " " + testing::PrintToString(more));
            const TestFolder folder;
            const Outcome first = run_program(solve_example(target, more), folder.path());
            const Outcome second = run_here(solve_example(target, more));
            EXPECT_FALSE(first.out.empty());
            EXPECT_EQ(first.code, second.code);
            EXPECT_EQ(first.out, second.out);
            EXPECT_EQ(first.err, second.err);
        }
    }
}

TEST(SameBytes, WrittenFiles) {
    const TestFolder folder;
    for (const std::string side : {"a", "b"}) {
        ASSERT_EQ(run_here(solve_example(
                               "hatchery.toml",
                               {"--quiet", "--out", folder.path(side + ".toml"), "--csv",
                                folder.path(side + ".csv"), "--xlsx", folder.path(side + ".xlsx")}))
                      .code,
                  0);
    }
    for (const std::string suffix : {".toml", ".csv", ".xlsx"}) {
        EXPECT_EQ(read_bytes(folder.path("a" + suffix)), read_bytes(folder.path("b" + suffix)))
            << suffix;
    }
}

/// The tables [[key]] of a TOML text in the opposite order.
std::string reversed(const std::string& text, const std::string& key) {
    const std::string opening = "[[" + key + "]]";
    std::vector<std::size_t> starts;
    for (auto at = text.find("\n" + opening); at != std::string::npos;
         at = text.find("\n" + opening, at + 1)) {
        starts.push_back(at + 1);
    }
    EXPECT_GT(starts.size(), 1U);
    std::string out = text.substr(0, starts.front());
    for (std::size_t i = starts.size(); i-- > 0;) {
        const std::size_t end = i + 1 < starts.size() ? starts[i + 1] : text.size();
        out += text.substr(starts[i], end - starts[i]) + "\n";
    }
    return out;
}

TEST(SameBytes, MaterialsInTheOppositeOrder) {
    const TestFolder folder;
    const std::string materials =
        folder.write("materials.toml", reversed(read_bytes(example("materials.toml")), "material"));
    for (const std::string& target : kTargets) {
        for (const auto& more : std::vector<std::vector<std::string>>{
                 {"--json"}, {"--json", "--lots", example("lots.toml")}}) {
            SCOPED_TRACE(target + " " + testing::PrintToString(more));
            std::vector<std::string> other{"recipe", "solve", example(target), "--materials",
                                           materials};
            other.insert(other.end(), more.begin(), more.end());
            const Outcome forth = run_here(solve_example(target, more));
            const Outcome back = run_here(other);
            EXPECT_EQ(forth.code, back.code);
            EXPECT_EQ(differences(forth.out, back.out), std::set<std::string>{});
        }
    }
}

TEST(SameBytes, MaterialsInTwoFiles) {
    const std::string text = read_bytes(example("materials.toml"));
    const auto half = text.find("\n[[material]]", text.size() / 2) + 1;
    const TestFolder folder;
    const std::string first = folder.write("first.toml", text.substr(0, half));
    const std::string second = folder.write(
        "second.toml", "format = \"brinewright/1\"\nkind = \"materials\"\n" + text.substr(half));
    const Outcome whole = run_here(solve_example("raised.toml", {"--json"}));
    const Outcome halves = run_here({"recipe", "solve", example("raised.toml"), "--json",
                                     "--materials", second, "--materials", first});
    EXPECT_EQ(whole.code, 0);
    EXPECT_EQ(whole.out, halves.out);
}

TEST(SameBytes, JsonForToml) {
    const TestFolder folder;
    const auto converted = [&](const std::string& name) {
        const auto json = as_json(read_bytes(example(name)));
        EXPECT_TRUE(json) << name;
        return folder.write(name + ".json", json.value_or(""));
    };
    const std::string materials = converted("materials.toml");
    const std::string lots = converted("lots.toml");
    for (const std::string& target : kTargets) {
        const std::string target_json = converted(target);
        for (const std::string form : {"--json", "--brief"}) {
            SCOPED_TRACE(target + " " + form);
            const Outcome toml = run_here(solve_example(target, {form}));
            const Outcome json =
                run_here({"recipe", "solve", target_json, "--materials", materials, form});
            EXPECT_EQ(toml.code, json.code);
            EXPECT_EQ(toml.out, json.out);
            EXPECT_EQ(json.err, "");
        }
    }
    const std::string recipe = folder.path("r.toml");
    const Outcome toml =
        run_here(solve_example("raised.toml", {"--lots", example("lots.toml"), "--out", recipe}));
    const Outcome json = run_here({"recipe", "solve", folder.path("raised.toml.json"),
                                   "--materials", materials, "--lots", lots});
    EXPECT_EQ(toml.code, 0);
    EXPECT_EQ(toml.out, json.out);
    const std::string recipe_json =
        folder.write("r.json", as_json(read_bytes(recipe)).value_or(""));
    const std::vector<std::string> same{"recipe", "compare", "--json"};
    std::vector<std::string> both = same;
    both.insert(both.end(), {recipe, recipe});
    std::vector<std::string> mixed = same;
    mixed.insert(mixed.end(), {recipe_json, recipe});
    const Outcome compared = run_here(mixed);
    EXPECT_EQ(compared.code, 0) << compared.err;
    EXPECT_EQ(compared.out, run_here(both).out);
}

/// The document without what it says in words of its draws.
std::string without_notices_of_draws(const std::string& text) {
    Json d = Json::parse(text);
    Json kept = Json::array();
    for (const Json& notice : d.at("notices")) {
        if (notice.get<std::string>().find("% of batches") == std::string::npos) {
            kept.push_back(notice);
        }
    }
    d["notices"] = kept;
    return d.dump();
}

TEST(SameBytes, SeedAndDrawsChangeOnlyTheChances) {
    const std::set<std::string> chances{"/all_inside_probability", "/constituents[]/chance_inside",
                                        "/ratios[]/chance_inside", "/seed", "/draws"};
    for (const std::string& target : kTargets) {
        SCOPED_TRACE(target);
        const Outcome first = run_here(solve_example(target, {"--json"}));
        const Outcome again = run_here(solve_example(target, {"--json", "--seed", "1"}));
        EXPECT_EQ(first.out, again.out) << "1 is the seed unless one is given";
        for (const auto& [option, value] : std::vector<std::pair<std::string, std::string>>{
                 {"--seed", "2"}, {"--draws", "5000"}}) {
            const Outcome other = run_here(solve_example(target, {"--json", option, value}));
            EXPECT_EQ(first.code, other.code);
            const auto changed = differences(without_notices_of_draws(first.out),
                                             without_notices_of_draws(other.out));
            for (const std::string& path : changed) {
                EXPECT_TRUE(chances.contains(path)) << option << ": " << path;
            }
            if (first.code == 0) {
                EXPECT_TRUE(changed.contains("/" + option.substr(2)));
            }
        }
    }
}

}  // namespace
