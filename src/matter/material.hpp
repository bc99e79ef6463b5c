// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/notice.hpp"
#include "base/result.hpp"
#include "matter/constituent.hpp"

namespace bw::matter {

/// A share as a certificate or a monograph states it.
struct Stated {
    enum class Shape {
        Normal,       ///< a value with a standard uncertainty (0: stated as exact)
        Rectangular,  ///< anywhere between two limits
    };
    Shape shape = Shape::Normal;
    double value = 0;  ///< expectation
    double u = 0;      ///< standard uncertainty
    double low = 0;
    double high = 0;

    [[nodiscard]] static Stated exactly(double value) {
        return {Shape::Normal, value, 0, value, value};
    }
    [[nodiscard]] static Stated normal(double value, double u);
    /// Source   JCGM 101:2008, 6.4.2: only limits are known.
    [[nodiscard]] static Stated between(double low, double high);
    /// What a ceiling must reckon with: the upper limit, or two standard uncertainties above the
    /// value.
    [[nodiscard]] double worst() const;
};

/// One thing found in a material: a constituent by its symbol, a salt by its formula, or
/// "insoluble".
struct Component {
    std::string of;
    Stated amount;
    bool by_mass = true;  ///< kg per kg of material; otherwise mol (eq) per kg of material
    bool below_reporting_limit = false;
};

enum class AssayBasis { AsIs, Dried, Ignited };

struct Assay {
    Stated share;  ///< kg of `as` per kg of material on the stated basis
    std::string as;
    std::optional<AssayBasis> basis;  ///< as is unless said; a lot takes over the catalogue's
};

/// So much of the mass is finer than a size.
struct SievePoint {
    double size_m = 0;
    double finer = 0;  ///< share by mass
};

struct Grain {
    double d10_m = 0, d50_m = 0, d90_m = 0;
    std::vector<SievePoint> sieve = {};  ///< in rising order; empty: only the three are known
};

/// A chemical in one form and grade, as bought; or one lot of it.
struct Material {
    std::string name;
    std::string formula;  ///< empty for a natural mixture or premix given by composition
    std::string grade;
    std::string lot;
    std::optional<Assay> assay;
    std::optional<Stated> moisture;
    std::optional<Stated> loss_on_ignition;
    std::vector<Component> impurities;
    std::vector<Component> composition;
    std::string balance;  ///< symbol of the ion that closes the charge; empty: chosen
    std::optional<double> price_per_kg;
    std::string currency;
    std::optional<double> package_kg;
    bool whole_packages = false;
    std::optional<double> stock_kg;
    std::optional<double> step_kg;
    std::optional<double> least_kg_per_kg;  ///< per kg of finished water
    std::optional<double> most_kg_per_kg;
    std::optional<Grain> grain;
    std::optional<double> density_kg_per_m3;
    std::vector<std::string> hazards;
    std::vector<std::string> cautions;
    std::string role;
};

/// An input of a make-up that is not known exactly.
struct UncertainInput {
    enum class Kind {
        Assay,   ///< multiplies the main salt: the draw replaces the assay
        Loss,    ///< the draw replaces the loss on drying or ignition, main salt goes with 1 - loss
        Amount,  ///< adds: effect * (draw - value)
    };
    Kind kind = Kind::Amount;
    std::string name;  ///< "assay", "moisture", "Sr"
    Stated stated;
    Amounts effect;  ///< change of the make-up per unit of the input, at the stated values
};

/// What a kilogram of a material brings to a water.
///
/// Definition   main salt + impurities, closed to neutral by one ion, the rest water. The main salt
/// is
///              assay * (1 - loss) / M(as), loss being what drying or ignition takes when the assay
///              is on that basis.
struct MakeUp {
    Amounts mol_per_kg;        ///< expectation
    Amounts worst_mol_per_kg;  ///< every impurity at the worst its certificate allows, the main
                               ///< salt as expected
    Amounts main_mol_per_kg;   ///< the part that goes with the assay
    double water_share = 0;
    double insoluble_share = 0;
    std::vector<UncertainInput> inputs;
    base::Notices notices;
};

/// Works out a material's make-up.
///
/// Errors   BadInput, BadFormula, UnknownName: assay of 0 or over 110 %, dry parts over 101 %, a
/// basis without its
///          loss, an `as` form that shares nothing with the formula, a composition whose charges
///          differ by over 5 %.
[[nodiscard]] Result<MakeUp> make_up(const Material& material);

/// Replaces what the lot states; its impurities replace the catalogue's one by one.
[[nodiscard]] Material with_lot(const Material& catalogue, const Material& lot);

}  // namespace bw::matter
