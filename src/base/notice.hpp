// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

namespace bw::base {

/// Something the reader of a result must know, though the result stands.
struct Notice {
    std::string code;  ///< stable short name, e.g. "low_magnesium"
    std::string text;  ///< one or two sentences
};

using Notices = std::vector<Notice>;

inline void append(Notices& to, const Notices& from) {
    to.insert(to.end(), from.begin(), from.end());
}

}  // namespace bw::base
