// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/table_file.hpp"

#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>

#include <fmt/format.h>

#include "base/text.hpp"
#include "io/workbook_table.hpp"

namespace bw::io {

Result<std::string> read_table_bytes(const std::string& path) {
    namespace fs = std::filesystem;
    std::error_code error;
    const fs::file_status status = fs::status(path, error);
    if (!fs::exists(status)) {
        return fail(ProblemCode::BadInput, "there is no such file", {path, 0, {}});
    }
    if (fs::is_directory(status)) {
        return fail(ProblemCode::BadInput, "this is a folder: name a file", {path, 0, {}});
    }
    std::ifstream in(path, std::ios::binary);
    if (!in) {
        return fail(ProblemCode::Disk,
                    fmt::format("the file cannot be opened: {}", std::strerror(errno)),
                    {path, 0, {}});
    }
    std::string bytes(kMostTableBytes + 1, '\0');
    in.read(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    if (in.bad()) {
        return fail(ProblemCode::Disk, "the file cannot be read to its end", {path, 0, {}});
    }
    bytes.resize(static_cast<std::size_t>(in.gcount()));
    if (bytes.size() > kMostTableBytes) {
        return fail(
            ProblemCode::TooLarge,
            fmt::format("the file is larger than {} bytes, the most that is read", kMostTableBytes),
            {path, 0, {}});
    }
    return bytes;
}

Result<SourceTable> read_table(std::string_view bytes, const std::string& name,
                               const TableForm& form, const std::string& sheet) {
    const bool named_workbook = base::lower_ascii(name).ends_with(".xlsx");
    auto out = named_workbook ? read_workbook(bytes, sheet) : read_delimited(bytes, form);
    if (!out) {
        Problem problem = out.error();
        problem.place.file = name;
        return tl::make_unexpected(std::move(problem));
    }
    return out;
}

}  // namespace bw::io
