// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "http/works_server.hpp"

#include <array>
#include <chrono>
#include <map>

#include <fmt/format.h>

#include "http/acts.hpp"
#include "http/answers.hpp"
#include "http/calls.hpp"
#include "http/commands.hpp"
#include "http/decisions.hpp"
#include "http/documents.hpp"
#include "http/door.hpp"
#include "http/import_map.hpp"
#include "http/import_order.hpp"
#include "http/pages.hpp"
#include "http/records.hpp"
#include "http/today.hpp"
#include "service/desk.hpp"
#include "store/instant.hpp"

namespace bw::http {
namespace {

constexpr std::string_view kApi = "/api/v1/";

std::string clock_now() {
    return store::instant_of(std::chrono::duration_cast<std::chrono::milliseconds>(
                                 std::chrono::system_clock::now().time_since_epoch())
                                 .count());
}

using Read = Result<Response> (*)(const Request&, const Caller&);
struct NamedRead {
    std::string_view name;
    Read read;
};
constexpr std::array kReads = {
    NamedRead{"today", show_today},           NamedRead{"find", find_records},
    NamedRead{"records", list_records},       NamedRead{"record", show_record},
    NamedRead{"history", show_history},       NamedRead{"trail", show_trail},
    NamedRead{"attachment", give_attachment}, NamedRead{"documents", list_documents},
    NamedRead{"document", show_document},     NamedRead{"decisions", show_decisions},
};

Response response_of(Result<Response> result) {
    return result ? std::move(*result) : problem_answer(result.error());
}

/// A plant network is reached through TLS, under a name that is known.
Result<void> may_serve_beyond(const ServerOptions& server) {
    if (!server.tls) {
        return fail(ProblemCode::Refused,
                    fmt::format("{} is not this machine alone: beyond 127.0.0.1 the pages are "
                                "served by TLS only; give --certificate and --certificate-key",
                                server.address),
                    {"", 0, "address"});
    }
    if (server.hosts.empty()) {
        return fail(ProblemCode::BadInput,
                    "say under which name or address the other machines ask for the pages, as it "
                    "stands in the certificate: --host works.example",
                    {"", 0, "host"});
    }
    return {};
}

Result<void> somebody_signs_in(store::Books& books) {
    store::ListQuery people;
    people.kind = service::kKind<works::Person>;
    BW_TRY(count, books.count(people));
    if (count == 0) {
        return fail(ProblemCode::Refused,
                    "these books know nobody who could sign in: add people first (person add)",
                    {"", 0, "address"});
    }
    return {};
}

}  // namespace

class WorksServer::Impl {
public:
    Impl(store::Books books, WorksServerOptions options, std::optional<store::SigningKey> key)
        : books_(std::move(books)),
          key_(std::move(key)),
          door_(books_, options.server.tls.has_value(),
                options.now ? std::move(options.now) : clock_now),
          commands_(std::move(options.commands), std::move(options.books_place)) {
        add_sessions();
        add_reads();
        add_commands();
        add_acts(making_acts());
        add_acts(testing_acts());
    }

    Response answer(const Request& request) {
        if (!request.path.starts_with("/api/")) {
            if (request.method != "GET" && request.method != "HEAD") {
                return problem_answer({ProblemCode::BadInput, "pages are only read", {}},
                                      kMethodNotAllowed);
            }
            return give_page(request);
        }
        const auto found = routes_.find(request.path);
        if (found == routes_.end()) {
            return problem_answer({ProblemCode::NotFound, "there is no such question", {}});
        }
        const std::string method = request.method == "HEAD" ? "GET" : request.method;
        const auto handler = found->second.find(method);
        if (handler == found->second.end()) {
            return problem_answer({ProblemCode::BadInput, "this is asked in another way", {}},
                                  kMethodNotAllowed);
        }
        return handler->second(request);
    }

    [[nodiscard]] std::vector<std::pair<std::string, std::string>> operations() const {
        std::vector<std::pair<std::string, std::string>> out;
        for (const auto& [path, methods] : routes_) {
            for (const auto& [method, handler] : methods) {
                out.emplace_back(method, path);
            }
        }
        return out;
    }

    std::unique_ptr<Server> server;  // the last to come, the first to go

private:
    void add(std::string_view method, std::string_view name, Handler handler) {
        routes_[std::string(kApi) + std::string(name)][std::string(method)] = std::move(handler);
    }

    /// A question of somebody who is signed in.
    template <class Answer>
    void add_read(std::string_view name, Answer how) {
        add("GET", name, [this, how](const Request& request) -> Response {
            const auto who = door_.caller(request);
            return who ? response_of(how(request, *who)) : who.error();
        });
    }

    template <class Answer>
    void add_write(std::string_view name, Answer how) {
        add("POST", name, [this, how](const Request& request) -> Response {
            const auto who = door_.writer(request);
            return who ? response_of(how(request, *who)) : who.error();
        });
    }

    void add_sessions() {
        add("GET", "works", [this](const Request&) -> Response {
            const auto body = door_.works_json();
            return body ? json_answer(*body) : problem_answer(body.error());
        });
        add("POST", "session", [this](const Request& r) { return door_.sign_in(r); });
        add("GET", "session", [this](const Request& r) { return door_.session(r); });
        add("DELETE", "session", [this](const Request& r) { return door_.sign_out(r); });
    }

    void add_reads() {
        for (const NamedRead& named : kReads) {
            add_read(named.name, named.read);
        }
        add_write("import/preview", preview_import);
        add_write("import/map", show_map);
        add_write("entry/preview", preview_entry);
    }

    void add_commands() {
        for (const AskedCommand& asked : computations()) {
            add_write(
                fmt::format("compute/{}", asked.name),
                [this, &asked](const Request& request, const Caller& caller) -> Result<Response> {
                    BW_TRY(call, calls_.begin(request, caller));
                    return commands_.compute(asked, request, books_, call->watch());
                });
        }
        add_read("call",
                 [this](const Request& r, const Caller& who) { return calls_.show(r, who); });
        add("DELETE", "call", [this](const Request& request) -> Response {
            const auto who = door_.writer(request);
            return who ? response_of(calls_.call_off(request, *who)) : who.error();
        });
        for (const AskedCommand& asked : views()) {
            add_read(fmt::format("view/{}", asked.name),
                     [this, &asked](const Request& request, const Caller&) {
                         return commands_.view(asked, request);
                     });
        }
        for (const AskedPaper& asked : papers()) {
            add_read(fmt::format("paper/{}", asked.name),
                     [this, &asked](const Request& request, const Caller&) {
                         return commands_.paper(asked, request);
                     });
        }
    }

    void add_acts(std::span<const NamedAct> acts) {
        for (const NamedAct& act : acts) {
            add_write(fmt::format("act/{}", act.name),
                      [this, &act](const Request& request, const Caller& caller) {
                          return carry_out(act, request, caller, key_ ? &*key_ : nullptr);
                      });
        }
    }

    store::Books books_;
    std::optional<store::SigningKey> key_;
    Door door_;
    Commands commands_;
    Calls calls_;
    std::map<std::string, std::map<std::string, Handler>, std::less<>> routes_;
};

WorksServer::WorksServer(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
WorksServer::~WorksServer() { stop(); }

Result<std::unique_ptr<WorksServer>> WorksServer::start(WorksServerOptions options) {
    const bool here = options.server.address == "127.0.0.1" || options.server.address == "::1";
    if (!here) {
        BW_CHECK(may_serve_beyond(options.server));
    }
    BW_TRY(books, store::Books::open(options.books_place));
    if (!here) {
        BW_CHECK(somebody_signs_in(books));
    }
    std::optional<store::SigningKey> key;
    if (options.key_file) {
        BW_TRY(loaded, store::SigningKey::load(*options.key_file));
        key.emplace(std::move(loaded));
    }
    ServerOptions server = options.server;
    if (here) {  // all come from this machine
        server.limits.connections_of_one = server.limits.connections;
    }
    server.limits.uploads = {"/api/v1/act/results/import", "/api/v1/act/lot/receive",
                             "/api/v1/act/material/keep", "/api/v1/import/preview",
                             "/api/v1/import/map"};
    auto impl = std::make_unique<Impl>(std::move(books), std::move(options), std::move(key));
    Impl* at = impl.get();
    BW_TRY(started, Server::start(server, [at](const Request& r) { return at->answer(r); }));
    impl->server = std::move(started);
    return std::unique_ptr<WorksServer>(new WorksServer(std::move(impl)));
}

std::uint16_t WorksServer::port() const { return impl_->server->port(); }

std::vector<std::pair<std::string, std::string>> WorksServer::operations() const {
    return impl_->operations();
}

void WorksServer::stop() {
    if (impl_ != nullptr && impl_->server != nullptr) {
        impl_->server->stop();
    }
}

}  // namespace bw::http
