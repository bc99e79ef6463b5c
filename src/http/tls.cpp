// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "http/tls.inl"

#include <filesystem>

#include <fmt/format.h>

#include "base/text.hpp"

namespace bw::http {
namespace {

using Context = boost::asio::ssl::context;
using Error = boost::system::error_code;

Result<void> wrong(const std::string& file, const char* field, const std::string& what) {
    return fail(ProblemCode::BadInput, fmt::format("{}: {}", base::quoted(file), what),
                {"", 0, field});
}

/// The key is the server: whoever reads it can be it.
Result<void> check_key_file(const std::string& file) {
    namespace fs = std::filesystem;
    std::error_code error;
    const fs::file_status status = fs::status(file, error);
    if (error || !fs::is_regular_file(status)) {
        return wrong(file, "certificate-key", "no such file: give the key of the certificate, PEM");
    }
    constexpr fs::perms kOthers = fs::perms::group_all | fs::perms::others_all;
    if ((status.permissions() & kOthers) != fs::perms::none) {
        return fail(ProblemCode::Refused,
                    fmt::format("{} may be read by others than its owner: take their rights away "
                                "(chmod 600)",
                                base::quoted(file)),
                    {"", 0, "certificate-key"});
    }
    return {};
}

}  // namespace

Result<std::unique_ptr<Context>> tls_context(const TlsFiles& files) {
    BW_CHECK(check_key_file(files.key));
    auto out = std::make_unique<Context>(Context::tls_server);
    out->set_options(Context::default_workarounds | Context::no_sslv2 | Context::no_sslv3 |
                     Context::no_tlsv1 | Context::no_tlsv1_1 | Context::no_compression |
                     Context::single_dh_use);
    SSL_CTX_set_options(out->native_handle(), SSL_OP_NO_RENEGOTIATION);
    if (SSL_CTX_set_cipher_list(out->native_handle(),
                                "ECDHE+AESGCM:ECDHE+CHACHA20:!aNULL:!eNULL") != 1) {
        return fail(ProblemCode::Refused, "this machine's library of TLS has no fitting cipher");
    }
    Error error;
    out->use_certificate_chain_file(files.certificate, error);
    if (error) {
        BW_CHECK(wrong(files.certificate, "certificate",
                       "no certificate could be read from it: give the server's certificate with "
                       "its chain, PEM"));
    }
    out->use_private_key_file(files.key, Context::pem, error);
    if (error) {
        BW_CHECK(wrong(files.key, "certificate-key",
                       "no key that fits the certificate could be read from it: give the "
                       "certificate's own key, PEM, without a password"));
    }
    return out;
}

}  // namespace bw::http
