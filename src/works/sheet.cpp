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

/// The portions sorted into what goes where.
struct Order {
    std::vector<const Portion*> small, bulk;
    const Portion* carrier = nullptr;
};

Order order_of(std::span<const Portion> portions) {
    Order out;
    for (const Portion& p : portions) {
        (p.share < kPremixShare ? out.small : out.bulk).push_back(&p);
    }
    std::stable_sort(out.small.begin(), out.small.end(),
                     [](const Portion* a, const Portion* b) { return a->share < b->share; });
    std::stable_sort(out.bulk.begin(), out.bulk.end(), [](const Portion* a, const Portion* b) {
        return a->draws_water != b->draws_water ? b->draws_water : a->share > b->share;
    });
    if (!out.small.empty() && !out.bulk.empty() && !out.bulk.front()->draws_water) {
        out.carrier = out.bulk.front();
    }
    return out;
}

class SheetWriter {
public:
    SheetWriter(double size_kg, std::span<const Scale> scales, std::string_view day)
        : size_kg_(size_kg), scales_(scales), day_(day) {}

    Result<double> add(const Portion& portion, double mass_kg, std::string_view into) {
        BW_TRY(scale, scale_for(mass_kg, scales_, day_));
        Addition a;
        a.step = static_cast<std::int64_t>(sheet_.additions.size()) + 1;
        a.material = portion.material;
        a.lot = portion.lot;
        a.target_kg = on_steps(mass_kg, scale);
        a.tolerance_kg = weighing_tolerance_kg(a.target_kg, scale);
        a.scale = scale.id;
        a.into = into;
        a.cautions = portion.cautions;
        note(a, scale, mass_kg);
        const double target = a.target_kg;
        sheet_.additions.push_back(std::move(a));
        return target;
    }

    /// The stages of the premix; gives what of the carrier they take.
    Result<double> grow(const Portion& carrier, double premix_kg) {
        sheet_.premix_carrier = carrier.material;
        const double most = kMostOfCarrier * carrier.share * size_kg_;
        double total = premix_kg;
        double used = 0;
        while (total < kPremixGrownShare * size_kg_ && used + total <= most) {
            BW_TRY(kg, add(carrier, total, "premix carrier"));
            used += kg;
            total += kg;
            sheet_.premix.push_back({kg, total});
        }
        return used;
    }

    [[nodiscard]] Sheet take() { return std::move(sheet_); }

private:
    void note(const Addition& a, const Scale& scale, double mass_kg) {
        const double least = least_well_weighed_kg(scale);
        if (mass_kg < least) {
            sheet_.notices.push_back(fmt::format(
                "Step {}: {} kg of {} is less than scale {} weighs well ({} kg): use a finer "
                "scale, a premix of its own, or a larger batch.",
                a.step, base::format_short(a.target_kg, kDigits), a.material, scale.id,
                base::format_short(least, kDigits)));
        }
    }

    double size_kg_;
    std::span<const Scale> scales_;
    std::string_view day_;
    Sheet sheet_;
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
    double premix_kg = 0;
    for (const Portion* p : order.small) {
        BW_TRY(kg, writer.add(*p, p->share * size_kg, order.carrier ? "premix" : "blender"));
        premix_kg += kg;
    }
    double of_carrier = 0;
    if (order.carrier != nullptr) {
        BW_TRY(used, writer.grow(*order.carrier, premix_kg));
        of_carrier = used;
    }
    for (const Portion* p : order.bulk) {
        const double kg = p->share * size_kg - (p == order.carrier ? of_carrier : 0);
        BW_CHECK(writer.add(*p, kg, "blender"));
    }
    return writer.take();
}

}  // namespace bw::works
