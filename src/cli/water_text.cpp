// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <utility>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "cli/answer.hpp"
#include "cli/recipe_output.hpp"
#include "cli/table.hpp"
#include "cli/water_output.hpp"
#include "ref/tables.hpp"
#include "unit/factors.hpp"
#include "unit/unit_table.hpp"

namespace bw::cli {
namespace {

using base::format_places;
using base::format_significant;

constexpr double kMilli = 1e3;
constexpr double kMicro = 1e6;
constexpr int kDigits = 5;

std::string line(std::string_view what, const std::string& value) {
    return fmt::format("  {:<22} {}\n", what, value);
}

std::string property(const std::optional<service::Property>& p, int places, std::string_view unit) {
    if (!p) {
        return "not given";
    }
    const std::string after = unit.empty() ? "" : " " + std::string(unit);
    return with_uncertainty(p->value, p->standard_uncertainty.value_or(0), places) + after;
}

std::string head(const service::WaterReport& r) {
    const brine::WaterState& s = r.state;
    const service::WaterSheet& sheet = r.sheet;
    std::string out = water_name(r) + (r.spec.invented ? "  (invented example)" : "") + "\n";
    out += wrapped(fmt::format("  {:<22} ", "source"), base::one_line(r.spec.source));
    constexpr int kIndexPlaces = 5;
    constexpr int kSalinityPlaces = 3;
    out += line("worked out",
                fmt::format("by brinewright {}, data {}", kProgramVersion, ref::data_digest()));
    out += line("temperature",
                base::format_exact(s.temperature.value()) + " °C" +
                    (r.file_temperature ? ", asked for; the file says " +
                                              base::format_exact(r.file_temperature->value()) +
                                              " °C, and amounts per kg stay as they are there"
                                        : ""));
    out += line("dissolved", format_places(s.dissolved_g_per_kg, kSalinityPlaces) + " g/kg");
    out +=
        line("practical salinity",
             sheet.practical_salinity ? format_places(*sheet.practical_salinity, 3) : "not given");
    out += line("density", property(sheet.density_kg_per_m3, 3, "kg/m3"));
    if (sheet.specific_gravity_20_20 && sheet.specific_gravity_25_25) {
        out += line("specific gravity",
                    property(sheet.specific_gravity_20_20, kIndexPlaces, "(20/20 °C), ") +
                        property(sheet.specific_gravity_25_25, kIndexPlaces, "(25/25 °C)"));
    }
    out += line("conductivity", property(sheet.conductivity_mS_per_cm, 2, "mS/cm"));
    out += line("  at 25 °C", property(sheet.conductivity_25C_mS_per_cm, 2, "mS/cm"));
    out +=
        line("refractive index",
             property(sheet.refractive_index, kIndexPlaces,
                      fmt::format("(589 nm, {} °C)", base::format_exact(s.temperature.value()))));
    out += line("ionic strength",
                format_significant(s.ionic_strength_mol_per_kg_water, 4) + " mol/kg-water");
    out += line("water activity",
                format_places(s.water_activity, kIndexPlaces) +
                    fmt::format("  (osmotic coefficient {}, osmolality {} "
                                "mol/kg-water)",
                                format_places(s.osmotic_coefficient, 4),
                                format_significant(s.osmolality_mol_per_kg_water, 4)));
    out += line("charge balance",
                format_places(std::abs(s.charge_balance_percent), 3) +
                    (s.charge_balance_percent < 0 ? " % more negative than positive"
                                                  : " % more positive than negative"));
    return out;
}

/// Alkalinity as aquarists and water works state it.
std::string alkalinity_per_litre(const service::WaterReport& r) {
    constexpr double kCarbonateMgPerMeq = 50.04;  // CaCO3
    if (!r.kg_per_litre) {
        return "";
    }
    static const double kMeqPerDkh = unit::find_unit("dKH")->factor * kMilli;
    const double meq_per_litre = r.state.alkalinity_eq_per_kg * kMilli * *r.kg_per_litre;
    return line("",
                fmt::format("{} meq/L, {} dKH, {} mg/L as CaCO3", format_places(meq_per_litre, 3),
                            format_places(meq_per_litre / kMeqPerDkh, 2),
                            format_places(meq_per_litre * kCarbonateMgPerMeq, 1)));
}

/// What carbon is there as, pairs included.
std::string forms(const brine::WaterState& s) {
    using brine::Species;
    const double water = 1 - s.dissolved_g_per_kg / unit::kGramPerKg;
    const auto mmol = [&](std::initializer_list<Species> species) {
        double sum = 0;
        for (const Species i : species) {
            sum += s.molality[brine::index(i)];
        }
        return format_significant(sum * water * kMilli, 3);
    };
    return fmt::format(": HCO3 {}, CO3 {}, CO2 {}", mmol({Species::HCO3}),
                       mmol({Species::CO3, Species::MgCO3, Species::CaCO3, Species::SrCO3}),
                       mmol({Species::CO2}));
}

std::string acid_base(const service::WaterReport& r) {
    const brine::WaterState& s = r.state;
    const auto meq = [](double eq) { return format_places(eq * kMilli, 3); };
    constexpr int kAirDigits = 4;
    return "\nAcids and bases, from " + r.spec.closed_by + "\n" +
           line("pH", fmt::format("{} total, {} free, {}", format_places(s.ph_total, 3),
                                  format_places(s.ph_free, 3),
                                  s.ph_nbs ? format_places(*s.ph_nbs, 2) + " NBS"
                                           : std::string("NBS not given"))) +
           line(
               "alkalinity",
               fmt::format("{} meq/kg: carbonate {}, borate {}, others {}",
                           meq(s.alkalinity_eq_per_kg), meq(s.alkalinity_carbonate_eq_per_kg),
                           meq(s.alkalinity_borate_eq_per_kg), meq(s.alkalinity_other_eq_per_kg))) +
           alkalinity_per_litre(r) +
           line("carbon", meq(s.carbon_mol_per_kg) + " mmol/kg" + forms(s)) +
           line("pCO2",
                format_significant(s.partial_pressure_co2_atm * kMicro, kAirDigits) + " uatm");
}

/// A share or coefficient, or that it is less than the table can show.
std::string not_quite_nothing(double value, int places) {
    const double least = std::pow(10.0, -places);
    return value > 0 && value < least / 2 ? "<" + format_places(least, places)
                                          : format_places(value, places);
}

/// What a reader of the table must know of one line.
std::string remark(matter::Constituent c, const brine::ConstituentState* state) {
    if (state == nullptr) {
        return c.symbol() == "carbon" ? "as C" : "not in the model";
    }
    if (state->stand_in) {
        return "as an ion of like charge";
    }
    return c.symbol() == "B"     ? "free form: B(OH)3"
           : c.symbol() == "Si"  ? "free form: Si(OH)4"
           : c.symbol() == "PO4" ? "free form: H3PO4"
                                 : "";
}

/// What the total of a form counts.
std::string_view form_remark(const DissolvedForm& form) {
    return form.symbol == "H"      ? "total with HSO4, HF"
           : form.symbol == "OH"   ? "total with its pair"
           : form.symbol == "HCO3" ? "of carbon"
           : form.symbol == "CO3"  ? "of carbon; total with its pairs"
                                   : "of B; total with its pairs";
}

/// Constituents below 1 mg/kg stand by themselves, in a thousandth of the unit.
bool is_trace(double mg_per_kg) { return mg_per_kg < 1; }

TextTable constituents_table(bool traces) {
    const std::string u = traces ? "u" : "m";
    return TextTable({{{traces ? "trace" : "constituent"}, Align::Left},
                      {{u + "mol/kg"}, Align::Decimal},
                      {{u + "g/kg"}, Align::Decimal},
                      {{u + "g/L"}, Align::Decimal},
                      {{"free", "%"}, Align::Decimal},
                      {{"activity", "coefficient", "of the total"}, Align::Decimal},
                      {{"activity", "coefficient", "of the free form"}, Align::Decimal},
                      {{"note"}, Align::Left}});
}

std::string constituents(const service::WaterReport& r) {
    TextTable table = constituents_table(false);
    TextTable traces = constituents_table(true);
    bool any_trace = false;
    for (std::size_t i = 0; i < matter::constituent_count(); ++i) {
        const matter::Constituent c(i);
        const double mol = r.mol_per_kg[c];
        if (!(mol > 0) || c.is_alkalinity()) {
            continue;
        }
        const double mg = mol * matter::counted_molar_mass_g(c) * kMilli;
        const brine::ConstituentState* state = state_of(r, c);
        const bool trace = is_trace(mg);
        const double scale = trace ? kMilli : 1;
        any_trace = any_trace || trace;
        constexpr int kTraceDigits = 4;
        const int n = trace ? kTraceDigits : kDigits;
        (trace ? traces : table)
            .add({std::string(c.symbol()), format_significant(mol * kMilli * scale, n),
                  format_significant(mg * scale, n),
                  r.kg_per_litre ? format_significant(mg * scale * *r.kg_per_litre, n) : "",
                  state != nullptr ? not_quite_nothing(state->free_fraction * unit::kPercent, 1)
                                   : "",
                  state != nullptr ? not_quite_nothing(state->total_activity_coefficient, 4) : "",
                  state != nullptr ? format_places(state->free_activity_coefficient, 4) : "",
                  remark(c, state)});
    }
    for (const DissolvedForm& f : dissolved_forms(r.state)) {
        if (f.symbol == "BOH4" && !(r.mol_per_kg[matter::constituent("B")] > 0)) {
            continue;
        }
        table.add({f.symbol == "BOH4" ? "B(OH)4" : f.symbol, "", "", "",
                   format_places(f.free_fraction * unit::kPercent, 1),
                   format_places(f.free_fraction * f.free_activity_coefficient, 4),
                   format_places(f.free_activity_coefficient, 4), std::string(form_remark(f))});
    }
    const bool typed = r.spec.litre_kg_per_m3.has_value();
    const std::string litre =
        r.kg_per_litre
            ? fmt::format(" (a litre weighs {} kg at {} °C{})", format_places(*r.kg_per_litre, 4),
                          base::format_exact(r.state.temperature.value()),
                          typed && r.file_temperature
                              ? "; the file's litres are those of its temperature"
                              : "")
            : "";
    return "\nConstituents" + litre + "\n" + table.text() + (any_trace ? "\n" + traces.text() : "");
}

/// What concerns the vat first.
constexpr std::array<std::pair<SolidFate, std::string_view>, 4> kFates{
    {{SolidFate::MayFall, "may fall out of this water"},
     {SolidFate::Close, "too close to call"},
     {SolidFate::Held, "supersaturated, but does not fall"},
     {SolidFate::Dissolved, "stays dissolved"}}};

std::string saturation(const service::WaterReport& r) {
    std::vector<const brine::SaturationState*> order;
    std::size_t far = 0;
    for (const brine::SaturationState& s : r.state.saturation) {
        if (s.omega >= kSmallestOmega) {
            order.push_back(&s);
        } else {
            ++far;
        }
    }
    std::ranges::stable_sort(order, std::ranges::greater{}, &brine::SaturationState::omega);
    TextTable table({{{"solid"}, Align::Left},
                     {{"Omega"}, Align::Decimal},
                     {{"trusted within", "a factor of"}, Align::Decimal},
                     {{""}, Align::Left}});
    std::vector<std::string> when;
    for (const auto& [fate, heading] : kFates) {
        bool headed = false;
        for (const auto* s : order) {
            const SolidVerdict verdict = solid_verdict(*s, r.state);
            if (verdict.fate != fate) {
                continue;
            }
            if (!headed) {
                table.add({std::string(heading), "", "", ""});
                headed = true;
            }
            table.add({"  " + std::string(s->solid->name), format_significant(s->omega, 3),
                       format_significant(s->factor, 3),
                       verdict.why + std::string(out_of_range_words(*s))});
            if (fate != SolidFate::Dissolved && s->solid->forming != ref::Forming::Never) {
                when.push_back(fmt::format("{}: {}", s->solid->name, s->solid->forms_when));
            }
        }
    }
    return "\nSolids (Omega 1: the water is at equilibrium with the solid)\n" + table.text() +
           (far > 0 ? fmt::format("  {} more solids stay dissolved, Omega below {}.\n", far,
                                  kSmallestOmega)
                    : "") +
           (when.empty() ? "" : "\nWhen they form\n" + bullets(when));
}

}  // namespace

std::string water_text(const service::WaterReport& r) {
    std::string out = head(r) + acid_base(r) + constituents(r) + saturation(r);
    const std::vector<std::string> doubts = doubt_sentences(r);
    if (!doubts.empty()) {
        out += "\nHow sure the model is\n" + bullets(doubts);
    }
    return r.notices.empty() ? out : out + "\nTake note\n" + bullets(sentences_of(r.notices));
}

}  // namespace bw::cli
