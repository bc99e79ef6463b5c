// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <limits>
#include <span>
#include <vector>

#include "path/course.hpp"
#include "path/crystals.hpp"
#include "path/vat_water.hpp"

namespace bw::path {

/// A vat as differential equations in hours: what is left of each grain class, CO2 taken from the
/// air, progress to the onset, how far the faces of crystals have moved, temperature.
///
/// Amounts are per kg of purified water. Matter cannot be lost: what is dissolved is what the
/// grains have given, plus the CO2, less the crystals.
class Vat {
public:
    explicit Vat(const VatPlan& plan);

    [[nodiscard]] std::vector<double> start() const { return start_; }
    [[nodiscard]] std::vector<double> tolerances() const;

    /// A part comes into the vat.
    void add(const Addition& addition, std::span<double> y);
    /// Takes grains that are as good as gone out of the unknowns; what they brought stays.
    void drop_gone(std::vector<double>& y);
    /// Most that is left of any grain in the vat, as a share; 0 without grains.
    [[nodiscard]] double most_left(std::span<const double> y) const;
    /// The model of waters ends at 40 degC; a vat that its own salt warms a little beyond counts as
    /// at 40, and one that is warmer than this cannot be followed.
    static constexpr double kModelEnds = 40, kWarmest = 41.5;
    static constexpr double kGone = 1e-6;  ///< share of a grain that no longer counts
    /// Crystals of the vat's own appear, at the onset.
    void start_crystals(std::span<const double> y);

    /// Changes per hour; false where the water has no state.
    [[nodiscard]] bool slope(double h, std::span<const double> y, std::span<double> dy);

    /// The Jacobian of slope(), grains' effect on the water's chemistry left out: that follows at
    /// its own, slower pace.
    [[nodiscard]] bool jacobian(double h, std::span<const double> y, std::span<double> j);

    [[nodiscard]] Moment moment(double h, std::span<const double> y);
    /// Share of the whole salt's mass that is not dissolved yet.
    [[nodiscard]] double solid_share(std::span<const double> y) const;
    /// Progress to the onset; 1: now.
    [[nodiscard]] double waited(std::span<const double> y) const;
    /// Share of each part that is not dissolved yet.
    [[nodiscard]] std::vector<double> left(std::span<const double> y) const;
    /// How far the faces of crystals have moved, and how far seed has to for 1 % of alkalinity;
    /// infinite without seed.
    [[nodiscard]] double face_um(std::span<const double> y) const;
    [[nodiscard]] double face_of_loss_um() const { return face_of_loss_um_; }
    /// Alkalinity in crystals over that of the whole salt.
    [[nodiscard]] double alkalinity_lost_share(std::span<const double> y) const;

private:
    struct Class {
        std::size_t part;
        GrainClass grains;
        bool added = false;
    };
    /// Crystals that started together, and where the faces stood then.
    struct Generation {
        Crystals at_start;
        double face_at_start_um;
    };

    [[nodiscard]] double face_of_loss() const;
    [[nodiscard]] double carbon_of_purified_water();
    [[nodiscard]] double grown_mol(std::span<const double> y) const;
    [[nodiscard]] Dissolved dissolved(std::span<const double> y) const;
    [[nodiscard]] Dissolved per_kg_water(const Dissolved& d, std::span<const double> y) const;
    [[nodiscard]] double warming_per_h(double h, double celsius) const;
    [[nodiscard]] bool set_films(double celsius, double salt_g_per_kg);
    [[nodiscard]] double growth_m_per_h(const VatState& state, unit::Celsius t,
                                        double magnesium_share) const;
    /// `state`: of the water, for the solids that it can saturate.
    double dissolve(std::span<const double> y, const VatState& state, std::span<double> dy) const;

    const VatPlan& plan_;
    std::vector<Class> classes_;
    std::vector<Film> films_;  ///< of each part
    double films_celsius_ = -1, films_salt_ = -1;
    Liquid liquid_{};
    double salt_kg_ = 0, alkalinity_eq_ = 0;
    std::vector<Generation> generations_;
    bool own_crystals_ = false;
    double face_of_loss_um_ = std::numeric_limits<double>::infinity();
    VatWater water_;
    CarbonateSolid carbonate_;  ///< that falls
    std::vector<double> start_;
    /// What the grains that are gone have brought.
    Dissolved settled_;
    double settled_water_kg_ = 0;
    std::vector<double> settled_share_;  ///< of each part
};

}  // namespace bw::path
