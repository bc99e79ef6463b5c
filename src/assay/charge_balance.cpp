// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "assay/charge_balance.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include <fmt/format.h>

#include "base/text.hpp"

namespace bw::assay {
namespace {

using base::fail;
using base::ProblemCode;

constexpr double kPercent = 100;
constexpr double kWarn = 2, kAct = 3;  // standard uncertainties; our rule
constexpr double kCapPercent = 1;
constexpr double kBlindPercent = 10;  // an error of an ion as large as this should be seen

std::string cannot_see(const std::vector<IonSight>& sights) {
    std::vector<std::string> blind;
    for (const IonSight& s : sights) {
        if (s.seen_from_percent > kBlindPercent) {
            blind.push_back(s.name);
        }
    }
    std::string out =
        "A charge balance is carried by sodium and chloride: it judges neither strontium, "
        "potassium "
        "nor alkalinity";
    out += blind.empty() ? "."
                         : fmt::format("; here an error of 10 % in {} would pass.",
                                       base::join_words(blind, "or"));
    return out;
}

}  // namespace

std::string_view name(BalanceVerdict verdict) {
    return verdict == BalanceVerdict::Balanced ? "balanced"
           : verdict == BalanceVerdict::Warn   ? "warn"
                                               : "act";
}

Result<ChargeBalance> balance_charges(std::span<const IonResult> ions) {
    ChargeBalance out;
    double variance = 0;
    for (const IonResult& ion : ions) {
        if (!(ion.mmol_per_kg >= 0) || !(ion.u >= 0) || !std::isfinite(ion.mmol_per_kg) ||
            !std::isfinite(ion.u) || ion.charge == 0) {
            return fail(ProblemCode::BadInput,
                        fmt::format("ion {}: it has a charge, and amount and uncertainty are 0 or "
                                    "more",
                                    base::quoted(ion.name)));
        }
        const double equivalents = ion.charge * ion.mmol_per_kg;
        (ion.charge > 0 ? out.cations_meq : out.anions_meq) += std::abs(equivalents);
        variance += ion.charge * ion.u * ion.charge * ion.u;
    }
    if (!(out.cations_meq > 0) || !(out.anions_meq > 0)) {
        return fail(ProblemCode::BadInput, "a charge balance needs cations and anions");
    }
    const double sum = out.cations_meq + out.anions_meq;
    out.percent = kPercent * (out.cations_meq - out.anions_meq) / sum;
    out.u_percent = kPercent * std::sqrt(variance) / sum;
    out.warn_percent = std::min(kWarn * out.u_percent, kCapPercent);
    out.act_percent = std::min(kAct * out.u_percent, kCapPercent);
    const double off = std::abs(out.percent);
    out.verdict = off > out.act_percent    ? BalanceVerdict::Act
                  : off > out.warn_percent ? BalanceVerdict::Warn
                                           : BalanceVerdict::Balanced;
    for (const IonResult& ion : ions) {
        const double share = kPercent * std::abs(ion.charge) * ion.mmol_per_kg / sum;
        out.sights.push_back({ion.name, share,
                              share > 0 ? kPercent * out.act_percent / share
                                        : std::numeric_limits<double>::infinity()});
    }
    out.cannot_see = cannot_see(out.sights);
    return out;
}

Result<SumCheck> check_sum(std::span<const SumPart> parts) {
    SumCheck out;
    double variance = 0;
    for (const SumPart& p : parts) {
        if (!(p.percent >= 0) || !(p.u >= 0) || !std::isfinite(p.percent) || !std::isfinite(p.u)) {
            return fail(
                ProblemCode::BadInput,
                fmt::format("part {}: share and uncertainty are 0 or more", base::quoted(p.name)));
        }
        out.percent += p.percent;
        variance += p.u * p.u;
    }
    if (parts.empty()) {
        return fail(ProblemCode::BadInput, "a sum needs a part at least");
    }
    out.u = std::sqrt(variance);
    out.complete = std::abs(out.percent - kPercent) <= 2 * out.u;
    return out;
}

}  // namespace bw::assay
