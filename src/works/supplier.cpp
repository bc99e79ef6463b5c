// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "works/supplier.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "base/text.hpp"

namespace bw::works {

std::string_view name(SupplierState state) {
    constexpr std::array<std::string_view, kWords<SupplierState>> kNames = {"approved", "on watch",
                                                                            "stopped"};
    return kNames.at(static_cast<std::size_t>(state));
}

Result<void> check(const Supplier& supplier) {
    if (base::trim(supplier.name) != supplier.name) {
        return fail(ProblemCode::BadInput,
                    fmt::format("the supplier's name {} begins or ends with a blank: leave it out",
                                base::quoted(supplier.name)),
                    {"", 0, "NAME"});
    }
    if (base::trim(supplier.name).empty()) {
        return fail(ProblemCode::BadInput, "a supplier needs a name, as lots will name it",
                    {"", 0, "name"});
    }
    if (supplier.materials.empty()) {
        return fail(ProblemCode::BadInput,
                    fmt::format("supplier {} has no material: name each material that they may "
                                "supply",
                                base::quoted(supplier.name)),
                    {"", 0, "materials"});
    }
    for (auto it = supplier.materials.begin(); it != supplier.materials.end(); ++it) {
        if (std::find(supplier.materials.begin(), it, *it) != it) {
            return fail(ProblemCode::BadInput,
                        fmt::format("{} is given twice for supplier {}: name each material once",
                                    base::quoted(*it), base::quoted(supplier.name)),
                        {"", 0, "material"});
        }
    }
    if (supplier.state != SupplierState::Approved && base::trim(supplier.reason).empty()) {
        return fail(ProblemCode::BadInput,
                    fmt::format("supplier {} is {} for a reason: give the reason",
                                base::quoted(supplier.name), name(supplier.state)),
                    {"", 0, "reason"});
    }
    if (supplier.state != SupplierState::Stopped && supplier.review_by.empty()) {
        return fail(
            ProblemCode::BadInput,
            fmt::format(
                "supplier {} has no day of review: give the day by which they are reviewed, "
                "\"2027-06-30\"",
                base::quoted(supplier.name)),
            {"", 0, "review_by"});
    }
    return {};
}

Result<Admission> admitted(const Supplier& supplier, std::string_view lot,
                           std::string_view material, std::string_view day) {
    if (supplier.state == SupplierState::Stopped) {
        return fail(ProblemCode::Refused,
                    fmt::format("lot {} is not taken in: supplier {} is stopped ({})", lot,
                                base::quoted(supplier.name), supplier.reason));
    }
    if (std::find(supplier.materials.begin(), supplier.materials.end(), material) ==
        supplier.materials.end()) {
        return fail(ProblemCode::Refused,
                    fmt::format("lot {} is not taken in: {} is not among what supplier {} may "
                                "supply: add it to their materials first",
                                lot, base::quoted(material), base::quoted(supplier.name)));
    }
    if (supplier.state == SupplierState::OnWatch) {
        return Admission{LotState::OnHold,
                         fmt::format("Lot {} is held: supplier {} is on watch ({}).", lot,
                                     base::quoted(supplier.name), supplier.reason)};
    }
    if (supplier.review_by < day) {
        return Admission{LotState::OnHold,
                         fmt::format("Lot {} is held: supplier {} was to be reviewed by {}.", lot,
                                     base::quoted(supplier.name), supplier.review_by)};
    }
    return Admission{};
}

}  // namespace bw::works
