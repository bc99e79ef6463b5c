// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "http/decisions.hpp"

#include <nlohmann/json.hpp>

#include "http/answers.hpp"
#include "http/records.hpp"
#include "service/releases.hpp"

namespace bw::http {

Result<Response> show_decisions(const Request& request, const Caller& caller) {
    using Json = nlohmann::ordered_json;
    BW_TRY(batch, needed(request, "batch"));
    BW_TRY(choices, service::decision_choices(caller.desk, batch));
    Json rows = Json::array();
    for (const service::DecisionChoice& choice : choices) {
        rows.push_back({{"decision", works::name(choice.decision)},
                        {"meaning", works::meaning(choice.decision)},
                        {"taken", choice.hinders.empty()},
                        {"hinders", choice.hinders}});
    }
    const Json out = {{"version", 1}, {"batch", batch}, {"choices", rows}};
    return json_answer(out.dump(-1, ' ', false, Json::error_handler_t::replace));
}

}  // namespace bw::http
