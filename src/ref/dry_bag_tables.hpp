// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <span>
#include <string_view>

/// The cited table of the dry bag, data/deliquescence.toml. Humidities in per cent of saturation at
/// 25 degC, low and high spanning the sources; `mark` is read, memory, computed or estimate.
namespace bw::ref {

/// One salt with its saturated solution.
struct DeliquescenceRow {
    std::string_view formula, name;
    double low, high;
    double c0, c1, c2, c3;  ///< polynomial in degC; c0 = 0 where there is none
    double t_law;           ///< K; 0 where none is known
    std::string_view mark, source, at;
};

/// Two salts, each by its formula without water, that share a brine.
struct MutualDeliquescenceRow {
    std::string_view first, second;
    double low, high;
    std::string_view mark, source, at;
};

/// Below `low` the salt falls from `upper` to `lower` waters, above `high` it takes them up.
struct HydrateStepRow {
    std::string_view salt;  ///< formula without water
    double upper, lower;
    double low, high;
    double t_law;
    int slow;     ///< 1: weeks, or only on seed
    int counted;  ///< 1: a sink for water
    std::string_view mark, source, at;
};

/// A solid that minerals() does not hold.
struct FilmSolidRow {
    std::string_view formula, name;
    double log_k;  ///< log10 of the ion activity product at 25 degC, brine set
    double heat_kJ_per_mol;
    std::string_view mark, source, at;
};

/// A reaction between solids of a bag [kJ per reaction as written, 25 degC].
struct BagReactionRow {
    std::string_view key, text;
    double gibbs_kJ, heat_kJ;
    std::string_view mark, source, at;
};

[[nodiscard]] std::span<const DeliquescenceRow> deliquescence();
[[nodiscard]] std::span<const MutualDeliquescenceRow> mutual_deliquescence();
[[nodiscard]] std::span<const HydrateStepRow> hydrate_steps();
[[nodiscard]] std::span<const FilmSolidRow> film_solids();
[[nodiscard]] std::span<const BagReactionRow> bag_reactions();

}  // namespace bw::ref
