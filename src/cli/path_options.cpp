// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// The options of the path commands, and the request they make.
#include <fmt/format.h>

#include "base/text.hpp"
#include "cli/answer.hpp"
#include "cli/measured.hpp"
#include "cli/path_command.hpp"
#include "io/water_file.hpp"
#include "unit/factors.hpp"

namespace bw::cli {
namespace {

using unit::Dimension;

constexpr double kMgPerKg = 1e6;

Result<service::GasExchange> exchange_of(const VatArguments& a) {
    service::GasExchange out;
    if (!a.gas_exchange.empty()) {
        BW_TRY(per_h, parse_plain("--gas-exchange", a.gas_exchange, {Dimension::PerTime}));
        out.per_h = per_h;
    }
    if (!a.stone.empty()) {
        BW_TRY(volumes, parse_plain("--stone", a.stone, {Dimension::PerTime}));
        out.air_volumes_per_h = volumes;
    }
    if (!a.film.empty()) {
        BW_TRY(film, parse_plain("--film", a.film, {Dimension::Speed}));
        out.film_m_per_h = film;
    }
    if (!a.depth.empty()) {
        if (a.film.empty() && a.stone.empty()) {
            return fail(ProblemCode::BadInput,
                        "a depth changes nothing without --film or --stone: state one of them",
                        {"", 0, "--depth"});
        }
        BW_TRY(depth, parse_plain("--depth", a.depth, {Dimension::Length}));
        out.depth_m = depth;
    }
    return out;
}

/// Fills the conditions and the pressure of CO2 behind them.
Result<void> set_conditions(const VatArguments& a, service::PathRequest& request) {
    path::VatPlan& out = request.conditions;
    BW_TRY(water, parse_celsius("--temperature", a.temperature));
    out.start_celsius = out.room_celsius = water.value();
    if (!a.room.empty()) {
        BW_TRY(room, parse_celsius("--room", a.room));
        out.room_celsius = room.value();
    }
    BW_TRY(drift, parse_plain("--drift", a.drift, {Dimension::PerTime}));
    out.drift_per_h = drift;
    if (!a.room.empty() && drift == 0) {
        return fail(ProblemCode::BadInput,
                    "a room changes nothing in a vat that does not drift to it: write --drift too, "
                    "for example \"0.05 /h\"",
                    {"", 0, "--room"});
    }
    BW_TRY(air, parse_plain("--air", a.air, {Dimension::Pressure}));
    if (!(air > 0)) {
        return fail(ProblemCode::OutOfRange,
                    "air without CO2 is not air: write its partial pressure, for example "
                    "\"420 uatm\"; for a closed vat write --gas-exchange \"0 /h\"",
                    {"", 0, "--air"});
    }
    request.air_pressure_atm = air;
    BW_TRY(fugacity, io::co2_fugacity_atm(air, water));
    out.air_co2_atm = out.water_co2_atm = fugacity;
    BW_TRY(power, parse_plain("--stirring", a.stirring, {Dimension::PowerPerMass}));
    out.stirring.power_W_per_kg = power;
    BW_TRY(seed, parse_plain("--seed", a.seed, {Dimension::MassPerMass}));
    out.seed_mg_per_kg = seed * kMgPerKg;
    out.particles = a.particles;
    BW_TRY(hours, parse_plain("--hours", a.hours, {Dimension::Time}));
    out.hours = hours;
    return {};
}

}  // namespace

std::vector<std::string> files_of(const VatArguments& a) {
    std::vector<std::string> out = a.materials;
    out.push_back(a.recipe);
    return out;
}

void add_vat_arguments(Command c, VatArguments& a) {
    c.add_option("RECIPE", a.recipe, "File of kind \"recipe\"").check(named).required();
    c.add_option("--materials", a.materials, "Files of kind \"materials\" behind the recipe")
        .check(named)
        .required();
    c.add_option("--temperature", a.temperature, "Of the purified water, 5 to 40 degC")
        .capture_default_str();
    c.add_option("--room", a.room, "Of the room, where it differs from the water's");
    c.add_option("--drift", a.drift, "Share of the difference to the room that the vat loses")
        .capture_default_str();
    c.add_option("--air", a.air, "CO2 of the room's air").capture_default_str();
    c.add_option("--gas-exchange", a.gas_exchange,
                 "Exchange of CO2 with the air, k_L a; \"0 /h\" is a closed vat; 1 /h unless "
                 "said, as of an air stone with 1.5 volumes per hour");
    c.add_option("--stone", a.stone,
                 "Instead: air blown through a stone, volumes per volume of water, \"3 /h\"");
    c.add_option("--film", a.film,
                 "Instead: k_L of the surface, still water 0.02 m/h, strong pump 0.3 m/h");
    c.add_option("--depth", a.depth, "Depth of the water, of the stone; 1 m unless said");
    c.add_option("--stirring", a.stirring, "0.01 gentle, 0.1 usual, 1 strong")
        .capture_default_str();
    c.add_option("--seed", a.seed, "Dust of CaCO3 that comes with the salt, per kg of water")
        .capture_default_str();
    c.add_option("--particles", a.particles, "Other dust: 1 none that counts, 10 fine dust")
        .capture_default_str();
    c.add_option("--hours", a.hours, "Length of the course that is shown").capture_default_str();
    c.add_option("--keep", a.keep, "How long the vat has to stay good").capture_default_str();
    c.add_option("--volume", a.volume, "Of the finished vat").capture_default_str();
}

Result<service::PathRequest> request_of(const VatArguments& a) {
    service::PathRequest out;
    BW_CHECK(set_conditions(a, out));
    BW_TRY(exchange, exchange_of(a));
    out.exchange = exchange;
    BW_TRY(keep, parse_plain("--keep", a.keep, {Dimension::Time}));
    out.keep_h = keep;
    BW_TRY(volume, parse_plain("--volume", a.volume, {Dimension::Volume}));
    out.volume_L = volume;
    BW_TRY(recipe, io::read_document(a.recipe));
    out.recipe = std::move(recipe);
    for (const std::string& path : a.materials) {
        BW_TRY(read, io::read_document(path));
        out.materials.push_back(std::move(read));
    }
    return out;
}

}  // namespace bw::cli
