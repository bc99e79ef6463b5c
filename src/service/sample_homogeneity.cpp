// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/sample_homogeneity.hpp"

#include <cmath>

#include <fmt/format.h>

#include "assay/calibration_line.hpp"
#include "base/decimal.hpp"
#include "stat/quantiles.hpp"
#include "stat/tolerance.hpp"

namespace bw::service {
namespace {

constexpr double kShare = 0.95;
constexpr double kSure = 0.05;

Result<void> add_trend(HomogeneityReport& out) {
    std::vector<assay::CalibrationPoint> points;
    for (std::size_t i = 0; i < out.unit_means.size(); ++i) {
        points.push_back({static_cast<double>(i + 1), out.unit_means[i], 1});
    }
    BW_TRY(line, assay::fit_line(points));
    out.slope_per_unit = line.slope;
    out.slope_p =
        line.u_slope > 0
            ? 2 * (1 - stat::student_t_cdf(std::abs(line.slope) / line.u_slope, line.freedom))
            : 1;
    if (out.slope_p < kSure) {
        out.notices.push_back(
            {"trend",
             "The units change with their order: look for a segregation while the batch "
             "was filled, or a drift of the instrument."});
    }
    return {};
}

void add_notices(const HomogeneityRequest& request, HomogeneityReport& out) {
    constexpr std::size_t kUsual = 10;
    if (request.units.size() < kUsual) {
        out.notices.push_back({"few_units", fmt::format("{} units were tested, {} are usual.",
                                                        request.units.size(), kUsual)});
    }
    if (out.judged.cochran.beyond()) {
        const std::size_t worst = out.judged.cochran.suspect;
        out.notices.push_back(
            {"bad_pair",
             fmt::format("The results of unit {} lie farther apart than chance explains: look for "
                         "the cause before the rest is judged.",
                         worst < request.names.size() ? request.names[worst]
                                                      : fmt::format("{}", worst + 1))});
    }
    if (out.judged.significant && out.judged.sufficient) {
        out.notices.push_back({"significant_yet_sufficient",
                               "The units differ, as far as the method can see, but by less than "
                               "the goal allows: significant is not the same as unfit."});
    }
    if (!out.judged.method_good_enough) {
        out.notices.push_back(
            {"poor_method",
             fmt::format(
                 "The method scatters by {} % of the mean, not below half of the goal's "
                 "sigma ({} %): it could hide differences. More results per unit help.",
                 base::format_significant(100 * out.judged.within_sd / std::abs(out.mean), 2),
                 base::format_significant(100 * out.sigma / std::abs(out.mean), 2))});
    }
}

/// Reads what lies between the units against the chance of their grains.
void add_floor(double by_chance, HomogeneityReport& out) {
    const double floor = by_chance * std::abs(out.mean);
    const double between = out.judged.between_sd;
    out.chance_sd = floor;
    out.mixing_sd = std::sqrt(std::max(0.0, between * between - floor * floor));
    const std::string per_cent = base::format_significant(100 * by_chance, 2);
    const bool above_goal = floor * floor > out.judged.largest_variance;
    if (between < floor && above_goal) {
        out.notices.push_back(
            {"chance_unlike",
             fmt::format("The units differ by less than grains alone should give ({} %): that "
                         "figure is of other samples or of coarser grains, or it was luck.",
                         per_cent)});
    } else if (above_goal) {
        out.notices.push_back(
            {"chance_above_goal",
             fmt::format("Grains alone let units of this mass differ by {} %, more than the goal "
                         "allows: no mixing meets it. Test larger samples, or blend finer grains.",
                         per_cent)});
    } else if (between <= floor) {
        out.notices.push_back(
            {"chance_only", fmt::format("The units differ by no more than the chance of their "
                                        "grains ({} %): better mixing cannot make them more alike.",
                                        per_cent)});
    }
}

}  // namespace

Result<HomogeneityReport> sample_homogeneity(const HomogeneityRequest& request) {
    if (!(request.goal > 0 && request.goal < 1)) {
        return fail(ProblemCode::BadInput, "the goal is a share above 0 and below 100 %");
    }
    if (request.by_chance && !(*request.by_chance > 0 && *request.by_chance < 1)) {
        return fail(ProblemCode::BadInput,
                    "what chance alone gives is a share above 0 and below 100 %");
    }
    HomogeneityReport out;
    for (const auto& unit : request.units) {
        if (unit.empty()) {
            return fail(ProblemCode::BadInput, "a unit has no result");
        }
        out.unit_means.push_back(stat::summarize(unit).mean);
    }
    if (out.unit_means.empty()) {
        return fail(ProblemCode::BadInput, "there are no units");
    }
    const stat::Summary all = stat::summarize(out.unit_means);
    if (all.mean == 0) {
        return fail(ProblemCode::BadInput, "results of mean 0 have no goal in per cent");
    }
    out.mean = all.mean;
    out.unit_sd = all.sd;
    out.sigma = std::abs(all.mean) * request.goal / 2;
    BW_TRY(judged, assay::judge_homogeneity(request.units, out.sigma));
    out.judged = judged;
    out.factor = stat::tolerance_factor(static_cast<int>(request.units.size()), kShare, kShare);
    out.tolerance_low = out.mean - out.factor * out.unit_sd;
    out.tolerance_high = out.mean + out.factor * out.unit_sd;
    out.verdict = !judged.sufficient           ? HomogeneityVerdict::NotHomogeneous
                  : !judged.method_good_enough ? HomogeneityVerdict::CannotTell
                                               : HomogeneityVerdict::Homogeneous;
    BW_CHECK(add_trend(out));
    add_notices(request, out);
    if (request.by_chance) {
        add_floor(*request.by_chance, out);
    }
    return out;
}

}  // namespace bw::service
