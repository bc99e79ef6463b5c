// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "store/child.hpp"

#include <array>
#include <csignal>
#include <sstream>
#include <stdexcept>

#include <fcntl.h>
#include <pwd.h>
#include <sys/wait.h>
#include <unistd.h>

namespace bw::store {
namespace {

void drain(int fd, std::string& into) {
    std::array<char, 4096> piece{};
    ssize_t n = 1;
    while (n > 0) {
        n = ::read(fd, piece.data(), piece.size());
        into.append(piece.data(), static_cast<std::size_t>(n > 0 ? n : 0));
    }
}

}  // namespace

Committer::Committer(const std::string& place, const std::string& prefix, int count, bool each_time,
                     const std::string& user) {
    std::array<int, 2> acks{}, complaints{};
    if (::pipe2(acks.data(), O_CLOEXEC) != 0 || ::pipe2(complaints.data(), O_CLOEXEC) != 0) {
        throw std::runtime_error("no pipe");
    }
    const std::string number = std::to_string(count);
    const passwd* as = user.empty() ? nullptr : ::getpwnam(user.c_str());
    child_ = ::fork();
    if (child_ == 0) {
        ::dup2(acks[1], 1);
        ::dup2(complaints[1], 2);
        if (as != nullptr && (::setgid(as->pw_gid) != 0 || ::setuid(as->pw_uid) != 0)) {
            ::_exit(126);
        }
        ::execl(BW_COMMITTER, BW_COMMITTER, place.c_str(), prefix.c_str(), number.c_str(),
                each_time ? "open-each-time" : nullptr, nullptr);
        ::_exit(127);
    }
    ::close(acks[1]);
    ::close(complaints[1]);
    acks_ = acks[0];
    complaints_ = complaints[0];
}

Committer::~Committer() {
    if (child_ > 0) {
        kill_now();
        wait();
    }
    ::close(acks_);
    ::close(complaints_);
}

void Committer::until_first() {
    std::array<char, 4096> piece{};
    const ssize_t n = ::read(acks_, piece.data(), piece.size());
    read_.append(piece.data(), static_cast<std::size_t>(n > 0 ? n : 0));
}

void Committer::kill_now() { ::kill(child_, SIGKILL); }

int Committer::wait() {
    drain(acks_, read_);
    drain(complaints_, said_);
    int status = 0;
    ::waitpid(child_, &status, 0);
    child_ = -1;
    return WIFSIGNALED(status) ? -WTERMSIG(status) : WEXITSTATUS(status);
}

std::vector<std::string> Committer::acknowledged() {
    std::vector<std::string> names;
    std::istringstream lines(read_);
    std::string line;
    while (std::getline(lines, line)) {
        if (!lines.eof()) {  // a line without its end was not yet an acknowledgement
            names.push_back(line.substr(0, line.find(' ')));
        }
    }
    return names;
}

std::string Committer::complaint() { return said_; }

}  // namespace bw::store
