// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <cstdio>
#include <exception>
#include <string>
#include <vector>

#include "app/serve.hpp"
#include "cli/commands.hpp"

int main(int argc, char** argv) {
    constexpr int kOurFault = 70;  // EX_SOFTWARE of sysexits.h
    constexpr int kDisk = 3;
    try {
        const int code = bw::cli::run(std::vector<std::string>(argv + 1, argv + argc),
                                      {stdout, stderr}, {bw::app::serve});
        if (std::fflush(stdout) != 0 || std::ferror(stdout) != 0) {
            std::fputs("brinewright: the output could not be written\n", stderr);
            return kDisk;
        }
        return code;
    } catch (const std::exception& e) {
        std::fprintf(stderr, "brinewright: an unexpected fault: %s\n", e.what());
        return kOurFault;
    }
}
