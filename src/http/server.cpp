// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "http/server.hpp"

#include <thread>

#include "http/connection.inl"
#include "http/tls.inl"

namespace bw::http {

class Server::Impl {
public:
    Impl(const ServerOptions& options, Handler handler)
        : house_(options, std::move(handler)), acceptor_(io_) {}

    Result<void> open() {
        if (house_.options.tls) {
            BW_TRY(context, tls_context(*house_.options.tls));
            tls_ = std::move(context);
        }
        Error error;
        const auto address = asio::ip::make_address(house_.options.address, error);
        const Tcp::endpoint at(address, house_.options.port);
        if (!error) {
            acceptor_.open(at.protocol(), error);
        }
        if (!error) {
            acceptor_.set_option(asio::socket_base::reuse_address(true), error);
        }
        if (!error) {
            acceptor_.bind(at, error);
        }
        if (!error) {
            acceptor_.listen(asio::socket_base::max_listen_connections, error);
        }
        if (error) {
            return base::fail(
                base::ProblemCode::Disk,
                fmt::format("{}, port {}, cannot be listened on: {}", house_.options.address,
                            house_.options.port, error.message()));
        }
        port_ = acceptor_.local_endpoint().port();
        accept();
        thread_ = std::thread([this] { io_.run(); });
        return {};
    }

    [[nodiscard]] std::uint16_t port() const { return port_; }

    void stop() {
        if (!thread_.joinable()) {
            return;
        }
        house_.closing = true;
        asio::post(io_, [this] {
            Error ignored;
            acceptor_.close(ignored);
        });
        house_.workers.join();
        // Answers on their way get a moment; connections that idle get none.
        auto timer = std::make_shared<asio::steady_timer>(io_);
        asio::post(io_, [this, timer] { look_again(timer, kPatience); });
        thread_.join();
    }

private:
    void accept() {
        acceptor_.async_accept([this](Error error, Tcp::socket socket) {
            if (error == asio::error::operation_aborted || house_.closing) {
                return;
            }
            if (!error) {
                take(std::move(socket));
            }
            accept();
        });
    }

    void take(Tcp::socket socket) {
        Error error;
        const auto remote = socket.remote_endpoint(error);
        if (error) {
            return;
        }
        const std::string peer = remote.address().to_string();
        const auto known = house_.open.find(peer);
        const ServerLimits& limits = house_.options.limits;
        if (house_.connections >= limits.connections ||
            (known != house_.open.end() && known->second >= limits.connections_of_one)) {
            return;  // closed without a word, which costs least
        }
        auto stream = tls_ ? tls_stream(std::move(socket), *tls_) : plain_stream(std::move(socket));
        std::make_shared<Session>(house_, std::move(stream), peer)->begin();
    }

    void look_again(const std::shared_ptr<asio::steady_timer>& timer,
                    std::chrono::milliseconds left) {
        static constexpr std::chrono::milliseconds kStep{20};
        if (house_.answering == 0 || left <= std::chrono::milliseconds(0)) {
            io_.stop();
            return;
        }
        timer->expires_after(kStep);
        timer->async_wait([this, timer, left](Error) { look_again(timer, left - kStep); });
    }

    House house_;
    std::unique_ptr<asio::ssl::context> tls_;
    asio::io_context io_{1};
    Tcp::acceptor acceptor_;
    std::uint16_t port_ = 0;
    std::thread thread_;
};

Result<std::unique_ptr<Server>> Server::start(const ServerOptions& options, Handler handler) {
    auto impl = std::make_unique<Impl>(options, std::move(handler));
    BW_CHECK(impl->open());
    return std::unique_ptr<Server>(new Server(std::move(impl)));
}

Server::Server(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
Server::~Server() { impl_->stop(); }
std::uint16_t Server::port() const { return impl_->port(); }
void Server::stop() { impl_->stop(); }

}  // namespace bw::http
