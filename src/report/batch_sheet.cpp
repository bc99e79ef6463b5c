// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "report/batch_sheet.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "report/figure.hpp"
#include "report/house_style.hpp"
#include "report/table.hpp"

namespace bw::report {
namespace {

constexpr double kBoxHeight = 23;  // points: room to write in
constexpr double kAfterText = 4, kAfterTable = 6, kBeforeBox = 8;
constexpr int kColumns = 3;
constexpr std::size_t kMostAdditions = 300;

PageForm form() {
    constexpr double kSide = 18 * kMm, kTop = 19 * kMm, kBottom = 20 * kMm;
    return {{kA4.height, kA4.width}, kSide, kSide, kTop, kBottom};
}

/// The unit of all additions, or nothing where they differ.
std::string one_unit(const std::vector<SheetAddition>& additions) {
    for (const SheetAddition& each : additions) {
        if (each.unit != additions.front().unit) {
            return {};
        }
    }
    return additions.empty() ? std::string{} : additions.front().unit;
}

std::string scale_of(const SheetAddition& addition) {
    if (addition.scale.empty()) {
        return addition.resolution;
    }
    return addition.resolution.empty()
               ? addition.scale
               : fmt::format("{}, shows {}", addition.scale, addition.resolution);
}

std::string material_of(const SheetAddition& addition) {
    return addition.parts < 2 ? addition.material
                              : fmt::format("{}, in {} parts of about {} {}", addition.material,
                                            addition.parts, addition.part, addition.unit);
}

std::vector<Cell> recorded(const SheetWeighing& weighing) {
    Cell net{weighing.net}, tare{weighing.tare};
    net.note = weighing.by_hand ? "*" : "";
    Cell verdict;
    if (!weighing.net.empty() && !weighing.whole) {
        verdict.text = "part";
    } else if (!weighing.net.empty()) {
        verdict.status = weighing.outside ? Status::Outside : Status::Within;
    }
    return {net, tare, {weighing.by}, {weighing.at}, verdict};
}

/// One table of additions, a row for each weighing.
Strips weighings(const std::vector<SheetAddition>& additions, int part, const HouseStyle& style) {
    const std::string unit = one_unit(additions);
    const bool units = unit.empty();
    Table out;
    out.part = part;
    out.width = style.width();
    out.grid = true;
    out.box_height = kBoxHeight;
    out.columns = {{"Step", {}, Fit::Words, 0, 0},
                   {"Material", {}, Fit::Words, 0, 2},
                   {"Lot", {}, Fit::Words, 0, 0},
                   {"Target", unit, Fit::Figures},
                   {"Tolerance", unit.empty() ? "±" : "± " + unit, Fit::Figures},
                   {"Scale", {}, Fit::Words, 0, 0},
                   {"Net", unit, Fit::Figures, 52},
                   {"Tare", unit, Fit::Figures, 46},
                   {"By", {}, Fit::Box, 52, 1},
                   {"At", {}, Fit::Box, 58, 1},
                   {"Verdict", {}, Fit::Status, 66}};
    constexpr std::ptrdiff_t kUnitAt = 3;
    if (units) {
        out.columns.insert(out.columns.begin() + kUnitAt, Column{"Unit", {}, Fit::Words, 0, 0});
    }
    bool by_hand = false;
    std::vector<std::string> corrections;
    for (const SheetAddition& each : additions) {
        const std::size_t rows = std::max({each.weighings.size(), each.parts, std::size_t{1}});
        for (std::size_t i = 0; i < rows; ++i) {
            const bool first = i == 0;
            Row row;
            row.cells =
                first ? std::vector<Cell>{{each.step, {}, {}, Face::Bold},
                                          {material_of(each), {}, {}, Face::Bold},
                                          {each.lot},
                                          {each.target},
                                          {each.tolerance},
                                          {scale_of(each)}}
                      : std::vector<Cell>{{}, {fmt::format("part {}", i + 1)}, {}, {}, {}, {}};
            if (units) {
                row.cells.insert(row.cells.begin() + kUnitAt, Cell{first ? each.unit : ""});
            }
            const SheetWeighing none;
            const SheetWeighing& weighing = i < each.weighings.size() ? each.weighings[i] : none;
            by_hand = by_hand || weighing.by_hand;
            if (!weighing.correction.empty()) {
                corrections.push_back(
                    fmt::format("Step {}, part {}: {}", each.step, i + 1, weighing.correction));
            }
            const std::vector<Cell> cells = recorded(weighing);
            row.cells.insert(row.cells.end(), cells.begin(), cells.end());
            out.rows.push_back(std::move(row));
        }
    }
    Strips strips = table(out, style.typeface);
    if (by_hand) {
        strips.back().with_next = true;
        append(strips, style.quiet("*  typed by hand, not read from the scale", 3));
    }
    for (const std::string& each : corrections) {
        strips.back().with_next = true;
        append(strips, style.quiet(each, 3));
    }
    return strips;
}

Strips premix_block(const SheetPremix& premix, int part, const HouseStyle& style) {
    Strips out = style.heading("Premix by steps, each about as much again as is in the vessel: " +
                               premix.name);
    if (!premix.vessel.empty()) {
        append(out, style.text("Vessel: " + premix.vessel));
        out.back().with_next = true;
    }
    Strips rows = weighings(premix.additions, part, style);
    rows.front().before = premix.vessel.empty() ? 0 : kAfterText;
    append(out, std::move(rows));
    std::vector<std::vector<Span>> actions;
    for (const std::string& step : premix.steps) {
        actions.push_back({{step, style.style()}});
    }
    Strips steps = style.steps(actions);
    if (!steps.empty()) {
        steps.front().before = kAfterTable;
        append(out, std::move(steps));
    }
    return out;
}

/// All that is weighed, each premix where it is made.
Strips weighing_order(const BatchSheet& of, int& part, const HouseStyle& style) {
    Strips out;
    std::size_t done = 0;
    const auto weigh_until = [&](std::size_t end) {
        end = std::min(end, of.additions.size());
        if (end <= done) {
            return;
        }
        const auto first = of.additions.begin();
        append(out, style.heading(done == 0 ? "Weigh in this order" : "Go on weighing"));
        append(out, weighings({first + static_cast<std::ptrdiff_t>(done),
                               first + static_cast<std::ptrdiff_t>(end)},
                              ++part, style));
        done = end;
    };
    for (const SheetPremix& premix : of.premixes) {
        weigh_until(premix.after);
        append(out, premix_block(premix, ++part, style));
    }
    weigh_until(of.additions.size());
    return out;
}

Strips blending(const BatchSheet& of, int& part, const HouseStyle& style) {
    if (of.steps.empty()) {
        return {};
    }
    Strips out = style.heading("Blending, sieving and what is read meanwhile");
    Table steps;
    steps.part = ++part;
    steps.width = style.width();
    steps.grid = true;
    steps.box_height = kBoxHeight;
    steps.columns = {{"What", {}, Fit::Words, 0, 1},
                     {"Wanted", {}, Fit::Words, 0, 2},
                     {"Found", {}, Fit::Box, 120, 1},
                     {"By", {}, Fit::Box, 90, 0},
                     {"At", {}, Fit::Box, 80, 0}};
    for (const SheetStep& each : of.steps) {
        steps.rows.push_back(
            {{{each.what, {}, {}, Face::Bold}, {each.wanted}, {each.found}, {each.by}, {each.at}},
             {}});
    }
    append(out, table(steps, style.typeface));
    return out;
}

Strips departures(const BatchSheet& of, int& part, const HouseStyle& style) {
    Strips out = style.heading("Departures");
    constexpr int kEmptyRows = 3;
    Table rows;
    rows.part = ++part;
    rows.width = style.width();
    rows.grid = true;
    rows.box_height = kBoxHeight;
    rows.columns = {{"Number", {}, Fit::Words, 70, 0},
                    {"What happened", {}, Fit::Words, 0, 3},
                    {"Answer", {}, Fit::Words, 0, 3},
                    {"State", {}, Fit::Box, 60, 0}};
    for (const SheetDeparture& each : of.departures) {
        rows.rows.push_back({{{each.number}, {each.what}, {each.answer}, {each.state}}, {}});
    }
    if (of.departures.empty()) {
        append(out, style.text("None recorded. Further ones are written here:"));
        out.back().with_next = true;
        rows.rows.assign(kEmptyRows, Row{{{}, {}, {}, {}}, {}});
    }
    append(out, table(rows, style.typeface));
    return out;
}

Strips yield_block(const BatchSheet& of, int& part, const HouseStyle& style) {
    Strips out = style.heading("Yield");
    Table row;
    row.part = ++part;
    row.width = style.width();
    row.grid = true;
    row.box_height = kBoxHeight;
    row.columns = {{"In", "kg", Fit::Box},          {"Out, packed", "kg", Fit::Box},
                   {"Samples", "kg", Fit::Box},     {"Sweepings", "kg", Fit::Box},
                   {"Unexplained", "kg", Fit::Box}, {"Out of in", "%", Fit::Box}};
    const SheetYield& y = of.yield;
    Row cells;
    for (const std::string* each :
         {&y.in, &y.out, &y.samples, &y.sweepings, &y.unexplained, &y.share}) {
        cells.cells.push_back({printed(*each)});
    }
    row.rows = {cells};
    append(out, table(row, style.typeface));
    keep_together(out);
    return out;
}

Result<void> check(const BatchSheet& of) {
    BW_CHECK(check_needed({{"number", of.mark.number},
                           {"maker", of.maker.name},
                           {"batch", of.batch},
                           {"product", of.product},
                           {"recipe_version", of.recipe_version}}));
    std::size_t additions = of.additions.size();
    for (const SheetPremix& premix : of.premixes) {
        additions += premix.additions.size();
    }
    if (of.additions.empty() || additions > kMostAdditions) {
        return fail(additions == 0 ? ProblemCode::BadInput : ProblemCode::TooLarge,
                    fmt::format("a batch sheet holds 1 to {} additions, this one {}",
                                kMostAdditions, additions),
                    {{}, 0, "additions"});
    }
    return {};
}

}  // namespace

Result<std::string> batch_sheet_pdf(const BatchSheet& of) {
    BW_CHECK(check(of));
    const Typeface typeface;
    constexpr double kBody = 9;
    const HouseStyle style{typeface, form(), kBody};
    Strips strips =
        style.opening("Batch sheet " + of.batch, of.maker, {},
                      {{"Sheet", of.mark.number},
                       {"Product", of.product},
                       {"Recipe", of.recipe.empty() ? of.recipe_version
                                                    : of.recipe + " version " + of.recipe_version},
                       {"Size", of.size}});
    Strips first = style.facts({{"Planned on", of.planned_on},
                                {"State", of.state},
                                {"Line", of.line},
                                {"Vessel", of.vessel},
                                {"Product before", of.previous_product}},
                               kColumns);
    append(strips, std::move(first));
    Strips safety = style.safety(of.safety, "the materials of this batch");
    safety.front().before = kBeforeBox;
    append(strips, std::move(safety));
    if (!of.before_start.empty()) {
        append(strips, style.heading("Before the start"));
        append(strips, style.checks(of.before_start));
    }
    int part = 0;
    append(strips, weighing_order(of, part, style));
    append(strips, blending(of, part, style));
    if (!of.sampling.empty()) {
        append(strips, style.heading("Samples"));
        append(strips, style.sentences(of.sampling));
    }
    append(strips, departures(of, part, style));
    append(strips, yield_block(of, part, style));
    Strips signs = style.heading("Signed");
    append(signs, style.signatures(of.signatures, kColumns));
    keep_together(signs);
    if (!of.signatures.empty()) {
        append(strips, std::move(signs));
    }
    const std::string about = fmt::format("Batch sheet  ·  {}  ·  batch {}  ·  recipe version {}",
                                          of.product, of.batch, of.recipe_version);
    BW_TRY(done, pages(strips, style.form, style.margins(of.mark, "Batch sheet", about)));
    return pdf_bytes(done, style.form.size,
                     {"Batch sheet " + of.mark.number,
                      of.maker.name,
                      fmt::format("{}, batch {}", of.product, of.batch),
                      {},
                      of.mark.created},
                     typeface);
}

}  // namespace bw::report
