// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <cmath>
#include <memory>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "cli/answer.hpp"
#include "cli/json_values.inl"
#include "cli/table.hpp"
#include "cli/vat_command.hpp"
#include "cli/vat_output.hpp"
#include "cli/vat_words.hpp"

namespace bw::cli {
namespace {

struct MixReport {
    std::string salt;
    brine::Mixed mixed;
    VatWater water, by_volume;
    std::optional<matter::Amounts> mol_per_kg;  ///< where a part's composition is on file
    std::vector<std::string> notices;
};

/// What the mixture holds, each part by its file or by the salt of the options.
Result<matter::Amounts> amounts_of(const VatMixArguments& a,
                                   const std::vector<WaterInHand>& waters) {
    std::vector<matter::Amounts> held;
    for (const WaterInHand& w : waters) {
        if (w.file) {
            held.push_back(w.file->mol_per_kg);
            continue;
        }
        BW_TRY(amounts, amounts_from_options(a.salt, w.in.vat.dissolved));
        held.push_back(std::move(amounts));
    }
    std::vector<service::PartOfMixture> parts;
    for (std::size_t i = 0; i < waters.size(); ++i) {
        parts.push_back({waters[i].in.vat.mass_kg, &held[i]});
    }
    return service::mixed_amounts(parts);
}

Result<MixReport> mixture_of(const VatMixArguments& a) {
    BW_TRY(law, law_from_options(a.salt));
    BW_TRY(t, parse_celsius("--at", a.at, *law));
    std::vector<WaterInHand> waters;
    std::vector<brine::MixedIn> parts;
    bool files = false;
    bool numbers = false;
    for (const std::string& phrase : a.waters) {
        BW_TRY(water, parse_water(*law, phrase, t, a.salt.materials));
        (water.file ? files : numbers) = true;
        waters.push_back(std::move(water));
        parts.push_back(waters.back().in);
        if (!waters.back().file) {
            parts.back().law = law.get();
        }
    }
    MixReport out;
    out.salt = numbers ? salt_in_words(a.salt, *law, false) : "by the files of the waters";
    std::unique_ptr<brine::SaltLaw> own;
    if (files) {
        BW_TRY(amounts, amounts_of(a, waters));
        BW_TRY(of_mixture, service::law_of_amounts(amounts));
        out.mol_per_kg = std::move(amounts);
        own = std::move(of_mixture);
        out.notices.emplace_back(
            "The amounts in files of waters count as exact. Nothing is taken to fall out or to go "
            "to the air on mixing.");
    }
    if (files && numbers) {
        out.notices.push_back(fmt::format(
            "What is given by its salinity alone is taken to have the composition of {}.",
            law->name()));
    }
    const brine::SaltLaw& mixture = own ? *own : *law;
    BW_TRY(mixed, brine::mix(mixture, parts));
    out.mixed = mixed;
    out.water = water_of(mixture, mixed.vat.dissolved);
    out.by_volume = water_of(mixture, mixed.weighted_by_volume);
    const std::vector<std::string> on = notices_on({out.water, out.by_volume});
    out.notices.insert(out.notices.begin(), on.begin(), on.end());
    return out;
}

std::string mix_json(const MixReport& r) {
    const brine::Mixed& m = r.mixed;
    Json out = {{"version", 1},
                {"temperature_degC", m.vat.temperature.value()},
                {"practical_salinity", json_number(r.water.practical)},
                {"salinity_g_per_kg", r.water.dissolved},
                {"standard_uncertainty_g_per_kg", m.u_dissolved_g_per_kg},
                {"mixed_kg", m.vat.mass_kg},
                {"mixed_L", m.litres},
                {"practical_salinity_weighted_by_volume", json_number(r.by_volume.practical)}};
    for (std::size_t i = 0; r.mol_per_kg && i < matter::constituent_count(); ++i) {
        const matter::Constituent c(i);
        if ((*r.mol_per_kg)[c] != 0) {
            out["mol_per_kg"][std::string(c.symbol())] = (*r.mol_per_kg)[c];
        }
    }
    out["notices"] = r.notices;
    return json_text(out);
}

std::string constituents_text(const matter::Amounts& mol_per_kg) {
    constexpr double kMilli = 1e3;
    constexpr int kDigits = 5;
    TextTable rows({{{""}, Align::Left}, {{""}, Align::Decimal}, {{""}, Align::Left}});
    for (std::size_t i = 0; i < matter::constituent_count(); ++i) {
        const matter::Constituent c(i);
        if (mol_per_kg[c] != 0) {
            rows.add({std::string(c.symbol()),
                      base::format_significant(mol_per_kg[c] * kMilli, kDigits),
                      c.is_alkalinity() ? "meq/kg" : "mmol/kg"});
        }
    }
    return rows.rows_only();
}

std::string mix_text(const MixReport& r) {
    const brine::Mixed& m = r.mixed;
    const VatScale in(m.vat.mass_kg);
    Sheet sheet;
    if (std::isfinite(r.water.practical)) {
        sheet.add_with_u("practical salinity S_P", r.water.practical,
                         m.u_dissolved_g_per_kg * r.water.practical / r.water.dissolved, 3, "");
    }
    sheet.add_with_u("dissolved salt", r.water.dissolved, m.u_dissolved_g_per_kg, 3, "g/kg");
    sheet.add("temperature", m.vat.temperature.value(), 2, "degC");
    sheet.add("mass", m.vat.mass_kg * in.by, places_to_weigh(m.vat.mass_kg * in.by), in.mass);
    sheet.add("volume", m.litres * in.by, places_to_weigh(m.litres * in.by), in.volume);
    if (std::isfinite(r.by_volume.practical)) {
        sheet.add("weighted by volume S_P would be", r.by_volume.practical, 3, "");
    }
    const std::string holds =
        r.mol_per_kg ? "\nIt holds\n" + constituents_text(*r.mol_per_kg) : std::string();
    return vat_head(r.salt, "The mixed water") + sheet.text() + holds + dashes(r.notices);
}

}  // namespace

int vat_mix(const VatMixArguments& a, const Streams& streams) {
    const auto report = mixture_of(a);
    if (!report) {
        return complain_of(report.error(), streams);
    }
    if (a.json || !a.quiet) {
        put(a.json ? mix_json(*report) : mix_text(*report), streams);
    }
    return 0;
}

}  // namespace bw::cli
