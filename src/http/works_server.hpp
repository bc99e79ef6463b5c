// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "http/command_port.hpp"
#include "http/server.hpp"
#include "store/books.hpp"
#include "store/signing_key.hpp"

namespace bw::http {

struct WorksServerOptions {
    ServerOptions server;
    std::string books_place;  ///< as the command line names it
    CommandPort commands;
    std::optional<std::string> key_file;    ///< of the works' key, which signs certificates
    std::function<std::string()> now = {};  ///< instant of an act; the system's clock unless given
};

/// The works' books as pages and as what the pages ask (api/openapi.yaml).
///
/// Errors of start()   those of Books::open, SigningKey::load and Server::start. For an address
///                     beyond this machine: Refused without TLS or without people in the books,
///                     BadInput without a name under which it is asked.
class WorksServer {
public:
    [[nodiscard]] static Result<std::unique_ptr<WorksServer>> start(WorksServerOptions options);
    WorksServer(const WorksServer&) = delete;
    WorksServer& operator=(const WorksServer&) = delete;
    ~WorksServer();

    [[nodiscard]] std::uint16_t port() const;
    void stop();
    /// Method and path of everything that it answers under /api/.
    [[nodiscard]] std::vector<std::pair<std::string, std::string>> operations() const;

private:
    class Impl;
    explicit WorksServer(std::unique_ptr<Impl> impl);
    std::unique_ptr<Impl> impl_;
};

}  // namespace bw::http
