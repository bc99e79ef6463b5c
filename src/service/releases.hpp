// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "service/batch_file.hpp"

namespace bw::service {

/// A batch as whoever decides on it sees it.
struct ReleaseView {
    BatchReading reading;
    works::Evidence evidence;
    std::string text;  ///< canonical: the bytes that a decision signs
    std::string mark;  ///< their SHA-256
    std::vector<works::OpenItem> open;
    std::vector<works::Hand> hands;
    works::Proposal proposal;
    std::optional<Kept<works::Release>> decision;  ///< the last one
    /// What has changed since that decision was signed; then it no longer counts as signed.
    std::vector<std::string> changed;
    /// Lots that were held and accepted again since, a sentence each; they block nothing.
    std::vector<std::string> notices;
    /// What became of the step of each departure of the file since it was raised (remarks_on).
    std::vector<std::vector<std::string>> remarks;
    [[nodiscard]] bool stale() const { return !changed.empty(); }
};

[[nodiscard]] Result<ReleaseView> show_release(const store::Books& books,
                                               const std::string& number);

/// The decision that stands where it is another than release: "batch B is on hold since DAY
/// (decision 2): WHY"; else nothing.
[[nodiscard]] std::string other_decision(const ReleaseView& view);

/// A decision that the person at a desk might take, and what stands in its way, a sentence each.
struct DecisionChoice {
    works::Decision decision = works::Decision::Hold;
    std::vector<std::string> hinders;  ///< none: it would be taken
};

/// All decisions on a batch, by the rules that decide_release goes by.
[[nodiscard]] Result<std::vector<DecisionChoice>> decision_choices(const Desk& desk,
                                                                   const std::string& batch);

/// What somebody decides.
struct ReleaseOrder {
    std::string batch;
    works::Decision decision = works::Decision::Hold;
    std::string
        shown;  ///< mark, or its beginning, of the evidence that was looked at; empty: as is
};

/// Decides on a batch: signs its evidence as it stands and moves the batch.
///
/// Errors   those of works::may_decide; Refused where the evidence is no longer what was shown, and
///          for a wrong password.
[[nodiscard]] Result<store::Receipt> decide_release(const Desk& desk, const ReleaseOrder& order,
                                                    const Signing& signing, const Intent& intent);

}  // namespace bw::service
