// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/remark_text.hpp"

#include <nlohmann/json.hpp>

namespace bw::service {
namespace {

using Json = nlohmann::ordered_json;

std::string text_of(const Json& json) {
    return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

}  // namespace

std::string remark_text(std::span<const works::DuplicateRemark> remarks) {
    Json out = Json::array();
    for (const works::DuplicateRemark& remark : remarks) {
        out.push_back({{"sample", remark.sample},
                       {"analyte", remark.analyte},
                       {"method", remark.method},
                       {"results", remark.results},
                       {"apart_percent", remark.apart_percent},
                       {"allowed_percent", remark.allowed_percent},
                       {"sentence", remark.sentence}});
    }
    return text_of(out);
}

std::string remark_text(std::span<const works::ReadingDoubt> doubts) {
    Json out = Json::array();
    for (const works::ReadingDoubt& doubt : doubts) {
        out.push_back({{"portion", doubt.portion},
                       {"analyte", doubt.analyte},
                       {"method", doubt.method},
                       {"times", doubt.times},
                       {"sentence", doubt.sentence}});
    }
    return text_of(out);
}

}  // namespace bw::service
