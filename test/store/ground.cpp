// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "store/ground.hpp"

#include <chrono>
#include <csignal>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <thread>

#include <fcntl.h>
#include <fmt/format.h>
#include <grp.h>
#include <pwd.h>
#include <sys/prctl.h>
#include <sys/wait.h>
#include <unistd.h>

#include "store/digest.hpp"
#include "store/postgres_connection.hpp"
#include "store/sqlite_connection.hpp"

namespace bw::store::ground {
namespace {

namespace fs = std::filesystem;

/// In memory where there is room, so that the tests do not wait for the disk; every sync is asked
/// for all the same.
fs::path room() {
    constexpr std::uintmax_t kEnough = std::uintmax_t{1} << 30;
    const fs::path memory = "/dev/shm";
    std::error_code error;
    const bool roomy = ::access(memory.c_str(), W_OK) == 0 && !error &&
                       fs::space(memory, error).available > kEnough && !error;
    return roomy ? memory : fs::temp_directory_path();
}

std::string new_folder() {
    std::string name = (room() / "store-test-XXXXXX").string();
    if (::mkdtemp(name.data()) == nullptr) {
        throw std::runtime_error("no temporary folder");
    }
    return name;
}

/// The user that may run a server: ourselves, unless we are root.
const passwd* server_user() {
    if (::geteuid() != 0) {
        return ::getpwuid(::geteuid());
    }
    const passwd* user = ::getpwnam("postgres");
    return user != nullptr ? user : ::getpwnam("nobody");
}

std::string programs() {
    for (int version = 20; version >= 15; --version) {
        const std::string folder = fmt::format("/usr/lib/postgresql/{}/bin", version);
        if (fs::exists(folder + "/initdb")) {
            return folder;
        }
    }
    return {};
}

class Server {
public:
    Server() {
        folder_ = new_folder();
        const std::string bin = programs();
        if (bin.empty()) {
            why_ = "PostgreSQL is not installed: run tools/setup";
            return;
        }
        const passwd* user = server_user();
        if (::geteuid() == 0 && ::chown(folder_.c_str(), user->pw_uid, user->pw_gid) != 0) {
            why_ = "the server's folder cannot be handed over";
            return;
        }
        const pid_t made = start({bin + "/initdb", "-D", folder_ + "/data", "-U", "works",
                                  "--auth=trust", "-E", "UTF8", "--locale=C", "-N"},
                                 user);
        int status = 0;
        ::waitpid(made, &status, 0);
        if (status != 0) {
            why_ = "initdb failed: " + log();
            return;
        }
        server_ = start({bin + "/postgres", "-D", folder_ + "/data", "-k", folder_, "-c",
                         "listen_addresses=", "-c", "shared_buffers=32MB", "-c",
                         "wal_level=minimal", "-c", "max_wal_senders=0"},
                        user);
        for (int i = 0; i < 1000; ++i) {
            if (open_postgres(connection("public"), "the test's server", 1000)) {
                return;
            }
            std::this_thread::sleep_for(std::chrono::milliseconds(20));
        }
        why_ = "the server does not answer: " + log();
    }
    ~Server() {
        if (server_ > 0) {
            ::kill(server_, SIGINT);  // fast shutdown
            ::waitpid(server_, nullptr, 0);
        }
        std::error_code error;
        fs::remove_all(folder_, error);
    }
    Server(const Server&) = delete;
    Server& operator=(const Server&) = delete;

    [[nodiscard]] const std::string& why() const { return why_; }
    [[nodiscard]] std::string connection(const std::string& schema) const {
        return fmt::format("postgresql:///postgres?host={}&user=works&options=-csearch_path%3D{}",
                           folder_, schema);
    }

private:
    pid_t start(const std::vector<std::string>& words, const passwd* user) const {
        std::vector<char*> arguments;
        for (const std::string& word : words) {
            arguments.push_back(const_cast<char*>(word.c_str()));
        }
        arguments.push_back(nullptr);
        const pid_t child = ::fork();
        if (child != 0) {
            return child;
        }
        const int out = ::open((folder_ + "/log").c_str(), O_WRONLY | O_CREAT | O_APPEND, 0666);
        ::dup2(out, 1);
        ::dup2(out, 2);
        if (::geteuid() == 0 && (::initgroups(user->pw_name, user->pw_gid) != 0 ||
                                 ::setgid(user->pw_gid) != 0 || ::setuid(user->pw_uid) != 0)) {
            ::_exit(126);
        }
        ::prctl(PR_SET_PDEATHSIG, SIGINT);  // it ends with us, however we end
        if (::chdir(folder_.c_str()) == 0) {
            ::execv(arguments[0], arguments.data());
        }
        ::_exit(127);
    }
    [[nodiscard]] std::string log() const {
        std::ifstream file(folder_ + "/log");
        std::stringstream text;
        text << file.rdbuf();
        return text.str();
    }

    std::string folder_, why_;
    pid_t server_ = -1;
};

}  // namespace

Folder::Folder() : name_(new_folder()) {}

Folder::~Folder() {
    std::error_code error;
    fs::remove_all(name_, error);
}

std::string new_postgres_place() {
    static Server server;
    static int count = 0;
    if (!server.why().empty()) {
        ADD_FAILURE() << server.why();
        throw std::runtime_error(server.why());
    }
    const std::string schema = fmt::format("books{}", ++count);
    auto connection = must(open_postgres(server.connection("public"), "the test's server", 1000));
    must(connection->script("CREATE SCHEMA " + schema));
    return server.connection(schema);
}

std::string Ground::place() {
    return dialect_ == Dialect::Sqlite ? folder_ / fmt::format("books{}", ++count_)
                                       : new_postgres_place();
}

std::unique_ptr<Connection> Ground::beside(const std::string& place) const {
    return must(dialect_ == Dialect::Sqlite
                    ? open_sqlite(place + "/books.db", SqliteUse::Write, 1000)
                    : open_postgres(place, "the test's server", 1000));
}

Change change(const std::string& request, const std::string& kind, const std::string& id,
              std::int64_t expected_version, const std::string& body) {
    Change c;
    c.act = {request, "ines", "quality manager", "desk 1", kind + " write", kind, id, "", kMorning};
    c.writes.push_back({kind, id, expected_version, body, "planned", kind + " " + id, {}, {}, {}});
    return c;
}

Result<void> set_password(Books& books, const std::string& person, const std::string& password) {
    constexpr int kBytes = 8;
    Change c;
    c.act = {random_hex(kBytes),
             "ada",
             "administrator",
             "",
             "person add",
             "person",
             person,
             "",
             kMorning};
    c.secrets = {{person, ""}};
    if (!password.empty()) {
        BW_TRY(hash, Books::hashed_password(password));
        c.secrets.front().hash = hash;
    }
    BW_CHECK(books.commit(c));
    return {};
}

Measurement measurement(const std::string& analyte, const std::string& batch, std::int64_t line,
                        const std::string& digits, double value) {
    return {analyte, batch + "/S1", batch, "R-" + batch, line,     kMorning,
            digits,  value,         0.25,  "mg/kg",      "counted"};
}

void fill(Books& books, int batches) {
    must(books.commit(change("fill-lot", "lot", "L25-0317-X", 0, R"({"material":"salt"})")));
    for (int i = 1; i <= batches; ++i) {
        const std::string batch = fmt::format("B25-{:04}-K", i);
        Change made =
            change("fill-" + batch, "batch", batch, 0, fmt::format(R"({{"number":{}}})", i));
        made.writes[0].links = {{"made of", "lot", "L25-0317-X"}};
        made.writes[0].keys = {"bag " + std::to_string(i), "Rückstellmuster " + std::to_string(i)};
        made.attachments = {{batch + ".csv", "text/csv", "analyte;value\nCa;" + batch + "\n"}};
        made.answer = "made " + batch;
        must(books.commit(made));
        Change run = change("fill-run-" + batch, "run", "R-" + batch, 0, R"({"instrument":"icp"})");
        for (int line = 1; line <= 40; ++line) {
            run.writes[0].measurements.push_back(measurement(line % 2 == 0 ? "Ca" : "Mg", batch,
                                                             line, fmt::format("{}.10", 400 + line),
                                                             400 + line + 0.1));
        }
        run.writes[0].links = {{"of", "batch", batch}};
        run.expects = {{"batch", batch, 1}};
        must(books.commit(run));
        Change weighed = change("fill-weigh-" + batch, "batch", batch, 1,
                                fmt::format(R"({{"number":{},"weighed":"12.480"}})", i));
        weighed.writes[0].state = "weighing";
        weighed.writes[0].links = {{"made of", "lot", "L25-0317-X"}};
        weighed.act.why = "first addition\nby hand";
        must(books.commit(weighed));
    }
}

}  // namespace bw::store::ground
