// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/file_bytes.hpp"

#include <fstream>
#include <iterator>

#include <fmt/format.h>

#include "base/text.hpp"

namespace bw::cli {

Result<std::string> bytes_of(const std::string& file, std::size_t most) {
    std::ifstream in(file, std::ios::binary);
    if (!in) {
        return fail(ProblemCode::BadInput, "cannot be opened", {file, 0, ""});
    }
    std::string out;
    constexpr std::size_t kPiece = 65536;  // a buffer's worth
    std::string piece(kPiece, '\0');
    while (in.read(piece.data(), static_cast<std::streamsize>(piece.size())) || in.gcount() > 0) {
        out.append(piece, 0, static_cast<std::size_t>(in.gcount()));
        if (out.size() > most) {
            return fail(ProblemCode::TooLarge,
                        fmt::format("is larger than the {} MiB that are read", most >> 20U),
                        {file, 0, ""});
        }
    }
    if (in.bad()) {
        return fail(ProblemCode::Disk, "cannot be read", {file, 0, ""});
    }
    return out;
}

}  // namespace bw::cli
