// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/methods_limits.hpp"

#include <fmt/format.h>

#include "base/text.hpp"

namespace bw::service {

Result<store::Receipt> keep_method(const Desk& desk, works::Method method, const Intent& intent) {
    BW_CHECK(works::duty_for(desk.person, works::Deed::ChangeMethods));
    BW_CHECK(works::check(method));
    return act(desk, {works::Deed::ChangeMethods, "method keep", kKind<works::Method>, method.id},
               intent, [&](store::Change& change) -> Result<void> {
                   BW_TRY(before, if_kept<works::Method>(*desk.books, method.id));
                   method.number = before ? before->is.number + 1 : 1;
                   change.writes.push_back(write_of(method, before ? before->version : 0));
                   change.answer = fmt::format("{} v{}", method.id, method.number);
                   return {};
               });
}

Result<store::Receipt> keep_limits(const Desk& desk, works::Limits limits, const Signing& signing,
                                   const Intent& intent) {
    BW_CHECK(works::duty_for(desk.person, works::Deed::SetLimits));
    BW_CHECK(works::check(limits));
    if (base::trim(intent.why).empty()) {
        return fail(ProblemCode::BadInput, "limits need their reason", {"", 0, "why"});
    }
    limits.why = intent.why;
    limits.approved.reset();
    return act(desk, {works::Deed::SetLimits, "limits keep", kKind<works::Limits>, limits.product},
               intent, [&](store::Change& change) -> Result<void> {
                   store::ListQuery versions;
                   versions.kind = kKind<works::RecipeVersion>;
                   versions.id_prefix = limits.product + "/";
                   BW_TRY(recipes, desk.books->count(versions));
                   if (recipes == 0) {
                       return fail(ProblemCode::NotFound,
                                   fmt::format("{} has no recipe version in the books",
                                               base::quoted(limits.product)),
                                   {"", 0, "product"});
                   }
                   BW_TRY(before, if_kept<works::Limits>(*desk.books, limits.product));
                   works::Limits next = limits;
                   next.number = before ? before->is.number + 1 : 1;
                   BW_TRY(signature, sign(desk, works::Deed::SetLimits, "limits approved", signing,
                                          record_text(next)));
                   next.approved = signature;
                   change.writes.push_back(write_of(next, before ? before->version : 0));
                   change.answer = fmt::format("{} v{}", next.product, next.number);
                   return {};
               });
}

Result<std::optional<Kept<works::Limits>>> limits_before(const store::Books& books,
                                                         const std::string& product,
                                                         const std::string& at) {
    const auto versions = books.history(kKind<works::Limits>, product);
    if (!versions) {
        if (versions.error().code == ProblemCode::NotFound) {
            return std::optional<Kept<works::Limits>>();
        }
        return tl::make_unexpected(versions.error());
    }
    std::optional<Kept<works::Limits>> out;
    for (const store::Record& record : *versions) {
        BW_TRY(limits, read_record<works::Limits>(record.body));
        if (limits.approved && limits.approved->at <= at) {
            out = Kept<works::Limits>{std::move(limits), record.version};
        }
    }
    return out;
}

}  // namespace bw::service
