// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// The operations of the brine floor.
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "base/text.hpp"
#include "brine/carbonate_system.hpp"
#include "brine/seawater_constants.hpp"
#include "check/operations.hpp"

namespace bw::check {
namespace {

using brine::CarbonateQuantity;

constexpr double kMicroPerOne = 1e6;

/// What the Guide of 2007 subtracts from ln K to move it from the seawater to the total scale.
constexpr double kGuideShift = 0.015;

template <class Value>
struct Named {
    std::string_view name;
    Value value;
};

constexpr auto kCarbonicFits = std::to_array<Named<brine::CarbonicFit>>({
    {"lueker 2000", brine::CarbonicFit::Lueker2000},
    {"sulpis 2020", brine::CarbonicFit::Sulpis2020},
    {"waters 2014", brine::CarbonicFit::Waters2014},
});
constexpr auto kFluorideFits = std::to_array<Named<brine::FluorideFit>>({
    {"perez fraga 1987", brine::FluorideFit::PerezFraga1987},
    {"dickson riley 1979", brine::FluorideFit::DicksonRiley1979},
});
constexpr auto kBoronRatios = std::to_array<Named<brine::BoronRatio>>({
    {"lee 2010", brine::BoronRatio::Lee2010},
    {"uppstrom 1974", brine::BoronRatio::Uppstrom1974},
});
/// Quantities by key, and what one of the key's unit is in that of CarbonateQuantity.
struct KnownRow {
    std::string_view key;
    CarbonateQuantity kind;
    double scale;
};
constexpr auto kKnown = std::to_array<KnownRow>({
    {"alkalinity_ueq_per_kg", CarbonateQuantity::Alkalinity, 1 / kMicroPerOne},
    {"carbon_umol_per_kg", CarbonateQuantity::InorganicCarbon, 1 / kMicroPerOne},
    {"ph_total", CarbonateQuantity::PhTotal, 1},
    {"pco2_uatm", CarbonateQuantity::PartialPressure, 1},
    {"fco2_uatm", CarbonateQuantity::Fugacity, 1},
});

template <class Value, std::size_t N>
Result<Value> named(const io::Fields& given, std::string_view key,
                    const std::array<Named<Value>, N>& names) {
    BW_TRY(word, given.text(key));
    if (!word) {
        return names.front().value;
    }
    for (const auto& row : names) {
        if (row.name == *word) {
            return row.value;
        }
    }
    return given.bad(key, fmt::format("{} has no {}", key, base::quoted(*word)));
}

Result<brine::SeawaterFits> fits_of(const io::Fields& given) {
    BW_TRY(carbonic, named(given, "carbonic", kCarbonicFits));
    BW_TRY(fluoride, named(given, "fluoride", kFluorideFits));
    BW_TRY(boron, named(given, "boron", kBoronRatios));
    return brine::SeawaterFits{carbonic, fluoride, boron};
}

struct Place {
    unit::PracticalSalinity salinity;
    unit::Celsius temperature;
};

Result<Place> place_of(const io::Fields& given) {
    BW_TRY(salinity, given.number("practical_salinity"));
    BW_TRY(celsius, given.number("t90_degC"));
    if (!salinity || !celsius) {
        return given.bad("", "practical_salinity and t90_degC are needed");
    }
    return Place{unit::PracticalSalinity(*salinity), unit::Celsius(*celsius)};
}

}  // namespace

Result<Findings> seawater_constants(const Case& c) {
    BW_CHECK(c.given->allow({"practical_salinity", "t90_degC", "carbonic", "fluoride", "boron"}));
    BW_TRY(place, place_of(*c.given));
    BW_TRY(fits, fits_of(*c.given));
    BW_TRY(k, brine::seawater_constants(place.salinity, place.temperature, fits));
    BW_TRY(totals, brine::natural_totals(place.salinity, fits.boron));
    const double total = 1 + totals.sulfate / k.ks;
    const double total_per_seawater = total / (total + totals.fluoride / k.kf);
    Findings out;
    for (const auto& [name, value] :
         std::to_array<Named<double>>({{"k0", k.k0},
                                       {"fugacity_factor", k.fugacity_factor},
                                       {"k1", k.k1},
                                       {"k2", k.k2},
                                       {"kb", k.kb},
                                       {"kw", k.kw},
                                       {"ks", k.ks},
                                       {"kf", k.kf},
                                       {"kp1", k.kp1},
                                       {"kp2", k.kp2},
                                       {"kp3", k.kp3},
                                       {"ksi", k.ksi},
                                       {"knh4", k.knh4},
                                       {"ksp_calcite", k.ksp_calcite},
                                       {"ksp_aragonite", k.ksp_aragonite}})) {
        out.numbers[fmt::format("constant.{}", name)] = value;
        out.numbers[fmt::format("ln.{}", name)] = std::log(value);
        out.numbers[fmt::format("p.{}", name)] = -std::log10(value);
        out.numbers[fmt::format("ln_by_the_guides_shift.{}", name)] =
            std::log(value / total_per_seawater) - kGuideShift;
    }
    out.numbers["umol_per_kg.B"] = totals.boron * kMicroPerOne;
    out.numbers["umol_per_kg.SO4"] = totals.sulfate * kMicroPerOne;
    out.numbers["umol_per_kg.F"] = totals.fluoride * kMicroPerOne;
    out.numbers["umol_per_kg.Ca"] = totals.calcium * kMicroPerOne;
    return out;
}

Result<Findings> carbonate_system(const Case& c) {
    BW_CHECK(c.given->allow({"practical_salinity", "t90_degC", "carbonic", "fluoride", "boron",
                             "alkalinity_ueq_per_kg", "carbon_umol_per_kg", "ph_total", "pco2_uatm",
                             "fco2_uatm"}));
    BW_TRY(place, place_of(*c.given));
    BW_TRY(fits, fits_of(*c.given));
    BW_TRY(constants, brine::seawater_constants(place.salinity, place.temperature, fits));
    BW_TRY(totals, brine::natural_totals(place.salinity, fits.boron));
    brine::CarbonateInput input{{}, {}, 0, 0, totals};
    int known = 0;
    for (const KnownRow& row : kKnown) {
        BW_TRY(value, c.given->number(row.key));
        if (value) {
            (known == 0 ? input.first_kind : input.second_kind) = row.kind;
            (known == 0 ? input.first : input.second) = *value * row.scale;
            ++known;
        }
    }
    if (known != 2) {
        return c.given->bad("", "give two quantities of the carbon dioxide system");
    }
    BW_TRY(s, brine::solve_carbonate(input, constants));
    return Findings{{{"ph_total", s.ph_total},
                     {"ph_free", s.ph_free},
                     {"ph_sws", s.ph_sws},
                     {"alkalinity_ueq_per_kg", s.alkalinity * kMicroPerOne},
                     {"carbon_umol_per_kg", s.inorganic_carbon * kMicroPerOne},
                     {"umol_per_kg.CO2", s.co2 * kMicroPerOne},
                     {"umol_per_kg.HCO3", s.hco3 * kMicroPerOne},
                     {"umol_per_kg.CO3", s.co3 * kMicroPerOne},
                     {"umol_per_kg.BOH4", s.boh4 * kMicroPerOne},
                     {"pco2_uatm", s.pco2_uatm},
                     {"fco2_uatm", s.fco2_uatm},
                     {"omega_calcite", s.omega_calcite},
                     {"omega_aragonite", s.omega_aragonite},
                     {"revelle", s.revelle}},
                    {}};
}

}  // namespace bw::check
