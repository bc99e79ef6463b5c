// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/path_run.hpp"

#include <algorithm>
#include <array>
#include <set>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "brine/seawater_constants.hpp"
#include "path/gas_exchange.hpp"
#include "path/onset.hpp"
#include "service/dry_blend.hpp"
#include "service/in_parts.hpp"
#include "service/path_advice.hpp"
#include "service/show_water.hpp"
#include "unit/factors.hpp"

namespace bw::service {
namespace {

constexpr std::array kWindow{10.0, 15.0, 18.0, 20.0, 22.0, 23.0, 24.0, 25.0, 26.0, 28.0, 30.0};
constexpr double kMgPerG = 1000;

Result<std::size_t> part_named(const path::VatPlan& plan, std::string_view material,
                               std::string_view option) {
    std::vector<std::string> names;
    for (std::size_t p = 0; p < plan.parts.size(); ++p) {
        if (plan.parts[p].name == material) {
            return p;
        }
        names.push_back(plan.parts[p].name);
    }
    return fail(ProblemCode::UnknownName,
                fmt::format("{} is not a part of the recipe: its parts are {}",
                            base::quoted(material), base::join_words(names)),
                {"", 0, std::string(option)});
}

Result<void> set_additions(const PathRequest& request, path::VatPlan& plan) {
    plan.additions = all_at_once(plan.parts.size());
    std::set<std::size_t> named;
    for (const PathRequest::Timed& t : request.later) {
        BW_TRY(p, part_named(plan, t.material, "--add"));
        if (!named.insert(p).second) {
            return fail(ProblemCode::BadInput,
                        fmt::format("{} is to go in twice; name it once", base::quoted(t.material)),
                        {"", 0, "--add"});
        }
        plan.additions[p].at_h = t.at_h;
    }
    for (const std::string& material : request.dissolved_before) {
        BW_TRY(p, part_named(plan, material, "--predissolved"));
        if (plan.parts[p].solid.mineral) {
            return fail(ProblemCode::BadInput,
                        fmt::format("{} dissolves too little to go in as a solution: leave it "
                                    "among the salts",
                                    base::quoted(material)),
                        {"", 0, "--predissolved"});
        }
        plan.additions[p].dissolved_before = true;
    }
    return {};
}

/// Gas exchange of the plan, in 1/h.
Result<double> exchange_per_h(const GasExchange& g, const path::VatPlan& plan) {
    const int ways = static_cast<int>(g.per_h.has_value()) +
                     static_cast<int>(g.air_volumes_per_h.has_value()) +
                     static_cast<int>(g.film_m_per_h.has_value());
    if (ways > 1) {
        return fail(ProblemCode::BadInput,
                    "the gas exchange is stated in more than one way; keep one",
                    {"", 0, g.film_m_per_h ? "--film" : "--stone"});
    }
    const unit::Celsius t(plan.start_celsius);
    if (g.film_m_per_h) {
        return path::surface_exchange_per_h(*g.film_m_per_h, g.depth_m, t);
    }
    if (g.air_volumes_per_h) {
        constexpr double kUsualSalinity = 35;
        BW_TRY(liquid, path::liquid_of(unit::GramPerKg(kUsualSalinity), t));
        BW_TRY(sea, brine::seawater_constants(unit::PracticalSalinity(kUsualSalinity), t));
        path::AirStone stone{*g.air_volumes_per_h};
        stone.submergence_m = g.depth_m;
        return path::air_stone_exchange_per_h(stone, liquid, sea.k0);
    }
    return g.per_h.value_or(plan.kla_per_h);
}

bool stated(const GasExchange& g) { return g.per_h || g.air_volumes_per_h || g.film_m_per_h; }

std::vector<AtTemperature> window(const path::VatPlan& plan, double keep_h) {
    std::vector<std::optional<AtTemperature>> found(kWindow.size());
    in_parts(kWindow.size(), 0, [&](std::size_t begin, std::size_t end) {
        for (std::size_t i = begin; i < end; ++i) {
            const path::VatPlan there = kept_at(plan, kWindow[i]);
            if (const auto course = path::run_course(there)) {
                const path::Verdict v = path::judge(there, *course, keep_h);
                found[i] = {kWindow[i],       v.risk,
                            v.safe,           course->moments.back().omega_aragonite,
                            course->complete, v.against};
            }
        }
    });
    std::vector<AtTemperature> out;
    for (const auto& at : found) {
        if (at) {
            out.push_back(*at);
        }
    }
    return out;
}

std::optional<PathReport::AtRest> at_rest_of(const WaterReport& fresh, const path::VatPlan& plan) {
    const auto model = brine::WaterModel::at(fresh.spec.input.temperature);
    if (!model || !(plan.kla_per_h > 0)) {
        return std::nullopt;
    }
    const auto found = brine::equilibrate(*model, fresh.spec.input, {}, plan.air_co2_atm);
    if (!found) {
        return std::nullopt;
    }
    PathReport::AtRest out;
    out.ph_total = found->state.ph_total;
    for (const brine::SaturationState& s : found->state.saturation) {
        out.omega_aragonite = s.solid->key == "aragonite" ? s.omega : out.omega_aragonite;
    }
    return out;
}

std::optional<PathReport::Limit> limit_of(const WaterReport& fresh, const path::VatPlan& plan,
                                          const std::vector<path::Exposure>& exposures) {
    const auto model = brine::WaterModel::at(fresh.spec.input.temperature);
    if (!model) {
        return std::nullopt;
    }
    constexpr std::size_t kMostSolids = 8;  // as many as equilibrate() takes
    std::vector<path::Exposure> by_peak = exposures;
    std::ranges::stable_sort(by_peak, std::ranges::greater(), &path::Exposure::peak_omega);
    std::vector<std::string_view> solids;
    for (std::size_t i = 0; i < std::min(kMostSolids, by_peak.size()); ++i) {
        solids.push_back(by_peak[i].solid->key);
    }
    const auto open = plan.kla_per_h > 0 ? std::optional(plan.air_co2_atm) : std::nullopt;
    const auto found = brine::equilibrate(*model, fresh.spec.input, solids, open);
    if (!found) {
        return std::nullopt;
    }
    PathReport::Limit out;
    out.ph_total = found->state.ph_total;
    for (const brine::SaturationState& s : found->state.saturation) {
        if (s.solid->key == "aragonite") {
            out.omega_aragonite = s.omega;
        }
    }
    for (const brine::Precipitate& p : found->precipitates) {
        if (p.g_per_kg > 0) {
            out.fallen.push_back({p.solid, p.g_per_kg * kMgPerG});
        }
    }
    return out;
}

PathReport::Losses losses_of(const path::VatPlan& plan, const path::Moment& last) {
    constexpr double kCarbonateMgPerMol = 100'087;
    constexpr double kCalciumMgPerMol = 40'078;
    constexpr double kMilli = 1e3;
    constexpr double kStrontiumPartition = 1.13;
    double calcium = 0;
    double alkalinity = 0;
    for (const path::Part& part : plan.parts) {
        calcium += part.brings.mol[brine::index(brine::Total::Ca)];
        alkalinity += part.brings.alkalinity_eq;
    }
    const double fallen = last.caco3_mg / kCarbonateMgPerMol;
    PathReport::Losses out;
    out.calcium_mg_per_kg_water = fallen * kCalciumMgPerMol;
    out.calcium_share = calcium > 0 ? fallen / calcium : 0;
    out.alkalinity_meq_per_kg_water = 2 * fallen * kMilli;
    out.alkalinity_share = alkalinity > 0 ? 2 * fallen / alkalinity : 0;
    out.strontium_share = kStrontiumPartition * out.calcium_share;
    return out;
}

void note_laws(const PathRequest& request, PathReport& out) {
    out.notices.push_back(
        {"path_laws",
         "The onset of calcium carbonate of itself rests on two observations and is trusted within "
         "a factor of 5, growth on seed within 3, Omega within 10 %; a fresh mix has little "
         "phosphate and organic matter, which would delay (docs/explanation/dissolving.md)."});
    if (request.exchange.film_m_per_h) {
        double highest = 0;
        for (const path::Moment& m : out.course.moments) {
            highest = std::max(highest, m.water.ph_total);
        }
        const auto more = path::gas_exchange_notices(highest, *request.exchange.film_m_per_h);
        out.notices.insert(out.notices.end(), more.begin(), more.end());
    }
    out.notices.insert(out.notices.end(), out.course.notices.begin(), out.course.notices.end());
}

}  // namespace

Result<PathPlan> path_plan(const PathRequest& request) {
    BW_TRY(supplies, recipe_supplies(request.recipe, request.materials));
    BW_TRY(parts, path_parts(supplies));
    PathPlan out{supplies.recipe.name, supplies.recipe.invented, request.conditions,
                 std::move(parts.notices)};
    out.plan.parts = std::move(parts.parts);
    BW_CHECK(set_additions(request, out.plan));
    BW_TRY(exchange, exchange_per_h(request.exchange, out.plan));
    out.plan.kla_per_h = exchange;
    if (!stated(request.exchange)) {
        out.notices.push_back(
            {"path_exchange_taken",
             fmt::format(
                 "How the air reaches the vat is not stated: {:g} /h is taken, as of an air "
                 "stone with 1.5 volumes of air per volume of water and hour in 1 m; a "
                 "strong pump alone makes some 0.3 /h, and the vat then drifts more slowly. "
                 "State the air stone or the film of the surface.",
                 exchange)});
    }
    out.plan.marks_until_h = path::kHoursPerYear;
    if (std::ranges::any_of(supplies.recipe.purified_water.values(),
                            [](double v) { return v != 0; })) {
        out.notices.push_back({"path_pure_water",
                               "What the recipe's purified water holds is not counted here: the "
                               "vat's water is taken as pure."});
    }
    if (!supplies.recipe.parts.empty() &&
        std::ranges::any_of(supplies.recipe.parts,
                            [](const io::RecipePart& p) { return !p.lot.empty(); })) {
        out.notices.push_back(
            {"recipe_lots", "The recipe weighs lots; their own assays are not counted here."});
    }
    return out;
}

Result<PathReport> path_run(const PathRequest& request) {
    if (!(request.volume_L > 0)) {
        return fail(
            ProblemCode::OutOfRange,
            fmt::format("a vat's volume is {:g} L, but above 0 L is allowed", request.volume_L),
            {"", 0, "--volume"});
    }
    if (!(request.keep_h > 0 && request.keep_h <= path::kHoursPerYear)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("a vat has to keep {:g} h, but above 0 h and up to a year, 8760 h, "
                                "is allowed",
                                request.keep_h),
                    {"", 0, "--keep"});
    }
    BW_TRY(planned, path_plan(request));
    PathReport out;
    out.recipe = planned.recipe;
    out.invented = planned.invented;
    out.notices = std::move(planned.notices);
    out.plan = std::move(planned.plan);
    auto course = path::run_course(out.plan);
    if (!course) {
        Problem problem = course.error();
        if (problem.place.field.empty()) {  // of the salt, not of a condition
            problem.place.file = request.recipe.name;
        }
        return tl::unexpected(std::move(problem));
    }
    out.course = std::move(*course);
    out.keep_h = request.keep_h;
    out.volume_L = request.volume_L;
    out.air_pressure_atm = request.air_pressure_atm;
    out.verdict = path::judge(out.plan, out.course, out.keep_h);
    out.exposures = path::exposures(out.course.moments);
    out.temperatures = window(out.plan, out.keep_h);
    constexpr double kModelEnds = 40;
    const unit::Celsius at_end(std::min(kModelEnds, out.course.moments.back().celsius));
    BW_TRY(fresh, show_water({request.recipe, request.materials, at_end}));
    out.finished_kg_per_L = fresh.kg_per_litre.value_or(0);
    if (fresh.sheet.density_kg_per_m3) {
        out.finished_kg_per_L = fresh.sheet.density_kg_per_m3->value / unit::kLitrePerM3;
    }
    if (out.plan.seed_mg_per_kg == 0) {
        path::VatPlan seeded = out.plan;
        seeded.seed_mg_per_kg = PathReport::kTrialSeed_mg_per_kg;
        BW_TRY(also, path::run_course(seeded));
        const path::Verdict dusty = path::judge(seeded, also, out.keep_h);
        out.with_dust = PathReport::WithDust{dusty.risk, dusty.safe};
    }
    if (const auto bag = dry_blend({request.recipe, request.materials, {}})) {
        out.bag = bag->bag.verdict;
    }
    out.at_rest = at_rest_of(fresh, out.plan);
    out.limit = limit_of(fresh, out.plan, out.exposures);
    BW_TRY(order, order_advice(out.plan, out.course, out.keep_h));
    if (std::string says = carbonate_advice(out.plan, out.verdict, out.keep_h); !says.empty()) {
        out.verdict.instructions.insert(out.verdict.instructions.begin(), std::move(says));
    }
    out.verdict.instructions.insert(out.verdict.instructions.begin(), std::move(order));
    if (!out.temperatures.empty()) {
        out.temperature_words = temperature_words(out.temperatures, out.keep_h);
        if (std::ranges::any_of(out.temperatures, [](const AtTemperature& at) {
                return at.risk != path::Risk::Clear;
            })) {
            out.verdict.instructions.insert(out.verdict.instructions.begin(),
                                            out.temperature_words);
        }
    }
    out.losses = losses_of(out.plan, out.course.moments.back());
    note_laws(request, out);
    return out;
}

}  // namespace bw::service
