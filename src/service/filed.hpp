// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <string_view>
#include <utility>

#include "base/text.hpp"
#include "store/record.hpp"

namespace bw::service {

/// The beginning of a record's filing: id, state and the line for lists.
[[nodiscard]] inline store::Write filed(std::string id, std::string_view state,
                                        std::string_view title) {
    store::Write out;
    out.id = std::move(id);
    out.state = state;
    out.title = base::one_line(title);
    return out;
}

}  // namespace bw::service
