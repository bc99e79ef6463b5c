// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "http/acts.hpp"

#include <fmt/format.h>

#include "base/text.hpp"
#include "http/answers.hpp"
#include "store/digest.hpp"
#include "unit/unit_table.hpp"

namespace bw::http {
namespace {

constexpr std::size_t kShortestRequest = 8, kLongestRequest = 100;

Result<void> check_request(const std::string& request) {
    if (request.size() < kShortestRequest || request.size() > kLongestRequest) {
        return fail(ProblemCode::BadInput,
                    fmt::format("a request's number has {} to {} characters", kShortestRequest,
                                kLongestRequest),
                    {"", 0, "request"});
    }
    return {};
}

}  // namespace

Result<io::Document> document_of(Order& order) {
    const std::string text = order.text("text");
    const std::string name = order.text_or("name", "the file");
    BW_CHECK(order.end());
    return io::parse_document(text, name);
}

Result<double> kg_of(const std::string& text, std::string_view field) {
    const auto mass = unit::parse_quantity(text, "kg");
    if (!mass) {
        Problem problem = mass.error();
        problem.place.field = field;
        return tl::make_unexpected(std::move(problem));
    }
    if (mass->unit.dimension != unit::Dimension::Mass) {
        return fail(ProblemCode::BadUnit,
                    fmt::format("{} is no mass: write it with g or kg", base::quoted(text)),
                    {"", 0, std::string(field)});
    }
    return mass->value();
}

Result<std::string> bytes_of(const std::string& base64, std::string_view field) {
    auto bytes = store::from_base64(base64);
    if (!bytes) {
        return fail(ProblemCode::BadInput, "the bytes are not base64", {"", 0, std::string(field)});
    }
    return std::move(*bytes);
}

Result<Response> carry_out(const NamedAct& act, const Request& request, const Caller& caller,
                           const store::SigningKey* key) {
    BW_TRY(body, Order::of(request.body));
    service::Intent intent;
    intent.request = body.text("request");
    intent.why = body.text_or("why");
    ActContext context{caller.desk, intent, "", key, caller.token};
    if (act.is_signed) {
        context.password = body.part("signing").text("password");
    }
    Order order = body.part("order");
    BW_CHECK(check_request(intent.request));
    intent.asked = store::sha256_hex(fmt::format("{} {}", act.name, order.canonical()));
    BW_TRY(receipt, act.act(order, context));
    return json_answer(fmt::format(
        R"({{"version":1,"answer":{},"entry":{},"mark":{},"repeated":{}}})",
        json_string(receipt.answer), receipt.entry, json_string(receipt.mark), receipt.repeated));
}

}  // namespace bw::http
