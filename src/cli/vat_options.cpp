// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <string>

#include "cli/answer.hpp"
#include "cli/vat_command.hpp"

namespace bw::cli {
namespace {

const std::string kAnhydrous =
    "Share of the blend that is salt free of water: \"95 +- 0.3 %\"; unless said, that of the "
    "recipe in --water, else 100 %";

}  // namespace

Command add_vat_plan(Command vat, VatPlanArguments& a) {
    const Command plan = vat.add_subcommand("plan", "Dry blend and purified water for a vat");
    plan.add_option("--salinity", a.salinity, "Wanted, \"35\" or \"35.165 g/kg\"").required();
    plan.add_option("--at", a.at, "Temperature of the finished water").capture_default_str();
    plan.add_option("--volume", a.volume, "Finished water, by volume: \"1000 L\"");
    plan.add_option("--mass", a.mass, "Finished water, by mass: \"1000 kg\"");
    plan.add_option("--purified", a.purified, "Purified water at hand: \"1000 L\" or \"1 t\"");
    plan.add_option("--anhydrous", a.anhydrous, kAnhydrous);
    plan.add_option("--purified-at", a.purified_at,
                    "Temperature of the purified water, unless that of the vat");
    plan.add_option("--purified-solids", a.purified_solids, "Dissolved in it: \"20 mg/kg\"");
    plan.add_option("--weighing", a.weighing, "Standard uncertainty of each weighing")
        .capture_default_str();
    add_salt_options(plan, a.salt);
    add_output_flags(plan, a.json, a.quiet);
    plan.footer(
        "Example:\n  brinewright vat plan --salinity 35 --volume \"1000 L\" --at \"25 degC\" "
        "--anhydrous \"95 +- 0.3 %\"");
    return plan;
}

Command add_vat_correct(Command vat, VatCorrectArguments& a) {
    const Command correct =
        vat.add_subcommand("correct", "Mend a weak or a strong vat, or one that lost water");
    correct.add_option("--volume", a.volume, "The vat, by volume: \"1000 L\"");
    correct.add_option("--mass", a.mass, "The vat, by mass: \"1000 kg\"");
    correct.add_option("--holds", a.holds, "Its salinity, \"33 +- 0.2\" or \"33.2 g/kg\"")
        .required();
    correct.add_option("--wanted", a.wanted, "The salinity it should have");
    correct.add_option("--evaporated", a.evaporated,
                       "Water it lost to the air instead, \"20 kg\" or \"20 L\"");
    correct.add_option("--at", a.at, "Temperature of the vat").capture_default_str();
    correct.add_option("--anhydrous", a.anhydrous, kAnhydrous);
    correct.add_option("--concentrate", a.concentrate,
                       "A strong water of the same salt that may be added: \"150 g/kg\"");
    correct.add_option("--purified-at", a.purified_at,
                       "Temperature of the purified water, unless that of the vat");
    correct.add_option("--purified-solids", a.purified_solids, "Dissolved in it: \"20 mg/kg\"");
    add_salt_options(correct, a.salt);
    add_output_flags(correct, a.json, a.quiet);
    correct.footer(
        "Example:\n  brinewright vat correct --volume \"1000 L\" --holds 37 --wanted 35 --at \"25 "
        "degC\"");
    return correct;
}

Command add_vat_mix(Command vat, VatMixArguments& a) {
    const Command mix = vat.add_subcommand("mix", "Two waters or more, mixed");
    mix.add_option("WATER", a.waters,
                   "Phrases such as \"600 L of 30, at 25 degC\" or \"600 L of water.toml\"")
        .required();
    mix.add_option("--at", a.at, "Temperature of waters that name none").capture_default_str();
    add_salt_options(mix, a.salt);
    // A recipe may stand among the waters themselves.
    mix.get_option("--materials").remove_needs(mix.get_option("--water"));
    add_output_flags(mix, a.json, a.quiet);
    mix.footer("Example:\n  brinewright vat mix \"600 L of 30\" \"400 L of 40\" --at \"25 degC\"");
    return mix;
}

}  // namespace bw::cli
