// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "store/signing_key.hpp"

#include <array>
#include <cerrno>
#include <cstring>
#include <optional>

#include <fcntl.h>
#include <fmt/format.h>
#include <sodium.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/text.hpp"
#include "store/where.hpp"

namespace bw::store {

struct SigningKey::Secret {
    std::array<unsigned char, crypto_sign_SECRETKEYBYTES> key{};
    std::array<unsigned char, crypto_sign_PUBLICKEYBYTES> open{};
    Secret() = default;
    Secret(const Secret&) = delete;
    Secret& operator=(const Secret&) = delete;
    ~Secret() { sodium_memzero(key.data(), key.size()); }
};

namespace {

using Seed = std::array<unsigned char, crypto_sign_SEEDBYTES>;
constexpr std::string_view kHead = "brinewright signing key 1\n";
constexpr mode_t kOwnerOnly = 0600;
constexpr mode_t kOthers = 0077;

tl::unexpected<Problem> disk(const std::string& path, std::string_view doing) {
    return fail(ProblemCode::Disk, fmt::format("{} failed: {}", doing, std::strerror(errno)),
                {path, 0, {}});
}

std::string hex(const unsigned char* bytes, std::size_t size) {
    std::string text(size * 2 + 1, '\0');
    sodium_bin2hex(text.data(), text.size(), bytes, size);
    text.pop_back();
    return text;
}

template <std::size_t n>
bool from_hex(std::string_view text, std::array<unsigned char, n>& bytes) {
    std::size_t written = 0;
    return text.size() == 2 * n &&
           sodium_hex2bin(bytes.data(), n, text.data(), text.size(), nullptr, &written, nullptr) ==
               0 &&
           written == n;
}

}  // namespace

SigningKey::SigningKey(std::unique_ptr<Secret> secret) : secret_(std::move(secret)) {}
SigningKey::SigningKey(SigningKey&&) noexcept = default;
SigningKey& SigningKey::operator=(SigningKey&&) noexcept = default;
SigningKey::~SigningKey() = default;

Result<SigningKey> SigningKey::make(const std::string& path) {
    base::expect(sodium_init() >= 0, "the system offers random bytes");
    const int fd = ::open(path.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, kOwnerOnly);
    if (fd < 0) {
        return disk(path, "making the key's file");
    }
    Seed seed{};
    randombytes_buf(seed.data(), seed.size());
    std::string bytes = std::string(kHead) + hex(seed.data(), seed.size()) + "\n";
    sodium_memzero(seed.data(), seed.size());
    const bool written =
        ::write(fd, bytes.data(), bytes.size()) == static_cast<ssize_t>(bytes.size()) &&
        ::fsync(fd) == 0;
    sodium_memzero(bytes.data(), bytes.size());
    if (::close(fd) != 0 || !written) {
        auto failed = disk(path, "writing the key");
        ::unlink(path.c_str());
        return failed;
    }
    return load(path);
}

Result<SigningKey> SigningKey::load(const std::string& path) {
    base::expect(sodium_init() >= 0, "the system offers random bytes");
    struct stat file {};
    if (::stat(path.c_str(), &file) != 0) {
        return disk(path, "reading the key");
    }
    if ((file.st_mode & kOthers) != 0) {
        return fail(ProblemCode::Refused,
                    "others than the owner may read this key: give the file mode 0600, and make a "
                    "new key if someone may have read it",
                    {path, 0, {}});
    }
    constexpr std::size_t kMost = 4096;  // bytes; a key's file has 91
    BW_TRY(bytes, read_file(path, kMost));
    Seed seed{};
    const bool whole = bytes.starts_with(kHead) &&
                       from_hex(base::trim(std::string_view(bytes).substr(kHead.size())), seed);
    sodium_memzero(bytes.data(), bytes.size());
    if (!whole) {
        return fail(ProblemCode::BadInput, "this is no signing key", {path, 0, {}});
    }
    auto secret = std::make_unique<Secret>();
    crypto_sign_seed_keypair(secret->open.data(), secret->key.data(), seed.data());
    sodium_memzero(seed.data(), seed.size());
    return SigningKey(std::move(secret));
}

std::string SigningKey::sign(std::string_view bytes) const {
    std::array<unsigned char, crypto_sign_BYTES> signature{};
    crypto_sign_detached(signature.data(), nullptr,
                         reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size(),
                         secret_->key.data());
    return hex(signature.data(), signature.size());
}

std::string SigningKey::public_key() const {
    return hex(secret_->open.data(), secret_->open.size());
}

bool signature_holds(std::string_view public_key, std::string_view bytes,
                     std::string_view signature) {
    std::array<unsigned char, crypto_sign_PUBLICKEYBYTES> key{};
    std::array<unsigned char, crypto_sign_BYTES> made{};
    return from_hex(public_key, key) && from_hex(signature, made) &&
           crypto_sign_verify_detached(made.data(),
                                       reinterpret_cast<const unsigned char*>(bytes.data()),
                                       bytes.size(), key.data()) == 0;
}

}  // namespace bw::store
