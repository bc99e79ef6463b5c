// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "works/lot.hpp"
#include "works/word.hpp"

namespace bw::works {

enum class SupplierState : std::uint8_t { Approved, OnWatch, Stopped };
template <>
inline constexpr std::size_t kWords<SupplierState> = 3;
[[nodiscard]] std::string_view name(SupplierState state);

/// Who delivers materials, what they may deliver, and whether the works still takes it.
struct Supplier {
    std::string name;                    ///< as lots name it
    std::string contact;                 ///< free text
    std::vector<std::string> materials;  ///< that they may supply
    SupplierState state = SupplierState::Approved;
    std::string reason;     ///< of the state; needed unless approved
    std::string review_by;  ///< last day before the state is looked at anew, ISO 8601

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("name", x.name);
        v("contact", x.contact);
        v("materials", x.materials);
        v("state", x.state);
        v("reason", x.reason);
        v("review_by", x.review_by);
    }
};

/// Errors   BadInput: no name, no material, no reason for on watch or stopped, no review day unless
///          stopped.
[[nodiscard]] Result<void> check(const Supplier& supplier);

/// How a delivery comes into the books: received, or held with the reason in one sentence.
struct Admission {
    LotState state = LotState::Received;
    std::string notice;  ///< empty: nothing to say
};

/// Whether a lot of a supplier is taken in on a day (ISO 8601 date), and how.
///
/// Definition   approved and not past its review: received; on watch, or past its review: on hold.
/// Errors       Refused: the supplier is stopped, or may not supply the material.
[[nodiscard]] Result<Admission> admitted(const Supplier& supplier, std::string_view lot,
                                         std::string_view material, std::string_view day);

}  // namespace bw::works
