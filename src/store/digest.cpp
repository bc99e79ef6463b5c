// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "store/digest.hpp"

#include <array>
#include <cerrno>
#include <cstring>

#include <fcntl.h>
#include <fmt/format.h>
#include <sodium.h>
#include <unistd.h>

namespace bw::store {
namespace {

std::string hex(const unsigned char* bytes, std::size_t size) {
    std::string text(size * 2 + 1, '\0');
    sodium_bin2hex(text.data(), text.size(), bytes, size);
    text.pop_back();
    return text;
}

const unsigned char* octets(std::string_view bytes) {
    return reinterpret_cast<const unsigned char*>(bytes.data());
}

}  // namespace

std::string sha256_hex(std::string_view bytes) {
    std::array<unsigned char, crypto_hash_sha256_BYTES> digest{};
    crypto_hash_sha256(digest.data(), octets(bytes), bytes.size());
    return hex(digest.data(), digest.size());
}

Result<std::string> sha256_of_file(const std::string& path) {
    const int fd = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
    constexpr std::size_t kPiece = 1 << 20;  // bytes read at once
    std::string piece(kPiece, '\0');
    crypto_hash_sha256_state state;
    crypto_hash_sha256_init(&state);
    ssize_t n = fd < 0 ? -1 : 1;
    while (n > 0) {
        n = ::read(fd, piece.data(), piece.size());
        if (n > 0) {
            crypto_hash_sha256_update(&state, octets(piece), static_cast<std::size_t>(n));
        }
    }
    const int error = errno;
    if (fd >= 0) {
        ::close(fd);
    }
    if (n < 0) {
        return fail(ProblemCode::Disk, fmt::format("reading failed: {}", std::strerror(error)),
                    {path, 0, {}});
    }
    std::array<unsigned char, crypto_hash_sha256_BYTES> digest{};
    crypto_hash_sha256_final(&state, digest.data());
    return hex(digest.data(), digest.size());
}

std::string random_hex(int bytes) {
    base::expect(sodium_init() >= 0, "the system offers random bytes");
    std::string raw(static_cast<std::size_t>(bytes), '\0');
    randombytes_buf(raw.data(), raw.size());
    return hex(octets(raw), raw.size());
}

std::optional<std::string> from_base64(std::string_view text) {
    std::string out(text.size(), '\0');
    std::size_t length = 0;
    const char* end = nullptr;
    const int bad =
        sodium_base642bin(reinterpret_cast<unsigned char*>(out.data()), out.size(), text.data(),
                          text.size(), nullptr, &length, &end, sodium_base64_VARIANT_ORIGINAL);
    if (bad != 0 || end != text.data() + text.size()) {
        return std::nullopt;
    }
    out.resize(length);
    return out;
}

}  // namespace bw::store
