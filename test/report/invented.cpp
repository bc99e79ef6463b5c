// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "report/invented.hpp"

#include <cmath>

namespace bw::test {
namespace {

using report::Status;

report::Maker maker() {
    return {"Invented Salt Works", {"1 Example Quay", "00000 Nowhere"}, "quality@example.invalid"};
}

report::PaperMark mark(const char* number) {
    return {
        number, "2026-03-09T14:05:00Z", "1834-0123456789abcdef", "89abcdef01234567", "7K4M-Q2XR-9D",
        true};
}

report::SafetyBox safety() {
    return {"Warning",
            {{"H319", "Causes serious eye irritation"}},
            {{"P264", "Wash hands thoroughly after handling"},
             {"P280", "Wear protective gloves and eye protection"},
             {"P305 + P351 + P338",
              "IF IN EYES: Rinse cautiously with water for several minutes. Remove contact lenses, "
              "if present and easy to do. Continue rinsing"}},
            {"Calcium chloride heats the water it dissolves in: add it slowly.",
             "Dust of magnesium sulfate: run the extraction while filling."},
            "D. Example, 2026-01-12",
            {"GHS07"}};
}

}  // namespace

report::Certificate invented_certificate() {
    report::Certificate out;
    out.mark = mark("C26-0142-K");
    out.maker = maker();
    out.laboratory = "the works' laboratory";
    out.issue = "2";
    out.issued_on = "2026-03-09";
    out.replaces = "issue 1 of 2026-03-07: the limit for strontium was typed with the wrong unit";
    out.product = "Reef salt R";
    out.batch = "B26-0142-K";
    out.recipe_version = "R version 7";
    out.made_on = "2026-02-26";
    out.use_by = "2028-02-29";
    out.pack_sizes = {"4 kg", "20 kg"};
    out.sample = "S26-0311-H, mixed of 10 increments";
    out.sample_condition = "dry, free-flowing, bag unbroken";
    out.sampled_on = "2026-02-26";
    out.received_on = "2026-02-27";
    out.sampling_plan = "SP-2 version 3";
    out.decision = "Released";
    out.decision_status = Status::Within;
    out.method_note = {
        "The salt was dissolved at 39.66 g per kg of purified water at 25 °C; results are per kg "
        "of "
        "the water made up in this way, at a practical salinity of 35.0."};
    out.methods = {"M-07 v3, inductively coupled plasma",
                   "M-02 v5, titration of alkalinity in an open cell",
                   "M-11 v1, potentiometric titration of halides"};
    out.departures = {
        "D26-0031: sample kept at 27 °C instead of 20 to 25 °C for 4 h; judged harmless"};
    out.coverage = "k = 2";
    const auto add = [&](const char* name, const char* symbol, const char* unit, const char* value,
                         const char* u, const char* low, const char* high, Status verdict,
                         const char* method) -> report::CertificateResult& {
        out.results.push_back({name,
                               symbol,
                               unit,
                               value,
                               u,
                               "2",
                               low,
                               high,
                               verdict,
                               method,
                               "2026-03-05",
                               false,
                               {}});
        return out.results.back();
    };
    add("Chloride", "Cl", "mg/kg", "19350", "120", "19000", "19700", Status::Within, "M-11 v1");
    add("Sodium", "Na", "mg/kg", "10781", "86", "10500", "11000", Status::Within, "M-07 v3");
    add("Magnesium", "Mg", "mg/kg", "1290", "14", "1260", "1340", Status::Within, "M-07 v3");
    add("Sulfate", "SO₄", "mg/kg", "2712", "31", "2600", "2800", Status::Within, "M-07 v3").note =
        "from sulfur, as SO₄";
    add("Calcium", "Ca", "mg/kg", "412.3", "2.5", "400", "440", Status::Within, "M-07 v3");
    add("Potassium", "K", "mg/kg", "399.1", "4.2", "385", "400", Status::TooClose, "M-07 v3");
    add("Strontium", "Sr", "mg/kg", "8.31", "0.12", "7.0", "8.2", Status::Outside, "M-07 v3");
    add("Boron", "B", "mg/kg", "4.52", "0.11", "4.2", "4.9", Status::Within, "M-07 v3");
    add("Alkalinity", "", "mmol/kg", "2.843", "0.015", "2.60", "3.00", Status::Within, "M-02 v5");
    add("Iron", "Fe", "µg/kg", "< 0.5", "", "", "2", Status::Within, "M-07 v3").outside_laboratory =
        true;
    add("Manganese", "Mn", "µg/kg", "1.87", "0.10", "", "", Status::Information, "M-07 v3");
    add("Iodine", "I", "mg/kg", "", "", "0.04", "0.10", Status::NotTested, "M-12 v1");
    add("Blank-corrected zinc", "Zn", "µg/kg", "-0.40", "0.62", "", "5", Status::Within, "M-07 v3");
    out.homogeneity = {
        "Ten increments of 100 g were tested for calcium and strontium; the scatter between "
        "increments was 0.4 % and 0.9 %, within the limit of 2 % of plan SP-2 version 3."};
    out.decision_rule = {
        "A result is within limits where it lies inside the limits drawn in by a guard band of U "
        "(k = 2), outside limits where it lies beyond them by more than U, and too close to call "
        "between. Unrounded values are compared. The verdicts cover all lines that have limits."};
    out.statements = {"The certificate covers the whole batch of 500 kg."};
    out.opinions = {"The high strontium comes from lot L26-0088-P of strontium chloride."};
    out.lots = {
        {"Sodium chloride", "L26-0071-A", "Invented Supplier One", "62.41 %"},
        {"Magnesium chloride hexahydrate", "L26-0080-C", "Invented Supplier Two", "25.08 %"},
        {"Strontium chloride hexahydrate", "L26-0088-P", "Invented Supplier Two", "0.06 %"}};
    out.signatures = {
        {"A. Example", "analyst", "tested and checked", "2026-03-06 11:20 +01:00 (Europe/Berlin)"},
        {"B. Example", "quality manager", "released", "2026-03-09 15:05 +01:00 (Europe/Berlin)"}};
    return out;
}

report::BatchSheet invented_batch_sheet() {
    report::BatchSheet out;
    out.mark = mark("W26-0142-K");
    out.mark.verification_code.clear();
    out.maker = maker();
    out.batch = "B26-0142-K";
    out.product = "Reef salt R";
    out.recipe = "R";
    out.recipe_version = "7";
    out.size = "500.0 kg";
    out.planned_on = "2026-02-26";
    out.state = "weighing";
    out.line = "Line 2";
    out.vessel = "Drum blender 1, 800 L";
    out.previous_product = "Reef salt S";
    out.safety = safety();
    out.before_start = {
        "The line is clear: nothing of the product before is left in blender, sieve and hoppers.",
        "The room's humidity is below 50 %: reading ______ % at ______.",
        "Each lot below is accepted and within its date."};
    const auto add = [&](const char* step, const char* material, const char* lot,
                         const char* target, const char* tolerance, const char* scale,
                         const char* resolution) {
        out.additions.push_back(
            {step, material, lot, target, tolerance, scale, resolution, "kg", {}});
    };
    add("1", "Sodium chloride", "L26-0071-A", "312.05", "0.50", "Scale F1", "50 g");
    add("2", "Magnesium chloride hexahydrate", "L26-0080-C", "125.40", "0.20", "Scale F1", "50 g");
    add("3", "Magnesium sulfate heptahydrate", "L26-0075-R", "39.812", "0.040", "Scale F2", "5 g");
    add("4", "Calcium chloride dihydrate", "L26-0069-T", "17.250", "0.020", "Scale F2", "5 g");
    add("5", "Trace premix", "P26-0031-D", "5.4880", "0.0050", "Scale B1", "0.5 g");
    out.additions[0].weighings = {
        {"312.10", "1.85", "C. Example", "2026-02-26 08:12", "F1", false, false}};
    out.additions[1].weighings = {
        {"62.70", "1.85", "C. Example", "2026-02-26 08:25", "F1", false, false},
        {"62.95", "1.85", "C. Example", "2026-02-26 08:31", "F1", true, true}};
    out.premixes = {{"Trace premix P26-0031-D",
                     "Drum 30 L",
                     {{"P1",
                       "Potassium iodide",
                       "L25-0311-N",
                       "0.00042",
                       "0.00001",
                       "Scale A1",
                       "1 mg",
                       "kg",
                       {}},
                      {"P2",
                       "Strontium chloride hexahydrate",
                       "L26-0088-P",
                       "0.3010",
                       "0.0005",
                       "Scale B1",
                       "0.5 g",
                       "kg",
                       {}}},
                     {"Blend P1 with 0.05 kg of sodium chloride for 5 min.",
                      "Add 0.10 kg of sodium chloride, blend 5 min; then 0.20 kg, 0.40 kg and 0.80 "
                      "kg, 5 min each.",
                      "Add P2 and the rest of the sodium chloride, blend 20 min."}}};
    out.steps = {{"Blend", "20 min at 18 turns/min", "20 min", "C. Example", "10:05"},
                 {"Sieve", "2 mm, nothing left behind", {}, {}, {}},
                 {"Room humidity", "below 50 %", "43 %", "C. Example", "10:30"}};
    out.sampling = {
        "Plan SP-2 version 3: 10 increments of 100 g while the blender is emptied, one "
        "after each tenth; mix them, divide, keep 500 g back until 2028-08-31."};
    out.departures = {{"D26-0030", "Step 2: second weighing over the tolerance by 0.05 kg",
                       "Accepted: the recipe allows 0.3 kg", "closed"}};
    out.signatures = {{"", "operator", "Made by", ""}, {"", "shift leader", "Checked by", ""}};
    return out;
}

report::SampleLabels invented_labels() {
    report::SampleLabels out;
    out.mark = mark("S26-0311-H");
    for (int i = 1; i <= 10; ++i) {
        out.labels.push_back({"S26-0311-H/" + std::to_string(i),
                              "Reef salt R",
                              "B26-0142-K",
                              std::to_string(i) + " of 10",
                              "C. Example",
                              "2026-02-26 10:41",
                              "105 g",
                              "for tests",
                              {}});
    }
    out.labels.push_back({"S26-0311-H/R", "Reef salt R", "B26-0142-K", "", "C. Example",
                          "2026-02-26 11:02", "500 g", "retained, of all increments",
                          "2028-08-31"});
    return out;
}

report::MixingSheet invented_mixing_sheet() {
    report::MixingSheet out;
    out.mark = mark("X26-0142-K");
    out.mark.verification_code.clear();
    out.maker = maker();
    out.product = "Reef salt R";
    out.batch = "B26-0142-K";
    out.use_by = "2028-02-29";
    out.salinity = "35.2 g/kg";
    out.practical_salinity = "35.0";
    out.salt_per_litre = "39.03 g";
    out.salt_per_kg_water = "39.66 g";
    out.basis = "25 °C";
    out.amounts = {{"10 L", "9.84 kg", "0.390 kg"},   {"25 L", "24.61 kg", "0.976 kg"},
                   {"50 L", "49.21 kg", "1.952 kg"},  {"100 L", "98.42 kg", "3.903 kg"},
                   {"250 L", "246.1 kg", "9.758 kg"}, {"1000 L", "984.2 kg", "39.03 kg"}};
    out.purified_water = "conductivity at most 10 µS/cm, free of chlorine and chloramine";
    out.temperature_low = "20";
    out.temperature_high = "26";
    out.taking = {"A container that is dissolved whole needs no shaking."};
    out.stir_time = "45 min";
    out.wait_time = "15 min";
    out.cloudy_after = "4 h";
    out.use_within = "48 h";
    out.instrument_notes = {
        "Conductivity meter: compensation off and the value of the table for the temperature read, "
        "or "
        "compensation to 25 °C at 2.0 % per °C and the value at 25 °C.",
        "Refractometer: with a dial for sodium chloride take its own column; set zero with "
        "purified water."};
    out.density_reference = "20 °C/20 °C";
    out.readings = {{"20", "47.9", "1.0266", "35.1", "36.6"},
                    {"22", "50.0", "1.0261", "35.0", "36.5"},
                    {"25", "53.1", "1.0253", "35.0", "36.4"},
                    {"28", "56.2", "1.0244", "34.9", "36.3"}};
    out.storing = {"Press the air out, close the bag and keep it below 30 °C and 50 % humidity."};
    out.safety = safety();
    return out;
}

report::TrendChart invented_trend() {
    report::TrendChart out;
    out.title = "Calcium in check sample CS-3";
    out.y_title = "Calcium, mg/kg";
    out.x_title = "Run, in order of date";
    out.centre = 412;
    out.warning_low = 408, out.warning_high = 416;
    out.action_low = 406, out.action_high = 418;
    out.limits_note = "Limits frozen 2026-01-10 from 25 runs";
    out.created = "2026-03-09T14:05:00Z";
    constexpr double kValues[] = {411.2, 412.8, 410.4, 413.5, 412.1, 409.3, 411.9, 414.2, 412.6,
                                  413.1, 418.9, 412.0, 415.2, 416.4, 414.8, 411.1, 412.9, 410.8};
    for (const double value : kValues) {
        out.points.push_back(
            {"R26-" + std::to_string(101 + out.points.size()), value, {}, false, {}});
    }
    out.points[10].signal = "beyond the action limit";
    out.points[5].set_aside = true;
    out.points[12].change = "method M-07 v3";
    return out;
}

report::TitrationChart invented_titration() {
    report::TitrationChart out;
    out.title = "Alkalinity of sample S26-0311-H";
    out.x_title = "Acid added, g";
    out.y_title = "Potential, mV";
    out.residual_title = "Residual, µmol/kg";
    out.created = "2026-03-09T14:05:00Z";
    out.end_point = 2.84;
    out.end_point_label = "end point 2.840 g";
    for (int i = 0; i < 40; ++i) {
        const double x = 0.1 * i;
        const double y = 180 + 70 * std::atan(4 * (x - 2.84));
        out.points.push_back({x, y, x > 2.9});
        out.fitted.push_back({x, y, true});
        if (x > 2.9) {
            out.residuals.push_back({x, 0.8 * std::sin(7 * x), true});
        }
    }
    return out;
}

}  // namespace bw::test
