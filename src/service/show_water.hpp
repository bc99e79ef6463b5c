// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "brine/water.hpp"
#include "io/document.hpp"
#include "io/water_file.hpp"
#include "service/water_sheet.hpp"

namespace bw::service {

/// A water to be looked at: a file of kind "water", or of kind "recipe" with its materials.
struct WaterRequest {
    io::Document water;
    std::vector<io::Document> materials;       ///< of a recipe
    std::optional<unit::Celsius> temperature;  ///< instead of the file's
};

struct WaterReport {
    io::WaterSpec spec;
    brine::WaterState state;
    matter::Amounts mol_per_kg;  ///< with alkalinity and carbon as solved
    WaterSheet sheet;
    /// By which amounts are shown per litre: that of the file's litres, else of the sheet.
    std::optional<double> kg_per_litre;
    std::optional<unit::Celsius> file_temperature;  ///< where another one was asked for
    base::Notices notices;                          ///< of the reader, the model and the sheet
};

/// Reads a water and works out all that the model tells of it.
///
/// Definition   at another temperature than the file's, the water keeps its constituents; stated
///              pH is turned into alkalinity and carbon at the file's temperature first, stated
///              pCO2 is kept.
/// Errors       those of the readers and of brine::water_state; OutOfRange for charges off balance
///              by more than 5 %; BadInput for a recipe without its materials.
[[nodiscard]] Result<WaterReport> show_water(const WaterRequest& request);

}  // namespace bw::service
