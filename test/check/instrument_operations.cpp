// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Operations on instruments, brines, calibration fluids and vats.
#include <array>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "brine/calibration_fluid.hpp"
#include "brine/nacl_law.hpp"
#include "brine/natural_seawater.hpp"
#include "brine/seawater_density.hpp"
#include "brine/vat.hpp"
#include "check/operations.hpp"

namespace bw::check {
namespace {

using brine::Refractometer;
using unit::Celsius;
using unit::GramPerKg;

constexpr double kReferencePerPractical = 35.16504 / 35;
constexpr double kGramPerKg = 1000;
constexpr double kSixtyFahrenheit = (60 - 32) / 1.8;

Result<double> needed(const io::Fields& given, std::string_view key) {
    BW_TRY(value, given.number(key));
    if (!value) {
        return given.bad("", fmt::format("{} is missing", key));
    }
    return *value;
}

GramPerKg of_practical(double s) { return GramPerKg(s * kReferencePerPractical); }

brine::NaturalSeawater sea() {
    return brine::NaturalSeawater(brine::NaturalSeawater::Composition::Reference);
}

struct Marks {
    std::string_view name;
    double at, over;
};
constexpr auto kMarks = std::to_array<Marks>({{"25_25", 25, 25},
                                              {"20_20", 20, 20},
                                              {"15_15", 15, 15},
                                              {"60F_60F", kSixtyFahrenheit, kSixtyFahrenheit},
                                              {"20_4", 20, 4},
                                              {"15_4", 15, 4},
                                              {"25_4", 25, 4}});

Result<void> show_densities(GramPerKg w, Celsius t, Findings& out) {
    const brine::NaturalSeawater law = sea();
    for (const Marks& m : kMarks) {
        const brine::Hydrometer glass{Celsius(m.at), Celsius(m.over)};
        BW_TRY(floats, brine::expected_reading(law, glass, w, t));
        out.numbers[fmt::format("hydrometer.{}", m.name)] = floats;
        const brine::Hydrometer none{Celsius(m.at), Celsius(m.over), 0};
        BW_TRY(ratio, brine::expected_reading(law, none, w, Celsius(m.at)));
        out.numbers[fmt::format("sg.{}", m.name)] = ratio;
    }
    return {};
}

}  // namespace

Result<Findings> instrument_shows(const Case& c) {
    BW_CHECK(c.given->allow({"practical_salinity", "t90_degC", "zeroed_at_degC"}));
    BW_TRY(salinity, needed(*c.given, "practical_salinity"));
    BW_TRY(celsius, needed(*c.given, "t90_degC"));
    BW_TRY(zeroed, c.given->number("zeroed_at_degC"));
    const GramPerKg w = of_practical(salinity);
    const Celsius t(celsius);
    const brine::NaturalSeawater law = sea();
    Findings out;
    BW_TRY(kappa, law.conductivity_mS_per_cm(w, t));
    out.numbers["conductivity_mS_per_cm"] = kappa;
    BW_CHECK(show_densities(w, t, out));
    using enum Refractometer::Dial;
    struct Dial {
        std::string_view name;
        Refractometer::Dial dial;
    };
    for (const Dial& d :
         {Dial{"nacl_g_per_kg", NaclGramPerKg}, Dial{"nacl_g_per_L", NaclGramPerLitre},
          Dial{"nacl_sg_20_20", NaclSpecificGravity}}) {
        BW_TRY(shown, brine::expected_reading(law, Refractometer{d.dial}, w, t));
        out.numbers[std::string(d.name)] = shown;
    }
    if (zeroed) {
        BW_TRY(shown, brine::expected_reading(law, Refractometer{Seawater, false, Celsius(*zeroed)},
                                              w, t));
        out.numbers["prism"] = shown;
    }
    return out;
}

Result<Findings> compensation_error(const Case& c) {
    BW_CHECK(c.given->allow({"practical_salinity", "t90_degC", "percent_per_K"}));
    BW_TRY(salinity, needed(*c.given, "practical_salinity"));
    BW_TRY(celsius, needed(*c.given, "t90_degC"));
    BW_TRY(percent, needed(*c.given, "percent_per_K"));
    const Celsius reference(25);
    const brine::ConductivityMeter meter{brine::Compensation{reference, percent / 100}};
    BW_TRY(shown, brine::expected_reading(sea(), meter, of_practical(salinity), Celsius(celsius)));
    BW_TRY(read, brine::meter_salinity(shown, reference));
    return Findings{{{"salinity_error", read.value() - salinity}}, {}};
}

Result<Findings> salt_solution(const Case& c) {
    BW_CHECK(c.given->allow({"salt", "g_per_kg", "t90_degC"}));
    BW_TRY(salt, c.given->required_text("salt"));
    BW_TRY(strength, needed(*c.given, "g_per_kg"));
    BW_TRY(celsius, needed(*c.given, "t90_degC"));
    const GramPerKg w(strength);
    const Celsius t(celsius);
    Findings out;
    if (salt == "NaCl") {
        const brine::NaclBrine law;
        BW_TRY(rho, law.density_kg_per_m3(w, t));
        out.numbers["kg_per_m3"] = rho;
        if (const auto n =
                brine::expected_reading(law, Refractometer{Refractometer::Dial::Index}, w, t)) {
            out.numbers["refractive_index"] = *n;
        }
        BW_TRY(kappa, law.conductivity_mS_per_cm(w, t));
        out.numbers["mS_per_cm"] = kappa;
    } else if (salt == "KCl") {
        BW_TRY(kappa, brine::kcl_conductivity_mS_per_cm(w, t));
        out.numbers["mS_per_cm"] = kappa;
    } else {
        return c.given->bad("salt", "known are NaCl and KCl");
    }
    if (const auto read = brine::meter_salinity(out.numbers["mS_per_cm"], t)) {
        out.numbers["reads_as_salinity"] = read->value();
    }
    return out;
}

Result<Findings> calibration_fluid(const Case& c) {
    BW_CHECK(c.given->allow({"instrument", "practical_salinity", "t90_degC"}));
    BW_TRY(name, c.given->required_text("instrument"));
    BW_TRY(salinity, needed(*c.given, "practical_salinity"));
    BW_TRY(celsius, needed(*c.given, "t90_degC"));
    brine::Instrument instrument = brine::DensityMeter{};
    if (name == "refractometer") {
        instrument = Refractometer{};
    } else if (name == "hydrometer") {
        instrument = brine::Hydrometer{};
    } else if (name == "conductivity") {
        instrument = brine::ConductivityMeter{};
    } else if (name != "density") {
        return c.given->bad("instrument", "not known");
    }
    BW_TRY(fluid, brine::calibration_fluid(sea(), instrument, of_practical(salinity),
                                           Celsius(celsius), {}, kGramPerKg, 0));
    return Findings{{{"strength_percent", fluid.strength.value() / 10}}, {}};
}

Result<Findings> vat_plan(const Case& c) {
    BW_CHECK(c.given->allow({"practical_salinity", "t90_degC", "anhydrous"}));
    BW_TRY(salinity, needed(*c.given, "practical_salinity"));
    BW_TRY(celsius, needed(*c.given, "t90_degC"));
    BW_TRY(share, needed(*c.given, "anhydrous"));
    const brine::NaturalSeawater law = sea();
    const brine::PurifiedWater water{Celsius(celsius), {}};
    BW_TRY(litres_per_kg, brine::litres_of_water(1, water));
    BW_TRY(p, brine::plan_for_water(law, 1 / litres_per_kg, of_practical(salinity),
                                    Celsius(celsius), {share, 0}, water, 0));
    return Findings{{{"salt_g_per_L_finished", p.salt_g_per_L_finished},
                     {"g_per_kg_water", p.blend_g_per_kg_water},
                     {"g_per_L_water", p.blend_g_per_L_water},
                     {"L_from_1_L_water", p.finished_L}},
                    {}};
}

Result<Findings> vat_mend(const Case& c) {
    BW_CHECK(c.given->allow({"kg", "litres", "holds", "wanted", "t90_degC", "added", "lost_kg"}));
    BW_TRY(kg, c.given->number("kg"));
    BW_TRY(litres, c.given->number("litres"));
    BW_TRY(holds, needed(*c.given, "holds"));
    BW_TRY(celsius, needed(*c.given, "t90_degC"));
    BW_TRY(lost, c.given->number("lost_kg"));
    const brine::NaturalSeawater law = sea();
    brine::Vat vat{kg.value_or(0), of_practical(holds), Celsius(celsius)};
    if (litres) {
        BW_TRY(by_volume, brine::vat_of_volume(law, *litres, vat.dissolved, vat.temperature));
        vat = by_volume;
    }
    Findings out;
    if (lost) {
        BW_TRY(after, brine::evaporate(vat, *lost));
        out.numbers["after_loss"] = after.dissolved.value() / kReferencePerPractical;
        return out;
    }
    BW_TRY(wanted, needed(*c.given, "wanted"));
    BW_TRY(added, needed(*c.given, "added"));
    BW_TRY(growing, brine::mend_growing(law, vat, 0, of_practical(wanted), {added, 0}));
    BW_TRY(in_place, brine::mend_in_place(law, vat, 0, of_practical(wanted), {added, 0}));
    BW_TRY(refill, brine::litres_of_water(in_place.add_kg, {vat.temperature, {}}));
    out.numbers["add_kg"] = growing.add_kg;
    out.numbers["drain_L"] = in_place.drain_L;
    out.numbers["refill_L"] = refill;
    return out;
}

Result<Findings> vat_mix(const Case& c) {
    BW_CHECK(c.given->allow({"litres", "salinities", "t90_degC"}));
    BW_TRY(celsius, needed(*c.given, "t90_degC"));
    BW_TRY(litres, c.given->texts("litres"));
    BW_TRY(salinities, c.given->texts("salinities"));
    if (litres.size() != salinities.size()) {
        return c.given->bad("salinities", "one for each volume");
    }
    const brine::NaturalSeawater law = sea();
    std::vector<brine::MixedIn> waters;
    for (std::size_t i = 0; i < litres.size(); ++i) {
        BW_TRY(volume, base::parse_number(litres[i]));
        BW_TRY(salinity, base::parse_number(salinities[i]));
        BW_TRY(vat, brine::vat_of_volume(law, volume, of_practical(salinity), Celsius(celsius)));
        waters.push_back({vat});
    }
    BW_TRY(mixed, brine::mix(law, waters));
    return Findings{{{"practical_salinity", mixed.vat.dissolved.value() / kReferencePerPractical},
                     {"by_volume", mixed.weighted_by_volume.value() / kReferencePerPractical},
                     {"litres", mixed.litres}},
                    {}};
}

}  // namespace bw::check
