// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "io/sheet.hpp"
#include "report/certificate.hpp"
#include "service/certificates.hpp"

namespace bw::service {

/// All that a certificate is made of.
struct CertificateFacts {
    works::Site site;
    works::Certificate certificate;
    CertificateOrder order;
    ReleaseView view;
    std::vector<works::Signature> runs;  ///< who signed the results
    std::vector<std::string> methods;    ///< "M-07 v3: title; source"
    std::vector<std::string> outside;    ///< methods of outside laboratories
};

[[nodiscard]] report::Certificate certificate_paper(const CertificateFacts& facts);

/// The same data as canonical JSON.
[[nodiscard]] Result<std::string> certificate_json(const report::Certificate& paper);

/// The same as sheets of a workbook: the certificate, its results, its lots.
[[nodiscard]] std::vector<io::Sheet> certificate_sheets(const report::Certificate& paper);

/// Reads certificate_json back.
[[nodiscard]] Result<report::Certificate> certificate_of_json(const std::string& text);

/// "2026-03-09 14:05 UTC".
[[nodiscard]] std::string printed_instant(const std::string& at);

}  // namespace bw::service
