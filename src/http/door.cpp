// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "http/door.hpp"

#include <fmt/format.h>

#include "base/program.hpp"
#include "base/text.hpp"
#include "http/answers.hpp"
#include "http/order.hpp"
#include "service/people.hpp"
#include "store/digest.hpp"

namespace bw::http {
namespace {

// Ours, chosen and not measured: no person is slowed by them, a script is.
constexpr double kSignInsAtOnce = 10, kSignInsPerMinute = 10;
constexpr double kWritesAtOnce = 60, kWritesPerMinute = 240;
constexpr std::size_t kFormTokenLength = 32;

bool same(std::string_view a, std::string_view b) {
    unsigned differs = a.size() == b.size() ? 0 : 1;
    for (std::size_t i = 0; i < a.size() && i < b.size(); ++i) {
        differs |= static_cast<unsigned>(static_cast<unsigned char>(a[i]) ^
                                         static_cast<unsigned char>(b[i]));
    }
    return differs == 0;
}

Response not_signed_in(std::string_view why) {
    return {kNotSignedIn,
            "application/problem+json",
            fmt::format(R"({{"title":{},"status":401,"code":"not_signed_in"}})", json_string(why)),
            {}};
}

Response refused(std::string_view why, int status = kForbidden) {
    return problem_answer({ProblemCode::Refused, std::string(why), {}}, status);
}

bool is_json(const Request& request) {
    const auto type = request.header("content-type");
    return type && base::lower_ascii(type->substr(0, type->find(';'))) == "application/json";
}

}  // namespace

std::optional<Response> foreign(const Request& request) {
    const auto site = request.header("sec-fetch-site");
    if (site && *site != "same-origin") {
        return refused("this request comes from a page of another site");
    }
    const auto origin = request.header("origin");
    const auto host = request.header("host");
    if (origin) {
        const std::size_t scheme = origin->find("://");
        if (scheme == std::string_view::npos || !host || origin->substr(scheme + 3) != *host) {
            return refused("this request comes from a page of another site");
        }
    }
    if (request.method != "DELETE" && !is_json(request)) {
        return refused("requests that write are application/json", kOtherType);
    }
    return std::nullopt;
}

Door::Door(store::Books& books, bool tls, std::function<std::string()> now)
    : books_(books),
      tls_(tls),
      now_(std::move(now)),
      sign_ins_(kSignInsAtOnce, kSignInsPerMinute),
      writes_(kWritesAtOnce, kWritesPerMinute) {}

std::string Door::cookie_name() const { return tls_ ? "__Host-brine" : "brine"; }

std::string Door::form_token(const std::string& token) {
    return store::sha256_hex("form token of " + token).substr(0, kFormTokenLength);
}

Result<std::string> Door::works_json() const {
    BW_TRY(site, service::site_of(books_));
    return fmt::format(R"({{"version":1,"name":{},"laboratory":{},"invented":{},"program":{}}})",
                       json_string(site.name), json_string(site.laboratory), site.invented,
                       json_string(base::kProgramVersion));
}

Result<std::string> Door::session_json(const service::Desk& desk, const std::string& token) const {
    BW_TRY(works, works_json());
    std::string duties;
    for (const works::Duty duty : desk.person.duties) {
        duties += (duties.empty() ? "" : ",") + json_string(works::name(duty));
    }
    return fmt::format(
        R"({{"version":1,"person":{{"id":{},"name":{},"duties":[{}]}},"device":{},"form_token":{},"works":{}}})",
        json_string(desk.person.id), json_string(desk.person.name), duties,
        json_string(desk.device), json_string(form_token(token)), works);
}

Result<std::string> Door::nobody_json() const {
    BW_TRY(works, works_json());
    return fmt::format(R"({{"version":1,"nobody":true,"works":{}}})", works);
}

Response Door::sign_in(const Request& request) {
    if (const auto why = foreign(request)) {
        return *why;
    }
    if (!sign_ins_.may(request.peer)) {
        return refused("too many sign-ins from this place: wait a minute", kTooMany);
    }
    auto order = Order::of(request.body);
    if (!order) {
        return problem_answer(order.error());
    }
    const std::string person = order->text("person");
    const std::string password = order->text("password");
    const std::string given = order->text_or("device");
    const std::string device = given.empty() ? "a browser" : given;
    if (const auto good = order->end(); !good) {
        return problem_answer(good.error());
    }
    const std::string at = now_();
    hashing_.acquire();
    auto desk = service::desk_by_password(books_, person, password, device, at);
    hashing_.release();
    if (!desk) {
        return desk.error().code == ProblemCode::Refused ? not_signed_in(desk.error().message)
                                                         : problem_answer(desk.error());
    }
    const auto token = books_.open_session(person, device, at);
    if (!token) {
        return problem_answer(token.error());
    }
    const auto body = session_json(*desk, *token);
    if (!body) {
        return problem_answer(body.error());
    }
    Response out = json_answer(*body);
    out.headers.emplace_back(
        "Set-Cookie", fmt::format("{}={}; Path=/; HttpOnly; SameSite=Strict{}", cookie_name(),
                                  *token, tls_ ? "; Secure" : ""));
    return out;
}

tl::expected<Caller, Response> Door::caller(const Request& request) {
    const auto token = request.cookie(cookie_name());
    if (!token || token->empty()) {
        return tl::make_unexpected(not_signed_in("nobody is signed in at this desk"));
    }
    auto desk = service::desk_by_session(books_, std::string(*token), now_());
    if (!desk) {
        return tl::make_unexpected(desk.error().code == ProblemCode::Refused
                                       ? not_signed_in(desk.error().message)
                                       : problem_answer(desk.error()));
    }
    return Caller{std::move(*desk), std::string(*token)};
}

tl::expected<Caller, Response> Door::writer(const Request& request) {
    if (const auto why = foreign(request)) {
        return tl::make_unexpected(*why);
    }
    auto who = caller(request);
    if (!who) {
        return who;
    }
    const auto form = request.header("form-token");
    if (!form || !same(*form, form_token(who->token))) {
        return tl::make_unexpected(
            refused("the form token is missing or not that of this session: load the page again"));
    }
    if (!writes_.may(who->token)) {
        return tl::make_unexpected(refused("too many requests at once: wait a moment", kTooMany));
    }
    return who;
}

Response Door::session(const Request& request) {
    const auto who = caller(request);
    if (!who && who.error().status != kNotSignedIn) {
        return who.error();
    }
    const auto body = who ? session_json(who->desk, who->token) : nobody_json();
    return body ? json_answer(*body) : problem_answer(body.error());
}

Response Door::sign_out(const Request& request) {
    const auto who = writer(request);
    if (!who) {
        return who.error();
    }
    if (const auto ended = books_.close_session(who->token); !ended) {
        return problem_answer(ended.error());
    }
    Response out{kNoContent, "application/json", "", {}};
    out.headers.emplace_back("Set-Cookie",
                             fmt::format("{}=; Path=/; HttpOnly; SameSite=Strict; Max-Age=0{}",
                                         cookie_name(), tls_ ? "; Secure" : ""));
    return out;
}

}  // namespace bw::http
