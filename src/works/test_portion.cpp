// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "works/test_portion.hpp"

#include <array>

#include <fmt/format.h>

#include "base/text.hpp"

namespace bw::works {
namespace {

constexpr double kLeastSalinity = 2;  // of the practical salinity scale
constexpr double kMostSalinity = 60;  // twice seawater's and less: as solutions are made up
constexpr double kMostTemperature = 40;
constexpr double kLeastDensity = 0.99;
constexpr double kMostDensity = 1.1;

Result<void> outside(const TestPortion& portion, std::string_view field, std::string_view what) {
    return fail(ProblemCode::OutOfRange,
                fmt::format("test portion of sample {}: {}", portion.sample, what),
                {"", 0, std::string(field)});
}

}  // namespace

std::string_view name(StrengthBy by) {
    constexpr std::array<std::string_view, kWords<StrengthBy>> kNames = {"conductivity", "density",
                                                                         "chlorinity", "dry mass"};
    return kNames.at(static_cast<std::size_t>(by));
}

double u_of_last_digit(std::string_view digits) {
    constexpr double kTen = 10;
    constexpr double kSix = 6;
    double step = 1;
    if (const auto point = digits.find('.'); point != std::string_view::npos) {
        for (std::size_t i = point + 1; i < digits.size() && base::is_digit(digits[i]); ++i) {
            step /= kTen;
        }
    }
    return step / std::sqrt(kSix);
}

Result<void> check(const TestPortion& p) {
    if (!(p.salt_g > 0) || !(p.water_g > 0)) {
        return outside(p, p.salt_g > 0 ? "water" : "salt", "masses are above 0");
    }
    if (!(p.salt_g < p.water_g)) {
        return outside(p, "salt", "the salt is not less than the water: are they swapped?");
    }
    if (!(p.temperature_degC >= 0) || p.temperature_degC > kMostTemperature) {
        return outside(p, "temperature", "the temperature lies in 0 to 40 degC");
    }
    if (p.density_kg_per_L != 0 &&
        (p.density_kg_per_L < kLeastDensity || p.density_kg_per_L > kMostDensity)) {
        return outside(p, "density", "the density lies in 0.99 to 1.1 kg/L");
    }
    const bool dry = p.strength_by == StrengthBy::DryMass;
    if (dry != p.salinity.empty()) {
        return fail(ProblemCode::BadInput,
                    dry ? "by dry mass no salinity counts: say by what it was read"
                        : fmt::format("the salinity by {} is missing", name(p.strength_by)),
                    {"", 0, "salinity"});
    }
    if (!dry && (p.practical_salinity < kLeastSalinity || p.practical_salinity > kMostSalinity)) {
        return outside(p, "salinity", "the practical salinity lies in 2 to 60");
    }
    if (!dry && !(p.u_salinity > 0)) {
        return outside(p, "salinity_u", "the salinity needs its standard uncertainty, above 0");
    }
    return {};
}

Result<TestPortion> set_aside(TestPortion portion, std::span<const std::string> in_use,
                              const PortionSetAside& why) {
    if (portion.set_aside) {
        return fail(ProblemCode::Refused, fmt::format("test portion {} is set aside already: {}",
                                                      portion.id(), portion.set_aside->reason));
    }
    if (base::trim(why.reason).empty()) {
        return fail(ProblemCode::BadInput,
                    fmt::format("test portion {}: setting aside needs its cause", portion.id()),
                    {"", 0, "why"});
    }
    if (!in_use.empty()) {
        return fail(ProblemCode::Refused,
                    fmt::format("test portion {} has results in use: set aside {} first",
                                portion.id(), fmt::join(in_use, ", ")));
    }
    portion.set_aside = why;
    return portion;
}

Result<void> may_be_tested(const TestPortion& portion) {
    if (!portion.set_aside) {
        return {};
    }
    return fail(ProblemCode::Refused,
                fmt::format("test portion {} is set aside ({}): give another portion of the sample",
                            portion.id(), portion.set_aside->reason),
                {"", 0, "portion"});
}

}  // namespace bw::works
