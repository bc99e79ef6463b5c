// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <chrono>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "http/message.hpp"

namespace bw::http {

/// What the door lets through, and how long it waits. Ours, chosen and not measured: far above what
/// the pages ask for, far below what would hurt on the smallest machine.
struct ServerLimits {
    std::size_t head_bytes = 16384;       ///< request line and headers
    std::size_t headers = 64;             ///< fields of a head
    std::size_t body_bytes = 1048576;     ///< of most requests
    std::size_t upload_bytes = 29360128;  ///< of paths that begin with one of `uploads`: a file of
                                          ///< 20 MiB in base64, and what goes with it
    std::vector<std::string> uploads;
    std::size_t connections = 256;
    std::size_t connections_of_one = 32;  ///< of one address
    std::size_t waiting = 128;  ///< requests that wait for a worker; more are answered 503
    std::chrono::milliseconds head_time{10000};  ///< from the first byte waited for to a whole head
    std::chrono::milliseconds body_time{30000};
    std::chrono::milliseconds idle_time{60000};  ///< between two requests
    std::chrono::milliseconds write_time{30000};
};

/// What TLS needs, both as PEM.
struct TlsFiles {
    std::string certificate;  ///< of the server, with the chain to its authority behind it
    std::string key;          ///< private, without a password, readable by its owner alone
};

struct ServerOptions {
    std::string address = "127.0.0.1";
    std::uint16_t port = 0;  ///< 0: any that is free
    std::size_t workers = 4;
    std::vector<std::string>
        hosts;                    ///< names under which it may be asked, beside the loopback ones
    std::optional<TlsFiles> tls;  ///< none: without TLS
    ServerLimits limits;
};

/// A server of HTTP/1.1 on one port.
///
/// Definition   one thread carries bytes, `workers` threads answer. Refused before the handler sees
///              it: a head or body beyond its limit, lengths that contradict each other, line ends
///              that are none, control characters in a target, a Host that is missing, doubled or
///              not ours (another site's name pointed at this address), methods other than
///              Request::method has. Every answer carries nosniff, no-referrer and a policy
///              against framing and foreign scripts.
///              With TLS: 1.2 or 1.3, its handshake within head_time.
/// Errors       Disk where the address or port cannot be had; with TLS BadInput and Refused, see
///              tls_context().
class Server {
public:
    [[nodiscard]] static Result<std::unique_ptr<Server>> start(const ServerOptions& options,
                                                               Handler handler);
    Server(const Server&) = delete;
    Server& operator=(const Server&) = delete;
    ~Server();  ///< stops it

    [[nodiscard]] std::uint16_t port() const;
    /// Takes no more requests, lets those at work end and closes; safe to call twice.
    void stop();

private:
    class Impl;
    explicit Server(std::unique_ptr<Impl> impl);
    std::unique_ptr<Impl> impl_;
};

}  // namespace bw::http
