// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "app/serve.hpp"

#include <csignal>
#include <cstdlib>
#include <memory>
#include <thread>

#include <fmt/format.h>

#include "http/works_server.hpp"

namespace bw::app {
namespace {

constexpr int kOurFault = 70;

/// A stream of the C library that writes into memory.
class MemoryStream {
public:
    MemoryStream() : file_(open_memstream(&bytes_, &size_)) {}
    MemoryStream(const MemoryStream&) = delete;
    MemoryStream& operator=(const MemoryStream&) = delete;
    ~MemoryStream() {
        if (file_ != nullptr) {
            std::fclose(file_);
        }
        std::free(bytes_);  // NOLINT(cppcoreguidelines-no-malloc): open_memstream's
    }
    [[nodiscard]] std::FILE* file() const { return file_; }
    [[nodiscard]] std::string text() {
        std::fflush(file_);
        return {bytes_, size_};
    }

private:
    char* bytes_ = nullptr;
    std::size_t size_ = 0;
    std::FILE* file_;
};

http::CommandAnswer ask(const std::vector<std::string>& words, base::Watch* watch) {
    MemoryStream out;
    MemoryStream err;
    if (out.file() == nullptr || err.file() == nullptr) {
        return {kOurFault, "", "no memory is left"};
    }
    const int code = cli::run(words, {out.file(), err.file(), watch});
    return {code, out.text(), err.text()};
}

}  // namespace

Result<int> serve(const cli::ServeOrder& order, const cli::Streams& streams) {
    // Blocked before any thread begins, so that they come to sigwait() below and nowhere else.
    sigset_t stops;
    sigemptyset(&stops);
    sigaddset(&stops, SIGINT);
    sigaddset(&stops, SIGTERM);
    pthread_sigmask(SIG_BLOCK, &stops, nullptr);
    std::signal(SIGPIPE, SIG_IGN);
    http::WorksServerOptions options;
    options.server.address = order.address;
    options.server.port = static_cast<std::uint16_t>(order.port);
    // More than the cores: some wait for the disk, or for their turn at the solver.
    options.server.workers = std::max(8U, 2 * std::thread::hardware_concurrency());
    options.server.hosts = order.hosts;
    if (!order.certificate.empty()) {
        options.server.tls = http::TlsFiles{order.certificate, order.certificate_key};
    }
    const char* const scheme = options.server.tls ? "https" : "http";
    options.books_place = order.books;
    options.commands = ask;
    if (!order.key.empty()) {
        options.key_file = order.key;
    }
    BW_TRY(server, http::WorksServer::start(std::move(options)));
    if (!order.quiet) {
        const bool six = order.address.find(':') != std::string::npos;
        const std::string host = !order.hosts.empty() ? order.hosts.front()
                                 : six                ? "[" + order.address + "]"
                                                      : order.address;
        std::fputs(fmt::format("The books are at {}://{}:{}/ until this is stopped.\n", scheme,
                               host, server->port())
                       .c_str(),
                   streams.out);
        std::fflush(streams.out);
    }
    int signal = 0;
    sigwait(&stops, &signal);
    server->stop();
    return 0;
}

}  // namespace bw::app
