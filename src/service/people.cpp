// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/people.hpp"

#include <fmt/format.h>

#include "base/text.hpp"
#include "store/digest.hpp"

namespace bw::service {
namespace {

constexpr int kRequestBytes = 16;

/// Why a password is not changed.
std::string not_right(const std::string& person, const store::PasswordCheck& check) {
    if (check.stopped) {
        return fmt::format("{} failed too often; an administrator sets the password anew", person);
    }
    return check.wait_until.empty()
               ? fmt::format("the current password of {} is not right: nothing is changed", person)
               : fmt::format(
                     "nothing is changed: after {} attempts that failed, a password of {} "
                     "is looked at again from {} on",
                     check.failures, person, check.wait_until);
}

/// What a request came to, unless it is the number of an earlier one that set another password. The
/// attempt counts as one at sign-in, so that no password is tried out by repeating a request.
Result<store::Receipt> same_password(const Desk& desk, const std::string& person,
                                     const std::string& password, const Intent& intent,
                                     Result<store::Receipt> receipt) {
    if (!receipt || !receipt->repeated || password.empty()) {
        return receipt;
    }
    BW_TRY(check, desk.books->check_password(person, password, desk.at));
    if (check.right) {
        return receipt;
    }
    return fail(ProblemCode::Refused,
                fmt::format("the number {} was used for another order (entry {}), or the password "
                            "of {} was changed since, and nothing was written now: give this order "
                            "a new number",
                            base::quoted(intent.request), receipt->entry, person),
                {"", 0, "request"});
}

}  // namespace

Result<store::Receipt> begin_books(store::Books& books, const works::Site& site,
                                   const works::Person& first, const std::string& password,
                                   const std::string& at) {
    BW_CHECK(works::check(first));
    if (base::trim(site.name).empty()) {
        return fail(ProblemCode::BadInput, "the works needs a name as papers print it",
                    {"", 0, "name"});
    }
    store::ListQuery everyone;
    everyone.kind = kKind<works::Person>;
    BW_TRY(people, books.count(everyone));
    if (people > 0) {
        return fail(ProblemCode::Refused, "these books have people already");
    }
    store::Change change;
    change.act = {store::random_hex(kRequestBytes),
                  first.id,
                  std::string(works::name(works::Duty::Administrator)),
                  "",
                  "store init",
                  kKind<works::Site>,
                  kSiteId,
                  "",
                  at};
    change.writes = {write_of(site, 0), write_of(first, 0)};
    BW_TRY(hash, store::Books::hashed_password(password));
    change.secrets = {{first.id, std::move(hash)}};
    return books.commit(change);
}

Result<store::Receipt> set_person(const Desk& desk, const works::Person& person,
                                  const std::string& password, const Intent& intent) {
    BW_CHECK(works::duty_for(desk.person, works::Deed::ChangePeople));
    BW_CHECK(works::check(person));
    if (person.id == desk.person.id) {
        return fail(ProblemCode::Refused,
                    "nobody changes their own duties: another administrator does");
    }
    std::string hash;
    if (!password.empty()) {
        BW_TRY(made, store::Books::hashed_password(password));
        hash = std::move(made);
    }
    auto done =
        act(desk, {works::Deed::ChangePeople, "person add", kKind<works::Person>, person.id},
            intent, [&](store::Change& change) -> Result<void> {
                BW_TRY(before, if_kept<works::Person>(*desk.books, person.id));
                const bool again = before && before->is.state == works::PersonState::Stopped;
                if ((!before || again) && hash.empty()) {
                    return fail(ProblemCode::BadInput,
                                fmt::format("{} {} and needs a password: give a new one", person.id,
                                            again ? "was stopped" : "is new"),
                                {"", 0, "password"});
                }
                if (again) {
                    change.answer = "active again";
                }
                change.writes.push_back(write_of(person, before ? before->version : 0));
                if (!hash.empty()) {
                    change.secrets = {{person.id, hash}};
                }
                return {};
            });
    return same_password(desk, person.id, password, intent, std::move(done));
}

Result<store::Receipt> stop_person(const Desk& desk, const std::string& id, const Intent& intent) {
    return act(desk, {works::Deed::ChangePeople, "person stop", kKind<works::Person>, id}, intent,
               [&](store::Change& change) -> Result<void> {
                   BW_TRY(person, kept<works::Person>(*desk.books, id));
                   if (person.is.id == desk.person.id) {
                       return fail(ProblemCode::Refused,
                                   "nobody stops themselves: another administrator does");
                   }
                   if (person.is.state == works::PersonState::Stopped) {
                       return fail(ProblemCode::Refused, id + " is stopped already");
                   }
                   person.is.state = works::PersonState::Stopped;
                   change.writes.push_back(write_of(person.is, person.version));
                   change.secrets = {{id, {}}};
                   return {};
               });
}

Result<store::Receipt> change_password(const Desk& desk, const PasswordChange& to,
                                       const Intent& intent) {
    const std::string& id = desk.person.id;
    auto done =
        act(desk, {works::Deed::ChangeOwnPassword, "person password", kKind<works::Person>, id},
            intent, [&](store::Change& change) -> Result<void> {
                BW_TRY(person, kept<works::Person>(*desk.books, id));
                BW_TRY(check, desk.books->check_password(id, to.current, desk.at));
                if (!check.right) {
                    return fail(ProblemCode::Refused, not_right(id, check), {"", 0, "password"});
                }
                if (to.next == to.current) {
                    return fail(ProblemCode::BadInput,
                                "the new password is the one that is in use: choose another",
                                {"", 0, "new_password"});
                }
                auto hash = store::Books::hashed_password(to.next);
                if (!hash) {
                    Problem problem = hash.error();
                    problem.place.field = "new_password";
                    return tl::make_unexpected(std::move(problem));
                }
                change.expects.push_back(expect_same(person));
                change.secrets = {{id, std::move(*hash), to.session, check.of}};
                return {};
            });
    return same_password(desk, id, to.next, intent, std::move(done));
}

Result<Desk> desk_by_password(store::Books& books, const std::string& person,
                              const std::string& password, const std::string& device,
                              const std::string& at) {
    BW_TRY(check, books.check_password(person, password, at));
    if (check.stopped) {
        return fail(
            ProblemCode::Refused,
            fmt::format("{} failed too often; an administrator sets the password anew", person));
    }
    if (!check.right) {
        return fail(
            ProblemCode::Refused,
            check.wait_until.empty()
                ? fmt::format("no one signs in as {} with that password", base::quoted(person))
                : fmt::format("after {} attempts that failed, a password of {} is looked at "
                              "again from {} on",
                              check.failures, base::quoted(person), check.wait_until));
    }
    BW_TRY(who, kept<works::Person>(books, person));
    return Desk{&books, std::move(who.is), device, at};
}

Result<Desk> desk_by_session(store::Books& books, const std::string& token, const std::string& at) {
    const auto session = books.session(token, at);
    if (!session) {
        if (session.error().code == ProblemCode::NotFound) {
            return fail(ProblemCode::Refused, "the session has ended: sign in again");
        }
        return tl::make_unexpected(session.error());
    }
    BW_TRY(who, kept<works::Person>(books, session->person));
    return Desk{&books, std::move(who.is), session->device, at};
}

Result<works::Site> site_of(const store::Books& books) {
    BW_TRY(site, kept<works::Site>(books, kSiteId));
    return std::move(site.is);
}

}  // namespace bw::service
