// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

#include <gtest/gtest.h>

#include "fuzz/one_line.hpp"

namespace bw::fuzz {

/// Feeds the files of a folder of the sources to a property and gives how many there were.
template <class Property>
int replay(const std::string& folder, Property fault_of) {
    int files = 0;
    for (const auto& entry :
         std::filesystem::directory_iterator(std::string(BW_SOURCE_DIR) + folder)) {
        if (!entry.is_regular_file()) {
            continue;
        }
        ++files;
        std::ifstream in(entry.path(), std::ios::binary);
        const std::string bytes{std::istreambuf_iterator<char>(in), {}};
        const Fault fault = fault_of(bytes);
        EXPECT_FALSE(fault) << entry.path().filename() << ": " << fault.value_or("");
    }
    return files;
}

}  // namespace bw::fuzz
