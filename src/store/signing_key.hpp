// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <memory>
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace bw::store {

/// The works' key for signing papers (Ed25519, RFC 8032). It lies in a file of its own, never in
/// the books, so that whoever can change the books cannot sign.
class SigningKey {
public:
    /// Makes a key and writes its file with mode 0600. Errors Disk, also when the file exists.
    [[nodiscard]] static Result<SigningKey> make(const std::string& path);
    /// Errors Disk; Refused when others than the owner may read the file; BadInput for another
    /// content.
    [[nodiscard]] static Result<SigningKey> load(const std::string& path);

    SigningKey(SigningKey&&) noexcept;
    SigningKey& operator=(SigningKey&&) noexcept;
    SigningKey(const SigningKey&) = delete;
    SigningKey& operator=(const SigningKey&) = delete;
    ~SigningKey();

    /// 128 hexadecimal digits.
    [[nodiscard]] std::string sign(std::string_view bytes) const;
    /// 64 hexadecimal digits, for everyone.
    [[nodiscard]] std::string public_key() const;

private:
    struct Secret;
    explicit SigningKey(std::unique_ptr<Secret> secret);
    std::unique_ptr<Secret> secret_;
};

/// Whether the signature of the bytes was made by the key of this public key. False also for texts
/// that are no signature or no key.
[[nodiscard]] bool signature_holds(std::string_view public_key, std::string_view bytes,
                                   std::string_view signature);

}  // namespace bw::store
