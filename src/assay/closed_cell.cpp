// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "assay/closed_cell.hpp"

#include <cmath>

namespace bw::assay {

Result<std::vector<double>> closed_cell_alkalinity(const ClosedCell& cell,
                                                   std::span<const ClosedCellPoint> points) {
    const auto& k = cell.constants;
    const auto& t = cell.totals;
    if (!(cell.sample_kg > 0) || !(cell.acid_mol_per_kg > 0) || !(cell.carbon_mol_per_kg >= 0) ||
        !(k.k1 > 0) || !(k.k2 > 0) || !(k.kw > 0) || (t.boron > 0 && !(k.kb > 0)) ||
        (t.sulfate > 0 && !(k.ks > 0)) || (t.fluoride > 0 && !(k.kf > 0)) ||
        (t.phosphate > 0 && !(k.kp1 > 0 && k.kp2 > 0 && k.kp3 > 0))) {
        return base::fail(base::ProblemCode::BadInput,
                          "a closed cell needs the sample's mass, the acid's strength and the "
                          "constants of what the sample holds, all above 0");
    }
    constexpr double kTen = 10;
    std::vector<double> out;
    for (const ClosedCellPoint& p : points) {
        if (!(p.acid_kg >= 0) || !std::isfinite(p.ph_free)) {
            return base::fail(base::ProblemCode::BadInput,
                              "a point of a titration is a mass of acid, 0 or more, and a pH");
        }
        const double h = std::pow(kTen, -p.ph_free);
        const double grown = (cell.sample_kg + p.acid_kg) / cell.sample_kg;
        const double carbonic = h * h + k.k1 * h + k.k1 * k.k2;
        // Of the sample's kilogram: totals are not diluted, h and OH are grown instead.
        double a = p.acid_kg / cell.sample_kg * cell.acid_mol_per_kg +
                   cell.carbon_mol_per_kg * (k.k1 * h + 2 * k.k1 * k.k2) / carbonic +
                   grown * (k.kw / h - h);
        a += t.boron > 0 ? t.boron * k.kb / (k.kb + h) : 0;
        a -= t.sulfate > 0 ? t.sulfate * h / (k.ks + h) : 0;
        a -= t.fluoride > 0 ? t.fluoride * h / (k.kf + h) : 0;
        if (t.phosphate > 0) {
            const double second = k.kp1 * k.kp2 * h;
            const double third = k.kp1 * k.kp2 * k.kp3;
            const double all = h * h * h + k.kp1 * h * h + second + third;
            a += t.phosphate * (second + 2 * third - h * h * h) / all;
        }
        out.push_back(a);
    }
    return out;
}

}  // namespace bw::assay
