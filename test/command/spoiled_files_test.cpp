// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Every field of every kind of file left out, misspelt, or holding something else: a value or one
// clear complaint.
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>

#include <gtest/gtest.h>

#include "fuzz/document_property.hpp"
#include "fuzz/laboratory_property.hpp"
#include "fuzz/spoil.hpp"

namespace {

using namespace bw;
using fuzz::Fault;

std::string text_of(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

/// The reader of a kind of document.
Fault fault_of_kind(const std::string& kind, const io::Document& document) {
    if (kind == "target") {
        return fuzz::fault_of_target(document);
    }
    if (kind == "materials") {
        return fuzz::fault_of_materials(document);
    }
    if (kind == "lots") {
        return fuzz::fault_of_lots(document);
    }
    return kind == "recipe" ? fuzz::fault_of_recipe(document)
                            : fuzz::fault_of_laboratory_document(document);
}

/// Reads every spoiled file of a document and counts them by its kind; each finding is a failure.
void spoil(const std::filesystem::path& path, std::map<std::string, int>& kinds) {
    const auto document = io::parse_document(text_of(path), "input");
    if (!document) {
        return;
    }
    const auto whole =
        nlohmann::json::parse(command_test::json_of(document->root).dump(-1), nullptr, false);
    if (!whole.is_object() || !whole.contains("kind") || !whole["kind"].is_string()) {
        return;
    }
    const std::string kind = whole["kind"];
    fuzz::for_each_spoiled(whole, [&](const fuzz::Spoiled& spoiled) {
        const auto changed = io::parse_document(spoiled.document.dump(), "input");
        ASSERT_TRUE(changed) << changed.error().text();
        const Fault fault = fault_of_kind(kind, *changed);
        EXPECT_FALSE(fault) << path.filename() << ", " << spoiled.how << ": " << *fault;
        ++kinds[kind];
    });
}

TEST(SpoiledFiles, AreReadOrComplainedOfInOneSentence) {
    std::map<std::string, int> kinds;
    for (const char* folder :
         {"/test/fuzz/corpus/document", "/test/fuzz/corpus/laboratory", "/examples/first_batch",
          "/examples/laboratory", "/examples/quarter"}) {
        for (const auto& entry :
             std::filesystem::directory_iterator(std::string(BW_SOURCE_DIR) + folder)) {
            if (entry.is_regular_file()) {
                spoil(entry.path(), kinds);
            }
        }
    }
    constexpr int kEnough = 50;
    for (const char* kind : {"target", "materials", "lots", "recipe", "method", "limits",
                             "readings", "titration", "water", "column-map", "budget"}) {
        EXPECT_GT(kinds[kind], kEnough) << kind;
    }
}

}  // namespace
