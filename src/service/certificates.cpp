// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/certificates.hpp"

#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "base/text.hpp"
#include "io/material_file.hpp"
#include "service/certificate_paper.hpp"
#include "service/papers.hpp"
#include "service/people.hpp"
#include "service/tests.hpp"
#include "store/digest.hpp"

namespace bw::service {
namespace {

constexpr std::int64_t kMostIssues = 1000;
constexpr std::size_t kDay = 10;

Result<void> check_released(const ReleaseView& view) {
    const works::Batch& batch = view.reading.file.batch;
    if (const std::string other = other_decision(view); !other.empty()) {
        return fail(ProblemCode::Refused, other + ": a certificate is issued for a released one");
    }
    if (batch.state != works::BatchState::Released || !view.decision) {
        return fail(ProblemCode::Refused,
                    fmt::format("batch {} is {}: a certificate is issued for a released one",
                                batch.number, name(batch.state)));
    }
    if (view.stale()) {
        return fail(ProblemCode::Refused,
                    fmt::format("the release of batch {} is no longer signed: {}; decide again "
                                "first",
                                batch.number, fmt::join(view.changed, "; ")));
    }
    return {};
}

/// The methods behind the results, as their versions stood, and those of outside laboratories.
Result<void> add_methods(const store::Books& books, CertificateFacts& facts) {
    std::set<std::pair<std::string, std::int64_t>> used;
    for (const works::Tested& t : facts.view.reading.file.assessment.elements) {
        for (const works::MethodValue& m : t.methods) {
            used.emplace(m.method, m.method_number);
        }
    }
    for (const auto& [id, number] : used) {
        BW_TRY(versions, books.history(kKind<works::Method>, id));
        for (const store::Record& record : versions) {
            BW_TRY(method, read_record<works::Method>(record.body));
            if (method.number != number) {
                continue;
            }
            facts.methods.push_back(
                fmt::format("{} v{}: {}{}; {}", id, number, method.title,
                            method.measures.empty() ? "" : ", " + method.measures, method.source));
            if (method.outside_laboratory) {
                facts.outside.push_back(id);
            }
        }
    }
    return {};
}

/// Whether a run holds a result of the batch that counts.
bool counts_for(const works::BatchFile& file, const std::string& run) {
    return std::any_of(file.results.begin(), file.results.end(), [&](const auto& r) {
        return r.run == run && r.is.state == works::ResultState::Counted;
    });
}

Result<CertificateFacts> facts_for(const store::Books& books, const CertificateOrder& order) {
    CertificateFacts facts;
    BW_TRY(view, show_release(books, order.batch));
    facts.view = std::move(view);
    BW_CHECK(check_released(facts.view));
    BW_TRY(site, site_of(books));
    facts.site = std::move(site);
    facts.order = order;
    BW_TRY(runs, runs_of(books, order.batch));
    for (const auto& run : runs) {
        if (run.is.approved && counts_for(facts.view.reading.file, run.is.number)) {
            facts.runs.push_back(*run.is.approved);
        }
    }
    BW_CHECK(add_methods(books, facts));
    return facts;
}

/// The issue before, to be replaced; or nothing.
Result<std::optional<Kept<works::Certificate>>> standing_issue(const store::Books& books,
                                                               const std::string& batch) {
    BW_TRY(all, certificates_for(books, batch));
    for (auto& c : all) {
        if (c.is.state == works::CertificateState::Issued) {
            return std::optional(std::move(c));
        }
    }
    return std::optional<Kept<works::Certificate>>();
}

/// Which issue comes next, and what its paper says of the one before.
struct NextIssue {
    std::optional<std::string> number;  ///< none: the batch has had no certificate yet
    std::int64_t issue = 1;
    std::string replaces;
    std::optional<Kept<works::Certificate>> before;  ///< to be replaced
};

Result<NextIssue> next_issue(const store::Books& books, const std::string& batch,
                             const std::string& why) {
    NextIssue out;
    BW_TRY(all, certificates_for(books, batch));
    if (all.empty()) {
        return out;
    }
    BW_TRY(before, standing_issue(books, batch));
    const works::Certificate& last = all.back().is;
    out.number = last.number;
    out.issue = last.issue + 1;
    if (before) {
        out.replaces = fmt::format("issue {} of {}: {}", before->is.issue,
                                   before->is.issued_at.substr(0, kDay), why);
        out.before = std::move(before);
    } else {
        out.replaces = fmt::format("issue {} of {}, withdrawn: {}", last.issue,
                                   last.issued_at.substr(0, kDay), why);
    }
    if (!base::trim(why).empty()) {
        return out;
    }
    return fail(
        ProblemCode::BadInput,
        out.before
            ? fmt::format("certificate {} cannot be replaced without a reason", out.before->is.id())
            : fmt::format("issue {} of certificate {} was withdrawn by {} ({}): a new one "
                          "says why it may be issued again",
                          last.issue, last.number, last.ended_by, last.ended_why),
        {"", 0, "why"});
}

/// Number and issue: the next of the batch's certificate, or a new number.
Result<void> number_issue(const Desk& desk, works::Certificate& next, const Intent& intent,
                          store::Change& change) {
    BW_TRY(follows, next_issue(*desk.books, next.batch, intent.why));
    next.issue = follows.issue;
    next.replaces = follows.replaces;
    if (follows.number) {
        next.number = *follows.number;
    } else {
        BW_TRY(number, next_identifier(desk, "C", change));
        next.number = number;
    }
    if (follows.before) {
        BW_TRY(old, works::ended(follows.before->is, works::CertificateState::Replaced,
                                 desk.person.id, desk.at, intent.why));
        change.writes.push_back(write_of(old, follows.before->version));
    }
    return {};
}

/// The paper as it is before its issue: without what only the issue gives it.
report::Certificate undated(report::Certificate paper, const std::string& released_at) {
    constexpr std::size_t kSeconds = 19;
    paper.mark.number = "draft";
    paper.mark.created = released_at.substr(0, kSeconds) + "Z";
    paper.mark.trail_mark.clear();
    paper.mark.verification_code.clear();
    paper.mark.draft = true;
    paper.how_to_verify =
        "A draft has no code: it gets its number, its day and its codes when it "
        "is issued.";
    paper.code_text = fmt::format("Draft of a certificate of batch {}: not issued", paper.batch);
    paper.issued_on.clear();
    return paper;
}

Result<CertificateDraft> draft_of(const CertificateFacts& facts, const report::Certificate& paper) {
    CertificateDraft out;
    out.paper = undated(paper, facts.view.decision->is.approved.at);
    BW_TRY(json, certificate_json(out.paper));
    out.mark = store::sha256_hex(json);
    return out;
}

works::Certificate begun(const CertificateFacts& facts) {
    works::Certificate out;
    out.batch = facts.order.batch;
    out.product = facts.view.reading.file.batch.product;
    out.release = facts.view.decision->is.number;
    out.release_mark = facts.view.decision->is.approved.mark;
    out.customer = facts.order.customer;
    return out;
}

/// The laboratory had the sample by the day on which the paper says so.
Result<void> check_received(const std::string& day, const std::string& today) {
    if (day <= today) {
        return {};
    }
    return fail(ProblemCode::BadInput,
                fmt::format("{} is still to come, and today is {}: give the day on which the "
                            "laboratory had the sample, or leave it out",
                            day, today),
                {"", 0, "received"});
}

/// A day that may be left out, and is not before the batch was made.
Result<void> check_day(const std::string& day, const char* field, const std::string& made_on) {
    if (day.empty() || (io::is_day(day) && day >= made_on)) {
        return {};
    }
    return fail(ProblemCode::BadInput,
                io::is_day(day)
                    ? fmt::format("{} is before {}, on which the batch was made", day, made_on)
                    : io::not_a_day(day),
                {"", 0, field});
}

/// What an order gives, with its days looked at.
Result<CertificateFacts> checked_facts(const store::Books& books, const CertificateOrder& order,
                                       const std::string& today) {
    BW_TRY(facts, facts_for(books, order));
    const std::string& made_on = facts.view.reading.file.batch.made_on;
    BW_CHECK(check_day(order.use_by, "use_by", made_on));
    BW_CHECK(check_day(order.received, "received", made_on));
    BW_CHECK(check_received(order.received, today));
    return std::move(facts);
}

Result<void> check_draft_shown(const CertificateFacts& facts, const report::Certificate& paper) {
    const CertificateOrder& order = facts.order;
    if (order.shown.empty()) {
        return {};
    }
    BW_TRY(draft, draft_of(facts, paper));
    return check_shown(
        {order.shown,
         fmt::format("the certificate of batch {} as it would be issued now", order.batch)},
        draft.mark);
}

}  // namespace

Result<CertificateDraft> draft_certificate(const store::Books& books, const CertificateOrder& order,
                                           const std::string& why, const std::string& today) {
    BW_TRY(facts, checked_facts(books, order, today));
    facts.certificate = begun(facts);
    BW_TRY(follows, next_issue(books, order.batch, why));
    facts.certificate.issue = follows.issue;
    facts.certificate.replaces = follows.replaces;
    return draft_of(facts, certificate_paper(facts));
}

Result<store::Receipt> issue_certificate(const Desk& desk, const CertificateOrder& order,
                                         const store::SigningKey* key, const Intent& intent) {
    return act(desk,
               {works::Deed::IssueCertificate, "certificate issue", kKind<works::Certificate>, ""},
               intent, [&](store::Change& change) -> Result<void> {
                   BW_TRY(facts, checked_facts(*desk.books, order, desk.day()));
                   works::Certificate next = begun(facts);
                   next.issued_by = desk.person.id;
                   next.issued_at = desk.at;
                   BW_CHECK(number_issue(desk, next, intent, change));
                   BW_TRY(mark, desk.books->mark());
                   next.trail_mark = mark;
                   // Only who holds the evidence can work the code out.
                   next.code = works::verification_code(
                       store::sha256_hex(next.id() + "\n" + mark + "\n" + facts.view.text));
                   facts.certificate = next;
                   const report::Certificate paper = certificate_paper(facts);
                   BW_CHECK(check_draft_shown(facts, paper));
                   BW_TRY(pdf, report::certificate_pdf(paper));
                   BW_TRY(json, certificate_json(paper));
                   next.paper = store::sha256_hex(pdf);
                   next.data = store::sha256_hex(json);
                   if (key != nullptr) {
                       next.signature = key->sign(pdf);
                       next.public_key = key->public_key();
                   }
                   const std::string name = fmt::format("{}-{}", next.number, next.issue);
                   change.attachments = {{name + ".pdf", kPdf, pdf}, {name + ".json", kJson, json}};
                   change.act.subject_id = next.id();
                   change.writes.push_back(write_of(next, 0));
                   BW_TRY(batch, kept<works::Batch>(*desk.books, order.batch));
                   change.expects = facts.view.reading.expects;
                   change.expects.push_back(expect_same(batch));
                   change.expects.push_back(expect_same(*facts.view.decision));
                   change.answer = next.id();
                   return {};
               });
}

Result<store::Receipt> withdraw_certificate(const Desk& desk, const std::string& id,
                                            const Intent& intent) {
    return act(
        desk,
        {works::Deed::IssueCertificate, "certificate withdraw", kKind<works::Certificate>, id},
        intent, [&](store::Change& change) -> Result<void> {
            BW_TRY(certificate, certificate_of(*desk.books, id));
            BW_TRY(next, works::ended(certificate.is, works::CertificateState::Withdrawn,
                                      desk.person.id, desk.at, intent.why));
            change.act.subject_id = next.id();
            change.writes.push_back(write_of(next, certificate.version));
            return {};
        });
}

Result<Kept<works::Certificate>> certificate_of(const store::Books& books, const std::string& id) {
    if (id.find('/') != std::string::npos) {
        return kept<works::Certificate>(books, id);
    }
    store::ListQuery query;
    query.id_prefix = id + "/";
    query.limit = kMostIssues;
    BW_TRY(issues, kept_list<works::Certificate>(books, query));
    const auto newest =
        std::max_element(issues.begin(), issues.end(),
                         [](const auto& a, const auto& b) { return a.is.issue < b.is.issue; });
    if (newest == issues.end()) {
        return fail(ProblemCode::NotFound, fmt::format("no certificate {} is in the books", id));
    }
    return *newest;
}

Result<std::vector<Kept<works::Certificate>>> certificates_for(const store::Books& books,
                                                               const std::string& batch) {
    store::ListQuery query;
    query.pointing_to = store::Link{"of", kKind<works::Batch>, batch};
    query.limit = kMostIssues;
    BW_TRY(out, kept_list<works::Certificate>(books, query));
    std::sort(out.begin(), out.end(),
              [](const auto& a, const auto& b) { return a.is.issue < b.is.issue; });
    return std::move(out);
}

}  // namespace bw::service
