// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdio>
#include <string>

#include "io/terminal.hpp"

namespace bw::cli {

/// A bar on a terminal; nothing where errors go to a file.
class Progress {
public:
    Progress(std::FILE* out, bool wanted, std::string what)
        : out_(out), on_(wanted && io::is_terminal(out)), what_(std::move(what)) {}
    void tell(double share) {
        constexpr int kWide = 40;
        const int now = static_cast<int>(share * kWide);
        if (!on_ || now == shown_) {
            return;
        }
        shown_ = now;
        const auto done = static_cast<std::size_t>(now);
        std::fputs(("\r  " + std::string(done, '=') + std::string(kWide - done, '.') + " " + what_)
                       .c_str(),
                   out_);
        if (now == kWide) {
            std::fputs("\r\033[K", out_);
        }
        std::fflush(out_);
    }

private:
    std::FILE* out_;
    bool on_;
    std::string what_;
    int shown_ = -1;
};

}  // namespace bw::cli
