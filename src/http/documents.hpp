// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Files that the server has: those of the example works, and those that the books hold.
#pragma once
#include <string>
#include <string_view>

#include "http/door.hpp"
#include "http/message.hpp"

namespace bw::http {

struct GivenDocument {
    std::string id;    ///< "example:raised.toml", "books:materials", "recipe:Raised reef/1:target"
    std::string kind;  ///< "target", "materials", ...
    std::string title, text;
};

/// Errors   NotFound for an id that is none of documents_json().
[[nodiscard]] Result<GivenDocument> given_document(const store::Books& books,
                                                   const std::string& id);

[[nodiscard]] Result<Response> list_documents(const Request& request, const Caller& caller);
[[nodiscard]] Result<Response> show_document(const Request& request, const Caller& caller);

}  // namespace bw::http
