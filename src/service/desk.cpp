// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/desk.hpp"

#include <cstdlib>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "store/digest.hpp"
#include "works/identifier.hpp"

namespace bw::service {
namespace {

/// Name of a series in a year: "B26".
std::string series_of(const Desk& desk, std::string_view letters) {
    constexpr int kCentury = 100;
    return fmt::format("{}{:02}", letters, desk.year() % kCentury);
}

}  // namespace

int Desk::year() const {
    constexpr std::size_t kYearLength = 4;
    const auto number = base::parse_number(at.substr(0, kYearLength));
    base::expect(number.has_value(), "an instant begins with its year");
    return static_cast<int>(*number);
}

Result<void> check_repeat(const Desk& desk, const store::Receipt& receipt, const ActName& name,
                          const Intent& intent) {
    store::EntryQuery query;
    query.from_seq = receipt.entry;
    query.limit = 1;
    BW_TRY(entries, desk.books->entries(query));
    if (entries.empty() || entries.front().seq != receipt.entry) {
        return fail(ProblemCode::BrokenBooks,
                    fmt::format("the trail has no entry {}", receipt.entry));
    }
    const store::Entry& e = entries.front();
    if (e.act != name.act || e.person != desk.person.id ||
        (!name.subject_id.empty() && !e.subject_id.starts_with(name.subject_id))) {
        return fail(ProblemCode::Refused,
                    fmt::format("this request number was used by {} for {} of {} before: give each "
                                "request its own",
                                e.person, e.act, e.subject_id),
                    {"", 0, "request"});
    }
    if (!e.asked.empty() && !intent.asked.empty() && e.asked != intent.asked) {
        return fail(ProblemCode::Refused,
                    fmt::format("the number {} was used for another order ({} of {}, entry {}), "
                                "and nothing was written now: give this order a new number",
                                base::quoted(intent.request), e.act, e.subject_id, e.seq),
                    {"", 0, "request"});
    }
    return {};
}

namespace {

/// An act whose request was not done when it came.
Result<store::Receipt> act_anew(const Desk& desk, const ActName& name, const Intent& intent,
                                const Decide& decide) {
    BW_TRY(duty, works::duty_for(desk.person, name.deed));
    constexpr int kTries = 20;
    for (int attempt = 1;; ++attempt) {
        store::Change change;
        change.act = {intent.request,
                      desk.person.id,
                      std::string(works::name(duty)),
                      desk.device,
                      std::string(name.act),
                      name.subject_kind,
                      name.subject_id,
                      intent.why,
                      desk.at,
                      intent.asked};
        BW_CHECK(decide(change));
        auto receipt = desk.books->commit(change);
        if (!receipt && receipt.error().place.field == "subject_id") {
            Problem problem = receipt.error();  // nobody types a subject: it is a name of something
            problem.place.field.clear();
            problem.message =
                fmt::format("the name of the {}: {}", name.subject_kind, problem.message);
            return tl::make_unexpected(std::move(problem));
        }
        if (receipt || receipt.error().code != ProblemCode::Conflict || attempt == kTries) {
            return receipt;
        }
    }
}

}  // namespace

bool may_be_done(const Problem& problem) {
    return problem.code != ProblemCode::Disk && problem.code != ProblemCode::BrokenBooks;
}

Result<store::Receipt> done_once(const Desk& desk, const ActName& name, const Intent& intent,
                                 const std::function<Result<store::Receipt>()>& anew) {
    BW_TRY(done, desk.books->receipt(intent.request));
    if (done) {
        BW_CHECK(check_repeat(desk, *done, name, intent));
        return *done;
    }
    auto fresh = anew();
    if (!fresh && may_be_done(fresh.error())) {
        const auto meanwhile = desk.books->receipt(intent.request);
        if (meanwhile && *meanwhile) {
            BW_CHECK(check_repeat(desk, **meanwhile, name, intent));
            return **meanwhile;
        }
    }
    return fresh;
}

Result<store::Receipt> act(const Desk& desk, const ActName& name, const Intent& intent,
                           const Decide& decide) {
    return done_once(desk, name, intent, [&] { return act_anew(desk, name, intent, decide); });
}

Result<works::Signature> sign(const Desk& desk, works::Deed deed, std::string_view meaning,
                              const Signing& signing, std::string_view bytes) {
    BW_TRY(duty, works::duty_for(desk.person, deed));
    BW_TRY(check, desk.books->check_password(desk.person.id, signing.password, desk.at));
    if (check.stopped) {
        return fail(ProblemCode::Refused,
                    fmt::format("{} failed too often; an administrator sets the password anew",
                                desk.person.id));
    }
    if (!check.right) {
        return fail(
            ProblemCode::Refused,
            check.wait_until.empty()
                ? fmt::format("the password of {} is not right: nothing is signed", desk.person.id)
                : fmt::format("nothing is signed: after {} attempts that failed, a password "
                              "of {} is looked at again from {} on",
                              check.failures, desk.person.id, check.wait_until));
    }
    return works::Signature{desk.person.id,       desk.person.name, std::string(works::name(duty)),
                            std::string(meaning), desk.at,          store::sha256_hex(bytes)};
}

Result<void> expect_none_new(const Desk& desk, std::string_view letters, store::Change& change) {
    const std::string series = series_of(desk, letters);
    BW_TRY(before, if_kept<works::Series>(*desk.books, series));
    change.expects.push_back({kKind<works::Series>, series, before ? before->version : 0});
    return {};
}

Result<std::string> next_identifier(const Desk& desk, std::string_view letters,
                                    store::Change& change) {
    works::Series series{series_of(desk, letters), 0};
    std::int64_t version = 0;
    BW_TRY(before, if_kept<works::Series>(*desk.books, series.name));
    if (before) {
        series = before->is;
        version = before->version;
    }
    ++series.last;
    std::string id = works::identifier(letters, desk.year(), series.last);
    change.writes.push_back(write_of(series, version));
    return id;
}

}  // namespace bw::service
