// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// People change their own password, in the books and over HTTP.
#include <future>

#include <gmock/gmock.h>

#include "works/pages_day.hpp"

namespace bw::worksday {
namespace {

using testing::Not;

const std::string kNext = "another long invented password";

class PasswordDay : public WorksDay {
protected:
    Result<store::Receipt> change(const std::string& who, const service::PasswordChange& to) {
        return service::change_password(desk(who), to, intent(""));
    }
    bool signs_in(const std::string& who, const std::string& password) {
        return service::desk_by_password(*books_, who, password, "test", at()).has_value();
    }
};

BW_ON_BOTH(PasswordDay);

TEST_P(PasswordDay, TheNewOneSignsInAndTheOldOneDoesNot) {
    for (const char* who : {"pia", "rex", "otto", "ana", "quinn", "ada"}) {
        BW_MUST(change(who, {kPassword, kNext}));
        EXPECT_TRUE(signs_in(who, kNext)) << who;
        EXPECT_FALSE(signs_in(who, kPassword)) << who;
    }
    EXPECT_TRUE(signs_in("ben", kPassword));
    EXPECT_TRUE(BW_MUST(books_->verify()).sound());
}

TEST_P(PasswordDay, OtherSessionsEndAndTheOneThatAskedGoesOn) {
    const auto open = [&](const std::string& who) {
        return BW_MUST(books_->open_session(who, "a browser", at()));
    };
    const std::string here = open("ana"), there = open("ana"), other = open("ben");
    BW_MUST(change("ana", {kPassword, kNext, here}));
    EXPECT_TRUE(books_->session(here, at()));
    EXPECT_FALSE(books_->session(there, at()));
    EXPECT_TRUE(books_->session(other, at()));
    BW_MUST(change("ana", {kNext, kPassword}));
    EXPECT_FALSE(books_->session(here, at()));
}

TEST_P(PasswordDay, IsAnActInTheTrailWithoutTheSecret) {
    const auto receipt = BW_MUST(change("ana", {kPassword, kNext}));
    store::EntryQuery query;
    query.from_seq = receipt.entry;
    query.limit = 1;
    const store::Entry entry = BW_MUST(books_->entries(query)).at(0);
    EXPECT_EQ(entry.act, "person password");
    EXPECT_EQ(entry.person, "ana");
    EXPECT_EQ(entry.subject_id, "ana");
    EXPECT_THAT(entry.records, testing::IsEmpty());
    for (const std::string& secret : {kPassword, kNext}) {
        EXPECT_THAT(entry.body, Not(HasSubstr(secret)));
        EXPECT_THAT(entry.body, Not(HasSubstr(store::sha256_hex(secret))));
    }
    EXPECT_THAT(entry.body, Not(HasSubstr("argon2")));
}

TEST_P(PasswordDay, NothingChangesWithAWrongOneOrABadOne) {
    const auto wrong = change("ana", {"not the password of ana", kNext});
    ASSERT_FALSE(wrong);
    EXPECT_EQ(wrong.error().code, ProblemCode::Refused);
    EXPECT_EQ(wrong.error().place.field, "password");
    for (const std::string& next : {kPassword, std::string("too short"), std::string(1025, 'x')}) {
        const auto bad = change("ana", {kPassword, next});
        ASSERT_FALSE(bad);
        EXPECT_EQ(bad.error().code, ProblemCode::BadInput);
        EXPECT_EQ(bad.error().place.field, "new_password");
    }
    EXPECT_TRUE(signs_in("ana", kPassword));
    const service::Desk at_once = desk("ana");  // wrong ones are counted as they are at sign-in
    for (int i = 0; i < 5; ++i) {
        EXPECT_FALSE(
            service::change_password(at_once, {"not the password of ana", kNext}, intent("")));
    }
    const auto waits = service::change_password(at_once, {kPassword, kNext}, intent(""));
    ASSERT_FALSE(waits);
    EXPECT_THAT(waits.error().message, HasSubstr("looked at again"));
}

TEST_P(PasswordDay, ANumberThatWasUsedForAnotherPasswordIsRefused) {
    const service::Intent once = intent("");
    BW_MUST(service::change_password(desk("ana"), {kPassword, kNext}, once));
    EXPECT_TRUE(BW_MUST(service::change_password(desk("ana"), {kPassword, kNext}, once)).repeated);
    const auto other =
        service::change_password(desk("ana"), {kNext, "a third long invented password"}, once);
    ASSERT_FALSE(other);
    EXPECT_EQ(other.error().code, ProblemCode::Refused);
    EXPECT_EQ(other.error().place.field, "request");
    EXPECT_THAT(other.error().message, HasSubstr("was used for another order"));
    EXPECT_TRUE(signs_in("ana", kNext));
    const service::Desk at_once = desk("ana");  // what is tried out so is counted
    for (int i = 0; i < 5; ++i) {
        EXPECT_FALSE(service::change_password(
            at_once, {kNext, fmt::format("invented guess number {}", i)}, once));
    }
    EXPECT_FALSE(BW_MUST(books_->check_password("ana", kNext, at_once.at)).right);
}

TEST_P(PasswordDay, OfTwoAtOnceOneChangesIt) {
    const std::vector<std::string> next = {"the first long invented password",
                                           "the second long invented password"};
    const std::vector<service::Desk> desks = {desk("ana"), desk("ana")};
    std::vector<std::future<Result<store::Receipt>>> asked;
    for (std::size_t i = 0; i < next.size(); ++i) {
        asked.push_back(std::async(std::launch::async, [&, i] {
            return service::change_password(desks[i], {kPassword, next[i]}, intent(""));
        }));
    }
    int changed = 0;
    for (std::size_t i = 0; i < next.size(); ++i) {
        const auto done = asked[i].get();
        changed += done ? 1 : 0;
        if (!done) {
            EXPECT_EQ(done.error().code, ProblemCode::Refused);
            EXPECT_EQ(done.error().place.field, "password");
        }
    }
    EXPECT_EQ(changed, 1);
    EXPECT_NE(signs_in("ana", next[0]), signs_in("ana", next[1]));
    EXPECT_FALSE(signs_in("ana", kPassword));
}

TEST_P(PasswordDay, ASecretThatIsNoLongerInUseIsNotReplaced) {
    const std::string of = BW_MUST(books_->check_password("ana", kPassword, at())).of;
    BW_MUST(change("ana", {kPassword, kNext}));
    store::Change late;
    late.act = {"a late request", "ana", "analyst", "test", "person password",
                "person",         "ana", "",        at()};
    late.secrets = {
        {"ana", BW_MUST(store::Books::hashed_password("a late invented password")), "", of}};
    EXPECT_EQ(books_->commit(late).error().code, ProblemCode::Conflict);
    EXPECT_TRUE(signs_in("ana", kNext));
}

TEST_P(PasswordDay, WhoIsStoppedChangesNothing) {
    service::Desk of_ben = desk("ben");
    BW_MUST(service::stop_person(desk("ada"), "ben", intent()));
    of_ben.person = BW_MUST(service::kept<works::Person>(*books_, "ben")).is;
    EXPECT_EQ(service::change_password(of_ben, {kPassword, kNext}, intent()).error().code,
              ProblemCode::Refused);
}

class PasswordPages : public PagesDay {};

BW_ON_BOTH(PasswordPages);

TEST_P(PasswordPages, ThePageStaysSignedInAndTheOtherOneDoesNot) {
    const Session here = sign_in("ana"), there = sign_in("ana");
    const auto body = [](const std::string& request, const std::string& current,
                         const std::string& next) {
        return json{{"request", request},
                    {"why", ""},
                    {"signing", {{"password", current}}},
                    {"order", {{"new_password", next}}}};
    };
    const std::string wrong =
        act(here, "person/password", body("request p1", "not the password of ana", kNext));
    EXPECT_EQ(status_of(wrong), 403);
    EXPECT_EQ(json::parse(wire::body_of(wrong)).at("field"), "password");
    const json order = body("request p2", kPassword, kNext);
    EXPECT_EQ(status_of(act(here, "person/password", order)), 200);
    const std::string repeated = act(here, "person/password", order);
    EXPECT_EQ(status_of(repeated), 200);
    EXPECT_TRUE(json::parse(wire::body_of(repeated)).at("repeated").get<bool>());
    EXPECT_EQ(person_at(here), "ana");
    EXPECT_EQ(person_at(there), "nobody");
    sign_in("ana", kNext);
}

TEST_P(PasswordPages, NoHashOfAPasswordComesIntoTheTrail) {
    // A plain hash of an order with a password in it could be guessed against by whoever reads the
    // books: two orders that differ in the password alone are one order to the trail.
    const Session ada = sign_in("ada");
    const auto add = [](const std::string& request, const std::string& id,
                        const std::string& password) {
        return json{
            {"request", request},
            {"why", "new"},
            {"order",
             {{"id", id}, {"name", "W. Ren"}, {"duties", {"operator"}}, {"password", password}}}};
    };
    EXPECT_EQ(status_of(act(ada, "person/add", add("request h1", "wren", kPassword))), 200);
    server_.reset();
    const auto books = BW_MUST(store::Books::open(place_));
    store::EntryQuery query;
    query.subject_kind = "person";
    query.subject_id = "wren";
    const store::Entry entry = BW_MUST(books.entries(query)).at(0);
    const std::string told = R"(person/add {"duties":["operator"],"id":"wren","name":"W. Ren"})";
    EXPECT_EQ(entry.asked, store::sha256_hex(told));
}

}  // namespace
}  // namespace bw::worksday
