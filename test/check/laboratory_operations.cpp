// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Laboratory arithmetic against printed examples.
#include <cmath>

#include <fmt/format.h>

#include "assay/alkalinity_titration.hpp"
#include "assay/combining.hpp"
#include "assay/conformity.hpp"
#include "assay/duplicates.hpp"
#include "assay/homogeneity.hpp"
#include "base/decimal.hpp"
#include "check/given.hpp"
#include "check/operations.hpp"
#include "stat/quantiles.hpp"

namespace bw::check {
namespace {

/// "unit_1", "unit_2" ... as long as there are any.
Result<std::vector<std::vector<double>>> rows_of(const io::Fields& given, std::string_view stem) {
    std::vector<std::vector<double>> out;
    for (int i = 1;; ++i) {
        const std::string key = fmt::format("{}_{}", stem, i);
        if (given.self().find(key) == nullptr) {
            return out;
        }
        BW_TRY(row, values_of(given, key));
        out.push_back(std::move(row));
    }
}

assay::ToleranceInterval interval(const std::optional<double>& low,
                                  const std::optional<double>& high) {
    return {low, high};
}

}  // namespace

Result<Findings> summary(const Case& c) {
    BW_CHECK(c.given->allow({"values"}));
    BW_TRY(values, values_of(*c.given, "values"));
    const stat::Summary s = stat::summarize(values);
    return Findings{{{"mean", s.mean}, {"sd", s.sd}, {"lag1", s.lag1}}, {}};
}

Result<Findings> one_way_variance(const Case& c) {
    BW_TRY(groups, rows_of(*c.given, "group"));
    const stat::Anova a = stat::one_way(groups);
    return Findings{{{"between", a.between}, {"within", a.within}, {"f", a.f}}, {}};
}

Result<Findings> grubbs_test(const Case& c) {
    BW_CHECK(c.given->allow({"values", "sides", "alpha"}));
    BW_TRY(values, values_of(*c.given, "values"));
    BW_TRY(alpha, required(*c.given, "alpha"));
    BW_TRY(sides, c.given->text("sides"));
    const assay::Sides which = sides == "highest"  ? assay::Sides::Highest
                               : sides == "lowest" ? assay::Sides::Lowest
                                                   : assay::Sides::Both;
    BW_TRY(test, assay::grubbs(values, alpha, which));
    return Findings{{{"statistic", test.statistic},
                     {"critical", test.critical},
                     {"suspect", values[test.suspect]}},
                    {}};
}

Result<Findings> cochran_limit(const Case& c) {
    BW_CHECK(c.given->allow({"variances", "values_each", "alpha"}));
    BW_TRY(variances, required(*c.given, "variances"));
    BW_TRY(each, required(*c.given, "values_each"));
    BW_TRY(alpha, required(*c.given, "alpha"));
    return Findings{{{"critical", assay::cochran_critical(static_cast<std::size_t>(variances),
                                                          static_cast<std::size_t>(each), alpha)}},
                    {}};
}

Result<Findings> critical_range(const Case& c) {
    BW_CHECK(c.given->allow({"results"}));
    BW_TRY(results, required(*c.given, "results"));
    return Findings{{{"factor", assay::critical_range_factor(static_cast<int>(results))}}, {}};
}

Result<Findings> homogeneity_factors(const Case& c) {
    BW_CHECK(c.given->allow({"units"}));
    BW_TRY(units, required(*c.given, "units"));
    const auto f = assay::sufficiency_factors(static_cast<std::size_t>(units), 2);
    return Findings{{{"f1", f.f1}, {"f2", f.f2}}, {}};
}

Result<Findings> homogeneity(const Case& c) {
    BW_TRY(units, rows_of(*c.given, "unit"));
    BW_TRY(sigma, required(*c.given, "sigma"));
    BW_TRY(h, assay::judge_homogeneity(units, sigma));
    return Findings{{{"between_variance", h.between_sd * h.between_sd},
                     {"within_variance", h.within_sd * h.within_sd},
                     {"largest_variance", h.largest_variance},
                     {"cochran", h.cochran.statistic},
                     {"f", h.anova.f},
                     {"f_critical", h.f_critical},
                     {"significant", h.significant ? 1.0 : 0.0},
                     {"sufficient", h.sufficient ? 1.0 : 0.0}},
                    {}};
}

Result<Findings> combining(const Case& c) {
    BW_CHECK(c.given->allow({"values", "variances"}));
    BW_TRY(values, values_of(*c.given, "values"));
    BW_TRY(variances, values_of(*c.given, "variances"));
    std::vector<assay::MethodValue> methods;
    for (std::size_t i = 0; i < values.size() && i < variances.size(); ++i) {
        methods.push_back({values[i], std::sqrt(variances[i])});
    }
    BW_TRY(found, assay::combine(methods));
    return Findings{{{"mean", found.value},
                     {"u", found.u},
                     {"between_variance", found.between_sd * found.between_sd}},
                    {}};
}

Result<Findings> conformity(const Case& c) {
    BW_CHECK(c.given->allow({"value", "u", "low", "high"}));
    BW_TRY(value, required(*c.given, "value"));
    BW_TRY(u, required(*c.given, "u"));
    BW_TRY(low, c.given->number("low"));
    BW_TRY(high, c.given->number("high"));
    BW_TRY(p, assay::probability_of_conformity({value, u, {}}, interval(low, high)));
    return Findings{{{"probability", p}}, {}};
}

Result<Findings> global_risks(const Case& c) {
    BW_CHECK(c.given->allow(
        {"prior_mean", "prior_sd", "u", "low", "high", "accept_low", "accept_high"}));
    BW_TRY(mean, required(*c.given, "prior_mean"));
    BW_TRY(sd, required(*c.given, "prior_sd"));
    BW_TRY(u, required(*c.given, "u"));
    BW_TRY(low, c.given->number("low"));
    BW_TRY(high, c.given->number("high"));
    BW_TRY(accept_low, c.given->number("accept_low"));
    BW_TRY(accept_high, c.given->number("accept_high"));
    BW_TRY(r, assay::global_risks(mean, sd, u, interval(low, high),
                                  interval(accept_low, accept_high)));
    return Findings{
        {{"conforming", r.conforming_share}, {"consumer", r.consumer}, {"producer", r.producer}},
        {}};
}

/// An open-cell titration; sulfate and fluoride those of seawater of the salinity, as the guide
/// has them.
Result<Findings> alkalinity_titration(const Case& c) {
    BW_CHECK(c.given->allow({"emf_mV", "acid_cm3", "acid_kg_per_L", "acid_mol_per_kg", "sample_g",
                             "celsius", "practical_salinity"}));
    constexpr double kMilli = 1e-3;
    constexpr double kSulfate = 0.14 / 96.062 / 1.80655;     // mol/kg at salinity 1
    constexpr double kFluoride = 6.7e-5 / 18.998 / 1.80655;  // [dickson-2007-guide]
    BW_TRY(emf, values_of(*c.given, "emf_mV"));
    BW_TRY(acid, values_of(*c.given, "acid_cm3"));
    BW_TRY(density, required(*c.given, "acid_kg_per_L"));
    BW_TRY(strength, required(*c.given, "acid_mol_per_kg"));
    BW_TRY(sample, required(*c.given, "sample_g"));
    BW_TRY(celsius, required(*c.given, "celsius"));
    BW_TRY(salinity, required(*c.given, "practical_salinity"));
    assay::AlkalinityTitration t;
    for (std::size_t i = 0; i < emf.size() && i < acid.size(); ++i) {
        t.points.push_back({acid[i] * density * kMilli, emf[i] * kMilli});
    }
    t.sample_kg = sample * kMilli;
    t.acid_mol_per_kg = strength;
    t.temperature = unit::Celsius(celsius);
    t.salinity = unit::PracticalSalinity(salinity);
    t.sulfate_mol_per_kg = kSulfate * salinity;
    t.fluoride_mol_per_kg = kFluoride * salinity;
    // The example uses all of its points, pH 3.00 to 3.53.
    t.low_ph = 2.9;
    t.high_ph = 3.6;
    BW_TRY(fit, assay::fit_alkalinity(t));
    constexpr double kMicro = 1e6;
    return Findings{{{"umol_per_kg", fit.alkalinity_mol_per_kg * kMicro},
                     {"emf0_mV", fit.emf0_V / kMilli},
                     {"gran_umol_per_kg", fit.gran_mol_per_kg * kMicro}},
                    {}};
}

}  // namespace bw::check
