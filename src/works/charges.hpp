// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <span>
#include <string>

#include "base/result.hpp"

namespace bw::works {

struct Tested;
struct Wanted;

/// The charge balance of a batch's tests.
struct Charges {
    std::string verdict;  ///< "balanced", "warn", "act"; empty: not drawn
    double percent = 0;   ///< cations less anions, of both together
    double u_percent = 0;
    std::string sentence;  ///< what a reader should know of it

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("verdict", x.verdict);
        v("percent", x.percent);
        v("u_percent", x.u_percent);
        v("sentence", x.sentence);
    }
};

/// Balances the charges of what was tested.
///
/// Definition   assay::balance_charges over the values that count, with their own uncertainties:
///              what they share (the strength) cancels, and a sample of salts is neutral as the
///              batch is, so sampling does not count. What is wanted but not tested enters with
///              its target and a tenth of it for uncertainty, as long as it is at most 1 % of the
///              wanted charges; is more missing, or below the limit of its method, no balance is
///              drawn and the sentence names it.
/// Inputs       amounts per kg of made-up water, mol or eq.
/// Errors       UnknownName for a symbol that is no constituent.
[[nodiscard]] Result<Charges> charges_of(std::span<const Tested> elements,
                                         std::span<const Wanted> wanted);

}  // namespace bw::works
