// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"

namespace bw::http {

/// A JSON object as a page sent it, read field by field. The first thing that is wrong with it is
/// kept, and told by end(); until then fields that are wrong read as empty.
///
/// Errors (of end())   BadInput naming the field: not there, another type, or one that nobody
/// reads.
class Order {
public:
    /// Errors   BadInput for a body that is not one JSON object, that has a field twice in one
    ///          object, or lists and objects in one another deeper than any request.
    [[nodiscard]] static Result<Order> of(std::string_view body);

    Order(Order&&) noexcept;
    Order& operator=(Order&&) noexcept;
    Order(const Order&) = delete;
    Order& operator=(const Order&) = delete;
    ~Order();

    [[nodiscard]] bool has(std::string_view key) const;
    [[nodiscard]] std::string text(std::string_view key);  ///< one character or more
    [[nodiscard]] std::string text_or(std::string_view key, std::string_view otherwise = {});
    [[nodiscard]] std::int64_t whole(std::string_view key);
    [[nodiscard]] std::int64_t whole_or(std::string_view key, std::int64_t otherwise);
    [[nodiscard]] bool flag(std::string_view key);  ///< false where it is not there
    [[nodiscard]] std::vector<std::string> texts(std::string_view key);
    [[nodiscard]] std::vector<std::int64_t> wholes(std::string_view key);
    [[nodiscard]] Order part(std::string_view key);
    [[nodiscard]] std::vector<Order> list(std::string_view key);
    [[nodiscard]] std::vector<std::string> keys() const;
    /// An option's value as the command line takes it: texts of a text, a number, or a list of
    /// them; "true" and "false".
    [[nodiscard]] std::vector<std::string> values(std::string_view key);
    /// What is wrong, also in the parts that were taken from it.
    [[nodiscard]] Result<void> end() const;
    /// The whole as canonical text: what a request number stands for. Passwords are left out of
    /// it: they are never hashed into the trail.
    [[nodiscard]] std::string canonical() const;

private:
    class Sheet;  // a JSON object, with what it shares with all parts of its body
    explicit Order(std::unique_ptr<Sheet> sheet);

    std::unique_ptr<Sheet> sheet_;
};

}  // namespace bw::http
