// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/explain_words.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
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

std::string amount_words(const assay::Explanation& e, const works::BatchFile& file) {
    std::string out = fmt::format("{} of {}", sized(e), e.of);
    std::vector<std::string> steps;
    double kg = 0;
    for (const works::Addition& a : file.batch.additions) {
        if (cause_name(a) == e.of) {
            steps.push_back(std::to_string(a.step));
            kg += a.target_kg;
        }
    }
    if (!steps.empty()) {
        out += fmt::format(" (step {}: {} kg of {} kg)", base::join_words(steps),
                           base::format_short(std::abs(e.size) * kg, kDigits),
                           base::format_short(kg, kDigits));
    }
    switch (e.source) {
        case assay::AmountSource::Weighing:
            return out + fmt::format(
                             ": weighed or charged so. It is not its lot: that would leave "
                             "the other elements as they are, and they are {}.",
                             e.size < 0 ? "higher" : "lower");
        case assay::AmountSource::Lot:
            return out + fmt::format(
                             ": its lot holds so much {} than stated. It was not weighed "
                             "so: that would make the other elements {}, and they are "
                             "not.",
                             e.size < 0 ? "less" : "more", e.size < 0 ? "higher" : "lower");
        case assay::AmountSource::Either:
            break;
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

/// The premix that an explanation names: its own begins with the first that goes into it.
const char* vessel_of(const assay::Explanation& e, const works::Batch& batch) {
    for (const works::Addition& a : batch.additions) {
        if (a.into == works::kPremix) {
            return e.of.starts_with(cause_name(a) + ",") ? works::kPremix : works::kLatePremix;
        }
    }
    return works::kLatePremix;
}

/// What an explanation does to an element of the batch, relative to what it should hold.
double effect_on(const works::ElementShare& element, const assay::Explanation& e,
                 const works::Batch& batch) {
    if (e.kind == assay::FaultKind::Strength) {
        return e.size;
    }
    if (e.kind == assay::FaultKind::Calibration) {
        return e.of == element.symbol ? e.size : 0;
    }
    double share = 0;
    const char* premix = vessel_of(e, batch);
    for (std::size_t k = 0; k < batch.additions.size(); ++k) {
        const works::Addition& a = batch.additions[k];
        const bool of_it =
            e.kind == assay::FaultKind::Premix ? a.into == premix : cause_name(a) == e.of;
        share += of_it ? element.by_step[k] : 0;
    }
    return share * e.size;
}

/// Elements not tested yet in which the first two causes would differ most.
std::vector<std::string> parting_elements(const BatchExplanation& x, const works::Batch& batch) {
    constexpr double kSeen = 0.03;  // a difference that two tests of 1 % see
    constexpr std::size_t kMost = 3;
    const auto& causes = x.diagnosis.explanations;
    std::vector<std::pair<double, std::string>> found;
    for (const works::ElementShare& element : batch.shares) {
        const bool tested =
            std::any_of(x.pattern.begin(), x.pattern.end(),
                        [&](const PatternLine& line) { return line.symbol == element.symbol; });
        const double apart =
            std::abs(effect_on(element, causes[0], batch) - effect_on(element, causes[1], batch));
        if (!tested && apart > kSeen) {
            found.emplace_back(-apart, element.symbol);
        }
    }
    std::sort(found.begin(), found.end());
    std::vector<std::string> out;
    for (const auto& [apart, symbol] : found) {
        if (out.size() < kMost) {
            out.push_back(symbol);
        }
    }
    return out;
}

void add_test(const BatchExplanation& x, const works::Batch& batch, std::vector<std::string>& out) {
    constexpr double kParts = 2;  // standard uncertainties that a test should move by
    const assay::Diagnosis& d = x.diagnosis;
    if (d.verdict != assay::DiagnosisVerdict::CannotTell || d.explanations.size() < 2) {
        return;
    }
    const std::vector<std::string> untested = parting_elements(x, batch);
    if (!untested.empty()) {
        out.push_back(
            fmt::format("What would decide: a test of {}, which the first two causes "
                        "would change differently.",
                        base::join_words(untested, "or")));
    } else if (d.test_element && d.parted_by >= kParts) {
        out.push_back(fmt::format(
            "What would decide: a better result for {}. There the first two causes differ by {} of "
            "its standard uncertainties.",
            x.pattern[*d.test_element].symbol, base::format_short(d.parted_by, kDigits)));
    } else {
        out.emplace_back(
            "No other test of the water would part the first two causes: repeat the "
            "suspect element by another method, and look at the weighing and the bag.");
    }
}

void add_spread(const PortionSpread& s, std::vector<std::string>& out) {
    if (s.freedom == 0) {
        out.emplace_back("Only one test portion: whether the sample is mixed is not known.");
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

std::string cause_name(const works::Addition& addition) {
    return fmt::format("{}, lot {}", addition.material, addition.lot);
}

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
    add_test(x, file.batch, out);
    add_spread(x.spread, out);
    return out;
}

}  // namespace bw::service
