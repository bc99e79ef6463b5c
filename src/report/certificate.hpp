// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "base/result.hpp"
#include "report/paper.hpp"

namespace bw::report {

/// One line of the results table.
struct CertificateResult {
    std::string quantity;   ///< "Calcium", "Alkalinity"
    std::string symbol;     ///< "Ca"; optional
    std::string unit;       ///< "mg/kg"
    std::string value;      ///< "412.3", "< 0.5"; empty: not tested
    std::string expanded;   ///< U, "2.5"; empty: "not stated"
    std::string k;          ///< coverage factor, "2"; used where it differs between lines
    std::string low, high;  ///< limits; either may be empty
    Status verdict = Status::NotTested;
    std::string method;               ///< "M-07 v3"
    std::string tested_on;            ///< "2026-03-05"
    bool outside_laboratory = false;  ///< marked with a dagger
    std::string note;                 ///< optional, below the table with a number
};

/// One lot of a material that went into the batch.
struct CertificateLot {
    std::string material, lot, supplier, share;  ///< share: "62.4 %"
};

/// An issued statement for one batch: blocks of ISO/IEC 17025 (7.8.2.1 a to p, 7.8.6, 7.8.8).
struct Certificate {
    PaperMark mark;
    Maker maker;
    std::string laboratory;                  ///< that tested
    std::vector<std::string> place_of_work;  ///< if it differs from the maker's address
    std::string issue;                       ///< "1"
    std::string issued_on;                   ///< "2026-03-09"
    std::string replaces;  ///< "issue 1 of 2026-03-07: calcium typed with the wrong unit"

    std::string product, batch, recipe_version;
    std::string made_on, use_by;
    std::vector<std::string> pack_sizes;
    std::string customer;
    std::string sample, sample_condition;
    std::string sampled_on, received_on;
    std::string sampling_plan;
    std::string decision;  ///< "Released", "On hold" ...
    Status decision_status = Status::Information;

    std::vector<std::string> method_note;  ///< sentences: made-up water, basis, temperature
    std::vector<std::string> methods;      ///< "M-07 v3: ICP-OES, ..."
    std::vector<std::string> departures;   ///< from methods; empty: "none"

    std::string coverage;  ///< "k = 2, about 95 %"; the head of the column
    std::vector<CertificateResult> results;
    std::vector<std::string> homogeneity;    ///< sentences; optional
    std::vector<std::string> decision_rule;  ///< sentences with guard band and coverage
    std::vector<std::string> statements;     ///< beyond those that the paper always prints
    std::vector<std::string> opinions;       ///< kept apart from results
    std::vector<CertificateLot> lots;        ///< annex; empty: none

    std::vector<SignatureBlock> signatures;
    std::string how_to_verify;  ///< sentence; empty: the paper's own
    std::string code_text;      ///< plain text in the square code; empty: the paper's own
};

/// The certificate on A4.
///
/// Inputs   number, created, maker, product, batch and a result at least.
/// Errors   BadInput: a missing field, a character that cannot be printed, a bad date. TooLarge:
///          over 400 results or 200 pages. The same struct gives the same bytes.
[[nodiscard]] Result<std::string> certificate_pdf(const Certificate& certificate);

}  // namespace bw::report
