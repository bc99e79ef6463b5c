// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <set>
#include <string>

#include "base/notice.hpp"
#include "store/books.hpp"

namespace bw::service {

/// What signed limits allow of one constituent.
struct AllowedBand {
    std::optional<double> low, high;  ///< mmol (meq) per kg of the made-up water
    std::string from;                 ///< "limits 2 of Raised reef, signed on 2026-03-02"
};

/// A product's limits for a constituent, of those that were signed last.
///
/// Definition   nothing where none are signed, or where they have no band for the constituent.
///              Limits in per cent are of the target of the recipe versions named; where these
///              differ, or have none, there is nothing either, and a notice says so.
/// Errors       NotFound for a version that is not in the books; those of the store.
[[nodiscard]] Result<std::optional<AllowedBand>> allowed_band(const store::Books& books,
                                                              const std::string& product,
                                                              const std::set<std::string>& versions,
                                                              const std::string& analyte,
                                                              base::Notices& notices);

}  // namespace bw::service
