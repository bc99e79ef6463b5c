// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <span>
#include <string>
#include <vector>

#include "base/result.hpp"

namespace bw::assay {

/// One ion of an analysis; alkalinity enters as an anion of charge -1 with its equivalents, and
/// boron, carbonate and hydroxide are then left out.
struct IonResult {
    std::string name;
    int charge = 0;
    double mmol_per_kg = 0;
    double u = 0;
};

enum class BalanceVerdict : std::uint8_t { Balanced, Warn, Act };
[[nodiscard]] std::string_view name(BalanceVerdict verdict);

/// How far an error of one ion can hide.
struct IonSight {
    std::string name;
    double share_percent = 0;      ///< of all equivalents
    double seen_from_percent = 0;  ///< relative error of this ion alone that reaches the act limit
};

struct ChargeBalance {
    double cations_meq = 0, anions_meq = 0;  ///< per kg
    double percent = 0;                      ///< 100 (cations - anions)/(cations + anions)
    double u_percent = 0;
    double warn_percent = 0, act_percent = 0;  ///< 2 u and 3 u, both 1 % at most
    BalanceVerdict verdict = BalanceVerdict::Balanced;
    std::vector<IonSight> sights;  ///< in the order given
    std::string cannot_see;        ///< the sentence that names what this balance does not judge
};

/// Balances the charges of one analysis.
///
/// Definition   u = 100 sqrt(sum (z u)^2)/sum |z| c, uncertainties independent (what all share
///              cancels). An ion is out of sight where an error of 10 % of it stays below the act
///              limit.
/// Inputs       one cation and one anion at least, amounts and u not negative.
/// Valid        seawater-like salts; the rule 2 u/3 u/1 % is ours: the usual 5 % of fresh-water
///              practice is far too wide for sea salt.
/// Errors       BadInput. Source definition, as DIN 38402-62 has it (abstract read).
[[nodiscard]] Result<ChargeBalance> balance_charges(std::span<const IonResult> ions);

/// What a dry salt consists of, in per cent by mass: salts by their ions, hydrate water, moisture,
/// what does not dissolve.
struct SumPart {
    std::string name;
    double percent = 0, u = 0;
};
struct SumCheck {
    double percent = 0, u = 0;
    bool complete = true;  ///< 100 lies within 2 u
};
/// Inputs   one part or more, none negative. Errors BadInput.
[[nodiscard]] Result<SumCheck> check_sum(std::span<const SumPart> parts);

}  // namespace bw::assay
