// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdio>

namespace bw::io {

/// Whether somebody watches this stream, so that a line may be written over.
[[nodiscard]] bool is_terminal(std::FILE* stream);

}  // namespace bw::io
