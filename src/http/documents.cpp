// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "http/documents.hpp"

#include <fmt/format.h>

#include "base/text.hpp"
#include "http/answers.hpp"
#include "http/assets.hpp"
#include "http/records.hpp"
#include "io/document_text.hpp"
#include "service/recipe_versions.hpp"

namespace bw::http {
namespace {

constexpr std::string_view kExamples = "/examples/";
constexpr std::string_view kExample = "example:", kRecipe = "recipe:";
constexpr const char* kBooksMaterials = "books:materials";
constexpr std::int64_t kMostRows = 1000;

Result<io::Document> parsed(const Asset& asset) {
    return io::parse_document(asset.plain, std::string(asset.path.substr(kExamples.size())));
}

std::string word_in(const io::Document& document, std::string_view key) {
    const io::Node* node = document.root.find(key);
    return node != nullptr && node->text() != nullptr ? *node->text() : std::string();
}

Result<GivenDocument> example(const Asset& asset) {
    BW_TRY(document, parsed(asset));
    const std::string file(asset.path.substr(kExamples.size()));
    const std::string name = word_in(document, "name");
    return GivenDocument{std::string(kExample) + file, word_in(document, "kind"),
                         name.empty() ? file : name, std::string(asset.plain)};
}

Result<GivenDocument> catalogue(const store::Books& books) {
    store::ListQuery query;
    query.limit = kMostRows;
    BW_TRY(materials, service::kept_list<works::Material>(books, query));
    std::vector<io::Node> tables;
    for (const auto& material : materials) {
        BW_TRY(table, io::parse_document(material.is.text, "material"));
        tables.push_back(table.root);
    }
    return GivenDocument{
        kBooksMaterials, "materials", "materials of the books",
        io::json_text(
            io::document_of("materials", "material", std::move(tables), "materials").root)};
}

Result<GivenDocument> of_version(const store::Books& books, std::string_view rest) {
    const std::size_t colon = rest.rfind(':');
    const std::string what(colon == std::string_view::npos ? "" : rest.substr(colon + 1));
    const std::string id(rest.substr(0, colon));
    BW_TRY(version, service::kept<works::RecipeVersion>(books, id));
    const std::string* text = what == "target"      ? &version.is.target
                              : what == "recipe"    ? &version.is.recipe
                              : what == "materials" ? &version.is.materials
                                                    : nullptr;
    if (text == nullptr) {
        return fail(ProblemCode::NotFound,
                    fmt::format("{} has a target, a recipe and materials, and no {}", id,
                                base::quoted(what)));
    }
    return GivenDocument{fmt::format("{}{}:{}", kRecipe, id, what), what,
                         fmt::format("{} of {}", what, id), *text};
}

std::string name_json(std::string_view id, std::string_view kind, std::string_view title,
                      std::string_view from) {
    return fmt::format(R"({{"id":{},"kind":{},"title":{},"from":"{}"}})", json_string(id),
                       json_string(kind), json_string(title), from);
}

}  // namespace

Result<GivenDocument> given_document(const store::Books& books, const std::string& id) {
    const std::string_view view = id;
    if (view.starts_with(kExample)) {
        const Asset* asset =
            find_asset(std::string(kExamples) + std::string(view.substr(kExample.size())));
        if (asset != nullptr) {
            return example(*asset);
        }
    } else if (view == kBooksMaterials) {
        return catalogue(books);
    } else if (view.starts_with(kRecipe)) {
        return of_version(books, view.substr(kRecipe.size()));
    }
    return fail(ProblemCode::NotFound, fmt::format("there is no document {}", base::quoted(id)),
                {"", 0, "document"});
}

Result<Response> list_documents(const Request&, const Caller& caller) {
    std::string out;
    const auto add = [&](const std::string& row) { out += (out.empty() ? "" : ",") + row; };
    for (const Asset& asset : assets()) {
        if (asset.path.starts_with(kExamples)) {
            BW_TRY(document, example(asset));
            add(name_json(document.id, document.kind, document.title, "example"));
        }
    }
    add(name_json(kBooksMaterials, "materials", "materials of the books", "books"));
    store::ListQuery query;
    query.kind = service::kKind<works::RecipeVersion>;
    query.limit = kMostRows;
    BW_TRY(versions, caller.desk.books->list(query));
    for (const store::Listed& version : versions) {
        for (const char* what : {"target", "recipe", "materials"}) {
            add(name_json(fmt::format("{}{}:{}", kRecipe, version.id, what), what,
                          fmt::format("{} of {}", what, version.id), "books"));
        }
    }
    return json_answer(fmt::format(R"({{"version":1,"documents":[{}]}})", out));
}

Result<Response> show_document(const Request& request, const Caller& caller) {
    BW_TRY(id, needed(request, "id"));
    BW_TRY(document, given_document(*caller.desk.books, id));
    return json_answer(fmt::format(R"({{"version":1,"id":{},"kind":{},"title":{},"text":{}}})",
                                   json_string(document.id), json_string(document.kind),
                                   json_string(document.title), json_string(document.text)));
}

}  // namespace bw::http
