// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/water_closing.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "brine/seawater_constants.hpp"
#include "io/water_doubts.hpp"

namespace bw::io {
namespace {

using brine::Closure;

constexpr double kMilli = 1e-3;
constexpr double kMicro = 1e-6;
constexpr double kTenthPercent = 1e-3;

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

/// Collects statements until two close the balance.
class Balance {
public:
    Balance(const AcidBaseStatements& said, WaterSpec& spec) : said_(said), spec_(spec) {}

    [[nodiscard]] std::size_t count() const { return names_.size(); }
    [[nodiscard]] const std::vector<std::string>& names() const { return names_; }

    Result<void> take_stated() {
        if (said_.alkalinity) {
            state("alkalinity", Closure::Alkalinity, amounts()[alkalinity_]);
        }
        if (said_.carbon) {
            state("carbon", Closure::Carbon, amounts()[carbon_]);
        }
        if (said_.other.ph) {
            state(fmt::format("pH {} ({} scale)", base::format_exact(*said_.other.ph),
                              scale_word(said_.other.ph_scale)),
                  said_.other.ph_scale, *said_.other.ph);
            note_scale();
        }
        if (said_.other.pco2_atm) {
            BW_CHECK(state_pco2(*said_.other.pco2_atm, "pCO2"));
        }
        return {};
    }

    Result<void> take_what_is_open() {
        if (count() == 0) {
            take_alkalinity();
            if (said_.natural) {
                take_natural_carbon();
            }
        } else if (count() == 1 && !said_.alkalinity) {
            take_alkalinity();
        }
        if (count() == 1) {
            BW_CHECK(take_air());
        }
        return {};
    }

    /// Puts the two into the water; what neither of them states is left to the model.
    void finish() {
        spec_.input.closing = {statements_[0], statements_[1]};
        spec_.closed_by = names_[0] + " and " + names_[1];
        spec_.alkalinity_known = states(Closure::Alkalinity);
        if (!spec_.alkalinity_known) {
            amounts()[alkalinity_] = 0;
        }
        if (!states(Closure::Carbon)) {
            amounts()[carbon_] = 0;
        }
    }

private:
    [[nodiscard]] matter::Amounts& amounts() { return spec_.input.mol_per_kg; }
    [[nodiscard]] bool states(Closure kind) const {
        return std::any_of(statements_.begin(), statements_.end(),
                           [&](const auto& s) { return s.kind == kind; });
    }
    void state(std::string name, Closure kind, double value) {
        names_.push_back(std::move(name));
        statements_.push_back({kind, value});
    }
    void note_scale() {
        if (!said_.other.is_scale_stated) {
            spec_.notices.push_back(
                {"ph_scale_assumed",
                 "pH is taken on the total scale; a meter set in ordinary buffers reads NBS, about "
                 "0.13 higher in seawater: state pH_scale."});
        }
    }
    Result<void> state_pco2(double pco2_atm, std::string name) {
        BW_TRY(fugacity, co2_fugacity_atm(pco2_atm, spec_.input.temperature));
        spec_.pco2_atm = pco2_atm;
        state(std::move(name), Closure::Fugacity, fugacity);
        return {};
    }
    void take_alkalinity() {
        if (said_.natural) {
            state("natural alkalinity", Closure::Alkalinity, amounts()[alkalinity_]);
            return;
        }
        amounts()[alkalinity_] = amounts().alkalinity_by_charge();
        spec_.alkalinity_by_charge = true;
        state("alkalinity by charge balance", Closure::Alkalinity, amounts()[alkalinity_]);
        spec_.notices.push_back(
            {"alkalinity_by_charge",
             fmt::format("The file gives no alkalinity: {} meq/kg is what the charges of the other "
                         "ions leave. An error of 0.1 % in the largest of them may move it by {} "
                         "meq/kg.",
                         base::format_significant(amounts()[alkalinity_] / kMilli, 4),
                         base::format_significant(
                             kTenthPercent * amounts().half_of_charges() / kMilli, 2))});
    }
    void take_natural_carbon() {
        state("natural carbon", Closure::Carbon, amounts()[carbon_]);
        spec_.notices.push_back(
            {"carbon_natural",
             "Carbon is that of Reference-Composition Seawater of this salinity; state pCO2 or "
             "pH for a water that stands otherwise with the air."});
    }
    Result<void> take_air() {
        const std::string air = fmt::format("air of {} uatm CO2", base::format_exact(kAirCo2_uatm));
        BW_CHECK(state_pco2(kAirCo2_uatm * kMicro, air));
        spec_.notices.push_back(
            {"air_assumed",
             fmt::format("The file states neither carbon, pCO2 nor pH: the water is taken to be at "
                         "equilibrium with {}.",
                         air)});
        return {};
    }

    const AcidBaseStatements& said_;
    WaterSpec& spec_;
    std::vector<std::string> names_;
    std::vector<brine::WaterInput::Statement> statements_;
    matter::Constituent alkalinity_ = matter::constituent("alkalinity");
    matter::Constituent carbon_ = matter::constituent("carbon");
};

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
    out.is_scale_stated = at_scale->has("pH_scale");
    if (out.is_scale_stated && !ph) {
        return at_scale->bad("pH_scale", "a scale of pH is named, but no pH");
    }
    return out;
}

Result<void> close_balance(const Fields& table, const AcidBaseStatements& said, WaterSpec& spec) {
    Balance balance(said, spec);
    BW_CHECK(balance.take_stated());
    if (balance.count() > 2) {
        return table.bad(
            "",
            fmt::format("{} are all stated, but any two of them settle the acid-base "
                        "balance: leave {} out",
                        base::join_words(balance.names()), balance.count() == 3 ? "one" : "two"));
    }
    BW_CHECK(balance.take_what_is_open());
    balance.finish();
    return {};
}

}  // namespace bw::io
