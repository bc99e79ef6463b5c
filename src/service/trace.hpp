// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "service/certificates.hpp"

namespace bw::service {

/// One line of a trace: a record, what it says, and how deep it lies under what it supports.
struct TraceLine {
    int depth = 0;
    std::string kind, id;  ///< of the record; the id may be that of a part: "R26-0001-X/4"
    std::string text;
    std::int64_t version = 0;      ///< as traced; 0: no record of its own
    std::int64_t version_now = 0;  ///< the newest; a result's is that of its run
    bool changed = false;          ///< what a decision rests on is no longer as it was traced
};

struct Trace {
    std::string batch;
    std::optional<works::Certificate> certificate;
    std::vector<TraceLine> lines;
    std::vector<std::string> changed;  ///< since the release was signed
};

/// Everything behind the figures of a batch or a certificate.
///
/// Definition   of each element: its value and verdict, limits, methods with their source, results
///              as typed with who entered and checked them and the file they came from, test
///              portions, samples, and the weighed lots that bring it with their certificates; then
///              the batch, its recipe version and who signed what. Of a certificate: all as its
///              release was signed, from the evidence of that decision and the versions of records
///              that it pins (what it does not pin, a supplier, a method and a run, as it stood
///              when the decision was written), and what the paper prints; each line says what has
///              become of its record since. Of a batch: as the books stand.
/// Inputs       number of a certificate, number/issue or a batch; a symbol for one element alone.
/// Errors       NotFound; BadInput for an element that the limits do not name.
[[nodiscard]] Result<Trace> trace_of(const store::Books& books, const std::string& id,
                                     const std::string& element);

}  // namespace bw::service
