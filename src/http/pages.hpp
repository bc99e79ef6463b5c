// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "http/message.hpp"

namespace bw::http {

/// A file of the pages, packed where who asks takes that; the first page for every address that is
/// no file, for the pages know their own.
[[nodiscard]] Response give_page(const Request& request);

}  // namespace bw::http
