// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "works/sheet.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include <fmt/format.h>

#include "base/decimal.hpp"

namespace bw::works {
namespace {

constexpr double kSumSlack = 1e-6;
constexpr double kMostOfCarrier = 0.5;  // of its portion: the rest goes straight into the blender
constexpr int kDigits = 4;
constexpr int kMassDigits = 7;

using recipe::Company;
using Portions = std::vector<const Portion*>;

/// The portions sorted into what goes where, each in its order.
struct Order {
    Portions premix, bulk, alone, late_premix, last;
    const Portion* carrier = nullptr;
};

void smallest_first(Portions& portions) {
    std::stable_sort(portions.begin(), portions.end(), [](const Portion* a, const Portion* b) {
        return a->draws_water != b->draws_water ? b->draws_water : a->share < b->share;
    });
}

void largest_first(Portions& portions) {
    std::stable_sort(portions.begin(), portions.end(),
                     [](const Portion* a, const Portion* b) { return a->share > b->share; });
}

Order order_of(std::span<const Portion> portions) {
    Order out;
    for (const Portion& p : portions) {
        if (p.share >= kPremixShare) {
            (p.draws_water ? out.last : out.bulk).push_back(&p);
        } else if (p.company == Company::Chlorides || p.draws_water) {
            out.late_premix.push_back(&p);
        } else {
            (p.company == Company::None ? out.alone : out.premix).push_back(&p);
        }
    }
    for (Portions* small : {&out.premix, &out.alone, &out.late_premix}) {
        smallest_first(*small);
    }
    largest_first(out.bulk);
    largest_first(out.last);
    const auto carrier = std::find_if(out.bulk.begin(), out.bulk.end(),
                                      [](const Portion* p) { return p->company == Company::Any; });
    out.carrier = carrier == out.bulk.end() ? nullptr : *carrier;
    return out;
}

/// A premix: its lines and the stages that spread it.
struct Spread {
    std::vector<Addition> lines;
    std::vector<PremixStage> stages;
};

class SheetWriter {
public:
    SheetWriter(double size_kg, std::span<const Scale> scales, std::string_view day)
        : size_kg_(size_kg), scales_(scales), day_(day) {}

    [[nodiscard]] Result<Addition> line(const Portion& portion, double mass_kg,
                                        const char* into) const {
        BW_TRY(scale, scale_for(mass_kg, scales_, day_));
        Addition a;
        a.material = portion.material;
        a.lot = portion.lot;
        a.target_kg = on_steps(mass_kg, scale);
        a.tolerance_kg = weighing_tolerance_kg(a.target_kg, scale);
        a.scale = scale.id;
        a.into = into;
        a.cautions = portion.cautions;
        return a;
    }

    /// The portions, then stages of the carrier until they are spread; adds to what it has taken.
    /// Without a carrier, or where half of it is not enough, they go straight into the blender.
    Result<Spread> premix(const Portions& portions, const Portion* carrier, const char* into,
                          const char* by, double& taken_kg) const {
        Spread out;
        double total = 0;
        for (const Portion* p : portions) {
            BW_TRY(a, line(*p, p->share * size_kg_, into));
            total += a.target_kg;
            out.lines.push_back(std::move(a));
        }
        const double most = carrier == nullptr ? 0 : kMostOfCarrier * carrier->share * size_kg_;
        while (total > 0 && total < kPremixGrownShare * size_kg_ && taken_kg + total <= most) {
            BW_TRY(a, line(*carrier, total, by));
            taken_kg += a.target_kg;
            total += a.target_kg;
            out.stages.push_back({a.target_kg, total});
            out.lines.push_back(std::move(a));
        }
        if (carrier == nullptr || out.stages.empty()) {
            for (Addition& a : out.lines) {
                a.into = kBlender;
            }
        }
        return out;
    }

    void put(std::vector<Addition> lines) {
        for (Addition& a : lines) {
            a.step = static_cast<std::int64_t>(sheet.additions.size()) + 1;
            note(a);
            sheet.additions.push_back(std::move(a));
        }
    }

    Result<void> put_all(const Portions& portions, const Portion* carrier, double taken_kg) {
        for (const Portion* p : portions) {
            const double kg = p->share * size_kg_ - (p == carrier ? taken_kg : 0);
            BW_TRY(a, line(*p, kg, kBlender));
            put({std::move(a)});
        }
        return {};
    }

    Sheet sheet;

private:
    void note(const Addition& a) {
        const auto scale = std::find_if(scales_.begin(), scales_.end(),
                                        [&](const Scale& s) { return s.id == a.scale; });
        if (const auto parts = parts_of(a.target_kg, *scale); parts > 1) {
            sheet.notices.push_back(fmt::format(
                "Step {}: scale {} carries {} kg: weigh the {} kg of {} in {} parts of "
                "about {} kg.",
                a.step, a.scale, base::format_short(scale->capacity_kg, kDigits),
                base::format_short(a.target_kg, kMassDigits), a.material, parts,
                base::format_significant(a.target_kg / static_cast<double>(parts), kDigits)));
        }
        const double least = least_well_weighed_kg(*scale);
        if (a.target_kg < least - scale->step_kg / 2) {
            sheet.notices.push_back(fmt::format(
                "Step {}: {} kg of {} is less than scale {} weighs well ({} kg): use a finer "
                "scale, a premix of its own, or a larger batch.",
                a.step, base::format_short(a.target_kg, kDigits), a.material, a.scale,
                base::format_short(least, kDigits)));
        }
    }

    double size_kg_;
    std::span<const Scale> scales_;
    std::string_view day_;
};

Result<void> check(std::span<const Portion> portions, double size_kg) {
    if (!(size_kg > 0)) {
        return fail(ProblemCode::OutOfRange, "the size of a batch is above 0 kg", {"", 0, "size"});
    }
    double sum = 0;
    for (const Portion& p : portions) {
        if (!(p.share > 0)) {
            return fail(ProblemCode::BadInput,
                        fmt::format("{} has no share of the blend", p.material));
        }
        sum += p.share;
    }
    if (std::abs(sum - 1) > kSumSlack) {
        return fail(
            ProblemCode::BadInput,
            fmt::format("the shares of the blend sum to {} and not to 1", base::format_exact(sum)));
    }
    return {};
}

}  // namespace

Result<Sheet> sheet_for(std::span<const Portion> portions, double size_kg,
                        std::span<const Scale> scales, std::string_view day) {
    BW_CHECK(check(portions, size_kg));
    const Order order = order_of(portions);
    SheetWriter writer(size_kg, scales, day);
    double of_carrier = 0;
    BW_TRY(early, writer.premix(order.premix, order.carrier, kPremix, kPremixCarrier, of_carrier));
    BW_TRY(late, writer.premix(order.late_premix, order.carrier, kLatePremix, kLatePremixCarrier,
                               of_carrier));
    writer.sheet.premix = early.stages;
    writer.sheet.late_premix = late.stages;
    if (!early.stages.empty() || !late.stages.empty()) {
        writer.sheet.premix_carrier = order.carrier->material;
    }
    writer.put(std::move(early.lines));
    BW_CHECK(writer.put_all(order.bulk, order.carrier, of_carrier));
    BW_CHECK(writer.put_all(order.alone, order.carrier, of_carrier));
    writer.put(std::move(late.lines));
    BW_CHECK(writer.put_all(order.last, order.carrier, of_carrier));
    return std::move(writer.sheet);
}

}  // namespace bw::works
