// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "http/words.hpp"

#include "io/material_file.hpp"

namespace bw::http {

Result<void> check_day(const std::string& day, std::string_view field) {
    if (!day.empty() && !io::is_day(day)) {
        return fail(ProblemCode::BadInput, io::not_a_day(day), {"", 0, std::string(field)});
    }
    return {};
}

}  // namespace bw::http
