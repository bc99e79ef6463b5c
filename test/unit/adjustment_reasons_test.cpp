// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/adjustment_reasons.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace {

using namespace bw;
using testing::ElementsAre;

constexpr double kNaCl = 58.440e-3, kKCl = 74.548e-3;  // kg/mol

recipe::Supply salt(const std::string& name, const std::string& formula, double assay) {
    recipe::Supply out;
    out.material.name = name;
    out.material.formula = formula;
    out.material.assay = matter::Assay{matter::Stated::exactly(assay), "", std::nullopt};
    out.make_up = matter::make_up(out.material).value();
    return out;
}

recipe::ConstituentGoal goal(const char* symbol, double mol_per_kg) {
    recipe::ConstituentGoal out;
    out.constituent = matter::constituent(symbol);
    out.target = mol_per_kg;
    return out;
}

recipe::Target sodium_potassium_and_chloride() {
    recipe::Target out;
    out.constituents = {goal("Na", 0.45), goal("K", 0.05), goal("Cl", 0.50)};
    return out;
}

TEST(AdjustmentReasons, ALotThatHoldsLessIsMadeUpFor) {
    const recipe::Target target = sodium_potassium_and_chloride();
    // The potassium chloride holds 2 % less: 2 % more of it.
    const auto why = service::adjustment_reasons(
        target, {{salt("sodium chloride", "NaCl", 1), 0.45 * kNaCl, 0.45 * kNaCl},
                 {salt("potassium chloride", "KCl", 0.98), 0.05 * kKCl, 0.05 * kKCl / 0.98}});
    EXPECT_THAT(why, ElementsAre("", "K would be 2.0 % low by the recipe's shares"));
}

TEST(AdjustmentReasons, AChangeThatMeetsNoMissBalancesAnother) {
    recipe::Target target = sodium_potassium_and_chloride();
    target.constituents[0].target.reset();  // nothing is asked of sodium
    // More potassium brings chloride, and sodium chloride gives way to it.
    const auto why = service::adjustment_reasons(
        target, {{salt("sodium chloride", "NaCl", 1), 0.45 * kNaCl, 0.449 * kNaCl},
                 {salt("potassium chloride", "KCl", 0.98), 0.05 * kKCl, 0.052 * kKCl}});
    EXPECT_THAT(why, ElementsAre("balances the Cl that the change of potassium chloride brings",
                                 "K would be 2.0 % low by the recipe's shares"));
}

TEST(AdjustmentReasons, WhatAMaterialBringsBesidesIsNoReason) {
    recipe::Target target = sodium_potassium_and_chloride();
    target.constituents.push_back(goal("Br", 1e-6));
    recipe::Supply impure = salt("sodium chloride", "NaCl", 0.99);
    impure.material.impurities = {{"Br", matter::Stated::exactly(1e-6), false}};
    impure.make_up = matter::make_up(impure.material).value();
    const auto why = service::adjustment_reasons(
        target, {{impure, 0.45 * kNaCl, 0.45 * kNaCl / 0.99},
                 {salt("potassium chloride", "KCl", 1), 0.05 * kKCl, 0.05 * kKCl}});
    EXPECT_THAT(why, ElementsAre("Na would be 1.0 % low by the recipe's shares", ""));
}

// Two of the same salt that change places for no miss are each other's balance, and neither is the
// reason for the other.
TEST(AdjustmentReasons, WhatChangesPlacesGivesNotEachOtherForAReason) {
    const auto why = service::adjustment_reasons(
        sodium_potassium_and_chloride(),
        {{salt("sodium chloride", "NaCl", 1), 0.45 * kNaCl, 0.45 * kNaCl},
         {salt("coarse potassium chloride", "KCl", 1), 0.02 * kKCl, 0.025 * kKCl},
         {salt("fine potassium chloride", "KCl", 1), 0.03 * kKCl, 0.025 * kKCl}});
    EXPECT_THAT(
        why, ElementsAre("", "keeps K with the other changes", "keeps K with the other changes"));
}

}  // namespace
