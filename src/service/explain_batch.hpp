// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "assay/diagnosis.hpp"
#include "service/batch_file.hpp"

namespace bw::service {

/// One tested element beside what the batch should hold by its sheet, lots and weighings.
struct PatternLine {
    std::string symbol;
    double expected = 0, found = 0;  ///< mol (eq) per kg of made-up water
    double deviation = 0;            ///< relative
    double u = 0;                    ///< relative, of this element alone
    double methods = 1;              ///< independent methods behind it, as their weights count
};

/// Whether the test portions differ by more than the methods repeat.
struct PortionSpread {
    double chi_squared = 0, most = 0;  ///< and its 99 % point
    double freedom = 0;                ///< 0: no two portions to compare
    [[nodiscard]] bool unmixed() const { return freedom > 0 && chi_squared > most; }
};

struct BatchExplanation {
    std::string batch;
    std::vector<PatternLine> pattern;
    double u_common = 0;  ///< relative, shared by all
    assay::Diagnosis diagnosis;
    std::vector<std::string>
        causes;  ///< as the diagnosis counts them: "magnesium chloride, lot M1"
    PortionSpread spread;
    std::vector<std::string> sentences;  ///< what a person reads, the answer first
    bool too_few = false;  ///< elements are tested: nothing is diagnosed, and one sentence says so
    [[nodiscard]] bool fault() const {
        return diagnosis.verdict != assay::DiagnosisVerdict::Nothing || spread.unmixed();
    }
};

/// Looks for what explains a batch's tests: which material by how much, a lot's assay, strength,
/// one element's calibration, an unmixed sample; or says that it cannot tell, and which test would.
///
/// Definition   expected: the batch's predicted water, each material's part times weighed over
///              target. Counted results; u of an element holds its own and the prediction's.
///              Spread: sum over elements, methods and portions of (x - mean)^2 over repeatability
///              squared.
///              Fewer than three tested elements: too_few.
/// Errors       those of assay::diagnose.
[[nodiscard]] Result<BatchExplanation> explain_batch(const store::Books& books,
                                                     const std::string& number);

/// The same of a batch that is read already.
[[nodiscard]] Result<BatchExplanation> explain_batch(const BatchReading& reading);

}  // namespace bw::service
