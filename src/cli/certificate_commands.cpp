// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <memory>

#include <fmt/format.h>

#include "base/text.hpp"
#include "cli/books_options.hpp"
#include "cli/file_bytes.hpp"
#include "cli/json_values.inl"
#include "io/outputs.hpp"
#include "service/certificate_paper.hpp"
#include "service/certificates.hpp"
#include "service/papers.hpp"

namespace bw::cli {
namespace {

struct IssueArguments {
    BooksOptions books;
    service::CertificateOrder order;
    std::string key;
    std::string id;
};

void add_order_options(Command command, service::CertificateOrder& order) {
    command.add_option("BATCH", order.batch, "Number of the batch").required();
    command.add_option("--customer", order.customer, "Whom it is for");
    command.add_option("--use-by", order.use_by, "Last day, 2027-12-31");
    command.add_option("--condition", order.condition,
                       "Of the sample as the laboratory had it: \"dry, bag whole\"");
    command.add_option("--received", order.received,
                       "Day on which the laboratory had it, 2027-03-01");
    command.add_flag("--with-lots", order.with_lots, "The materials' lots as an annex");
}

/// What a customer would read, in the order of the paper.
std::string draft_text(const service::CertificateDraft& draft) {
    const report::Certificate& c = draft.paper;
    std::string out = fmt::format("Draft, not issued: certificate of {}, batch {}, issue {}\n",
                                  c.product, c.batch, c.issue);
    const auto say = [&](const char* what, const std::string& value) {
        if (!value.empty()) {
            out += wrapped(fmt::format("  {}: ", what), value);
        }
    };
    say("replaces", c.replaces);
    say("customer", c.customer);
    say("made on", c.made_on);
    say("use by", c.use_by);
    say("sample", c.sample);
    say("condition", c.sample_condition);
    say("received on", c.received_on);
    say("sampled on", c.sampled_on);
    say("packs", fmt::format("{}", fmt::join(c.pack_sizes, "; ")));
    TextTable table({{{"quantity"}},
                     {{"result"}, Align::Right},
                     {{"U"}, Align::Right},
                     {{"unit"}},
                     {{"low"}, Align::Right},
                     {{"high"}, Align::Right},
                     {{"verdict"}},
                     {{"method"}}});
    for (const report::CertificateResult& r : c.results) {
        table.add({r.quantity, r.value, r.expanded, r.unit, r.low, r.high,
                   std::string(report::name(r.verdict)), r.method});
    }
    out += table.text() + fmt::format("  U: {}\n", c.coverage);
    for (const auto* sentences : {&c.method_note, &c.homogeneity, &c.decision_rule}) {
        out += dashes(*sentences);
    }
    for (const std::string& departure : c.departures) {
        out += wrapped("  departure ", departure);
    }
    for (const report::CertificateLot& lot : c.lots) {
        out +=
            fmt::format("  lot {} of {}, {}: {}\n", lot.lot, lot.material, lot.supplier, lot.share);
    }
    for (const report::SignatureBlock& s : c.signatures) {
        out += fmt::format("  {} by {} ({}) at {}\n", s.meaning, s.name, s.duty, s.at);
    }
    return out + fmt::format("To issue exactly this: --shown {}\n",
                             draft.mark.substr(0, service::kShortMark));
}

/// Today, or the day of the last entry where that is later: invented books have days of their own.
Result<std::string> today_of(const store::Books& books) {
    constexpr std::size_t kDay = 10;
    store::EntryQuery newest;
    newest.limit = 1;
    BW_TRY(entries, books.entries(newest));
    const std::string now = instant_now();
    return (entries.empty() ? now : std::max(now, entries.front().at)).substr(0, kDay);
}

struct DraftArguments {
    BooksOptions books;
    service::CertificateOrder order;
    std::string out;
};

void add_draft(Command noun, BookCommands& commands) {
    auto a = std::make_shared<DraftArguments>();
    const Command draft = add_command(
        noun, "draft", "What the certificate of a released batch would say, marked as a draft",
        "certificate draft B26-0001-K --use-by 2027-12-31 --books books");
    add_order_options(draft, a->order);
    draft.add_option("--why", a->books.why, "Of a reissue: the reason as the paper says it");
    draft.add_option("--out", a->out, "Where the draft as PDF goes").check(named);
    add_reading_options(draft, a->books);
    commands.add(draft, [a](const Streams& streams) -> Result<int> {
        BW_TRY(books, open_books(a->books, store::Mode::ReadOnly));
        BW_TRY(today, today_of(books));
        BW_TRY(drafted, service::draft_certificate(books, a->order, a->books.why, today));
        if (!a->out.empty()) {
            BW_TRY(pdf, report::certificate_pdf(drafted.paper));
            io::Outputs outputs;
            BW_CHECK(outputs.add_text(a->out, pdf));
            BW_CHECK(outputs.publish());
        }
        if (a->books.json) {
            BW_TRY(data, service::certificate_json(drafted.paper));
            put(json_text({{"version", 1},
                           {"draft", true},
                           {"mark", drafted.mark},
                           {"certificate", json_of_text(data)}}),
                streams);
        } else if (!a->books.quiet) {
            put(draft_text(drafted), streams);
        }
        return 0;
    });
}

void add_issue(Command noun, BookCommands& commands) {
    auto a = std::make_shared<IssueArguments>();
    const Command issue =
        add_command(noun, "issue", "Issues the certificate of a released batch, or its next issue",
                    "certificate issue B26-0001-K --shown 9f3a6b1c22d04e57 --key works.key "
                    "--session q");
    add_order_options(issue, a->order);
    issue.add_option("--shown", a->order.shown,
                     "Mark of what `certificate draft` showed, 16 digits or more; refused when it "
                     "is no longer that");
    issue.add_option("--key", a->key, "File of the works' key: signs the paper's bytes")
        .check(named);
    add_writing_options(issue, a->books);
    commands.add(issue, [a](const Streams& streams) -> Result<int> {
        std::optional<store::SigningKey> key;
        if (!a->key.empty()) {
            BW_TRY(loaded, store::SigningKey::load(a->key));
            key.emplace(std::move(loaded));
        }
        BW_TRY(open, open_desk(a->books));
        BW_TRY(receipt,
               service::issue_certificate(open.desk, a->order, key ? &*key : nullptr, open.intent));
        BW_TRY(certificate, service::kept<works::Certificate>(*open.books, receipt.answer));
        report_receipt(a->books, receipt,
                       fmt::format("Certificate {} is issued; verification code {}", receipt.answer,
                                   certificate.is.code),
                       streams);
        return 0;
    });
}

void add_withdraw(Command noun, BookCommands& commands) {
    auto a = std::make_shared<IssueArguments>();
    const Command withdraw =
        add_command(noun, "withdraw", "Withdraws a certificate",
                    "certificate withdraw C26-0001-K --why \"method out of control\" --session q");
    withdraw.add_option("CERTIFICATE", a->id, "Its number, or number/issue").required();
    add_writing_options(withdraw, a->books);
    commands.add(withdraw, [a](const Streams& streams) -> Result<int> {
        BW_TRY(open, open_desk(a->books));
        BW_TRY(receipt, service::withdraw_certificate(open.desk, a->id, open.intent));
        report_receipt(a->books, receipt, fmt::format("Certificate {} is withdrawn.", a->id),
                       streams);
        return 0;
    });
}

struct PrintArguments {
    BooksOptions books;
    std::string id;
    std::string out, data, xlsx, signature;
};

void add_print(Command noun, BookCommands& commands) {
    auto a = std::make_shared<PrintArguments>();
    const Command print =
        add_command(noun, "print", "Writes the stored bytes of a certificate, and its data",
                    "certificate print C26-0001-K --out C26-0001-K.pdf --books books");
    print.add_option("CERTIFICATE", a->id, "Its number, or number/issue").required();
    print.add_option("--out", a->out, "Where the PDF goes").check(named);
    print.add_option("--data", a->data, "Where its data as JSON go").check(named);
    print.add_option("--xlsx", a->xlsx, "Where its data as a workbook go").check(named);
    print.add_option("--signature", a->signature, "Where the signature of the works' key goes")
        .check(named);
    add_reading_options(print, a->books);
    commands.add(print, [a](const Streams& streams) -> Result<int> {
        if (a->out.empty() && a->data.empty() && a->xlsx.empty() && a->signature.empty()) {
            return fail(ProblemCode::BadInput, "nothing to write: give --out, --data or --xlsx");
        }
        BW_TRY(books, open_books(a->books, store::Mode::ReadOnly));
        BW_TRY(papers, service::papers_of(books, a->id));
        io::Outputs outputs;
        if (!a->out.empty()) {
            BW_CHECK(outputs.add_text(a->out, papers.pdf));
        }
        if (!a->data.empty()) {
            BW_CHECK(outputs.add_text(a->data, papers.json));
        }
        if (!a->xlsx.empty()) {
            BW_TRY(paper, service::certificate_of_json(papers.json));
            BW_CHECK(outputs.add_workbook(a->xlsx, service::certificate_sheets(paper)));
        }
        if (!a->signature.empty()) {
            if (papers.signature_file.empty()) {
                return fail(ProblemCode::Refused,
                            fmt::format("certificate {} was issued without the works' key",
                                        papers.certificate.id()),
                            {"", 0, "--signature"});
            }
            BW_CHECK(outputs.add_text(a->signature, papers.signature_file));
        }
        BW_CHECK(outputs.publish());
        const works::Certificate& c = papers.certificate;
        if (a->books.json) {
            put(json_text({{"version", 1},
                           {"certificate", c.id()},
                           {"state", works::name(c.state)},
                           {"verification_code", c.code},
                           {"sha256", c.paper},
                           {"data_sha256", c.data}}),
                streams);
        } else if (!a->books.quiet) {
            put(fmt::format("Certificate {}, {}; SHA-256 of the paper {}\n", c.id(),
                            works::name(c.state), c.paper),
                streams);
        }
        return 0;
    });
}

struct VerifyArguments {
    BooksOptions books;
    std::string id, code, file, signature, public_key;
};

/// A key in hexadecimal, or the file that holds it.
Result<std::string> key_from(const std::string& given) {
    constexpr std::size_t kHexadecimal = 64;  // 32 bytes [RFC 8032]
    if (given.size() == kHexadecimal) {
        return given;
    }
    BW_TRY(text, bytes_of(given, kMostAttached));
    return std::string(base::trim(text));
}

Result<service::CertificateCheck> checked(const VerifyArguments& a) {
    if (!a.signature.empty()) {
        if (a.file.empty() || a.public_key.empty()) {
            return fail(ProblemCode::BadInput,
                        "a signature is checked against --file by --public-key",
                        {"", 0, "--signature"});
        }
        BW_TRY(pdf, bytes_of(a.file, kMostAttached));
        BW_TRY(signature, bytes_of(a.signature, kMostAttached));
        BW_TRY(key, key_from(a.public_key));
        return service::verify_paper(pdf, signature, key);
    }
    if (a.id.empty() || (a.code.empty() && a.file.empty())) {
        return fail(ProblemCode::BadInput,
                    "give the number with --code or --file, or --file with --signature and "
                    "--public-key");
    }
    BW_TRY(books, open_books(a.books, store::Mode::ReadOnly));
    if (a.file.empty()) {
        return service::verify_certificate(books, a.id, a.code);
    }
    BW_TRY(pdf, bytes_of(a.file, kMostAttached));
    return service::verify_paper_in(books, a.id, pdf);
}

void add_verify(Command noun, BookCommands& commands) {
    auto a = std::make_shared<VerifyArguments>();
    const Command verify =
        add_command(noun, "verify", "Whether a certificate is genuine and still holds",
                    "certificate verify C26-0001-K --code 9f3a-6b1c-22d0-4e57 --books books");
    verify.add_option("CERTIFICATE", a->id, "Its number");
    verify.add_option("--code", a->code, "Verification code, as printed");
    verify.add_option("--file", a->file, "The PDF itself").check(named);
    verify.add_option("--signature", a->signature, "Its signature file: no books are needed then")
        .check(named);
    verify.add_option("--public-key", a->public_key, "The works' public key, or the file with it")
        .check(named);
    add_reading_options(verify, a->books);
    verify.footer(
        "Examples:\n  brinewright certificate verify C26-0001-K --code 9f3a-6b1c-22d0-4e57 --books "
        "books\n  brinewright certificate verify --file C26-0001-K.pdf --signature C26-0001-K.sig "
        "--public-key works.key.pub\n\nExit codes: 0 genuine and in force; 1 not; 2 bad input.");
    commands.add(verify, [a](const Streams& streams) -> Result<int> {
        BW_TRY(check, checked(*a));
        if (a->books.json) {
            put(json_text({{"version", 1},
                           {"certificate", check.id},
                           {"state", check.state},
                           {"genuine", check.genuine()},
                           {"faults", check.faults},
                           {"notes", check.notes}}),
                streams);
        } else if (!a->books.quiet) {
            put(fmt::format("Certificate {}: {}\n{}{}", check.id,
                            !check.genuine() ? "does not hold"
                            : check.state == "signed"
                                ? "genuine: signed so by the works; whether it is "
                                  "still in force, only the books tell"
                                : "genuine and in force, " + check.state,
                            bullets(check.faults), dashes(check.notes)),
                streams);
        }
        return check.genuine() ? 0 : 1;
    });
}

}  // namespace

void add_certificate_commands(Command app, BookCommands& commands) {
    const Command noun =
        noun_of(app, "certificate", "Certificates: draft, issue, print, verify, withdraw");
    add_draft(noun, commands);
    add_issue(noun, commands);
    add_print(noun, commands);
    add_verify(noun, commands);
    add_withdraw(noun, commands);
}

}  // namespace bw::cli
