// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/result.hpp"
#include "io/fields.hpp"

/// What a case gives, as numbers. Errors name the key.
namespace bw::check {

[[nodiscard]] inline Result<double> required(const io::Fields& given, std::string_view key) {
    BW_TRY(value, given.number(key));
    if (!value) {
        return given.bad("", fmt::format("{} is missing", key));
    }
    return *value;
}

[[nodiscard]] inline Result<std::vector<double>> values_of(const io::Fields& given,
                                                           std::string_view key) {
    BW_TRY(texts, given.texts(key));
    std::vector<double> out;
    for (const std::string& text : texts) {
        BW_TRY(value, base::parse_number(text));
        out.push_back(value);
    }
    return out;
}

}  // namespace bw::check
