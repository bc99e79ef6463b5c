// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "report/certificate.hpp"
#include "service/releases.hpp"
#include "store/signing_key.hpp"

namespace bw::service {

/// What is asked of an issue.
struct CertificateOrder {
    std::string batch;
    std::string customer;
    std::string use_by;          ///< ISO 8601 date; empty: not stated
    bool with_lots = false;      ///< the materials' lots as an annex
    std::string condition = {};  ///< of the sample as the laboratory had it; empty: not stated
    std::string received = {};   ///< day on which the laboratory had it; empty: not stated
    std::string shown = {};      ///< of an issue: the mark of the draft that was looked at, 16
                                 ///< digits or more; empty: as it is
};

/// A certificate before it is issued: what the paper would say, without its number, day and codes.
struct CertificateDraft {
    report::Certificate paper;  ///< marked as a draft
    std::string mark;           ///< SHA-256 of its data
};

/// What issue_certificate would issue for an order; nothing is written. `why` of a reissue stands
/// on the paper.
///
/// Inputs   today: the day after which nothing was received yet.
/// Errors   those of issue_certificate but for the duty.
[[nodiscard]] Result<CertificateDraft> draft_certificate(const store::Books& books,
                                                         const CertificateOrder& order,
                                                         const std::string& why,
                                                         const std::string& today);

/// Issues the certificate of a released batch, or its next issue, which replaces the one before.
/// The paper is rendered once; its bytes and its data are kept and reprinted from there.
///
/// Inputs   the works' key, where it has one: then the paper's bytes are signed with it.
/// Errors   Refused: a batch that is not released, or whose evidence has changed since it was
///          signed; a draft other than the one shown; BadInput for a reissue without a reason, a
///          day before the batch was made, a day of receipt that is still to come;
///          those of report::certificate_pdf. Answer: number/issue.
[[nodiscard]] Result<store::Receipt> issue_certificate(const Desk& desk,
                                                       const CertificateOrder& order,
                                                       const store::SigningKey* key,
                                                       const Intent& intent);

[[nodiscard]] Result<store::Receipt> withdraw_certificate(const Desk& desk, const std::string& id,
                                                          const Intent& intent);

/// The certificate of a number (its newest issue), or of number/issue.
[[nodiscard]] Result<Kept<works::Certificate>> certificate_of(const store::Books& books,
                                                              const std::string& id);
/// All issues for a batch, oldest first.
[[nodiscard]] Result<std::vector<Kept<works::Certificate>>> certificates_for(
    const store::Books& books, const std::string& batch);

/// The stored bytes of an issue.
struct CertificatePapers {
    works::Certificate certificate;
    std::string pdf, json;
    std::string signature_file;  ///< empty: not signed by the works' key
};
[[nodiscard]] Result<CertificatePapers> papers_of(const store::Books& books, const std::string& id);

/// What a look for a certificate in the books comes to; a sentence for each fault.
struct CertificateCheck {
    std::string id, state;
    std::vector<std::string> faults;
    std::vector<std::string> notes;
    [[nodiscard]] bool genuine() const { return faults.empty(); }
};

/// Checks number and code, as typed from a paper, against the books: known, right code, issued and
/// not replaced or withdrawn, its paper still the stored bytes, its release still signed.
[[nodiscard]] Result<CertificateCheck> verify_certificate(const store::Books& books,
                                                          const std::string& number,
                                                          const std::string& code);

/// Checks a file against the books: the bytes are those of an issue. `code` may be empty.
[[nodiscard]] Result<CertificateCheck> verify_paper_in(const store::Books& books,
                                                       const std::string& number,
                                                       const std::string& pdf);

/// Checks a file against its signature file by the works' public key: no books are needed.
///
/// Errors   BadInput for a signature file that is none.
[[nodiscard]] Result<CertificateCheck> verify_paper(const std::string& pdf,
                                                    const std::string& signature_file,
                                                    const std::string& public_key);

}  // namespace bw::service
