// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include <nlohmann/json.hpp>

namespace bw::fuzz {

/// One way in which a document is not what it should be.
struct Spoiled {
    std::string how;  ///< "/order/size is \"-1\""
    nlohmann::json document;
};

using Pointers = std::vector<nlohmann::json::json_pointer>;

/// Every place below one; of a list its first items.
inline void collect_places(const nlohmann::json& node, nlohmann::json::json_pointer at,
                           Pointers& out) {
    constexpr std::size_t kItems = 3;
    if (node.is_object()) {
        for (const auto& [key, value] : node.items()) {
            out.push_back(at / key);
            collect_places(value, out.back(), out);
        }
    } else if (node.is_array()) {
        for (std::size_t i = 0; i < node.size() && i < kItems; ++i) {
            out.push_back(at / i);
            collect_places(node[i], out.back(), out);
        }
    }
}

/// What is put in the place of a value: another type, nothing, a number that cannot be, a text that
/// is none of those allowed, a quantity in another unit or out of all reason.
inline std::vector<nlohmann::json> replacements(const nlohmann::json& value) {
    using Json = nlohmann::json;
    std::vector<Json> out = {true, "",    "no such thing", "-1",
                             -1,   1e300, Json::array(),   Json::object()};
    if (value.is_string()) {
        const std::string text = value;
        const auto unit = text.find(' ');
        if (unit != std::string::npos && text.find_first_of("0123456789") == 0) {
            for (const char* number : {"0", "-5", "1e12"}) {
                out.push_back(number + text.substr(unit));
            }
            out.push_back(text.substr(0, unit) + " lightyear");
            out.push_back(text.substr(0, unit) + " kg");
            out.push_back(text.substr(0, unit) + " %");
        }
    } else if (value.is_number()) {
        out.insert(out.end(), {0, 1e-300, 2.5});
    }
    return out;
}

/// The documents that come from one by spoiling one place of it: the field is left out, holds
/// something else, or one that nobody knows stands beside it.
template <class Visit>
void for_each_spoiled(const nlohmann::json& whole, Visit visit) {
    Pointers places;
    collect_places(whole, nlohmann::json::json_pointer(), places);
    for (const auto& place : places) {
        nlohmann::json without = whole;
        auto& parent = without[place.parent_pointer()];
        if (parent.is_object()) {
            parent.erase(place.back());
            visit(Spoiled{place.to_string() + " is left out", without});
            parent["no_such_field"] = 1;
            visit(Spoiled{place.to_string() + " has another name", without});
        }
        for (const nlohmann::json& other : replacements(whole[place])) {
            if (other != whole[place]) {
                nlohmann::json spoiled = whole;
                spoiled[place] = other;
                visit(Spoiled{place.to_string() + " is " + other.dump(), std::move(spoiled)});
            }
        }
    }
}

}  // namespace bw::fuzz
