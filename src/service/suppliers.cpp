// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/suppliers.hpp"

#include <fmt/format.h>

#include "base/text.hpp"

namespace bw::service {
namespace {

constexpr std::int64_t kPage = 1000;  // lots read at a time

}  // namespace

Result<store::Receipt> keep_supplier(const Desk& desk, const works::Supplier& supplier,
                                     const Intent& intent) {
    BW_CHECK(works::check(supplier));
    return act(
        desk,
        {works::Deed::ChangeSuppliers, "supplier keep", kKind<works::Supplier>, supplier.name},
        intent, [&](store::Change& change) -> Result<void> {
            for (const std::string& material : supplier.materials) {
                BW_TRY(known, if_kept<works::Material>(*desk.books, material));
                if (!known) {
                    return fail(ProblemCode::NotFound,
                                fmt::format("{} is not among the materials of the books: "
                                            "`material keep` comes first",
                                            base::quoted(material)),
                                {"", 0, "--material"});
                }
            }
            BW_TRY(before, if_kept<works::Supplier>(*desk.books, supplier.name));
            change.writes.push_back(write_of(supplier, before ? before->version : 0));
            return {};
        });
}

Result<SupplierView> show_supplier(const store::Books& books, const std::string& name) {
    BW_TRY(supplier, kept<works::Supplier>(books, name));
    SupplierView out{std::move(supplier), {}};
    store::ListQuery query;
    query.limit = kPage;
    // Not by their links: lots from before the record have none.
    for (bool more = true; more;) {
        BW_TRY(page, kept_list<works::Lot>(books, query));
        more = page.size() == static_cast<std::size_t>(kPage);
        for (const Kept<works::Lot>& lot : page) {
            query.after = lot.is.number;
            if (lot.is.supplier == name) {
                out.lots.push_back(lot.is);
            }
        }
    }
    return out;
}

}  // namespace bw::service
