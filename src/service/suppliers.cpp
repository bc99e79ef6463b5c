// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/suppliers.hpp"

#include <fmt/format.h>

#include "base/text.hpp"

namespace bw::service {
namespace {

constexpr std::int64_t kPage = 1000;  // lots read at a time

/// A name without blanks, upper and lower case (of A to Z) made one.
std::string folded(std::string_view name) {
    std::string out = base::lower_ascii(name);
    std::erase(out, ' ');
    return out;
}

Result<void> check_name_is_one(const store::Books& books, const std::string& name) {
    store::ListQuery query;
    query.limit = kPage;
    for (bool more = true; more;) {
        BW_TRY(page, kept_list<works::Supplier>(books, query));
        more = page.size() == static_cast<std::size_t>(kPage);
        for (const Kept<works::Supplier>& other : page) {
            query.after = other.is.name;
            if (other.is.name != name && folded(other.is.name) == folded(name)) {
                return fail(ProblemCode::DuplicateName,
                            fmt::format("{} is in the books as {}: two names that differ only in "
                                        "case or blanks are one; write it so",
                                        base::quoted(name), base::quoted(other.is.name)),
                            {"", 0, "NAME"});
            }
        }
    }
    return {};
}

Result<void> check_review(const works::Supplier& supplier, const std::string& today) {
    if (supplier.review_by.empty() || supplier.review_by >= today) {
        return {};
    }
    return fail(ProblemCode::BadInput,
                fmt::format("the review of supplier {} would be due on {}, and it is {} now: give "
                            "a day that is still to come",
                            base::quoted(supplier.name), supplier.review_by, today),
                {"", 0, "review_by"});
}

}  // namespace

Result<store::Receipt> keep_supplier(const Desk& desk, const works::Supplier& supplier,
                                     const Intent& intent) {
    BW_CHECK(works::duty_for(desk.person, works::Deed::ChangeSuppliers));
    BW_CHECK(works::check(supplier));
    return act(
        desk,
        {works::Deed::ChangeSuppliers, "supplier keep", kKind<works::Supplier>, supplier.name},
        intent, [&](store::Change& change) -> Result<void> {
            BW_CHECK(check_review(supplier, desk.day()));
            BW_CHECK(check_name_is_one(*desk.books, supplier.name));
            for (const std::string& material : supplier.materials) {
                BW_TRY(known, if_kept<works::Material>(*desk.books, material));
                if (!known) {
                    return fail(ProblemCode::NotFound,
                                fmt::format("{} is not among the materials of the books: "
                                            "keep the material first",
                                            base::quoted(material)),
                                {"", 0, "material"});
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
