// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "report/mixing_sheet.hpp"

#include <algorithm>
#include <iterator>

#include <fmt/format.h>

#include "report/code.hpp"
#include "report/house_style.hpp"
#include "report/table.hpp"

namespace bw::report {
namespace {

constexpr double kAfterTable = 4, kBeforeBox = 10;  // points
constexpr int kAmountsPart = 1, kReadingsPart = 2;

HouseStyle style_of(MixingFormat format, const Typeface& typeface) {
    constexpr double kTop = 16 * kMm, kBottom = 18 * kMm, kSideA5 = 14 * kMm, kSideA6 = 9 * kMm;
    constexpr double kBodyA5 = 8.6, kSmallA5 = 7, kTitleA5 = 18;
    constexpr double kBodyA6 = 7.8, kSmallA6 = 6.4, kTitleA6 = 14;
    if (format == MixingFormat::A5) {
        return {typeface, {kA5, kSideA5, kSideA5, kTop, kBottom}, kBodyA5, kSmallA5, kTitleA5};
    }
    return {typeface, {kA6, kSideA6, kSideA6, kTop, kBottom}, kBodyA6, kSmallA6, kTitleA6};
}

/// A column of "number unit" texts: the unit goes to the head where it is one for all.
struct Measures {
    std::vector<std::string> texts;
    std::string unit;
};

Measures measures(std::vector<std::string> texts) {
    Measures out{std::move(texts), {}};
    std::vector<std::string> numbers;
    std::string unit;
    for (const std::string& text : out.texts) {
        const std::size_t gap = text.find(' ');
        if (gap == std::string::npos || (!unit.empty() && text.substr(gap + 1) != unit)) {
            return out;
        }
        unit = text.substr(gap + 1);
        numbers.push_back(text.substr(0, gap));
    }
    return {numbers, unit};
}

Strips amounts(const MixingSheet& of, const HouseStyle& style) {
    std::vector<std::string> volumes, waters, salts;
    for (const MixingAmount& each : of.amounts) {
        volumes.push_back(each.volume);
        waters.push_back(each.water);
        salts.push_back(each.salt);
    }
    const std::vector<Measures> columns{measures(volumes), measures(waters), measures(salts)};
    constexpr const char* kHeads[] = {"Finished water", "Purified water", "Salt"};
    Table out;
    out.part = kAmountsPart;
    out.width = style.width();
    out.size = style.body;
    for (std::size_t c = 0; c < columns.size(); ++c) {
        out.columns.push_back(
            {kHeads[c], columns[c].unit, columns[c].unit.empty() ? Fit::Right : Fit::Figures});
    }
    for (std::size_t r = 0; r < of.amounts.size(); ++r) {
        Row row;
        for (const Measures& column : columns) {
            row.cells.push_back({column.texts[r]});
        }
        out.rows.push_back(row);
    }
    Strips strips = style.heading("How much salt");
    append(strips, table(out, style.typeface));
    keep_together(strips);
    return strips;
}

Strips readings(const MixingSheet& of, const HouseStyle& style) {
    Strips out = style.heading("What the instruments show when the water is right");
    if (!of.readings.empty()) {
        Table rows;
        rows.part = kReadingsPart;
        rows.width = style.width();
        rows.size = style.body;
        const auto any = [&](auto field) {
            return std::any_of(of.readings.begin(), of.readings.end(),
                               [&](const CheckReading& each) { return !(each.*field).empty(); });
        };
        struct Shown {
            const char* head;
            std::string unit;
            std::string CheckReading::*field;
        };
        const std::vector<Shown> all{
            {"Water", "°C", &CheckReading::temperature},
            {"Conductivity", "mS/cm", &CheckReading::conductivity},
            {"Hydrometer, relative density", of.density_reference, &CheckReading::relative_density},
            {"Refractometer, seawater dial", of.dial_unit, &CheckReading::dial_seawater},
            {"Refractometer, NaCl dial", of.dial_unit, &CheckReading::dial_sodium_chloride}};
        std::vector<Shown> shown;
        std::copy_if(all.begin(), all.end(), std::back_inserter(shown),
                     [&](const Shown& each) { return any(each.field); });
        for (const Shown& each : shown) {
            rows.columns.push_back({each.head, each.unit, Fit::Figures});
        }
        for (const CheckReading& reading : of.readings) {
            Row row;
            for (const Shown& each : shown) {
                const std::string& text = reading.*each.field;
                row.cells.push_back({text.empty() ? "–" : text});
            }
            rows.rows.push_back(row);
        }
        append(out, table(rows, style.typeface));
        keep_together(out);
    }
    Strips notes = style.sentences(of.instrument_notes);
    if (!notes.empty()) {
        notes.front().before = kAfterTable;
        append(out, std::move(notes));
    }
    return out;
}

/// The mixing rate in a tinted box, and beside it the square code.
Result<Strips> rate(const MixingSheet& of, const MixingWords& words, const HouseStyle& style) {
    constexpr double kCode = 62, kGap = 6, kInset = 9, kBig = 1.7, kLess = 1.15, kEdge = 3,
                     kRateLeading = 1.2, kBefore = 7;
    const double width = style.width() - kCode - kGap;
    const ParagraphForm inside{kInset, width - 2 * kInset, kRateLeading};
    Strips strips = paragraph(
        {{of.salt_per_litre, {Face::Bold, kBig * style.body, kInk}},
         {" of salt per litre of finished water", {Face::Regular, kLess * style.body, kInk}}},
        inside, style.typeface);
    append(strips, paragraph({{words.rate, style.style()}}, inside, style.typeface));
    Strip text = joined(strips);
    const double height = std::max(kCode, text.height + kInset);
    shift(text.items, 0, (height - text.height) / 2);
    BW_TRY(square, square_code(words.code_text, style.width() - kCode, 0, kCode));
    Strip out;
    out.before = kBefore;
    out.height = height;
    out.items.emplace_back(filled(rectangle(0, 0, width, height), kTint));
    out.items.emplace_back(filled(rectangle(0, 0, kEdge, height), kAccent));
    append(out.items, std::move(text.items));
    append(out.items, tagged("Figure", std::move(square)));
    return Strips{out};
}

Strips how_to_mix(const MixingWords& words, const HouseStyle& style) {
    std::vector<std::vector<Span>> actions;
    for (const MixingStep& step : words.steps) {
        actions.push_back({{step.lead + " ", style.style(Face::Bold)}, {step.rest, style.style()}});
    }
    Strips out = style.heading("How to mix");
    append(out, style.steps(actions));
    return out;
}

Strips after(const MixingWords& words, const HouseStyle& style) {
    Strips out = style.heading("If the water is cloudy");
    append(out, style.text(words.if_cloudy));
    append(out, style.heading("Storing an open container"));
    append(out, style.sentences(words.storing));
    return out;
}

std::string rate_words(const MixingSheet& of) {
    std::string out = fmt::format("{} per kg of purified water. The water then has {}",
                                  of.salt_per_kg_water, of.salinity);
    if (!of.practical_salinity.empty()) {
        out += fmt::format(", practical salinity {} by conductivity", of.practical_salinity);
    }
    if (!of.basis.empty()) {
        out += fmt::format(" (litres at {})", of.basis);
    }
    return out + ".";
}

std::vector<MixingStep> step_words(const MixingSheet& of) {
    std::string taking;
    for (const std::string& sentence : of.taking) {
        taking += " " + sentence;
    }
    std::vector<MixingStep> out{
        {"Shake or roll the container",
         "before you take part of it: large and small grains come apart on the way." + taking},
        {"Purified water first.",
         of.purified_water.empty()
             ? "Fill the vessel with the amount in the table."
             : "Fill the vessel with the amount in the table: " + of.purified_water + "."},
        {fmt::format("Bring it to {} to {} °C", of.temperature_low, of.temperature_high),
         "and stir."},
        {"Salt into water.",
         "Weigh the salt and strew it slowly into the stirred water. Never pour water onto salt."},
        {"Stir for " + of.stir_time + ",", "until no grain is left on the bottom."},
        {"Check the salinity",
         (of.wait_time.empty() ? std::string{} : "after a further " + of.wait_time + ", ") +
             "with one of the instruments below and its correction, at the temperature of the "
             "water."}};
    if (!of.use_within.empty()) {
        out.push_back({"Use the water", "within " + of.use_within + "."});
    }
    return out;
}

std::string cloudy_words(const MixingSheet& of) {
    const std::string contact =
        of.maker.contact.empty() ? "tell the maker" : "contact us: " + of.maker.contact;
    return fmt::format(
        "Cloudy water holds grains that have not dissolved yet, or a mineral that has come out. Go "
        "on stirring. If the water stays cloudy after {}: do not use it, keep the batch number and "
        "the container, and {}.",
        of.cloudy_after.empty() ? of.stir_time : of.cloudy_after, contact);
}

std::vector<std::string> storing_words(const MixingSheet& of) {
    std::vector<std::string> out{
        "Close it at once after use: the salt takes up water from the air, cakes, and then a gram "
        "of it holds less salt."};
    out.insert(out.end(), of.storing.begin(), of.storing.end());
    out.push_back("Use the salt by " + of.use_by + ".");
    return out;
}

std::string code_words(const MixingSheet& of) {
    if (!of.code_text.empty()) {
        return of.code_text;
    }
    return fmt::format(
        "{}\nBatch {}\n{} of salt per litre of finished water\n{} per kg of purified "
        "water\nSalinity {}\nUse by {}",
        of.product, of.batch, of.salt_per_litre, of.salt_per_kg_water, of.salinity, of.use_by);
}

Result<void> check(const MixingSheet& of) {
    BW_CHECK(check_needed({{"number", of.mark.number},
                           {"maker", of.maker.name},
                           {"product", of.product},
                           {"batch", of.batch},
                           {"use_by", of.use_by},
                           {"salinity", of.salinity},
                           {"salt_per_litre", of.salt_per_litre},
                           {"salt_per_kg_water", of.salt_per_kg_water},
                           {"temperature_low", of.temperature_low},
                           {"temperature_high", of.temperature_high},
                           {"stir_time", of.stir_time}}));
    if (of.safety.decided_by.empty()) {
        return fail(
            ProblemCode::Refused,
            "nobody has signed what the mixing sheet says on safety; a named person decides, "
            "also that nothing is said",
            {{}, 0, "safety.decided_by"});
    }
    if (of.amounts.empty()) {
        return fail(ProblemCode::BadInput, "a mixing sheet needs the salt for one volume at least",
                    {{}, 0, "amounts"});
    }
    return {};
}

}  // namespace

MixingWords mixing_words(const MixingSheet& of) {
    return {rate_words(of), step_words(of), cloudy_words(of), storing_words(of), code_words(of)};
}

Result<std::string> mixing_sheet_pdf(const MixingSheet& of, MixingFormat format) {
    BW_CHECK(check(of));
    const Typeface typeface;
    const HouseStyle style = style_of(format, typeface);
    Strips strips =
        style.opening("Mixing sheet for " + of.product, of.maker, {},
                      {{"Sheet", of.mark.number}, {"Batch", of.batch}, {"Use by", of.use_by}});
    const MixingWords words = mixing_words(of);
    BW_TRY(how_much, rate(of, words, style));
    append(strips, std::move(how_much));
    append(strips, how_to_mix(words, style));
    append(strips, amounts(of, style));
    append(strips, readings(of, style));
    append(strips, after(words, style));
    Strips safety = style.safety(of.safety, kMixingSubject);
    safety.front().before = kBeforeBox;
    append(strips, std::move(safety));
    const std::string about =
        fmt::format("{}  ·  batch {}  ·  use by {}", of.product, of.batch, of.use_by);
    BW_TRY(done, pages(strips, style.form, style.margins(of.mark, "Mixing sheet", about)));
    return pdf_bytes(done, style.form.size,
                     {"Mixing sheet " + of.mark.number,
                      of.maker.name,
                      fmt::format("{}, batch {}", of.product, of.batch),
                      {},
                      of.mark.created},
                     typeface);
}

}  // namespace bw::report
