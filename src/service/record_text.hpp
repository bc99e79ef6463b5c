// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>

#include "base/result.hpp"

namespace bw::service {

/// The canonical text of a record: JSON with sorted keys and no blanks; whole numbers as such,
/// every other number as its shortest decimal text, enumerations by their words, what is not there
/// left out. Defined for every entity of floor 5 that is kept (see the end of record_text.cpp).
template <class T>
[[nodiscard]] std::string record_text(const T& record);

/// Reads it back to the same values. Fields that an older program did not write take their
/// defaults.
///
/// Errors   BrokenBooks for text that is not a record of this kind, naming the field.
template <class T>
[[nodiscard]] Result<T> read_record(const std::string& text);

}  // namespace bw::service
