// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "works/reading_doubt.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "unit/factors.hpp"
#include "works/far_off.hpp"

namespace bw::works {
namespace {

constexpr int kDigits = 4;
constexpr double kExpanded = 2;  // times the standard uncertainty
constexpr double kMilli = 1e3;   // mmol per mol

std::string amount(double mol_per_kg) {
    return base::format_significant(mol_per_kg * kMilli, kDigits);
}

/// Whether a reading lies far from a prediction, either way.
bool is_far(const TestResult& r, const Predicted& p) {
    const double high = p.mol_per_kg + kExpanded * p.u_mol_per_kg;
    const double low = p.mol_per_kg - kExpanded * p.u_mol_per_kg;
    return r.mol_per_kg * kFarFromWanted < low ||
           (!r.below_limit && r.mol_per_kg > high * kFarFromWanted);
}

ReadingDoubt doubt_of(const TestResult& r, const Predicted& p) {
    const std::string unit = r.analyte == "alkalinity" ? "meq" : "mmol";
    const double ratio = r.mol_per_kg / p.mol_per_kg;
    ReadingDoubt out{r.portion, r.analyte, r.method, r.below_limit ? 0 : ratio, ""};
    const bool none = !(ratio > 0);
    out.sentence = fmt::format(
        "{} {} {} of {} comes to {}{} {} per kg of made-up water, {} {} that the batch is to have: "
        "are the figures, the unit and the dilution as the instrument has them?",
        r.analyte, r.digits, r.unit, r.portion, r.below_limit ? "at most " : "",
        amount(r.mol_per_kg), unit, none ? "nothing of the" : times_words(far_off(ratio)),
        amount(p.mol_per_kg));
    return out;
}

}  // namespace

std::vector<ReadingDoubt> doubts_about(const Batch& batch, std::span<const TestResult> results) {
    std::vector<ReadingDoubt> out;
    for (const TestResult& r : results) {
        if (r.batch != batch.number || r.state == ResultState::SetAside) {
            continue;
        }
        const auto p = std::ranges::find(batch.water, r.analyte, &Predicted::symbol);
        if (p != batch.water.end() && p->mol_per_kg > 0 && is_far(r, *p)) {
            out.push_back(doubt_of(r, *p));
        }
    }
    return out;
}

}  // namespace bw::works
