// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/record_text.hpp"

#include <cstdint>
#include <optional>
#include <string_view>
#include <type_traits>
#include <vector>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "service/record_kinds.hpp"

namespace bw::service {
namespace {

using Json = nlohmann::json;

template <class T>
struct IsVector : std::false_type {};
template <class T>
struct IsVector<std::vector<T>> : std::true_type {};
template <class T>
struct IsOptional : std::false_type {};
template <class T>
struct IsOptional<std::optional<T>> : std::true_type {};

template <class T>
Json to_json(const T& x);

struct Writer {
    Json out = Json::object();

    template <class T>
    void operator()(const char* key, const T& x) {
        if constexpr (IsOptional<T>::value) {
            if (x) {
                out[key] = to_json(*x);
            }
        } else {
            out[key] = to_json(x);
        }
    }
};

template <class T>
Json to_json(const T& x) {
    if constexpr (std::is_same_v<T, std::string> || std::is_same_v<T, bool> ||
                  std::is_same_v<T, std::int64_t>) {
        return x;
    } else if constexpr (std::is_same_v<T, double>) {
        return base::format_exact(x);
    } else if constexpr (std::is_enum_v<T>) {
        return std::string(name(x));
    } else if constexpr (IsVector<T>::value) {
        Json out = Json::array();
        for (const auto& item : x) {
            out.push_back(to_json(item));
        }
        return out;
    } else {
        Writer writer;
        T::fields(x, writer);
        return std::move(writer.out);
    }
}

Problem broken(std::string_view path, std::string_view wanted) {
    return {
        ProblemCode::BrokenBooks, fmt::format("a record's field {} is not {}", path, wanted), {}};
}

template <class T>
Result<void> from_json(const Json& json, const std::string& path, T& x);

struct Reader {
    const Json& in;
    std::string path;
    std::size_t known = 0;
    std::optional<Problem> problem;

    template <class T>
    void operator()(const char* key, T& x) {
        const auto found = in.find(key);
        if (problem || found == in.end()) {
            return;
        }
        ++known;
        const std::string at = path.empty() ? key : path + "." + key;
        if constexpr (IsOptional<T>::value) {
            take(from_json(*found, at, x.emplace()));
        } else {
            take(from_json(*found, at, x));
        }
    }
    void take(const Result<void>& done) {
        if (!done) {
            problem = done.error();
        }
    }
};

template <class T>
Result<void> from_number(const Json& json, const std::string& path, T& x) {
    if (json.is_string()) {
        const auto number = base::parse_number(json.get_ref<const std::string&>());
        if (number) {
            x = *number;
            return {};
        }
    }
    return tl::make_unexpected(broken(path, "a number as text"));
}

template <class T>
Result<void> from_table(const Json& json, const std::string& path, T& x) {
    if (!json.is_object()) {
        return tl::make_unexpected(broken(path, "a table"));
    }
    Reader reader{json, path, 0, {}};
    T::fields(x, reader);
    if (reader.problem) {
        return tl::make_unexpected(*reader.problem);
    }
    if (reader.known != json.size()) {
        return tl::make_unexpected(broken(path.empty() ? "(whole)" : path,
                                          "one that this program knows: a newer program "
                                          "wrote it"));
    }
    return {};
}

template <class T>
Result<void> from_json(const Json& json, const std::string& path, T& x) {
    if constexpr (std::is_same_v<T, std::string>) {
        if (!json.is_string()) {
            return tl::make_unexpected(broken(path, "text"));
        }
        x = json.get<std::string>();
    } else if constexpr (std::is_same_v<T, bool>) {
        if (!json.is_boolean()) {
            return tl::make_unexpected(broken(path, "true or false"));
        }
        x = json.get<bool>();
    } else if constexpr (std::is_same_v<T, std::int64_t>) {
        if (!json.is_number_integer()) {
            return tl::make_unexpected(broken(path, "a whole number"));
        }
        x = json.get<std::int64_t>();
    } else if constexpr (std::is_same_v<T, double>) {
        return from_number(json, path, x);
    } else if constexpr (std::is_enum_v<T>) {
        const auto value = json.is_string()
                               ? works::from_word<T>(json.get_ref<const std::string&>())
                               : std::nullopt;
        if (!value) {
            return tl::make_unexpected(broken(path, works::all_words<T>()));
        }
        x = *value;
    } else if constexpr (IsVector<T>::value) {
        if (!json.is_array()) {
            return tl::make_unexpected(broken(path, "a list"));
        }
        x.clear();
        for (std::size_t i = 0; i < json.size(); ++i) {
            BW_CHECK(from_json(json[i], fmt::format("{}[{}]", path, i), x.emplace_back()));
        }
    } else {
        return from_table(json, path, x);
    }
    return {};
}

}  // namespace

template <class T>
std::string record_text(const T& record) {
    return to_json(record).dump();
}

template <class T>
Result<T> read_record(const std::string& text) {
    const Json json = Json::parse(text, nullptr, false);
    if (json.is_discarded()) {
        return fail(ProblemCode::BrokenBooks, "a record is not JSON: " + base::quoted(text));
    }
    T out;
    BW_CHECK(from_json(json, "", out));
    return out;
}

#define BW_RECORD(type)                                  \
    template std::string record_text<type>(const type&); \
    template Result<type> read_record<type>(const std::string&);
BW_EVERY_RECORD(BW_RECORD)
BW_RECORD(works::Evidence)    // part of a release, as text
BW_RECORD(works::TestResult)  // part of a run
#undef BW_RECORD

}  // namespace bw::service
