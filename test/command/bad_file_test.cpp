// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Files that are no documents of ours: each is refused in one line, in whatever place it is given.
#include <chrono>

#include "command/bad_case.hpp"
#include "figure.hpp"

namespace {

using namespace bw::command_test;

struct BadFile {
    std::string name;
    std::string bytes;
    std::string place;  ///< after the file's name
    std::vector<std::string> says;
};
void PrintTo(const BadFile& f, std::ostream* out) { *out << f.name; }

std::string utf16(std::string_view ascii, bool big_endian, bool mark) {
    std::string out = mark ? (big_endian ? "\xFE\xFF" : "\xFF\xFE") : "";
    for (const char c : ascii) {
        out += big_endian ? std::string{'\0', c} : std::string{c, '\0'};
    }
    return out;
}

std::string repeat(std::string_view piece, std::size_t times) {
    std::string out;
    out.reserve(piece.size() * times);
    for (std::size_t i = 0; i < times; ++i) {
        out += piece;
    }
    return out;
}

std::string with(std::string_view more) { return std::string(kTarget) + std::string(more); }

std::vector<BadFile> contents() {
    constexpr std::size_t kTenMegabytes = 10'000'000;
    return {
        {"Empty", "", ": ", {"the file is empty", "format", "kind"}},
        {"Blank", " \n\t\r\n", ": ", {"the file is empty"}},
        {"ByteOrderMarkOnly", "\xEF\xBB\xBF", ": ", {"the file is empty"}},
        {"CommentOnly", "# nothing yet\n", ":1: ", {"format = \"brinewright/1\""}},
        {"TenMegabytes", "# " + std::string(kTenMegabytes, 'x'), ": ", {"4194304 bytes"}},
        {"Utf16LittleEndian", utf16(kTarget, false, true), ":1: ", {"not UTF-8", "UTF-16"}},
        {"Utf16BigEndian", utf16(kTarget, true, true), ":1: ", {"not UTF-8", "UTF-16"}},
        {"Utf16WithoutMark", utf16(kTarget, false, false), ":1: ", {"NUL byte"}},
        {"Latin1",
         with("note = \"Gr\xF6\xDF"
              "e\"\n"),
         ":7: ",
         {"not UTF-8", "code page"}},
        {"OverlongUtf8", with("note = \"\xC0\xAF\"\n"), ":7: ", {"not UTF-8"}},
        {"HalfAnUtf8Character", with("note = \"\xE2\x82"), ":7: ", {"not UTF-8"}},
        {"NulByte", with(std::string("note = \"a\0b\"\n", 13)), ":7: ", {"NUL byte"}},
        {"ControlByte", with("note = \"a\x1B[31mb\"\n"), ":7: ", {"not valid TOML"}},
        {"LetterOutsideQuotes", with("gr\u00f6\u00dfe = 1\n"), ":7: ", {"not valid TOML"}},
        {"LetterAfterAValue", with("note = \"a\" \u00e9\n"), ":7: ", {"not valid TOML"}},
        {"HeaderWithASign", with("[+a]\n"), ":7: ", {"not valid TOML"}},
        {"SyntaxError", with("note = \n"), ":7: ", {"not valid TOML"}},
        {"OpenQuote", with("note = \"abc\n"), ":7: ", {"not valid TOML"}},
        {"SameKeyTwice", with("name = \"Again\"\n"), ":7: ", {"name"}},
        {"SameTableTwice", with("[limits]\n[limits]\n"), ":8: ", {"limits"}},
        {"DeepLists", with("note = " + repeat("[", 40) + repeat("]", 40) + "\n"), ":7: ", {"deep"}},
        {"VeryDeepLists",
         with("note = " + repeat("[", 100000) + repeat("]", 100000) + "\n"),
         ":7: ",
         {"not valid TOML"}},
        {"DeepDottedTable", with("[a" + repeat(".a", 100) + "]\n"), ":", {"deep"}},
        {"VeryDeepDottedTable", with("[a" + repeat(".a", 1'500'000) + "]\n"), ":", {"deep"}},
        {"VeryDeepDottedKey", with("a" + repeat(".a", 1'500'000) + " = 1\n"), ":", {"deep"}},
        {"VeryDeepDottedInlineKey",
         with("x = { a" + repeat(".a", 1'500'000) + " = 1 }\n"),
         ":",
         {"deep"}},
        {"FormatMissing",
         instead(kTarget, "format = \"brinewright/1\"\n", ""),
         ":1: ",
         {"must start with format = \"brinewright/1\""}},
        {"FormatOfLater",
         instead(kTarget, "brinewright/1", "brinewright/2"),
         ":1: ",
         {"format = \"brinewright/1\""}},
        {"FormatIsANumber",
         instead(kTarget, "\"brinewright/1\"", "1"),
         ":1: ",
         {"format = \"brinewright/1\""}},
        {"KindMissing", instead(kTarget, "kind = \"target\"\n", ""), ":1: ", {"must say kind = "}},
        {"KindUnknown", instead(kTarget, "\"target\"", "\"salad\""), ":2: ", {"'salad'"}},
        {"JsonSyntax", "{\"format\": \"brinewright/1\",\n\"kind\": }", ":2: ", {"not valid JSON"}},
        {"JsonNotClosed", "{\"format\": \"brinewright/1\"", ":1: ", {"not valid JSON"}},
        {"JsonFollowedByMore", "{}\n{}", ":2: ", {"not valid JSON"}},
        {"JsonSameKeyTwice",
         R"({"format": "brinewright/1", "kind": "target", "kind": "lots"})",
         ": kind: ",
         {"twice"}},
        {"JsonNull", R"({"format": "brinewright/1", "kind": null})", ": kind: ", {"null"}},
        {"JsonNumberTooLarge",
         R"({"format": "brinewright/1", "kind": 1e999})",
         ": ",
         {"too large"}},
        {"JsonNan", R"({"format": "brinewright/1", "kind": NaN})", ":1: ", {"not valid JSON"}},
        {"JsonLoneSurrogate", R"({"format": "\ud800"})", ":1: ", {"not valid JSON"}},
        {"JsonEmptyObject", "{}", ": ", {"format = \"brinewright/1\""}},
        {"JsonDeepObjects", repeat("{\"a\":", 40) + "1" + repeat("}", 40), ": a.a.a", {"deep"}},
        {"JsonVeryDeepLists",
         "{\"a\":" + repeat("[", 2'000'000) + repeat("]", 2'000'000) + "}",
         ": ",
         {"deep"}},
        {"JsonVeryDeepObjects",
         repeat("{\"\":", 600'000) + "1" + repeat("}", 600'000),
         ": ",
         {"deep"}},
        {"JsonListAtTheTop", "[1]", ":1: ", {"format"}},
    };
}

class BadContents : public testing::TestWithParam<BadFile> {};

/// Gives the number of places where it was tried.
std::size_t expect_refused(const BadFile& bad) {
    const TestFolder folder;
    const std::string path = folder.write("spoilt.toml", bad.bytes);
    const std::string target = folder.write("target.toml", kTarget);
    const std::string materials = folder.write("materials.toml", kMaterials);
    const auto before = folder.names();
    const std::vector<std::vector<std::string>> uses{
        {"recipe", "solve", path, "--materials", materials, "--out", folder.path("r.toml")},
        {"recipe", "solve", target, "--materials", materials, path, "--csv", folder.path("r.csv")},
        {"recipe", "solve", target, "--materials", materials, "--lots", path, "--json"},
        {"recipe", "solve", target, "--materials", materials, "--standing", path, "--quiet"},
        {"recipe", "compare", path, path},
    };
    // The real program, since a fault of depth or size may end the process.
    for (const auto& arguments : uses) {
        expect_complaint(run_program(arguments, folder.path()), 2, path + bad.place, bad.says);
    }
    EXPECT_EQ(folder.names(), before);
    return uses.size();
}

TEST_P(BadContents, AreRefusedInOneLine) { expect_refused(GetParam()); }

TEST(LargeFile, OfTenMegabytesIsRefusedWhereverItIsGiven) {
    const auto all = contents();
    const auto large = std::find_if(all.begin(), all.end(),
                                    [](const BadFile& f) { return f.name == "TenMegabytes"; });
    ASSERT_NE(large, all.end());
    const std::size_t places = expect_refused(*large);
    bw::test::record({"Recipes", "a file of 10 MB as target, materials, lots or recipe",
                      "refused, exit code 2",
                      fmt::format("refused in {} of {} places; the limit is 4194304 bytes",
                                  HasFailure() ? 0 : places, places),
                      !HasFailure()});
}

INSTANTIATE_TEST_SUITE_P(Files, BadContents, testing::ValuesIn(contents()),
                         [](const auto& tested) { return tested.param.name; });

/// A file at most as large as is read must not take long, whatever is in it.
TEST(LargeFile, ManyKeysAreRefusedSoon) {
    std::string keys;
    for (int i = 0; keys.size() < 3'500'000; ++i) {
        keys += ",\"k" + std::to_string(i) + "\":1";
    }
    const TestFolder folder;
    const std::string path =
        folder.write("keys.json", R"({"format": "brinewright/1", "kind": "target")" + keys + "}");
    const auto from = std::chrono::steady_clock::now();
    const Outcome got = run_here(
        {"recipe", "solve", path, "--materials", folder.write("materials.toml", kMaterials)});
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - from;
    expect_complaint(got, 2, path + ": ", {});
    EXPECT_LT(took.count(), 30.0) << "seconds";
}

/// Text of the user's that breaks lines or commands the terminal must not do so in a complaint.
TEST(Complaint, StaysOneLineWhateverTheFileHolds) {
    const std::string breaking = "a\\nb\\u001b[31mc";
    const std::vector<BadCase> cases{
        {"JsonKeyOfNull", "target", "{\"format\":\"brinewright/1\",\"" + breaking + "\":null}", {}},
        {"JsonKeyTwice", "target", "{\"" + breaking + "\":1,\"" + breaking + "\":2}", {}},
        {"Key", "target", std::string(kTarget) + "\"" + breaking + "\" = 1\n", {}},
        {"KeyOfWater",
         "target",
         std::string(kTarget) + "[purified_water]\nunit = \"mg/L\"\n\"" + breaking + "\" = 1\n",
         {}},
        {"Symbol",
         "target",
         std::string(kTarget) + "[[constituent]]\nsymbol = \"" + breaking + "\"\n",
         {}},
        {"NameOfMaterial",
         "materials",
         instead(instead(kMaterials, "table salt", breaking), "99 %", "150 %"),
         {}},
        {"Impurity",
         "materials",
         std::string(kMaterials) + "impurities = [ { of = \"" + breaking +
             "\", high = \"1 %\" }, { of = \"" + breaking + "\", high = \"1 %\" } ]\n",
         {}},
        {"Form",
         "materials",
         instead(kMaterials, "\"99 %\"", "{ value = \"99 %\", as = \"" + breaking + "\" }"),
         {}},
        {"Kind", "materials", instead(kMaterials, "\"materials\"", "\"" + breaking + "\""), {}},
        {"NumberOfLot",
         "lots",
         instead(kLots, "A1", breaking) + "[[lot]]\nmaterial = \"table salt\"\nnumber = \"" +
             breaking + "\"\n",
         {}},
        {"Standing", "standing", instead(kRecipe, "table salt", breaking), {}},
    };
    for (const BadCase& c : cases) {
        SCOPED_TRACE(c.name);
        const TestFolder folder;
        std::vector<std::string> arguments{"recipe", "solve"};
        const auto text = [&](const std::string& kind, std::string_view good) {
            return folder.write(kind, kind == c.which ? std::string_view(c.text) : good);
        };
        arguments.push_back(text("target", kTarget));
        arguments.insert(arguments.end(), {"--materials", text("materials", kMaterials)});
        arguments.insert(arguments.end(), {"--lots", text("lots", kLots)});
        arguments.insert(arguments.end(), {"--standing", text("standing", kRecipe)});
        const Outcome got = run_here(arguments);
        expect_complaint(got, 2, folder.path(c.which) + ":", {});
        EXPECT_EQ(got.err.find('\x1b'), std::string::npos);
    }
    const TestFolder folder;
    const Outcome got = run_here({"recipe", "solve", folder.path("a\nb\x1b[31m"), "--materials",
                                  folder.write("materials.toml", kMaterials)});
    expect_complaint(got, 2, "", {"no such file"});
    EXPECT_EQ(got.err.find('\x1b'), std::string::npos);
}

/// The five places where a file is named.
std::vector<std::vector<std::string>> uses_of(const TestFolder& folder, const std::string& path) {
    const std::string target = folder.write("target.toml", kTarget);
    const std::string materials = folder.write("materials.toml", kMaterials);
    const std::string recipe = folder.write("recipe.toml", kRecipe);
    return {
        {"recipe", "solve", path, "--materials", materials},
        {"recipe", "solve", target, "--materials", path},
        {"recipe", "solve", target, "--materials", materials, "--lots", path},
        {"recipe", "solve", target, "--materials", materials, "--standing", path},
        {"recipe", "compare", path, recipe},
        {"recipe", "compare", recipe, path},
    };
}

TEST(NamedFile, Missing) {
    const TestFolder folder;
    const std::string path = folder.path("absent.toml");
    for (const auto& arguments : uses_of(folder, path)) {
        expect_complaint(run_here(arguments), 2, path + ": ", {"there is no such file"});
    }
}

TEST(NamedFile, Folder) {
    const TestFolder folder;
    const std::string path = folder.path("inner");
    std::filesystem::create_directory(path);
    for (const auto& arguments : uses_of(folder, path)) {
        expect_complaint(run_here(arguments), 2, path + ": ", {"this is a folder", "name a file"});
    }
}

TEST(NamedFile, EmptyNameIsNotTakenForNone) {
    const TestFolder folder;
    for (const auto& arguments : uses_of(folder, "")) {
        expect_complaint(run_here(arguments), 2, "", {});
    }
}

/// A disk that fails is not the user's mistake: exit code 3, as the contract has it.
TEST(NamedFile, ThatCannotBeReadIsAFaultOfTheDisk) {
    const std::string path = "/proc/self/mem";  // opens, and fails at its first byte
    const TestFolder folder;
    for (const auto& arguments : uses_of(folder, path)) {
        expect_complaint(run_here(arguments), 3, path + ": ", {"cannot be read"});
    }
}

TEST(NamedFile, WithoutPermissionIsAFaultOfTheDisk) {
    if (::geteuid() == 0) {  // who may read everything cannot be refused
        SUCCEED();
        return;
    }
    const TestFolder folder;
    const std::string path = folder.write("closed.toml", kTarget);
    std::filesystem::permissions(path, std::filesystem::perms::none);
    for (const auto& arguments : uses_of(folder, path)) {
        expect_complaint(run_here(arguments), 3, path + ": ", {"cannot be opened"});
    }
}

TEST(NamedFile, WithByteOrderMarkAndWindowsLineEndsIsRead) {
    const TestFolder folder;
    std::string text = "\xEF\xBB\xBF";
    for (const char c : kRecipe) {
        text += c == '\n' ? std::string("\r\n") : std::string(1, c);
    }
    const std::string path = folder.write("windows.toml", text);
    const Outcome got = run_here({"recipe", "compare", path, folder.write("r.toml", kRecipe)});
    EXPECT_EQ(got.code, 0) << got.err;
    EXPECT_EQ(got.err, "");
    EXPECT_NE(got.out.find("table salt"), std::string::npos);
}

}  // namespace
