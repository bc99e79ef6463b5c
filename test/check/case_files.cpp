// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "check/case_files.hpp"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>

namespace bw::check {

std::vector<NamedCases> read_all() {
    std::vector<std::filesystem::path> paths;
    for (const auto& entry :
         std::filesystem::directory_iterator(std::string(BW_SOURCE_DIR) + "/test/check")) {
        if (entry.path().extension() == ".toml") {
            paths.push_back(entry.path());
        }
    }
    std::sort(paths.begin(), paths.end());
    std::vector<NamedCases> out;
    for (const auto& path : paths) {
        std::ifstream in(path, std::ios::binary);
        std::ostringstream text;
        text << in.rdbuf();
        const std::string name = path.filename().string();
        out.push_back({name, read_cases(text.str(), name)});
    }
    return out;
}

}  // namespace bw::check
