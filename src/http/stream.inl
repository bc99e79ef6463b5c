// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Included by .cpp files of this folder alone: the bytes of one connection, with TLS or without.
#pragma once
#include <chrono>
#include <functional>
#include <memory>
#include <utility>
#include <vector>

#include <boost/asio/any_io_executor.hpp>
#include <boost/asio/buffer.hpp>
#include <boost/asio/ip/tcp.hpp>
#include <boost/asio/ssl/context.hpp>

namespace bw::http {

/// A stream as the libraries of HTTP want one, behind virtual functions: HTTP is compiled once, and
/// apart from TLS. Whatever is begun ends on the io thread and never within the call.
class Stream {
public:
    using executor_type = boost::asio::any_io_executor;  // as Asio names it
    using Error = boost::system::error_code;
    using Done = std::function<void(Error, std::size_t)>;
    using Buffers = std::vector<boost::asio::const_buffer>;

    Stream() = default;
    Stream(const Stream&) = delete;
    Stream& operator=(const Stream&) = delete;
    virtual ~Stream() = default;

    [[nodiscard]] virtual bool is_tls() const = 0;
    [[nodiscard]] virtual executor_type get_executor() = 0;
    /// Gives up what is not done in this time from now on.
    virtual void expires_after(std::chrono::milliseconds time) = 0;
    /// The handshake; without TLS there is none, and `done` is called at once.
    virtual void greet(std::function<void(Error)> done) = 0;
    /// Says to the other side that no more comes; `alive` is kept until it is said.
    virtual void part(std::shared_ptr<void> alive, std::chrono::milliseconds within) = 0;
    virtual void read_some(boost::asio::mutable_buffer into, Done done) = 0;
    virtual void write_some(Buffers from, Done done) = 0;

    /// Into the first of several buffers: a flat one is all there is.
    template <class Several, class Handler>
    void async_read_some(const Several& into, Handler&& handler) {
        read_some(*boost::asio::buffer_sequence_begin(into),
                  done_of(std::forward<Handler>(handler)));
    }
    template <class Several, class Handler>
    void async_write_some(const Several& from, Handler&& handler) {
        write_some(Buffers(boost::asio::buffer_sequence_begin(from),
                           boost::asio::buffer_sequence_end(from)),
                   done_of(std::forward<Handler>(handler)));
    }

private:
    /// The libraries' handlers can be moved alone; a function must be copied.
    template <class Handler>
    static Done done_of(Handler&& handler) {
        auto kept = std::make_shared<std::decay_t<Handler>>(std::forward<Handler>(handler));
        return [kept](Error error, std::size_t count) { std::move(*kept)(error, count); };
    }
};

[[nodiscard]] std::unique_ptr<Stream> plain_stream(boost::asio::ip::tcp::socket socket);
[[nodiscard]] std::unique_ptr<Stream> tls_stream(boost::asio::ip::tcp::socket socket,
                                                 boost::asio::ssl::context& context);

}  // namespace bw::http
