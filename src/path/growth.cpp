// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "path/growth.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/text.hpp"
#include "brine/physical_constants.hpp"
#include "brine/temperature_scale.hpp"
#include "ref/growth_table.hpp"

namespace bw::path {
namespace {

constexpr unit::Celsius kOfTheLaws{25};

struct PowerLaw {
    double k_umol_per_m2_h, order;
    [[nodiscard]] double at(double omega) const {
        return omega > 1 ? k_umol_per_m2_h * std::pow(omega - 1, order) : 0;
    }
};

constexpr PowerLaw kAragonite{30, 1.9};
constexpr double kAragoniteEnergy_J_per_mol = 71e3;
constexpr PowerLaw kCalcite{1.87, 2.2};
constexpr double kCalciteEnergy_J_per_mol = 55.3e3;
constexpr double kCalciteWithoutMagnesium = 10;
constexpr double kNoMagnesiumShare = 0.05;

std::span<const ref::GrowthRow> rows_of(std::string_view law) {
    const auto all = ref::growth_rates();
    const auto is_it = [law](const ref::GrowthRow& row) { return row.law == law; };
    const auto first = std::find_if(all.begin(), all.end(), is_it);
    const auto last = std::find_if_not(first, all.end(), is_it);
    return {first, last};
}

}  // namespace

Result<double> published_growth_umol_per_m2_h(std::string_view law, double omega,
                                              unit::Celsius temperature) {
    const auto rows = rows_of(law);
    if (rows.empty()) {
        return fail(ProblemCode::UnknownName,
                    fmt::format("there is no law of growth {} in data/growth.toml",
                                base::quoted(std::string(law))));
    }
    const double celsius = temperature.value();
    const double low = rows.front().celsius;
    const double high = rows.back().celsius;
    if (!(celsius >= low && celsius <= high)) {
        return fail(ProblemCode::OutOfRange,
                    low == high ? fmt::format("The law {} holds at {:g} degC, not at {:g} degC.",
                                              law, low, celsius)
                                : fmt::format("The law {} holds from {:g} to {:g} degC, not at "
                                              "{:g} degC.",
                                              law, low, high, celsius));
    }
    if (!(omega > 0 && std::isfinite(omega))) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("Omega must be above 0 for the law {}, not {:g}.", law, omega));
    }
    const auto warm = std::find_if(rows.begin(), rows.end(), [celsius](const ref::GrowthRow& row) {
        return row.celsius >= celsius;
    });
    const double at_warm = PowerLaw{warm->k_umol_per_m2_h, warm->order}.at(omega);
    if (warm->celsius == celsius || at_warm == 0) {
        return at_warm;
    }
    const auto cold = warm - 1;
    const double at_cold = PowerLaw{cold->k_umol_per_m2_h, cold->order}.at(omega);
    const double share = (celsius - cold->celsius) / (warm->celsius - cold->celsius);
    return at_cold * std::pow(at_warm / at_cold, share);
}

double aragonite_growth_umol_per_m2_h(double omega, unit::Celsius temperature) {
    return kAragonite.at(omega) * quickening(temperature, kOfTheLaws, kAragoniteEnergy_J_per_mol);
}

double calcite_growth_umol_per_m2_h(double omega, unit::Celsius temperature,
                                    double magnesium_share) {
    const double held_back =
        std::clamp((magnesium_share - kNoMagnesiumShare) / (1 - kNoMagnesiumShare), 0.0, 1.0);
    return kCalcite.at(omega) * std::pow(kCalciteWithoutMagnesium, 1 - held_back) *
           quickening(temperature, kOfTheLaws, kCalciteEnergy_J_per_mol);
}

double molar_volume_m3(CarbonateSolid solid) {
    return solid == CarbonateSolid::Aragonite ? 34.15e-6 : 36.93e-6;
}

double face_speed_m_per_h(double umol_per_m2_h, CarbonateSolid solid) {
    return umol_per_m2_h * kMolPerMicromol * molar_volume_m3(solid);
}

double quickening(unit::Celsius at, unit::Celsius than_at, double energy_J_per_mol) {
    return std::exp(energy_J_per_mol / brine::kGasConstant_J_per_mol_K *
                    (1 / brine::kelvin(than_at) - 1 / brine::kelvin(at)));
}

}  // namespace bw::path
