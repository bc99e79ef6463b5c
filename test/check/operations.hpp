// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "check/case_file.hpp"

namespace bw::check {

/// What an operation found, by the names that a case's `expect` uses.
struct Findings {
    std::map<std::string, double> numbers;
    std::map<std::string, std::string> words;
};

/// Names of all operations, see README.md beside this file.
[[nodiscard]] std::vector<std::string_view> operation_names();

/// Carries out what the case names.
///
/// Errors   UnknownName for an operation that is not known; BadInput for a `given` that it cannot
/// read; and the
///          problems of the functions under check, which a case may expect.
[[nodiscard]] Result<Findings> perform(const Case& c);

// The operations.
[[nodiscard]] Result<Findings> salts_to_ions(const Case& c);
[[nodiscard]] Result<Findings> ions_to_salts(const Case& c);
[[nodiscard]] Result<Findings> solve(const Case& c);
[[nodiscard]] Result<Findings> recipe_from_files(const Case& c);
[[nodiscard]] Result<Findings> reference_composition(const Case& c);
[[nodiscard]] Result<Findings> charge_of_mass_fractions(const Case& c);
[[nodiscard]] Result<Findings> seawater_density(const Case& c);
[[nodiscard]] Result<Findings> seawater_constants(const Case& c);
[[nodiscard]] Result<Findings> carbonate_system(const Case& c);
[[nodiscard]] Result<Findings> practical_salinity(const Case& c);
[[nodiscard]] Result<Findings> conductivity_of_seawater(const Case& c);
[[nodiscard]] Result<Findings> reference_density(const Case& c);
[[nodiscard]] Result<Findings> specific_gravity(const Case& c);
[[nodiscard]] Result<Findings> refractive_index_of_seawater(const Case& c);
[[nodiscard]] Result<Findings> refractive_index_of_water(const Case& c);
[[nodiscard]] Result<Findings> nacl_solution(const Case& c);
[[nodiscard]] Result<Findings> electrolyte(const Case& c);
[[nodiscard]] Result<Findings> added_salt(const Case& c);
[[nodiscard]] Result<Findings> raised_water(const Case& c);
[[nodiscard]] Result<Findings> conversion(const Case& c);
[[nodiscard]] Result<Findings> formula_weight(const Case& c);
[[nodiscard]] Result<Findings> instrument_shows(const Case& c);
[[nodiscard]] Result<Findings> compensation_error(const Case& c);
[[nodiscard]] Result<Findings> salt_solution(const Case& c);
[[nodiscard]] Result<Findings> calibration_fluid(const Case& c);
[[nodiscard]] Result<Findings> vat_plan(const Case& c);
[[nodiscard]] Result<Findings> vat_mend(const Case& c);
[[nodiscard]] Result<Findings> vat_mix(const Case& c);
[[nodiscard]] Result<Findings> single_salt(const Case& c);
[[nodiscard]] Result<Findings> species_coefficients(const Case& c);
[[nodiscard]] Result<Findings> water_equilibrium(const Case& c);
[[nodiscard]] Result<Findings> solubility(const Case& c);
[[nodiscard]] Result<Findings> evaporation(const Case& c);
[[nodiscard]] Result<Findings> settling(const Case& c);
[[nodiscard]] Result<Findings> growth(const Case& c);
[[nodiscard]] Result<Findings> delay_of_onset(const Case& c);
[[nodiscard]] Result<Findings> onset_of_carbonate(const Case& c);
[[nodiscard]] Result<Findings> seeded_loss(const Case& c);
[[nodiscard]] Result<Findings> saturated_film(const Case& c);
[[nodiscard]] Result<Findings> last_film(const Case& c);
[[nodiscard]] Result<Findings> bag_reaction(const Case& c);
[[nodiscard]] Result<Findings> decarbonation(const Case& c);
[[nodiscard]] Result<Findings> summary(const Case& c);
[[nodiscard]] Result<Findings> one_way_variance(const Case& c);
[[nodiscard]] Result<Findings> grubbs_test(const Case& c);
[[nodiscard]] Result<Findings> cochran_limit(const Case& c);
[[nodiscard]] Result<Findings> critical_range(const Case& c);
[[nodiscard]] Result<Findings> homogeneity_factors(const Case& c);
[[nodiscard]] Result<Findings> homogeneity(const Case& c);
[[nodiscard]] Result<Findings> combining(const Case& c);
[[nodiscard]] Result<Findings> conformity(const Case& c);
[[nodiscard]] Result<Findings> global_risks(const Case& c);
[[nodiscard]] Result<Findings> alkalinity_titration(const Case& c);
[[nodiscard]] Result<Findings> summary_of_pairs(const Case& c);
[[nodiscard]] Result<Findings> straight_line(const Case& c);
[[nodiscard]] Result<Findings> addition_line(const Case& c);
[[nodiscard]] Result<Findings> uncertainty_budget(const Case& c);
[[nodiscard]] Result<Findings> correlated_means(const Case& c);
[[nodiscard]] Result<Findings> between_groups(const Case& c);
[[nodiscard]] Result<Findings> test_plan(const Case& c);
[[nodiscard]] Result<Findings> extreme_deviates(const Case& c);
[[nodiscard]] Result<Findings> weighted_chart(const Case& c);
[[nodiscard]] Result<Findings> chart_run_length(const Case& c);
[[nodiscard]] Result<Findings> process_capability(const Case& c);
[[nodiscard]] Result<Findings> tolerance_factor(const Case& c);
[[nodiscard]] Result<Findings> gy_mass(const Case& c);
[[nodiscard]] Result<Findings> scoop_scatter(const Case& c);
[[nodiscard]] Result<Findings> charge_balance(const Case& c);
[[nodiscard]] Result<Findings> closed_cell(const Case& c);

}  // namespace bw::check
