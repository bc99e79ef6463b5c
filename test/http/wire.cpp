// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "http/wire.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <utility>

#include <arpa/inet.h>
#include <poll.h>
#include <sys/socket.h>
#include <unistd.h>

namespace bw::wire {
namespace {

std::string small(std::string text) {
    std::transform(text.begin(), text.end(), text.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return text;
}

/// Whether a whole answer stands at the beginning, and how long it is.
std::size_t whole(const std::string& text) {
    const std::size_t head = text.find("\r\n\r\n");
    if (head == std::string::npos) {
        return 0;
    }
    const std::string length = header_of(text, "content-length");
    const std::size_t size = head + 4 + (length.empty() ? 0 : std::stoul(length));
    return text.size() >= size ? size : 0;
}

}  // namespace

Line::Line(std::uint16_t port) : socket_(::socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0)) {
    sockaddr_in to{};
    to.sin_family = AF_INET;
    to.sin_port = htons(port);
    to.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    if (::connect(socket_, reinterpret_cast<const sockaddr*>(&to), sizeof to) != 0) {
        ::close(socket_);
        socket_ = -1;
    }
}

Line::~Line() {
    if (socket_ >= 0) {
        ::close(socket_);
    }
}

bool Line::send(std::string_view bytes) {
    while (!bytes.empty()) {
        const ssize_t sent = ::send(socket_, bytes.data(), bytes.size(), MSG_NOSIGNAL);
        if (sent <= 0) {
            return false;
        }
        bytes.remove_prefix(static_cast<std::size_t>(sent));
    }
    return true;
}

void Line::end() { ::shutdown(socket_, SHUT_WR); }

std::string Line::rest(std::chrono::milliseconds within, bool& closed) {
    const auto until = std::chrono::steady_clock::now() + within;
    closed = false;
    while (true) {
        const auto now = std::chrono::steady_clock::now();
        if (now >= until) {
            break;
        }
        pollfd wait{socket_, POLLIN, 0};
        const auto left = std::chrono::duration_cast<std::chrono::milliseconds>(until - now);
        if (::poll(&wait, 1, static_cast<int>(left.count()) + 1) <= 0) {
            break;
        }
        std::array<char, 65536> bytes{};
        const ssize_t got = ::recv(socket_, bytes.data(), bytes.size(), 0);
        if (got <= 0) {
            closed = true;
            break;
        }
        left_.append(bytes.data(), static_cast<std::size_t>(got));
    }
    return std::exchange(left_, {});
}

std::string Line::answer(std::chrono::milliseconds within) {
    const auto until = std::chrono::steady_clock::now() + within;
    while (true) {
        if (const std::size_t size = whole(left_); size > 0) {
            std::string out = left_.substr(0, size);
            left_.erase(0, size);
            return out;
        }
        const auto now = std::chrono::steady_clock::now();
        pollfd wait{socket_, POLLIN, 0};
        const auto left = std::chrono::duration_cast<std::chrono::milliseconds>(until - now);
        if (now >= until || ::poll(&wait, 1, static_cast<int>(left.count()) + 1) <= 0) {
            return std::exchange(left_, {});
        }
        std::array<char, 65536> bytes{};
        const ssize_t got = ::recv(socket_, bytes.data(), bytes.size(), 0);
        if (got <= 0) {
            return std::exchange(left_, {});
        }
        left_.append(bytes.data(), static_cast<std::size_t>(got));
    }
}

int status_of(std::string_view answer) {
    constexpr std::string_view kStart = "HTTP/1.1 ";
    if (!answer.starts_with(kStart) || answer.size() < kStart.size() + 3) {
        return 0;
    }
    return std::stoi(std::string(answer.substr(kStart.size(), 3)));
}

std::string body_of(const std::string& answer) {
    const std::size_t head = answer.find("\r\n\r\n");
    return head == std::string::npos ? "" : answer.substr(head + 4);
}

std::string header_of(const std::string& answer, const std::string& name) {
    const std::string head = answer.substr(0, answer.find("\r\n\r\n"));
    const std::size_t at = small(head).find("\r\n" + small(name) + ":");
    if (at == std::string::npos) {
        return "";
    }
    const std::size_t begin = head.find_first_not_of(' ', at + name.size() + 3);
    return head.substr(begin, head.find("\r\n", begin) - begin);
}

}  // namespace bw::wire
