// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdio>
#include <functional>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "base/watch.hpp"

namespace bw::cli {

/// Where a command writes: answers to out, everything else to err.
struct Streams {
    std::FILE* out;
    std::FILE* err;
    base::Watch* watch = nullptr;  ///< null: nobody calls it off
};

/// What `serve` is asked.
struct ServeOrder {
    std::string books;
    std::string address = "127.0.0.1";
    int port = 8417;
    std::string key;                           ///< file of the works' key; empty: none
    std::string certificate, certificate_key;  ///< of the server, PEM; empty: without TLS
    std::vector<std::string> hosts;            ///< under which other machines ask
    bool quiet = false;
};

/// What the program can do besides answering on a terminal; an empty one cannot.
struct Faces {
    std::function<Result<int>(const ServeOrder&, const Streams&)> serve;
};

/// Runs the command line and gives its exit code: 0 done, 1 the answer is no, 2 bad input or wrong
/// use, 3 disk, 4 refused by a rule, 70 a fault of the program.
[[nodiscard]] int run(const std::vector<std::string>& arguments, const Streams& streams,
                      const Faces& faces = {});

}  // namespace bw::cli
