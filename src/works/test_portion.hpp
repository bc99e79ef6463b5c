// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "works/word.hpp"

namespace bw::works {

/// By what the strength of a dissolved test portion is known.
enum class StrengthBy : std::uint8_t { Conductivity, Density, Chlorinity, DryMass };
template <>
inline constexpr std::size_t kWords<StrengthBy> = 4;
[[nodiscard]] std::string_view name(StrengthBy by);

/// Why a test portion is kept without being used.
struct PortionSetAside {
    std::string by, at;
    std::string reason;

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("by", x.by);
        v("at", x.at);
        v("reason", x.reason);
    }
};

/// Weighed part of a sample, dissolved for a test.
struct TestPortion {
    std::string sample;
    std::string batch;
    std::int64_t number = 1;  ///< of the sample, from 1
    std::string salt, water;  ///< masses as typed, with their units
    double salt_g = 0, water_g = 0;
    double u_salt_g = 0, u_water_g = 0;  ///< of their last digits
    StrengthBy strength_by = StrengthBy::DryMass;
    std::string salinity;  ///< practical, as typed; empty with dry mass
    double practical_salinity = 0;
    double u_salinity = 0;         ///< standard uncertainty
    double temperature_degC = 20;  ///< at which volumes were taken
    double density_kg_per_L = 0;   ///< of the solution, as measured; 0: that of seawater
    std::string by, at;
    std::optional<PortionSetAside> set_aside;  ///< from then on nothing is tested in it

    [[nodiscard]] std::string id() const { return sample + "/" + std::to_string(number); }

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("sample", x.sample);
        v("batch", x.batch);
        v("number", x.number);
        v("salt", x.salt);
        v("water", x.water);
        v("salt_g", x.salt_g);
        v("water_g", x.water_g);
        v("u_salt_g", x.u_salt_g);
        v("u_water_g", x.u_water_g);
        v("strength_by", x.strength_by);
        v("salinity", x.salinity);
        v("practical_salinity", x.practical_salinity);
        v("u_salinity", x.u_salinity);
        v("temperature_degC", x.temperature_degC);
        v("density_kg_per_L", x.density_kg_per_L);
        v("by", x.by);
        v("at", x.at);
        v("set_aside", x.set_aside);
    }
};

/// Standard uncertainty that a mass as typed has by its last digit: a reading and a tare, each
/// anywhere within half a step, step/sqrt 6, in the unit of the number.
///
/// Inputs   decimal text, "40.02". Source [jcgm-100] 4.3.7.
[[nodiscard]] double u_of_last_digit(std::string_view digits);

/// Errors   OutOfRange: a mass not above 0, salt not below water, a salinity outside 2 to 60 or
///          without its uncertainty, a temperature outside 0 to 40, a density outside 0.99 to 1.1.
///          BadInput: a salinity with dry mass, or none with the others.
[[nodiscard]] Result<void> check(const TestPortion& portion);

/// Keeps a portion without using it. `in_use`: its results that are not set aside.
///
/// Errors   Refused when it is set aside already, or while results are in use, which it names;
///          BadInput without a reason.
[[nodiscard]] Result<TestPortion> set_aside(TestPortion portion,
                                            std::span<const std::string> in_use,
                                            const PortionSetAside& why);

/// Whether results may be entered for a portion. Errors Refused for one that is set aside.
[[nodiscard]] Result<void> may_be_tested(const TestPortion& portion);

/// Test portions, each dissolved by itself, that a batch's release asks for.
inline constexpr std::int64_t kLeastPortions = 2;  ///< two dissolutions: common practice

}  // namespace bw::works
