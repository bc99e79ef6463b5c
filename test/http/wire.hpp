// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <chrono>
#include <cstdint>
#include <string>
#include <string_view>

namespace bw::wire {

/// A bare connection to the loopback address: what a hostile client has.
class Line {
public:
    explicit Line(std::uint16_t port);
    Line(const Line&) = delete;
    Line& operator=(const Line&) = delete;
    ~Line();

    [[nodiscard]] bool connected() const { return socket_ >= 0; }
    /// Sends what it can; false once the other side has closed.
    bool send(std::string_view bytes);
    /// Says that no more is sent.
    void end();
    /// What comes until a whole answer is there, the line is closed or the time is up.
    [[nodiscard]] std::string answer(std::chrono::milliseconds within = std::chrono::seconds(10));
    /// What comes until the line is closed; `closed` says whether it was in time.
    [[nodiscard]] std::string rest(std::chrono::milliseconds within, bool& closed);

private:
    int socket_ = -1;
    std::string left_;
};

/// The number of an answer's first line; 0 for none.
[[nodiscard]] int status_of(std::string_view answer);
[[nodiscard]] std::string body_of(const std::string& answer);
[[nodiscard]] std::string header_of(const std::string& answer, const std::string& name);

}  // namespace bw::wire
