// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <functional>
#include <semaphore>
#include <string>

#include "http/message.hpp"
#include "http/throttle.hpp"
#include "service/desk.hpp"

namespace bw::http {

/// Who asks, at their desk.
struct Caller {
    service::Desk desk;
    std::string token;  ///< of the session
};

/// Sessions over HTTP: a cookie that no script reads, and a form token that whoever writes repeats.
///
/// Definition   the cookie holds the session's token (`brine`; `__Host-brine` with TLS), the form
///              token is a hash of it. A request that writes comes as JSON from a page of this very
///              server (Sec-Fetch-Site, Origin) and carries the form token. Sign-ins are counted by
///              address, writes by session; two passwords at most are hashed at a time.
class Door {
public:
    Door(store::Books& books, bool tls, std::function<std::string()> now);

    [[nodiscard]] Response sign_in(const Request& request);
    /// Who is signed in; nobody is an answer too, for a page asks before anybody has signed in.
    [[nodiscard]] Response session(const Request& request);
    [[nodiscard]] Response sign_out(const Request& request);

    /// The caller of a request, or the answer that refuses it.
    [[nodiscard]] tl::expected<Caller, Response> caller(const Request& request);
    /// The same for one that writes.
    [[nodiscard]] tl::expected<Caller, Response> writer(const Request& request);

    [[nodiscard]] static std::string form_token(const std::string& token);
    /// Whose books they are, as JSON.
    [[nodiscard]] Result<std::string> works_json() const;
    [[nodiscard]] std::string now() const { return now_(); }

private:
    [[nodiscard]] std::string cookie_name() const;
    [[nodiscard]] Result<std::string> session_json(const service::Desk& desk,
                                                   const std::string& token) const;
    [[nodiscard]] Result<std::string> nobody_json() const;

    store::Books& books_;
    bool tls_;
    std::function<std::string()> now_;
    Throttle sign_ins_, writes_;
    std::counting_semaphore<2> hashing_{2};
};

/// Nothing for a request that comes from a page of this server, else why it is refused.
[[nodiscard]] std::optional<Response> foreign(const Request& request);

}  // namespace bw::http
