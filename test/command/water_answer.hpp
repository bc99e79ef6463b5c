// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// The JSON that the commands about waters answer with.
#pragma once
#include <algorithm>
#include <string>
#include <vector>

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "command/command_run.hpp"

namespace bw::command_test {

using Json = nlohmann::json;
using Words = std::vector<std::string>;

inline Json json_of(Words words, int code = 0) {
    words.emplace_back("--json");
    const Outcome got = run_here(words);
    EXPECT_EQ(got.code, code) << got.err;
    EXPECT_EQ(got.err, "");
    Json out = Json::parse(got.out, nullptr, false);
    EXPECT_FALSE(out.is_discarded()) << got.out;
    EXPECT_EQ(out.value("version", 0), 1);
    return out;
}

inline bool mentions(const Json& got, const std::string& words) {
    return std::any_of(got["notices"].begin(), got["notices"].end(), [&](const Json& n) {
        return n.get<std::string>().find(words) != std::string::npos;
    });
}

}  // namespace bw::command_test
