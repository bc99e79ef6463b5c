// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "blend/budget.hpp"
#include "service/blend_grains.hpp"
#include "service/relative_figure.hpp"

namespace bw::service {

struct BlendBudgetRequest {
    io::Document recipe;
    std::vector<io::Document> materials;
    double batch_kg = 500;
    double sample_kg = 0.5;  ///< of blend, as it is tested
    double container_kg = 20;
    double portion_kg = 0.05;
    double reading_u = 0.01;  ///< of the user's salinity, relative
    double premix_u = 0;      ///< of what is less than 1 % of the blend
    bool mixed_before_use = false;
    std::optional<double> layered;  ///< how far a container layers on its way, 0 to 1 of the bound
    RelativeFigure band{0.02, {}}, analysis_u{0.01, {}};
    std::uint64_t draws = 100000, seed = 1;
    unsigned threads = 0;
    std::function<bool(double share)> progress = {};  ///< false: called off
};

/// One change of practice on top of those before it, and what is reached with them.
struct BudgetChange {
    std::string what;
    double worst_inside = 0;  ///< of the constituent that is then least often inside
    matter::Constituent worst;
    double all_inside = 0;
};

struct BlendBudgetReport {
    std::string recipe;
    bool invented = false;
    BlendBudgetRequest asked;  ///< without its documents
    std::vector<matter::Constituent> constituents;
    std::vector<double> band;
    double layered = 0;         ///< that was reckoned
    bool layers_known = true;   ///< false: no grain sizes, so no layers are reckoned
    bool layers_usual = false;  ///< so far that half of the constituents differ as is usual
    blend::BudgetOutcome outcome;
    bool kept = false;                  ///< the promise, as things are
    std::vector<BudgetChange> changes;  ///< each against the largest source of the one before
    bool stopped = false;               ///< more changes would help, and were not tried
    bool reached = false;               ///< the promise, with all of them
    std::vector<matter::Constituent> still_outside;  ///< with them, the worst first
    base::Notices notices;
};

/// A third of a shipped container differs from the blend by so much, for half of the constituents:
/// common practice (3 to 4 %), taken where nobody has tested their own way.
inline constexpr double kShippedDifference = 0.035;

/// How often each change is drawn: good to about one in 100.
inline constexpr std::uint64_t kChangeDraws = 4096;

/// In which share of all portions each constituent stays within the promise.
inline constexpr double kPromiseKept = 0.95;

/// The error budget of a blend from its lots to the user's water, by Monte Carlo.
///
/// Definition   blend::Budget with the layers that the grains' sizes allow, as far as is given or
/// as
///              makes kShippedDifference; weighing by the steps of the materials' scales
///              (step/sqrt 6); lots as their certificates say. The promise is kept when every
///              constituent of the user's water is inside its band in 95 of 100 portions. Changes:
///              that of the largest source behind the constituent that is least often inside, again
///              and again.
/// Errors       those of blend_grains and blend::Budget; UnknownName for a symbol; OutOfRange;
///              BadInput where no constituent is weighed for; Refused when called off.
[[nodiscard]] Result<BlendBudgetReport> blend_budget(const BlendBudgetRequest& request);

}  // namespace bw::service
