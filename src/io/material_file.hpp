// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "io/document.hpp"
#include "matter/material.hpp"

namespace bw::io {

/// Most materials that one run solves for.
inline constexpr std::size_t kMostMaterials = 300;

/// A material with the place it was read from, for messages that come later.
struct PlacedMaterial {
    matter::Material material;
    matter::MakeUp make_up;
    Place place;
};

/// Reads a file of kind "materials"; docs/reference/files.md describes it.
///
/// Errors   as read_target, and those of matter::make_up with their place.
[[nodiscard]] Result<std::vector<PlacedMaterial>> read_materials(const Document& document);

/// A lot: what differs from the catalogue, and its state.
struct PlacedLot {
    matter::Material differs;  ///< name is the material's, lot the number
    std::string state;
    std::string supplier;
    std::string use_by;           ///< last day, ISO 8601
    std::string stock;            ///< as typed
    const Node* table = nullptr;  ///< in the document, which must outlive it
    Place place, supplier_place;
};

/// Whether a text is a day of the calendar, "2026-11-26".
[[nodiscard]] bool is_day(std::string_view text);
/// Says of a text that is none what is wrong with it: not so written, or not in the calendar.
[[nodiscard]] std::string not_a_day(std::string_view text);

/// Reads a file of kind "lots".
[[nodiscard]] Result<std::vector<PlacedLot>> read_lots(const Document& document);

}  // namespace bw::io
