// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "path/vat_water.hpp"

#include <cmath>

#include <gtest/gtest.h>

#include "brine/reference_totals.hpp"

namespace bw::path {
namespace {

/// Reference-Composition Seawater of practical salinity 35, calcium and alkalinity raised.
Dissolved raised(double times = 1) {
    const auto sea = brine::reference_totals(35);
    const double water = 1 - sea.dissolved_kg_per_kg;
    Dissolved out;
    out.mol = sea.mol_per_kg;
    for (double& m : out.mol) {
        m /= water;
    }
    constexpr double kMore = 1.7e-3;  // eq/kg
    out.alkalinity_eq = (sea.alkalinity_eq_per_kg + kMore) / water;
    out.carbon_mol = (sea.carbon_mol_per_kg + kMore) / water;
    out.mol[brine::index(brine::Total::Na)] += kMore / water;
    Dissolved scaled;
    scaled.add(out, times);
    return scaled;
}

TEST(VatWater, AWholeDegreeIsTheModelItself) {
    VatWater vat;
    const Dissolved d = raised();
    const VatState* state = vat.at(d, 25);
    ASSERT_NE(state, nullptr);
    const double salt = d.salt_kg();
    const auto sea = brine::reference_totals(35);
    EXPECT_NEAR(salt / (1 + salt), sea.dissolved_kg_per_kg, 2e-4);
    EXPECT_GT(state->ph_total, 7);
    EXPECT_LT(state->ph_total, 9);
    EXPECT_EQ(state->ln_omega.size(), ref::minerals().size());
}

TEST(VatWater, BetweenDegreesLogarithmsAreJoined) {
    VatWater vat;
    for (const double t : {5.5, 12.5, 24.5, 33.5}) {
        for (const double times : {0.1, 1.0, 4.0}) {
            const Dissolved d = raised(times);
            const VatState* joined = vat.at(d, t);
            ASSERT_NE(joined, nullptr);
            const VatState between = *joined;
            // The same by a model of the half degree itself.
            const auto model = *brine::WaterModel::at(unit::Celsius(t));
            const double share = 1 / (1 + d.salt_kg());
            brine::PerTotal<double> per_kg = d.mol;
            for (double& m : per_kg) {
                m *= share;
            }
            const auto c = brine::conditions(model.equations(), per_kg, 1 - share);
            const auto s = brine::speciate(model.equations(), c,
                                           {{brine::Closure::Alkalinity, brine::Closure::Carbon},
                                            {d.alkalinity_eq * share, d.carbon_mol * share}});
            ASSERT_TRUE(s);
            std::vector<double> omega;
            brine::ln_saturation(model.equations(), *s, omega);
            EXPECT_NEAR(
                between.ph_total,
                -std::log10(brine::hydrogen_on_scale(brine::Closure::PhTotal, c, s->molality)),
                3e-5);
            for (std::size_t i = 0; i < omega.size(); ++i) {
                if (std::isfinite(omega[i])) {
                    EXPECT_NEAR(between.ln_omega[i], omega[i], 3e-4)
                        << ref::minerals()[i].key << " " << t;
                }
            }
            EXPECT_NEAR(std::log(between.fugacity_co2_atm()),
                        brine::ln_fugacity(model.equations(), *s), 1e-4);
        }
    }
}

TEST(VatWater, PurifiedWaterAndTheFirstGrainHaveAState) {
    VatWater vat;
    const VatState* pure = vat.at({}, 25);
    ASSERT_NE(pure, nullptr);
    EXPECT_NEAR(pure->ph_total, 7, 0.01);
    for (double times = 1e-9; times < 2; times *= 10) {
        EXPECT_NE(vat.at(raised(times), 22.3), nullptr) << times;
    }
}

TEST(VatWater, OutsideTheModelThereIsNone) {
    VatWater vat;
    EXPECT_EQ(vat.at(raised(), -0.1), nullptr);
    EXPECT_EQ(vat.at(raised(), 40.1), nullptr);
    EXPECT_EQ(vat.at(raised(20), 25), nullptr);
    EXPECT_NE(vat.at(raised(), 40), nullptr);
}

}  // namespace
}  // namespace bw::path
