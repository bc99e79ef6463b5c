// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "works/charges.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include <fmt/format.h>

#include "assay/charge_balance.hpp"
#include "base/text.hpp"
#include "matter/constituent.hpp"
#include "works/assessment.hpp"

namespace bw::works {
namespace {

constexpr double kMilli = 1000;     // mmol per mol
constexpr double kLittle = 0.01;    // of the wanted charges
constexpr double kUntestedU = 0.1;  // of the target

Result<int> charge_of(const std::string& symbol) {
    BW_TRY(what, matter::require_constituent(symbol));
    return what.charge();
}

bool counts(const Tested& e) {
    return e.verdict != Verdict::NotTested && e.waits.empty() && !e.below_limit;
}

std::string sentence_of(const assay::ChargeBalance& balance) {
    std::string figures =
        fmt::format("charge balance {:+.2f} % of all charges, standard uncertainty {:.2f} %",
                    balance.percent, balance.u_percent);
    if (balance.verdict == assay::BalanceVerdict::Balanced) {
        return figures;
    }
    return fmt::format(
        "{}: more than {:.2f} %; one of the tests may be wrong, sodium's or chloride's first",
        figures,
        balance.verdict == assay::BalanceVerdict::Act ? balance.act_percent : balance.warn_percent);
}

}  // namespace

Result<Charges> charges_of(std::span<const Tested> elements, std::span<const Wanted> wanted) {
    std::vector<assay::IonResult> ions;
    for (const Tested& e : elements) {
        BW_TRY(charge, charge_of(e.symbol));
        if (charge != 0 && counts(e)) {
            const double u_test =
                std::sqrt(std::max(0.0, e.u_own * e.u_own - e.u_sampling * e.u_sampling));
            ions.push_back({e.symbol, charge, e.value * kMilli, u_test * kMilli});
        }
    }
    double all = 0;
    for (const Wanted& w : wanted) {
        BW_TRY(charge, charge_of(w.symbol));
        all += std::abs(charge) * w.mol_per_kg;
    }
    std::vector<std::string> missing;
    for (const Wanted& w : wanted) {
        BW_TRY(charge, charge_of(w.symbol));
        const bool known = std::ranges::find(ions, w.symbol, &assay::IonResult::name) != ions.end();
        if (charge == 0 || known || !(w.mol_per_kg > 0)) {
            continue;
        }
        if (std::abs(charge) * w.mol_per_kg > kLittle * all) {
            missing.push_back(w.symbol);
        }
        ions.push_back(
            {w.symbol, charge, w.mol_per_kg * kMilli, kUntestedU * w.mol_per_kg * kMilli});
    }
    Charges out;
    if (!missing.empty() || ions.empty()) {
        out.sentence = fmt::format("no charge balance: of {} no value counts yet",
                                   missing.empty() ? "the ions" : base::join_words(missing, "and"));
        return out;
    }
    const auto balance = assay::balance_charges(ions);
    if (!balance) {  // cations or anions alone
        out.sentence = "no charge balance: " + balance.error().message;
        return out;
    }
    out.verdict = assay::name(balance->verdict);
    out.percent = balance->percent;
    out.u_percent = balance->u_percent;
    out.sentence = sentence_of(*balance);
    return out;
}

}  // namespace bw::works
