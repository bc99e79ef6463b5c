// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <algorithm>
#include <array>
#include <chrono>
#include <memory>
#include <mutex>
#include <string>
#include <string_view>

#include "base/text.hpp"
#include "fuzz/one_line.hpp"
#include "http/answers.hpp"
#include "http/door.hpp"
#include "http/server.hpp"
#include "http/wire.hpp"

namespace bw::fuzz {

inline bool has_break(std::string_view text) {
    return text.find_first_of(std::string_view("\r\n\0", 3)) != std::string_view::npos;
}

/// What a handler may rely on (http/message.hpp, http/server.hpp).
inline Fault fault_of_request(const http::Request& request, const http::ServerLimits& limits) {
    constexpr std::array<std::string_view, 6> kMethods = {"GET", "HEAD",  "POST",
                                                          "PUT", "PATCH", "DELETE"};
    if (std::find(kMethods.begin(), kMethods.end(), request.method) == kMethods.end()) {
        return "a method that is none: " + base::quoted(request.method);
    }
    const std::string& path = request.path;
    if (!path.starts_with('/') || has_break(path) || path.find("//") != std::string::npos ||
        (path + "/").find("/../") != std::string::npos ||
        (path + "/").find("/./") != std::string::npos || path.find('\\') != std::string::npos) {
        return "a path that is not plain: " + base::quoted(path);
    }
    if (request.body.size() > limits.body_bytes) {
        return "a body beyond its limit";
    }
    for (const auto& [name, value] : request.headers) {
        if (name.empty() || base::lower_ascii(name) != name || has_break(name) ||
            has_break(value)) {
            return "a header that is none: " + base::quoted(name);
        }
    }
    for (const auto& [name, value] : request.query) {
        if (name.empty() || request.parameter(name) == std::nullopt) {
            return "a parameter that is not found";
        }
        if (has_break(http::download("", "", value).headers.front().second)) {
            return "a name of a file that breaks a header";
        }
    }
    if (const auto cookie = request.cookie("brine"); cookie && has_break(*cookie)) {
        return "a cookie that breaks a line";
    }
    static_cast<void>(http::foreign(request));
    return {};
}

/// Far more than an answer takes, also where other programs have the cores.
inline constexpr std::chrono::milliseconds kPatience = std::chrono::seconds(60);

/// A server that looks at what comes through its door.
class Watched {
public:
    Watched() {
        http::ServerOptions options;
        options.workers = 1;
        options.limits.body_bytes = 1000;
        for (auto* time : {&options.limits.head_time, &options.limits.body_time,
                           &options.limits.idle_time, &options.limits.write_time}) {
            *time = 2 * kPatience;  // the server does not wait for the end of its patience
        }
        auto started = http::Server::start(options, [this, options](const http::Request& request) {
            const Fault fault = fault_of_request(request, options.limits);
            const std::lock_guard lock(mutex_);
            fault_ = fault_ ? fault_ : fault;
            return http::json_answer("{}");
        });
        base::expect(started.has_value(), "a server starts on the loopback address");
        server_ = std::move(*started);
    }
    [[nodiscard]] std::uint16_t port() const { return server_->port(); }
    [[nodiscard]] Fault fault() {
        const std::lock_guard lock(mutex_);
        return fault_;
    }

private:
    std::mutex mutex_;
    Fault fault_;
    std::unique_ptr<http::Server> server_;
};

/// Any bytes on a connection are answered in HTTP or not at all, and what is handed on is a
/// request.
inline Fault fault_of_bytes(std::string_view bytes) {
    static Watched watched;
    wire::Line line(watched.port());
    if (!line.connected()) {  // a fuzzer's connections use up the ports of a minute
        return watched.fault();
    }
    line.send(bytes);
    line.end();
    bool closed = false;
    const std::string answer = line.rest(kPatience, closed);
    if (!closed) {
        return "the connection stays open";
    }
    constexpr int kLeast = 100, kMost = 599;
    const int status = wire::status_of(answer);
    if (!answer.empty() && (status < kLeast || status > kMost)) {
        return "an answer that is not HTTP: " + base::quoted(answer);
    }
    return watched.fault();
}

}  // namespace bw::fuzz
