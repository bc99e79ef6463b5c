// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <cmath>
#include <limits>

#include <fmt/format.h>

#include "brine/carbonate_system.hpp"

namespace bw::brine {
namespace {

constexpr double kNoNumber = std::numeric_limits<double>::quiet_NaN();

double value_or(std::span<const double> column, std::size_t i, double otherwise) {
    return column.empty() ? otherwise : column[i];
}

void put(CarbonateColumns& out, std::size_t i, const CarbonateState& s, CarbonateFault fault) {
    out.ph_total[i] = s.ph_total;
    out.alkalinity[i] = s.alkalinity;
    out.inorganic_carbon[i] = s.inorganic_carbon;
    out.co2[i] = s.co2;
    out.hco3[i] = s.hco3;
    out.co3[i] = s.co3;
    out.pco2_uatm[i] = s.pco2_uatm;
    out.fco2_uatm[i] = s.fco2_uatm;
    out.omega_calcite[i] = s.omega_calcite;
    out.omega_aragonite[i] = s.omega_aragonite;
    out.revelle[i] = s.revelle;
    out.fault[i] = fault;
}

void put_nothing(CarbonateColumns& out, std::size_t i, CarbonateFault fault) {
    CarbonateState none;
    for (double* part : {&none.ph_total, &none.alkalinity, &none.inorganic_carbon, &none.co2,
                         &none.hco3, &none.co3, &none.pco2_uatm, &none.fco2_uatm,
                         &none.omega_calcite, &none.omega_aragonite, &none.revelle}) {
        *part = kNoNumber;
    }
    put(out, i, none, fault);
}

/// Constants and natural totals of the last water, kept while salinity and temperature stay.
struct Water {
    double salinity = kNoNumber;
    double celsius = kNoNumber;
    bool known = false;
    SeawaterConstants constants;
    SeawaterTotals natural;

    void move_to(double s, double t, const SeawaterFits& fits) {
        if (s == salinity && t == celsius) {
            return;
        }
        salinity = s;
        celsius = t;
        const auto k = seawater_constants(unit::PracticalSalinity(s), unit::Celsius(t), fits);
        known = k.has_value();
        if (known) {
            constants = *k;
            natural = *natural_totals(unit::PracticalSalinity(s), fits.boron);
        }
    }
};

}  // namespace

Result<CarbonateColumns> columns_for(const CarbonateBatch& batch) {
    const std::size_t n = batch.first.size();
    for (const auto& column : {batch.second, batch.salinity, batch.celsius}) {
        if (column.size() != n) {
            return fail(
                ProblemCode::BadInput,
                fmt::format("columns of {} and {} waters do not go together", n, column.size()));
        }
    }
    for (const auto& column : {batch.boron, batch.sulfate, batch.fluoride, batch.calcium,
                               batch.phosphate, batch.silicate, batch.ammonia}) {
        if (!column.empty() && column.size() != n) {
            return fail(ProblemCode::BadInput,
                        fmt::format("totals of {} waters do not go with {}", column.size(), n));
        }
    }
    CarbonateColumns out;
    for (auto* column :
         {&out.ph_total, &out.alkalinity, &out.inorganic_carbon, &out.co2, &out.hco3, &out.co3,
          &out.pco2_uatm, &out.fco2_uatm, &out.omega_calcite, &out.omega_aragonite, &out.revelle}) {
        column->assign(n, kNoNumber);
    }
    out.fault.assign(n, CarbonateFault::NotFinite);
    return out;
}

void solve_carbonate_part(const CarbonateBatch& batch, std::size_t begin, std::size_t end,
                          CarbonateColumns& out) {
    Water water;
    for (std::size_t i = begin; i < end; ++i) {
        water.move_to(batch.salinity[i], batch.celsius[i], batch.fits);
        if (!water.known) {
            const bool finite = std::isfinite(batch.salinity[i]) && std::isfinite(batch.celsius[i]);
            put_nothing(out, i, finite ? CarbonateFault::OutsideRange : CarbonateFault::NotFinite);
            continue;
        }
        const SeawaterTotals& natural = water.natural;
        const CarbonateInput input{
            batch.first_kind,
            batch.second_kind,
            batch.first[i],
            batch.second[i],
            {value_or(batch.boron, i, natural.boron), value_or(batch.sulfate, i, natural.sulfate),
             value_or(batch.fluoride, i, natural.fluoride), value_or(batch.phosphate, i, 0),
             value_or(batch.silicate, i, 0), value_or(batch.calcium, i, natural.calcium),
             value_or(batch.ammonia, i, 0)}};
        CarbonateState state;
        const CarbonateFault fault = solve_carbonate(input, water.constants, state);
        if (fault == CarbonateFault::None) {
            put(out, i, state, fault);
        } else {
            put_nothing(out, i, fault);
        }
    }
}

}  // namespace bw::brine
