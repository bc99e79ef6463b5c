// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "http/assets.hpp"

#include <algorithm>
#include <array>

#define BW_ASSET_NAMES
#include "http/assets_table.inc"
#undef BW_ASSET_NAMES

namespace bw::http {
namespace {

std::string_view between(const char* begin, const char* end) {
    return {begin, static_cast<std::size_t>(end - begin)};
}

}  // namespace

std::span<const Asset> assets() {
    static const std::array kAssets = {
#define BW_ASSET(path, type, sha256, plain, gzip, immutable) \
    Asset{path, type, sha256, between(plain, plain##_end), between(gzip, gzip##_end), immutable},
#include "http/assets_table.inc"
#undef BW_ASSET
    };
    return kAssets;
}

const Asset* find_asset(std::string_view path) {
    const auto all = assets();
    const auto found = std::lower_bound(
        all.begin(), all.end(), path,
        [](const Asset& asset, std::string_view wanted) { return asset.path < wanted; });
    return found != all.end() && found->path == path ? &*found : nullptr;
}

}  // namespace bw::http
