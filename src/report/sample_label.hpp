// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "report/paper.hpp"

namespace bw::report {

/// One label of one sample.
struct SampleLabel {
    std::string id;  ///< human-readable, in the code too: "S26-0311-H"
    std::string product, batch;
    std::string increment;  ///< "3 of 10"
    std::string taken_by, taken_at;
    std::string mass;        ///< "105 g"
    std::string kind;        ///< "for tests", "retained"; optional
    std::string keep_until;  ///< optional
};

/// What holds the number for a reader's camera or scanner.
enum class LabelCode : std::uint8_t { Square, Bars };

/// What the labels are printed on.
enum class LabelStock : std::uint8_t {
    SheetA4,  ///< three across, eight down, 70 mm by 36 mm with 4.5 mm above and below
    Roll      ///< a page of 70 mm by 36 mm each
};

struct SampleLabels {
    PaperMark mark;
    std::vector<SampleLabel> labels;
    LabelCode code = LabelCode::Square;
    LabelStock stock = LabelStock::SheetA4;
    int skip = 0;  ///< places of the first sheet already used, 0 to 23
};

/// Labels of samples.
///
/// Inputs   a label at least, each with id and batch. Bars hold the printable ASCII characters.
/// Errors   BadInput; TooLarge over 5000 labels, or a text that does not fit a label even in the
///          smallest type.
[[nodiscard]] Result<std::string> sample_labels_pdf(const SampleLabels& labels);

}  // namespace bw::report
