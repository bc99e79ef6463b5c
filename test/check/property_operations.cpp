// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Operations on the properties that instruments read: density, conductivity, refractive index.
#include <cmath>

#include "brine/conductivity.hpp"
#include "brine/nacl_brine.hpp"
#include "brine/practical_salinity.hpp"
#include "brine/reference_density.hpp"
#include "brine/refractive_index.hpp"
#include "brine/temperature_scale.hpp"
#include "brine/water_density.hpp"
#include "brine/water_properties.hpp"
#include "check/given.hpp"
#include "check/operations.hpp"
#include "matter/formula.hpp"

namespace bw::check {
namespace {

using unit::Celsius;
using unit::GramPerKg;
using unit::PracticalSalinity;

constexpr double kMilli = 1000;
constexpr double kPercent = 100;
constexpr double kTwentyFive = 25;
constexpr double kTwenty = 20;

GramPerKg reference_salinity(double practical) {
    return GramPerKg(practical * brine::kGramPerKgPerPracticalSalinity);
}

Result<matter::Dissolved> dissolved(const std::string& text) {
    BW_TRY(formula, matter::parse_formula(text));
    return matter::dissolve(formula);
}

Findings properties_against(const brine::WaterProperties& water,
                            const brine::WaterProperties& natural) {
    const auto difference = [](const auto& a, const auto& b) {
        return a && b ? (*a - *b).value() : std::nan("");
    };
    Findings out;
    out.numbers = {
        {"dissolved_g_per_kg", water.dissolved.value()},
        {"dS_by_mass", (water.salinity_by_mass - natural.salinity_by_mass).value()},
        {"drho_kg_per_m3", water.density_kg_per_m3.value - natural.density_kg_per_m3.value},
        {"dkappa_percent",
         kPercent *
             (water.conductivity_mS_per_cm.value / natural.conductivity_mS_per_cm.value - 1)},
        {"dn_1e3", kMilli * (water.refractive_index.value - natural.refractive_index.value)},
        {"dS_by_density", difference(water.salinity_by_density, natural.salinity_by_density)},
        {"dS_by_conductivity",
         difference(water.salinity_by_conductivity, natural.salinity_by_conductivity)},
        {"dS_by_refractive_index",
         difference(water.salinity_by_refractive_index, natural.salinity_by_refractive_index)},
        {"g_per_kg_by_conductivity", water.gram_per_kg_by_conductivity},
    };
    return out;
}

}  // namespace

Result<Findings> practical_salinity(const Case& c) {
    BW_CHECK(c.given->allow({"ratio", "t68_degC", "mS_per_cm", "t90_degC", "pressure_dbar"}));
    if (c.given->has("ratio")) {
        BW_TRY(ratio, required(*c.given, "ratio"));
        BW_TRY(t68, required(*c.given, "t68_degC"));
        BW_TRY(pressure, required(*c.given, "pressure_dbar"));
        return Findings{{{"practical_salinity", brine::salinity_of_ratio(ratio, t68, pressure)}},
                        {}};
    }
    BW_TRY(kappa, required(*c.given, "mS_per_cm"));
    BW_TRY(t90, required(*c.given, "t90_degC"));
    if (c.given->has("pressure_dbar")) {
        BW_TRY(pressure, required(*c.given, "pressure_dbar"));
        return Findings{{{"practical_salinity",
                          brine::salinity_of_ratio(kappa / brine::kConductivityAt35_mS_per_cm,
                                                   brine::ipts68(Celsius(t90)), pressure)}},
                        {}};
    }
    BW_TRY(reading, brine::salinity_of_conductivity(kappa, Celsius(t90)));
    return Findings{{{"practical_salinity", reading.salinity.value()},
                     {"extrapolated", reading.extrapolated ? 1.0 : 0.0}},
                    {}};
}

Result<Findings> conductivity_of_seawater(const Case& c) {
    BW_CHECK(
        c.given->allow({"practical_salinity", "t68_degC", "t90_degC", "linear_percent_per_K"}));
    BW_TRY(S, required(*c.given, "practical_salinity"));
    BW_TRY(t68, c.given->number("t68_degC"));
    BW_TRY(t90, c.given->number("t90_degC"));
    if (t68.has_value() == t90.has_value()) {
        return c.given->bad("", "give the temperature on one scale: t68_degC or t90_degC");
    }
    const double t = t90 ? *t90 : *t68 / brine::kIpts68PerIts90;
    BW_TRY(there, brine::conductivity_of_salinity(PracticalSalinity(S), Celsius(t)));
    BW_TRY(at_25, brine::conductivity_of_salinity(PracticalSalinity(S), Celsius(kTwentyFive)));
    Findings out;
    out.numbers["mS_per_cm"] = there.kappa_mS_per_cm;
    if (t != kTwentyFive) {
        out.numbers["true_percent_per_K"] =
            kPercent * (there.kappa_mS_per_cm / at_25.kappa_mS_per_cm - 1) / (t - kTwentyFive);
    }
    BW_TRY(linear, c.given->number("linear_percent_per_K"));
    if (linear) {
        const double shown = there.kappa_mS_per_cm / (1 + *linear / kPercent * (t - kTwentyFive));
        BW_TRY(read, brine::salinity_of_conductivity(shown, Celsius(kTwentyFive)));
        out.numbers["error_S"] = read.salinity.value() - S;
    }
    return out;
}

Result<Findings> reference_density(const Case& c) {
    BW_CHECK(c.given->allow({"g_per_kg", "t90_degC"}));
    BW_TRY(salinity, required(*c.given, "g_per_kg"));
    BW_TRY(t, required(*c.given, "t90_degC"));
    BW_TRY(rho, brine::reference_seawater_density(GramPerKg(salinity), Celsius(t)));
    return Findings{{{"kg_per_m3", rho.value()}}, {}};
}

Result<Findings> specific_gravity(const Case& c) {
    BW_CHECK(c.given->allow({"practical_salinity", "t_degC", "t_water_degC"}));
    BW_TRY(S, required(*c.given, "practical_salinity"));
    BW_TRY(t, required(*c.given, "t_degC"));
    BW_TRY(t_water, required(*c.given, "t_water_degC"));
    BW_TRY(found, brine::specific_gravity(reference_salinity(S), Celsius(t), Celsius(t_water)));
    return Findings{{{"specific_gravity", found}}, {}};
}

Result<Findings> refractive_index_of_seawater(const Case& c) {
    BW_CHECK(c.given->allow({"practical_salinity", "t90_degC"}));
    BW_TRY(S, required(*c.given, "practical_salinity"));
    BW_TRY(t, required(*c.given, "t90_degC"));
    BW_TRY(n, brine::seawater_refractive_index(PracticalSalinity(S), Celsius(t)));
    Findings out;
    out.numbers["n"] = n;
    BW_TRY(stronger, brine::seawater_refractive_index(PracticalSalinity(S + 1), Celsius(t)));
    out.numbers["dn_dS_1e4"] = kMilli * 10 * (stronger - n);
    if (S == 0) {
        BW_TRY(rho, brine::pure_water_density(Celsius(t)));
        BW_TRY(vacuum, brine::refractive_index_of_water(rho.value(), brine::kelvin(Celsius(t)),
                                                        brine::kSodiumLine_um));
        out.numbers["less_water_over_air"] =
            n - vacuum / brine::refractive_index_of_air(Celsius(t));
    }
    return out;
}

Result<Findings> refractive_index_of_water(const Case& c) {
    BW_CHECK(c.given->allow({"kg_per_m3", "t_K", "wavelength_um"}));
    BW_TRY(rho, required(*c.given, "kg_per_m3"));
    BW_TRY(t, required(*c.given, "t_K"));
    BW_TRY(wavelength, required(*c.given, "wavelength_um"));
    BW_TRY(n, brine::refractive_index_of_water(rho, t, wavelength));
    return Findings{{{"n", n}}, {}};
}

Result<Findings> nacl_solution(const Case& c) {
    BW_CHECK(c.given->allow({"g_per_kg", "t90_degC", "shows_index_of_salinity"}));
    if (c.given->has("shows_index_of_salinity")) {
        BW_TRY(S, required(*c.given, "shows_index_of_salinity"));
        BW_TRY(n, brine::seawater_refractive_index(PracticalSalinity(S), Celsius(kTwenty)));
        BW_TRY(w, brine::nacl_of_refractive_index_20(n));
        BW_TRY(rho, brine::nacl_density(w, Celsius(kTwenty)));
        BW_TRY(water, brine::pure_water_density(Celsius(kTwenty)));
        return Findings{{{"g_per_kg", w.value()},
                         {"g_per_L", w.value() * rho.value / kMilli},
                         {"specific_gravity_20_20", rho.value / water.value()}},
                        {}};
    }
    BW_TRY(w, required(*c.given, "g_per_kg"));
    BW_TRY(t, required(*c.given, "t90_degC"));
    Findings out;
    BW_TRY(rho, brine::nacl_density(GramPerKg(w), Celsius(t)));
    BW_TRY(n, brine::nacl_refractive_index(GramPerKg(w), Celsius(t)));
    BW_TRY(kappa, brine::nacl_conductivity_mS_per_cm(GramPerKg(w), Celsius(t)));
    out.numbers = {{"kg_per_m3", rho.value}, {"n", n.value}, {"mS_per_cm", kappa.value}};
    return out;
}

Result<Findings> electrolyte(const Case& c) {
    BW_CHECK(c.given->allow({"formula", "mol_per_kg_water", "mass_percent", "t90_degC"}));
    BW_TRY(text, c.given->required_text("formula"));
    BW_TRY(salt, dissolved(text));
    BW_TRY(t, required(*c.given, "t90_degC"));
    double mol = 0;  // per kg of solution
    if (c.given->has("mass_percent")) {
        BW_TRY(percent, required(*c.given, "mass_percent"));
        mol = percent / kPercent * kMilli / salt.molar_mass_g;
    } else {
        BW_TRY(molal, required(*c.given, "mol_per_kg_water"));
        mol = molal / (1 + molal * salt.molar_mass_g / kMilli);
    }
    matter::Amounts amounts = salt.per_mol;
    amounts.scale(mol);
    BW_TRY(kappa, brine::conductivity_by_ions_mS_per_cm(amounts, Celsius(t)));
    BW_TRY(rho, brine::density(amounts, Celsius(t)));
    BW_TRY(volumes, brine::density_by_volumes(amounts, Celsius(t)));
    return Findings{
        {{"mS_per_cm", kappa}, {"kg_per_m3", rho.value}, {"kg_per_m3_by_volumes", volumes}}, {}};
}

Result<Findings> added_salt(const Case& c) {
    BW_CHECK(c.given->allow({"practical_salinity", "formula", "g_per_kg", "t90_degC"}));
    BW_TRY(S, required(*c.given, "practical_salinity"));
    BW_TRY(text, c.given->required_text("formula"));
    BW_TRY(grams, required(*c.given, "g_per_kg"));
    BW_TRY(t, required(*c.given, "t90_degC"));
    BW_TRY(salt, dissolved(text));
    const matter::Amounts natural = matter::reference_seawater(reference_salinity(S).value());
    matter::Amounts water = natural;
    water.scale(1 - grams / kMilli);
    water.add(salt.per_mol, grams / salt.molar_mass_g);
    BW_TRY(before, brine::water_properties(natural, Celsius(t)));
    BW_TRY(after, brine::water_properties(water, Celsius(t)));
    return properties_against(after, before);
}

Result<Findings> raised_water(const Case& c) {
    BW_CHECK(c.given->allow({"practical_salinity", "CaCl2_mmol", "MgCl2_mmol", "NaHCO3_mmol",
                             "same_dissolved_mass", "t90_degC"}));
    BW_TRY(S, required(*c.given, "practical_salinity"));
    BW_TRY(t, required(*c.given, "t90_degC"));
    const matter::Amounts natural = matter::reference_seawater(reference_salinity(S).value());
    matter::Amounts water = natural;
    for (const char* formula : {"CaCl2", "MgCl2", "NaHCO3"}) {
        BW_TRY(mmol, c.given->number(std::string(formula) + "_mmol"));
        BW_TRY(salt, dissolved(formula));
        water.add(salt.per_mol, mmol.value_or(0) / kMilli);
    }
    BW_TRY(same, c.given->flag("same_dissolved_mass"));
    if (same.value_or(false)) {
        BW_TRY(salt, dissolved("NaCl"));
        water.add(salt.per_mol,
                  (natural.dissolved_mass_g() - water.dissolved_mass_g()) / salt.molar_mass_g);
    }
    BW_TRY(before, brine::water_properties(natural, Celsius(t)));
    BW_TRY(after, brine::water_properties(water, Celsius(t)));
    return properties_against(after, before);
}

}  // namespace bw::check
