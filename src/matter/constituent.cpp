// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "matter/constituent.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "base/text.hpp"
#include "unit/factors.hpp"

namespace bw::matter {
namespace {

constexpr double kNanoPerOne = 1e9;

/// Elements whose constituent has another symbol, or whose form is told by a group.
constexpr auto kByGroup = std::to_array<std::string_view>({"S", "N", "C"});

/// An organic compound known by its atoms. Hydrogen may be replaced by as many equivalents of a
/// metal, or joined by an acid's, as the compound has protons to give or take.
struct Organic {
    std::string_view constituent;
    double carbon, nitrogen, oxygen;
    double neutral_hydrogen;               ///< of the neutral compound
    double least_hydrogen, most_hydrogen;  ///< of its ions, all protons gone or all taken
};
constexpr auto kOrganics = std::to_array<Organic>({
    {"tris", 4, 1, 3, 11, 11, 12},
    {"EDTA", 10, 2, 8, 16, 12, 18},
    {"citrate", 6, 0, 7, 8, 5, 8},
});

/// Hydrogen and oxygen of hydrate water are not counted. An acid that protonates the compound
/// ("C4H11NO3.HCl") brings one hydrogen for each of its halogen ions.
std::optional<Constituent> organic_of(const Formula& f) {
    const double acid = f.count("Cl") + f.count("Br") + f.count("I") + f.count("F");
    double metal = 0;
    for (const AtomCount& atom : f.atoms) {
        const auto c = find_constituent(atom.element);
        // Counted as hydrolysed in water, these fill three places of an acid in a solid.
        const bool three = atom.element == "Fe" || atom.element == "Al" || atom.element == "Cr";
        metal += atom.count * (three ? 3 : c && c->charge() > 0 ? c->charge() : 0);
    }
    const double protons = f.count("H") - 2 * f.waters;
    for (const Organic& organic : kOrganics) {
        const bool skeleton = f.count("C") == organic.carbon && f.count("N") == organic.nitrogen &&
                              f.count("O") - f.waters == organic.oxygen;
        // In a neutral compound the metals and the protons share the places that the acid groups
        // have.
        if (skeleton && f.charge == 0 && protons == organic.neutral_hydrogen + acid - metal) {
            return constituent(organic.constituent);
        }
        const bool ion = f.charge != 0 && metal == 0 && acid == 0 &&
                         protons >= organic.least_hydrogen && protons <= organic.most_hydrogen;
        if (skeleton && ion) {
            return constituent(organic.constituent);
        }
    }
    return std::nullopt;
}

/// Chlorine and bromine joined to oxygen are oxidants, not chloride and bromide. Told by a halogen
/// written next to oxygen in one bracket ("NaClO3", "Ca(ClO)2", "NaOCl").
Result<void> check_halogens(const Formula& f) {
    if (f.group_count("oxohalide") > 0) {
        return fail(
            ProblemCode::BadFormula,
            fmt::format("{} holds an oxidised halogen, which is no chloride or bromide in water",
                        base::quoted(f.text)));
    }
    return {};
}

/// mol of each constituent per mol of the formula, from its elements; groups decide for S, N and C.
Result<Amounts> totals_of(const Formula& f) {
    Amounts out;
    const auto organic = organic_of(f);
    if (organic) {
        out[*organic] = 1;
    } else {
        out[constituent("SO4")] = f.group_count("SO4");
        out[constituent("S2O3")] = f.group_count("S2O3");
        out[constituent("NH4")] = f.group_count("NH4");
        out[constituent("NO3")] = f.group_count("NO3");
        out[constituent("NO2")] = f.group_count("NO2");
        const double sulfur = f.group_count("SO4") + 2 * f.group_count("S2O3");
        const double nitrogen = f.group_count("NH4") + f.group_count("NO3") + f.group_count("NO2");
        const bool carbon_dioxide = f.count("C") == 1 && f.count("O") == 2 && f.atoms.size() == 2;
        const double carbon = f.group_count("CO3") + (carbon_dioxide ? 1 : 0);
        out[constituent("carbon")] = carbon;
        if (f.count("S") != sulfur || f.count("N") != nitrogen || f.count("C") != carbon) {
            return fail(
                ProblemCode::BadFormula,
                fmt::format("what {} becomes in water is not known: sulfur must be SO4 or S2O3, "
                            "nitrogen NH4, "
                            "NO3 or NO2, carbon CO3 or HCO3 (or the whole tris, EDTA or a citrate)",
                            base::quoted(f.text)));
        }
    }
    BW_CHECK(check_halogens(f));
    for (const AtomCount& atom : f.atoms) {
        const bool grouped =
            std::find(kByGroup.begin(), kByGroup.end(), atom.element) != kByGroup.end();
        if (grouped || atom.element == "H" || atom.element == "O") {
            continue;
        }
        const auto c = find_constituent(atom.element == "P" ? "PO4" : atom.element);
        if (!c) {
            return fail(ProblemCode::BadFormula,
                        fmt::format("{} in {} is not among the constituents of a water",
                                    atom.element, base::quoted(f.text)));
        }
        out[*c] += atom.count;
    }
    return out;
}

double molar_mass_of(std::string_view formula_text, WeightSet set) {
    const auto formula = parse_formula(formula_text);
    base::expect(formula.has_value(), "a formula of data/constituents.toml does not parse");
    const auto mass = molar_mass_g_per_mol(*formula, set);
    if (!mass && set == WeightSet::Ciaaw2005) {
        return molar_mass_of(formula_text, WeightSet::Ciaaw2021);
    }
    base::expect(mass.has_value(), "a formula of data/constituents.toml has no molar mass");
    return *mass;
}

std::vector<double> molar_masses(bool dissolved) {
    std::vector<double> out;
    for (const ref::ConstituentRow& row : ref::constituents()) {
        if (row.symbol == "alkalinity") {
            // An equivalent of base has one hydrogen less than the acid form; as CaCO3 it is half a
            // mole.
            out.push_back(dissolved ? -molar_mass_of("H", WeightSet::Ciaaw2005)
                                    : molar_mass_of(row.formula, WeightSet::Ciaaw2021) / 2);
        } else {
            out.push_back(dissolved ? molar_mass_of(row.dissolved_as, WeightSet::Ciaaw2005)
                                    : molar_mass_of(row.formula, WeightSet::Ciaaw2021));
        }
    }
    return out;
}

const std::vector<double>& counted_masses() {
    static const std::vector<double> kTable = molar_masses(false);
    return kTable;
}

const std::vector<double>& dissolved_masses() {
    static const std::vector<double> kTable = molar_masses(true);
    return kTable;
}

}  // namespace

bool Constituent::is_alkalinity() const { return *this == constituent("alkalinity"); }

std::size_t constituent_count() { return ref::constituents().size(); }

std::optional<Constituent> find_constituent(std::string_view symbol) {
    const auto rows = ref::constituents();
    for (std::size_t i = 0; i < rows.size(); ++i) {
        if (rows[i].symbol == symbol) {
            return Constituent(i);
        }
    }
    return std::nullopt;
}

Constituent constituent(std::string_view symbol) {
    const auto found = find_constituent(symbol);
    base::expect(found.has_value(),
                 "a constituent named in the program is missing from data/constituents.toml");
    return *found;
}

Result<Constituent> require_constituent(std::string_view symbol) {
    if (const auto found = find_constituent(symbol)) {
        return *found;
    }
    std::vector<std::string_view> names;
    for (const ref::ConstituentRow& row : ref::constituents()) {
        names.push_back(row.symbol);
    }
    // Names people type for a symbol that the trade writes otherwise.
    constexpr auto kOtherNames =
        std::to_array<std::pair<std::string_view, std::string_view>>({{"dic", "carbon"},
                                                                      {"co3", "carbon"},
                                                                      {"hco3", "carbon"},
                                                                      {"co2", "carbon"},
                                                                      {"ta", "alkalinity"},
                                                                      {"alk", "alkalinity"},
                                                                      {"kh", "alkalinity"},
                                                                      {"s", "SO4"},
                                                                      {"p", "PO4"},
                                                                      {"n", "NO3"}});
    const std::string lower = base::lower_ascii(symbol);
    std::optional<std::string> near = base::closest(symbol, names);
    for (const auto& [typed, meant] : kOtherNames) {
        if (lower == typed) {
            near = std::string(meant);
        }
    }
    for (const ref::ConstituentRow& row : ref::constituents()) {
        if (base::lower_ascii(row.name) == lower) {
            near = std::string(row.symbol);
        }
    }
    return fail(
        ProblemCode::UnknownName,
        fmt::format(
            "{} is not a constituent{}", base::quoted(symbol),
            near ? fmt::format(": did you mean {}?", *near)
                 : std::string(": write a symbol such as Na, Mg, SO4, B, alkalinity or carbon")));
}

void Amounts::add(const Amounts& other, double times) {
    for (std::size_t i = 0; i < values_.size(); ++i) {
        values_[i] += other.values_[i] * times;
    }
}

void Amounts::scale(double times) {
    for (double& value : values_) {
        value *= times;
    }
}

double Amounts::charge() const {
    double sum = 0;
    for (std::size_t i = 0; i < values_.size(); ++i) {
        sum += Constituent(i).charge() * values_[i];
    }
    return sum;
}

double Amounts::half_of_charges() const {
    double sum = 0;
    for (std::size_t i = 0; i < values_.size(); ++i) {
        sum += std::abs(Constituent(i).charge() * values_[i]);
    }
    return sum / 2;
}

double Amounts::charge_imbalance_percent() const {
    const double half = half_of_charges();
    return half > 0 ? unit::kPercent * charge() / half : 0;
}

double Amounts::alkalinity_by_charge() const {
    const Constituent alkalinity = constituent("alkalinity");
    return charge() + values_[alkalinity.index()];
}

double Amounts::dissolved_mass_g() const {
    double sum = 0;
    for (std::size_t i = 0; i < values_.size(); ++i) {
        sum += dissolved_masses()[i] * values_[i];
    }
    return sum;
}

Result<Dissolved> dissolve(const Formula& formula) {
    BW_TRY(totals, totals_of(formula));
    Dissolved out;
    out.per_mol = totals;
    out.per_mol[constituent("alkalinity")] = totals.alkalinity_by_charge() - formula.charge;
    out.water_mol = formula.waters;
    BW_TRY(mass, molar_mass_g_per_mol(formula));
    out.molar_mass_g = mass;
    return out;
}

double counted_molar_mass_g(Constituent c) { return counted_masses()[c.index()]; }

double dissolved_molar_mass_g(Constituent c) { return dissolved_masses()[c.index()]; }

Amounts reference_seawater(double reference_salinity_g_per_kg) {
    Amounts out;
    for (const ref::ReferenceSpecies& species : ref::reference_species()) {
        const auto formula = parse_formula(species.formula);
        base::expect(formula.has_value(), "a species of the Reference Composition does not parse");
        const auto dissolved = dissolve(*formula);
        base::expect(dissolved.has_value(),
                     "a species of the Reference Composition does not dissolve");
        out.add(dissolved->per_mol, species.mole_fraction);
    }
    out.scale(reference_salinity_g_per_kg / ref::reference_molar_mass_g_per_mol());
    return out;
}

Result<NaturalAmount> natural_amount_at_35(Constituent c) {
    static const Amounts kReference = reference_seawater(ref::reference_salinity_g_per_kg());
    if (kReference[c] > 0) {
        return NaturalAmount{kReference[c], false, "read"};
    }
    for (const ref::NaturalTrace& row : ref::natural_traces()) {
        if (row.symbol == c.symbol()) {
            return NaturalAmount{row.nmol_per_kg / kNanoPerOne, true, row.checked};
        }
    }
    return fail(
        ProblemCode::UnknownName,
        fmt::format("no natural amount of {} is on file: write a quantity instead of \"natural\"",
                    c.symbol()));
}

}  // namespace bw::matter
