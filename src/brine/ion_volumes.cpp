// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/ion_volumes.hpp"

#include "base/result.hpp"

namespace bw::brine {

std::span<const IonRow, kIonCount> ion_table() {
    const std::span<const IonRow> rows = ref::ions();
    base::expect(rows.size() == kIonCount, "data/ions.toml has a row for every Ion");
    return rows.first<kIonCount>();
}

}  // namespace bw::brine
