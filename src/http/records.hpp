// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// What is kept, as it is asked for: lists, records, their history, the trail, attachments.
#pragma once
#include <cstdint>
#include <string>
#include <string_view>

#include "http/door.hpp"
#include "http/message.hpp"

namespace bw::http {

/// Errors   BadInput where the parameter is needed and missing, or no whole number of its range.
[[nodiscard]] Result<std::string> needed(const Request& request, std::string_view name);
[[nodiscard]] std::string given(const Request& request, std::string_view name);
[[nodiscard]] Result<std::int64_t> whole_of(const Request& request, std::string_view name,
                                            std::int64_t otherwise, std::int64_t least,
                                            std::int64_t most);

/// Errors   BadInput naming the field for anything but true or false; empty is neither.
[[nodiscard]] Result<bool> flag_word(std::string_view word, std::string_view field);
/// A parameter that is true or false; false where it is not there. Errors those of flag_word.
[[nodiscard]] Result<bool> flag_of(const Request& request, std::string_view name);

[[nodiscard]] Result<Response> list_records(const Request& request, const Caller& caller);
[[nodiscard]] Result<Response> show_record(const Request& request, const Caller& caller);
[[nodiscard]] Result<Response> show_history(const Request& request, const Caller& caller);
[[nodiscard]] Result<Response> show_trail(const Request& request, const Caller& caller);
[[nodiscard]] Result<Response> find_records(const Request& request, const Caller& caller);
[[nodiscard]] Result<Response> give_attachment(const Request& request, const Caller& caller);

}  // namespace bw::http
