// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// A batch of waters against the waters one by one, cut into parts, and with bad ones among them.
#include "service/water_batch.hpp"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <limits>
#include <random>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "brine/water_totals.hpp"
#include "unit/brine_water.hpp"

namespace {

using namespace bw;
using namespace bw::brine;
using bw::test::raised_seawater;
using testing::HasSubstr;

const WaterModel& model() {
    static const WaterModel kModel = *WaterModel::at(unit::Celsius(25));
    return kModel;
}

/// Waters in columns, with room for all results.
struct Columns {
    explicit Columns(const std::vector<WaterInput>& waters) : waters_(waters) {
        batch.count = waters.size();
        batch.closing = {waters[0].closing[0].kind, waters[0].closing[1].kind};
        for (std::size_t t = 0; t < kTotals; ++t) {
            amounts[t].resize(batch.count);
            batch.mol_per_kg[t] = amounts[t];
        }
        for (std::size_t k = 0; k < 2; ++k) {
            closing[k].resize(batch.count);
            batch.closing_value[k] = closing[k];
        }
        for (std::size_t i = 0; i < batch.count; ++i) {
            const PerTotal<double> totals = totals_of(waters[i].mol_per_kg);
            for (std::size_t t = 0; t < kTotals; ++t) {
                amounts[t][i] = totals[t];
            }
            for (std::size_t k = 0; k < 2; ++k) {
                closing[k][i] = waters[i].closing[k].value;
            }
        }
        for (auto& column : found) {
            column.assign(batch.count, -1);
        }
        failed.assign(batch.count, 2);
        results.ph_total = found[0];
        results.alkalinity_eq_per_kg = found[1];
        results.carbon_mol_per_kg = found[2];
        results.fugacity_co2_atm = found[3];
        results.water_activity = found[4];
        results.osmotic_coefficient = found[5];
        const auto& equations = model().equations();
        results.omega = {{equations.aragonite, found[6]}, {equations.calcite, found[7]}};
        results.failed = failed;
    }
    Columns(const Columns&) = delete;
    Columns& operator=(const Columns&) = delete;

    /// Largest difference to the facade: of pH, and relative of the rest.
    double worst() const {
        double out = 0;
        for (std::size_t i = 0; i < batch.count; ++i) {
            const auto s = model().state(waters_[i]);
            EXPECT_TRUE(s);
            const auto& equations = model().equations();
            const std::array one{s->ph_total,
                                 s->alkalinity_eq_per_kg,
                                 s->carbon_mol_per_kg,
                                 s->fugacity_co2_atm,
                                 s->water_activity,
                                 s->osmotic_coefficient,
                                 s->saturation[equations.aragonite].omega,
                                 s->saturation[equations.calcite].omega};
            for (std::size_t k = 0; k < one.size(); ++k) {
                const double size = k == 0 ? 1 : std::abs(one[k]);
                out = std::max(out, std::abs(found[k][i] - one[k]) / size);
            }
        }
        return out;
    }

    std::array<std::vector<double>, kTotals> amounts;
    std::array<std::vector<double>, 2> closing;
    std::array<std::vector<double>, 8> found;
    std::vector<std::uint8_t> failed;
    WaterBatch batch;
    WaterBatchResults results;

private:
    const std::vector<WaterInput>& waters_;
};

/// Waters from a tenth of seawater to ten times it.
std::vector<WaterInput> waters(std::size_t count, Closure first, Closure second) {
    std::mt19937_64 random(5);
    std::uniform_real_distribution<double> uniform(0, 1);
    std::vector<WaterInput> out;
    for (std::size_t i = 0; i < count; ++i) {
        WaterInput water =
            raised_seawater(std::pow(10.0, 2 * uniform(random) - 1), 1 + uniform(random));
        const auto state = model().state(water);
        EXPECT_TRUE(state);
        const auto value = [&](Closure kind) {
            return kind == Closure::Alkalinity ? state->alkalinity_eq_per_kg
                   : kind == Closure::Carbon   ? state->carbon_mol_per_kg
                   : kind == Closure::Fugacity ? state->fugacity_co2_atm
                                               : state->ph_total;
        };
        water.closing = {{{first, value(first)}, {second, value(second)}}};
        out.push_back(water);
    }
    return out;
}

TEST(WaterBatch, AsTheWatersOneByOne) {
    using enum Closure;
    for (const auto& [first, second] :
         {std::pair{Alkalinity, Carbon}, std::pair{Carbon, Alkalinity},
          std::pair{Alkalinity, Fugacity}, std::pair{Alkalinity, PhTotal},
          std::pair{PhTotal, Carbon}, std::pair{Carbon, Fugacity}, std::pair{Fugacity, PhTotal}}) {
        constexpr std::size_t kCount = 60;
        const auto all = waters(kCount, first, second);
        Columns columns(all);
        ASSERT_TRUE(service::solve_waters(model(), columns.batch, columns.results, 1));
        EXPECT_LT(columns.worst(), 1e-12)
            << static_cast<int>(first) << ' ' << static_cast<int>(second);
        EXPECT_THAT(columns.failed, testing::Each(0));
    }
}

TEST(WaterBatch, TheSameBytesOnAnyNumberOfThreads) {
    constexpr std::size_t kCount = 101;
    const auto all = waters(kCount, Closure::Alkalinity, Closure::Carbon);
    Columns one(all);
    ASSERT_TRUE(service::solve_waters(model(), one.batch, one.results, 1));
    for (const unsigned threads : {2U, 3U, 7U, 0U}) {
        Columns more(all);
        ASSERT_TRUE(service::solve_waters(model(), more.batch, more.results, threads));
        for (std::size_t k = 0; k < one.found.size(); ++k) {
            EXPECT_EQ(
                std::memcmp(more.found[k].data(), one.found[k].data(), kCount * sizeof(double)), 0)
                << threads << ' ' << k;
        }
        EXPECT_EQ(more.failed, one.failed);
    }
}

TEST(WaterBatch, ABadWaterIsMarkedAndSpoilsNoOther) {
    constexpr std::size_t kCount = 40;
    const auto all = waters(kCount, Closure::Alkalinity, Closure::Carbon);
    Columns good(all);
    ASSERT_TRUE(service::solve_waters(model(), good.batch, good.results, 2));
    Columns some(all);
    const auto total = [](Total t) { return index(t); };
    some.amounts[total(Total::Mg)][0] = -1e-9;
    some.amounts[total(Total::Ca)][7] = std::numeric_limits<double>::quiet_NaN();
    some.amounts[total(Total::Cl)][19] = std::numeric_limits<double>::infinity();
    some.amounts[total(Total::Na)][20] = 15;  // too strong
    some.closing[0][21] = std::numeric_limits<double>::quiet_NaN();
    some.closing[1][22] = -1e-3;
    some.closing[0][39] = std::numeric_limits<double>::infinity();
    const std::vector<std::size_t> bad{0, 7, 19, 20, 21, 22, 39};
    ASSERT_TRUE(service::solve_waters(model(), some.batch, some.results, 2));
    for (std::size_t i = 0; i < kCount; ++i) {
        const bool is_bad = std::find(bad.begin(), bad.end(), i) != bad.end();
        EXPECT_EQ(some.failed[i], is_bad ? 1 : 0) << i;
        for (std::size_t k = 0; k < some.found.size(); ++k) {
            if (is_bad) {
                EXPECT_TRUE(std::isnan(some.found[k][i])) << i << ' ' << k;
            } else {
                EXPECT_EQ(some.found[k][i], good.found[k][i]) << i << ' ' << k;
            }
        }
    }

    // No state with both statements: alkalinity below 0 at pH 9.
    const auto more = waters(3, Closure::Alkalinity, Closure::PhTotal);
    Columns columns(more);
    columns.closing[0][1] = -1e-3;
    columns.closing[1][1] = 9;
    columns.closing[1][2] = 15;
    ASSERT_TRUE(service::solve_waters(model(), columns.batch, columns.results, 1));
    EXPECT_EQ(columns.failed, (std::vector<std::uint8_t>{0, 1, 1}));
}

TEST(WaterBatch, OnlyWhatIsAskedIsFilled) {
    const auto all = waters(5, Closure::Alkalinity, Closure::Carbon);
    Columns columns(all);
    columns.results = {};
    columns.results.ph_total = columns.found[0];
    columns.batch.mol_per_kg[index(Total::Li)] = {};
    ASSERT_TRUE(service::solve_waters(model(), columns.batch, columns.results, 1));
    EXPECT_GT(columns.found[0][4], 5);
    EXPECT_EQ(columns.found[1][4], -1);
    columns.batch.count = 0;
    columns.batch.mol_per_kg = {};
    columns.batch.closing_value = {};
    columns.results = {};
    EXPECT_TRUE(service::solve_waters(model(), columns.batch, columns.results));
}

TEST(WaterBatch, RefusesColumnsThatDoNotFit) {
    const auto all = waters(5, Closure::Alkalinity, Closure::Carbon);
    const auto refused = [&](const auto& spoil, std::string_view words) {
        Columns columns(all);
        spoil(columns);
        const auto done = service::solve_waters(model(), columns.batch, columns.results, 2);
        ASSERT_FALSE(done) << words;
        EXPECT_EQ(done.error().code, ProblemCode::BadInput);
        EXPECT_THAT(done.error().message, HasSubstr(std::string(words)));
        EXPECT_EQ(columns.found[0][0], -1) << words;
    };
    const std::string entries = "must have 5 entries";
    refused([](Columns& c) { c.batch.mol_per_kg[3] = c.batch.mol_per_kg[3].first(4); }, entries);
    refused([](Columns& c) { c.batch.closing_value[1] = {}; }, entries);
    refused([](Columns& c) { c.results.water_activity = c.results.water_activity.first(1); },
            entries);
    refused([](Columns& c) { c.results.failed = c.results.failed.first(2); }, entries);
    refused([](Columns& c) { c.results.omega[0].values = {}; }, entries);
    refused([](Columns& c) { c.batch.closing[1] = Closure::Alkalinity; },
            "two different statements");
    refused(
        [](Columns& c) {
            c.batch.closing = {Closure::PhFree, Closure::PhTotal};
        },
        "two different statements");
}

}  // namespace
