// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/calibration_fluid_command.hpp"

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "brine/calibration_fluid.hpp"
#include "cli/answer.hpp"
#include "cli/json_values.inl"
#include "cli/reading_words.hpp"
#include "cli/vat_words.hpp"
#include "unit/factors.hpp"

namespace bw::cli {
namespace {

using unit::Dimension;

struct FluidReport {
    std::string salt, fluid;
    brine::Instrument instrument;
    brine::CalibrationFluid plan;
    double practical = 0, dissolved = 0, celsius = 0;
};

/// What was not said and is taken for granted, in words.
void note_assumptions(const CalibrationFluidArguments& a, const brine::Instrument& instrument,
                      base::Notices& out) {
    if (const auto* meter = std::get_if<brine::ConductivityMeter>(&instrument);
        meter != nullptr && !meter->compensation &&
        a.instrument.find("uncompensated") == std::string::npos) {
        out.push_back({"taken_as_uncompensated",
                       "The meter is taken to show the conductivity as it is; of one that "
                       "compensates write \"conductivity, to 25 degC by 2 %/K\"."});
    }
    if (const auto* optical = std::get_if<brine::Refractometer>(&instrument);
        optical != nullptr && optical->compensated &&
        optical->dial != brine::Refractometer::Dial::Index) {
        out.push_back({"taken_as_compensated",
                       "The refractometer is taken to compensate its temperature by itself; of one "
                       "that does not write \"uncompensated, zeroed at 20 degC\"."});
    }
    if (const auto* optical = std::get_if<brine::Refractometer>(&instrument);
        optical != nullptr && optical->dial == brine::Refractometer::Dial::NaclGramPerKg) {
        out.push_back({"dial_in_g_per_kg",
                       "The dial is taken to show g per kg; of others write \"dial sodium-chloride "
                       "g/L\" or \"dial sodium-chloride 20/20\"."});
    }
    const CalibrationFluidArguments usual;
    if (a.assay != usual.assay && a.assay.find("+-") == std::string::npos &&
        a.assay.find("\u00B1") == std::string::npos) {
        out.push_back({"assay_without_uncertainty",
                       "The assay counts as exact: write \"99.5 +- 0.2 %\" to have it counted."});
    }
    if (a.assay == usual.assay && a.moisture == usual.moisture) {
        out.push_back({"salt_taken_as_pure",
                       "The salt is taken as pure and dry, without uncertainty: state --assay and "
                       "--moisture of yours, or dry it and use a certified one."});
    }
}

Result<FluidReport> fluid_of(const CalibrationFluidArguments& a) {
    FluidReport out;
    BW_TRY(law, law_from_options(a.salt));
    out.salt = salt_in_words(a.salt, *law, true);
    BW_TRY(instrument, parse_instrument(a.instrument));
    out.instrument = instrument;
    BW_TRY(dissolved, parse_wanted("--salinity", a.salinity, *law));
    auto practical = law->practical_salinity_of(dissolved);
    if (!practical) {
        return in_field("--salinity", std::move(practical).error());
    }
    BW_TRY(t, parse_celsius("--at", a.at, *law));
    brine::WeighedSalt salt;
    if (a.fluid == "potassium-chloride") {
        salt.salt = brine::FluidSalt::PotassiumChloride;
    } else if (a.fluid != "sodium-chloride") {
        return fail(ProblemCode::UnknownName,
                    fmt::format("{} is no fluid known here: known are sodium-chloride and "
                                "potassium-chloride",
                                base::quoted(a.fluid)),
                    {"", 0, "--fluid"});
    }
    out.fluid = a.fluid == "potassium-chloride" ? "potassium chloride" : "sodium chloride";
    constexpr double kLeastAssay = 0.001;
    constexpr double kMostMoisture = 0.999;
    BW_TRY(assay, parse_share("--assay", a.assay, kLeastAssay, 1, "an assay, from 0.1 to 100 %"));
    BW_TRY(moisture,
           parse_share("--moisture", a.moisture, 0, kMostMoisture, "a moisture, from 0 to 99.9 %"));
    BW_TRY(weighing, parse_weighing(a.weighing));
    BW_TRY(amount, parse_plain("--amount", a.amount, {Dimension::Mass}));
    if (!(amount > 0)) {
        return fail(ProblemCode::OutOfRange, "the amount of fluid is above 0", {"", 0, "--amount"});
    }
    salt.assay = assay.value;
    salt.u_assay = assay.u.value_or(0);
    salt.moisture = moisture.value;
    salt.u_moisture = moisture.u.value_or(0);
    BW_TRY(plan, brine::calibration_fluid(*law, instrument, dissolved, t, salt,
                                          amount * unit::kGramPerKg, weighing));
    out.plan = std::move(plan);
    note_assumptions(a, instrument, out.plan.notices);
    out.practical = practical->value();
    out.dissolved = dissolved.value();
    out.celsius = t.value();
    return out;
}

std::string json_of(const FluidReport& r) {
    const Json out = {{"version", 1},
                      {"instrument", brine::describe(r.instrument)},
                      {"fluid", r.fluid},
                      {"temperature_degC", r.celsius},
                      {"practical_salinity", r.practical},
                      {"salinity_g_per_kg", r.dissolved},
                      {"strength_percent", r.plan.strength.value() / 10},
                      {"strength_standard_uncertainty_percent", r.plan.u_strength_g_per_kg / 10},
                      {"salt_g", r.plan.salt_g},
                      {"salt_standard_uncertainty_g", r.plan.u_salt_g},
                      {"purified_water_g", r.plan.water_g},
                      {"shows", r.plan.shows},
                      {"shows_unit", brine::unit_of(r.instrument)},
                      {"stands_for_standard_uncertainty_g_per_kg", r.plan.u_stands_for_g_per_kg},
                      {"budget", json_budget(r.plan.budget)},
                      {"notices", json_notices(r.plan.notices)}};
    return json_text(out);
}

std::string text_of(const FluidReport& r) {
    Sheet sheet;
    constexpr double kPerPercent = 10;
    sheet.add_with_u(r.fluid + ", as weighed", r.plan.salt_g, r.plan.u_salt_g, 3, "g");
    sheet.add_with_u("purified water", r.plan.water_g, r.plan.u_salt_g, 3, "g");
    sheet.add_with_u("strength", r.plan.strength.value() / kPerPercent,
                     r.plan.u_strength_g_per_kg / kPerPercent, 3, "% by mass");
    sheet.add("the instrument must show", r.plan.shows, places_shown(r.instrument),
              std::string(brine::unit_of(r.instrument)));
    sheet.add_with_u("it stands for", r.dissolved, r.plan.u_stands_for_g_per_kg, 3, "g/kg");
    Sheet parts;
    for (const brine::BudgetPart& part : r.plan.budget) {
        parts.add(part.name == "fluid" ? "tables of the fluid" : std::string(part.name),
                  part.g_per_kg, 3, "g/kg");
    }
    const std::string out = fmt::format(
        "salt        {}\ninstrument  {}\n\nFluid that imitates water of S_P = {} at {} degC\n\n",
        r.salt, brine::describe(r.instrument), base::format_places(r.practical, 2),
        base::format_exact(r.celsius));
    return out + sheet.text() + "\nStandard uncertainty of what it stands for\n" + parts.text() +
           dashes(r.plan.notices);
}

}  // namespace

Command add_calibration_fluid_plan(Command fluid, CalibrationFluidArguments& a) {
    const Command plan =
        fluid.add_subcommand("plan", "What to weigh for a fluid that sets one instrument");
    plan.add_option("INSTRUMENT", a.instrument,
                    "Such as \"refractometer, dial sodium-chloride\" or \"conductivity\"")
        .required();
    plan.add_option("--salinity", a.salinity, "The water imitated, \"35\" or \"35.165 g/kg\"")
        .capture_default_str();
    plan.add_option("--at", a.at, "Temperature at which the instrument is set")
        .capture_default_str();
    plan.add_option("--amount", a.amount, "Mass of fluid").capture_default_str();
    plan.add_option("--fluid", a.fluid, "sodium-chloride or potassium-chloride")
        .capture_default_str();
    plan.add_option("--assay", a.assay, "Of the dried salt: \"99.5 +- 0.2 %\"")
        .capture_default_str();
    plan.add_option("--moisture", a.moisture, "Of the salt as weighed: \"0.3 +- 0.1 %\"")
        .capture_default_str();
    plan.add_option("--weighing", a.weighing, "Standard uncertainty of each weighing")
        .capture_default_str();
    add_salt_options(plan, a.salt);
    add_output_flags(plan, a.json, a.quiet);
    plan.footer(
        "Example:\n  brinewright calibration-fluid plan \"refractometer, dial sodium-chloride\" "
        "--salinity 35 --assay \"99.5 +- 0.2 %\"");
    return plan;
}

int calibration_fluid_plan(const CalibrationFluidArguments& a, const Streams& streams) {
    const auto report = fluid_of(a);
    if (!report) {
        return complain_of(report.error(), streams);
    }
    if (a.json || !a.quiet) {
        put(a.json ? json_of(*report) : text_of(*report), streams);
    }
    return 0;
}

}  // namespace bw::cli
