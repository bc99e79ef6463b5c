// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/filing.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "service/filed.hpp"

namespace bw::service {
namespace {

constexpr int kDigits = 6;
constexpr std::size_t kMostIdBytes = 200;  // store/record.hpp; older lots name any text

std::string kg(double mass) { return base::format_short(mass, kDigits) + " kg"; }

void link_once(store::Write& out, store::Link link) {
    if (std::find(out.links.begin(), out.links.end(), link) == out.links.end()) {
        out.links.push_back(std::move(link));
    }
}

}  // namespace

store::Write filing_of(const works::Person& person) {
    store::Write out = filed(person.id, name(person.state), person.name);
    out.keys = {person.name};
    return out;
}

store::Write filing_of(const works::Material& material) {
    store::Write out = filed(material.name, "", material.formula);
    if (!material.formula.empty()) {
        out.keys = {material.formula};
    }
    return out;
}

store::Write filing_of(const works::Supplier& supplier) {
    store::Write out = filed(supplier.name, name(supplier.state), supplier.contact);
    for (const std::string& material : supplier.materials) {
        link_once(out, {"may supply", "material", material});
    }
    return out;
}

store::Write filing_of(const works::Lot& lot) {
    store::Write out =
        filed(lot.number, name(lot.state), fmt::format("{}, {}", lot.material, lot.quantity));
    out.links = {{"of", "material", lot.material}};
    if (!lot.supplier.empty() && lot.supplier.size() <= kMostIdBytes) {
        out.links.push_back({"from", "supplier", lot.supplier});
    }
    out.keys = {lot.material};
    return out;
}

store::Write filing_of(const works::Stock& stock) {
    store::Write out = filed(stock.lot, "", kg(stock.left_kg()) + " left");
    out.links = {{"of", "lot", stock.lot}};
    return out;
}

store::Write filing_of(const works::Scale& scale) {
    return filed(scale.id, name(scale.state),
                 fmt::format("steps of {}, to {}", kg(scale.step_kg), kg(scale.capacity_kg)));
}

store::Write filing_of(const works::RecipeVersion& version) {
    store::Write out = filed(version.id(), name(version.state), version.why);
    for (const works::RecipeShare& share : version.shares) {
        link_once(out, {"uses", "material", share.material});
    }
    out.keys = {version.product};
    return out;
}

store::Write filing_of(const works::Batch& batch) {
    store::Write out = filed(batch.number, name(batch.state),
                             fmt::format("{}, {}", batch.product, kg(batch.size_kg)));
    out.links = {{"by", "recipe", batch.recipe}};
    for (const works::Addition& a : batch.additions) {
        if (!a.lot.empty()) {
            link_once(out, {"made of", "lot", a.lot});
        }
    }
    if (!batch.rework_of.empty()) {
        out.links.push_back({"rework of", "batch", batch.rework_of});
    }
    out.keys = {batch.product};
    return out;
}

store::Write filing_of(const works::Weighing& weighing) {
    store::Write out =
        filed(weighing.id(), "", fmt::format("{} of {}", weighing.net, weighing.material));
    out.links = {{"for", "batch", weighing.batch},
                 {"of", "lot", weighing.lot},
                 {"on", "scale", weighing.scale}};
    return out;
}

store::Write filing_of(const works::Departure& departure) {
    store::Write out = filed(departure.number, name(departure.state), departure.what);
    out.links = {{"about", departure.subject_kind, departure.subject}};
    if (!departure.batch.empty()) {
        out.links.push_back({"holds", "batch", departure.batch});
    }
    return out;
}

store::Write filing_of(const works::Sample& sample) {
    store::Write out = filed(sample.number, name(sample.state),
                             fmt::format("{} of {}", sample.mass, sample.batch));
    out.links = {{"of", "batch", sample.batch}};
    return out;
}

store::Write filing_of(const works::Series& series) {
    return filed(series.name, "", std::to_string(series.last));
}

store::Write filing_of(const works::Site& site) { return filed(kSiteId, "", site.name); }

}  // namespace bw::service
