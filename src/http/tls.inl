// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Included by .cpp files of this folder alone: the library of TLS stays out of headers.
#pragma once
#include <memory>

#include <boost/asio/ssl.hpp>

#include "http/server.hpp"

namespace bw::http {

/// What the handshakes of a server go by: TLS 1.2 with forward secrecy and authenticated ciphers, or
/// 1.3; no renegotiation, no compression.
///
/// Errors   BadInput: a file that is missing or no PEM, a key that does not fit the certificate;
///          Refused: a key that others than its owner may read.
/// Source   RFC 9325 (recommendations for TLS).
[[nodiscard]] Result<std::unique_ptr<boost::asio::ssl::context>> tls_context(const TlsFiles& files);

}  // namespace bw::http
