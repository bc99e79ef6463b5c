// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Looking at a certificate that somebody brings: by its number and code, or the file itself.
#include <fmt/format.h>

#include "base/text.hpp"
#include "io/document_text.hpp"
#include "io/fields.hpp"
#include "service/certificates.hpp"
#include "store/digest.hpp"

namespace bw::service {
namespace {

constexpr const char* kSignatureKind = "certificate-signature";

std::string signature_file_of(const works::Certificate& c) {
    if (c.signature.empty()) {
        return {};
    }
    io::Node root;
    root.value = io::Node::Table{};
    io::add_text(root, "format", "brinewright/1");
    io::add_text(root, "kind", kSignatureKind);
    io::add_text(root, "certificate", c.id());
    io::add_text(root, "sha256", c.paper);
    io::add_text(root, "signature", c.signature);
    io::add_text(root, "public_key", c.public_key);
    return io::json_text(root) + "\n";
}

Result<void> look_at_release(const store::Books& books, const works::Certificate& certificate,
                             CertificateCheck& out) {
    BW_TRY(view, show_release(books, certificate.batch));
    if (!view.decision || view.decision->is.approved.mark != certificate.release_mark) {
        out.notes.push_back(
            fmt::format("batch {} has been decided on anew since", certificate.batch));
    }
    out.notes.insert(out.notes.end(), view.notices.begin(), view.notices.end());
    if (const std::string other = other_decision(view); !other.empty()) {
        out.faults.push_back(other);
        return {};
    }
    if (view.reading.file.batch.state != works::BatchState::Released) {
        out.faults.push_back(fmt::format("batch {} is {} now", certificate.batch,
                                         name(view.reading.file.batch.state)));
    }
    for (const std::string& change : view.changed) {
        out.faults.emplace_back("the release is no longer signed: " + change);
    }
    return {};
}

void look_at_state(const works::Certificate& c, CertificateCheck& out) {
    if (c.state != works::CertificateState::Issued) {
        out.faults.push_back(fmt::format("certificate {} is {} since {}: {}", c.id(), name(c.state),
                                         c.ended_at, c.ended_why));
    }
}

Result<void> look_at_paper(const store::Books& books, const works::Certificate& c,
                           CertificateCheck& out) {
    const auto paper = books.attachment(c.paper);
    if (!paper || store::sha256_hex(paper->bytes) != c.paper) {
        out.faults.emplace_back("the paper that the books keep is not the one that was issued");
    } else if (!c.signature.empty() &&
               !store::signature_holds(c.public_key, paper->bytes, c.signature)) {
        out.faults.emplace_back("the works' signature does not hold for the paper");
    }
    return {};
}

}  // namespace

Result<CertificatePapers> papers_of(const store::Books& books, const std::string& id) {
    BW_TRY(certificate, certificate_of(books, id));
    BW_TRY(pdf, books.attachment(certificate.is.paper));
    BW_TRY(json, books.attachment(certificate.is.data));
    return CertificatePapers{certificate.is, std::move(pdf.bytes), std::move(json.bytes),
                             signature_file_of(certificate.is)};
}

Result<CertificateCheck> verify_certificate(const store::Books& books, const std::string& number,
                                            const std::string& code) {
    CertificateCheck out;
    const auto certificate = certificate_of(books, number);
    if (!certificate) {
        if (certificate.error().code != ProblemCode::NotFound) {
            return tl::make_unexpected(certificate.error());
        }
        out.id = number;
        out.faults.push_back(fmt::format("no certificate {} was issued", base::quoted(number)));
        return out;
    }
    const works::Certificate& newest = certificate->is;
    out.id = newest.id();
    out.state = name(newest.state);
    if (!works::is_code(code, newest.code)) {
        for (std::int64_t issue = newest.issue - 1; issue >= 1; --issue) {
            const auto old =
                kept<works::Certificate>(books, fmt::format("{}/{}", newest.number, issue));
            if (old && works::is_code(code, old->is.code)) {
                out.id = old->is.id();
                out.state = name(old->is.state);
                look_at_state(old->is, out);
                return out;
            }
        }
        out.faults.emplace_back("the verification code is not that of this certificate");
        return out;
    }
    look_at_state(newest, out);
    BW_CHECK(look_at_paper(books, newest, out));
    BW_CHECK(look_at_release(books, newest, out));
    return out;
}

Result<CertificateCheck> verify_paper_in(const store::Books& books, const std::string& number,
                                         const std::string& pdf) {
    BW_TRY(certificate, certificate_of(books, number));
    const std::string mark = store::sha256_hex(pdf);
    for (std::int64_t issue = certificate.is.issue; issue >= 1; --issue) {
        BW_TRY(one,
               kept<works::Certificate>(books, fmt::format("{}/{}", certificate.is.number, issue)));
        if (one.is.paper == mark) {
            CertificateCheck out{one.is.id(), std::string(name(one.is.state)), {}, {}};
            look_at_state(one.is, out);
            BW_CHECK(look_at_release(books, one.is, out));
            return out;
        }
    }
    return CertificateCheck{certificate.is.id(),
                            std::string(name(certificate.is.state)),
                            {fmt::format("the file is no issue of certificate {}: a byte or more "
                                         "of it is not as issued",
                                         number)},
                            {}};
}

Result<CertificateCheck> verify_paper(const std::string& pdf, const std::string& signature_file,
                                      const std::string& public_key) {
    BW_TRY(document, io::parse_document(signature_file, "signature"));
    BW_TRY(root, io::open_kind(document, kSignatureKind));
    BW_TRY(id, root.required_text("certificate"));
    BW_TRY(sha256, root.required_text("sha256"));
    BW_TRY(signature, root.required_text("signature"));
    BW_TRY(named_key, root.required_text("public_key"));
    CertificateCheck out{id, "signed", {}, {}};
    if (store::sha256_hex(pdf) != sha256) {
        out.faults.emplace_back("the file is not the one that was signed: its SHA-256 is another");
    }
    if (!store::signature_holds(public_key, pdf, signature)) {
        out.faults.emplace_back("the works' key did not sign this file");
    }
    if (named_key != public_key) {
        out.notes.emplace_back("the signature names another key than the one given");
    }
    out.notes.emplace_back("whether it has been replaced or withdrawn since, only the books tell");
    return out;
}

}  // namespace bw::service
