// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// --out, --csv and --xlsx: whole files that other programs and the next command can read, or none.
#include <nlohmann/json.hpp>
#include <sys/stat.h>

#include "command/bad_case.hpp"
#include "io/document.hpp"
#include "io/recipe_file.hpp"

namespace {

using namespace bw::command_test;
using Json = nlohmann::json;

/// Comma-separated text by RFC 4180.
std::vector<std::vector<std::string>> parse_csv(const std::string& text) {
    std::vector<std::vector<std::string>> rows(1, std::vector<std::string>(1));
    bool quoted = false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        std::string& cell = rows.back().back();
        const char c = text[i];
        if (quoted && c == '"' && text.substr(i + 1, 1) == "\"") {
            cell += c;
            ++i;
        } else if (c == '"') {
            quoted = !quoted;
        } else if (!quoted && c == ',') {
            rows.back().emplace_back();
        } else if (!quoted && c == '\r' && text.substr(i + 1, 1) == "\n") {
            rows.emplace_back(1);
            ++i;
        } else {
            cell += c;
        }
    }
    EXPECT_FALSE(quoted);
    EXPECT_EQ(rows.back(), std::vector<std::string>(1)) << "the last line ends too";
    rows.pop_back();
    return rows;
}

TEST(WrittenFiles, AllThreeAgreeWithTheJson) {
    const TestFolder folder;
    const std::string out = folder.path("r.toml");
    const std::string csv = folder.path("r.csv");
    const Outcome got = run_here(solve_example(
        "raised.toml", {"--json", "--out", out, "--csv", csv, "--xlsx", folder.path("r.xlsx")}));
    ASSERT_EQ(got.code, 0) << got.err;
    EXPECT_EQ(got.err, "");
    EXPECT_EQ(folder.names(), (std::vector<std::string>{"r.csv", "r.toml", "r.xlsx"}));
    const Json parts = Json::parse(got.out)["parts"];

    const auto document = bw::io::read_document(out);
    ASSERT_TRUE(document) << document.error().text();
    const auto recipe = bw::io::read_recipe(*document);
    ASSERT_TRUE(recipe) << recipe.error().text();
    EXPECT_EQ(recipe->name, "Raised reef salt");
    EXPECT_FALSE(recipe->program.empty());
    EXPECT_FALSE(recipe->data_digest.empty());
    EXPECT_TRUE(recipe->invented);
    ASSERT_EQ(recipe->parts.size(), parts.size());

    const auto rows = parse_csv(read_bytes(csv));
    ASSERT_EQ(rows.size(), parts.size() + 1);
    EXPECT_EQ(rows[0][0], "material");
    const auto column = std::find(rows[0].begin(), rows[0].end(), "g per kg of purified water");
    ASSERT_NE(column, rows[0].end());
    for (std::size_t i = 0; i < parts.size(); ++i) {
        const double dose = parts[i]["g_per_kg_purified_water"];
        EXPECT_EQ(recipe->parts[i].material, parts[i]["material"]);
        EXPECT_EQ(recipe->parts[i].g_per_kg_purified_water, dose) << "to the last bit";
        EXPECT_EQ(recipe->parts[i].share_percent, parts[i]["share_percent"].get<double>());
        ASSERT_EQ(rows[i + 1].size(), rows[0].size());
        EXPECT_EQ(rows[i + 1][0], parts[i]["material"]);
        EXPECT_EQ(std::stod(rows[i + 1][static_cast<std::size_t>(column - rows[0].begin())]), dose);
    }
}

TEST(WrittenFiles, WorkbookIsAWholeArchive) {
    const TestFolder folder;
    const Outcome got =
        run_here(solve_example("hatchery.toml", {"--quiet", "--xlsx", folder.path("r.xlsx")}));
    ASSERT_EQ(got.code, 0) << got.err;
    const std::string bytes = read_bytes(folder.path("r.xlsx"));
    EXPECT_EQ(bytes.substr(0, 4), "PK\x03\x04");
    constexpr std::size_t kEndRecord = 22;  // bytes, without a comment
    ASSERT_GT(bytes.size(), kEndRecord);
    EXPECT_EQ(bytes.substr(bytes.size() - kEndRecord, 4), "PK\x05\x06");
    for (const char* part :
         {"[Content_Types].xml", "xl/workbook.xml", "xl/worksheets/sheet1.xml"}) {
        EXPECT_NE(bytes.find(part), std::string::npos) << part;
    }
}

TEST(WrittenFiles, RecipeReadsBackAsStandingAndCompares) {
    const TestFolder folder;
    const std::string first = folder.path("first.toml");
    const std::string second = folder.path("second.toml");
    ASSERT_EQ(run_here(solve_example("raised.toml", {"--quiet", "--out", first})).code, 0);
    const Outcome again =
        run_here(solve_example("raised.toml", {"--json", "--standing", first, "--out", second}));
    ASSERT_EQ(again.code, 0) << again.err;
    const Json solved = Json::parse(again.out);
    ASSERT_FALSE(solved.at("changes").empty());
    for (const Json& change : solved["changes"]) {
        const double standing = change.at("standing_g_per_kg_purified_water");
        EXPECT_NEAR(change.at("adjusted_g_per_kg_purified_water").get<double>(), standing,
                    1e-5 + 1e-6 * standing)
            << "the same target from the same materials changes nothing: " << change;
    }
    const Outcome same = run_here({"recipe", "compare", first, first, "--json"});
    ASSERT_EQ(same.code, 0) << same.err;
    const Json compared = Json::parse(same.out);
    EXPECT_EQ(compared["parts"].size(), solved["changes"].size());
    for (const Json& part : compared["parts"]) {
        EXPECT_EQ(part.at("change_percent").get<double>(), 0);
    }
    const Outcome text = run_here({"recipe", "compare", first, second});
    EXPECT_EQ(text.code, 0) << text.err;
    EXPECT_NE(text.out.find("sodium chloride"), std::string::npos);
}

TEST(WrittenFiles, RecipeOfLotsNamesThem) {
    const TestFolder folder;
    const std::string out = folder.path("r.toml");
    ASSERT_EQ(run_here(solve_example("raised.toml",
                                     {"--quiet", "--lots", example("lots.toml"), "--out", out}))
                  .code,
              0);
    const auto document = bw::io::read_document(out);
    ASSERT_TRUE(document);
    const auto recipe = bw::io::read_recipe(*document);
    ASSERT_TRUE(recipe) << recipe.error().text();
    for (const auto& part : recipe->parts) {
        EXPECT_FALSE(part.lot.empty()) << part.material;
    }
    EXPECT_EQ(run_here(solve_example("raised.toml", {"--quiet", "--standing", out})).code, 0);
}

TEST(WrittenFiles, AnEarlierFileIsReplacedWhole) {
    const TestFolder folder;
    const std::string out = folder.write("r.toml", std::string(1'000'000, '#'));
    const std::string csv = folder.write("r.csv", "old");
    ASSERT_EQ(run_here(solve_example("natural.toml", {"--quiet", "--out", out, "--csv", csv})).code,
              0);
    EXPECT_EQ(read_bytes(out).substr(0, 26), "format = \"brinewright/1\"\nk");
    EXPECT_EQ(read_bytes(csv).substr(0, 9), "material,");
    EXPECT_EQ(folder.names(), (std::vector<std::string>{"r.csv", "r.toml"}));
}

TEST(WrittenFiles, NoRecipeNoFile) {
    const TestFolder folder;
    const std::string csv = folder.write("r.csv", "old");
    const Outcome got =
        run_here(solve_example("impossible.toml", {"--quiet", "--out", folder.path("r.toml"),
                                                   "--csv", csv, "--xlsx", folder.path("r.xlsx")}));
    EXPECT_EQ(got.code, 1);
    EXPECT_EQ(got.out, "");
    EXPECT_NE(got.err.find("no file was written"), std::string::npos);
    EXPECT_EQ(folder.names(), std::vector<std::string>{"r.csv"});
    EXPECT_EQ(read_bytes(csv), "old");
}

/// Names that a spreadsheet would take for a formula, or that need quotes, come through as text.
TEST(WrittenFiles, CsvKeepsAwkwardNames) {
    const TestFolder folder;
    std::string materials = read_bytes(example("materials.toml"));
    materials = instead(materials, "name = \"boric acid\"", R"(name = "=1+1, \"fine\"")");
    const std::string csv = folder.path("r.csv");
    const Outcome got =
        run_here({"recipe", "solve", example("natural.toml"), "--materials",
                  folder.write("materials.toml", materials), "--quiet", "--csv", csv});
    ASSERT_EQ(got.code, 0) << got.err;
    const auto rows = parse_csv(read_bytes(csv));
    const auto found = std::find_if(rows.begin(), rows.end(),
                                    [](const auto& row) { return row[0] == "'=1+1, \"fine\""; });
    EXPECT_NE(found, rows.end());
}

struct Output {
    std::string option;
    std::string name;
};
const std::vector<Output> kOutputs{{"--out", "r.toml"}, {"--csv", "r.csv"}, {"--xlsx", "r.xlsx"}};

/// By the real program: the library that writes workbooks has its own way to the terminal.
TEST(UnwritableFile, InAFolderThatIsNotThere) {
    for (const Output& output : kOutputs) {
        SCOPED_TRACE(output.option);
        const TestFolder folder;
        const std::string path = folder.path("absent/" + output.name);
        const Outcome got =
            run_program(solve_example("natural.toml", {output.option, path}), folder.path());
        expect_complaint(got, 3, path + ": ", {"No such file or directory"});
        EXPECT_TRUE(folder.names().empty());
    }
}

TEST(UnwritableFile, ThatIsAFolder) {
    for (const Output& output : kOutputs) {
        SCOPED_TRACE(output.option);
        const TestFolder folder;
        const std::string path = folder.path(output.name);
        std::filesystem::create_directory(path);
        const Outcome got =
            run_program(solve_example("natural.toml", {output.option, path}), folder.path());
        expect_complaint(got, 3, path + ": ", {"Is a directory"});
        EXPECT_EQ(folder.names(), std::vector<std::string>{output.name});
        EXPECT_TRUE(std::filesystem::is_empty(path));
    }
}

/// Either all the files that were asked for, or none.
TEST(UnwritableFile, LeavesNoneOfTheOthers) {
    for (const Output& bad : kOutputs) {
        SCOPED_TRACE(bad.option);
        const TestFolder folder;
        std::vector<std::string> more;
        for (const Output& output : kOutputs) {
            const bool spoilt = output.option == bad.option;
            more.insert(more.end(),
                        {output.option, folder.path((spoilt ? "absent/" : "") + output.name)});
        }
        const Outcome got = run_program(solve_example("natural.toml", more), folder.path());
        expect_complaint(got, 3, folder.path("absent/" + bad.name) + ": ", {});
        EXPECT_TRUE(folder.names().empty()) << testing::PrintToString(folder.names());
    }
}

TEST(UnwritableFile, StandardOutputThatIsFull) {
    const TestFolder folder;
    const std::string script = std::string("exec '") + BW_PROGRAM + "' recipe solve '" +
                               example("natural.toml") + "' --materials '" +
                               example("materials.toml") + "' >/dev/full 2>'" + folder.path("err") +
                               "'";
    const int status = std::system(script.c_str());
    ASSERT_TRUE(WIFEXITED(status));
    EXPECT_EQ(WEXITSTATUS(status), 3);
    EXPECT_EQ(read_bytes(folder.path("err")), "brinewright: the output could not be written\n");
}

/// A pipe or a device is not put away for a file: with the right to, /dev/null would be lost.
TEST(UnwritableFile, ThatIsAPipe) {
    for (const Output& output : kOutputs) {
        SCOPED_TRACE(output.option);
        const TestFolder folder;
        const std::string path = folder.path(output.name);
        ASSERT_EQ(::mkfifo(path.c_str(), S_IRUSR | S_IWUSR), 0);
        const Outcome got =
            run_program(solve_example("natural.toml", {output.option, path}), folder.path());
        expect_complaint(got, 3, path + ": ", {});
        EXPECT_TRUE(std::filesystem::is_fifo(path));
        EXPECT_EQ(folder.names(), std::vector<std::string>{output.name});
    }
}

TEST(WrittenFiles, ALinkStaysALink) {
    const TestFolder folder;
    const std::string file = folder.write("file.csv", "old");
    const std::string link = folder.path("link.csv");
    std::filesystem::create_symlink(file, link);
    EXPECT_EQ(run_here(solve_example("natural.toml", {"--quiet", "--csv", link})).code, 0);
    EXPECT_TRUE(std::filesystem::is_symlink(link));
    EXPECT_EQ(read_bytes(file).substr(0, 9), "material,");
}

/// A file of the input is not overwritten by a slip of the hand.
TEST(UnwritableFile, TwoOutputsOfOneNameAreRefused) {
    const TestFolder folder;
    const std::string path = folder.path("r");
    const Outcome got = run_here(solve_example("natural.toml", {"--out", path, "--csv", path}));
    expect_complaint(got, 2, "", {"--out", "--csv"});
    EXPECT_TRUE(folder.names().empty());
}

TEST(UnwritableFile, TheTargetItselfIsRefused) {
    const TestFolder folder;
    const std::string text = read_bytes(example("natural.toml"));
    const std::string target = folder.write("target.toml", text);
    const Outcome got = run_here(
        {"recipe", "solve", target, "--materials", example("materials.toml"), "--out", target});
    expect_complaint(got, 2, "", {"--out", "target.toml"});
    EXPECT_EQ(read_bytes(target), text);
}

}  // namespace
