// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// 200 random recipe programs against the optimum and verdict of a reference solver
// (test/golden/recipe_lp.json, made by tools/reference/recipe_lp.py; versions stand in the file).
// Tolerances: the optimum to 1e-7 relative, as the issue of this comparison asks; the certificate
// to 1e-7, a hundred times the simplex tolerance.
#include <cmath>
#include <fstream>

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "figure.hpp"
#include "opt/lp_solver.hpp"

namespace {

using namespace bw::opt;
using Json = nlohmann::json;

double bound(const Json& v, double missing) { return v.is_null() ? missing : v.get<double>(); }

LinearProgram program_of(const Json& p) {
    LinearProgram lp;
    const std::size_t columns = p["cost"].size();
    for (std::size_t j = 0; j < columns; ++j) {
        lp.add_column(p["cost"][j], bound(p["column_low"][j], -kInfinity),
                      bound(p["column_high"][j], kInfinity));
    }
    for (std::size_t r = 0; r < p["matrix"].size(); ++r) {
        std::vector<Entry> row;
        for (std::size_t j = 0; j < columns; ++j) {
            row.push_back({static_cast<int>(j), p["matrix"][r][j].get<double>()});
        }
        lp.add_row(row, bound(p["row_low"][r], -kInfinity), bound(p["row_high"][r], kInfinity));
    }
    return lp;
}

constexpr double kAsked = 1e-7;

void record_agreement(double worst, double residual) {
    using bw::test::share_used;
    bw::test::record({"Recipes",
                      "least cost of 140 random solvable recipes against a reference solver",
                      "the same to 1e-7 relative", share_used(worst, kAsked), worst <= kAsked});
    bw::test::record({"Recipes", "certificate of optimality of the same 140: largest residual",
                      "1e-7", share_used(residual, kAsked), residual <= kAsked});
    bw::test::record({"Recipes", "verdict on 200 random recipes against a reference solver",
                      "the same for all", "the same for 140 that can be solved and 60 that cannot",
                      !testing::Test::HasFailure()});
}

TEST(RecipeLpGolden, SameVerdictAndOptimumAsTheReference) {
    std::ifstream in(std::string(BW_SOURCE_DIR) + "/test/golden/recipe_lp.json");
    ASSERT_TRUE(in);
    const Json golden = Json::parse(in);
    int optimal = 0;
    int infeasible = 0;
    double worst = 0;
    double residual = 0;
    for (const Json& p : golden["problems"]) {
        const std::string id = p["id"];
        const LinearProgram lp = program_of(p);
        const LpSolution found = solve_lp(lp);
        if (p["verdict"] == "optimal") {
            ++optimal;
            ASSERT_EQ(found.status, SolveStatus::Optimal) << id;
            const double expected = p["objective"];
            ASSERT_TRUE(std::isfinite(expected)) << id;
            EXPECT_NEAR(found.objective, expected, 1e-7 * std::max(1.0, std::abs(expected))) << id;
            worst = std::max(
                worst, std::abs(found.objective - expected) / std::max(1.0, std::abs(expected)));
            const Certificate c = certify(lp, found);
            residual = std::max({residual, c.primal_residual, c.dual_residual, c.complementarity});
            EXPECT_TRUE(c.holds(1e-7)) << id << ": " << c.primal_residual << ' ' << c.dual_residual
                                       << ' ' << c.complementarity;
            EXPECT_FALSE(prove_infeasible(lp).gap > 1e-9)
                << id << ": a feasible program must not be proven infeasible";
        } else {
            ++infeasible;
            ASSERT_EQ(found.status, SolveStatus::Infeasible) << id;
            const InfeasibilityProof proof = prove_infeasible(lp);
            EXPECT_TRUE(proof.holds()) << id << ": gap " << proof.gap;
        }
    }
    EXPECT_EQ(optimal, 140);
    EXPECT_EQ(infeasible, 60);
    record_agreement(worst, residual);
}

}  // namespace
