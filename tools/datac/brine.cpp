// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <sstream>
#include <vector>

#include "cells.hpp"

namespace datac {
namespace {

// Form and how many coefficients it has.
const std::map<std::string, std::size_t> kForms = {
    {"Constant", 1},        {"Quadratic", 3},      {"QuadraticFrom25", 3}, {"QuadraticFrom30", 2},
    {"Moller", 8},          {"MilleroPierrot", 3}, {"SilvesterPitzer", 3}, {"HeMorse", 5},
    {"CleggRardPitzer", 4}, {"InverseFrom25", 2},  {"PhutelaPitzer", 6},   {"PabalanPitzer", 12},
    {"PeiperPitzer", 3},    {"SixTermFrom25", 6},  {"LogTen", 6},          {"NaturalLog", 4},
    {"VantHoff", 2},
};
const std::set<std::string> kForming = {"Minutes", "Hours", "Days", "OnSeed", "Never"};
const std::set<std::string> kPairKinds = {"Beta0", "Beta1",  "Beta2",  "CPhi", "C0",
                                          "C1",    "Alpha1", "Alpha2", "Omega"};
constexpr std::size_t kMostTerms = 5;
constexpr std::size_t kMostParts = 3;
constexpr double kBalanced = 1e-9;

struct BrineCompiler {
    std::string folder;
    const std::set<std::string>& known_sources;
    std::map<std::string, int> charges;
    std::ostringstream out;

    std::string source_and_at(const std::string& where, const toml::table& row) const {
        return source(where, row) + ", " + literal(where, text_in(where, row, "at"));
    }

    std::string source(const std::string& where, const toml::table& row) const {
        const auto key = text_in(where, row, "source");
        if (known_sources.count(key) == 0) {
            refuse(where, "source '" + key + "' is not in data/sources.toml");
        }
        return literal(where, key);
    }

    int charge_of(const std::string& where, const std::string& symbol) const {
        const auto found = charges.find(symbol);
        if (found == charges.end()) {
            refuse(where, "species '" + symbol + "' is not in data/aqueous_species.toml");
        }
        return found->second;
    }

    static std::string range(const std::string& where, const toml::table& row) {
        if (row.get("low_degC") == nullptr && row.get("high_degC") == nullptr) {
            return "kNotStated, kNotStated";
        }
        const double low = number_in(where, row, "low_degC");
        const double high = number_in(where, row, "high_degC");
        if (low > high) {
            refuse(where, "low_degC is above high_degC");
        }
        return number_text(low) + ", " + number_text(high);
    }

    static std::string function(const std::string& where, const toml::table& row) {
        const auto form = text_in(where, row, "form");
        const auto known = kForms.find(form);
        if (known == kForms.end()) {
            refuse(where, "form '" + form + "' is not known");
        }
        const toml::array* c = row["c"].as_array();
        if (c == nullptr || c->empty() || c->size() > known->second) {
            refuse(where, "form " + form + " has 1 to " + std::to_string(known->second) +
                              " coefficients c");
        }
        std::string text = "{TemperatureForm::" + form + ", {{";
        for (const auto& value : *c) {
            text += number_text(number_of(where, "c", value)) + ", ";
        }
        return text + "}}}";
    }

    static bool natural(const std::string& where, const toml::table& row) {
        return text_in(where, row, "form") == "NaturalLog";
    }

    static std::string log_k(const std::string& where, const toml::table& row) {
        const double times = row.get("times") == nullptr ? 1 : number_in(where, row, "times");
        return "{" + function(where, row) + ", " + (natural(where, row) ? "true" : "false") + ", " +
               number_text(times) + "}";
    }

    static const toml::table& table_in(const std::string& where, const toml::table& row,
                                       const char* key) {
        const toml::table* inner = row[key].as_table();
        if (inner == nullptr || inner->empty()) {
            refuse(where, std::string("the row has no ") + key);
        }
        return *inner;
    }

    // The parts of a log K, at most kMostParts.
    static std::string log_k_parts(const std::string& where, const toml::table& row) {
        const toml::array* parts = row["log_k"].as_array();
        if (parts == nullptr || parts->empty() || parts->size() > kMostParts) {
            refuse(where, "log_k must list 1 to " + std::to_string(kMostParts) + " functions");
        }
        std::string text = "{{";
        for (const auto& part : *parts) {
            if (!part.is_table()) {
                refuse(where, "log_k must list functions");
            }
            text += log_k(where, *part.as_table()) + ", ";
        }
        return text + "}}";
    }

    // Terms of a reaction, whose charges must add up to that of the product.
    std::string terms(const std::string& where, const toml::table& row, const char* key,
                      int charge) const {
        const toml::table& list = table_in(where, row, key);
        if (list.size() > kMostTerms) {
            refuse(where, "more than " + std::to_string(kMostTerms) + " terms");
        }
        std::string text = "{{";
        double sum = 0;
        for (const auto& [name, value] : list) {
            const std::string symbol(name.str());
            const double coefficient = number_of(where, symbol, value);
            sum += coefficient * (symbol == "H2O" ? 0 : charge_of(where, symbol));
            text += "{" + literal(where, symbol) + ", " + number_text(coefficient) + "}, ";
        }
        if (std::abs(sum - charge) > kBalanced) {
            refuse(where, "the charges do not balance");
        }
        return text + "}}";
    }

    template <class Each>
    std::size_t each_row(const toml::table& doc, const std::string& file, const char* rows,
                         Each each) const {
        const toml::array* list = doc[rows].as_array();
        if (list == nullptr || list->empty()) {
            refuse("data/" + file + ".toml", std::string("there are no rows [[") + rows + "]]");
        }
        for (const auto& node : *list) {
            each(place(file, node), *node.as_table());
        }
        return list->size();
    }

    void write(const char* type, const char* name, const std::vector<std::string>& rows) {
        out << "constexpr std::array<" << type << ", " << rows.size() << "> " << name << "{{\n";
        for (const auto& row : rows) {
            out << "    {" << row << "},\n";
        }
        out << "}};\n";
    }

    static void once(const std::string& where, std::set<std::string>& seen,
                     const std::string& identity) {
        if (!seen.insert(identity).second) {
            refuse(where, "the row " + identity + " stands twice");
        }
    }

    void species() {
        std::vector<std::string> rows;
        each_row(load(folder, "aqueous_species"), "aqueous_species", "species",
                 [&](const std::string& where, const toml::table& row) {
                     const auto symbol = text_in(where, row, "symbol");
                     const auto charge = row["charge"].value<std::int64_t>();
                     if (!charge) {
                         refuse(where, "charge must be a whole number");
                     }
                     if (!charges.emplace(symbol, static_cast<int>(*charge)).second) {
                         refuse(where, "the species " + symbol + " stands twice");
                     }
                     rows.push_back(literal(where, symbol) + ", " +
                                    literal(where, text_in(where, row, "formula")) + ", " +
                                    std::to_string(*charge) + ", " + source(where, row));
                 });
        write("AqueousSpeciesRow", "kAqueousSpecies", rows);
    }

    std::vector<std::string> species_of(const std::string& where, const toml::table& row,
                                        const std::string& kind) const {
        std::vector<std::string> names;
        if (const toml::array* list = row["species"].as_array()) {
            for (const auto& node : *list) {
                names.push_back(node.value_or(std::string()));
            }
        }
        const std::size_t wanted = kind == "Psi" || kind == "Zeta" ? 3 : 2;
        if (names.size() != wanted) {
            refuse(where, kind + " is of " + std::to_string(wanted) + " species");
        }
        std::vector<int> z;
        z.reserve(names.size());
        for (const auto& name : names) {
            z.push_back(charge_of(where, name));
        }
        bool fits = false;
        if (kPairKinds.count(kind) > 0) {
            fits = z[0] > 0 && z[1] < 0;
        } else if (kind == "Theta") {
            fits = z[0] * z[1] > 0 && names[0] != names[1];
        } else if (kind == "Psi") {
            fits = z[0] * z[1] > 0 && z[0] * z[2] < 0 && names[0] != names[1];
        } else if (kind == "Lambda") {
            fits = z[0] == 0;
        } else if (kind == "Zeta") {
            fits = z[0] == 0 && z[1] > 0 && z[2] < 0;
        } else {
            refuse(where, "kind '" + kind + "' is not known");
        }
        if (!fits) {
            refuse(where, "the charges or the order of the species do not fit " + kind);
        }
        return names;
    }

    void interactions(const std::string& set, const std::string& file) {
        const toml::table doc = load(folder, file);
        const std::string where_slope = "data/" + file + ".toml [limiting_slope]";
        const toml::table& slope = table_in("data/" + file + ".toml", doc, "limiting_slope");
        source_and_at(where_slope, slope);
        out << "constexpr TemperatureFunction kLimitingSlope" << set << function(where_slope, slope)
            << ";\n";
        std::vector<std::string> rows;
        std::set<std::string> seen;
        each_row(doc, file, "coefficient", [&](const std::string& where, const toml::table& row) {
            const auto kind = text_in(where, row, "kind");
            const auto names = species_of(where, row, kind);
            auto sorted = names;
            std::sort(sorted.begin(), sorted.end());
            std::string identity = kind;
            std::string list = "{{";
            for (std::size_t i = 0; i < names.size(); ++i) {
                identity += " " + sorted[i];
                list += literal(where, names[i]) + ", ";
            }
            once(where, seen, identity);
            rows.push_back("InteractionSet::" + set + ", InteractionKind::" + kind + ", " + list +
                           "}}, " + function(where, row) + ", " + range(where, row) + ", " +
                           source_and_at(where, row));
        });
        write("InteractionRow", ("kInteraction" + set).c_str(), rows);
    }

    void reactions() {
        const toml::table doc = load(folder, "reactions");
        std::map<std::string, std::vector<std::string>> rows{{"Seawater", {}}, {"Brine", {}}};
        std::set<std::string> seen;
        each_row(
            doc, "reactions", "reaction", [&](const std::string& where, const toml::table& row) {
                const auto set = text_in(where, row, "set");
                const auto product = text_in(where, row, "product");
                if (rows.count(set) == 0) {
                    refuse(where, "set must be Seawater or Brine");
                }
                once(where, seen, set + " " + product);
                rows[set].push_back("InteractionSet::" + set + ", " + literal(where, product) +
                                    ", " + terms(where, row, "terms", charge_of(where, product)) +
                                    ", " + log_k_parts(where, row) + ", " + range(where, row) +
                                    ", " + source_and_at(where, row));
            });
        write("ReactionRow", "kReactionsSeawater", rows["Seawater"]);
        write("ReactionRow", "kReactionsBrine", rows["Brine"]);

        std::vector<std::string> gases;
        each_row(doc, "reactions", "gas", [&](const std::string& where, const toml::table& row) {
            const auto dissolved = text_in(where, row, "dissolved");
            if (charge_of(where, dissolved) != 0) {
                refuse(where, "a gas dissolves to a species without charge");
            }
            once(where, seen, text_in(where, row, "symbol"));
            gases.push_back(literal(where, text_in(where, row, "symbol")) + ", " +
                            literal(where, text_in(where, row, "formula")) + ", " +
                            literal(where, dissolved) + ", " +
                            log_k(where, table_in(where, row, "log_k")) + ", " + range(where, row) +
                            ", " + source_and_at(where, row));
        });
        write("GasRow", "kGases", gases);
    }

    void minerals() {
        std::vector<std::string> rows;
        std::set<std::string> seen;
        each_row(load(folder, "minerals"), "minerals", "mineral",
                 [&](const std::string& where, const toml::table& row) {
                     const auto key = text_in(where, row, "key");
                     once(where, seen, key);
                     const auto forming = text_in(where, row, "forming");
                     if (kForming.count(forming) == 0) {
                         refuse(where, "forming '" + forming + "' is not known");
                     }
                     const double factor = number_in(where, row, "factor");
                     const double in_seawater = row.get("factor_in_seawater") != nullptr
                                                    ? number_in(where, row, "factor_in_seawater")
                                                    : factor;
                     if (!(in_seawater >= 1 && factor >= in_seawater)) {
                         refuse(where, "factor is below 1 or below that in seawater");
                     }
                     const toml::table& log_k = table_in(where, row, "log_k");
                     const toml::table& brine = row.get("log_k_brine") == nullptr
                                                    ? log_k
                                                    : table_in(where, row, "log_k_brine");
                     if (natural(where, log_k) != natural(where, brine)) {
                         refuse(where, "log_k and log_k_brine must be of one base");
                     }
                     rows.push_back(literal(where, key) + ", " +
                                    literal(where, text_in(where, row, "name")) + ", " +
                                    literal(where, text_in(where, row, "formula")) + ", " +
                                    terms(where, row, "dissolves_to", 0) + ", " +
                                    (natural(where, log_k) ? "true" : "false") + ", " +
                                    function(where, log_k) + ", " + function(where, brine) + ", " +
                                    range(where, row) + ", Forming::" + forming + ", " +
                                    number_text(factor) + ", " + number_text(in_seawater) + ", " +
                                    literal(where, text_in(where, row, "forms_when")) + ", " +
                                    source_and_at(where, row));
                 });
        write("MineralRow", "kMinerals", rows);
    }

    // So many numbers, or zeros where the key is left out.
    static std::string numbers(const std::string& where, const toml::table& row, const char* key,
                               std::size_t count) {
        const toml::node* node = row.get(key);
        const toml::array* list = node != nullptr ? node->as_array() : nullptr;
        if (node != nullptr && (list == nullptr || list->size() != count)) {
            refuse(where, std::string(key) + " must list " + std::to_string(count) + " numbers");
        }
        std::string text = "{{";
        for (std::size_t i = 0; i < count; ++i) {
            text += number_text(list == nullptr ? 0 : number_of(where, key, (*list)[i])) + ", ";
        }
        return text + "}}";
    }

    // A key of data/sources.toml, or a word for what no source says; empty where nothing is stated.
    std::string source_or_word(const std::string& where, const toml::table& row, const char* key,
                               bool needed) const {
        if (row.get(key) == nullptr && !needed) {
            return literal(where, "");
        }
        const auto text = text_in(where, row, key);
        if (text != "estimate" && text != "convention" && known_sources.count(text) == 0) {
            refuse(where, std::string(key) + " '" + text + "' is not in data/sources.toml");
        }
        return literal(where, text);
    }

    void ions() {
        std::vector<std::string> rows;
        std::set<std::string> seen;
        each_row(load(folder, "ions"), "ions", "ion",
                 [&](const std::string& where, const toml::table& row) {
                     const auto symbol = text_in(where, row, "symbol");
                     once(where, seen, symbol);
                     const bool fixed = row.get("fixed_volume") != nullptr;
                     if (fixed == (row.get("volume") != nullptr)) {
                         refuse(where, "give volume or fixed_volume");
                     }
                     const bool moves =
                         row.get("mobility") != nullptr || row.get("viscosity") != nullptr;
                     const double charge = number_in(where, row, "charge");
                     if (charge != std::round(charge)) {
                         refuse(where, "charge must be whole");
                     }
                     constexpr std::size_t kVolume = 10;
                     constexpr std::size_t kMobility = 5;
                     constexpr std::size_t kViscosity = 7;
                     rows.push_back(literal(where, symbol) + ", " +
                                    std::to_string(static_cast<int>(charge)) + ", " +
                                    numbers(where, row, "volume", kVolume) + ", " +
                                    number_text(fixed ? number_in(where, row, "fixed_volume") : 0) +
                                    ", " + numbers(where, row, "mobility", kMobility) + ", " +
                                    numbers(where, row, "viscosity", kViscosity) + ", " +
                                    number_text(number_in(where, row, "refraction")) + ", " +
                                    source_or_word(where, row, "volume_source", true) + ", " +
                                    source_or_word(where, row, "mobility_source", moves) + ", " +
                                    source_or_word(where, row, "refraction_source", true) + ", " +
                                    literal(where, text_in(where, row, "at")));
                 });
        write("IonRow", "kIons", rows);
    }

    void growth() {
        std::vector<std::string> rows;
        std::set<std::string> finished;
        std::string law;
        double celsius = 0;
        each_row(load(folder, "growth"), "growth", "rate",
                 [&](const std::string& where, const toml::table& row) {
                     const auto name = text_in(where, row, "law");
                     const double at = number_in(where, row, "celsius");
                     if (name != law) {
                         once(where, finished, name);
                     } else if (!(at > celsius)) {
                         refuse(where, "rows of one law stand coldest first");
                     }
                     law = name;
                     celsius = at;
                     const auto mineral = text_in(where, row, "mineral");
                     if (mineral != "aragonite" && mineral != "calcite") {
                         refuse(where, "mineral must be aragonite or calcite");
                     }
                     const bool plain = row.get("k") != nullptr;
                     if (plain == (row.get("log10_k") != nullptr)) {
                         refuse(where, "give k or log10_k");
                     }
                     const double k = plain ? number_in(where, row, "k")
                                            : std::pow(10, number_in(where, row, "log10_k"));
                     const double order = number_in(where, row, "order");
                     if (!(k > 0) || !(order > 0)) {
                         refuse(where, "k and order must be above 0");
                     }
                     rows.push_back(literal(where, name) + ", " + literal(where, mineral) + ", " +
                                    literal(where, text_in(where, row, "water")) + ", " +
                                    number_text(at) + ", " + number_text(k) + ", " +
                                    number_text(order) + ", " + source_and_at(where, row) + ", " +
                                    literal(where, text_in(where, row, "checked")));
                 });
        write("GrowthRow", "kGrowth", rows);
    }
};

}  // namespace

std::string brine_tables(const std::string& folder, const std::set<std::string>& known_sources) {
    BrineCompiler compiler{folder, known_sources, {}, {}};
    compiler.out << "// Made by tools/datac from data/*.toml. Do not edit.\n";
    compiler.species();
    compiler.interactions("Seawater", "interaction_seawater");
    compiler.interactions("Brine", "interaction_brine");
    compiler.reactions();
    compiler.minerals();
    compiler.growth();
    compiler.ions();
    return compiler.out.str();
}

}  // namespace datac
