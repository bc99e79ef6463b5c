// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace bw::report {

/// Papers are a function of these plain structs alone: the same struct gives the same bytes.
///
/// Text is UTF-8 on one line. Characters that the typeface lacks, control characters and text of
/// another direction are refused with the place. Numbers are given as decimal text ("19350",
/// "-0.4", "< 0.5"); the paper sets groups of three and the minus sign (figure.hpp). Dates are ISO
/// 8601 text as they are to be read, times with their zone. An optional field is left empty where
/// nothing is known; the paper then says "not stated" where a reader would look for it, and leaves
/// the line out elsewhere.

/// Who issues the paper.
struct Maker {
    std::string name;
    std::vector<std::string> address;  ///< a line each
    std::string contact;               ///< where a reader asks: mail, telephone; optional
};

/// What makes a paper this paper.
struct PaperMark {
    std::string number;             ///< document number, "C26-0142-K"
    std::string created;            ///< of the record, UTC: "2026-03-09T14:05:00Z"; in the file too
    std::string trail_mark;         ///< "1834-0123456789abcdef"; optional for a mixing sheet
    std::string content_mark;       ///< first 16 hex of the SHA-256 of what was signed; optional
    std::string verification_code;  ///< optional: papers other than a certificate have none
    bool invented = false;          ///< a banner on each page says that nothing in it is real
    bool draft = false;             ///< a banner on each page says that it is not issued
};

/// One signature as it is printed.
struct SignatureBlock {
    std::string name;
    std::string duty;     ///< "quality manager"
    std::string meaning;  ///< "released"; empty: a line to sign by hand
    std::string at;       ///< "2026-03-09 15:05 +01:00 (Europe/Berlin)"
};

/// State of a value or a paper: shown as a word, a shape and a fill, so that it reads in black and
/// white.
enum class Status : std::uint8_t {
    Within,
    TooClose,
    Outside,
    OnHold,
    Information,
    NotTested,
};

/// "Within limits", "Too close to call", ...
[[nodiscard]] std::string_view name(Status status);

/// An official hazard statement, "H319" with "Causes serious eye irritation"; the code may be
/// empty, the text may not.
struct HazardStatement {
    std::string code;
    std::string text;
    std::string of{};  ///< which materials it is of; optional
};

/// What a safety box says: decided and signed by a named person, never by the program.
struct SafetyBox {
    std::string signal_word;                   ///< "Warning", "Danger" or empty
    std::vector<HazardStatement> hazards;      ///< H statements
    std::vector<HazardStatement> precautions;  ///< P statements
    std::vector<std::string> cautions;         ///< own sentences: dust, heat of solution
    std::string decided_by;                    ///< "A. Person, 2026-01-04"; empty: not decided
    std::vector<std::string> pictograms;       ///< "GHS07" and the like: drawn and named
    std::vector<std::string> signed_for{};     ///< sentences: what was signed and by whom; empty:
                                               ///< "Decided by" and decided_by
};

/// What every box on safety ends with, before who has decided.
[[nodiscard]] std::string_view safety_precedence();
/// What stands in a box without hazard statements; subject "this salt".
[[nodiscard]] std::string no_hazard_words(const std::string& subject);

}  // namespace bw::report
