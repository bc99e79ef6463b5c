// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "io/table_columns.hpp"

namespace bw::io {

/// Numbers the readings of one sample, analyte and wavelength; refuses the second of a sample
/// unless the map keeps repeats. Blanks and check samples may be read as often as one likes.
void number_repeats(ResultImport& import, const ColumnMap& map, Refusals& refusals);

/// Carries out the map's word on several wavelengths of one element: both, the first, or their
/// mean. A mean of readings in different units, or of one that is no number, is refused.
void settle_lines(ResultImport& import, const ColumnMap& map, Refusals& refusals);

/// Where the map says so, states for each reading the mean of its analyte's blanks; refuses
/// readings without such a blank, and blanks below a limit.
void state_blanks(ResultImport& import, const ColumnMap& map, Refusals& refusals);

}  // namespace bw::io
