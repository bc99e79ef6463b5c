// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "http/calls.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "http/answers.hpp"
#include "http/records.hpp"

namespace bw::http {
namespace {

bool is_name(std::string_view text) {
    constexpr std::size_t kShortest = 16;
    constexpr std::size_t kLongest = 64;
    return text.size() >= kShortest && text.size() <= kLongest &&
           std::all_of(text.begin(), text.end(), [](char c) {
               return base::is_upper(c) || base::is_lower(c) || base::is_digit(c) || c == '-';
           });
}

std::string key_of(const Caller& caller, std::string_view name) {
    return fmt::format("{} {}", caller.token, name);
}

}  // namespace

Calls::Entry::Entry(Calls& calls, std::string key)
    : calls_(calls), key_(std::move(key)), watch_(std::make_shared<base::Watch>()) {}

Calls::Entry::~Entry() {
    if (!key_.empty()) {
        const std::scoped_lock lock(calls_.mutex_);
        calls_.at_work_.erase(key_);
    }
}

Result<std::unique_ptr<Calls::Entry>> Calls::begin(const Request& request, const Caller& caller) {
    const auto name = request.header("call");
    if (!name) {
        return std::make_unique<Entry>(*this, "");
    }
    if (!is_name(*name)) {
        return fail(ProblemCode::BadInput, "a call is named by 16 to 64 letters, digits or '-'",
                    {"", 0, "Call"});
    }
    const std::string key = key_of(caller, *name);
    const std::scoped_lock lock(mutex_);
    if (at_work_.contains(key)) {
        return fail(ProblemCode::BadInput, "a computation of this name is at work: name each anew",
                    {"", 0, "Call"});
    }
    auto out = std::make_unique<Entry>(*this, key);
    at_work_[key] = out->watch_;
    return out;
}

Result<std::shared_ptr<base::Watch>> Calls::find(const Request& request, const Caller& caller) {
    BW_TRY(name, needed(request, "id"));
    const std::scoped_lock lock(mutex_);
    const auto found = at_work_.find(key_of(caller, name));
    if (found == at_work_.end()) {
        return fail(ProblemCode::NotFound, "no such computation is at work", {"", 0, "id"});
    }
    return found->second;
}

Result<Response> Calls::show(const Request& request, const Caller& caller) {
    BW_TRY(watch, find(request, caller));
    return json_answer(fmt::format(R"({{"share":{:.4f},"called_off":{}}})", watch->share.load(),
                                   watch->called_off.load()));
}

Result<Response> Calls::call_off(const Request& request, const Caller& caller) {
    BW_TRY(watch, find(request, caller));
    watch->called_off = true;
    return json_answer(R"({"called_off":true})");
}

}  // namespace bw::http
