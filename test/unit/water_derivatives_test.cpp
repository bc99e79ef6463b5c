// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Derivatives of the state of a water against central differences of the whole: by constituents of
// the water's file, by both closing values, by temperature.
#include <algorithm>
#include <cmath>

#include <gtest/gtest.h>

#include "brine/water.hpp"
#include "unit/brine_water.hpp"

namespace {

using namespace bw;
using namespace bw::brine;
using bw::test::raised_seawater;

constexpr std::array<std::string_view, 7> kSolids{
    "aragonite", "gypsum", "halite", "celestite", "brucite", "strontianite", "fluorite"};

/// ln Omega of the solids, pH, ln fugacity, ln water activity, osmotic coefficient, alkalinity,
/// carbon.
std::vector<double> outputs(const WaterState& s) {
    std::vector<double> out;
    for (const SaturationState& solid : s.saturation) {
        if (std::find(kSolids.begin(), kSolids.end(), solid.solid->key) != kSolids.end()) {
            out.push_back(std::log(solid.omega));
        }
    }
    out.insert(out.end(), {s.ph_total, std::log(s.fugacity_co2_atm), std::log(s.water_activity),
                           s.osmotic_coefficient, s.alkalinity_eq_per_kg, s.carbon_mol_per_kg});
    return out;
}

std::vector<double> column(const WaterDerivatives& d, std::size_t input) {
    std::vector<double> out;
    for (std::size_t i = 0; i < ref::minerals().size(); ++i) {
        if (std::find(kSolids.begin(), kSolids.end(), ref::minerals()[i].key) != kSolids.end()) {
            out.push_back(d.ln_omega[i][input]);
        }
    }
    for (const auto* row : {&d.ph_total, &d.ln_fugacity, &d.ln_water_activity, &d.osmotic,
                            &d.alkalinity, &d.carbon}) {
        out.push_back((*row)[input]);
    }
    return out;
}

/// Fourth order central difference; `moved(h)` is the water at an input h higher.
template <class Moved>
std::vector<double> slope(const Moved& moved, double step) {
    constexpr std::array kShift{-2.0, -1.0, 1.0, 2.0};
    constexpr std::array kWeight{1.0 / 12, -8.0 / 12, 8.0 / 12, -1.0 / 12};
    std::vector<double> out;
    for (std::size_t k = 0; k < kShift.size(); ++k) {
        const auto state = water_state(moved(kShift[k] * step));
        EXPECT_TRUE(state);
        const auto found = outputs(*state);
        out.resize(found.size());
        for (std::size_t i = 0; i < found.size(); ++i) {
            out[i] += kWeight[k] * found[i] / step;
        }
    }
    return out;
}

/// Compares slopes times the size of their input, so that all are of size 1.
void compare(const std::vector<double>& exact, const std::vector<double>& differences, double size,
             double allowed, const std::string& where) {
    ASSERT_EQ(exact.size(), differences.size());
    for (std::size_t i = 0; i < exact.size(); ++i) {
        EXPECT_NEAR(exact[i] * size, differences[i] * size,
                    allowed * (1 + std::abs(differences[i] * size)))
            << where << ", output " << i;
    }
}

struct Input {
    std::string_view symbol;
    Total total;
};
constexpr std::array<Input, 9> kInputs{{{"Na", Total::Na},
                                        {"K", Total::K},
                                        {"Mg", Total::Mg},
                                        {"Ca", Total::Ca},
                                        {"Sr", Total::Sr},
                                        {"Cl", Total::Cl},
                                        {"SO4", Total::SO4},
                                        {"F", Total::F},
                                        {"B", Total::B}}};

void check(const WaterInput& water, double allowed, const std::string& name) {
    const auto exact = water_derivatives(water);
    ASSERT_TRUE(exact) << name;
    constexpr double kPart = 2e-3;
    for (const Input& input : kInputs) {
        const matter::Constituent c = matter::constituent(input.symbol);
        const double amount = water.mol_per_kg[c];
        const auto found = slope(
            [&](double h) {
                WaterInput moved = water;
                moved.mol_per_kg[c] += h;
                return moved;
            },
            kPart * amount);
        compare(column(*exact, 1 + index(input.total)), found, amount, allowed,
                name + ' ' + std::string(input.symbol));
    }
    for (std::size_t k = 0; k < 2; ++k) {
        const bool ph = is_ph(water.closing[k].kind);
        const double size = ph ? 1 : water.closing[k].value;
        const auto found = slope(
            [&](double h) {
                WaterInput moved = water;
                moved.closing[k].value += h;
                return moved;
            },
            kPart * size);
        compare(column(*exact, 1 + kTotals + k), found, size, allowed,
                name + " statement " + std::to_string(k));
    }
    const auto by_temperature = slope(
        [&](double h) {
            WaterInput moved = water;
            moved.temperature = unit::Celsius(water.temperature.value() + h);
            return moved;
        },
        0.1);
    compare(column(*exact, 0), by_temperature, 1, allowed, name + " temperature");
}

TEST(WaterDerivatives, AreThoseOfTheWholeWater) {
    for (const double times : {0.3, 1.0, 4.0, 10.0}) {
        for (const double celsius : {12.0, 25.0}) {
            check(raised_seawater(times, 1.5, unit::Celsius(celsius)), 1e-7,
                  std::to_string(times) + " at " + std::to_string(celsius));
        }
    }
}

TEST(WaterDerivatives, OfOtherStatements) {
    using enum Closure;
    for (const double times : {1.0, 8.0}) {
        for (const auto& [first, second] :
             {std::pair{Alkalinity, Fugacity}, std::pair{Alkalinity, PhTotal},
              std::pair{PhFree, Carbon}, std::pair{Fugacity, PhTotal}}) {
            WaterInput water = raised_seawater(times, 1.5);
            const auto state = water_state(water);
            ASSERT_TRUE(state);
            const auto value = [&](Closure kind) {
                return kind == Alkalinity ? state->alkalinity_eq_per_kg
                       : kind == Carbon   ? state->carbon_mol_per_kg
                       : kind == Fugacity ? state->fugacity_co2_atm
                       : kind == PhFree   ? state->ph_free
                                          : state->ph_total;
            };
            water.closing = {{{first, value(first)}, {second, value(second)}}};
            check(water, 1e-7,
                  std::to_string(times) + " pair " + std::to_string(static_cast<int>(first)) +
                      std::to_string(static_cast<int>(second)));
        }
    }
}

TEST(WaterDerivatives, RefusesWhatTheStateRefuses) {
    WaterInput water = raised_seawater(1);
    water.temperature = unit::Celsius(50);
    EXPECT_FALSE(water_derivatives(water));
    water.temperature = unit::Celsius(25);
    water.closing[1].kind = water.closing[0].kind;
    EXPECT_FALSE(water_derivatives(water));
}

}  // namespace
