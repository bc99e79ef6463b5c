// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "http/stream.inl"

#include <boost/beast/core/tcp_stream.hpp>
#include <boost/beast/ssl/ssl_stream.hpp>

namespace bw::http {
namespace {

namespace asio = boost::asio;
namespace beast = boost::beast;

class PlainStream final : public Stream {
public:
    explicit PlainStream(asio::ip::tcp::socket socket) : tcp_(std::move(socket)) {}
    [[nodiscard]] bool is_tls() const override { return false; }
    [[nodiscard]] executor_type get_executor() override { return tcp_.get_executor(); }
    void expires_after(std::chrono::milliseconds time) override { tcp_.expires_after(time); }
    void greet(std::function<void(Error)> done) override { done({}); }
    void part(std::shared_ptr<void> /*alive*/, std::chrono::milliseconds /*within*/) override {
        Error ignored;
        tcp_.socket().shutdown(asio::ip::tcp::socket::shutdown_send, ignored);
    }
    void read_some(asio::mutable_buffer into, Done done) override {
        tcp_.async_read_some(into, std::move(done));
    }
    void write_some(Buffers from, Done done) override {
        tcp_.async_write_some(from, std::move(done));
    }

private:
    beast::tcp_stream tcp_;
};

class TlsStream final : public Stream {
public:
    TlsStream(asio::ip::tcp::socket socket, asio::ssl::context& context)
        : tls_(beast::tcp_stream(std::move(socket)), context) {}
    [[nodiscard]] bool is_tls() const override { return true; }
    [[nodiscard]] executor_type get_executor() override { return tls_.get_executor(); }
    void expires_after(std::chrono::milliseconds time) override {
        tls_.next_layer().expires_after(time);
    }
    void greet(std::function<void(Error)> done) override {
        tls_.async_handshake(asio::ssl::stream_base::server, std::move(done));
    }
    void part(std::shared_ptr<void> alive, std::chrono::milliseconds within) override {
        expires_after(within);
        tls_.async_shutdown(std::function<void(Error)>([alive = std::move(alive)](Error) {}));
    }
    void read_some(asio::mutable_buffer into, Done done) override {
        tls_.async_read_some(into, std::move(done));
    }
    void write_some(Buffers from, Done done) override {
        tls_.async_write_some(from, std::move(done));
    }

private:
    beast::ssl_stream<beast::tcp_stream> tls_;
};

}  // namespace

std::unique_ptr<Stream> plain_stream(asio::ip::tcp::socket socket) {
    return std::make_unique<PlainStream>(std::move(socket));
}

std::unique_ptr<Stream> tls_stream(asio::ip::tcp::socket socket, asio::ssl::context& context) {
    return std::make_unique<TlsStream>(std::move(socket), context);
}

}  // namespace bw::http
