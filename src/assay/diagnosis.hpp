// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"

namespace bw::assay {

/// What was tested of a batch against what its recipe should give.
struct BatchPattern {
    std::vector<std::string> elements;
    std::vector<double> deviation;  ///< measured over expected, less 1
    std::vector<double> u;          ///< standard uncertainty of each on its own, above 0
    double u_common = 0;  ///< shared by all: of the salinity or the dilution they are normalised by
    /// Of each element, how many independent methods agree on it, as their weights count:
    /// 1/sum(w^2); empty: one each. Several do not fail alike.
    std::vector<double> methods;
    bool normalised = true;  ///< brought to one salinity, so that one salt too much lowers the rest
    /// Brought to strength by the mass of blend that was dissolved: what a lot holds less is no
    /// less mass, and lowers nothing else. False: by what dissolved, which cannot tell it from less
    /// of it.
    bool by_mass = false;
};

/// Where the expected amounts come from.
struct BatchMakeUp {
    std::vector<std::string> materials;
    /// share[j][k]: of element j, the part that material k brings; rows sum to 1 or less.
    std::vector<std::vector<double>> share;
    std::vector<double> salt_share;  ///< of the dissolved salt's mass, by material
    /// Materials that went in together as one premix, by places.
    std::vector<std::vector<std::size_t>> premixes;
    /// Other forms that a material could be taken for: its place, and active mass per mass of that
    /// form over that of the right one ("anhydrous for hexahydrate": 203.3/95.2).
    struct OtherForm {
        std::size_t material;
        std::string form;
        double times;
    };
    std::vector<OtherForm> other_forms;
};

enum class FaultKind : std::uint8_t {
    Amount,       ///< one material over- or under-weighed, or its lot's assay off
    LeftOut,      ///< one material missing altogether
    Twice,        ///< one material charged twice
    OtherForm,    ///< another hydrate than stated
    Premix,       ///< all of a premix over or under, left out among them
    Strength,     ///< salinity or dilution: all elements alike
    Calibration,  ///< one element's own calibration
};
[[nodiscard]] std::string_view name(FaultKind kind);

/// Where an amount that is off comes from, as far as the tests tell.
enum class AmountSource : std::uint8_t {
    Either,    ///< weighed so, or the lot's assay: one does not fit ten times as well as the other
    Weighing,  ///< so much more or less of it went in
    Lot        ///< its lot holds so much more or less than stated
};
[[nodiscard]] std::string_view name(AmountSource source);

/// One explanation and how well it fits.
struct Explanation {
    FaultKind kind = FaultKind::Amount;
    std::string of;        ///< material, premix or element; empty for Strength
    double size = 0;       ///< relative, -0.05: 5 % too little
    double u_size = 0;     ///< 0 where the size is fixed by the kind
    double explains = 0;   ///< fall of chi squared
    double left_over = 0;  ///< chi squared that remains
    double left_p = 0;     ///< chance of as much remaining by scatter alone
    double weight = 0;     ///< of all explanations together, chance among them: 0 to 1
    AmountSource source =
        AmountSource::Either;  ///< of an Amount: its size is that of the better fit
};

enum class DiagnosisVerdict : std::uint8_t {
    Nothing,     ///< the pattern is within the scatter of the tests
    Found,       ///< one explanation stands out
    CannotTell,  ///< several fit as well as one another
    Unexplained  ///< no single fault fits
};

struct Diagnosis {
    DiagnosisVerdict verdict = DiagnosisVerdict::Nothing;
    double chi_squared = 0, chi_squared_most = 0;  ///< of the pattern, and its 95 % point
    double chance_weight = 0;                      ///< of no fault at all
    std::vector<Explanation> explanations;         ///< heaviest first
    /// With CannotTell: the element whose better result would part the first two, and by how many
    /// of its standard uncertainties they differ there.
    std::optional<std::size_t> test_element;
    double parted_by = 0;
    /// The smallest amount fault of each material that would be seen, relative; infinite where the
    /// tests cannot see it.
    std::vector<double> smallest_seen;
};

/// Finds what explains a pattern of deviations.
///
/// Definition   y = d a + e with covariance V = diag(u^2) + u_common^2 11'; one direction d for
/// each
///              fault (amount of k: share_k - salt_share_k where normalised, else share_k). Size
///              a = d'V^-1 y/(d'V^-1 d), s = (d'V^-1 d)^(-1/2), explains T = (d'V^-1 y)^2/(d'V^-1
///              d). Weight of a free size: prior/sqrt(1 + (tau/s)^2) exp(T tau^2/(2 (s^2 +
///              tau^2))), tau 10 % for amounts and premixes, 5 % for strength and calibration; of a
///              fixed one: prior exp of half the fall of chi squared. Priors: chance and amounts 1
///              (shared among the materials), the rest less, see kPriors in the source;
///              assumptions. A calibration's prior falls by kBothAlike with each further method.
///              Found: the heaviest cause weighs 0.9 or more and what is left over has a chance of
///              1 % or more. Unexplained: nothing leaves so little. Explanations that make the same
///              pattern (cosine above 0.99) share their weight.
/// Inputs       3 elements or more; sizes of the tables agree.
/// Errors       BadInput.
/// Source       measurement tests of data reconciliation, Mah and Tamhane (1982); weights: Bayes.
/// Complexity   elements times explanations.
[[nodiscard]] Result<Diagnosis> diagnose(const BatchPattern& pattern, const BatchMakeUp& make_up);

}  // namespace bw::assay
