// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// The data of a mixing sheet as JSON and as sheets of a workbook.
#include <nlohmann/json.hpp>

#include "report/pictogram.hpp"
#include "service/mixing_sheets.hpp"

namespace bw::service {

namespace {

using Json = nlohmann::ordered_json;

/// The sentences of the paper, whole: whoever signs reads them.
void add_words(const report::MixingSheet& s, Json& to) {
    const report::MixingWords words = report::mixing_words(s);
    Json steps = Json::array();
    for (const report::MixingStep& step : words.steps) {
        steps.push_back({{"do", step.lead}, {"how", step.rest}});
    }
    Json pictograms = Json::array();
    for (const std::string& code : s.safety.pictograms) {
        pictograms.push_back({{"code", code}, {"name", report::pictogram_name(code)}});
    }
    to["maker"] = {
        {"name", s.maker.name}, {"address", s.maker.address}, {"contact", s.maker.contact}};
    to["rate"] = words.rate;
    to["steps"] = std::move(steps);
    to["if_cloudy"] = words.if_cloudy;
    to["storing"] = words.storing;
    to["dial_unit"] = s.dial_unit;
    to["square_code"] = words.code_text;
    to["pictograms"] = std::move(pictograms);
    to["no_hazards"] =
        s.safety.hazards.empty() ? report::no_hazard_words(report::kMixingSubject) : "";
    to["safety_precedence"] = report::safety_precedence();
}

}  // namespace

std::string mixing_sheet_json(const report::MixingSheet& s) {
    Json amounts = Json::array();
    for (const report::MixingAmount& a : s.amounts) {
        amounts.push_back({{"volume", a.volume}, {"water", a.water}, {"salt", a.salt}});
    }
    Json readings = Json::array();
    for (const report::CheckReading& r : s.readings) {
        readings.push_back({{"temperature_degC", r.temperature},
                            {"conductivity_mS_per_cm", r.conductivity},
                            {"relative_density", r.relative_density},
                            {"dial_seawater", r.dial_seawater},
                            {"dial_sodium_chloride", r.dial_sodium_chloride}});
    }
    Json hazards = Json::array();
    for (const auto* statements : {&s.safety.hazards, &s.safety.precautions}) {
        for (const report::HazardStatement& h : *statements) {
            hazards.push_back({{"code", h.code}, {"text", h.text}});
        }
    }
    constexpr int kIndent = 2;
    Json out{{"version", 1},
             {"number", s.mark.number},
             {"product", s.product},
             {"batch", s.batch},
             {"use_by", s.use_by},
             {"invented", s.mark.invented},
             {"salinity", s.salinity},
             {"practical_salinity", s.practical_salinity},
             {"salt_per_litre", s.salt_per_litre},
             {"salt_per_kg_water", s.salt_per_kg_water},
             {"litres_at", s.basis},
             {"amounts", amounts},
             {"temperature_low_degC", s.temperature_low},
             {"temperature_high_degC", s.temperature_high},
             {"taking", s.taking},
             {"stir_time", s.stir_time},
             {"use_within", s.use_within},
             {"readings", readings},
             {"density_reference", s.density_reference},
             {"instrument_notes", s.instrument_notes},
             {"signal_word", s.safety.signal_word},
             {"hazards", hazards},
             {"safety", s.safety.cautions},
             {"safety_decided_by", s.safety.decided_by}};
    add_words(s, out);
    return out.dump(kIndent) + "\n";
}

Result<report::MixingSheet> mixing_sheet_of_json(const std::string& json) {
    const nlohmann::json in = nlohmann::json::parse(json, nullptr, false);
    report::MixingSheet s;
    const auto read = [](const nlohmann::json& from, const char* key, std::string& to) {
        to = from.at(key).get<std::string>();
    };
    try {
        read(in, "number", s.mark.number);
        s.mark.invented = in.at("invented").get<bool>();
        read(in, "product", s.product);
        read(in, "batch", s.batch);
        read(in, "use_by", s.use_by);
        read(in, "salinity", s.salinity);
        read(in, "practical_salinity", s.practical_salinity);
        read(in, "salt_per_litre", s.salt_per_litre);
        read(in, "salt_per_kg_water", s.salt_per_kg_water);
        read(in, "litres_at", s.basis);
        read(in, "temperature_low_degC", s.temperature_low);
        read(in, "temperature_high_degC", s.temperature_high);
        read(in, "stir_time", s.stir_time);
        read(in, "use_within", s.use_within);
        read(in, "density_reference", s.density_reference);
        read(in, "safety_decided_by", s.safety.decided_by);
        for (const auto& a : in.at("amounts")) {
            report::MixingAmount& to = s.amounts.emplace_back();
            read(a, "volume", to.volume);
            read(a, "water", to.water);
            read(a, "salt", to.salt);
        }
        for (const auto& r : in.at("readings")) {
            report::CheckReading& to = s.readings.emplace_back();
            read(r, "temperature_degC", to.temperature);
            read(r, "conductivity_mS_per_cm", to.conductivity);
            read(r, "relative_density", to.relative_density);
            read(r, "dial_seawater", to.dial_seawater);
            read(r, "dial_sodium_chloride", to.dial_sodium_chloride);
        }
    } catch (const nlohmann::json::exception&) {
        return fail(ProblemCode::BadInput, "these are not the data of a mixing sheet");
    }
    return s;
}

std::vector<io::Sheet> mixing_sheet_sheets(const report::MixingSheet& s) {
    const auto text = [](const std::string& t) { return t.empty() ? io::Cell() : io::Cell(t); };
    io::Sheet facts{"mixing sheet",
                    {"what", "value"},
                    {{io::Cell("number"), text(s.mark.number)},
                     {io::Cell("product"), text(s.product)},
                     {io::Cell("batch"), text(s.batch)},
                     {io::Cell("use by"), text(s.use_by)},
                     {io::Cell("salinity"), text(s.salinity)},
                     {io::Cell("practical salinity"), text(s.practical_salinity)},
                     {io::Cell("salt per litre of finished water"), text(s.salt_per_litre)},
                     {io::Cell("salt per kg of purified water"), text(s.salt_per_kg_water)},
                     {io::Cell("mix from, degC"), text(s.temperature_low)},
                     {io::Cell("mix to, degC"), text(s.temperature_high)},
                     {io::Cell("stir"), text(s.stir_time)},
                     {io::Cell("use within"), text(s.use_within)},
                     {io::Cell("safety decided by"), text(s.safety.decided_by)}}};
    io::Sheet amounts{"amounts", {"volume", "purified water", "salt"}, {}};
    for (const report::MixingAmount& a : s.amounts) {
        amounts.rows.push_back({text(a.volume), text(a.water), text(a.salt)});
    }
    io::Sheet readings{"readings",
                       {"temperature, degC", "conductivity, mS/cm",
                        "relative density, " + s.density_reference, "seawater dial", "NaCl dial"},
                       {}};
    for (const report::CheckReading& r : s.readings) {
        readings.rows.push_back({text(r.temperature), text(r.conductivity),
                                 text(r.relative_density), text(r.dial_seawater),
                                 text(r.dial_sodium_chloride)});
    }
    return {std::move(facts), std::move(amounts), std::move(readings)};
}

}  // namespace bw::service
