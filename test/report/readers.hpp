// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <array>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include <sys/wait.h>
#include <unistd.h>

/// Programs that know nothing of ours read the papers back: pdftotext and pdftoppm (poppler-utils),
/// zbarimg (zbar-tools). tools/setup installs them; a test that cannot run them fails.
namespace bw::test {

/// A folder of its own that goes with the object.
class Folder {
public:
    Folder() {
        std::string form = (std::filesystem::temp_directory_path() / "bw_report_XXXXXX").string();
        if (::mkdtemp(form.data()) == nullptr) {
            throw std::runtime_error("no temporary folder");
        }
        path_ = form;
    }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    ~Folder() {
        std::error_code ignored;
        std::filesystem::remove_all(path_, ignored);
    }
    [[nodiscard]] const std::filesystem::path& path() const { return path_; }

private:
    std::filesystem::path path_;
};

/// What a shell command prints. Throws where it ends with a code above `worst`.
inline std::string printed_by(const std::string& command, int worst = 0) {
    std::FILE* pipe = ::popen(command.c_str(), "r");
    if (pipe == nullptr) {
        throw std::runtime_error("cannot run " + command);
    }
    std::string out;
    std::array<char, 4096> piece{};
    for (std::size_t n = std::fread(piece.data(), 1, piece.size(), pipe); n > 0;
         n = std::fread(piece.data(), 1, piece.size(), pipe)) {
        out.append(piece.data(), n);
    }
    const int status = ::pclose(pipe);
    if (!WIFEXITED(status) || WEXITSTATUS(status) > worst) {
        throw std::runtime_error("failed: " + command);
    }
    return out;
}

inline std::string put_down(const Folder& folder, const std::string& pdf) {
    const std::string file = (folder.path() / "paper.pdf").string();
    std::ofstream(file, std::ios::binary) << pdf;
    return file;
}

/// Runs of spaces and line ends as one space.
inline std::string squeezed(std::string_view text) {
    std::string out;
    for (const char c : text) {
        const bool blank = c == ' ' || c == '\n' || c == '\t';
        if (!blank) {
            out += c;
        } else if (!out.empty() && out.back() != ' ') {
            out += ' ';
        }
    }
    return out;
}

/// The text of each page, line by line as it stands.
inline std::vector<std::string> page_texts(const std::string& pdf) {
    const Folder folder;
    const std::string all = printed_by("pdftotext -layout " + put_down(folder, pdf) + " - 2>&1");
    std::vector<std::string> out;
    for (std::size_t at = 0; at < all.size();) {
        const std::size_t end = std::min(all.find('\f', at), all.size());
        out.push_back(squeezed(std::string_view(all).substr(at, end - at)));
        at = end + 1;
    }
    return out;
}

inline std::string text_of(const std::string& pdf) {
    std::string out;
    for (const std::string& page : page_texts(pdf)) {
        out += page + " ";
    }
    return out;
}

/// The text in the order in which it was drawn, squeezed: for words that -layout puts elsewhere.
inline std::string text_in_drawn_order(const std::string& pdf) {
    const Folder folder;
    return squeezed(printed_by("pdftotext -raw " + put_down(folder, pdf) + " - 2>&1"));
}

/// What pdfinfo says.
inline std::string facts_of(const std::string& pdf) {
    const Folder folder;
    return squeezed(printed_by("TZ=UTC pdfinfo " + put_down(folder, pdf)));
}

/// What a reader of codes finds on the printed pages at 300 dots per inch.
inline std::string codes_of(const std::string& pdf) {
    const Folder folder;
    const std::string file = put_down(folder, pdf);
    const std::string stem = (folder.path() / "page").string();
    printed_by("pdftoppm -r 300 -gray -png " + file + " " + stem);
    constexpr int kNoneOnSome = 4;  // a page without a code
    return printed_by("zbarimg --quiet --nodbus " + stem + "*.png 2>&1", kNoneOnSome);
}

/// How often a text stands in another.
inline std::size_t times(const std::string& text, const std::string& wanted) {
    std::size_t out = 0;
    for (std::size_t at = text.find(wanted); at != std::string::npos;
         at = text.find(wanted, at + wanted.size())) {
        ++out;
    }
    return out;
}

}  // namespace bw::test
