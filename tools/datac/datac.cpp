// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// datac: compiles the tables of data/ into constants of src/ref, and refuses a row without a
// source, an unknown source key, a duplicate key, text that is not ASCII, or a value that is not
// finite. The tables of the brine floor are compiled by brine.cpp.
#include <cstdint>
#include <fstream>
#include <iostream>
#include <set>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include <toml++/toml.h>

#include "brine.hpp"
#include "cells.hpp"

namespace {

using namespace datac;

enum class Kind { Text, Number, Integer };

struct Field {
    std::string key;
    Kind kind;
    bool optional = false;  // missing text becomes "", a missing number 0
};

struct Table {
    std::string file;                 // data/<file>.toml, whose [table] id is the same
    std::string rows;                 // name of the array of tables
    std::string type, name;           // of the C++ constant
    std::vector<Field> fields;        // in the order of the C++ struct
    std::vector<std::string> unique;  // together they identify a row
    bool cited = true;
};

const std::vector<Table>& tables() {
    using enum Kind;
    static const std::vector<Table> kAll = {
        {"sources",
         "source",
         "Source",
         "kSources",
         {{"key", Text},
          {"authors", Text},
          {"title", Text},
          {"where", Text},
          {"doi", Text, true},
          {"used_for", Text},
          {"checked", Text},
          {"year", Integer}},
         {"key"},
         false},
        {"atomic_weights",
         "weight",
         "AtomicWeight",
         "kAtomicWeights",
         {{"set", Text},
          {"symbol", Text},
          {"name", Text},
          {"source", Text},
          {"at", Text},
          {"number", Integer},
          {"value", Number},
          {"limit", Number}},
         {"set", "symbol"}},
        {"constituents",
         "constituent",
         "ConstituentRow",
         "kConstituents",
         {{"symbol", Text},
          {"name", Text},
          {"formula", Text},
          {"dissolved_as", Text},
          {"charge", Integer},
          {"group", Text},
          {"source", Text},
          {"at", Text}},
         {"symbol"}},
        {"reference_composition",
         "species",
         "ReferenceSpecies",
         "kReferenceSpecies",
         {{"name", Text}, {"formula", Text}, {"mole_fraction", Number}},
         {"name"},
         false},
        {"natural_traces",
         "trace",
         "NaturalTrace",
         "kNaturalTraces",
         {{"symbol", Text},
          {"source", Text},
          {"at", Text},
          {"checked", Text},
          {"nmol_per_kg", Number},
          {"low", Number},
          {"high", Number}},
         {"symbol"}},
        {"hazard_statements",
         "statement",
         "HazardStatement",
         "kHazardStatements",
         {{"code", Text},
          {"kind", Text},
          {"signal", Text, true},
          {"pictogram", Text, true},
          {"text", Text},
          {"source", Text}},
         {"code"}},
        {"deliquescence",
         "salt",
         "DeliquescenceRow",
         "kDeliquescence",
         {{"formula", Text},
          {"name", Text},
          {"low", Number},
          {"high", Number},
          {"c0", Number, true},
          {"c1", Number, true},
          {"c2", Number, true},
          {"c3", Number, true},
          {"t_law", Number, true},
          {"mark", Text},
          {"source", Text},
          {"at", Text}},
         {"formula"}},
        {"deliquescence",
         "mutual",
         "MutualDeliquescenceRow",
         "kMutualDeliquescence",
         {{"first", Text},
          {"second", Text},
          {"low", Number},
          {"high", Number},
          {"mark", Text},
          {"source", Text},
          {"at", Text}},
         {"first", "second"}},
        {"deliquescence",
         "step",
         "HydrateStepRow",
         "kHydrateSteps",
         {{"salt", Text},
          {"upper", Number},
          {"lower", Number},
          {"low", Number},
          {"high", Number},
          {"t_law", Number, true},
          {"slow", Integer},
          {"counted", Integer},
          {"mark", Text},
          {"source", Text},
          {"at", Text}},
         {"salt", "upper"}},
        {"deliquescence",
         "solid",
         "FilmSolidRow",
         "kFilmSolids",
         {{"formula", Text},
          {"name", Text},
          {"log_k", Number},
          {"heat_kJ_per_mol", Number},
          {"mark", Text},
          {"source", Text},
          {"at", Text}},
         {"formula"}},
        {"deliquescence",
         "reaction",
         "BagReactionRow",
         "kBagReactions",
         {{"key", Text},
          {"text", Text},
          {"gibbs_kJ", Number},
          {"heat_kJ", Number},
          {"mark", Text},
          {"source", Text},
          {"at", Text}},
         {"key"}},
        {"pure_salts",
         "salt",
         "PureSalt",
         "kPureSalts",
         {{"name", Text}, {"formula", Text}},
         {"formula"},
         false},
        {"dissolving",
         "solid",
         "DissolvingRow",
         "kDissolving",
         {{"formula", Text},
          {"cation", Text, true},
          {"anion", Text, true},
          {"density_source", Text},
          {"solubility_source", Text},
          {"diffusion_source", Text, true},
          {"heat_source", Text},
          {"at", Text, true},
          {"density_kg_per_m3", Number},
          {"mass_percent", Number},
          {"saturated_density_kg_per_m3", Number},
          {"diffusion_m2_per_s", Number, true},
          {"heat_kJ_per_mol", Number},
          {"crust_slowing", Number, true}},
         {"formula"}},
    };
    return kAll;
}

std::string cell(const std::string& where, const toml::table& row, const Field& field) {
    const toml::node* node = row.get(field.key);
    if (node == nullptr) {
        if (!field.optional) {
            refuse(where, "the row has no " + field.key);
        }
        return field.kind == Kind::Text ? "\"\"" : "0";
    }
    switch (field.kind) {
        case Kind::Text: {
            const auto text = node->value<std::string>();
            if (!text || (text->empty() && !field.optional)) {
                refuse(where, field.key + " must be text that is not empty");
            }
            return literal(where, *text);
        }
        case Kind::Number:
            return number_text(number_of(where, field.key, *node));
        case Kind::Integer: {
            const auto whole = node->value<std::int64_t>();
            if (!whole) {
                refuse(where, field.key + " must be a whole number");
            }
            return std::to_string(*whole);
        }
    }
    return {};
}

struct Compiler {
    std::string folder;
    std::set<std::string> known_sources;
    std::ostringstream out;

    void use_source(const std::string& where, const toml::table& row,
                    const std::string& cell = "source") {
        const auto key = row[cell].value_or(std::string());
        if (known_sources.count(key) == 0) {
            refuse(where, cell + " '" + key + "' is not in data/sources.toml");
        }
    }

    // A row has one source, or one for each of its numbers: all keys that end in "source".
    void use_sources(const std::string& where, const toml::table& row, const Table& table) {
        constexpr std::string_view kEnd = "source";
        for (const Field& field : table.fields) {
            const bool ends =
                field.key.size() >= kEnd.size() &&
                field.key.compare(field.key.size() - kEnd.size(), kEnd.size(), kEnd) == 0;
            if (ends && (!field.optional || row.contains(field.key))) {
                use_source(where, row, field.key);
            }
        }
    }

    void compile(const Table& table) {
        const toml::table doc = load(folder, table.file);
        const toml::array* rows = doc[table.rows].as_array();
        if (rows == nullptr || rows->empty()) {
            refuse("data/" + table.file + ".toml", "there are no rows [[" + table.rows + "]]");
        }
        std::set<std::string> seen;
        out << "constexpr std::array<" << table.type << ", " << rows->size() << "> " << table.name
            << "{{\n";
        for (const auto& node : *rows) {
            const toml::table& row = *node.as_table();
            const std::string where = place(table.file, node);
            std::string identity;
            for (const auto& key : table.unique) {
                const auto number = row[key].value<double>();
                identity += row[key].value_or(number ? number_text(*number) : std::string()) + "|";
            }
            if (!seen.insert(identity).second) {
                refuse(where, "the row " + identity + " stands twice");
            }
            if (table.file == "sources") {
                known_sources.insert(row["key"].value_or(std::string()));
            }
            if (table.cited) {
                use_sources(where, row, table);
            }
            out << "    {";
            for (std::size_t i = 0; i < table.fields.size(); ++i) {
                out << (i > 0 ? ", " : "") << cell(where, row, table.fields[i]);
            }
            out << "},\n";
        }
        out << "}};\n";
    }

    void compile_reference_constants() {
        const toml::table doc = load(folder, "reference_composition");
        const std::string where = "data/reference_composition.toml";
        for (const auto& [key, name] :
             {std::pair{"reference_salinity_g_per_kg", "kReferenceSalinity"},
              std::pair{"molar_mass_g_per_mol", "kReferenceMolarMass"}}) {
            const toml::node* node = doc["table"][key].node();
            if (node == nullptr) {
                refuse(where, std::string("[table] has no ") + key);
            }
            out << "constexpr double " << name << " = " << number_text(number_of(where, key, *node))
                << ";\n";
        }
        use_source(where, *doc["table"].as_table());
    }
};

}  // namespace

int main(int argc, char** argv) {
    std::string folder;
    std::string digest;
    std::string target;
    std::string brine_target;
    for (int i = 1; i + 1 < argc; i += 2) {
        const std::string_view key = argv[i];
        (key == "--data"        ? folder
         : key == "--digest"    ? digest
         : key == "--brine-out" ? brine_target
                                : target) = argv[i + 1];
    }
    if (folder.empty() || target.empty() || brine_target.empty()) {
        std::cerr << "use: datac --data FOLDER --digest HEX --out FILE --brine-out FILE\n";
        return 2;
    }
    Compiler compiler{folder, {}, {}};
    compiler.out << "// Made by tools/datac from data/*.toml. Do not edit.\n";
    for (const Table& table : tables()) {
        compiler.compile(table);
    }
    compiler.compile_reference_constants();
    constexpr std::size_t kShown = 16;
    compiler.out << "constexpr std::string_view kDataDigest = \"" << digest.substr(0, kShown)
                 << "\";\n";
    std::ofstream file(target, std::ios::binary);
    file << compiler.out.str();
    file.close();
    std::ofstream brine_file(brine_target, std::ios::binary);
    brine_file << brine_tables(folder, compiler.known_sources);
    brine_file.close();
    return file && brine_file ? 0 : 1;
}
