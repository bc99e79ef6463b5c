// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include <sys/types.h>

namespace bw::store {

/// A process of the committing program whose acknowledgements are read from a pipe.
class Committer {
public:
    /// `user`: runs as this user, when we are root.
    Committer(const std::string& place, const std::string& prefix, int count,
              bool each_time = false, const std::string& user = {});
    ~Committer();
    Committer(const Committer&) = delete;
    Committer& operator=(const Committer&) = delete;

    /// Waits for the first acknowledgement.
    void until_first();
    void kill_now();
    /// Waits for the end. The exit code, or -signal.
    int wait();
    /// Names of the acts that were acknowledged, after the end.
    std::vector<std::string> acknowledged();
    /// What it said on standard error.
    [[nodiscard]] std::string complaint();

private:
    pid_t child_ = -1;
    int acks_ = -1, complaints_ = -1;
    std::string read_, said_;
};

}  // namespace bw::store
