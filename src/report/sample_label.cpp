// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "report/sample_label.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "report/code.hpp"
#include "report/house_style.hpp"
#include "report/pdf.hpp"
#include "report/text.hpp"

namespace bw::report {
namespace {

constexpr double kWide = 70 * kMm, kTall = 36 * kMm, kMarginTop = 4.5 * kMm;
constexpr double kPad = 4 * kMm;
constexpr int kAcross = 3, kDown = 8, kOnSheet = kAcross * kDown;
constexpr std::size_t kMostLabels = 5000;

std::string joined_with(const std::vector<std::string>& parts, const char* between) {
    std::string out;
    for (const std::string& part : parts) {
        if (!part.empty()) {
            out += (out.empty() ? "" : between) + part;
        }
    }
    return out;
}

/// The lines below the number: one thing each beside a square code, fewer and longer above bars.
std::vector<std::string> lines_of(const SampleLabel& label, bool square) {
    const std::string increment = label.increment.empty() ? "" : "increment " + label.increment;
    const std::string taken = label.taken_at.empty() ? "" : "taken " + label.taken_at;
    const std::string by = label.taken_by.empty() ? "" : "by " + label.taken_by;
    const std::string keep = label.keep_until.empty() ? "" : "keep until " + label.keep_until;
    const std::string batch = "Batch " + label.batch;
    std::vector<std::string> out;
    if (square) {
        out = {label.product, batch, joined_with({increment, label.mass}, " · "), taken, by,
               label.kind,    keep};
    } else {
        out = {joined_with({batch, label.product}, " · "),
               joined_with({increment, label.mass, label.kind}, " · "),
               joined_with({taken, by}, " "), keep};
    }
    out.erase(std::remove(out.begin(), out.end(), std::string{}), out.end());
    return out;
}

/// One label with its top left corner at (x, y).
Result<Drawing> label_drawing(const SampleLabel& label, LabelCode code, bool invented, double x,
                              double y, const Typeface& typeface) {
    constexpr double kId = 12, kText = 7.6, kLine = 9.6, kSquare = 23 * kMm, kBars = 8.5 * kMm;
    constexpr double kSmallest = 0.62, kGap = 5, kCapital = 0.8, kBelowId = 3, kLower = 4;
    constexpr double kQuietZone = 6;  // white of the code itself, which may lie in the margin
    constexpr double kNoteType = 6;
    const bool square = code == LabelCode::Square;
    const double width = kWide - 2 * kPad - (square ? kSquare - kQuietZone + kGap : 0);
    Drawing out;
    const auto put = [&](double baseline, const std::string& text, const Style& style,
                         double room) -> Result<void> {
        const TextItem item = fitted({x + kPad, baseline, text, style}, room, kSmallest, typeface);
        if (item.text != text) {
            return fail(ProblemCode::TooLarge,
                        fmt::format("{} does not fit a label of 70 mm by 36 mm: shorten it",
                                    base::quoted(text)));
        }
        out.emplace_back(item);
        return {};
    };
    double baseline = y + kPad + kId * kCapital;
    BW_CHECK(put(baseline, label.id, {Face::Bold, kId, kInk}, kWide - 2 * kPad));
    for (const std::string& text : lines_of(label, square)) {
        baseline += kLine;
        const bool strong = text.starts_with("Batch ");
        BW_CHECK(put(baseline + kBelowId, text, {strong ? Face::Bold : Face::Regular, kText, kInk},
                     width));
    }
    if (square) {
        BW_TRY(drawn, square_code(label.id, x + kWide - kPad - kSquare + kQuietZone,
                                  y + kTall - kPad - kSquare + kQuietZone, kSquare));
        append(out, std::move(drawn));
    } else {
        BW_TRY(drawn, bar_code(label.id, x + kPad, y + kTall - kPad - kBars + kLower,
                               kWide - 2 * kPad, kBars));
        append(out, std::move(drawn));
    }
    if (invented) {
        out.emplace_back(TextItem{x + kWide - kPad,
                                  y + kPad + 1,
                                  "INVENTED",
                                  {Face::Bold, kNoteType, kInk},
                                  Anchor::End});
    }
    return out;
}

Result<void> check(const SampleLabels& of) {
    BW_CHECK(check_needed({{"created", of.mark.created}}));
    if (of.labels.empty() || of.labels.size() > kMostLabels) {
        return fail(
            of.labels.empty() ? ProblemCode::BadInput : ProblemCode::TooLarge,
            fmt::format("{} labels; 1 to {} are printed at once", of.labels.size(), kMostLabels),
            {{}, 0, "labels"});
    }
    if (of.skip < 0 || of.skip >= kOnSheet) {
        return fail(
            ProblemCode::OutOfRange,
            fmt::format("{} places to skip; a sheet has {} labels, so 0 to {} can be used up",
                        of.skip, kOnSheet, kOnSheet - 1),
            {{}, 0, "skip"});
    }
    for (const SampleLabel& label : of.labels) {
        BW_CHECK(check_needed({{"id", label.id}, {"batch", label.batch}}));
    }
    return {};
}

}  // namespace

Result<std::string> sample_labels_pdf(const SampleLabels& of) {
    BW_CHECK(check(of));
    const Typeface typeface;
    const bool sheet = of.stock == LabelStock::SheetA4;
    std::vector<Drawing> done;
    int place = sheet ? of.skip : 0;
    for (const SampleLabel& label : of.labels) {
        const int on_page = sheet ? place % kOnSheet : 0;
        if (on_page == 0 || done.empty()) {
            done.emplace_back();
        }
        const double x = on_page % kAcross * kWide;
        const int row = on_page / kAcross;
        const double y = sheet ? kMarginTop + static_cast<double>(row) * kTall : 0;
        BW_TRY(drawn, label_drawing(label, of.code, of.mark.invented, x, y, typeface));
        append(done.back(), tagged("P", std::move(drawn)));
        ++place;
    }
    return pdf_bytes(done, sheet ? kA4 : PageSize{kWide, kTall},
                     {"Sample labels " + of.mark.number, {}, {}, {}, of.mark.created}, typeface);
}

}  // namespace bw::report
