// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/terminal.hpp"

#include <unistd.h>

namespace bw::io {

bool is_terminal(std::FILE* stream) { return ::isatty(::fileno(stream)) == 1; }

}  // namespace bw::io
