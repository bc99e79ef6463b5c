// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <memory>
#include <optional>
#include <vector>

#include "path/verdict.hpp"
#include "service/limit_loop.hpp"

namespace bw::service {

/// One answer of the search, with its safe time where one is asked.
struct LimitAttempt {
    std::unique_ptr<LimitLoop> loop;
    recipe::Solution solution;  ///< by weighings of any fineness
    double ln_omega = 0;        ///< of aragonite, where a safe time is asked
    std::optional<path::SafeTime> time;

    [[nodiscard]] bool solved() const { return solution.verdict == recipe::Verdict::Solved; }
};

/// The search for one target with a safe time or without; keeps the models of the brine between
/// tries.
///
/// Definition   the safe time falls as Omega of aragonite rises: a limit on that is sought with
///              which the course of the vat may be counted on to stay clear as long as asked,
///              within 0.1 %.
/// Errors       those of LimitLoop and recipe_safe_time.
class LimitSearch {
public:
    LimitSearch(const recipe::Target& target, const std::vector<recipe::Supply>& supplies,
                const recipe::SolveOptions& options)
        : target_(target), supplies_(supplies), options_(options) {}

    /// The recipe that holds every limit, or the try that came nearest.
    [[nodiscard]] Result<LimitAttempt> go();

    /// Makes weighings of an attempt; where rounding shortens the safe time, the limit on Omega is
    /// drawn in.
    [[nodiscard]] Result<recipe::Solution> weighed(LimitAttempt& made);

    [[nodiscard]] WaterSaturation& water() { return water_; }

private:
    [[nodiscard]] std::vector<recipe::SaturationLimit> limits(std::optional<double> ln_omega) const;
    [[nodiscard]] Result<bool> is_long(const std::vector<double>& dose_kg_per_kg);
    [[nodiscard]] Result<std::optional<recipe::Solution>> with_fewer(const LimitAttempt& made);
    static constexpr int kTries = 12;

    [[nodiscard]] recipe::SaturationLimit aragonite(double ln_omega) const;
    [[nodiscard]] const std::optional<recipe::SafeTimeLimit>& asked() const {
        return target_.limits.safe_time;
    }
    [[nodiscard]] double lack(const LimitAttempt& a) const;
    [[nodiscard]] bool is_long(const LimitAttempt& a) const { return lack(a) <= 0; }
    [[nodiscard]] Result<LimitAttempt> attempt(std::optional<double> ln_omega);
    [[nodiscard]] Result<void> time_it(const recipe::Solution& solution, LimitAttempt& out);
    [[nodiscard]] Result<LimitAttempt> at_least_omega(const LimitAttempt& above,
                                                      LimitAttempt tried);
    [[nodiscard]] Result<LimitAttempt> between(LimitAttempt low, LimitAttempt high);

    const recipe::Target& target_;
    const std::vector<recipe::Supply>& supplies_;
    const recipe::SolveOptions& options_;
    WaterSaturation water_;
};

}  // namespace bw::service
