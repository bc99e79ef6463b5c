// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <array>
#include <cstdint>
#include <span>
#include <string_view>

/// The cited tables of the brine floor: ion-interaction parameters, reactions and minerals,
/// compiled from data/interaction_*.toml, data/reactions.toml and data/minerals.toml by
/// tools/datac.
namespace bw::ref {

/// How a coefficient depends on temperature; the forms are written out in docs/reference/data.md
/// and evaluated by brine/temperature_function.
enum class TemperatureForm : std::uint8_t {
    Constant,         ///< c0
    Quadratic,        ///< c0 + c1 T + c2 T^2
    QuadraticFrom25,  ///< c0 + c1 d + c2 d^2, d = T - 298.15
    QuadraticFrom30,  ///< c0 + c1 (T - 303.15)^2
    Moller,           ///< c0+c1 T+c2/T+c3 lnT+c4/(T-263)+c5 T^2+c6/(680-T)+c7/(T-227)
    MilleroPierrot,   ///< c0+(c1e-5 Tr^3/3-c2e-4 Tr^2)(1/T-1/Tr)+(c1e-5/6)(T^2-Tr^2)
    SilvesterPitzer,  ///< c0+(c1 Tr^3/3+c2 Tr^2)(1/T-1/Tr)+(c1/6)(T^2-Tr^2)
    HeMorse,          ///< c0+c1 T+c2 T^2+c3/T+c4 lnT
    CleggRardPitzer,  ///< c0+1e-3(c1 t+c2 t^2/2+c3 t^3/6), t = T-328.15
    InverseFrom25,    ///< c0+c1 (1/T-1/298.15)
    PhutelaPitzer,    ///< six terms, see docs/reference/data.md
    PabalanPitzer,    ///< twelve terms at 1.01325 bar
    PeiperPitzer,     ///< c0+(T-Tr)(c1-Tr c2)+c2 (T^2-Tr^2)/2
    SixTermFrom25,    ///< c0+c1(1/T-1/Tr)+c2 ln(T/Tr)+c3(T-Tr)+c4(T^2-Tr^2)+c5(1/T^2-1/Tr^2)
    LogTen,           ///< log10 K: c0+c1 T+c2/T+c3 log10 T+c4/T^2+c5 T^2
    NaturalLog,       ///< ln K: c0+c1/T+c2 lnT+c3 T
    VantHoff,         ///< log10 K at 25 degC c0, reaction enthalpy c1 in kJ/mol, constant
};
inline constexpr std::size_t kMostTemperatureCoefficients = 12;

struct TemperatureFunction {
    TemperatureForm form;
    std::array<double, kMostTemperatureCoefficients> c;
};

/// The two parameter tables: one for waters of up to twice the strength of seawater, one for
/// brines.
enum class InteractionSet : std::uint8_t { Seawater, Brine };

enum class InteractionKind : std::uint8_t {
    Beta0,  ///< cation, anion
    Beta1,
    Beta2,
    CPhi,  ///< C0 = CPhi / (2 sqrt|zc za|)
    C0,    ///< given as C0 itself
    C1,
    Alpha1,  ///< default 2; 1.4 when both charges are 2
    Alpha2,  ///< default 12; 0 where there is no Beta2
    Omega,   ///< of C1
    Theta,   ///< two ions of like sign
    Psi,     ///< two ions of like sign, one of the other
    Lambda,  ///< neutral, ion or neutral
    Zeta,    ///< neutral, cation, anion
};

/// One coefficient of one set. Species by symbol of aqueous_species().
struct InteractionRow {
    InteractionSet set;
    InteractionKind kind;
    std::array<std::string_view, 3> species;  ///< empty where there is none
    TemperatureFunction value;
    double low_degC, high_degC;  ///< where its source says it holds; NaN when not stated
    std::string_view source, at;
};
[[nodiscard]] std::span<const InteractionRow> interactions(InteractionSet set);

/// Slope of the limiting law, A_phi, of a set.
[[nodiscard]] TemperatureFunction limiting_slope(InteractionSet set);

/// A dissolved species of the model.
struct AqueousSpeciesRow {
    std::string_view symbol;   ///< "Na", "HSO4", "MgCO3"
    std::string_view formula;  ///< with charge, for the formula parser
    int charge;
    std::string_view source;
};
[[nodiscard]] std::span<const AqueousSpeciesRow> aqueous_species();

/// A part of a constant: times * function, in ln K or log10 K.
struct LogK {
    TemperatureFunction function;
    bool natural_log;  ///< whether the function gives ln K; else log10 K
    double times;      ///< -1 where the source gives the reverse; 0 for a part that is not there
};
inline constexpr std::size_t kMostLogKParts = 3;

/// A species made from others: product = sum of coefficient * basis species, with log K of the
/// formation, K = a(product) / product of a(basis)^coefficient, the sum of its parts.
struct ReactionTerm {
    std::string_view species;  ///< symbol; "H2O" for water
    double coefficient;
};
inline constexpr std::size_t kMostReactionTerms = 5;
struct ReactionRow {
    InteractionSet set;
    std::string_view product;
    std::array<ReactionTerm, kMostReactionTerms> terms;  ///< empty symbols at the end
    std::array<LogK, kMostLogKParts> log_k;
    double low_degC, high_degC;
    std::string_view source, at;
};
[[nodiscard]] std::span<const ReactionRow> reactions(InteractionSet set);

/// A gas and the species it dissolves to; K = a(dissolved) / fugacity [mol/kg/atm].
struct GasRow {
    std::string_view symbol;     ///< "CO2g"
    std::string_view formula;    ///< "CO2"
    std::string_view dissolved;  ///< symbol of the species
    LogK log_k;
    double low_degC, high_degC;
    std::string_view source, at;
};
[[nodiscard]] std::span<const GasRow> gases();

/// How soon a solid can form from a water a few times supersaturated.
enum class Forming : std::uint8_t { Minutes, Hours, Days, OnSeed, Never };

struct MineralRow {
    std::string_view key;                                       ///< "aragonite", "amorphous_CaCO3"
    std::string_view name;                                      ///< as printed
    std::string_view formula;                                   ///< of the solid, "CaSO4.2H2O"
    std::array<ReactionTerm, kMostReactionTerms> dissolves_to;  ///< ions and H2O
    bool natural_log;
    TemperatureFunction log_k;        ///< ion activity product at equilibrium
    TemperatureFunction log_k_brine;  ///< as fitted together with the brine set; mostly the same
    double low_degC, high_degC;
    Forming forming;
    double factor;                ///< how far Omega is trusted in a dense brine: within this factor
    double factor_in_seawater;    ///< the same up to the strength of seawater
    std::string_view forms_when;  ///< one sentence, shown beside the value
    std::string_view source, at;
};
[[nodiscard]] std::span<const MineralRow> minerals();
/// Place in minerals() of a key that is known to be there.
[[nodiscard]] std::size_t mineral_place(std::string_view key);

}  // namespace bw::ref
