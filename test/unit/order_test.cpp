// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "path/order.hpp"

#include <set>

#include <gtest/gtest.h>

#include "matter/formula.hpp"

namespace bw::path {
namespace {

Part part(const char* formula, double mol) {
    Part out;
    out.name = formula;
    out.solid = *dissolving_solid(formula);
    matter::Amounts amounts = matter::dissolve(*matter::parse_formula(formula))->per_mol;
    amounts.scale(mol);
    out.brings = dissolved_of(amounts);
    out.kg_per_kg_water = mol * out.solid.molar_mass_g_per_mol / 1000;
    out.grains = *grains_about(0.3e-3, 1, 1);
    return out;
}

std::vector<Part> salt() {
    return {part("NaCl", 0.43),       part("MgCl2.6H2O", 0.03), part("MgSO4.7H2O", 0.03),
            part("CaCl2.2H2O", 0.01), part("NaHCO3", 0.004),    part("H3BO3", 0.0004)};
}

TEST(Order, RolesFollowWhatPartsBring) {
    EXPECT_EQ(roles_of(salt()), (std::vector<Role>{Role::Rest, Role::Magnesium, Role::Magnesium,
                                                   Role::Calcium, Role::Alkalinity, Role::Rest}));
}

TEST(Order, EveryOrderNamesEveryPartOnce) {
    const auto orders = usual_orders(salt(), 0.5);
    ASSERT_EQ(orders.size(), kUsualOrders);
    std::set<std::string> names;
    for (const Order& o : orders) {
        names.insert(o.name);
        std::set<std::size_t> parts;
        for (const Addition& a : o.additions) {
            parts.insert(a.part);
            EXPECT_GE(a.at_h, 0);
            EXPECT_LE(a.at_h, 1);
        }
        EXPECT_EQ(parts.size(), 6U);
    }
    EXPECT_EQ(names.size(), kUsualOrders);
}

// Half of 4 meq as carbonate: 2 mmol NaHCO3 and 1 mmol Na2CO3, so 3 mmol of carbon.
TEST(Order, CarbonateKeepsAlkalinityAndTakesCarbon) {
    const auto with = with_carbonate_share(salt(), 0.5);
    ASSERT_TRUE(with);
    Dissolved all;
    for (const Part& p : *with) {
        all.add(p.brings, 1);
    }
    EXPECT_NEAR(all.alkalinity_eq, 0.004, 1e-12);
    EXPECT_NEAR(all.carbon_mol, 0.003, 1e-12);
    EXPECT_FALSE(with_carbonate_share({part("NaCl", 0.4)}, 0.5));
}

// The notes on dissolving give 0.16 to 0.21 mol Na2CO3 per mol carbon for a raised blend; the
// share of alkalinity s gives (s/2) / (1 - s/2) of that.
TEST(Order, TheNeutralShareBalancesTheAir) {
    const auto share = neutral_carbonate_share(salt(), 420e-6, 25);
    ASSERT_TRUE(share);
    const double mol_ratio = *share / 2 / (1 - *share / 2);
    EXPECT_GT(mol_ratio, 0.14);
    EXPECT_LT(mol_ratio, 0.21);
    const auto more_air = neutral_carbonate_share(salt(), 1000e-6, 25);
    EXPECT_LT(*more_air, *share);
}

}  // namespace
}  // namespace bw::path
