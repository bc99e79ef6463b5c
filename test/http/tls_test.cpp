// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// The server by TLS: what it speaks, and the keys and certificates it does not take.
#include <cstdlib>
#include <filesystem>
#include <optional>
#include <utility>

#include <boost/asio.hpp>
#include <boost/asio/ssl.hpp>
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include "http/server.hpp"
#include "http/wire.hpp"

namespace {

using namespace bw;
using namespace std::chrono_literals;
using testing::HasSubstr;
namespace asio = boost::asio;
namespace fs = std::filesystem;
using Error = boost::system::error_code;

/// A certificate of 127.0.0.1 that vouches for itself, and its key.
class Tls : public testing::Test {
protected:
    void SetUp() override {
        folder_ = fs::temp_directory_path() /
                  fmt::format("bw-tls-{}-{}", getpid(),
                              testing::UnitTest::GetInstance()->current_test_info()->name());
        fs::create_directory(folder_);
        files_ = make("works");
    }
    void TearDown() override {
        server_.reset();
        fs::remove_all(folder_);
    }

    http::TlsFiles make(const std::string& name) {
        const http::TlsFiles out = {(folder_ / (name + ".pem")).string(),
                                    (folder_ / (name + "-key.pem")).string()};
        const std::string command = fmt::format(
            "openssl req -x509 -newkey ec -pkeyopt ec_paramgen_curve:P-256 -nodes -days 2 "
            "-subj /CN=invented -addext subjectAltName=IP:127.0.0.1 -keyout '{}' -out '{}' "
            "2>/dev/null",
            out.key, out.certificate);
        EXPECT_EQ(std::system(command.c_str()), 0);
        fs::permissions(out.key, fs::perms::owner_read | fs::perms::owner_write);
        return out;
    }

    Result<void> begin(const http::TlsFiles& with) {
        http::ServerOptions options;
        options.workers = 2;
        options.limits.head_time = 1s;
        options.tls = with;
        BW_TRY(
            started, http::Server::start(options, [](const http::Request& request) {
                return http::Response{200, "text/plain", request.method + " " + request.path, {}};
            }));
        server_ = std::move(started);
        return {};
    }

    /// The answers to bytes sent by a client that takes the versions of a context, and trusts the
    /// server's own certificate; nothing where the handshake fails.
    std::optional<std::string> asked(asio::ssl::context& context, const std::string& bytes) {
        context.load_verify_file(files_.certificate);
        asio::io_context io;
        asio::ssl::stream<asio::ip::tcp::socket> stream(io, context);
        stream.set_verify_mode(asio::ssl::verify_peer);
        stream.set_verify_callback(asio::ssl::host_name_verification("127.0.0.1"));
        Error error;
        stream.lowest_layer().connect({asio::ip::make_address("127.0.0.1"), server_->port()},
                                      error);
        EXPECT_FALSE(error);
        stream.handshake(asio::ssl::stream_base::client, error);
        if (error) {
            return std::nullopt;
        }
        version_ = SSL_get_version(stream.native_handle());
        asio::write(stream, asio::buffer(bytes), error);
        std::string out;
        asio::read(stream, asio::dynamic_buffer(out), error);
        ended_ = error;
        return out;
    }

    fs::path folder_;
    http::TlsFiles files_;
    std::unique_ptr<http::Server> server_;
    std::string version_;
    Error ended_;
};

const std::string kTwo =
    "GET /one HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n"
    "GET /two HTTP/1.1\r\nHost: 127.0.0.1\r\nConnection: close\r\n\r\n";

TEST_F(Tls, AnswersByVersionThreeAndEndsTheTalkInOrder) {
    ASSERT_TRUE(begin(files_));
    asio::ssl::context context(asio::ssl::context::tls_client);
    const auto answers = asked(context, kTwo);
    ASSERT_TRUE(answers);
    EXPECT_EQ(version_, "TLSv1.3");
    EXPECT_THAT(*answers, HasSubstr("GET /one"));
    EXPECT_THAT(*answers, HasSubstr("GET /two"));
    EXPECT_THAT(*answers, HasSubstr("Strict-Transport-Security: max-age="));
    EXPECT_EQ(ended_, asio::error::eof);  // a notice that nothing follows, not a line cut off
}

TEST_F(Tls, SpeaksVersionTwoWithForwardSecrecyAndNothingOlder) {
    ASSERT_TRUE(begin(files_));
    asio::ssl::context two(asio::ssl::context::tlsv12_client);
    ASSERT_TRUE(asked(two, kTwo));
    EXPECT_EQ(version_, "TLSv1.2");
    asio::ssl::context plain_rsa(asio::ssl::context::tlsv12_client);
    SSL_CTX_set_cipher_list(plain_rsa.native_handle(), "AES128-SHA:AES256-SHA256");
    EXPECT_FALSE(asked(plain_rsa, kTwo));
    asio::ssl::context older(asio::ssl::context::tls_client);
    SSL_CTX_set_security_level(older.native_handle(), 0);
    SSL_CTX_set_min_proto_version(older.native_handle(), TLS1_VERSION);
    SSL_CTX_set_max_proto_version(older.native_handle(), TLS1_1_VERSION);
    EXPECT_FALSE(asked(older, kTwo));
}

TEST_F(Tls, ClosesOnThoseWhoDoNotSpeakItOrDoNotFinish) {
    ASSERT_TRUE(begin(files_));
    wire::Line plain(server_->port());
    plain.send(kTwo);
    bool closed = false;
    EXPECT_THAT(plain.rest(5s, closed), testing::Not(HasSubstr("HTTP/1.1 200")));
    EXPECT_TRUE(closed);
    wire::Line silent(server_->port());
    EXPECT_EQ(silent.rest(5s, closed), "");
    EXPECT_TRUE(closed);
    asio::ssl::context context(asio::ssl::context::tls_client);
    EXPECT_TRUE(asked(context, kTwo));  // the others are served all the same
}

TEST_F(Tls, TakesNoKeyThatOthersMayReadOrThatDoesNotFit) {
    fs::permissions(files_.key, fs::perms::group_read, fs::perm_options::add);
    const auto read_by_others = begin(files_);
    ASSERT_FALSE(read_by_others);
    EXPECT_EQ(read_by_others.error().code, ProblemCode::Refused);
    EXPECT_THAT(read_by_others.error().message, HasSubstr("chmod 600"));
    const http::TlsFiles other = make("other");
    const auto misfit = begin({files_.certificate, other.key});
    ASSERT_FALSE(misfit);
    EXPECT_EQ(misfit.error().code, ProblemCode::BadInput);
    EXPECT_EQ(misfit.error().place.field, "certificate-key");
    const auto swapped = begin({other.key, other.key});
    ASSERT_FALSE(swapped);
    EXPECT_EQ(swapped.error().place.field, "certificate");
    const auto missing = begin({other.certificate, (folder_ / "none.pem").string()});
    ASSERT_FALSE(missing);
    EXPECT_THAT(missing.error().message, HasSubstr("no such file"));
}

}  // namespace
