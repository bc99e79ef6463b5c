// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "store/database.hpp"

namespace bw::store {
namespace {

const std::string kNothing;

}  // namespace

const std::string& Row::text(std::size_t column) const {
    const auto* value = std::get_if<std::string>(&values_.at(column));
    return value != nullptr ? *value : kNothing;
}

std::string Row::take_text(std::size_t column) {
    auto* value = std::get_if<std::string>(&values_.at(column));
    return value != nullptr ? std::move(*value) : std::string();
}

std::int64_t Row::integer(std::size_t column) const {
    const auto* value = std::get_if<std::int64_t>(&values_.at(column));
    return value != nullptr ? *value : 0;
}

std::optional<double> Row::number(std::size_t column) const {
    const auto* value = std::get_if<double>(&values_.at(column));
    return value != nullptr ? std::optional<double>(*value) : std::nullopt;
}

const std::string& Row::bytes(std::size_t column) const {
    const auto* value = std::get_if<Blob>(&values_.at(column));
    return value != nullptr ? value->bytes : kNothing;
}

Result<void> Connection::run(std::string_view sql, const Values& parameters) {
    BW_CHECK(query(sql, parameters));
    return {};
}

Result<Transaction> Transaction::begin(Connection& connection, Access access) {
    BW_CHECK(connection.begin(access));
    return Transaction(connection);
}

Transaction::~Transaction() {
    if (connection_ != nullptr) {
        connection_->rollback();
    }
}

Result<void> Transaction::commit() {
    BW_CHECK(connection_->commit());  // a failed commit leaves the undoing to the destructor
    connection_ = nullptr;
    return {};
}

}  // namespace bw::store
