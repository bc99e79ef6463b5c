// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "report/paper.hpp"

namespace bw::report {

/// Salt for one volume of finished water.
struct MixingAmount {
    std::string volume;  ///< "100 L"
    std::string water;   ///< purified water, "97.3 kg"
    std::string salt;    ///< "3.86 kg"
};

/// What right water shows at one temperature.
struct CheckReading {
    std::string temperature;           ///< "25", in degC
    std::string conductivity;          ///< mS/cm, as read at that temperature
    std::string relative_density;      ///< of the hydrometer named in the sheet
    std::string dial_seawater;         ///< refractometer with a seawater scale
    std::string dial_sodium_chloride;  ///< refractometer with a sodium chloride scale
};

/// End user's instructions for one product or batch.
struct MixingSheet {
    PaperMark mark;
    Maker maker;
    std::string product, batch, use_by;
    std::string salinity;            ///< of the finished water, "35.0 g/kg"
    std::string practical_salinity;  ///< "34.8"; optional
    std::string salt_per_litre;      ///< of finished water, "38.6 g"
    std::string salt_per_kg_water;   ///< of purified water, "39.7 g"
    std::string basis;               ///< "at 25 degC"; of litres
    std::vector<MixingAmount> amounts;
    std::string purified_water;  ///< "Conductivity at most 10 µS/cm, no chlorine"
    std::string temperature_low, temperature_high;  ///< of the dissolving run, degC
    std::vector<std::string> taking;                ///< part of a container: a sentence each
    std::string stir_time;                          ///< "30 min"
    std::string wait_time;                          ///< until the check; optional
    std::string cloudy_after;                       ///< "2 h": then do not use
    std::string use_within;                         ///< finished water, "24 h"; optional
    std::vector<std::string> instrument_notes;      ///< which corrections to set, a sentence each
    std::string density_reference;                  ///< "20 °C / 20 °C"; head of the column
    std::string dial_unit = "‰";                    ///< of the refractometers' columns
    std::vector<CheckReading> readings;
    std::vector<std::string> storing;  ///< beyond the paper's own sentences
    SafetyBox safety;
    std::string code_text;  ///< in the square code; empty: the paper's own
};

/// One step of the mixing: what to do, and the rest of the sentence.
struct MixingStep {
    std::string lead;  ///< "Salt into water."
    std::string rest;
};

/// The sentences of a sheet, in its order: those that its PDF prints and that its signer reads.
struct MixingWords {
    std::string rate;  ///< follows the salt per litre of finished water
    std::vector<MixingStep> steps;
    std::string if_cloudy;
    std::vector<std::string> storing;
    std::string code_text;  ///< in the square code, lines
};

[[nodiscard]] MixingWords mixing_words(const MixingSheet& sheet);

/// What the sheet's box on safety speaks of.
inline constexpr const char* kMixingSubject = "this salt";

/// What the sheet is printed on.
enum class MixingFormat : std::uint8_t { A5, NarrowA6 };

/// The mixing sheet. It says how to mix and how to check, and never promises biology.
///
/// Inputs   number, created, product, batch, use_by, salinity, salt_per_litre, salt_per_kg_water,
///          temperatures, stir_time and an amount at least.
/// Errors   as certificate_pdf; Refused where safety.decided_by is empty.
[[nodiscard]] Result<std::string> mixing_sheet_pdf(const MixingSheet& sheet, MixingFormat format);

}  // namespace bw::report
