// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "assay/conformity.hpp"
#include "base/result.hpp"
#include "works/signature.hpp"

namespace bw::works {

/// How a value beside its limits is decided on; assay::DecisionRule says what each does.
enum class RuleKind : std::uint8_t { Simple, Guarded, Probability };
template <>
inline constexpr std::size_t kWords<RuleKind> = 3;
[[nodiscard]] std::string_view name(RuleKind kind);

/// What one constituent of the made-up water has to lie within.
struct Band {
    std::string symbol;
    double percent = 0;     ///< of the target, either way; 0: the limits' own per cent
    std::string low, high;  ///< as typed, per kg of water: "9.9 mmol/kg"; they go before per cent

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("symbol", x.symbol);
        v("percent", x.percent);
        v("low", x.low);
        v("high", x.high);
    }
};

/// Acceptance limits of a product with their decision rule, written before anything is tested.
struct Limits {
    std::string product;
    std::int64_t number = 1;
    double percent = 2;       ///< of the target, where a band names none; common practice
    std::vector<Band> bands;  ///< what has to be tested
    RuleKind rule = RuleKind::Guarded;
    double width = 2;        ///< of Guarded: standard uncertainties that the limits are drawn in
    double least = 0.95;     ///< of Probability
    double joint_least = 0;  ///< least chance that all conform at once; 0: not asked for
    double sampling_percent = 0;  ///< standard uncertainty of one sample beside the batch; 0: none
                                  ///< is stated
    std::string why;
    std::optional<Signature> approved;

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("product", x.product);
        v("number", x.number);
        v("percent", x.percent);
        v("bands", x.bands);
        v("rule", x.rule);
        v("width", x.width);
        v("least", x.least);
        v("joint_least", x.joint_least);
        v("sampling_percent", x.sampling_percent);
        v("why", x.why);
        v("approved", x.approved);
    }
};

/// Errors   BadInput: no band, a constituent twice, a per cent that is not above 0 and below 100,
///          low not below high, a rule's number out of its range. UnknownName, BadNumber, BadUnit
///          (an amount per litre: the limits are per kg of water).
[[nodiscard]] Result<void> check(const Limits& limits);

/// The limits of a constituent in mol (eq) per kg of water.
///
/// Inputs   limits that check() passes; the target in mol/kg, needed where the band is in per cent.
/// Errors   NotFound for a constituent without a band; BadInput where the target is missing.
[[nodiscard]] Result<assay::ToleranceInterval> interval_of(const Limits& limits,
                                                           std::string_view symbol,
                                                           std::optional<double> target);

[[nodiscard]] assay::DecisionRule rule_of(const Limits& limits);

/// The rule as papers print it, with its risk.
[[nodiscard]] std::string sentence_of_rule(const Limits& limits);

}  // namespace bw::works
