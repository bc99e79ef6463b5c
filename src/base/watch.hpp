// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <atomic>

namespace bw::base {

/// A long computation as its asker sees it, from another thread.
struct Watch {
    std::atomic<double> share = 0;         ///< of it that is done, as far as it tells
    std::atomic<bool> called_off = false;  ///< it is not wanted any more
};

}  // namespace bw::base
