// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <algorithm>
#include <array>
#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <stdexcept>
#include <string>
#include <string_view>
#include <system_error>
#include <vector>

#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include "cli/commands.hpp"

namespace bw::command_test {

/// What a command left behind: its exit code and what it wrote to the two streams.
struct Outcome {
    int code = -1;
    std::string out;
    std::string err;
};

/// A file that has no name, for a stream of the command.
class Stream {
public:
    Stream() : file_(std::tmpfile()) {
        if (file_ == nullptr) {
            throw std::runtime_error("no temporary file");
        }
    }
    Stream(const Stream&) = delete;
    Stream& operator=(const Stream&) = delete;
    ~Stream() { std::fclose(file_); }
    [[nodiscard]] std::FILE* file() const { return file_; }
    [[nodiscard]] std::string text() const {
        std::string out;
        std::array<char, 4096> piece{};
        std::rewind(file_);
        for (std::size_t n = std::fread(piece.data(), 1, piece.size(), file_); n > 0;
             n = std::fread(piece.data(), 1, piece.size(), file_)) {
            out.append(piece.data(), n);
        }
        return out;
    }

private:
    std::FILE* file_;
};

/// Runs a command in this process.
inline Outcome run_here(const std::vector<std::string>& arguments) {
    const Stream out;
    const Stream err;
    const int code = cli::run(arguments, {out.file(), err.file()});
    return {code, out.text(), err.text()};
}

/// Runs the real program, with nothing to read, in a folder; an exit by a signal is 128 + signal.
inline Outcome run_program(const std::vector<std::string>& arguments, const std::string& folder) {
    const Stream out;
    const Stream err;
    const std::string program = BW_PROGRAM;
    std::vector<std::string> words{program};
    words.insert(words.end(), arguments.begin(), arguments.end());
    std::vector<char*> argv;
    for (std::string& word : words) {
        argv.push_back(word.data());
    }
    argv.push_back(nullptr);
    const pid_t child = ::fork();
    if (child < 0) {
        throw std::system_error(errno, std::generic_category(), "fork");
    }
    if (child == 0) {
        constexpr int kNotRun = 126;
        std::FILE* nothing = std::tmpfile();
        if (nothing == nullptr || ::dup2(::fileno(nothing), STDIN_FILENO) < 0 ||
            ::dup2(::fileno(out.file()), STDOUT_FILENO) < 0 ||
            ::dup2(::fileno(err.file()), STDERR_FILENO) < 0 || ::chdir(folder.c_str()) != 0) {
            ::_exit(kNotRun);
        }
        ::execv(argv.front(), argv.data());
        ::_exit(kNotRun);
    }
    int status = 0;
    while (::waitpid(child, &status, 0) < 0 && errno == EINTR) {
    }
    constexpr int kBySignal = 128;
    const int code = WIFEXITED(status) ? WEXITSTATUS(status) : kBySignal + WTERMSIG(status);
    return {code, out.text(), err.text()};
}

inline std::string read_bytes(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    if (!in) {
        throw std::runtime_error("cannot read " + path.string());
    }
    return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

/// A folder of its own for one test, removed when the test ends.
class TestFolder {
public:
    TestFolder() {
        std::string pattern = testing::TempDir() + "/brinewright-XXXXXX";
        if (::mkdtemp(pattern.data()) == nullptr) {
            throw std::system_error(errno, std::generic_category(), pattern);
        }
        path_ = std::filesystem::canonical(pattern);
    }
    TestFolder(const TestFolder&) = delete;
    TestFolder& operator=(const TestFolder&) = delete;
    ~TestFolder() {
        std::error_code ignored;
        std::filesystem::remove_all(path_, ignored);
    }
    [[nodiscard]] std::string path() const { return path_.string(); }
    [[nodiscard]] std::string path(std::string_view name) const { return (path_ / name).string(); }
    /// Writes a file and gives its path.
    [[nodiscard]] std::string write(std::string_view name, std::string_view bytes) const {
        std::ofstream out(path_ / name, std::ios::binary);
        out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
        out.close();
        if (!out) {
            throw std::runtime_error("cannot write " + path(name));
        }
        return path(name);
    }
    [[nodiscard]] bool has(std::string_view name) const {
        return std::filesystem::exists(path_ / name);
    }
    /// The names in it, sorted.
    [[nodiscard]] std::vector<std::string> names() const {
        std::vector<std::string> out;
        for (const auto& entry : std::filesystem::directory_iterator(path_)) {
            out.push_back(entry.path().filename().string());
        }
        std::sort(out.begin(), out.end());
        return out;
    }

private:
    std::filesystem::path path_;
};

/// A file of the examples, as the works would name it.
inline std::string example(std::string_view name) {
    return std::string(BW_SOURCE_DIR) + "/examples/works/" + std::string(name);
}

/// recipe solve for an example target and the example materials.
inline std::vector<std::string> solve_example(std::string_view target,
                                              const std::vector<std::string>& more = {}) {
    std::vector<std::string> out{"recipe", "solve", example(target), "--materials",
                                 example("materials.toml")};
    out.insert(out.end(), more.begin(), more.end());
    return out;
}

}  // namespace bw::command_test
