// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "brine/aqueous_species.hpp"
#include "brine/ion_interaction.hpp"
#include "brine/seawater_constants.hpp"

namespace bw::brine {

/// The species from which all others are made.
inline constexpr std::array<Species, 8> kBasis{Species::H,   Species::CO3, Species::BOH3,
                                               Species::SO4, Species::F,   Species::Mg,
                                               Species::Ca,  Species::Sr};
inline constexpr std::size_t kBasisSize = kBasis.size();

/// The species made from them by mass action.
inline constexpr std::array<Species, 14> kMade{
    Species::OH,    Species::HSO4,  Species::HCO3,   Species::CO2,   Species::BOH4,
    Species::HF,    Species::MgOH,  Species::MgF,    Species::CaF,   Species::MgCO3,
    Species::CaCO3, Species::SrCO3, Species::MgBOH4, Species::CaBOH4};
inline constexpr std::size_t kMadeSize = kMade.size();

/// Total amounts that a water is made of. "Other" ions stand outside the interaction sets; they
/// act on ionic strength and activity like a named stand-in.
enum class Total : std::uint8_t {
    Na,
    K,
    Mg,
    Ca,
    Sr,
    Ba,
    Li,
    Cl,
    Br,
    F,
    SO4,
    B,
    P,
    Si,
    OtherPlus,      ///< charge 1, stands like K
    OtherPlusTwo,   ///< charge 2, stands like Mg
    OtherMinus,     ///< charge -1, stands like Br
    OtherMinusTwo,  ///< charge -2, stands like SO4
};
inline constexpr std::size_t kTotals = 18;
[[nodiscard]] constexpr std::size_t index(Total t) { return static_cast<std::size_t>(t); }
/// Those of ions outside the interaction sets.
inline constexpr std::array kOtherTotals{Total::OtherPlus, Total::OtherPlusTwo, Total::OtherMinus,
                                         Total::OtherMinusTwo};
template <class Scalar>
using PerTotal = std::array<Scalar, kTotals>;

/// The total that balances each species of the basis; hydrogen and carbonate are balanced by the
/// closing statements instead.
inline constexpr std::size_t kFirstBalanced = 2;
inline constexpr std::array<Total, kBasisSize> kTotalOfBasis{
    Total::B, Total::B, Total::B, Total::SO4, Total::F, Total::Mg, Total::Ca, Total::Sr};

/// The two statements that close the acid-base balance.
enum class Closure : std::uint8_t {
    Alkalinity,  ///< eq/kg
    Carbon,      ///< mol/kg
    Fugacity,    ///< of CO2, atm
    PhTotal,
    PhFree,
    PhNbs,
};
[[nodiscard]] constexpr bool is_ph(Closure kind) {
    return kind == Closure::PhTotal || kind == Closure::PhFree || kind == Closure::PhNbs;
}

/// The constants of a reaction in both interaction sets.
template <class P>
struct MassAction {
    std::array<double, kBasisSize> basis{};  ///< coefficients
    double water = 0;
    P ln_k_seawater{}, ln_k_brine{};
    bool in_seawater = false, in_brine = false;
    struct Term {
        std::size_t place;  ///< in kBasis
        double coefficient;
    };
    static constexpr std::size_t kMostTerms = 3;
    std::array<Term, kMostTerms> terms{};  ///< the coefficients that are not 0
    std::size_t term_count = 0;

    [[nodiscard]] std::span<const Term> formed_from() const { return {terms.data(), term_count}; }
};

/// The dissolving of a solid: ions and water that one formula gives, and K in both sets.
template <class P>
struct SolidAction {
    struct Term {
        Species species;
        double coefficient;
    };
    std::vector<Term> terms;
    double water = 0;
    P ln_k_seawater{}, ln_k_brine{};
    /// Without carbonate, borate, hydroxide, fluoride and phosphate: judged by the brine set at any
    /// strength, for its sulfates rest on measured solubilities.
    bool by_brine_set = false;
};

/// Stoichiometric constants that the field has measured and the model is anchored to.
enum class Anchor : std::uint8_t { K1, K2, KB, KW, KS, KF, K0, Calcite, Aragonite };
inline constexpr std::size_t kAnchors = 9;

/// Model constants of Reference-Composition Seawater, as series in the root of salinity.
inline constexpr std::size_t kAnchorNodes = 10;
template <class P>
using AnchorSeries = std::array<std::array<P, kAnchorNodes>, kAnchors>;

/// Everything of the model that depends on temperature alone.
template <class P>
struct EquilibriumModel {
    P kelvin{};
    SeawaterFits fits;
    InteractionParameters<P> seawater, brine;
    std::array<MassAction<P>, kMadeSize> made;
    P ln_k0{};                               ///< CO2 activity over fugacity, mol/(kg-water atm)
    std::vector<SolidAction<P>> solids;      ///< in the order of ref::minerals()
    std::size_t calcite = 0, aragonite = 0;  ///< their places
    AnchorSeries<P> anchor_seawater, anchor_brine;
    double field_share = 1;  ///< 0 switches the anchors of the acids off, to show both routes
};

/// Prepares the model.
///
/// Inputs     temperature in K, 273.15 to 313.15; which fits of the field to be anchored to.
/// Complexity 20 speciations of Reference-Composition Seawater, about 0.7 ms; share it between
///            waters of one temperature.
template <class P>
[[nodiscard]] EquilibriumModel<P> prepare_model(const P& kelvin, const SeawaterFits& fits = {});

}  // namespace bw::brine
