// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <cstdint>
#include <cstdio>
#include <cstdlib>

#include "fuzz/laboratory_property.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string text(data, data + size);
    if (const auto fault = bw::fuzz::fault_of_laboratory_file(text)) {
        std::fprintf(stderr, "fault: %s\n", fault->c_str());
        std::abort();
    }
    return 0;
}
