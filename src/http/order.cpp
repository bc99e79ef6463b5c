// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "http/order.hpp"

#include <array>
#include <functional>
#include <limits>
#include <optional>
#include <set>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "base/text.hpp"

namespace bw::http {

using Json = nlohmann::json;

namespace {

/// What a body and all its parts share.
struct Paper {  // NOLINT(bugprone-exception-escape): moving JSON does not throw
    Json whole;
    std::optional<Problem> first;
    std::set<std::string> read;     // fields that somebody asked for
    std::set<std::string> present;  // all fields of the objects that were looked into
};

/// A number without a fraction that fits; JSON has larger ones.
std::optional<std::int64_t> whole_number(const Json& value) {
    const bool fits =
        value.is_number_unsigned()
            ? value.get<std::uint64_t>() <= std::uint64_t{std::numeric_limits<std::int64_t>::max()}
            : value.is_number_integer();
    return fits ? std::optional<std::int64_t>(value.get<std::int64_t>()) : std::nullopt;
}

/// What is wrong with the shape of a body, found while it is read: a field that stands twice, and
/// lists in lists deeper than any order. JSON of any depth is read, but copied and written by
/// recursion, which a body of nothing but brackets would let run out of its stack.
class Shape {
public:
    bool operator()(int depth, Json::parse_event_t event, const Json& parsed) {
        using Event = Json::parse_event_t;
        const auto level = static_cast<std::size_t>(depth);
        if (level > kDeepest) {
            deep_ = true;
            return false;
        }
        if (event == Event::object_start) {
            fields_.at(level).clear();
        } else if (event == Event::key) {
            const auto& field = parsed.get_ref<const std::string&>();
            if (!fields_.at(level - 1).insert(field).second && twice_.empty()) {
                twice_ = field;
            }
        }
        return true;
    }
    [[nodiscard]] Result<void> good() const {
        if (deep_) {
            return fail(ProblemCode::BadInput,
                        fmt::format("the body has lists or objects in one another more than {} "
                                    "deep, and no request has that",
                                    kDeepest));
        }
        if (!twice_.empty()) {
            return fail(
                ProblemCode::BadInput,
                fmt::format("{} stands twice in one object: send it once", base::quoted(twice_)),
                {"", 0, twice_});
        }
        return {};
    }

private:
    static constexpr std::size_t kDeepest = 16;  // four are in use
    std::array<std::set<std::string>, kDeepest + 1> fields_;
    std::string twice_;
    bool deep_ = false;
};

}  // namespace

class Order::Sheet {
public:
    Sheet(std::shared_ptr<Paper> paper, const Json* at, std::string path)
        : paper_(std::move(paper)), at_(at), path_(std::move(path)) {
        for (const auto& [key, value] : at_->items()) {
            paper_->present.insert(under(key));
        }
    }
    [[nodiscard]] Order part(std::string_view key, const Json& value) const {
        return Order(std::make_unique<Sheet>(paper_, &value, under(key)));
    }
    [[nodiscard]] const Json& at() const { return *at_; }
    [[nodiscard]] const Paper& paper() const { return *paper_; }

    /// The value of a field; null where it is not there.
    [[nodiscard]] const Json* find(std::string_view key, bool needed) {
        paper_->read.insert(under(key));
        const auto found = at_->find(std::string(key));
        if (found == at_->end() || found->is_null()) {
            if (needed) {
                wrong(key, "is not there, and it is needed");
            }
            return nullptr;
        }
        return &*found;
    }
    void wrong(std::string_view key, std::string_view what) {
        if (!paper_->first) {
            const std::string field = under(key);
            paper_->first = Problem{ProblemCode::BadInput,
                                    fmt::format("{} {}", base::quoted(field), what),
                                    {"", 0, field}};
        }
    }

private:
    [[nodiscard]] std::string under(std::string_view key) const {
        return path_.empty() ? std::string(key) : fmt::format("{}.{}", path_, key);
    }

    std::shared_ptr<Paper> paper_;
    const Json* at_;  // an object of paper_->whole, or one that lives for ever
    std::string path_;
};

Order::Order(std::unique_ptr<Sheet> sheet) : sheet_(std::move(sheet)) {}
Order::Order(Order&&) noexcept = default;
Order& Order::operator=(Order&&) noexcept = default;
Order::~Order() = default;

Result<Order> Order::of(std::string_view body) {
    auto paper = std::make_shared<Paper>();
    Shape shape;
    paper->whole = Json::parse(body, std::ref(shape), false);
    BW_CHECK(shape.good());
    if (paper->whole.is_discarded() || !paper->whole.is_object()) {
        return fail(ProblemCode::BadInput, "the body is not one JSON object");
    }
    const Json* whole = &paper->whole;
    return Order(std::make_unique<Sheet>(std::move(paper), whole, ""));
}

bool Order::has(std::string_view key) const { return sheet_->at().contains(std::string(key)); }

std::string Order::text(std::string_view key) {
    const Json* value = sheet_->find(key, true);
    if (value == nullptr) {
        return {};
    }
    if (!value->is_string() || value->get_ref<const std::string&>().empty()) {
        sheet_->wrong(key, "is to be a text, and not an empty one");
        return {};
    }
    return value->get<std::string>();
}

std::string Order::text_or(std::string_view key, std::string_view otherwise) {
    const Json* value = sheet_->find(key, false);
    if (value == nullptr) {
        return std::string(otherwise);
    }
    if (!value->is_string()) {
        sheet_->wrong(key, "is to be a text");
        return {};
    }
    return value->get<std::string>();
}

std::int64_t Order::whole(std::string_view key) {
    const Json* value = sheet_->find(key, true);
    if (value == nullptr) {
        return 0;
    }
    const auto number = whole_number(*value);
    if (!number) {
        sheet_->wrong(key, "is to be a whole number");
    }
    return number.value_or(0);
}

std::int64_t Order::whole_or(std::string_view key, std::int64_t otherwise) {
    return sheet_->find(key, false) == nullptr ? otherwise : whole(key);
}

bool Order::flag(std::string_view key) {
    const Json* value = sheet_->find(key, false);
    if (value != nullptr && !value->is_boolean()) {
        sheet_->wrong(key, "is to be true or false");
        return false;
    }
    return value != nullptr && value->get<bool>();
}

std::vector<std::string> Order::texts(std::string_view key) {
    std::vector<std::string> out;
    const Json* value = sheet_->find(key, false);
    if (value == nullptr) {
        return out;
    }
    if (!value->is_array()) {
        sheet_->wrong(key, "is to be a list of texts");
        return out;
    }
    for (const Json& one : *value) {
        if (!one.is_string()) {
            sheet_->wrong(key, "is to be a list of texts");
            return {};
        }
        out.push_back(one.get<std::string>());
    }
    return out;
}

std::vector<std::int64_t> Order::wholes(std::string_view key) {
    std::vector<std::int64_t> out;
    const Json* value = sheet_->find(key, false);
    if (value == nullptr) {
        return out;
    }
    for (const Json& one : *value) {
        const auto number = whole_number(one);
        if (!value->is_array() || !number) {
            sheet_->wrong(key, "is to be a list of whole numbers");
            return {};
        }
        out.push_back(*number);
    }
    return out;
}

Order Order::part(std::string_view key) {
    static const Json kNone = Json::object();
    const Json* value = sheet_->find(key, true);
    if (value != nullptr && !value->is_object()) {
        sheet_->wrong(key, "is to be an object");
        value = nullptr;
    }
    return sheet_->part(key, value == nullptr ? kNone : *value);
}

std::vector<Order> Order::list(std::string_view key) {
    std::vector<Order> out;
    const Json* value = sheet_->find(key, false);
    if (value == nullptr) {
        return out;
    }
    if (!value->is_array()) {
        sheet_->wrong(key, "is to be a list");
        return out;
    }
    for (std::size_t i = 0; i < value->size(); ++i) {
        const std::string at = fmt::format("{}[{}]", key, i);
        if (!(*value)[i].is_object()) {
            sheet_->wrong(at, "is to be an object");
            return {};
        }
        out.push_back(sheet_->part(at, (*value)[i]));
    }
    return out;
}

std::vector<std::string> Order::keys() const {
    std::vector<std::string> out;
    for (const auto& [key, value] : sheet_->at().items()) {
        out.push_back(key);
    }
    return out;
}

std::vector<std::string> Order::values(std::string_view key) {
    std::vector<std::string> out;
    const Json* value = sheet_->find(key, false);
    if (value == nullptr) {
        return out;
    }
    const auto take = [&](const Json& one) {
        if (one.is_string()) {
            out.push_back(one.get<std::string>());
        } else if (one.is_number() || one.is_boolean()) {
            out.push_back(one.dump());
        } else {
            sheet_->wrong(key, "is to be a text, a number, true or false, or a list of them");
        }
    };
    if (value->is_array()) {
        for (const Json& one : *value) {
            take(one);
        }
    } else {
        take(*value);
    }
    return out;
}

Result<void> Order::end() const {
    const Paper& paper = sheet_->paper();
    if (paper.first) {
        return tl::make_unexpected(*paper.first);
    }
    for (const std::string& field : paper.present) {
        if (!paper.read.contains(field)) {
            return fail(ProblemCode::BadInput,
                        fmt::format("{} is not a field of this request", base::quoted(field)),
                        {"", 0, field});
        }
    }
    return {};
}

std::string Order::canonical() const {
    Json told = sheet_->at();
    for (const char* secret : {"password", "new_password"}) {
        told.erase(secret);
    }
    return told.dump(-1, ' ', false, Json::error_handler_t::replace);
}

}  // namespace bw::http
