// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <span>
#include <string>
#include <string_view>

#include "http/door.hpp"
#include "http/order.hpp"
#include "io/document.hpp"
#include "store/signing_key.hpp"

namespace bw::http {

/// Who acts, what for, and with what.
struct ActContext {
    const service::Desk& desk;
    const service::Intent& intent;
    std::string password;          ///< of a signed act
    const store::SigningKey* key;  ///< of the works; null: papers are not signed by it
    const std::string& session;    ///< token of the session that asks

    [[nodiscard]] service::Signing signing(std::string shown = {}) const {
        return {password, std::move(shown)};
    }
};

/// Reads the fields of its order, then acts. It calls Order::end() before it acts.
using ActFunction = Result<store::Receipt> (*)(Order& order, const ActContext& context);

/// An act that pages may ask for: POST /api/v1/act/NAME.
struct NamedAct {
    std::string_view name;  ///< "lot/accept"
    bool is_signed;         ///< asks for the password again
    ActFunction act;
};

/// Materials, lots, recipes, batches, departures, samples.
[[nodiscard]] std::span<const NamedAct> making_acts();
/// Methods, limits, results, decisions, certificates, people.
[[nodiscard]] std::span<const NamedAct> testing_acts();

/// Carries an act out once for its request number, and gives its receipt.
[[nodiscard]] Result<Response> carry_out(const NamedAct& act, const Request& request,
                                         const Caller& caller, const store::SigningKey* key);

/// The file of an order: its fields `text` and `name`, and no others.
///
/// Errors   those of Order::end() and parse_document.
[[nodiscard]] Result<io::Document> document_of(Order& order);

/// A mass as people type it, in kg.
///
/// Errors   those of parse_quantity; BadUnit for another quantity. Both name the field.
[[nodiscard]] Result<double> kg_of(const std::string& text, std::string_view field);
/// Bytes of base64 text. Errors BadInput naming the field.
[[nodiscard]] Result<std::string> bytes_of(const std::string& base64, std::string_view field);

}  // namespace bw::http
