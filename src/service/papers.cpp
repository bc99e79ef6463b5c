// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/papers.hpp"

#include <fmt/format.h>

#include "base/text.hpp"
#include "store/digest.hpp"

namespace bw::service {

Result<std::string> content_mark(const store::Books& books, const std::string& kind,
                                 const std::string& id) {
    BW_TRY(record, books.newest(kind, id));
    return store::sha256_hex(record.body);
}

Result<void> check_shown(const Shown& shown, const std::string& mark) {
    const std::string typed = base::lower_ascii(base::trim(shown.typed));
    if (typed.size() < kShortMark || !mark.starts_with(typed)) {
        return fail(ProblemCode::Refused,
                    fmt::format("what was shown, {}, is not {}, {}: look at it again",
                                base::quoted(shown.typed), shown.what, mark.substr(0, kShortMark)),
                    {"", 0, "shown"});
    }
    return {};
}

}  // namespace bw::service
