// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/agreement.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "brine/suspicion.hpp"

namespace bw::brine {
namespace {

/// Of a difference of two standard deviations.
const double kLeastProbability = std::erfc(std::numbers::sqrt2);
constexpr double kWellBefore = 6;  // of chi-square: likelihoods as 20 to 1

struct Mean {
    double value = 0, u = 0, chi_square = 0;
};

Mean weighted(const std::vector<Converted>& readings) {
    Mean out;
    double weight = 0;
    for (const Converted& c : readings) {
        const double w = 1 / (c.u_g_per_kg * c.u_g_per_kg);
        weight += w;
        out.value += w * c.dissolved.value();
    }
    out.value /= weight;
    out.u = 1 / std::sqrt(weight);
    for (const Converted& c : readings) {
        const double z = (c.dissolved.value() - out.value) / c.u_g_per_kg;
        out.chi_square += z * z;
    }
    return out;
}

void try_cause(const SaltLaw& law, const std::vector<Converted>& converted, const Suspicion& s,
               double before, std::vector<Cause>& causes) {
    const auto as_it_would_be = convert(law, s.instead);
    if (!as_it_would_be) {
        return;
    }
    std::vector<Converted> all = converted;
    all[s.reading] = *as_it_would_be;
    const Mean mean = weighted(all);
    Cause cause{
        s.code, s.text, s.reading, mean.chi_square + s.unlikely, 0, unit::GramPerKg(mean.value),
        false};
    cause.probability = chi_square_exceeded(cause.chi_square, static_cast<int>(all.size()) - 1);
    cause.reconciles = cause.probability > kLeastProbability;
    if (cause.chi_square < before) {
        causes.push_back(std::move(cause));
    }
}

/// The mean of all readings but one.
Mean of_others(const std::vector<Converted>& converted, std::size_t left_out) {
    std::vector<Converted> others = converted;
    others.erase(others.begin() + static_cast<std::ptrdiff_t>(left_out));
    return weighted(others);
}

std::vector<Cause> look_for_causes(const SaltLaw& law, const std::vector<Reading>& readings,
                                   const std::vector<Converted>& converted, double chi_square) {
    std::vector<Cause> causes;
    for (std::size_t i = 0; i < readings.size(); ++i) {
        for (const Suspicion& s : suspicions(readings[i], i)) {
            try_cause(law, converted, s, chi_square, causes);
        }
        for (const Suspicion& s : suspect_unit(readings[i], i)) {
            try_cause(law, converted, s, chi_square, causes);
        }
        const Mean others = of_others(converted, i);
        if (const auto warm =
                suspect_temperature(law, readings[i], i, converted[i], {others.value, others.u})) {
            try_cause(law, converted, *warm, chi_square, causes);
        }
        if (const auto itself =
                suspect_instrument(law, readings[i], i, converted[i], {others.value, others.u})) {
            try_cause(law, converted, *itself, chi_square, causes);
        }
    }
    // Chance does not bring a reading to the others by a factor of a thousand: such a slip goes
    // first whatever else would do.
    const auto slipped = [](const Cause& c) { return c.reconciles && c.code == kUnitSlip; };
    std::stable_sort(causes.begin(), causes.end(), [&](const Cause& a, const Cause& b) {
        return slipped(a) != slipped(b) ? slipped(a) : a.chi_square < b.chi_square;
    });
    constexpr std::size_t kMostShown = 8;
    causes.resize(std::min(causes.size(), kMostShown));
    return causes;
}

std::vector<WithoutOne> each_left_out(const std::vector<Converted>& converted) {
    std::vector<WithoutOne> out;
    for (std::size_t i = 0; i < converted.size(); ++i) {
        const Mean mean = of_others(converted, i);
        const int degrees = static_cast<int>(converted.size()) - 2;
        WithoutOne w{i, unit::GramPerKg(mean.value), mean.u, mean.chi_square, 1, true};
        w.u_g_per_kg *= std::max(1.0, std::sqrt(mean.chi_square / degrees));
        w.probability = chi_square_exceeded(mean.chi_square, degrees);
        w.consistent = w.probability > kLeastProbability;
        out.push_back(w);
    }
    return out;
}

/// The reading that stands out, or nothing.
std::optional<std::size_t> odd_one_of(const std::vector<WithoutOne>& without) {
    const auto best = std::ranges::min_element(without, {}, &WithoutOne::chi_square);
    const bool alone =
        best != without.end() && best->consistent &&
        std::ranges::all_of(without, [&](const WithoutOne& w) {
            return w.reading == best->reading || w.chi_square - best->chi_square >= kWellBefore;
        });
    return alone ? std::optional(best->reading) : std::nullopt;
}

/// The first cause reconciles and stands well before all other slips.
bool is_decisive(const std::vector<Cause>& causes) {
    if (causes.empty() || !causes[0].reconciles || causes[0].code == kInstrumentItself) {
        return false;
    }
    return std::all_of(causes.begin() + 1, causes.end(), [&](const Cause& c) {
        return c.code == kInstrumentItself || c.chi_square - causes[0].chi_square >= kWellBefore;
    });
}

}  // namespace

double chi_square_exceeded(double x, int k) {
    if (!(x > 0)) {
        return 1;
    }
    // Closed forms of the incomplete gamma function: steps of two degrees from 1 or 2 on.
    const double half = x / 2;
    const bool odd = k % 2 != 0;
    double sum = odd ? std::erfc(std::sqrt(half)) : std::exp(-half);
    double term =
        odd ? std::sqrt(half) * std::exp(-half) / std::tgamma(1.5) : std::exp(-half) * half;
    double order = odd ? 1.5 : 2;
    for (int degrees = odd ? 3 : 4; degrees <= k; degrees += 2) {
        sum += term;
        term *= half / order;
        order += 1;
    }
    return std::min(sum, 1.0);
}

Result<Agreement> combine(const SaltLaw& law, const std::vector<Reading>& readings) {
    if (readings.empty()) {
        return fail(ProblemCode::BadInput, "a reading is needed");
    }
    Agreement out;
    for (const Reading& reading : readings) {
        BW_TRY(converted, convert(law, reading));
        if (!(converted.u_g_per_kg > 0)) {
            return fail(
                ProblemCode::OutOfRange,
                "the uncertainty of a reading is above 0: leave it out to take a usual one");
        }
        out.converted.push_back(std::move(converted));
    }
    const Mean mean = weighted(out.converted);
    out.dissolved = unit::GramPerKg(mean.value);
    BW_TRY(salinity, law.practical_salinity_of(out.dissolved));
    out.practical_salinity = salinity;
    out.chi_square = mean.chi_square;
    out.degrees_of_freedom = static_cast<int>(readings.size()) - 1;
    out.u_internal_g_per_kg = mean.u;
    out.u_g_per_kg = mean.u;
    for (std::size_t i = 0; i < readings.size(); ++i) {
        out.residual_g_per_kg.push_back(out.converted[i].dissolved.value() - mean.value);
        BW_TRY(expected, expected_reading(law, readings[i].instrument, out.dissolved,
                                          readings[i].temperature));
        out.expected.push_back(expected);
    }
    if (out.degrees_of_freedom == 0) {
        return out;
    }
    out.probability = chi_square_exceeded(mean.chi_square, out.degrees_of_freedom);
    out.birge_ratio = std::sqrt(mean.chi_square / out.degrees_of_freedom);
    out.u_g_per_kg = mean.u * std::max(out.birge_ratio, 1.0);
    out.consistent = out.probability > kLeastProbability;
    if (!out.consistent) {
        out.causes = look_for_causes(law, readings, out.converted, mean.chi_square);
        out.decisive = is_decisive(out.causes);
        if (readings.size() > 2) {
            out.without = each_left_out(out.converted);
            out.odd_one = odd_one_of(out.without);
        }
    }
    return out;
}

}  // namespace bw::brine
