// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// The books behind a server, asked over HTTP.
#pragma once
#include <chrono>
#include <memory>
#include <mutex>
#include <string>
#include <thread>
#include <vector>

#include <gmock/gmock.h>
#include <nlohmann/json.hpp>

#include "command/command_run.hpp"
#include "http/wire.hpp"
#include "http/works_server.hpp"
#include "works/works_day.hpp"

namespace bw::worksday {

using nlohmann::json;
using testing::HasSubstr;
using wire::status_of;

struct Asked {
    std::string method = "GET", path, body, cookie, form_token;
    std::vector<std::string> heads;
    bool as_json = true;
};

class PagesDay : public WorksDay {
protected:
    void SetUp() override {
        WorksDay::SetUp();
        keep_rules();
        books_.reset();  // the server writes: one writer at a time
        serve();
    }
    void serve() {
        http::WorksServerOptions options;
        options.books_place = place_;
        options.commands = [](const std::vector<std::string>& words, base::Watch* watch) {
            if (watch != nullptr && words.front() == "path") {
                return until_called_off(*watch);
            }
            const auto out = command_test::run_here(words);
            return http::CommandAnswer{out.code, out.out, out.err};
        };
        options.now = [this] {
            const std::lock_guard lock(clock_);
            return at();
        };
        server_ = BW_MUST(http::WorksServer::start(std::move(options)));
    }
    void TearDown() override {
        server_.reset();
        WorksDay::TearDown();
    }

    std::string ask(const Asked& a) {
        wire::Line line(server_->port());
        std::string head = fmt::format("{} {} HTTP/1.1\r\nHost: 127.0.0.1:{}\r\n", a.method, a.path,
                                       server_->port());
        if (!a.cookie.empty()) {
            head += "Cookie: brine=" + a.cookie + "\r\n";
        }
        if (!a.form_token.empty()) {
            head += "Form-Token: " + a.form_token + "\r\n";
        }
        if (a.as_json && a.method != "GET") {
            head += "Content-Type: application/json\r\n";
        }
        for (const std::string& one : a.heads) {
            head += one + "\r\n";
        }
        line.send(fmt::format("{}Content-Length: {}\r\nConnection: close\r\n\r\n{}", head,
                              a.body.size(), a.body));
        return line.answer();
    }

    struct Session {
        std::string cookie, form_token;
    };
    Session sign_in(const std::string& person, const std::string& password = kPassword) {
        const std::string answer =
            ask({"POST",
                 "/api/v1/session",
                 json{{"person", person}, {"password", password}, {"device", "desk"}}.dump(),
                 "",
                 "",
                 {}});
        EXPECT_EQ(status_of(answer), 200) << answer;
        constexpr std::size_t kDigits = 64;
        const std::string cookie = wire::header_of(answer, "Set-Cookie");
        EXPECT_THAT(cookie, HasSubstr("; Path=/; HttpOnly; SameSite=Strict"));
        const std::string named = "brine=";
        const std::size_t from = cookie.find(named) + named.size();
        EXPECT_EQ(cookie.find_first_not_of("0123456789abcdef", from), from + kDigits) << cookie;
        return {cookie.substr(from, kDigits), json::parse(wire::body_of(answer)).at("form_token")};
    }
    std::string act(const Session& who, const std::string& name, const json& body) {
        return ask({"POST", "/api/v1/act/" + name, body.dump(), who.cookie, who.form_token, {}});
    }
    std::string get(const Session& who, const std::string& path) {
        return ask({"GET", "/api/v1/" + path, "", who.cookie, "", {}});
    }
    /// Whom the session is of, or "nobody".
    std::string person_at(const Session& who) {
        const std::string answer = get(who, "session");
        EXPECT_EQ(status_of(answer), 200) << answer;
        const json body = json::parse(wire::body_of(answer));
        return body.contains("nobody") ? "nobody" : std::string(body.at("person").at("id"));
    }
    static json hold(const std::string& request, const std::string& why = "looked damp") {
        return {{"request", request}, {"why", why}, {"order", {{"lot", "A26-0107"}}}};
    }

    /// A computation that is a quarter done and goes on until nobody wants it any more.
    static http::CommandAnswer until_called_off(base::Watch& watch) {
        watch.share = 0.25;
        const auto late = std::chrono::steady_clock::now() + std::chrono::seconds(20);
        while (!watch.called_off && std::chrono::steady_clock::now() < late) {
            std::this_thread::sleep_for(std::chrono::milliseconds(5));
        }
        return {4, "", watch.called_off ? "called off before it was done" : "nobody called it off"};
    }

    std::mutex clock_;
    std::unique_ptr<http::WorksServer> server_;
};

}  // namespace bw::worksday
