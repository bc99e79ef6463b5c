// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "service/desk.hpp"

namespace bw::service {

/// Keeps a supplier, or corrects one: the new version supersedes.
///
/// Errors   those of works::check; NotFound for a material that is not in the books.
[[nodiscard]] Result<store::Receipt> keep_supplier(const Desk& desk,
                                                   const works::Supplier& supplier,
                                                   const Intent& intent);

/// A supplier with the lots that name it, by number; those from before the record as well.
struct SupplierView {
    Kept<works::Supplier> supplier;
    std::vector<works::Lot> lots;
};
[[nodiscard]] Result<SupplierView> show_supplier(const store::Books& books,
                                                 const std::string& name);

}  // namespace bw::service
