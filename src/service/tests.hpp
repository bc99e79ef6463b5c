// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "service/desk.hpp"

namespace bw::service {

/// A test portion as somebody weighs and dissolves it.
struct PortionEntry {
    std::string sample;
    std::string salt, water;  ///< with their units
    works::StrengthBy strength_by = works::StrengthBy::DryMass;
    std::string salinity;     ///< practical, as read; empty with dry mass
    std::string salinity_u;   ///< its standard uncertainty
    std::string temperature;  ///< "20 degC"; empty: 20 degC
    std::string density;      ///< "1.0248 kg/L"; empty: that of seawater
};

/// Takes down a test portion; the batch is under test from then on.
///
/// Errors   BadUnit, BadNumber; those of works::check; Refused for a batch that is not sampled yet,
///          or decided. Answer: the portion's id.
[[nodiscard]] Result<store::Receipt> keep_portion(const Desk& desk, const PortionEntry& entry,
                                                  const Intent& intent);

/// Keeps a test portion without using it; the reason is the intent's.
///
/// Errors   those of works::set_aside: its results are set aside first.
[[nodiscard]] Result<store::Receipt> set_portion_aside(const Desk& desk, const std::string& id,
                                                       const Intent& intent);

/// All test portions of a batch, by sample and number.
[[nodiscard]] Result<std::vector<Kept<works::TestPortion>>> portions_of(const store::Books& books,
                                                                        const std::string& batch);

/// A result as somebody types it, or a file has it.
struct ResultEntry {
    std::string portion;
    std::string analyte;
    std::string method;
    std::string digits;             ///< "412.3", "< 0.5"
    std::string unit;               ///< empty: the method's
    std::string dilution;           ///< empty: 1
    std::string read_at;            ///< instant or day; empty: now
    std::string place;              ///< "C12" of an import; empty: typed
    std::string blank = {};         ///< to be taken off, in the unit; empty: nothing
    std::string check_sample = {};  ///< read in place of a portion; empty: a portion is
};

/// The table that results were imported from.
struct ResultSource {
    std::string file_name;
    std::string bytes;
    std::string column_map;  ///< its text, kept beside the table
};

/// Keeps results as one run: all or none.
///
/// Errors   each names its line: those of works::worked_out and works::may_test; NotFound for a
///          portion or method; Refused for a batch that is decided, and for readings that are those
///          of another run (works::repeats, or the same table) unless the intent says why;
///          BadInput where a method's check sample is not read, or one is read that it does not
///          have. Answer: the run's number.
[[nodiscard]] Result<store::Receipt> enter_results(const Desk& desk,
                                                   const std::vector<ResultEntry>& entries,
                                                   const std::optional<ResultSource>& source,
                                                   const Intent& intent);

/// The run that entries would make, without writing it.
[[nodiscard]] Result<works::Run> preview_run(const Desk& desk,
                                             const std::vector<ResultEntry>& entries);

/// Checks results against their source: all that wait, or the lines named. Nobody checks their own.
[[nodiscard]] Result<store::Receipt> check_run(const Desk& desk, const std::string& number,
                                               std::span<const std::int64_t> lines,
                                               const Intent& intent);

/// Keeps results without using them, all of the lines or none; the reason is the intent's.
[[nodiscard]] Result<store::Receipt> set_results_aside(const Desk& desk, const std::string& number,
                                                       std::span<const std::int64_t> lines,
                                                       const Intent& intent);

/// Corrects what was typed; it has to be checked and counted again.
struct ResultCorrection {
    std::string run;
    std::int64_t line = 0;
    std::string digits;
    std::string unit, dilution, portion;  ///< empty: as before
};
[[nodiscard]] Result<store::Receipt> correct_result(const Desk& desk,
                                                    const ResultCorrection& correction,
                                                    const Intent& intent);

/// Corrects the reading of a check sample: see works::correct_check_in.
struct CheckCorrection {
    std::string run;
    std::string check_sample, analyte;
    std::string method;  ///< empty: the only one that read it
    std::string digits;
    std::string unit, dilution;  ///< empty: as before
};
[[nodiscard]] Result<store::Receipt> correct_check(const Desk& desk,
                                                   const CheckCorrection& correction,
                                                   const Intent& intent);

/// Counts the checked results of a run and signs it. A batch whose limits are all tested is ready.
[[nodiscard]] Result<store::Receipt> count_run(const Desk& desk, const std::string& number,
                                               const Signing& signing, const Intent& intent);

/// The bytes that a run's signature is of: its record without state and signature.
[[nodiscard]] std::string signed_text(works::Run run);

/// Runs that hold results of a batch, by number.
[[nodiscard]] Result<std::vector<Kept<works::Run>>> runs_of(const store::Books& books,
                                                            const std::string& batch);

}  // namespace bw::service
