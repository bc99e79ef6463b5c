// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "store/canonical_json.hpp"

#include <algorithm>
#include <optional>
#include <set>
#include <vector>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "base/text.hpp"

namespace bw::store {
namespace {

using nlohmann::json;

constexpr std::size_t kMostLevels = 64;
constexpr std::int64_t kMostWhole = 9007199254740991;  // 2^53 - 1: what every reader of JSON keeps

/// Looks at each event of the parse for what the restricted form forbids.
class Watcher : public nlohmann::json_sax<json> {
public:
    bool null() override { return refuse("null"); }
    bool boolean(bool /*value*/) override { return true; }
    bool number_integer(number_integer_t value) override {
        return value >= -kMostWhole || refuse_size();
    }
    bool number_unsigned(number_unsigned_t value) override {
        return value <= static_cast<number_unsigned_t>(kMostWhole) || refuse_size();
    }
    bool number_float(number_float_t /*value*/, const string_t& typed) override {
        return refuse(fmt::format("the number {}, which is not whole: write it as a text", typed));
    }
    bool string(string_t& /*value*/) override { return true; }
    bool binary(binary_t& /*value*/) override { return refuse("bytes"); }
    bool start_object(std::size_t /*size*/) override {
        keys_.emplace_back();
        return deepen();
    }
    bool end_object() override {
        keys_.pop_back();
        --levels_;
        return true;
    }
    bool start_array(std::size_t /*size*/) override { return deepen(); }
    bool end_array() override {
        --levels_;
        return true;
    }
    bool key(string_t& value) override {
        const bool ascii =
            std::all_of(value.begin(), value.end(), [](char c) { return c > 0x1f && c < 0x7f; });
        if (!ascii) {
            return refuse(fmt::format("the key {}, which is not plain ASCII", base::quoted(value)));
        }
        if (!keys_.back().insert(value).second) {
            return refuse(fmt::format("the key {} twice", base::quoted(value)));
        }
        return true;
    }
    bool parse_error(std::size_t position, const std::string& /*last*/,
                     const nlohmann::detail::exception& /*error*/) override {
        return refuse(fmt::format("something that is no JSON at byte {}", position));
    }
    [[nodiscard]] const std::string& found() const { return found_; }

private:
    bool refuse(std::string what) {
        found_ = std::move(what);
        return false;
    }
    bool refuse_size() { return refuse("a whole number beyond 2^53 - 1: write it as a text"); }
    bool deepen() {
        return ++levels_ <= kMostLevels ||
               refuse(fmt::format("more than {} levels of nesting", kMostLevels));
    }

    std::vector<std::set<std::string>> keys_;
    std::size_t levels_ = 0;
    std::string found_;
};

}  // namespace

Result<std::string> canonical_json(std::string_view text) {
    Watcher watcher;
    if (!json::sax_parse(text, &watcher)) {
        return fail(ProblemCode::BadInput,
                    fmt::format("the record's body holds {}", watcher.found()));
    }
    return json::parse(text).dump();
}

Result<void> expect_canonical(std::string_view text) {
    BW_TRY(canonical, canonical_json(text));
    if (canonical != text) {
        const auto pair =
            std::mismatch(canonical.begin(), canonical.end(), text.begin(), text.end());
        return fail(ProblemCode::BadInput,
                    fmt::format("the record's body is not canonical JSON from byte {} on: sort the "
                                "keys by bytes and leave out spaces",
                                pair.first - canonical.begin()));
    }
    return {};
}

}  // namespace bw::store
