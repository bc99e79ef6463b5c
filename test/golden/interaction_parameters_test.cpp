// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Every temperature function of the brine floor at 5, 25 and 40 degC against the same tables read
// and evaluated independently (test/golden/interaction_parameters.json, made by
// tools/reference/interaction_parameters.py). Tolerance 1e-10 absolute: terms of 1e5 cancel in a
// few rows, so round-off is up to some 1e-11.
#include <cmath>
#include <fstream>

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "brine/temperature_function.hpp"

namespace {

using nlohmann::json;
namespace ref = bw::ref;

const json& golden() {
    static const json kGolden = [] {
        std::ifstream in(std::string(BW_SOURCE_DIR) + "/test/golden/interaction_parameters.json");
        return json::parse(in);
    }();
    return kGolden;
}

template <class Log10OrValue>
void expect_row(const json& row, const std::string& of, Log10OrValue value) {
    ASSERT_EQ(row["of"], of);
    const auto& temperatures = golden()["temperatures_degC"];
    ASSERT_EQ(row["values"].size(), temperatures.size());
    for (std::size_t i = 0; i < temperatures.size(); ++i) {
        const double celsius = temperatures[i];
        EXPECT_NEAR(value(celsius + 273.15), row["values"][i].get<double>(), 1e-10)
            << of << " at " << celsius;
    }
}

void expect_set(const char* name, ref::InteractionSet set, std::size_t rows) {
    const json& want = golden()[name];
    const auto got = ref::interactions(set);
    ASSERT_EQ(got.size(), rows);
    ASSERT_EQ(want.size(), rows + 1);
    expect_row(want[0], "limiting_slope",
               [&](double t) { return bw::brine::evaluate(ref::limiting_slope(set), t); });
    constexpr const char* kKinds[] = {"Beta0",  "Beta1", "Beta2", "CPhi", "C0",     "C1",  "Alpha1",
                                      "Alpha2", "Omega", "Theta", "Psi",  "Lambda", "Zeta"};
    for (std::size_t i = 0; i < rows; ++i) {
        std::string of = kKinds[static_cast<std::size_t>(got[i].kind)];
        for (const auto species : got[i].species) {
            of += species.empty() ? "" : " " + std::string(species);
        }
        expect_row(want[i + 1], of, [&](double t) { return bw::brine::evaluate(got[i].value, t); });
    }
}

TEST(InteractionParametersGolden, SeawaterSet) {
    expect_set("seawater", ref::InteractionSet::Seawater, 229);
}

TEST(InteractionParametersGolden, BrineSet) {
    expect_set("brine", ref::InteractionSet::Brine, 233);
}

TEST(InteractionParametersGolden, Reactions) {
    for (const auto& [name, set] : {std::pair{"reactions_seawater", ref::InteractionSet::Seawater},
                                    std::pair{"reactions_brine", ref::InteractionSet::Brine}}) {
        const json& want = golden()[name];
        const auto got = ref::reactions(set);
        ASSERT_EQ(want.size(), got.size());
        for (std::size_t i = 0; i < got.size(); ++i) {
            expect_row(want[i], std::string(got[i].product),
                       [&](double t) { return bw::brine::evaluate_log10(got[i], t); });
        }
    }
    const auto gases = ref::gases();
    ASSERT_EQ(golden()["gases"].size(), gases.size());
    for (std::size_t i = 0; i < gases.size(); ++i) {
        expect_row(golden()["gases"][i], std::string(gases[i].symbol),
                   [&](double t) { return bw::brine::evaluate_log10(gases[i].log_k, t); });
    }
}

TEST(InteractionParametersGolden, Minerals) {
    const auto got = ref::minerals();
    ASSERT_EQ(golden()["minerals"].size(), got.size());
    ASSERT_EQ(golden()["minerals_brine"].size(), got.size());
    for (std::size_t i = 0; i < got.size(); ++i) {
        const auto log10 = [&](const ref::TemperatureFunction& function) {
            return [&, function](double t) {
                return bw::brine::evaluate(function, t) / (got[i].natural_log ? std::log(10) : 1);
            };
        };
        expect_row(golden()["minerals"][i], std::string(got[i].key), log10(got[i].log_k));
        expect_row(golden()["minerals_brine"][i], std::string(got[i].key),
                   log10(got[i].log_k_brine));
    }
}

}  // namespace
