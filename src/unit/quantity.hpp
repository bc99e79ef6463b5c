// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <compare>

namespace bw::unit {

/// A number that carries its unit and basis in its type. Only like adds to like.
///
/// Temperatures are ITS-90. "PerKg" means per kilogram of solution (finished water) unless the name
/// says PerKgWater.
template <class Tag>
class Quantity {
public:
    constexpr Quantity() = default;
    constexpr explicit Quantity(double value) : value_(value) {}
    [[nodiscard]] constexpr double value() const { return value_; }
    // NOLINTNEXTLINE(modernize-use-nullptr): the linter misreads a defaulted comparison
    constexpr auto operator<=>(const Quantity&) const = default;
    constexpr friend Quantity operator+(Quantity a, Quantity b) {
        return Quantity(a.value_ + b.value_);
    }
    constexpr friend Quantity operator-(Quantity a, Quantity b) {
        return Quantity(a.value_ - b.value_);
    }
    constexpr friend Quantity operator*(double f, Quantity a) { return Quantity(f * a.value_); }
    constexpr friend Quantity operator/(Quantity a, double f) { return Quantity(a.value_ / f); }
    constexpr friend double operator/(Quantity a, Quantity b) { return a.value_ / b.value_; }

private:
    double value_ = 0;
};

using Celsius = Quantity<struct CelsiusTag>;                      ///< degC, ITS-90
using PracticalSalinity = Quantity<struct PracticalSalinityTag>;  ///< PSS-78, no unit
using GramPerKg = Quantity<struct GramPerKgTag>;                  ///< g per kg of solution
using KgPerM3 = Quantity<struct KgPerM3Tag>;
using MolPerKg = Quantity<struct MolPerKgTag>;  ///< mol per kg of solution
using GramPerMol = Quantity<struct GramPerMolTag>;

}  // namespace bw::unit
