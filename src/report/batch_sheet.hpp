// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "base/result.hpp"
#include "report/paper.hpp"

namespace bw::report {

/// One weighing as it was recorded; all empty on a sheet that is to be filled in by hand.
struct SheetWeighing {
    std::string net, tare, by, at, scale;
    bool by_hand = false;      ///< typed, not read from the scale
    bool outside = false;      ///< outside the tolerance
    bool whole = true;         ///< with it the addition is judged; false: a part, others follow
    std::string correction{};  ///< "corrected from 0.43 kg by ... : reason"; optional
};

/// One line of the sheet: what to weigh, and what was weighed.
struct SheetAddition {
    std::string step;  ///< "1", "P2" in a premix
    std::string material, lot;
    std::string target;                    ///< in the unit of the line, as all masses of it
    std::string tolerance;                 ///< without the sign
    std::string scale;                     ///< to use
    std::string resolution;                ///< of the scale, with unit: "1 g"
    std::string unit = "kg";               ///< "g" or "kg"
    std::vector<SheetWeighing> weighings;  ///< empty: boxes to fill in
    std::size_t parts = 1;                 ///< weighings that the scale's capacity asks for
    std::string part{};                    ///< about so much each
};

/// A premix by geometric dilution: each step about as much again as is in the vessel.
struct SheetPremix {
    std::string name;  ///< "Trace premix"
    std::string vessel;
    std::vector<SheetAddition> additions;
    std::vector<std::string> steps;  ///< "Add 0.40 kg of sodium chloride, blend 5 min"
    std::size_t after = 0;  ///< so many of the sheet's additions are weighed before it is made
};

/// What is done and written down: blending, sieve, humidity.
struct SheetStep {
    std::string what;    ///< "Blend", "Sieve"
    std::string wanted;  ///< "20 min at 18 /min"
    std::string found;   ///< recorded; empty: a box
    std::string by, at;
};

/// One departure; words of the record.
struct SheetDeparture {
    std::string number, what, answer, state;
};

/// In against out.
struct SheetYield {
    std::string in, out, samples, sweepings, unexplained, share;  ///< kg; share "99.3 %"
};

/// The steps, weights and signatures of one batch.
struct BatchSheet {
    PaperMark mark;
    Maker maker;
    std::string batch, product, recipe, recipe_version, size;  ///< size: "500.0 kg"
    std::string planned_on, state;                             ///< "planned", "weighing", ...
    std::string line, vessel, previous_product;                ///< for the clearance
    SafetyBox safety;
    std::vector<std::string> before_start;  ///< checks, a box each
    std::vector<SheetAddition> additions;   ///< in the order of weighing
    std::vector<SheetPremix> premixes;      ///< in the order of making
    std::vector<SheetStep> steps;           ///< blending, sieving, times
    std::vector<std::string> sampling;      ///< sentences of the plan
    std::vector<SheetDeparture> departures;
    SheetYield yield;                        ///< all empty: boxes to fill in
    std::vector<SignatureBlock> signatures;  ///< with an empty meaning: lines to sign
};

/// The batch sheet on A4, landscape.
///
/// Inputs   number, created, batch, product, recipe version, an addition at least.
/// Errors   as certificate_pdf. Without a decision on safety (safety.decided_by empty) the box says
///          so and that nobody may start.
[[nodiscard]] Result<std::string> batch_sheet_pdf(const BatchSheet& sheet);

}  // namespace bw::report
