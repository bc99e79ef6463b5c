// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "works/assessment.hpp"
#include "works/batch.hpp"
#include "works/departure.hpp"
#include "works/run.hpp"
#include "works/sample.hpp"
#include "works/signature.hpp"
#include "works/test_portion.hpp"
#include "works/weighing.hpp"

namespace bw::works {

enum class Decision : std::uint8_t { Release, Hold, Reject, Rework };
template <>
inline constexpr std::size_t kWords<Decision> = 4;
[[nodiscard]] std::string_view name(Decision decision);

/// A human decision on a batch, signed over exactly the evidence that was shown.
struct Release {
    std::string batch;
    std::int64_t number = 1;  ///< of the batch's decisions
    Decision decision = Decision::Hold;
    std::string why;
    std::string evidence;  ///< canonical JSON text of works::Evidence, the bytes that were signed
    Signature approved;

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("batch", x.batch);
        v("number", x.number);
        v("decision", x.decision);
        v("why", x.why);
        v("evidence", x.evidence);
        v("approved", x.approved);
    }
};

/// Everything of a batch that a decision looks at.
struct BatchFile {
    Batch batch;
    std::vector<Weighing> weighings;
    std::vector<Departure> departures;
    std::vector<Sample> samples;
    std::vector<TestPortion> portions;
    std::vector<PlacedResult> results;  ///< of every state
    std::optional<Limits> limits;       ///< in force before testing; nothing: there were none
    Assessment assessment;
    std::vector<std::string> unsigned_runs;  ///< with results of it that count
    std::vector<std::string> held_lots;      ///< a sentence each: lots in it that may not be used
    std::string fault;  ///< the one cause that the pattern of the tests shows; empty: none
};

/// What keeps a batch from its release.
enum class OpenKind : std::uint8_t {
    NotReady,  ///< not yet tested, or decided already
    OpenDeparture,
    NotApproved,  ///< a lot adjustment
    LotHeld,      ///< a lot in it is on hold or refused since
    NotWeighed,
    OutsideTolerance,  ///< without a closed departure
    NotClosed,         ///< no yield
    NoSample,
    FewPortions,
    NoLimits,  ///< signed before testing
    NotChecked,
    NotTested,
    Waits,  ///< two more results, a second method's
    NotWithin,
    NotJointly,
    NotHomogeneous,  ///< these three each without a departure that was closed over it
    NotBalanced,     ///< charges, so far that one has to act
    FaultSeen,
    NotSigned  ///< a run, since a result of it was set aside or corrected
};
template <>
inline constexpr std::size_t kWords<OpenKind> = 19;
[[nodiscard]] std::string_view name(OpenKind kind);

struct OpenItem {
    OpenKind kind;
    std::string sentence;
};

/// What the tests show of a concern, a sentence each; nothing of the making.
[[nodiscard]] std::vector<std::string> seen_of(const BatchFile& file, Concern concern);

/// All open items, in the order of the batch's way. The batch's own state is not among them.
[[nodiscard]] std::vector<OpenItem> open_items(const BatchFile& file);

/// Who made or tested the batch, with what they did: "planned", "weighed", ...
struct Hand {
    std::string person;
    std::string did;
};
[[nodiscard]] std::vector<Hand> hands_of(const BatchFile& file);

/// What a signature under a decision means: "released", "put on hold".
[[nodiscard]] std::string_view meaning(Decision decision);

/// What the computed verdicts propose; a person decides.
///
/// Definition   any element outside: reject; all within, and jointly as the limits ask, with no
///              open item: release; else hold.
struct Proposal {
    Decision decision = Decision::Hold;
    std::string why;
};
[[nodiscard]] Proposal proposal_for(const BatchFile& file);

/// What stands between a person and a decision on a batch, a sentence each; none: it is taken, but
/// for the reason that all but a release need. `stale` as below.
[[nodiscard]] std::vector<std::string> what_hinders(const BatchFile& file, Decision decision,
                                                    std::string_view by, bool stale = false);

/// Whether a person may take a decision on a batch as it stands. `stale`: the batch was released,
/// and its evidence has changed since.
///
/// Definition   release: ready or on hold (or released and stale), no open item, and not by anyone
///              who planned, weighed, blended, sampled or tested it. Hold, reject and rework:
///              ready, or on hold (not hold again), or stale; with a reason.
/// Errors       Refused naming every open item or what the person did; BadInput without a reason.
[[nodiscard]] Result<void> may_decide(const BatchFile& file, Decision decision, std::string_view by,
                                      std::string_view why, bool stale = false);

/// The batch after the decision. Inputs as may_decide has allowed them.
[[nodiscard]] Result<Batch> decided(Batch batch, Decision decision, bool stale = false);

}  // namespace bw::works
