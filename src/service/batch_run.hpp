// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "service/departures.hpp"
#include "service/desk.hpp"
#include "works/making_next.hpp"
#include "works/sheet_mass.hpp"

namespace bw::service {

/// A net mass as somebody reads it.
struct WeighingEntry {
    std::int64_t step = 0;
    std::string lot;    ///< scanned or typed from the bag
    std::string scale;  ///< empty: the one of the sheet
    std::string net, tare;
    bool by_hand = true;
    bool confirmed = false;  ///< asked about (works::doubt_about) and right as it is
};

/// What became of an entry.
struct WeighingOutcome {
    works::Weighing weighing;
    works::Addition addition;
    works::AdditionState state;
    works::MassForm form;  ///< in which masses of the line are written
    store::Receipt receipt = {};
};

/// Records weighings, each as an act of its own; all or none of them. Request numbers are the
/// intent's, with "/n" after it.
///
/// Errors   those of works::may_record, each naming the batch and the step; BadInput on field
///          "confirmed" for a mass that works::doubt_about asks about; BadUnit for a mass without
///          its unit; Refused for a lot that may not be weighed, or runs short, or a scale
///          that is not in service.
[[nodiscard]] Result<std::vector<WeighingOutcome>> weigh(const Desk& desk,
                                                         const std::string& number,
                                                         const std::vector<WeighingEntry>& entries,
                                                         const Intent& intent);

/// Corrects a weighing: a new version with the reason; the first stays in the books.
///
/// Inputs   confirmed: that a net mass which works::doubt_about asks about is right as it is.
/// Errors   as weigh.
[[nodiscard]] Result<store::Receipt> correct_weighing(const Desk& desk, const std::string& id,
                                                      const std::string& net, bool confirmed,
                                                      const Intent& intent);

/// How the masses of each addition are written, in the order of the sheet.
[[nodiscard]] Result<std::vector<works::MassForm>> mass_forms_of(const store::Books& books,
                                                                 const works::Batch& batch);

/// Says that everything is in and blended.
///
/// Errors   Refused naming the additions that are short or over without a departure about them.
[[nodiscard]] Result<store::Receipt> blend_batch(const Desk& desk, const std::string& number,
                                                 const Intent& intent);

/// Takes down what came out.
///
/// Errors   Refused before blending; OutOfRange for a mass below 0, or more out than in by over 1
/// %.
[[nodiscard]] Result<store::Receipt> close_batch(const Desk& desk, const std::string& number,
                                                 const works::Yield& yield, const Intent& intent);

/// All that was weighed for a batch, by step and part.
[[nodiscard]] Result<std::vector<works::Weighing>> weighings_of(const store::Books& books,
                                                                const std::string& number);

/// What was taken of a batch.
struct SampleTaking {
    std::string batch;
    std::int64_t increments = 0;
    std::string mass;
    std::string where;
    std::string split_by;
};
[[nodiscard]] Result<store::Receipt> take_sample(const Desk& desk, const SampleTaking& taking,
                                                 const Intent& intent);

}  // namespace bw::service
