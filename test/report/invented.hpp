// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "report/batch_sheet.hpp"
#include "report/certificate.hpp"
#include "report/chart.hpp"
#include "report/mixing_sheet.hpp"
#include "report/sample_label.hpp"

/// Papers full of invented data: no maker, product, person or result in them is real.
namespace bw::test {

[[nodiscard]] report::Certificate invented_certificate();
[[nodiscard]] report::BatchSheet invented_batch_sheet();
[[nodiscard]] report::SampleLabels invented_labels();
[[nodiscard]] report::MixingSheet invented_mixing_sheet();
[[nodiscard]] report::TrendChart invented_trend();
[[nodiscard]] report::TitrationChart invented_titration();

}  // namespace bw::test
