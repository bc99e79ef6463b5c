// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/instrument.hpp"

#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "brine/bracket.hpp"
#include "brine/natural_seawater.hpp"
#include "brine/refractometer_dial.hpp"
#include "brine/seawater_density.hpp"
#include "brine/temperature_scale.hpp"
#include "unit/factors.hpp"

namespace bw::brine {
namespace {

/// Half of an interval that one knows no more of than its ends, [jcgm-100] 4.3.7.
const double kOfLimit = 1 / std::sqrt(3.0);

std::string celsius_text(unit::Celsius t) {
    constexpr double kNear = 0.01;
    return std::abs((t - kSixtyFahrenheit).value()) < kNear
               ? std::string("60F")
               : base::format_exact(std::round(t.value() * 100) / 100);
}

Result<double> shown_by(const ConductivityMeter& meter, const SaltLaw& law, unit::GramPerKg w,
                        unit::Celsius t) {
    BW_TRY(kappa, law.conductivity_mS_per_cm(w, t));
    if (!meter.compensation) {
        return kappa;
    }
    const double factor =
        1 + meter.compensation->per_kelvin * (t - meter.compensation->reference).value();
    if (!(factor > 0)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("a compensation of {} %/K cannot reach from {} to {} degC",
                                base::format_exact(meter.compensation->per_kelvin * 100),
                                base::format_exact(t.value()),
                                base::format_exact(meter.compensation->reference.value())));
    }
    return kappa / factor;
}

Result<double> shown_by(const SalinityMeter&, const SaltLaw& law, unit::GramPerKg w,
                        unit::Celsius t) {
    BW_TRY(kappa, law.conductivity_mS_per_cm(w, t));
    BW_TRY(salinity, meter_salinity(kappa, t));
    return salinity.value();
}

Result<double> shown_by(const Refractometer& meter, const SaltLaw& law, unit::GramPerKg w,
                        unit::Celsius t) {
    const bool index = meter.dial == Refractometer::Dial::Index;
    const unit::Celsius zero = index || meter.compensated ? kDialCelsius : meter.zeroed_at;
    BW_TRY(n, law.refractive_index(w, meter.compensated ? kDialCelsius : t));
    BW_TRY(water, law.refractive_index(unit::GramPerKg(0), zero));
    return dial_reading(meter.dial, n - water);
}

Result<double> shown_by(const Hydrometer& meter, const SaltLaw& law, unit::GramPerKg w,
                        unit::Celsius t) {
    BW_TRY(rho, law.density_kg_per_m3(w, t));
    const double glass = 1 + meter.glass_expansion_per_kelvin * (t - meter.marked_at).value();
    if (!meter.over) {
        return rho * glass;
    }
    BW_TRY(water, seawater_density(unit::PracticalSalinity(0), *meter.over));
    return rho * glass / water.value();
}

Result<double> shown_by(const DensityMeter&, const SaltLaw& law, unit::GramPerKg w,
                        unit::Celsius t) {
    return law.density_kg_per_m3(w, t);
}

Result<double> shown_by(const WeighedIn&, const SaltLaw&, unit::GramPerKg w, unit::Celsius) {
    return w.value();
}

/// The sentence on a reading that no water of this salt gives.
std::string out_of_reach(const SaltLaw& law, const Instrument& instrument, double shown,
                         unit::Celsius temperature, double lowest, double highest) {
    const bool weighed = std::holds_alternative<WeighedIn>(instrument);
    const std::string_view unit = unit_of(instrument);
    constexpr double kThousand = 1000;
    const auto shows = [&](double x) { return x > lowest && x <= highest; };
    constexpr double kFarOff = 10;  // a little beyond the range is no slip of a unit
    const bool large = shown > kFarOff * highest && shows(shown / kThousand);
    const bool small = shown < lowest / kFarOff && shows(shown * kThousand);
    return fmt::format("{}{}{} is outside what {} {}: {} to {}{}",
                       weighed ? base::format_significant(shown, 5) : base::format_exact(shown),
                       unit.empty() ? "" : " ", unit,
                       weighed ? "is known of"
                               : fmt::format("the {} can show at {} degC in", describe(instrument),
                                             base::format_exact(temperature.value())),
                       law.name(), base::format_significant(lowest, 5),
                       base::format_significant(highest, 5),
                       large   ? "; is it a thousand times too large?"
                       : small ? "; is it a thousand times too small?"
                               : "");
}

/// The slope of a function at x, from both sides or, at the end of its range, from one.
template <class F>
Result<double> slope_at(const F& f, double x, double step) {
    auto above = f(x + step);
    auto below = f(x - step);
    if (above && below) {
        return (*above - *below) / (2 * step);
    }
    BW_TRY(here, f(x));
    if (above) {
        return (*above - here) / step;
    }
    BW_TRY(low, below);
    return (here - low) / step;
}

/// What the instrument looks at: the property, and the law's uncertainty of it.
struct Property {
    double value = 0;
    double per_g_per_kg = 0;
    double per_kelvin = 0;
    double u_formula = 0, u_composition = 0;
};

template <class F>
Result<Property> property_by(const F& f, unit::GramPerKg w, unit::Celsius t) {
    constexpr double kStepGramPerKg = 0.05;
    constexpr double kStepKelvin = 0.1;
    Property p;
    BW_TRY(value, f(w.value(), t.value()));
    BW_TRY(by_w, slope_at([&](double x) { return f(x, t.value()); }, w.value(), kStepGramPerKg));
    BW_TRY(by_t, slope_at([&](double x) { return f(w.value(), x); }, t.value(), kStepKelvin));
    p.value = value;
    p.per_g_per_kg = by_w;
    p.per_kelvin = by_t;
    return p;
}

Result<Property> property_of(const SaltLaw& law, const Instrument& instrument, unit::GramPerKg w,
                             unit::Celsius t) {
    const LawUncertainty formula = law.formula();
    const LawUncertainty composition = law.composition();
    Property p;
    if (const auto* optical = std::get_if<Refractometer>(&instrument)) {
        BW_TRY(n, property_by(
                      [&](double x, double y) {
                          return law.refractive_index(unit::GramPerKg(x), unit::Celsius(y));
                      },
                      w, optical->compensated ? kDialCelsius : t));
        p = n;
        const bool nacl = optical->dial != Refractometer::Dial::Seawater &&
                          optical->dial != Refractometer::Dial::Index;
        p.u_formula = std::hypot(formula.refractive_index, nacl ? kTwoLaboratories : 0);
        p.u_composition = composition.refractive_index;
    } else if (std::holds_alternative<Hydrometer>(instrument) ||
               std::holds_alternative<DensityMeter>(instrument)) {
        BW_TRY(rho, property_by(
                        [&](double x, double y) {
                            return law.density_kg_per_m3(unit::GramPerKg(x), unit::Celsius(y));
                        },
                        w, t));
        p = rho;
        p.u_formula = formula.density_kg_per_m3;
        p.u_composition = composition.density_kg_per_m3;
    } else if (std::holds_alternative<WeighedIn>(instrument)) {
        p = {w.value(), 1, 0, 0, 0};
    } else {
        BW_TRY(kappa, property_by(
                          [&](double x, double y) {
                              return law.conductivity_mS_per_cm(unit::GramPerKg(x),
                                                                unit::Celsius(y));
                          },
                          w, t));
        p = kappa;
        p.u_formula = formula.conductivity_part * p.value;
        p.u_composition = composition.conductivity_part * p.value;
    }
    return p;
}

/// g/kg for each kelvin that the temperature is wrong by, times its uncertainty.
Result<double> temperature_part(const SaltLaw& law, const Reading& reading, unit::GramPerKg w,
                                const Property& p, double slope) {
    constexpr double kStep = 0.1;
    const double u = reading.u.temperature;
    const auto* optical = std::get_if<Refractometer>(&reading.instrument);
    if (optical != nullptr && optical->compensated) {
        // What is left of the compensation: up to 0.1 g/kg for each kelvin (estimate).
        constexpr double kLeftPerKelvin = 0.1;
        return kLeftPerKelvin * std::abs((reading.temperature - kDialCelsius).value()) * kOfLimit;
    }
    if (std::holds_alternative<Hydrometer>(reading.instrument) || optical != nullptr) {
        BW_TRY(by_t, slope_at(
                         [&](double t) {
                             return expected_reading(law, reading.instrument, w, unit::Celsius(t));
                         },
                         reading.temperature.value(), kStep));
        return std::abs(by_t / slope) * u;
    }
    // A meter takes its own temperature for its compensation, so the error is that of the
    // conductivity before it.
    return std::abs(p.per_kelvin / p.per_g_per_kg) * u;
}

}  // namespace

std::string_view kind_of(const Instrument& instrument) {
    struct Kind {
        std::string_view operator()(const ConductivityMeter&) const { return "conductivity"; }
        std::string_view operator()(const SalinityMeter&) const { return "salinity-meter"; }
        std::string_view operator()(const Refractometer&) const { return "refractometer"; }
        std::string_view operator()(const Hydrometer&) const { return "hydrometer"; }
        std::string_view operator()(const DensityMeter&) const { return "density"; }
        std::string_view operator()(const WeighedIn&) const { return "weighed"; }
    };
    return std::visit(Kind{}, instrument);
}

std::string_view unit_of(const Instrument& instrument) {
    if (const auto* optical = std::get_if<Refractometer>(&instrument)) {
        return optical->dial == Refractometer::Dial::NaclGramPerKg      ? "g/kg"
               : optical->dial == Refractometer::Dial::NaclGramPerLitre ? "g/L"
                                                                        : "";
    }
    if (const auto* glass = std::get_if<Hydrometer>(&instrument)) {
        return glass->over ? "" : "kg/m3";
    }
    return std::holds_alternative<ConductivityMeter>(instrument) ? "mS/cm"
           : std::holds_alternative<DensityMeter>(instrument)    ? "kg/m3"
           : std::holds_alternative<WeighedIn>(instrument)       ? "g/kg"
                                                                 : "";
}

std::string describe(const Instrument& instrument) {
    struct Words {
        std::string operator()(const ConductivityMeter& m) const {
            return m.compensation
                       ? fmt::format(
                             "conductivity meter, to {} degC by {} %/K",
                             base::format_exact(m.compensation->reference.value()),
                             base::format_exact(std::round(m.compensation->per_kelvin * 1e5) / 1e3))
                       : std::string("conductivity meter, uncompensated");
        }
        std::string operator()(const SalinityMeter&) const { return "salinity meter"; }
        std::string operator()(const Refractometer& m) const {
            const std::string prism = m.compensated
                                          ? ""
                                          : fmt::format(", uncompensated, zeroed at {} degC",
                                                        base::format_exact(m.zeroed_at.value()));
            return fmt::format("refractometer, {} dial{}", dial_name(m.dial), prism);
        }
        std::string operator()(const Hydrometer& m) const {
            return m.over ? fmt::format("hydrometer marked {}/{}", celsius_text(m.marked_at),
                                        celsius_text(*m.over))
                          : fmt::format("hydrometer for density at {} degC",
                                        celsius_text(m.marked_at));
        }
        std::string operator()(const DensityMeter&) const { return "density meter"; }
        std::string operator()(const WeighedIn&) const { return "weighed in"; }
    };
    return std::visit(Words{}, instrument);
}

ReadingUncertainty usual_uncertainty(const Instrument& instrument, double shown) {
    constexpr double kThermometer = 0.2;  // degC
    ReadingUncertainty u{0, 0, kThermometer};
    if (std::holds_alternative<ConductivityMeter>(instrument)) {
        // 1 % in all: a third of it the display, the rest the fluid it was set with.
        constexpr double kLastDigit = 0.001;  // mS/cm, near 0 (estimate)
        u.shown = std::max(0.005 * shown, kLastDigit) * kOfLimit;
        u.standard = 0.0087 * kOfLimit * shown;
    } else if (std::holds_alternative<SalinityMeter>(instrument)) {
        u.shown = 0.2 * kOfLimit;
        u.standard = 0.34 * kOfLimit;
    } else if (const auto* optical = std::get_if<Refractometer>(&instrument)) {
        // Half a division, and as much for the zero: 1 g/kg, 0.001 of relative density, 2e-4 of n.
        const double division = optical->dial == Refractometer::Dial::NaclSpecificGravity ? 0.001
                                : optical->dial == Refractometer::Dial::Index             ? 2e-4
                                                                                          : 1;
        u.shown = division / 2 * kOfLimit;
        u.standard = u.shown;
    } else if (const auto* glass = std::get_if<Hydrometer>(&instrument)) {
        const double division = glass->over ? 0.0005 : 0.5;
        u.shown = division / 2 * kOfLimit;
        u.standard = division / 2 * kOfLimit;
    } else if (std::holds_alternative<DensityMeter>(instrument)) {
        u.shown = 0.1 * kOfLimit;
        u.standard = 0.05 * kOfLimit;
    } else {
        u.temperature = 0;
        u.shown = 0.001 * kOfLimit * shown;
    }
    return u;
}

Result<Reading> weighed_in(double salt, double water, double anhydrous_fraction, double u_mass_part,
                           double u_fraction) {
    if (!(salt > 0 && water > 0) || !(anhydrous_fraction > 0 && anhydrous_fraction <= 1)) {
        return fail(ProblemCode::OutOfRange,
                    "masses of salt and water are above 0, and the anhydrous share is above 0 and "
                    "at most 100 %");
    }
    Reading out;
    out.instrument = WeighedIn{};
    const double part = salt / (salt + water);
    out.shown = anhydrous_fraction * part * unit::kGramPerKg;
    out.u.shown = out.shown * (1 - part) * u_mass_part * std::sqrt(2.0);
    out.u.standard = out.shown * u_fraction / anhydrous_fraction;
    return out;
}

Result<double> expected_reading(const SaltLaw& law, const Instrument& instrument,
                                unit::GramPerKg dissolved, unit::Celsius temperature) {
    return std::visit(
        [&](const auto& meter) { return shown_by(meter, law, dissolved, temperature); },
        instrument);
}

Result<unit::GramPerKg> dissolved_showing(const SaltLaw& law, const Instrument& instrument,
                                          double shown, unit::Celsius temperature) {
    const auto show = [&](double w) {
        return expected_reading(law, instrument, unit::GramPerKg(w), temperature);
    };
    double top = law.highest().value();
    BW_TRY(lowest, show(0));
    auto highest = show(top);
    // A salinity meter ends at 42, which another salt may reach earlier than its own law ends.
    constexpr double kShorter = 0.98;
    for (int i = 0; i < 20 && !highest; ++i) {
        top *= kShorter;
        highest = show(top);
    }
    if (!highest) {
        return tl::make_unexpected(std::move(highest).error());
    }
    if (!(shown >= lowest && shown <= *highest)) {
        return fail(ProblemCode::OutOfRange,
                    out_of_reach(law, instrument, shown, temperature, lowest, *highest));
    }
    BW_TRY(w, bracketed_root(show, shown, {0, lowest}, {top, *highest}));
    return unit::GramPerKg(w);
}

Result<Converted> convert(const SaltLaw& law, const Reading& reading) {
    BW_TRY(w, dissolved_showing(law, reading.instrument, reading.shown, reading.temperature));
    BW_TRY(salinity, law.practical_salinity_of(w));
    BW_TRY(p, property_of(law, reading.instrument, w, reading.temperature));
    constexpr double kStep = 0.05;
    BW_TRY(slope, slope_at(
                      [&](double x) {
                          return expected_reading(law, reading.instrument, unit::GramPerKg(x),
                                                  reading.temperature);
                      },
                      w.value(), kStep));
    BW_TRY(temperature, temperature_part(law, reading, w, p, slope));
    Converted out;
    out.dissolved = w;
    out.practical_salinity = salinity;
    out.budget = {{"reading", std::abs(reading.u.shown / slope)},
                  {"standard", std::abs(reading.u.standard / slope)},
                  {"temperature", temperature},
                  {"formula", p.u_formula / p.per_g_per_kg},
                  {"composition", p.u_composition / p.per_g_per_kg}};
    double square = 0;
    for (const BudgetPart& part : out.budget) {
        square += part.g_per_kg * part.g_per_kg;
    }
    out.u_g_per_kg = std::sqrt(square);
    return out;
}

}  // namespace bw::brine
