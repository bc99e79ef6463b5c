// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "works/evidence.hpp"

#include <algorithm>
#include <tuple>

#include <fmt/format.h>

namespace bw::works {
namespace {

const Pinned* same(std::span<const Pinned> records, const Pinned& one) {
    const auto found = std::find_if(records.begin(), records.end(), [&](const Pinned& r) {
        return r.kind == one.kind && r.id == one.id;
    });
    return found == records.end() ? nullptr : &*found;
}

}  // namespace

std::vector<std::string> changed_since(std::span<const Pinned> signed_then,
                                       std::span<const Pinned> now) {
    std::vector<std::string> out;
    for (const Pinned& then : signed_then) {
        const Pinned* today = same(now, then);
        if (today == nullptr) {
            out.push_back(fmt::format("{} {} no longer counts", then.kind, then.id));
        } else if (today->content != then.content) {
            out.push_back(
                fmt::format("{} {} has changed since: version {} was signed, version {} "
                            "stands",
                            then.kind, then.id, then.version, today->version));
        }
    }
    for (const Pinned& today : now) {
        if (same(signed_then, today) == nullptr) {
            out.push_back(fmt::format("{} {} has come since", today.kind, today.id));
        }
    }
    return out;
}

void sort_pinned(std::vector<Pinned>& records) {
    std::sort(records.begin(), records.end(), [](const Pinned& a, const Pinned& b) {
        return std::tie(a.kind, a.id) < std::tie(b.kind, b.id);
    });
}

}  // namespace bw::works
