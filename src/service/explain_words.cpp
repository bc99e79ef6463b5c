// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/explain_words.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "unit/factors.hpp"

namespace bw::service {
namespace {

constexpr int kDigits = 3;

std::string percent(double share) {
    return base::format_short(std::abs(share) * unit::kPercent, kDigits);
}

std::string sized(const assay::Explanation& e) {
    const auto both =
        base::format_with_uncertainty(std::abs(e.size) * unit::kPercent, e.u_size * unit::kPercent);
    return fmt::format("{} % too {}", both.text(), e.size < 0 ? "little" : "much");
}

/// The line of the sheet that a cause names: "magnesium chloride, lot M26-0011".
const works::Addition* addition_of(const works::BatchFile& file, const std::string& of) {
    for (const works::Addition& a : file.batch.additions) {
        if (fmt::format("{}, lot {}", a.material, a.lot) == of) {
            return &a;
        }
    }
    return nullptr;
}

std::string amount_words(const assay::Explanation& e, const works::BatchFile& file) {
    std::string out = fmt::format("{} of {}", sized(e), e.of);
    if (const works::Addition* a = addition_of(file, e.of)) {
        out += fmt::format(" (step {}: {} kg of {} kg)", a->step,
                           base::format_short(std::abs(e.size) * a->target_kg, kDigits),
                           base::format_short(a->target_kg, kDigits));
    }
    return out +
           ": weighed or charged so, or the lot's assay is off by as much. The tests cannot "
           "part the two; the lot's own identity test and its bag's mass can.";
}

std::string verdict_words(const BatchExplanation& x, const works::BatchFile& file) {
    const assay::Diagnosis& d = x.diagnosis;
    const std::string chi =
        fmt::format("chi squared {} of {} elements, and chance gives up to {}",
                    base::format_short(d.chi_squared, kDigits), x.pattern.size(),
                    base::format_short(d.chi_squared_most, kDigits));
    switch (d.verdict) {
        case assay::DiagnosisVerdict::Nothing:
            return "No fault is to be seen: the pattern is within the scatter of the tests (" +
                   chi + ").";
        case assay::DiagnosisVerdict::Found:
            return sentence_of(d.explanations.front(), file) + " Weight " +
                   percent(d.explanations.front().weight) + " %; " + chi + ".";
        case assay::DiagnosisVerdict::CannotTell:
            return "Something is off (" + chi +
                   "), and these tests cannot tell what: several causes fit as well as one "
                   "another.";
        case assay::DiagnosisVerdict::Unexplained:
            break;
    }
    return "Something is off (" + chi +
           "), and no single cause explains it: there may be two, or a result is wrong.";
}

void add_test(const BatchExplanation& x, std::vector<std::string>& out) {
    const assay::Diagnosis& d = x.diagnosis;
    if (d.verdict != assay::DiagnosisVerdict::CannotTell || !d.test_element ||
        d.explanations.size() < 2) {
        return;
    }
    out.push_back(fmt::format(
        "What would decide: a better result for {}. There the first two causes differ by {} of "
        "its standard uncertainties.",
        x.pattern[*d.test_element].symbol, base::format_short(d.parted_by, kDigits)));
    for (const assay::Explanation& e : {d.explanations[0], d.explanations[1]}) {
        if (e.kind == assay::FaultKind::Calibration) {
            out.push_back(fmt::format(
                "Or test {} by a second method: a calibration shows in one method alone, a "
                "material in both.",
                e.of));
        }
    }
}

void add_spread(const PortionSpread& s, std::vector<std::string>& out) {
    if (s.freedom == 0) {
        out.push_back("Only one test portion: whether the sample is mixed is not known.");
    } else if (s.unmixed()) {
        out.push_back(fmt::format(
            "The test portions differ by more than the methods repeat (chi squared {}, and chance "
            "gives up to {}): the sample or the batch is not mixed, or one portion was dissolved "
            "or diluted wrongly. Dissolve two more before anything else is concluded.",
            base::format_short(s.chi_squared, kDigits), base::format_short(s.most, kDigits)));
    } else {
        out.push_back(fmt::format(
            "The test portions agree as the methods repeat (chi squared {}, "
            "at most {}).",
            base::format_short(s.chi_squared, kDigits), base::format_short(s.most, kDigits)));
    }
}

}  // namespace

std::string sentence_of(const assay::Explanation& e, const works::BatchFile& file) {
    switch (e.kind) {
        case assay::FaultKind::Amount:
            return amount_words(e, file);
        case assay::FaultKind::LeftOut:
            return e.of + " is missing altogether.";
        case assay::FaultKind::Twice:
            return e.of + " was charged twice.";
        case assay::FaultKind::OtherForm:
            return fmt::format("Another form was weighed: {}.", e.of);
        case assay::FaultKind::Premix:
            return fmt::format("{} of the premix ({}): all that went in by it is off alike.",
                               sized(e), e.of);
        case assay::FaultKind::Strength:
            return fmt::format(
                "All elements are {} alike: the salinity or the dilution that they "
                "are brought to strength by is off, not the batch.",
                sized(e));
        case assay::FaultKind::Calibration:
            break;
    }
    return fmt::format(
        "{} reads {} by itself: its own calibration or dilution is off, not the "
        "batch.",
        e.of, sized(e));
}

std::vector<std::string> sentences_of(const BatchExplanation& x, const works::BatchFile& file) {
    constexpr std::size_t kMostShown = 4;
    constexpr double kLeastShown = 0.02;
    std::vector<std::string> out = {verdict_words(x, file)};
    const bool found = x.diagnosis.verdict == assay::DiagnosisVerdict::Found;
    if (x.diagnosis.verdict != assay::DiagnosisVerdict::Nothing) {
        const auto& all = x.diagnosis.explanations;
        for (std::size_t i = found ? 1 : 0; i < std::min(all.size(), kMostShown); ++i) {
            if (all[i].weight >= kLeastShown) {
                out.push_back(
                    fmt::format("{} %: {}", percent(all[i].weight), sentence_of(all[i], file)));
            }
        }
    }
    add_test(x, out);
    add_spread(x.spread, out);
    return out;
}

}  // namespace bw::service
