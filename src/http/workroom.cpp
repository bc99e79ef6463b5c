// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "http/workroom.hpp"

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <system_error>

#include <fmt/format.h>

#include "base/text.hpp"

namespace bw::http {
namespace {

constexpr std::size_t kLongestName = 80;

std::string plain_name(std::string_view name) {
    std::string out;
    for (const char c : name.substr(0, kLongestName)) {
        const bool fits = base::is_digit(c) || base::is_lower(c) || base::is_upper(c) ||
                          ((c == '.' || c == '-' || c == ' ') && !out.empty()) || c == '_';
        out.push_back(fits ? c : '_');
    }
    return out.empty() ? "file" : out;
}

}  // namespace

Result<Workroom> Workroom::open() {
    std::error_code wrong;
    const auto base = std::filesystem::temp_directory_path(wrong);
    std::string shape = (base / "brinewright-XXXXXX").string();
    if (wrong || mkdtemp(shape.data()) == nullptr) {
        return fail(ProblemCode::Disk, "the folder for temporary files cannot be written");
    }
    return Workroom(std::move(shape));
}

Workroom::Workroom(Workroom&& other) noexcept
    : folder_(std::move(other.folder_)), shelves_(std::move(other.shelves_)) {
    other.folder_.clear();
}

Workroom::~Workroom() {
    if (!folder_.empty()) {
        std::error_code ignored;
        std::filesystem::remove_all(folder_, ignored);
    }
}

Result<std::string> Workroom::put(std::string_view name, std::string_view bytes) {
    const std::string shelf = fmt::format("{}/{}/", folder_, shelves_.size() + 1);
    std::error_code wrong;
    std::filesystem::create_directory(shelf, wrong);
    shelves_.push_back(shelf);
    const std::string path = shelf + plain_name(name);
    std::ofstream out(path, std::ios::binary);
    out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    out.close();
    if (wrong || !out) {
        return fail(ProblemCode::Disk, "the folder for temporary files cannot be written");
    }
    return path;
}

std::string Workroom::path_of(std::string_view name) const {
    return folder_ + "/" + plain_name(name);
}

Result<std::string> Workroom::read(const std::string& path) const {
    std::ifstream in(path, std::ios::binary);
    std::ostringstream bytes;
    bytes << in.rdbuf();
    if (!in) {
        return fail(ProblemCode::Disk, "a file that was written cannot be read");
    }
    return bytes.str();
}

std::string Workroom::told(std::string text) const {
    const auto leave_out = [&](const std::string& folder) {
        for (std::size_t at = text.find(folder); at != std::string::npos;
             at = text.find(folder, at)) {
            text.erase(at, folder.size());
        }
    };
    for (const std::string& shelf : shelves_) {
        leave_out(shelf);
    }
    leave_out(folder_ + "/");
    return text;
}

}  // namespace bw::http
