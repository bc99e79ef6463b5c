// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <array>
#include <cstddef>
#include <cstdint>

#include "brine/speciation.hpp"

namespace bw::brine::speciation_detail {

/// Newton's method on the logarithms of the basis, activity coefficients one round behind.
class Solver {
public:
    /// The species that count in a sum, with their weights.
    struct Weights {
        struct Weight {
            std::uint8_t place = 0;  ///< in kBasis or kMade
            double by = 0;
        };
        std::array<Weight, kBasisSize> basis{};
        std::array<Weight, kMadeSize> made{};
        std::size_t basis_count = 0, made_count = 0;
    };

    Solver(const EquilibriumModel<double>& model, const Conditions<double>& c,
           const Closing<double>& closing);

    /// From scratch.
    void start_cold(double ph);

    /// From the acid-base balance alone, where it has an answer.
    void improve_start();

    void start_from(const Speciation<double>& s);

    /// Newton rounds; each takes the activity coefficients of the state before it.
    bool run(int most);

    Speciation<double> result() const { return {c_, m_, activity_, rounds_, residual_}; }

    /// Fixes hydrogen and leaves out one closing statement; used by the safeguard.
    void fix_hydrogen(double ln_hydrogen, std::size_t left_out);
    double closing_residual(std::size_t which);

private:
    static constexpr std::size_t kNotFixed = 2;

    /// Fluoride between the bare ion and its pairs with the metals, which are in excess.
    void share_out();

    void fill_basis();

    void fill_made();

    void fill_traces();

    /// Moves the basis, and with it the made species under their constants.
    void move_basis(const std::array<double, kBasisSize>& move, double scale);

    /// Moves the constants of the made species.
    void move_constants();

    double ln_made(std::size_t k) const;

    /// Balances of mass first, then the closing statements in the rows of hydrogen and carbonate.
    void build();

    /// Hydrogen takes the statement that is not about carbon, where there is one.
    std::size_t which_closing(std::size_t e) const;

    double weighted(const Weights& weights, std::array<double, kBasisSize>& slope,
                    double& size) const;

    double closing_row(std::size_t which, std::array<double, kBasisSize>& row) const;

    bool step();

    /// Whether the activity coefficients are final. Each round shrinks their change by about the
    /// same factor, so that what the next ones would bring is known, and added.
    void settle(const PerSpecies<double>& before);

    const EquilibriumModel<double>& model_;
    const Conditions<double>& c_;
    const Closing<double>& closing_;
    std::array<double, kBasisSize> x_{};
    std::array<bool, kBasisSize> absent_{};
    PerSpecies<double> m_{};
    Activities<double> activity_{};
    std::array<double, kMadeSize> made_c_{};
    WeakTraces<double> traces_{};
    std::array<std::array<double, kBasisSize>, kBasisSize> jacobian_{};
    std::array<double, kBasisSize> rhs_{};
    std::size_t fixed_ = kNotFixed;
    int rounds_ = 0;
    double residual_ = 0;
    PerSpecies<double> change_{};  ///< of ln gamma in the last round; 0: not known
    bool settled_ = false;         ///< the activity coefficients
};

}  // namespace bw::brine::speciation_detail
