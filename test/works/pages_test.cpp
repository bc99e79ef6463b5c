// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// The books over HTTP: who may ask, what is refused, and that an act is done once.
#include <fstream>
#include <set>

#include "works/pages_day.hpp"

namespace bw::worksday {
namespace {

using testing::Not;

BW_ON_BOTH(PagesDay);

TEST_P(PagesDay, NothingIsToldToWhoeverIsNotSignedIn) {
    // GET session says that nobody is there: its own test below.
    const std::set<std::string> open = {"GET /api/v1/works", "POST /api/v1/session",
                                        "GET /api/v1/session"};
    int asked = 0;
    for (const auto& [method, path] : server_->operations()) {
        if (open.contains(method + " " + path)) {
            continue;
        }
        ++asked;
        const std::string forged(64, 'a');
        for (const std::string& cookie : {std::string(), forged}) {
            const std::string answer = ask({method, path, "{}", cookie, forged.substr(0, 32), {}});
            EXPECT_EQ(status_of(answer), 401) << method << " " << path << "\n" << answer;
            EXPECT_THAT(wire::header_of(answer, "Content-Type"),
                        HasSubstr("application/problem+json"));
        }
    }
    EXPECT_GT(asked, 70);
}

TEST_P(PagesDay, WhoeverIsNotSignedInIsToldThatNobodyIs) {
    const json wanted_keys = {"nobody", "version", "works"};
    for (const std::string& cookie : {std::string(), std::string(64, 'a')}) {
        const std::string answer = ask({"GET", "/api/v1/session", "", cookie, "", {}});
        EXPECT_EQ(status_of(answer), 200) << answer;
        const json body = json::parse(wire::body_of(answer));
        EXPECT_EQ(body.at("nobody"), true);
        json keys = json::array();
        for (const auto& [key, value] : body.items()) {
            keys.push_back(key);
        }
        EXPECT_EQ(keys, wanted_keys) << answer;  // no person, no form token
        EXPECT_THAT(answer, Not(HasSubstr("Set-Cookie")));
    }
}

TEST_P(PagesDay, WhatWritesNeedsTheFormTokenAndComesFromThisVerySite) {
    const Session who = sign_in("ana");
    int asked = 0;
    for (const auto& [method, path] : server_->operations()) {
        if (method == "GET" || path == "/api/v1/session") {
            continue;
        }
        ++asked;
        const std::string port = std::to_string(server_->port());
        const std::string without = ask({method, path, "{}", who.cookie, "", {}});
        EXPECT_EQ(status_of(without), 403) << method << " " << path << "\n" << without;
        EXPECT_EQ(status_of(ask({method, path, "{}", who.cookie, std::string(32, '0'), {}})), 403);
        for (const std::string& head :
             {std::string("Origin: https://elsewhere.example"), std::string("Origin: null"),
              "Origin: http://127.0.0.1.elsewhere.example:" + port,
              std::string("Sec-Fetch-Site: cross-site"), std::string("Sec-Fetch-Site: same-site"),
              std::string("Sec-Fetch-Site: none")}) {
            const std::string foreign =
                ask({method, path, "{}", who.cookie, who.form_token, {head}});
            EXPECT_EQ(status_of(foreign), 403) << path << " " << head << "\n" << foreign;
        }
        const std::string form = ask({method,
                                      path,
                                      "request=1",
                                      who.cookie,
                                      who.form_token,
                                      {"Content-Type: application/x-www-form-urlencoded"},
                                      false});
        if (method != "DELETE") {  // those have no body
            EXPECT_EQ(status_of(form), 415) << form;
        }
    }
    EXPECT_GT(asked, 50);
}

TEST_P(PagesDay, AnActIsDoneOnceAndAnotherOrderUnderItsNumberIsRefused) {
    const Session who = sign_in("ana");
    const std::string first = act(who, "lot/hold", hold("request one"));
    EXPECT_EQ(status_of(first), 200) << first;
    const std::string again = act(who, "lot/hold", hold("request one"));
    EXPECT_EQ(status_of(again), 200) << again;
    const json done = json::parse(wire::body_of(first));
    const json repeated = json::parse(wire::body_of(again));
    EXPECT_FALSE(done.at("repeated"));
    EXPECT_TRUE(repeated.at("repeated"));
    EXPECT_EQ(done.at("mark"), repeated.at("mark"));
    json other = hold("request one");
    other["order"]["lot"] = "M26-0011";
    const std::string refused = act(who, "lot/hold", other);
    EXPECT_EQ(status_of(refused), 403) << refused;
    const std::string lot = get(who, "record?kind=lot&id=A26-0107");
    EXPECT_EQ(json::parse(wire::body_of(lot)).at("state"), "on hold");
}

TEST_P(PagesDay, FieldsThatNobodyReadsAreRefusedWithTheirName) {
    const Session who = sign_in("ana");
    json more = hold("request two");
    more["order"]["state"] = "accepted";
    const std::string answer = act(who, "lot/hold", more);
    EXPECT_EQ(status_of(answer), 400);
    EXPECT_EQ(json::parse(wire::body_of(answer)).at("field"), "order.state");
    EXPECT_EQ(
        status_of(act(who, "lot/hold", {{"request", "request three"}, {"order", json::object()}})),
        400);
    EXPECT_EQ(status_of(act(who, "lot/hold", {{"request", "short"}, {"order", {{"lot", "A"}}}})),
              400);
    for (const char* body : {"", "[]", "null", "{\"request\":1}", "{", "\"text\""}) {
        const std::string odd =
            ask({"POST", "/api/v1/act/lot/hold", body, who.cookie, who.form_token, {}});
        EXPECT_EQ(status_of(odd), 400) << body << "\n" << odd;
    }
}

TEST_P(PagesDay, DutiesAndPasswordsAreAskedFor) {
    const Session operator_at = sign_in("otto");
    const std::string duty = act(operator_at, "lot/hold", hold("request four"));
    EXPECT_EQ(status_of(duty), 403) << duty;
    const Session quality = sign_in("quinn");
    const json wrong = {{"request", "request five"},
                        {"order", {{"recipe", kProduct + "/1"}, {"shown", std::string(16, '0')}}},
                        {"signing", {{"password", "not the password of quinn"}}}};
    EXPECT_EQ(status_of(act(quality, "recipe/approve", wrong)), 403);
    json unsigned_act = wrong;
    unsigned_act.erase("signing");
    EXPECT_EQ(status_of(act(quality, "recipe/approve", unsigned_act)), 400);
}

TEST_P(PagesDay, ASessionEndsWhenItIsSignedOutOrItsPersonStopped) {
    const Session who = sign_in("ana");
    EXPECT_EQ(person_at(who), "ana");
    EXPECT_EQ(status_of(ask({"DELETE", "/api/v1/session", "", who.cookie, who.form_token, {}})),
              204);
    EXPECT_EQ(person_at(who), "nobody");
    EXPECT_EQ(status_of(get(who, "today")), 401);
    const std::string nameless = ask({"POST",
                                      "/api/v1/session",
                                      json{{"person", "ben"}, {"password", kPassword}}.dump(),
                                      "",
                                      "",
                                      {}});
    EXPECT_THAT(wire::body_of(nameless), HasSubstr("\"device\":\"a browser\""));
    const Session ben = sign_in("ben");
    const Session ada = sign_in("ada");
    const std::string stopped =
        act(ada, "person/stop",
            {{"request", "request six"}, {"why", "left"}, {"order", {{"person", "ben"}}}});
    EXPECT_EQ(status_of(stopped), 200) << stopped;
    EXPECT_EQ(person_at(ben), "nobody");
    EXPECT_EQ(status_of(get(ben, "today")), 401);
}

TEST_P(PagesDay, GuessingAPasswordIsSlowedAndThenRefused) {
    int refused = 0;
    std::string last;
    // A guess takes a password's hashing: on a slow machine the count refills meanwhile.
    for (int i = 0; i < 60 && refused < 3; ++i) {
        last = ask({"POST",
                    "/api/v1/session",
                    json{{"person", "nobody"}, {"password", "some guessed password"}}.dump(),
                    "",
                    "",
                    {}});
        refused += status_of(last) == 429 ? 1 : 0;
        EXPECT_THAT(last, Not(HasSubstr("Set-Cookie")));
    }
    EXPECT_EQ(status_of(last), 429);
    EXPECT_EQ(refused, 3);
}

TEST_P(PagesDay, TextsOfPeopleComeBackAsTexts) {
    const Session who = sign_in("rex");
    const std::string evil = "<script>alert(1)</script>\"'&";
    const std::string kept = act(who, "supplier/keep",
                                 {{"request", "request seven"},
                                  {"order",
                                   {{"name", "Odd salts"},
                                    {"contact", evil},
                                    {"review_by", "2026-12-31"},
                                    {"materials", {"sodium chloride"}}}}});
    ASSERT_EQ(status_of(kept), 200) << kept;
    const std::string shown = get(who, "record?kind=supplier&id=Odd%20salts");
    EXPECT_EQ(json::parse(wire::body_of(shown)).at("body").at("contact"), evil);
    EXPECT_THAT(wire::header_of(shown, "Content-Type"), HasSubstr("application/json"));
    EXPECT_EQ(wire::header_of(shown, "X-Content-Type-Options"), "nosniff");
    EXPECT_THAT(wire::header_of(shown, "Content-Security-Policy"),
                testing::AllOf(HasSubstr("default-src 'none'"), Not(HasSubstr("unsafe"))));
}

TEST_P(PagesDay, ComputationsReadNoFilesOfTheServer) {
    const Session who = sign_in("pia");
    const auto compute = [&](const std::string& name, const json& body) {
        return ask(
            {"POST", "/api/v1/compute/" + name, body.dump(), who.cookie, who.form_token, {}});
    };
    const std::string mix =
        compute("vat/mix", {{"given", {{"WATER", {"500 L of /etc/passwd", "500 L of 35"}}}}});
    EXPECT_EQ(status_of(mix), 400) << mix;
    EXPECT_THAT(mix, HasSubstr("names a file"));
    for (const char* option : {"csv", "out", "books", "water", "json"}) {
        const std::string answer =
            compute("reading/convert", {{"given", {{"salinity", "35"}, {option, "/tmp/x"}}}});
        EXPECT_EQ(status_of(answer), 400) << option << "\n" << answer;
    }
    const std::string good =
        compute("reading/convert", {{"given", {{"salinity", "35"}, {"at", "25 degC"}}}});
    ASSERT_EQ(status_of(good), 200) << good;
    const json result = json::parse(wire::body_of(good)).at("result");
    EXPECT_NEAR(result.at("readings").at("conductivity_mS_per_cm").get<double>(), 53.065, 0.01);
    const std::string broken = compute(
        "water/show",
        {{"files", {{"WATER", {{{"name", "../../mine.toml"}, {"text", "format = 1\n"}}}}}}});
    EXPECT_EQ(status_of(broken), 400);
    const json problem = json::parse(wire::body_of(broken));
    EXPECT_EQ(problem.at("file"), "_._.._mine.toml") << broken;
    EXPECT_EQ(problem.at("line"), 1);
    EXPECT_THAT(broken, Not(HasSubstr("/tmp/")));
}

TEST_P(PagesDay, ALongComputationTellsHowFarItIsAndIsCalledOffByItsOwnSessionAlone) {
    const Session who = sign_in("pia");
    const Session other = sign_in("ana");
    const std::string name = "0123456789abcdef-1";
    const auto compute = [&](const std::string& called) {
        return ask({"POST",
                    "/api/v1/compute/path/compare",
                    "{}",
                    who.cookie,
                    who.form_token,
                    {"Call: " + called}});
    };
    EXPECT_EQ(status_of(compute("short")), 400);
    std::string answer;
    std::thread asking([&] { answer = compute(name); });
    const std::string call = "call?id=" + name;
    std::string far;
    for (int i = 0; i < 1000 && status_of(far) != 200; ++i) {
        far = get(who, call);
        std::this_thread::sleep_for(std::chrono::milliseconds(5));
    }
    EXPECT_THAT(wire::body_of(far), HasSubstr("\"called_off\":false"));
    EXPECT_EQ(status_of(get(other, call)), 404);
    EXPECT_EQ(status_of(compute(name)), 400);  // one of that name is at work
    const auto call_off = [&](const Session& by) {
        return status_of(ask({"DELETE", "/api/v1/" + call, "", by.cookie, by.form_token, {}}));
    };
    EXPECT_EQ(call_off(other), 404);
    EXPECT_EQ(call_off({who.cookie, ""}), 403);
    EXPECT_EQ(call_off(who), 200);
    asking.join();
    EXPECT_EQ(status_of(answer), 403);
    EXPECT_THAT(answer, HasSubstr("called off before it was done"));
    EXPECT_EQ(call_off(who), 404);
}

TEST_P(PagesDay, ThePlantNetworkIsServedByTlsToPeopleUnderAKnownName) {
    const auto start = [&](const http::ServerOptions& with) {
        http::WorksServerOptions options;
        options.books_place = place_;
        options.server = with;
        return http::WorksServer::start(std::move(options));
    };
    http::ServerOptions wide;
    wide.address = "0.0.0.0";
    const auto open = start(wide);
    ASSERT_FALSE(open);
    EXPECT_EQ(open.error().code, ProblemCode::Refused);
    EXPECT_THAT(open.error().message, HasSubstr("by TLS only"));
    wide.tls = http::TlsFiles{"no.pem", "no-key.pem"};
    const auto nameless = start(wide);
    ASSERT_FALSE(nameless);
    EXPECT_EQ(nameless.error().place.field, "host");
    wide.hosts = {"works.example"};
    server_.reset();  // the books are opened now, by one at a time
    const auto keyless = start(wide);
    ASSERT_FALSE(keyless);
    EXPECT_EQ(keyless.error().place.field, "certificate-key");
}

TEST_P(PagesDay, RecordsListsHistoryAndTrailAreRead) {
    const Session who = sign_in("ana");
    const json lots = json::parse(wire::body_of(get(who, "records?kind=lot&limit=2")));
    EXPECT_EQ(lots.at("total"), 3);
    EXPECT_EQ(lots.at("rows").size(), 2U);
    const json rest = json::parse(wire::body_of(
        get(who, "records?kind=lot&after=" + lots.at("rows")[1].at("id").get<std::string>())));
    EXPECT_EQ(rest.at("rows").size(), 1U);
    const json history = json::parse(wire::body_of(get(who, "history?kind=lot&id=A26-0107")));
    ASSERT_EQ(history.at("rows").size(), 2U);
    EXPECT_EQ(history.at("rows")[1].at("act"), "lot accept");
    const json trail = json::parse(wire::body_of(get(who, "trail?limit=3")));
    EXPECT_EQ(trail.at("entries").size(), 3U);
    EXPECT_GT(trail.at("entries")[0].at("seq"), trail.at("entries")[2].at("seq"));
    for (const char* odd : {"records", "records?kind=lot&limit=0", "records?kind=lot&limit=x",
                            "record?kind=lot", "trail?before=-1", "find?text=a"}) {
        EXPECT_EQ(status_of(get(who, odd)), 400) << odd;
    }
    EXPECT_EQ(status_of(get(who, "record?kind=lot&id=none")), 404);
    EXPECT_EQ(status_of(get(who, "nothing")), 404);
    EXPECT_EQ(status_of(ask({"PUT", "/api/v1/records", "{}", who.cookie, who.form_token, {}})),
              405);
}

TEST_P(PagesDay, TheTrailIsHeldAgainstAMark) {
    const Session who = sign_in("ana");
    const json whole = json::parse(wire::body_of(get(who, "view/trail/verify")));
    EXPECT_TRUE(whole.at("yes"));
    const std::string mark = whole.at("result").at("trail_mark");
    EXPECT_TRUE(
        json::parse(wire::body_of(get(who, "view/trail/verify?against=" + mark))).at("yes"));
    const std::string other = mark.substr(0, mark.find('-')) + "-0123456789abcdef";
    const json odd = json::parse(wire::body_of(get(who, "view/trail/verify?against=" + other)));
    EXPECT_FALSE(odd.at("yes"));
    EXPECT_EQ(odd.at("result").at("fault_count"), 1);
    EXPECT_THAT(odd.at("result").at("faults")[0], HasSubstr(other));
    EXPECT_EQ(status_of(get(who, "view/trail/verify?against=12")), 400);
    EXPECT_EQ(status_of(get(who, "view/trace/show?id=B26-9999-X")), 400);
}

TEST_P(PagesDay, PeopleAreChangedByTheAdministratorAlone) {
    const Session ada = sign_in("ada");
    const auto person = [](const std::string& request, const std::string& id,
                           const std::string& password) {
        json order = {{"id", id}, {"name", "W. Invented"}, {"duties", {"operator"}}};
        if (!password.empty()) {
            order["password"] = password;
        }
        return json{{"request", request}, {"why", "new here"}, {"order", order}};
    };
    EXPECT_EQ(status_of(act(sign_in("ana"), "person/add", person("request a1", "wren", kPassword))),
              403);
    const std::string few = act(ada, "person/add", person("request a2", "wren", "too short"));
    EXPECT_EQ(json::parse(wire::body_of(few)).at("field"), "password");
    EXPECT_EQ(status_of(act(ada, "person/add", person("request a3", "wren", ""))), 400);
    EXPECT_EQ(status_of(act(ada, "person/add", person("request a4", "ada", ""))), 403);
    EXPECT_EQ(status_of(act(ada, "person/add", person("request a5", "wren", kPassword))), 200);
    const json kept = json::parse(wire::body_of(get(ada, "record?kind=person&id=wren")));
    EXPECT_EQ(kept.at("body").at("duties"), json::array({"operator"}));
    EXPECT_FALSE(kept.at("body").contains("password"));
    sign_in("wren");
}

TEST_P(PagesDay, TheDescriptionNamesEveryOperation) {
    std::ifstream file(BW_SOURCE_DIR "/api/openapi.yaml");
    std::set<std::pair<std::string, std::string>> described;
    std::string path;
    for (std::string line; std::getline(file, line) && line != "components:";) {
        if (line.starts_with("  /") && line.ends_with(":")) {
            path = line.substr(2, line.size() - 3);
        } else if (line == "    get:" || line == "    post:" || line == "    delete:") {
            std::string method = line.substr(4, line.size() - 5);
            std::transform(method.begin(), method.end(), method.begin(), ::toupper);
            described.emplace(method, path);
        }
    }
    const auto answered = server_->operations();
    EXPECT_THAT(described, testing::UnorderedElementsAreArray(answered));
    EXPECT_GT(described.size(), 80U);
}

TEST(PagesServer, StaysOnThisMachine) {
    for (const char* address : {"0.0.0.0", "::", "192.168.1.1", "localhost"}) {
        http::WorksServerOptions options;
        options.server.address = address;
        options.books_place = "/nowhere";
        const auto server = http::WorksServer::start(std::move(options));
        ASSERT_FALSE(server) << address;
        EXPECT_EQ(server.error().code, ProblemCode::Refused);
    }
}

}  // namespace
}  // namespace bw::worksday
