// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Shapes of requests that a server must not take, sent over a bare connection; then what it is to
// do with plain ones.
#include <atomic>
#include <thread>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "http/server.hpp"
#include "http/wire.hpp"

namespace {

using namespace bw;
using namespace std::chrono_literals;
using testing::HasSubstr;
using testing::Not;
using wire::body_of;
using wire::header_of;
using wire::Line;
using wire::status_of;

class Door : public testing::Test {
protected:
    static http::ServerOptions options() {
        http::ServerOptions out;
        out.workers = 2;
        out.limits.head_time = 1s;
        out.limits.body_time = 1s;
        out.limits.idle_time = 10s;
        out.limits.body_bytes = 1000;
        out.limits.upload_bytes = 100000;
        out.limits.uploads = {"/upload"};
        out.limits.connections_of_one = 8;
        return out;
    }

    void begin(const http::ServerOptions& with) {
        auto started = http::Server::start(with, [this](const http::Request& request) {
            ++asked_;
            if (request.path == "/slow") {
                std::this_thread::sleep_for(1s);
            }
            if (request.path == "/throw") {
                throw std::runtime_error("a secret of the house");
            }
            return http::Response{200,
                                  "text/plain",
                                  request.method + " " + request.path + "|" + request.body,
                                  {{"X-Bad", "a\r\nInjected: yes"}}};
        });
        ASSERT_TRUE(started) << started.error().message;
        server_ = std::move(*started);
    }
    void SetUp() override { begin(options()); }

    /// The answer to bytes on a line of their own.
    std::string said(const std::string& bytes) {
        Line line(server_->port());
        line.send(bytes);
        return line.answer();
    }
    static std::string get(const std::string& target, const std::string& more = "") {
        return "GET " + target + " HTTP/1.1\r\nHost: localhost\r\n" + more + "\r\n";
    }

    std::atomic<int> asked_{0};
    std::unique_ptr<http::Server> server_;
};

struct Shape {
    const char* name;
    std::string bytes;
    int status;  ///< 0: closed without an answer will do as well
};

std::vector<Shape> shapes() {
    const std::string host = "Host: localhost\r\n";
    std::string many = "GET / HTTP/1.1\r\n" + host;
    for (int i = 0; i < 500; ++i) {
        many += "X-" + std::to_string(i) + ": 1\r\n";
    }
    return {
        {"TwoLengths",
         "POST / HTTP/1.1\r\n" + host + "Content-Length: 5\r\nContent-Length: 6\r\n\r\nhello!",
         400},
        {"LengthAndChunks",
         "POST / HTTP/1.1\r\n" + host +
             "Content-Length: 5\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n",
         400},
        {"ChunksAndLength",
         "POST / HTTP/1.1\r\n" + host +
             "Transfer-Encoding: chunked\r\nContent-Length: 5\r\n\r\n0\r\n\r\n",
         400},
        {"OtherEncoding", "POST / HTTP/1.1\r\n" + host + "Transfer-Encoding: gzip\r\n\r\n", 400},
        {"NegativeLength", "POST / HTTP/1.1\r\n" + host + "Content-Length: -5\r\n\r\n", 400},
        {"LengthThatIsNone", "POST / HTTP/1.1\r\n" + host + "Content-Length: 5x\r\n\r\n", 400},
        {"NegativeChunk",
         "POST / HTTP/1.1\r\n" + host + "Transfer-Encoding: chunked\r\n\r\n-5\r\nhello\r\n", 400},
        {"BrokenChunk",
         "POST / HTTP/1.1\r\n" + host +
             "Transfer-Encoding: chunked\r\n\r\n5\r\nhello!!\r\n0\r\n\r\n",
         400},
        {"HugeLength", "POST / HTTP/1.1\r\n" + host + "Content-Length: 99999999999\r\n\r\n", 413},
        {"BodyBeyondItsLimit", "POST / HTTP/1.1\r\n" + host + "Content-Length: 1001\r\n\r\n", 413},
        {"ChunksBeyondTheLimit",
         "POST / HTTP/1.1\r\n" + host + "Transfer-Encoding: chunked\r\n\r\n7d0\r\n" +
             std::string(2000, 'x') + "\r\n0\r\n\r\n",
         413},
        {"LongHeader", "GET / HTTP/1.1\r\n" + host + "X: " + std::string(20000, 'x') + "\r\n\r\n",
         431},
        {"LongTarget", "GET /" + std::string(20000, 'x') + " HTTP/1.1\r\n" + host + "\r\n", 431},
        {"ManyHeaders", many + "\r\n", 431},
        {"NoHost", "GET / HTTP/1.1\r\n\r\n", 400},
        {"TwoHosts", "GET / HTTP/1.1\r\n" + host + host + "\r\n", 400},
        {"AnotherSitesName", "GET / HTTP/1.1\r\nHost: attacker.example\r\n\r\n", 421},
        {"NameThatBeginsLikeOurs", "GET / HTTP/1.1\r\nHost: localhost.attacker.example\r\n\r\n",
         421},
        {"Trace", "TRACE / HTTP/1.1\r\n" + host + "\r\n", 405},
        {"Connect", "CONNECT localhost:1 HTTP/1.1\r\n" + host + "\r\n", 405},
        {"UnknownMethod", "BREW / HTTP/1.1\r\n" + host + "\r\n", 405},
        {"SmallMethod", "get / HTTP/1.1\r\n" + host + "\r\n", 405},
        {"OldVersion", "GET / HTTP/1.0\r\n" + host + "\r\n", 505},
        {"NoVersion", "GET /\r\n\r\n", 400},
        {"WholeAddress", "GET http://localhost/ HTTP/1.1\r\n" + host + "\r\n", 400},
        {"ParentFolder", "GET /a/../b HTTP/1.1\r\n" + host + "\r\n", 400},
        {"ParentFolderInEscapes", "GET /a/%2e%2e/b HTTP/1.1\r\n" + host + "\r\n", 400},
        {"SlashInEscapes", "GET /..%2fb HTTP/1.1\r\n" + host + "\r\n", 400},
        {"Backslash", "GET /a%5c..%5cb HTTP/1.1\r\n" + host + "\r\n", 400},
        {"NulInTarget", "GET /a%00b HTTP/1.1\r\n" + host + "\r\n", 400},
        {"LineEndInTarget", "GET /a%0d%0ab HTTP/1.1\r\n" + host + "\r\n", 400},
        {"BrokenEscape", "GET /a%2 HTTP/1.1\r\n" + host + "\r\n", 400},
        {"NulInHeader", "GET / HTTP/1.1\r\n" + host + "X: a" + std::string(1, '\0') + "b\r\n\r\n",
         400},
        {"BlankBeforeColon", "GET / HTTP/1.1\r\n" + host + "X : 1\r\n\r\n", 400},
        {"NotHttp", "\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03 hello\r\n\r\n", 400},
    };
}

class Hostile : public Door, public testing::WithParamInterface<Shape> {};

TEST_P(Hostile, IsRefusedAndTheLineIsClosed) {
    Line line(server_->port());
    line.send(GetParam().bytes);
    bool closed = false;
    const std::string answer = line.rest(10s, closed);
    EXPECT_EQ(status_of(answer), GetParam().status) << answer.substr(0, 300);
    EXPECT_TRUE(closed);
    EXPECT_EQ(asked_, 0);
    // Others are served all the while.
    EXPECT_EQ(status_of(said(get("/"))), 200);
}
INSTANTIATE_TEST_SUITE_P(Shapes, Hostile, testing::ValuesIn(shapes()),
                         [](const auto& shape) { return std::string(shape.param.name); });

TEST_F(Door, ClosesOnHeadsAndBodiesThatDrip) {
    Line head(server_->port());
    Line body(server_->port());
    body.send("POST / HTTP/1.1\r\nHost: localhost\r\nContent-Length: 100\r\n\r\n");
    // Ten seconds, for a busy machine; a byte in time would keep a careless server waiting for
    // ever.
    bool open = true;
    for (int i = 0; i < 200 && open; ++i) {
        open = head.send(i == 0 ? "GET / HTTP/1.1\r\n" : "X: y\r\n") && body.send("x");
        std::this_thread::sleep_for(50ms);
    }
    EXPECT_FALSE(open);
    EXPECT_EQ(asked_, 0);
}

TEST_F(Door, ClosesOnTwentyMegabytesWithoutALineEnd) {
    Line line(server_->port());
    const std::string flood(1 << 20, 'x');
    int sent = 0;
    while (sent < 20 && line.send(flood)) {
        ++sent;
    }
    EXPECT_LT(sent, 20);
}

TEST_F(Door, TellsWhoSendsAWholeBodyBeyondItsLimitWhatTheLimitIs) {
    // All of it is sent before anything is read, as browsers do; a line that is closed with bytes
    // unread loses its answer.
    const std::string body(8 << 20, 'x');
    Line line(server_->port());
    EXPECT_TRUE(line.send("POST / HTTP/1.1\r\nHost: localhost\r\nContent-Length: " +
                          std::to_string(body.size()) + "\r\n\r\n"));
    EXPECT_TRUE(line.send(body));
    bool closed = false;
    const std::string answer = line.rest(10s, closed);
    EXPECT_EQ(status_of(answer), 413) << answer.substr(0, 300);
    EXPECT_NE(answer.find("more than 1000 bytes are sent at once: send less, or split it"),
              std::string::npos);
    EXPECT_TRUE(closed);
    EXPECT_EQ(asked_, 0);
}

TEST_F(Door, HoldsSoManyLinesOfOneAddressAndNoMore) {
    std::vector<std::unique_ptr<Line>> lines;
    int served = 0;
    for (int i = 0; i < 12; ++i) {
        lines.push_back(std::make_unique<Line>(server_->port()));
        lines.back()->send(get("/"));
        served += status_of(lines.back()->answer(5s)) == 200 ? 1 : 0;
    }
    EXPECT_EQ(served, 8);
    lines.clear();
    bool again = false;
    for (int i = 0; i < 100 && !again; ++i) {
        std::this_thread::sleep_for(50ms);
        again = status_of(said(get("/"))) == 200;
    }
    EXPECT_TRUE(again);
}

TEST_F(Door, SaysThatItIsBusyRatherThanQueueWithoutEnd) {
    http::ServerOptions few = options();
    few.workers = 1;
    few.limits.waiting = 2;
    begin(few);
    std::vector<std::unique_ptr<Line>> lines;
    for (int i = 0; i < 4; ++i) {
        lines.push_back(std::make_unique<Line>(server_->port()));
        lines.back()->send(get("/slow"));
    }
    int busy = 0;
    for (auto& line : lines) {
        const std::string answer = line->answer();
        busy += status_of(answer) == 503 ? 1 : 0;
        EXPECT_TRUE(status_of(answer) != 503 || header_of(answer, "Retry-After") == "1");
    }
    EXPECT_EQ(busy, 2);
}

TEST_F(Door, AnswersOneAfterTheOtherOnOneLine) {
    Line line(server_->port());
    line.send(get("/a%20b?x=1") +
              "POST /c HTTP/1.1\r\nHost: localhost:80\r\nContent-Length: 5\r\n\r\nhello" +
              "POST /d HTTP/1.1\r\nHost: 127.0.0.1\r\nTransfer-Encoding: chunked\r\n\r\n"
              "3\r\nabc\r\n2\r\nde\r\n0\r\n\r\n" +
              "HEAD /e HTTP/1.1\r\nHost: [::1]:80\r\nConnection: close\r\n\r\n");
    EXPECT_EQ(body_of(line.answer()), "GET /a b|");
    EXPECT_EQ(body_of(line.answer()), "POST /c|hello");
    EXPECT_EQ(body_of(line.answer()), "POST /d|abcde");
    bool closed = false;
    const std::string head = line.rest(10s, closed);
    EXPECT_EQ(header_of(head, "content-length"), "8");
    EXPECT_EQ(body_of(head), "");
    EXPECT_TRUE(closed);
}

TEST_F(Door, TakesLargerBodiesWhereFilesAreSent) {
    const std::string file(50000, 'x');
    EXPECT_THAT(
        said("POST /upload HTTP/1.1\r\nHost: localhost\r\nContent-Length: 50000\r\n\r\n" + file),
        HasSubstr("POST /upload|xxx"));
    Line waits(server_->port());
    waits.send(
        "POST /upload HTTP/1.1\r\nHost: localhost\r\nContent-Length: 50000\r\n"
        "Expect: 100-continue\r\n\r\n");
    EXPECT_EQ(status_of(waits.answer()), 100);
    waits.send(file);
    EXPECT_EQ(status_of(waits.answer()), 200);
}

TEST_F(Door, GivesEveryAnswerItsGuards) {
    for (const std::string& answer : {said(get("/")), said("BREW / HTTP/1.1\r\n\r\n")}) {
        EXPECT_THAT(header_of(answer, "Content-Security-Policy"),
                    HasSubstr("frame-ancestors 'none'"));
        EXPECT_THAT(header_of(answer, "Content-Security-Policy"), Not(HasSubstr("unsafe")));
        EXPECT_EQ(header_of(answer, "X-Content-Type-Options"), "nosniff");
        EXPECT_EQ(header_of(answer, "Referrer-Policy"), "no-referrer");
        EXPECT_EQ(header_of(answer, "Cache-Control"), "no-store");
        EXPECT_EQ(header_of(answer, "Injected"), "");
        EXPECT_EQ(header_of(answer, "Server"), "");
    }
}

TEST_F(Door, TellsNothingOfAFaultInside) {
    const std::string answer = said(get("/throw"));
    EXPECT_EQ(status_of(answer), 500);
    EXPECT_THAT(answer, Not(HasSubstr("secret")));
}

TEST_F(Door, EndsWhatIsAtWorkBeforeItStops) {
    Line idle(server_->port());
    idle.send(get("/"));
    EXPECT_EQ(status_of(idle.answer()), 200);
    Line line(server_->port());
    line.send(get("/slow"));
    for (int i = 0; i < 200 && asked_ < 2; ++i) {
        std::this_thread::sleep_for(20ms);
    }
    const auto start = std::chrono::steady_clock::now();
    server_->stop();
    EXPECT_LT(std::chrono::steady_clock::now() - start, 4s);
    EXPECT_EQ(status_of(line.answer()), 200);
    EXPECT_FALSE(Line(server_->port()).send(get("/")) &&
                 status_of(Line(server_->port()).answer(100ms)) == 200);
}

TEST(Servers, SayWhereTheyCannotListen) {
    const auto answers = [](const http::Request&) { return http::Response{}; };
    http::ServerOptions options;
    options.address = "no address";
    EXPECT_THAT(http::Server::start(options, answers).error().message, HasSubstr("no address"));
    const auto first = http::Server::start({}, answers);
    ASSERT_TRUE(first);
    // The port is taken.
    http::ServerOptions again;
    again.port = (*first)->port();
    EXPECT_FALSE(http::Server::start(again, answers));
}

}  // namespace
