// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/vat_command.hpp"

#include <cmath>

#include <CLI/CLI.hpp>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "base/decimal.hpp"
#include "cli/answer.hpp"
#include "cli/vat_words.hpp"

namespace bw::cli {
namespace {

using Json = nlohmann::ordered_json;
using unit::Dimension;

/// Null where a number is not finite.
Json json_number(double value) { return std::isfinite(value) ? Json(value) : Json(nullptr); }

constexpr std::string_view kBuoyancy =
    "Masses are those in vacuum: scales in air show 0.10 % too little for water and 0.04 % for "
    "salt, which makes the water 0.06 % weaker.";

void add_flags(CLI::App& command, SaltOptions& salt, bool& json, bool& quiet) {
    add_salt_options(command, salt);
    command.add_flag("--json", json, "One JSON document instead of text");
    command.add_flag("--quiet", quiet, "No text; the exit code only");
}

struct Water {
    double practical = 0, dissolved = 0;
};
Result<Water> water_of(const brine::SaltLaw& law, unit::GramPerKg dissolved) {
    BW_TRY(s, law.practical_salinity_of(dissolved));
    return Water{s.value(), dissolved.value()};
}

std::string head(const std::string& salt, const std::string& line) {
    return "salt  " + salt + "\n\n" + line + "\n\n";
}

std::string litres(double value) { return base::format_significant(value, 6) + " L"; }

// ---- plan

struct PlanReport {
    std::string salt;
    brine::VatPlan plan;
    Water water;
};

Result<PlanReport> plan_of(const VatPlanArguments& a) {
    BW_TRY(law, law_from_options(a.salt));
    BW_TRY(t, parse_celsius("--at", a.at));
    BW_TRY(strength, parse_salinity("--salinity", a.salinity, *law));
    BW_TRY(blend, parse_blend(a.anhydrous));
    BW_TRY(purified, parse_purified(a.purified_at, a.purified_solids, t));
    BW_TRY(weighing, parse_measured("--weighing", a.weighing, {Dimension::Fraction}));
    PlanReport out;
    out.salt = salt_in_words(a.salt, *law);
    BW_TRY(water, water_of(*law, strength.dissolved));
    out.water = water;
    if (a.purified.empty()) {
        BW_TRY(vat, parse_vat(*law, a.volume, a.mass, strength.dissolved, t));
        BW_TRY(plan, brine::plan(*law, vat, blend, purified, weighing.value));
        out.plan = plan;
        return out;
    }
    if (!a.volume.empty() || !a.mass.empty()) {
        return fail(ProblemCode::BadInput,
                    "give the finished water (--volume or --mass) or the purified water, not both",
                    {"", 0, "--purified"});
    }
    BW_TRY(amount, parse_measured("--purified", a.purified, {Dimension::Volume, Dimension::Mass}));
    double kg = amount.value;
    if (amount.dimension == Dimension::Volume) {
        BW_TRY(per_kg, brine::litres_of_water(1, purified));
        kg = amount.value / per_kg;
    }
    BW_TRY(plan,
           brine::plan_for_water(*law, kg, strength.dissolved, t, blend, purified, weighing.value));
    out.plan = plan;
    return out;
}

std::string plan_json(const PlanReport& r) {
    const brine::VatPlan& p = r.plan;
    const Json out = {{"version", 1},
                      {"temperature_degC", p.finished.temperature.value()},
                      {"practical_salinity", r.water.practical},
                      {"salinity_g_per_kg", r.water.dissolved},
                      {"standard_uncertainty_g_per_kg", p.u_dissolved_g_per_kg},
                      {"blend_kg", p.blend_kg},
                      {"blend_standard_uncertainty_kg", p.u_blend_kg},
                      {"purified_water_kg", p.water_kg},
                      {"purified_water_L", p.water_L},
                      {"bound_water_kg", p.bound_water_kg},
                      {"salt_from_purified_water_kg", p.salt_from_water_kg},
                      {"finished_kg", p.finished.mass_kg},
                      {"finished_L", p.finished_L},
                      {"density_kg_per_m3", p.density_kg_per_m3},
                      {"g_per_kg_purified_water", p.blend_g_per_kg_water},
                      {"g_per_L_purified_water", p.blend_g_per_L_water},
                      {"g_per_L_finished", p.blend_g_per_L_finished},
                      {"salt_g_per_L_finished", p.salt_g_per_L_finished},
                      {"notices", Json::array({kBuoyancy})}};
    return out.dump(2) + "\n";
}

std::string plan_text(const PlanReport& r) {
    const brine::VatPlan& p = r.plan;
    Sheet sheet;
    sheet.add_with_u("dry blend", p.blend_kg, p.u_blend_kg, 4, "kg");
    sheet.add("purified water", p.water_kg, 4, "kg");
    sheet.add("  or, at its temperature", p.water_L, 3, "L");
    sheet.add("  besides, water in the blend", p.bound_water_kg, 4, "kg");
    sheet.add("finished water", p.finished.mass_kg, 4, "kg");
    sheet.add("", p.finished_L, 3, "L");
    sheet.add("its density", p.density_kg_per_m3, 2, "kg/m3");
    sheet.add_with_u("its dissolved salt", r.water.dissolved, p.u_dissolved_g_per_kg, 3, "g/kg");
    Sheet rates;
    rates.add("per kg of purified water", p.blend_g_per_kg_water, 3, "g of blend");
    rates.add("per L of purified water", p.blend_g_per_L_water, 3, "g of blend");
    rates.add("per L of finished water", p.blend_g_per_L_finished, 3, "g of blend");
    rates.add("per L of finished water", p.salt_g_per_L_finished, 3, "g of salt free of water");
    return head(r.salt, fmt::format("To weigh for {} of S_P = {} at {} degC", litres(p.finished_L),
                                    base::format_places(r.water.practical, 2),
                                    base::format_exact(p.finished.temperature.value()))) +
           sheet.text() + "\nMixing rate\n" + rates.text() + bullet(kBuoyancy);
}

// ---- correct

struct Way {
    std::string code, words;
    brine::Mending mending;
    double add_L = NAN;
};
struct CorrectReport {
    std::string salt;
    brine::Vat vat;
    Water holds, wanted;
    double litres = 0;
    std::vector<Way> ways;
    bool evaporation = false;
    double top_up_L = 0;
    double lost_kg = 0;
    brine::Vat after_loss;
    Water after_loss_water;
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

Result<void> find_ways(const VatCorrectArguments& a, const brine::SaltLaw& law,
                       const Strength& holds, CorrectReport& r) {
    BW_TRY(wanted, parse_salinity("--wanted", a.wanted, law));
    BW_TRY(water, water_of(law, wanted.dissolved));
    r.wanted = water;
    BW_TRY(purified, parse_purified(a.purified_at, a.purified_solids, r.vat.temperature));
    BW_TRY(per_kg, brine::litres_of_water(1, purified));
    constexpr double kGramPerKg = 1000;
    constexpr double kSame = 1e-9;
    const double difference = (wanted.dissolved - r.vat.dissolved).value();
    if (std::abs(difference) < kSame) {
        return {};
    }
    if (difference < 0) {
        return add_ways(law, r, holds.u_g_per_kg, wanted.dissolved, "water", "purified water",
                        {purified.solids.value() / kGramPerKg, 0}, per_kg, r.ways);
    }
    BW_TRY(blend, parse_blend(a.anhydrous));
    BW_CHECK(add_ways(law, r, holds.u_g_per_kg, wanted.dissolved, "blend", "dry blend",
                      {blend.anhydrous_fraction, blend.u_anhydrous_fraction}, NAN, r.ways));
    if (a.concentrate.empty()) {
        return {};
    }
    BW_TRY(strong, parse_measured("--concentrate", a.concentrate, {Dimension::MassPerMass}));
    auto added = add_ways(law, r, holds.u_g_per_kg, wanted.dissolved, "concentrate", "concentrate",
                          {strong.value, strong.u.value_or(0)}, NAN, r.ways);
    if (!added) {
        return in_field("--concentrate", std::move(added).error());
    }
    return {};
}

Result<void> find_loss(const VatCorrectArguments& a, const brine::SaltLaw& law, CorrectReport& r) {
    BW_TRY(purified, parse_purified(a.purified_at, a.purified_solids, r.vat.temperature));
    BW_TRY(lost,
           parse_measured("--evaporated", a.evaporated, {Dimension::Mass, Dimension::Volume}));
    BW_TRY(per_kg, brine::litres_of_water(1, purified));
    r.lost_kg = lost.dimension == Dimension::Volume ? lost.value / per_kg : lost.value;
    auto after = brine::evaporate(r.vat, r.lost_kg);
    if (!after) {
        return in_field("--evaporated", std::move(after).error());
    }
    r.evaporation = true;
    r.after_loss = *after;
    r.top_up_L = r.lost_kg * per_kg;
    BW_TRY(water, water_of(law, after->dissolved));
    r.after_loss_water = water;
    return {};
}

Result<CorrectReport> correction_of(const VatCorrectArguments& a) {
    CorrectReport r;
    BW_TRY(law, law_from_options(a.salt));
    r.salt = salt_in_words(a.salt, *law);
    BW_TRY(t, parse_celsius("--at", a.at));
    BW_TRY(holds, parse_salinity("--holds", a.holds, *law));
    BW_TRY(vat, parse_vat(*law, a.volume, a.mass, holds.dissolved, t));
    r.vat = vat;
    BW_TRY(water, water_of(*law, holds.dissolved));
    r.holds = water;
    BW_TRY(volume, brine::litres_of(*law, vat));
    r.litres = volume;
    if (a.wanted.empty() == a.evaporated.empty()) {
        return fail(ProblemCode::BadInput,
                    "say what the vat should hold, --wanted, or what it lost, --evaporated: one of "
                    "them");
    }
    if (a.wanted.empty()) {
        BW_CHECK(find_loss(a, *law, r));
    } else {
        BW_CHECK(find_ways(a, *law, holds, r));
    }
    return r;
}

std::string correct_json(const CorrectReport& r) {
    Json out = {{"version", 1},
                {"temperature_degC", r.vat.temperature.value()},
                {"vat_kg", r.vat.mass_kg},
                {"vat_L", r.litres},
                {"practical_salinity", r.holds.practical},
                {"salinity_g_per_kg", r.holds.dissolved}};
    if (r.evaporation) {
        out["after_loss"] = {{"practical_salinity", r.after_loss_water.practical},
                             {"salinity_g_per_kg", r.after_loss_water.dissolved},
                             {"vat_kg", r.after_loss.mass_kg}};
        out["top_up_kg"] = r.lost_kg;
        out["top_up_L"] = r.top_up_L;
    } else {
        out["wanted_practical_salinity"] = r.wanted.practical;
        out["wanted_salinity_g_per_kg"] = r.wanted.dissolved;
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
    out["notices"] = Json::array({kBuoyancy});
    return out.dump(2) + "\n";
}

std::string correct_text(const CorrectReport& r) {
    const std::string vat = fmt::format("{} of S_P = {} at {} degC ({} kg)", litres(r.litres),
                                        base::format_places(r.holds.practical, 2),
                                        base::format_exact(r.vat.temperature.value()),
                                        base::format_significant(r.vat.mass_kg, 6));
    if (r.evaporation) {
        Sheet sheet;
        sheet.add("practical salinity S_P now", r.after_loss_water.practical, 3, "");
        sheet.add("dissolved salt now", r.after_loss_water.dissolved, 3, "g/kg");
        sheet.add("purified water to add", r.lost_kg, 3, "kg");
        sheet.add("  or, at its temperature", r.top_up_L, 3, "L");
        return head(r.salt, vat + ", after the loss") + sheet.text();
    }
    if (r.ways.empty()) {
        return head(r.salt, vat) + "The vat holds what is wanted.\n";
    }
    TextTable table({{{"way"}, Align::Left},
                     {{"drain", "L"}, Align::Decimal},
                     {{"drain", "kg"}, Align::Decimal},
                     {{"add", "kg"}, Align::Decimal},
                     {{"add", "L"}, Align::Decimal},
                     {{"vat after", "L"}, Align::Decimal}});
    for (const Way& w : r.ways) {
        const auto add = base::format_with_uncertainty(w.mending.add_kg, w.mending.u_add_kg);
        const bool drains = w.mending.drain_kg > 0;
        table.add({w.words, drains ? base::format_places(w.mending.drain_L, 3) : "",
                   drains ? base::format_places(w.mending.drain_kg, 3) : "",
                   w.mending.u_add_kg > 0 ? add.value + " \u00B1 " + add.uncertainty
                                          : base::format_places(w.mending.add_kg, 3),
                   std::isfinite(w.add_L) ? base::format_places(w.add_L, 3) : "",
                   base::format_places(w.mending.after_L, 3)});
    }
    return head(r.salt,
                fmt::format("{} to S_P = {}", vat, base::format_places(r.wanted.practical, 2))) +
           table.text() + bullet(kBuoyancy);
}

// ---- mix

struct MixReport {
    std::string salt;
    brine::Mixed mixed;
    Water water, by_volume;
};

Result<MixReport> mixture_of(const VatMixArguments& a) {
    BW_TRY(law, law_from_options(a.salt));
    BW_TRY(t, parse_celsius("--at", a.at));
    std::vector<brine::Vat> waters;
    for (const std::string& phrase : a.waters) {
        BW_TRY(water, parse_water(*law, phrase, t));
        waters.push_back(water);
    }
    MixReport out;
    out.salt = salt_in_words(a.salt, *law);
    BW_TRY(mixed, brine::mix(*law, waters));
    out.mixed = mixed;
    BW_TRY(water, water_of(*law, mixed.vat.dissolved));
    BW_TRY(by_volume, water_of(*law, mixed.weighted_by_volume));
    out.water = water;
    out.by_volume = by_volume;
    return out;
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

int vat_mix(const VatMixArguments& a, const Streams& streams) {
    const auto report = mixture_of(a);
    if (!report) {
        return complain_of(report.error(), streams);
    }
    const brine::Mixed& m = report->mixed;
    if (a.json) {
        const Json out = {{"version", 1},
                          {"temperature_degC", m.vat.temperature.value()},
                          {"practical_salinity", report->water.practical},
                          {"salinity_g_per_kg", report->water.dissolved},
                          {"mixed_kg", m.vat.mass_kg},
                          {"mixed_L", m.litres},
                          {"practical_salinity_weighted_by_volume", report->by_volume.practical}};
        put(out.dump(2) + "\n", streams);
    } else if (!a.quiet) {
        Sheet sheet;
        sheet.add("practical salinity S_P", report->water.practical, 3, "");
        sheet.add("dissolved salt", report->water.dissolved, 3, "g/kg");
        sheet.add("temperature", m.vat.temperature.value(), 2, "degC");
        sheet.add("mass", m.vat.mass_kg, 3, "kg");
        sheet.add("volume", m.litres, 2, "L");
        sheet.add("weighted by volume S_P would be", report->by_volume.practical, 3, "");
        put(head(report->salt, "The mixed water") + sheet.text(), streams);
    }
    return 0;
}

CLI::App& add_vat_plan(CLI::App& vat, VatPlanArguments& a) {
    CLI::App& plan = *vat.add_subcommand("plan", "Dry blend and purified water for a vat");
    plan.add_option("--salinity", a.salinity, "Wanted, \"35\" or \"35.165 g/kg\"")->required();
    plan.add_option("--at", a.at, "Temperature of the finished water")->capture_default_str();
    plan.add_option("--volume", a.volume, "Finished water, by volume: \"1000 L\"");
    plan.add_option("--mass", a.mass, "Finished water, by mass: \"1000 kg\"");
    plan.add_option("--purified", a.purified, "Purified water at hand: \"1000 L\" or \"1 t\"");
    plan.add_option("--anhydrous", a.anhydrous,
                    "Share of the blend that is salt free of water: \"95 +- 0.3 %\"")
        ->capture_default_str();
    plan.add_option("--purified-at", a.purified_at,
                    "Temperature of the purified water, unless that of the vat");
    plan.add_option("--purified-solids", a.purified_solids, "Dissolved in it: \"20 mg/kg\"");
    plan.add_option("--weighing", a.weighing, "Standard uncertainty of each weighing")
        ->capture_default_str();
    add_flags(plan, a.salt, a.json, a.quiet);
    plan.footer(
        "Example:\n  brinewright vat plan --salinity 35 --volume \"1000 L\" --at \"25 degC\" "
        "--anhydrous \"95 +- 0.3 %\"");
    return plan;
}

CLI::App& add_vat_correct(CLI::App& vat, VatCorrectArguments& a) {
    CLI::App& correct =
        *vat.add_subcommand("correct", "Mend a weak or a strong vat, or one that lost water");
    correct.add_option("--volume", a.volume, "The vat, by volume: \"1000 L\"");
    correct.add_option("--mass", a.mass, "The vat, by mass: \"1000 kg\"");
    correct.add_option("--holds", a.holds, "Its salinity, \"33 +- 0.2\" or \"33.2 g/kg\"")
        ->required();
    correct.add_option("--wanted", a.wanted, "The salinity it should have");
    correct.add_option("--evaporated", a.evaporated,
                       "Water it lost to the air instead, \"20 kg\" or \"20 L\"");
    correct.add_option("--at", a.at, "Temperature of the vat")->capture_default_str();
    correct
        .add_option("--anhydrous", a.anhydrous,
                    "Share of the blend that is salt free of water: \"95 +- 0.3 %\"")
        ->capture_default_str();
    correct.add_option("--concentrate", a.concentrate,
                       "A strong water of the same salt that may be added: \"150 g/kg\"");
    correct.add_option("--purified-at", a.purified_at,
                       "Temperature of the purified water, unless that of the vat");
    correct.add_option("--purified-solids", a.purified_solids, "Dissolved in it: \"20 mg/kg\"");
    add_flags(correct, a.salt, a.json, a.quiet);
    correct.footer(
        "Example:\n  brinewright vat correct --volume \"1000 L\" --holds 37 --wanted 35 --at \"25 "
        "degC\"");
    return correct;
}

CLI::App& add_vat_mix(CLI::App& vat, VatMixArguments& a) {
    CLI::App& mix = *vat.add_subcommand("mix", "Two waters or more, mixed");
    mix.add_option("WATER", a.waters, "Phrases such as \"600 L of 30, at 25 degC\"")->required();
    mix.add_option("--at", a.at, "Temperature of waters that name none")->capture_default_str();
    add_flags(mix, a.salt, a.json, a.quiet);
    mix.footer("Example:\n  brinewright vat mix \"600 L of 30\" \"400 L of 40\" --at \"25 degC\"");
    return mix;
}

}  // namespace bw::cli
