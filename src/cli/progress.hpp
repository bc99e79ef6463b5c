// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdio>
#include <string>

#include "cli/commands.hpp"
#include "io/terminal.hpp"

namespace bw::cli {

/// A bar on a terminal, nothing where errors go to a file; and what a watch is told.
class Progress {
public:
    Progress(const Streams& streams, bool wanted, std::string what)
        : out_(streams.err),
          on_(wanted && io::is_terminal(streams.err)),
          what_(std::move(what)),
          watch_(streams.watch) {}
    /// Whether the work goes on.
    [[nodiscard]] bool tell(double share) {
        draw(share);
        if (watch_ == nullptr) {
            return true;
        }
        watch_->share = share;
        return !watch_->called_off;
    }

private:
    void draw(double share) {
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

    std::FILE* out_;
    bool on_;
    std::string what_;
    base::Watch* watch_;
    int shown_ = -1;
};

}  // namespace bw::cli
