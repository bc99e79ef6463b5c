// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/water_closing.hpp"

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "brine/seawater_constants.hpp"

namespace bw::io {
namespace {

using brine::Closure;

constexpr double kMilli = 1e-3;
constexpr double kMicro = 1e-6;

/// Where a key stands: in the table of constituents or at the top, not in both.
Result<const Fields*> holder(const Fields& root, const std::optional<Fields>& table,
                             std::string_view key) {
    const bool inside = table && table->has(key);
    if (inside && root.has(key)) {
        return table->bad(key, fmt::format("{} stands at the top of the file too", key),
                          ProblemCode::DuplicateName);
    }
    return inside ? &*table : &root;
}

Result<std::optional<double>> read_pco2(const Fields& at) {
    const Node* node = at.node("pCO2");
    if (node == nullptr) {
        return std::nullopt;
    }
    if (node->number() != nullptr ||
        (node->text() != nullptr && base::parse_number(base::trim(*node->text())))) {
        return at.bad("pCO2", "pCO2 has no unit: write, for example, \"420 uatm\"",
                      ProblemCode::BadUnit);
    }
    if (node->text() != nullptr && base::trim(*node->text()).ends_with("ppm")) {
        return at.bad("pCO2",
                      "ppm count dry air, and moist air has up to 7 % less: write the partial "
                      "pressure, for example \"420 uatm\"",
                      ProblemCode::BadUnit);
    }
    BW_TRY(value, at.value_in("pCO2", unit::Dimension::Pressure));
    if (!(*value > 0) || !(*value <= 1)) {
        return at.bad("pCO2",
                      "pCO2 must be above 0 and at most 1 atm: a water at the air has about "
                      "\"420 uatm\"",
                      ProblemCode::OutOfRange);
    }
    return value;
}

Result<Closure> read_scale(const Fields& at) {
    BW_TRY(text, at.text("pH_scale"));
    if (!text || *text == "total") {
        return Closure::PhTotal;
    }
    if (*text == "free") {
        return Closure::PhFree;
    }
    if (*text == "nbs") {
        return Closure::PhNbs;
    }
    return at.bad("pH_scale",
                  fmt::format("{} is not a scale of pH: write \"total\", \"free\" or \"nbs\"",
                              base::quoted(*text)),
                  ProblemCode::UnknownName);
}

std::string_view scale_word(Closure scale) {
    return scale == Closure::PhFree ? "free" : scale == Closure::PhNbs ? "NBS" : "total";
}

}  // namespace

Result<double> co2_fugacity_atm(double pco2_atm, unit::Celsius temperature) {
    constexpr double kAnySalinity = 35;  // the factor is the air's
    BW_TRY(constants,
           brine::seawater_constants(unit::PracticalSalinity(kAnySalinity), temperature));
    return pco2_atm * constants.fugacity_factor;
}

Result<StatedAcidBase> stated_acid_base(const Fields& root, const std::optional<Fields>& table) {
    StatedAcidBase out;
    BW_TRY(at_pco2, holder(root, table, "pCO2"));
    BW_TRY(pco2, read_pco2(*at_pco2));
    out.pco2_atm = pco2;
    BW_TRY(at_ph, holder(root, table, "pH"));
    BW_TRY(ph, at_ph->number("pH"));
    constexpr double kHighestPh = 14;
    if (ph && !(*ph >= 0 && *ph <= kHighestPh)) {
        return at_ph->bad("pH", fmt::format("pH {} is outside 0 to 14", base::format_exact(*ph)),
                          ProblemCode::OutOfRange);
    }
    out.ph = ph;
    BW_TRY(at_scale, holder(root, table, "pH_scale"));
    BW_TRY(scale, read_scale(*at_scale));
    out.ph_scale = scale;
    if (at_scale->has("pH_scale") && !ph) {
        return at_scale->bad("pH_scale", "a scale of pH is named, but no pH");
    }
    return out;
}

Result<void> close_balance(const Fields& table, const AcidBaseStatements& said, WaterSpec& spec) {
    std::vector<std::string> names;
    std::vector<brine::WaterInput::Statement> statements;
    auto& amounts = spec.input.mol_per_kg;
    const matter::Constituent alkalinity = matter::constituent("alkalinity");
    const matter::Constituent carbon = matter::constituent("carbon");
    const auto state = [&](std::string name, Closure kind, double value) {
        names.push_back(std::move(name));
        statements.push_back({kind, value});
    };
    const auto state_pco2 = [&](double pco2_atm, std::string name) -> Result<void> {
        BW_TRY(fugacity, co2_fugacity_atm(pco2_atm, spec.input.temperature));
        spec.pco2_atm = pco2_atm;
        state(std::move(name), Closure::Fugacity, fugacity);
        return {};
    };
    if (said.alkalinity) {
        state("alkalinity", Closure::Alkalinity, amounts[alkalinity]);
    }
    if (said.carbon) {
        state("carbon", Closure::Carbon, amounts[carbon]);
    }
    if (said.other.ph) {
        state(fmt::format("pH ({} scale)", scale_word(said.other.ph_scale)), said.other.ph_scale,
              *said.other.ph);
    }
    if (said.other.pco2_atm) {
        BW_CHECK(state_pco2(*said.other.pco2_atm, "pCO2"));
    }
    if (names.size() > 2) {
        return table.bad("",
                         fmt::format("{} are all stated, but any two of them settle the acid-base "
                                     "balance: leave {} out",
                                     base::join_words(names), names.size() == 3 ? "one" : "two"));
    }
    const std::string air = fmt::format("air of {} uatm CO2", base::format_exact(kAirCo2_uatm));
    const auto take_alkalinity = [&] {
        if (said.natural) {
            state("natural alkalinity", Closure::Alkalinity, amounts[alkalinity]);
            return;
        }
        amounts[alkalinity] = amounts.alkalinity_by_charge();
        spec.alkalinity_by_charge = true;
        state("alkalinity by charge balance", Closure::Alkalinity, amounts[alkalinity]);
        spec.notices.push_back(
            {"alkalinity_by_charge",
             fmt::format("The file gives no alkalinity: {} meq/kg is what the charges of the other "
                         "ions leave. An error of 0.1 % in sodium or chloride moves it by half "
                         "a meq/kg.",
                         base::format_significant(amounts[alkalinity] / kMilli, 4))});
    };
    if (names.empty()) {
        take_alkalinity();
        if (said.natural) {
            state("natural carbon", Closure::Carbon, amounts[carbon]);
            spec.notices.push_back(
                {"carbon_natural",
                 "Carbon is that of Reference-Composition Seawater of this salinity; state pCO2 or "
                 "pH for a water that stands otherwise with the air."});
        }
    } else if (names.size() == 1 && !said.alkalinity) {
        take_alkalinity();
    }
    if (names.size() == 1) {
        BW_CHECK(state_pco2(kAirCo2_uatm * kMicro, air));
        spec.notices.push_back(
            {"air_assumed",
             fmt::format("The file states neither carbon, pCO2 nor pH: the water is taken to be at "
                         "equilibrium with {}.",
                         air)});
    }
    spec.input.closing = {statements[0], statements[1]};
    spec.closed_by = names[0] + " and " + names[1];
    spec.alkalinity_known =
        statements[0].kind == Closure::Alkalinity || statements[1].kind == Closure::Alkalinity;
    if (!spec.alkalinity_known) {
        amounts[alkalinity] = 0;
    }
    if (statements[0].kind != Closure::Carbon && statements[1].kind != Closure::Carbon) {
        amounts[carbon] = 0;
    }
    return {};
}

}  // namespace bw::io
