// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "http/pages.hpp"

#include <fmt/format.h>

#include "http/answers.hpp"
#include "http/assets.hpp"

namespace bw::http {
namespace {

constexpr std::string_view kFirstPage = "/index.html";

bool takes_gzip(const Request& request) {
    const auto takes = request.header("accept-encoding");
    return takes && takes->find("gzip") != std::string_view::npos;
}

}  // namespace

Response give_page(const Request& request) {
    const Asset* asset = find_asset(request.path);
    const bool file = request.path.rfind('.') > request.path.rfind('/') &&
                      request.path.rfind('.') != std::string::npos;
    if (asset == nullptr && request.path.starts_with("/assets/")) {
        return problem_answer({ProblemCode::NotFound, "there is no such file", {}});
    }
    if (asset == nullptr) {
        asset = find_asset(kFirstPage);
    }
    if (asset == nullptr) {
        return problem_answer({ProblemCode::NotFound,
                               file ? "there is no such file"
                                    : "this program was built without its pages (BW_UI=OFF)",
                               {}});
    }
    const std::string tag = fmt::format("\"{}\"", asset->sha256.substr(0, 32));
    Response out;
    out.type = asset->type;
    out.headers = {
        {"ETag", tag},
        {"Vary", "Accept-Encoding"},
        {"Cache-Control", asset->immutable ? "public, max-age=31536000, immutable" : "no-cache"}};
    if (request.header("if-none-match") == tag) {
        out.status = kNotModified;
        return out;
    }
    if (takes_gzip(request)) {
        out.headers.emplace_back("Content-Encoding", "gzip");
        out.body = asset->gzip;
    } else {
        out.body = asset->plain;
    }
    return out;
}

}  // namespace bw::http
