// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// blend scatter and blend budget as text and as JSON.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "cli/answer.hpp"
#include "cli/blend_scatter_command.hpp"
#include "cli/blend_words.hpp"
#include "cli/json_values.inl"
#include "unit/factors.hpp"

namespace bw::cli {
namespace {

using Json = nlohmann::ordered_json;
using service::BlendScatterReport;
using service::ScatterRemedy;

constexpr double kMm = 1e3;

std::string signed_percent(double share) {
    constexpr double kNothing = 0.005;
    return std::abs(share) < kNothing ? "0" : fmt::format("{:+.0f}", share * unit::kPercent);
}

/// "7.3", or "7.3 (5 to 12)" where the data leave more than a tenth open.
std::string scatter(const blend::Bounded& s) {
    constexpr double kOpen = 1.1;
    const bool open = s.high > kOpen * s.expected || s.expected > kOpen * s.low;
    return open ? fmt::format("{} ({} to {})", percent_words(s.expected), percent_words(s.low),
                              percent_words(s.high))
                : percent_words(s.expected);
}

/// A chance in percent; what is below one in ten thousand is not told apart.
std::string chance(double share) {
    constexpr double kRare = 1e-4;
    return share < kRare ? "<0.01" : percent_words(share);
}

std::string size_mm(double m) { return base::format_short(m * kMm, 2); }

std::string remedy_table(const BlendScatterReport& r) {
    TextTable table({{{"constituent", ""}, Align::Left},
                     {{"scattered mostly by", ""}, Align::Left},
                     {{"median", "now, mm"}, Align::Left},
                     {{"enough,", "mm"}, Align::Left},
                     {{"or all grains", "smaller by"}, Align::Left},
                     {{"sprayed,", "leaves %"}, Align::Left},
                     {{"or portions", "of"}, Align::Left}});
    for (const service::ConstituentScatter& c : r.constituents) {
        if (!c.remedy) {
            continue;
        }
        const ScatterRemedy& m = *c.remedy;
        table.add({std::string(c.constituent.symbol()), m.material,
                   m.d50_m > 0 ? size_mm(m.d50_m) : "not stated",
                   m.finer_d50_m ? size_mm(*m.finer_d50_m) : "not alone",
                   base::format_short(1 / m.all_finer, 2),
                   m.bound_sd ? percent_words(*m.bound_sd) : "no: " + m.no_carrier,
                   m.portion_kg ? mass_words(*m.portion_kg) : "none"});
    }
    return table.text();
}

std::string chance_table(const BlendScatterReport& r) {
    std::vector<Column> columns{{{"constituent"}, Align::Left}};
    for (const double portion : r.portions_kg) {
        columns.push_back({{mass_words(portion), "scatter, %"}, Align::Left});
        columns.push_back({{"outside", "of 100"}, Align::Right});
    }
    TextTable table(columns);
    for (const service::ConstituentScatter& c : r.constituents) {
        std::vector<std::string> row{std::string(c.constituent.symbol())};
        for (std::size_t i = 0; i < r.portions_kg.size(); ++i) {
            row.push_back(scatter(c.relative_sd[i]));
            row.push_back(chance(c.outside[i]));
        }
        table.add(row);
    }
    return table.text();
}

/// The material behind each constituent's scatter.
std::string sources_text(const BlendScatterReport& r) {
    std::string out;
    for (const service::ConstituentScatter& c : r.constituents) {
        if (!c.shares.empty()) {
            out += fmt::format("{}{} {} {} %", out.empty() ? "Mostly from: " : "; ",
                               c.constituent.symbol(), base::one_line(c.shares[0].material),
                               percent_words(c.shares[0].share));
        }
    }
    return out.empty() ? "" : wrapped("  * ", out + ".");
}

std::string layers_table(const BlendScatterReport& r) {
    TextTable screen({{{"material", ""}, Align::Left},
                      {{"median to", "bed's"}, Align::Decimal},
                      {{"rises", "%"}, Align::Right},
                      {{"falls", "%"}, Align::Right},
                      {{"below 0.1 mm", "%"}, Align::Right},
                      {{"", ""}, Align::Left}});
    for (const blend::SortingLine& line : r.layering.lines) {
        screen.add({r.parts[line.part], base::format_places(line.median_ratio, 2),
                    percent_words(line.rises), percent_words(line.falls),
                    percent_words(line.clings), std::string(name(line.risk))});
    }
    TextTable thirds({{{"constituent", ""}, Align::Left},
                      {{"shaken: top", "%"}, Align::Right},
                      {{"middle", "%"}, Align::Right},
                      {{"bottom", "%"}, Align::Right},
                      {{"sorted: top", "%"}, Align::Right},
                      {{"middle", "%"}, Align::Right},
                      {{"bottom", "%"}, Align::Right}});
    for (const service::ConstituentScatter& c : r.constituents) {
        thirds.add({std::string(c.constituent.symbol()), signed_percent(c.shaken.top),
                    signed_percent(c.shaken.middle), signed_percent(c.shaken.bottom),
                    signed_percent(c.sorted.top), signed_percent(c.sorted.middle),
                    signed_percent(c.sorted.bottom)});
    }
    return screen.text() + "\nThirds of the container against the blend, at most\n" + thirds.text();
}

std::string layers_text(const BlendScatterReport& r) {
    if (r.layering.lines.empty()) {
        return "\nLayers: not known, for no grain sizes are stated\n";
    }
    std::string out = fmt::format("\nLayers: coarse above fine, in a bed with a median of {} mm\n",
                                  base::format_short(r.layering.bed_median_m * kMm, 2));
    out += layers_table(r);
    out += wrapped("  * ",
                   "Shaken: grains above 2.8 times the bed's median have all risen, those "
                   "below it as often have all fallen [jullien-1992]. Sorted: all grains lie "
                   "by size; nothing can be worse. How far a way to the user goes between "
                   "none and these bounds is not known. Tumbling takes a container back "
                   "towards chance alone, though grains as unlike as these sort again when "
                   "they are poured; a container dissolved whole has no layers.");
    if (r.layering.lines.size() < r.parts.size()) {
        out +=
            "  * Materials without sizes are taken to stay where they are: with them it may be "
            "worse.\n";
    }
    return out;
}

Json bounded(const blend::Bounded& b) {
    return {{"expected", json_number(b.expected)},
            {"low", json_number(b.low)},
            {"high", json_number(b.high)}};
}

Json thirds_json(const blend::Thirds& t) {
    return {{"top", json_number(t.top)},
            {"middle", json_number(t.middle)},
            {"bottom", json_number(t.bottom)}};
}

}  // namespace

std::string scatter_text(const BlendScatterReport& r) {
    std::string out =
        fmt::format("{}: portions from a container of {}, of a batch of {}{}\n",
                    base::one_line(r.recipe), mass_words(r.container_kg), mass_words(r.batch_kg),
                    r.invented ? "; the recipe is invented" : "");
    out += fmt::format(
        "\nChance alone, mixed as well as can be: standard deviation among portions, and how many "
        "of "
        "100\nlie beyond {} %\n",
        percent_words(r.wanted));
    out += chance_table(r);
    out += sources_text(r);
    const bool any = std::any_of(r.constituents.begin(), r.constituents.end(),
                                 [](const auto& c) { return c.remedy.has_value(); });
    if (any) {
        out += fmt::format("\nWhat brings 95 of 100 portions of {} within {} %, each alone\n",
                           mass_words(r.portions_kg.front()), percent_words(r.wanted));
        out += remedy_table(r);
        out += wrapped("  * ",
                       "A dry premix moves grains, it does not make more of them: it cannot "
                       "bring a constituent below the scatter above. Grinding, or a solution "
                       "sprayed onto a carrier and dried, can.");
    }
    out += layers_text(r);
    out += bullets(sentences_of(r.notices));
    return out;
}

std::string scatter_json(const BlendScatterReport& r) {
    Json constituents = Json::array();
    const bool known = !r.layering.lines.empty();
    for (const service::ConstituentScatter& c : r.constituents) {
        Json sd = Json::array(), shares = Json::array(), remedy;
        for (const blend::Bounded& b : c.relative_sd) {
            sd.push_back(bounded(b));
        }
        for (const service::ScatterShare& s : c.shares) {
            shares.push_back({{"material", s.material}, {"share", json_number(s.share)}});
        }
        if (c.remedy) {
            const ScatterRemedy& m = *c.remedy;
            const auto mm = [](std::optional<double> size) {
                return size ? json_number(*size * kMm) : Json(nullptr);
            };
            remedy = {{"material", m.material},
                      {"median_mm", mm(m.d50_m)},
                      {"finer_median_mm", mm(m.finer_d50_m)},
                      {"all_grains_times", json_number(m.all_finer)},
                      {"carrier", m.carrier},
                      {"no_carrier", m.no_carrier},
                      {"relative_sd_on_carrier", json_number(m.bound_sd)},
                      {"portion_kg", json_number(m.portion_kg)}};
        }
        constituents.push_back({{"symbol", c.constituent.symbol()},
                                {"mol_per_kg_blend", json_number(c.mol_per_kg)},
                                {"relative_sd", sd},
                                {"outside", c.outside},
                                {"from", shares},
                                {"remedy", remedy},
                                {"shaken", known ? thirds_json(c.shaken) : Json(nullptr)},
                                {"sorted", known ? thirds_json(c.sorted) : Json(nullptr)}});
    }
    Json materials = Json::array();
    for (std::size_t i = 0; i < r.parts.size(); ++i) {
        Json one{
            {"material", r.parts[i]}, {"share", json_number(r.shares[i])}, {"sorting", nullptr}};
        for (const blend::SortingLine& line : r.layering.lines) {
            if (line.part == i) {
                one["sorting"] = {{"median_to_bed", json_number(line.median_ratio)},
                                  {"rises", json_number(line.rises)},
                                  {"falls", json_number(line.falls)},
                                  {"sifts", json_number(line.sifts)},
                                  {"clings", json_number(line.clings)},
                                  {"risk", name(line.risk)}};
            }
        }
        materials.push_back(std::move(one));
    }
    const Json out = {
        {"version", 1},
        {"recipe", r.recipe},
        {"invented", r.invented},
        {"portions_kg", r.portions_kg},
        {"container_kg", r.container_kg},
        {"batch_kg", r.batch_kg},
        {"wanted", r.wanted},
        {"bed_median_mm", known ? json_number(r.layering.bed_median_m * kMm) : Json(nullptr)},
        {"constituents", constituents},
        {"materials", materials},
        {"notices", json_coded_notices(r.notices)}};
    return json_text(out);
}

}  // namespace bw::cli
