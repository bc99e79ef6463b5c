// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/vat_command.hpp"

#include <cmath>
#include <limits>
#include <utility>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "cli/answer.hpp"
#include "cli/json_values.inl"
#include "cli/vat_output.hpp"
#include "cli/vat_words.hpp"
#include "unit/factors.hpp"

namespace bw::cli {
namespace {

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();

constexpr std::string_view kBuoyancy =
    "Masses are those in vacuum: scales in air show 0.10 % too little for water and 0.04 % for "
    "salt, which makes the water 0.06 % weaker.";

void note_blend(const BlendInHand& blend, std::vector<std::string>& out) {
    if (!blend.notice.empty()) {
        out.push_back(blend.notice);
    }
}

std::string litres(double value) { return base::format_significant(value, 6) + " L"; }

// ---- plan

struct PlanReport {
    std::string salt;
    BlendInHand blend;
    brine::VatPlan plan;
    VatWater water;
    std::vector<std::string> notices;
};

Result<PlanReport> plan_of(const VatPlanArguments& a) {
    BW_TRY(law, law_from_options(a.salt));
    BW_TRY(t, parse_celsius("--at", a.at, *law));
    BW_TRY(dissolved, parse_wanted("--salinity", a.salinity, *law));
    auto known = law->density_kg_per_m3(dissolved, t);
    if (!known) {
        return in_field("--salinity", std::move(known).error());
    }
    BW_TRY(in_hand, parse_blend(a.anhydrous, a.salt));
    BW_TRY(purified, parse_purified(a.purified_at, a.purified_solids, t));
    BW_TRY(weighing, parse_weighing(a.weighing));
    PlanReport out;
    out.salt = salt_in_words(a.salt, *law, false);
    out.water = water_of(*law, dissolved);
    out.notices = notices_on({out.water});
    note_blend(in_hand, out.notices);
    out.notices.emplace_back(kBuoyancy);
    const brine::Blend blend = in_hand.blend;
    out.blend = std::move(in_hand);
    if (a.purified.empty()) {
        BW_TRY(vat, parse_vat(*law, a.volume, a.mass, dissolved, t));
        BW_TRY(plan, brine::plan(*law, vat, blend, purified, weighing));
        out.plan = plan;
        return out;
    }
    if (!a.volume.empty() || !a.mass.empty()) {
        return fail(ProblemCode::BadInput,
                    "give the finished water (--volume or --mass) or the purified water, not both",
                    {"", 0, "--purified"});
    }
    BW_TRY(kg, parse_water_kg("--purified", a.purified, purified));
    BW_TRY(plan, brine::plan_for_water(*law, kg, dissolved, t, blend, purified, weighing));
    out.plan = plan;
    return out;
}

std::string plan_json(const PlanReport& r) {
    const brine::VatPlan& p = r.plan;
    const Json out = {
        {"version", 1},
        {"temperature_degC", p.finished.temperature.value()},
        {"practical_salinity", json_number(r.water.practical)},
        {"salinity_g_per_kg", r.water.dissolved},
        {"standard_uncertainty_g_per_kg", p.u_dissolved_g_per_kg},
        {"anhydrous_percent", r.blend.blend.anhydrous_fraction * unit::kPercent},
        {"anhydrous_from", r.blend.from},
        {"blend_kg", p.blend_kg},
        {"blend_standard_uncertainty_kg", p.u_blend_kg},
        {"purified_water_kg", p.water_kg},
        {"purified_water_standard_uncertainty_kg", p.u_water_kg},
        {"purified_water_L", p.water_L},
        {"bound_water_kg", p.bound_water_kg},
        {"bound_water_standard_uncertainty_kg", p.u_bound_water_kg},
        {"salt_from_purified_water_kg", p.salt_from_water_kg},
        {"finished_kg", p.finished.mass_kg},
        {"finished_standard_uncertainty_kg", p.u_finished_kg},
        {"finished_L", p.finished_L},
        {"density_kg_per_m3", p.density_kg_per_m3},
        {"g_per_kg_purified_water", p.blend_g_per_kg_water},
        {"g_per_L_purified_water", p.blend_g_per_L_water},
        {"g_per_L_finished", p.blend_g_per_L_finished},
        {"rate_per_purified_standard_uncertainty_percent", p.u_per_water_part * unit::kPercent},
        {"rate_per_finished_standard_uncertainty_percent", p.u_per_finished_part * unit::kPercent},
        {"salt_g_per_L_finished", p.salt_g_per_L_finished},
        {"notices", r.notices}};
    return json_text(out);
}

std::string plan_text(const PlanReport& r) {
    const brine::VatPlan& p = r.plan;
    const VatScale in(p.finished.mass_kg);
    Sheet sheet;
    const auto weighed = [&](std::string name, double value, double u, const std::string& unit) {
        sheet.add_with_u(std::move(name), value * in.by, u * in.by, places_to_weigh(value * in.by),
                         unit);
    };
    weighed("dry blend", p.blend_kg, p.u_blend_kg, in.mass);
    weighed("purified water", p.water_kg, p.u_water_kg, in.mass);
    weighed("  or, at its temperature", p.water_L, p.u_water_kg * p.water_L / p.water_kg,
            in.volume);
    weighed("  besides, water in the blend", p.bound_water_kg, p.u_bound_water_kg, in.mass);
    weighed("finished water", p.finished.mass_kg, p.u_finished_kg, in.mass);
    weighed("", p.finished_L, p.u_finished_kg * p.finished_L / p.finished.mass_kg, in.volume);
    sheet.add("its density", p.density_kg_per_m3, 2, "kg/m3");
    sheet.add_with_u("its dissolved salt", r.water.dissolved, p.u_dissolved_g_per_kg, 3, "g/kg");
    Sheet rates;
    const auto rate = [&](std::string name, double value, double part, std::string unit) {
        rates.add_with_u(std::move(name), value, value * part, 3, std::move(unit));
    };
    rate("per kg of purified water", p.blend_g_per_kg_water, p.u_per_water_part, "g of blend");
    rate("per L of purified water", p.blend_g_per_L_water, p.u_per_water_part, "g of blend");
    rate("per L of finished water", p.blend_g_per_L_finished, p.u_per_finished_part, "g of blend");
    rate("per L of finished water", p.salt_g_per_L_finished, 0, "g of salt free of water");
    return vat_head(r.salt, fmt::format("To weigh for {} of {} at {} degC", litres(p.finished_L),
                                        r.water.words(),
                                        base::format_exact(p.finished.temperature.value()))) +
           sheet.text() + "\nMixing rate\n" + rates.text() + dashes(r.notices);
}

// ---- correct

struct Way {
    std::string code, words;
    brine::Mending mending;
    double add_L = kNone;
};
struct CorrectReport {
    std::string salt;
    brine::Vat vat;
    VatWater holds, wanted;
    BlendInHand blend;
    double litres = 0;
    std::vector<Way> ways;
    std::vector<std::string> notices;
    bool evaporation = false;
    double top_up_L = 0;
    double lost_kg = 0;
    brine::Vat after_loss;
    VatWater after_loss_water;
};

Result<void> add_ways(const brine::SaltLaw& law, const CorrectReport& r, double u_holds,
                      unit::GramPerKg wanted, std::string_view code, std::string_view what,
                      const brine::Added& added, double litres_per_kg, std::vector<Way>& ways) {
    BW_TRY(growing, brine::mend_growing(law, r.vat, u_holds, wanted, added));
    BW_TRY(in_place, brine::mend_in_place(law, r.vat, u_holds, wanted, added));
    ways.push_back({fmt::format("{}_growing", code), fmt::format("add {}", what), growing,
                    growing.add_kg * litres_per_kg});
    ways.push_back({fmt::format("{}_in_place", code), fmt::format("drain, then add {}", what),
                    in_place, in_place.add_kg * litres_per_kg});
    return {};
}

void note_doubts(const VatCorrectArguments& a, double difference, double u_holds,
                 std::vector<std::string>& out) {
    if (difference < 0 && !a.concentrate.empty()) {
        out.emplace_back("The vat is too strong, so the concentrate is not used.");
    }
    constexpr double kCoverage = 2;
    if (std::abs(difference) < kCoverage * u_holds) {
        out.push_back(fmt::format(
            "The vat is off by {} g/kg and known to {} g/kg (k = 1): measure it again before you "
            "correct it.",
            base::format_significant(std::abs(difference), 2),
            base::format_significant(u_holds, 2)));
    }
}

Result<void> find_ways(const VatCorrectArguments& a, const brine::SaltLaw& law,
                       const Strength& holds, CorrectReport& r) {
    BW_TRY(wanted, parse_wanted("--wanted", a.wanted, law));
    auto known = law.density_kg_per_m3(wanted, r.vat.temperature);
    if (!known) {
        return in_field("--wanted", std::move(known).error());
    }
    r.wanted = water_of(law, wanted);
    BW_TRY(purified, parse_purified(a.purified_at, a.purified_solids, r.vat.temperature));
    BW_TRY(per_kg, brine::litres_of_water(1, purified));
    constexpr double kSame = 1e-9;
    const double difference = (wanted - r.vat.dissolved).value();
    BW_TRY(in_hand, parse_blend(a.anhydrous, a.salt));
    r.blend = in_hand;
    const brine::Blend blend = in_hand.blend;
    brine::Added strong;
    if (!a.concentrate.empty()) {
        BW_TRY(read, parse_concentrate(a.concentrate));
        strong = read;
    }
    note_doubts(a, difference, holds.u_g_per_kg, r.notices);
    if (std::abs(difference) < kSame) {
        return {};
    }
    if (difference < 0) {
        return add_ways(law, r, holds.u_g_per_kg, wanted, "water", "purified water",
                        {purified.solids.value() / unit::kGramPerKg, 0}, per_kg, r.ways);
    }
    note_blend(r.blend, r.notices);
    auto by_blend = add_ways(law, r, holds.u_g_per_kg, wanted, "blend", "dry blend",
                             {blend.anhydrous_fraction, blend.u_anhydrous_fraction}, kNone, r.ways);
    if (!by_blend) {
        return in_field("--anhydrous", std::move(by_blend).error());
    }
    if (a.concentrate.empty()) {
        return {};
    }
    auto added = add_ways(law, r, holds.u_g_per_kg, wanted, "concentrate", "concentrate", strong,
                          kNone, r.ways);
    if (!added) {
        return in_field("--concentrate", std::move(added).error());
    }
    return {};
}

Result<void> find_loss(const VatCorrectArguments& a, const brine::SaltLaw& law, CorrectReport& r) {
    BW_TRY(purified, parse_purified(a.purified_at, a.purified_solids, r.vat.temperature));
    BW_TRY(lost, parse_water_kg("--evaporated", a.evaporated, purified));
    BW_TRY(per_kg, brine::litres_of_water(1, purified));
    r.lost_kg = lost;
    auto after = brine::evaporate(r.vat, r.lost_kg);
    if (!after) {
        return in_field("--evaporated", std::move(after).error());
    }
    r.evaporation = true;
    r.after_loss = *after;
    r.top_up_L = r.lost_kg * per_kg;
    r.after_loss_water = water_of(law, after->dissolved);
    return {};
}

Result<CorrectReport> correction_of(const VatCorrectArguments& a) {
    CorrectReport r;
    BW_TRY(law, law_from_options(a.salt));
    r.salt = salt_in_words(a.salt, *law, false);
    BW_TRY(t, parse_celsius("--at", a.at, *law));
    BW_TRY(holds, parse_salinity("--holds", a.holds, *law));
    auto known = law->density_kg_per_m3(holds.dissolved, t);
    if (!known) {
        return in_field("--holds", std::move(known).error());
    }
    BW_TRY(vat, parse_vat(*law, a.volume, a.mass, holds.dissolved, t));
    r.vat = vat;
    r.holds = water_of(*law, holds.dissolved);
    BW_TRY(volume, brine::litres_of(*law, vat));
    r.litres = volume;
    if (a.wanted.empty() == a.evaporated.empty()) {
        return fail(ProblemCode::BadInput,
                    "say what the vat should hold, --wanted, or what it lost, --evaporated: one of "
                    "them");
    }
    if (a.wanted.empty()) {
        BW_CHECK(find_loss(a, *law, r));
        r.notices = notices_on({r.holds, r.after_loss_water});
    } else {
        BW_CHECK(find_ways(a, *law, holds, r));
        const std::vector<std::string> on = notices_on({r.holds, r.wanted});
        r.notices.insert(r.notices.begin(), on.begin(), on.end());
    }
    r.notices.emplace_back(kBuoyancy);
    return r;
}

std::string correct_json(const CorrectReport& r) {
    Json out = {{"version", 1},
                {"temperature_degC", r.vat.temperature.value()},
                {"vat_kg", r.vat.mass_kg},
                {"vat_L", r.litres},
                {"practical_salinity", json_number(r.holds.practical)},
                {"salinity_g_per_kg", r.holds.dissolved}};
    if (r.evaporation) {
        out["after_loss"] = {{"practical_salinity", json_number(r.after_loss_water.practical)},
                             {"salinity_g_per_kg", r.after_loss_water.dissolved},
                             {"vat_kg", r.after_loss.mass_kg}};
        out["top_up_kg"] = r.lost_kg;
        out["top_up_L"] = r.top_up_L;
    } else {
        out["wanted_practical_salinity"] = json_number(r.wanted.practical);
        out["wanted_salinity_g_per_kg"] = r.wanted.dissolved;
        out["anhydrous_percent"] = r.blend.blend.anhydrous_fraction * unit::kPercent;
        out["anhydrous_from"] = r.blend.from;
        Json ways = Json::array();
        for (const Way& w : r.ways) {
            ways.push_back({{"way", w.code},
                            {"drain_kg", w.mending.drain_kg},
                            {"drain_L", w.mending.drain_L},
                            {"add_kg", w.mending.add_kg},
                            {"add_standard_uncertainty_kg", w.mending.u_add_kg},
                            {"add_L", json_number(w.add_L)},
                            {"after_kg", w.mending.after.mass_kg},
                            {"after_L", w.mending.after_L}});
        }
        out["ways"] = std::move(ways);
    }
    out["notices"] = r.notices;
    return json_text(out);
}

std::string ways_table(const CorrectReport& r, const VatScale& in) {
    TextTable table({{{"way"}, Align::Left},
                     {{"drain", in.volume}, Align::Decimal},
                     {{"drain", in.mass}, Align::Decimal},
                     {{"add", in.mass}, Align::Decimal},
                     {{"add", in.volume}, Align::Decimal},
                     {{"vat after", in.volume}, Align::Decimal}});
    const auto known = [&](double value, double u) {
        return with_uncertainty(value * in.by, u * in.by, places_to_weigh(value * in.by));
    };
    for (const Way& w : r.ways) {
        const brine::Mending& m = w.mending;
        const bool drains = m.drain_kg > 0;
        const double u = m.u_add_kg;
        const double u_after = drains ? 0 : u;
        table.add({w.words, drains ? known(m.drain_L, u * m.drain_L / m.drain_kg) : "",
                   drains ? known(m.drain_kg, u) : "", known(m.add_kg, u),
                   std::isfinite(w.add_L) ? known(w.add_L, u * w.add_L / m.add_kg) : "",
                   known(m.after_L, u_after * m.after_L / m.after.mass_kg)});
    }
    return table.text();
}

std::string correct_text(const CorrectReport& r) {
    const VatScale in(r.vat.mass_kg);
    const std::string vat = fmt::format(
        "{} of {} at {} degC ({} kg)", litres(r.litres), r.holds.words(),
        base::format_exact(r.vat.temperature.value()), base::format_significant(r.vat.mass_kg, 6));
    if (r.evaporation) {
        Sheet sheet;
        if (std::isfinite(r.after_loss_water.practical)) {
            sheet.add("practical salinity S_P now", r.after_loss_water.practical, 3, "");
        }
        sheet.add("dissolved salt now", r.after_loss_water.dissolved, 3, "g/kg");
        sheet.add("purified water to add", r.lost_kg * in.by, places_to_weigh(r.lost_kg * in.by),
                  in.mass);
        sheet.add("  or, at its temperature", r.top_up_L * in.by,
                  places_to_weigh(r.top_up_L * in.by), in.volume);
        return vat_head(r.salt, vat + ", after the loss") + sheet.text() + dashes(r.notices);
    }
    if (r.ways.empty()) {
        return vat_head(r.salt, vat) + "The vat holds what is wanted.\n" + dashes(r.notices);
    }
    return vat_head(r.salt, fmt::format("{} to {}", vat, r.wanted.words())) + ways_table(r, in) +
           dashes(r.notices);
}

}  // namespace

int vat_plan(const VatPlanArguments& a, const Streams& streams) {
    const auto report = plan_of(a);
    if (!report) {
        return complain_of(report.error(), streams);
    }
    if (a.json || !a.quiet) {
        put(a.json ? plan_json(*report) : plan_text(*report), streams);
    }
    return 0;
}

int vat_correct(const VatCorrectArguments& a, const Streams& streams) {
    const auto report = correction_of(a);
    if (!report) {
        return complain_of(report.error(), streams);
    }
    if (a.json || !a.quiet) {
        put(a.json ? correct_json(*report) : correct_text(*report), streams);
    }
    return 0;
}

}  // namespace bw::cli
