// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Included by server.cpp alone: one connection of the server, with TLS or without.
#pragma once
#include <algorithm>
#include <array>
#include <atomic>
#include <map>
#include <limits>
#include <optional>

#include <boost/asio.hpp>
#include <boost/beast/core.hpp>
#include <boost/beast/http.hpp>
#include <fmt/format.h>

#include "base/text.hpp"
#include "http/server.hpp"
#include "http/stream.inl"

namespace bw::http {

namespace asio = boost::asio;
namespace beast = boost::beast;
using Tcp = asio::ip::tcp;
using Error = boost::system::error_code;
using Wire = beast::http::response<beast::http::string_body>;

inline constexpr int kHttp11 = 11;
inline constexpr int kBadRequest = 400;
inline constexpr int kMethodNotAllowed = 405;
inline constexpr int kTooLarge = 413;
inline constexpr int kMisdirected = 421;
inline constexpr int kHeadTooLarge = 431;
inline constexpr int kOurFault = 500;
inline constexpr int kBusy = 503;
inline constexpr int kOtherVersion = 505;
inline constexpr std::chrono::seconds kPatience{5};  // for answers at work when the server stops
inline constexpr std::size_t kMiB = 1048576;
// Ours, chosen and not measured: as much of a refused body is read and dropped, so that whoever
// sends it reads the refusal and not a connection that broke.
inline constexpr std::size_t kMostDropped = 64 * kMiB;
inline constexpr std::size_t kDroppedAtOnce = 8192;

inline constexpr std::array<std::string_view, 6> kMethods = {"GET", "HEAD",  "POST",
                                                      "PUT", "PATCH", "DELETE"};

inline Response refusal(int status, std::string_view why) {
    return {status,
            "application/problem+json",
            fmt::format(R"({{"status":{},"title":"{}"}})", status, why),
            {}};
}

/// A body beyond its limit; the limit in its own sentence, for it is read by a person.
inline Response too_large(std::size_t most) {
    return refusal(
        kTooLarge,
        most < kMiB
            ? fmt::format("more than {} bytes are sent at once: send less, or split it", most)
            : fmt::format("more than {} MiB are sent at once: send less, or split it",
                          most / kMiB));
}

/// What every answer carries: nothing is guessed, framed, sent on or taken from elsewhere.
inline void protect(Wire& wire, bool tls) {
    if (tls) {  // a browser that came by TLS once does not come without it for a year
        wire.set("Strict-Transport-Security", "max-age=31536000");
    }
    wire.set("Content-Security-Policy",
             "default-src 'none'; script-src 'self'; worker-src 'self'; style-src 'self'; "
             "img-src 'self' data:; "
             "font-src 'self'; connect-src 'self'; manifest-src 'self'; form-action 'self'; "
             "base-uri 'none'; frame-ancestors 'none'");
    wire.set("X-Content-Type-Options", "nosniff");
    wire.set("Referrer-Policy", "no-referrer");
    wire.set("Cross-Origin-Opener-Policy", "same-origin");
    wire.set("Cross-Origin-Resource-Policy", "same-origin");
    wire.set("Permissions-Policy", "camera=(self), geolocation=(), microphone=()");
}

inline bool has_control(std::string_view text) {
    constexpr char kSpace = ' ';
    constexpr char kDelete = 0x7f;
    return std::any_of(text.begin(), text.end(),
                       [](char c) { return (c >= 0 && c < kSpace && c != '\t') || c == kDelete; });
}

inline std::string_view view(beast::string_view text) { return {text.data(), text.size()}; }

/// A host as a header has it, without its port.
inline std::string host_name(std::string_view host) {
    const bool six = host.starts_with('[');
    const std::size_t end = six ? host.find(']') : host.find(':');
    const std::size_t length = end == std::string_view::npos ? host.size() : end + (six ? 1 : 0);
    return base::lower_ascii(host.substr(0, length));
}

/// What all connections share.
struct House {
    ServerOptions options;
    Handler handler;
    asio::thread_pool workers;
    std::atomic<bool> closing{false};
    std::size_t waiting = 0;  // this and what follows: the io thread's
    std::map<std::string, std::size_t> open;
    std::size_t connections = 0;
    std::size_t answering = 0;  ///< answers on their way out

    House(const ServerOptions& given, Handler answers)
        : options(given),
          handler(std::move(answers)),
          workers(std::max<std::size_t>(1, given.workers)) {}

    [[nodiscard]] bool is_ours(std::string_view host) const {
        const std::string name = host_name(host);
        return name == "127.0.0.1" || name == "localhost" || name == "[::1]" ||
               std::find(options.hosts.begin(), options.hosts.end(), name) != options.hosts.end();
    }
};

/// One connection, from its first request to its end. All of it runs on the io thread but the
/// handler.
class Session : public std::enable_shared_from_this<Session> {
public:
    Session(House& house, std::unique_ptr<Stream> stream, std::string peer)
        : house_(house),
          stream_(std::move(stream)),
          peer_(std::move(peer)),
          buffer_(house.options.limits.head_bytes) {
        ++house_.connections;
        ++house_.open[peer_];
    }
    Session(const Session&) = delete;
    Session& operator=(const Session&) = delete;
    ~Session() {
        --house_.connections;
        const auto mine = house_.open.find(peer_);
        if (--mine->second == 0) {
            house_.open.erase(mine);
        }
    }

    void begin() {
        stream_->expires_after(limits().head_time);
        stream_->greet([self = shared_from_this()](Error error) {
            if (!error) {
                self->read_head(self->limits().head_time);
            }
        });
    }

private:
    [[nodiscard]] const ServerLimits& limits() const { return house_.options.limits; }

    /// Waits for the next request's first byte, then for the rest of its head.
    void await_request() {
        if (house_.closing) {
            return finish();
        }
        if (buffer_.size() > 0) {
            return read_head(limits().head_time);
        }
        constexpr std::size_t kFirst = 1;
        stream_->expires_after(limits().idle_time);
        stream_->async_read_some(buffer_.prepare(kFirst),
                                [self = shared_from_this()](Error error, std::size_t got) {
                                    if (!error) {
                                        self->buffer_.commit(got);
                                        self->read_head(self->limits().head_time);
                                    }
                                });
    }

    void read_head(std::chrono::milliseconds within) {
        parser_.emplace();
        drops_ = false;
        parser_->header_limit(static_cast<std::uint32_t>(limits().head_bytes));
        // judge_head() holds the body to the limit of its path.
        parser_->body_limit(std::numeric_limits<std::uint64_t>::max());
        stream_->expires_after(within);
        beast::http::async_read_header(
            *stream_, buffer_, *parser_, [self = shared_from_this()](Error error, std::size_t) {
                self->keep_ = false;
                if (error == beast::http::error::header_limit ||
                    error == beast::http::error::buffer_overflow) {
                    self->answer(refusal(kHeadTooLarge, "the head is too large"));
                } else if (is_malformed(error)) {
                    self->answer(refusal(kBadRequest, "the head is no HTTP/1.1"));
                } else if (!error) {
                    self->judge_head();
                }
            });
    }

    /// Errors of the parser, but for a connection that ended.
    static bool is_malformed(const Error& error) {
        return error &&
               error.category() == make_error_code(beast::http::error::bad_method).category() &&
               error != beast::http::error::end_of_stream &&
               error != beast::http::error::partial_message;
    }

    /// The first reason against a head; its status and sentence.
    std::optional<std::pair<int, std::string_view>> against_head() {
        const auto& head = parser_->get();
        using Reason = std::pair<int, std::string_view>;
        const auto count = [&](beast::http::field field) { return head.count(field); };
        if (head.version() != kHttp11) {
            return Reason{kOtherVersion, "HTTP/1.1 is spoken here"};
        }
        if (static_cast<std::size_t>(std::distance(head.begin(), head.end())) > limits().headers) {
            return Reason{kHeadTooLarge, "there are too many headers"};
        }
        for (const auto& field : head) {
            if (has_control(view(field.value()))) {
                return Reason{kBadRequest, "a header holds a control character"};
            }
        }
        if (count(beast::http::field::content_length) > 1 ||
            (count(beast::http::field::content_length) > 0 &&
             count(beast::http::field::transfer_encoding) > 0) ||
            (count(beast::http::field::transfer_encoding) > 0 && !parser_->chunked())) {
            return Reason{kBadRequest, "the length of the body is said in more than one way"};
        }
        if (count(beast::http::field::host) != 1) {
            return Reason{kBadRequest, "one header says the host"};
        }
        if (!house_.is_ours(view(head[beast::http::field::host]))) {
            return Reason{kMisdirected, "this is not that host"};
        }
        const std::string_view method = view(head.method_string());
        if (std::find(kMethods.begin(), kMethods.end(), method) == kMethods.end()) {
            return Reason{kMethodNotAllowed, "this method is not allowed"};
        }
        return std::nullopt;
    }

    void judge_head() {
        if (const auto reason = against_head()) {
            return answer(refusal(reason->first, reason->second));
        }
        auto target = parse_target(view(parser_->get().target()));
        if (!target) {
            return answer(refusal(kBadRequest, "the address is no plain path"));
        }
        const auto& uploads = limits().uploads;
        const bool upload = std::any_of(uploads.begin(), uploads.end(), [&](const auto& prefix) {
            return target->path.starts_with(prefix);
        });
        const std::size_t most = upload ? limits().upload_bytes : limits().body_bytes;
        if (parser_->content_length() && *parser_->content_length() > most) {
            return refuse_body(most);
        }
        parser_->body_limit(most);
        most_ = most;
        target_ = std::move(*target);
        const bool waits =
            base::lower_ascii(view(parser_->get()[beast::http::field::expect])) == "100-continue";
        waits ? let_it_come() : read_body();
    }

    void let_it_come() {
        static const std::string kContinue = "HTTP/1.1 100 Continue\r\n\r\n";
        stream_->expires_after(limits().write_time);
        asio::async_write(*stream_, asio::buffer(kContinue),
                          [self = shared_from_this()](Error error, std::size_t) {
                              if (!error) {
                                  self->read_body();
                              }
                          });
    }

    void read_body() {
        stream_->expires_after(limits().body_time);
        beast::http::async_read(*stream_, buffer_, *parser_,
                                [self = shared_from_this()](Error error, std::size_t) {
                                    if (error == beast::http::error::body_limit) {
                                        self->refuse_body(self->most_);
                                    } else if (is_malformed(error)) {
                                        self->answer(refusal(kBadRequest, "the body is broken"));
                                    } else if (!error) {
                                        self->keep_ = self->parser_->keep_alive();
                                        self->hand_over();
                                    }
                                });
    }

    void refuse_body(std::size_t most) {
        drops_ = true;
        answer(too_large(most));
    }

    void hand_over() {
        if (house_.waiting >= limits().waiting) {
            Response busy = refusal(kBusy, "too much is asked at once: ask again");
            busy.headers.emplace_back("Retry-After", "1");
            return answer(busy);
        }
        ++house_.waiting;
        auto request = std::make_shared<Request>(request_of());
        asio::post(house_.workers, [self = shared_from_this(), request]() mutable {
            auto response = std::make_shared<Response>(self->answered(*request));
            auto* const inside = self.get();
            asio::post(inside->stream_->get_executor(), [self = std::move(self), response] {
                --self->house_.waiting;
                self->answer(*response);
            });
        });
    }

    Request request_of() {
        Request out;
        const auto& head = parser_->get();
        out.method = view(head.method_string());
        head_only_ = out.method == "HEAD";
        out.path = std::move(target_.path);
        out.query = std::move(target_.query);
        for (const auto& field : head) {
            out.headers.emplace_back(base::lower_ascii(view(field.name_string())),
                                     std::string(view(field.value())));
        }
        out.body = std::move(parser_->get().body());
        out.peer = peer_;
        return out;
    }

    [[nodiscard]] Response answered(const Request& request) const {
        try {
            return house_.handler(request);
        } catch (const std::exception&) {
            return refusal(kOurFault, "this is our fault");
        }
    }

    void answer(const Response& response) {
        wire_ = Wire{};
        wire_.version(kHttp11);
        wire_.result(static_cast<unsigned>(response.status));
        protect(wire_, stream_->is_tls());
        wire_.set(beast::http::field::cache_control, "no-store");
        for (const auto& [name, value] : response.headers) {
            if (!has_control(name) && !has_control(value)) {
                name == "Set-Cookie" ? wire_.insert(name, value) : wire_.set(name, value);
            }
        }
        wire_.set(beast::http::field::content_type, response.type);
        wire_.body() = response.body;
        wire_.keep_alive(keep_ && !house_.closing);
        wire_.prepare_payload();
        if (head_only_) {
            wire_.body().clear();  // its length stays said
        }
        head_only_ = false;
        stream_->expires_after(limits().write_time);
        ++house_.answering;
        beast::http::async_write(*stream_, wire_,
                                 [self = shared_from_this()](Error error, std::size_t) {
                                     --self->house_.answering;
                                     if (error || !self->wire_.keep_alive()) {
                                         return self->finish();
                                     }
                                     self->await_request();
                                 });
    }

    void finish() {
        stream_->part(shared_from_this(), limits().write_time);
        if (drops_ && !stream_->is_tls()) {  // a TLS stream parts by reading itself
            stream_->expires_after(limits().head_time);
            drop(kMostDropped);
        }
    }

    /// Reads what is still sent after a refusal and drops it: closing with bytes unread breaks the
    /// connection under an answer that is on its way.
    void drop(std::size_t left) {
        buffer_.consume(buffer_.size());
        stream_->async_read_some(
            buffer_.prepare(std::min(kDroppedAtOnce, buffer_.max_size())),
            [self = shared_from_this(), left](Error error, std::size_t got) {
                if (!error && got < left) {
                    self->drop(left - got);
                }
            });
    }

    House& house_;
    std::unique_ptr<Stream> stream_;
    std::string peer_;
    beast::flat_buffer buffer_;
    std::optional<beast::http::request_parser<beast::http::string_body>> parser_;
    Target target_;
    Wire wire_;
    std::size_t most_ = 0;  ///< bytes of the body at work
    bool drops_ = false;    ///< a refused body is still on its way
    bool keep_ = false;
    bool head_only_ = false;
};

}  // namespace bw::http
