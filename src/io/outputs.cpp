// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/outputs.hpp"

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <random>

#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

namespace bw::io {
namespace {

tl::unexpected<Problem> disk(const std::string& path, std::string_view doing, int error) {
    return fail(ProblemCode::Disk, fmt::format("{} failed: {}", doing, std::strerror(error)),
                {path, 0, {}});
}

}  // namespace

bool same_file(const std::string& a, const std::string& b) {
    namespace fs = std::filesystem;
    std::error_code error;
    return !a.empty() && !b.empty() &&
           fs::weakly_canonical(a, error) == fs::weakly_canonical(b, error);
}

Outputs::~Outputs() {
    for (const Draft& draft : drafts_) {
        ::unlink(draft.draft.c_str());
    }
}

Result<int> Outputs::open_draft(const std::string& path) {
    namespace fs = std::filesystem;
    std::error_code error;
    const fs::path resolved =
        fs::is_symlink(path, error) ? fs::weakly_canonical(path, error) : fs::path(path);
    const fs::file_status status = fs::status(resolved, error);
    if (fs::is_directory(status)) {
        return disk(path, "writing", EISDIR);
    }
    if (fs::exists(status) && !fs::is_regular_file(status)) {
        return fail(ProblemCode::Disk, "this is not an ordinary file: name one", {path, 0, {}});
    }
    // Machines that share a folder may share a process number: a number by chance besides.
    const std::string draft =
        fmt::format("{}.{}-{:08x}.part", resolved.string(), ::getpid(), std::random_device()());
    constexpr mode_t kMode = 0644;
    const int fd = ::open(draft.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, kMode);
    if (fd < 0) {
        return disk(path, "opening it for writing", errno);
    }
    drafts_.push_back({path, resolved.string(), draft});
    return fd;
}

Result<void> Outputs::add_text(const std::string& path, std::string_view bytes) {
    BW_TRY(fd, open_draft(path));
    while (!bytes.empty()) {
        const ssize_t written = ::write(fd, bytes.data(), bytes.size());
        if (written < 0) {
            const int error = errno;
            ::close(fd);
            return disk(path, "writing", error);
        }
        bytes.remove_prefix(static_cast<std::size_t>(written));
    }
    const bool stored = ::fsync(fd) == 0;
    const int error = errno;
    if (::close(fd) != 0 || !stored) {
        return disk(path, "writing", error);
    }
    return {};
}

Result<void> Outputs::add_workbook(const std::string& path, const std::vector<Sheet>& sheets) {
    BW_TRY(fd, open_draft(path));
    ::close(fd);
    auto written = write_workbook(drafts_.back().draft, sheets);
    if (!written) {
        written.error().place.file = path;
    }
    return written;
}

Result<void> Outputs::publish() {
    while (!drafts_.empty()) {
        const Draft& draft = drafts_.front();
        if (std::rename(draft.draft.c_str(), draft.target.c_str()) != 0) {
            return disk(draft.shown, "writing", errno);
        }
        drafts_.erase(drafts_.begin());
    }
    return {};
}

}  // namespace bw::io
