// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/titration_file.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"

namespace bw::io {
namespace {

using assay::Known;
using unit::Dimension;

constexpr double kGramPerKg = 1000;
constexpr double kMillilitrePerLitre = 1000;
constexpr double kMilliPerMol = 1000;

/// A quantity "0.1005 mol/kg", or { value = "0.1005 mol/kg", u = "0.0001 mol/kg" }, of one of some
/// dimensions; value and u in the dimension's unit.
struct Stated {
    Known known;
    Dimension dimension{};
};
Result<unit::TypedQuantity> one_of(const Fields& table, std::string_view key,
                                   std::initializer_list<Dimension> allowed) {
    BW_TRY(typed, table.quantity(key, unit::example_unit(*allowed.begin())));
    if (!typed) {
        return table.bad("", fmt::format("{} is missing", key));
    }
    if (std::find(allowed.begin(), allowed.end(), typed->unit.dimension) == allowed.end()) {
        return table.bad(key,
                         fmt::format("{} is not {}", base::quoted(typed->text),
                                     unit::describe(*allowed.begin())),
                         ProblemCode::BadUnit);
    }
    return *typed;
}

Result<std::optional<Stated>> stated(const Fields& root, std::string_view key,
                                     std::initializer_list<Dimension> allowed) {
    const Node* found = root.node(key);
    if (found == nullptr) {
        return std::nullopt;
    }
    if (found->table() == nullptr) {
        BW_TRY(typed, one_of(root, key, allowed));
        return Stated{{typed.value(), 0}, typed.unit.dimension};
    }
    BW_TRY(table, root.table(key));
    BW_CHECK(table->allow({"value", "u"}));
    BW_TRY(value, one_of(*table, "value", allowed));
    Stated out{{value.value(), 0}, value.unit.dimension};
    if (table->has("u")) {
        BW_TRY(u, one_of(*table, "u", {value.unit.dimension, Dimension::Fraction}));
        out.known.u = u.unit.dimension == Dimension::Fraction
                          ? u.value() * std::abs(out.known.value)
                          : u.unit.factor * u.number;
    }
    if (!(out.known.u >= 0)) {
        return table->bad("u", "a standard uncertainty is 0 or more", ProblemCode::OutOfRange);
    }
    return out;
}

/// A number 1.0003, or { value = 1.0003, u = 0.0002 }.
Result<std::optional<Known>> stated_number(const Fields& root, std::string_view key) {
    const Node* found = root.node(key);
    if (found == nullptr) {
        return std::nullopt;
    }
    if (found->table() == nullptr) {
        BW_TRY(value, root.number(key));
        return Known{*value, 0};
    }
    BW_TRY(table, root.table(key));
    BW_CHECK(table->allow({"value", "u"}));
    BW_TRY(value, table->number("value"));
    BW_TRY(u, table->number("u"));
    if (!value) {
        return table->bad("", "value is missing");
    }
    return Known{*value, u.value_or(0)};
}

template <class Enum, std::size_t n>
Result<Enum> word(const Fields& root, std::string_view key,
                  const std::array<std::pair<std::string_view, Enum>, n>& words, Enum unless) {
    BW_TRY(text, root.text(key));
    if (!text) {
        return unless;
    }
    std::vector<std::string> names;
    for (const auto& [name, value] : words) {
        if (name == *text) {
            return value;
        }
        names.emplace_back(name);
    }
    return root.bad(key, fmt::format("{} is not known: it is {}", base::quoted(*text),
                                     base::join_words(names, "or")));
}

constexpr std::array kMethods{
    std::pair<std::string_view, TitrationMethod>{"alkalinity", TitrationMethod::Alkalinity},
    std::pair<std::string_view, TitrationMethod>{"end-point", TitrationMethod::EndPoint}};
constexpr std::array kSignals{
    std::pair<std::string_view, TitrationSignal>{"mV", TitrationSignal::Millivolt},
    std::pair<std::string_view, TitrationSignal>{"pH", TitrationSignal::Ph},
    std::pair<std::string_view, TitrationSignal>{"absorbance", TitrationSignal::Absorbance}};
constexpr std::array kTitrated{
    std::pair<std::string_view, TitratedKind>{"amount", TitratedKind::Amount},
    std::pair<std::string_view, TitratedKind>{"calcium", TitratedKind::Calcium},
    std::pair<std::string_view, TitratedKind>{"magnesium", TitratedKind::Magnesium},
    std::pair<std::string_view, TitratedKind>{"chloride", TitratedKind::Chloride}};
constexpr std::array kShapes{
    std::pair<std::string_view, assay::CurveShape>{"potential", assay::CurveShape::Potential},
    std::pair<std::string_view, assay::CurveShape>{"indicator", assay::CurveShape::Indicator},
    std::pair<std::string_view, assay::CurveShape>{"two lines", assay::CurveShape::TwoLines}};

Result<void> read_common(const Fields& root, TitrationFile& out) {
    BW_CHECK(root.allow({"format",          "kind",        "name",      "note",
                         "invented",        "method",      "signal",    "points_in",
                         "points",          "sample",      "titrant",   "factor",
                         "titrant_density", "temperature", "salinity",  "sulfate",
                         "fluoride",        "low_pH",      "high_pH",   "most_rms",
                         "burette_u",       "titrated",    "shape",     "end_points",
                         "blank",           "volume_u",    "strontium", "strontium_share",
                         "calcium",         "bromide",     "iodide"}));
    BW_TRY(name, root.text("name"));
    BW_TRY(note, root.text("note"));
    BW_TRY(invented, root.flag("invented"));
    out.name = name.value_or("titration");
    out.note = note.value_or("");
    out.invented = invented.value_or(false);
    BW_CHECK(root.required_text("method"));
    BW_TRY(method, word(root, "method", kMethods, TitrationMethod::Alkalinity));
    BW_TRY(signal, word(root, "signal", kSignals, TitrationSignal::Millivolt));
    out.method = method;
    out.signal = signal;
    constexpr std::array kUnits{std::pair<std::string_view, bool>{"mL", false},
                                std::pair<std::string_view, bool>{"g", true}};
    BW_TRY(by_mass, word(root, "points_in", kUnits, false));
    out.by_mass = by_mass;
    BW_TRY(sample, stated(root, "sample", {Dimension::Mass}));
    BW_TRY(titrant,
           stated(root, "titrant", {Dimension::AmountPerVolume, Dimension::AmountPerMass}));
    if (!sample || !titrant) {
        return root.bad("", sample ? "titrant is missing: its strength, \"0.1 mol/L\" or "
                                     "\"0.1 mol/kg\""
                                   : "sample is missing: its mass, \"140.32 g\"");
    }
    out.sample_g = {sample->known.value * kGramPerKg, sample->known.u * kGramPerKg};
    out.titrant = titrant->known;
    out.titrant_per_kg = titrant->dimension == Dimension::AmountPerMass;
    BW_TRY(factor, stated_number(root, "factor"));
    out.factor = factor.value_or(Known{1, 0});
    BW_TRY(density,
           stated(root, "titrant_density", {Dimension::MassPerVolume, Dimension::Density}));
    if (density) {
        constexpr double kLitrePerM3 = 1000;
        out.titrant_kg_per_L =
            density->known.value / (density->dimension == Dimension::Density ? kLitrePerM3 : 1.0);
    }
    BW_TRY(temperature, stated(root, "temperature", {Dimension::Temperature}));
    if (temperature) {
        out.celsius = temperature->known.value;
        out.doubts.celsius = temperature->known.u > 0 ? temperature->known.u : out.doubts.celsius;
    }
    BW_TRY(salinity, stated_number(root, "salinity"));
    if (salinity) {
        out.salinity = salinity->value;
    }
    return {};
}

Result<void> read_alkalinity(const Fields& root, TitrationFile& out) {
    BW_TRY(sulfate, stated(root, "sulfate", {Dimension::AmountPerMass}));
    BW_TRY(fluoride, stated(root, "fluoride", {Dimension::AmountPerMass}));
    const auto relative = [](const Known& k) { return k.value > 0 ? k.u / k.value : 0.0; };
    if (sulfate) {
        out.sulfate_mol_per_kg = sulfate->known.value;
        out.doubts.sulfate_relative =
            sulfate->known.u > 0 ? relative(sulfate->known) : out.doubts.sulfate_relative;
    }
    if (fluoride) {
        out.fluoride_mol_per_kg = fluoride->known.value;
        out.doubts.fluoride_relative =
            fluoride->known.u > 0 ? relative(fluoride->known) : out.doubts.fluoride_relative;
    }
    BW_TRY(low, root.number("low_pH"));
    BW_TRY(high, root.number("high_pH"));
    out.low_ph = low.value_or(out.low_ph);
    out.high_ph = high.value_or(out.high_ph);
    if (!(out.low_ph < out.high_ph)) {
        return root.bad("low_pH", "low_pH is not below high_pH");
    }
    constexpr double kMicro = 1e6;
    BW_TRY(most, stated(root, "most_rms", {Dimension::AmountPerMass}));
    out.most_rms_umol_per_kg = most ? most->known.value * kMicro : out.most_rms_umol_per_kg;
    BW_TRY(burette, root.value_in("burette_u", Dimension::Fraction));
    out.doubts.burette_relative = burette.value_or(out.doubts.burette_relative);
    const double of_titrant = relative(out.titrant);
    const double of_factor = relative(out.factor);
    if (of_titrant > 0 || of_factor > 0) {
        out.doubts.acid_relative = std::hypot(of_titrant, of_factor);
    }
    if (out.sample_g.u > 0) {
        out.doubts.sample_relative = relative(out.sample_g);
    }
    if (!out.celsius || !out.salinity) {
        return root.bad("",
                        "an alkalinity needs temperature and salinity of the sample: its "
                        "constants depend on them");
    }
    if (!out.titrant_kg_per_L && (!out.by_mass || !out.titrant_per_kg)) {
        return root.bad("",
                        "titrant_density is missing: volumes of acid become masses by it, "
                        "\"1.024 kg/L\"");
    }
    if (out.signal == TitrationSignal::Absorbance) {
        return root.bad("signal", "an alkalinity is found from mV or pH");
    }
    return {};
}

Result<void> read_end_point(const Fields& root, TitrationFile& out) {
    BW_TRY(titrated, word(root, "titrated", kTitrated, TitratedKind::Amount));
    BW_TRY(shape, word(root, "shape", kShapes,
                       out.signal == TitrationSignal::Absorbance ? assay::CurveShape::Indicator
                                                                 : assay::CurveShape::Potential));
    out.titrated = titrated;
    out.options.shape = shape;
    constexpr int kMostEndPoints = 5;
    BW_TRY(count, root.whole_number("end_points", 1, kMostEndPoints));
    out.options.most = static_cast<std::size_t>(count.value_or(1));
    if (out.by_mass || out.titrant_per_kg) {
        return root.bad(out.by_mass ? "points_in" : "titrant",
                        "an end point is read in mL of a titrant in mol/L");
    }
    struct Item {
        std::string_view key;
        Dimension dimension;
        double times;
        Known* to;
    };
    for (const Item& i : {Item{"blank", Dimension::Volume, kMillilitrePerLitre, &out.blank_mL},
                          Item{"strontium", Dimension::AmountPerMass, kMilliPerMol, &out.strontium},
                          Item{"calcium", Dimension::AmountPerMass, kMilliPerMol, &out.calcium},
                          Item{"bromide", Dimension::AmountPerMass, kMilliPerMol, &out.bromide},
                          Item{"iodide", Dimension::AmountPerMass, kMilliPerMol, &out.iodide}}) {
        BW_TRY(found, stated(root, i.key, {i.dimension}));
        if (found) {
            *i.to = {found->known.value * i.times, found->known.u * i.times};
        }
    }
    BW_TRY(u, root.value_in("volume_u", Dimension::Volume));
    out.volume_u_mL.u = u.value_or(0) * kMillilitrePerLitre;
    BW_TRY(share, stated_number(root, "strontium_share"));
    out.strontium_share = share.value_or(Known{});
    if (out.titrated == TitratedKind::Magnesium && !(out.calcium.value > 0)) {
        return root.bad("",
                        "calcium is missing: magnesium is what EDTA takes less calcium and "
                        "strontium");
    }
    if (out.titrated == TitratedKind::Calcium && out.strontium.value > 0 && !share) {
        return root.bad("",
                        "strontium_share is missing: the part of the strontium, 0 to 1, that "
                        "the titrant takes with the calcium");
    }
    return {};
}

Result<TitrationFile> read_keys(const Fields& root) {
    TitrationFile out;
    BW_CHECK(read_common(root, out));
    if (out.method == TitrationMethod::Alkalinity) {
        BW_CHECK(read_alkalinity(root, out));
    } else {
        BW_CHECK(read_end_point(root, out));
    }
    return out;
}

}  // namespace

Result<TitrationFile> titration_of(const Document& document) {
    BW_TRY(root, open_kind(document, "titration"));
    BW_TRY(out, read_keys(root));
    out.file = document.name;
    const Node* points = root.node("points");
    if (points == nullptr || points->array() == nullptr) {
        return root.bad(points == nullptr ? "" : "points",
                        "points is a list of pairs, [[0.5, 220.1], [1.0, 231.4]]: titrant, signal");
    }
    for (const Node& row : *points->array()) {
        const bool pair = row.array() != nullptr && row.array()->size() == 2 &&
                          row.array()->front().number() != nullptr &&
                          row.array()->back().number() != nullptr;
        if (!pair) {
            return fail(ProblemCode::BadInput, "a point is a pair of numbers, titrant and signal",
                        {document.name, row.line, "points"});
        }
        out.points.push_back({*row.array()->front().number(), *row.array()->back().number()});
        out.lines.push_back(row.line);
    }
    return out;
}

Result<TitrationFile> titration_of(const NumberColumns& table) {
    BW_TRY(head, parse_document(table.head, table.file));
    BW_TRY(root, open_kind(head, "titration"));
    if (root.has("points")) {
        return root.bad("points", "the points are the rows of this file");
    }
    BW_TRY(out, read_keys(root));
    out.file = table.file;
    if (table.names.size() != 2) {
        return fail(
            ProblemCode::BadInput,
            fmt::format("a curve has two columns, titrant and signal, not {}", table.names.size()),
            {table.file, 0, {}});
    }
    BW_TRY(titrant, numbers(table, 0));
    BW_TRY(signal, numbers(table, 1));
    for (std::size_t i = 0; i < titrant.size(); ++i) {
        out.points.push_back({titrant[i], signal[i]});
    }
    out.lines = table.lines;
    return out;
}

Result<TitrationFile> read_titration(const std::string& path) {
    if (is_document_name(path)) {
        BW_TRY(document, read_document(path));
        return titration_of(document);
    }
    BW_TRY(table, read_columns(path));
    return titration_of(table);
}

}  // namespace bw::io
