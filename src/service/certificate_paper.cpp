// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/certificate_paper.hpp"

#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "matter/constituent.hpp"
#include "report/figure.hpp"
#include "service/papers.hpp"
#include "service/shown_amount.hpp"
#include "unit/factors.hpp"

namespace bw::service {
namespace {

constexpr int kDigits = 4;
constexpr std::size_t kDay = 10;
constexpr double kNearlySure = 0.999;

report::Status status_of(works::Verdict verdict) {
    switch (verdict) {
        case works::Verdict::Within:
            return report::Status::Within;
        case works::Verdict::Outside:
            return report::Status::Outside;
        case works::Verdict::TooClose:
            return report::Status::TooClose;
        case works::Verdict::NotTested:
            break;
    }
    return report::Status::NotTested;
}

std::string capital(std::string text) {
    if (!text.empty() && text.front() >= 'a' && text.front() <= 'z') {
        text.front() = static_cast<char>(text.front() - 'a' + 'A');
    }
    return text;
}

/// With a stop at its end.
std::string stopped(std::string text) {
    if (!text.empty() && std::string_view(".!?").find(text.back()) == std::string_view::npos) {
        text += '.';
    }
    return text;
}

/// What a customer reads of one element's samples: found, wanted, verdict; no order to anyone.
std::string homogeneity_of(const works::SampleSpread& s) {
    std::string out = fmt::format(
        "{} by {}: standard deviation between {} samples {:.2f} % (the method's share off)",
        s.symbol, s.method, s.samples, s.between_percent);
    if (s.goal_percent > 0) {
        out += fmt::format(", goal {:.3g} %", s.goal_percent);
    }
    constexpr std::int64_t kLeastSamples = 3;
    if (s.verdict == works::kHomogeneous || s.verdict == works::kNotHomogeneous) {
        return out + ": " + s.verdict + ".";
    }
    out += ": no verdict, for ";
    if (s.runs > 1) {
        return out + "the samples were tested in several runs.";
    }
    if (!s.verdict.empty()) {
        return out + fmt::format("the method itself scatters by {:.2f} %.", s.within_percent);
    }
    if (s.samples < kLeastSamples) {
        return out + "fewer than three samples were tested.";
    }
    return out + (s.goal_percent > 0
                      ? "the samples were not tested equally often, twice or more each."
                      : "there are no limits on both sides.");
}

/// How much of the tests does not count.
std::string set_aside_words(const works::BatchFile& file) {
    const auto results = std::count_if(file.results.begin(), file.results.end(), [](const auto& r) {
        return r.is.state == works::ResultState::SetAside;
    });
    const auto portions = std::count_if(file.portions.begin(), file.portions.end(),
                                        [](const auto& p) { return p.set_aside.has_value(); });
    if (results == 0 && portions == 0) {
        return "No result and no test portion was set aside.";
    }
    const auto many = [](auto n, const char* of) {
        return n == 0 ? std::string() : fmt::format("{} {}{}", n, of, n == 1 ? "" : "s");
    };
    return fmt::format("Set aside, each for a reason that the books keep: {}{}{}.",
                       many(results, "result"), results != 0 && portions != 0 ? " and " : "",
                       many(portions, "test portion"));
}

std::string method_words(const works::Tested& tested) {
    std::string out;
    for (const works::MethodValue& m : tested.methods) {
        out += fmt::format("{}{} v{}", out.empty() ? "" : ", ", m.method, m.method_number);
    }
    return out;
}

std::string tested_on(const CertificateFacts& facts, const works::Tested& tested) {
    std::string newest;
    for (const works::PlacedResult& r : facts.view.reading.file.results) {
        if (std::find(tested.results.begin(), tested.results.end(), r.id()) !=
            tested.results.end()) {
            newest = std::max(newest, r.is.read_at.substr(0, kDay));
        }
    }
    return newest;
}

/// A limit with as many places as the value beside it.
std::string edge(std::optional<double> limit, const std::string& value) {
    if (!limit) {
        return {};
    }
    const std::size_t point = value.find('.');
    const int places = point == std::string::npos ? 0 : static_cast<int>(value.size() - point - 1);
    return value.empty() ? base::format_significant(*limit, kDigits)
                         : base::format_places(*limit, places);
}

report::CertificateResult result_line(const CertificateFacts& facts, const works::Tested& t) {
    const ShownUnit shown = shown_unit(t.symbol, t.target.value_or(t.value));
    const auto scaled = [&](std::optional<double> x) {
        return x ? std::optional(*x * shown.per_mol_per_kg) : std::nullopt;
    };
    report::CertificateResult line;
    line.symbol = t.symbol == "alkalinity" ? "" : t.symbol;
    const auto c = matter::find_constituent(t.symbol);
    line.quantity = c ? capital(std::string(c->row().name)) : t.symbol;
    line.unit = shown.unit;
    line.verdict = status_of(t.verdict);
    if (t.verdict != works::Verdict::NotTested) {
        const report::Figure figure =
            report::figure(t.value * shown.per_mol_per_kg, t.coverage * t.u * shown.per_mol_per_kg,
                           scaled(t.low), scaled(t.high));
        line.value = t.below_limit ? "< " + figure.value : figure.value;
        line.expanded = figure.expanded;
        line.k = base::format_significant(t.coverage, 2);
        line.k = line.k == "2.0" ? "2" : line.k;
    }
    line.low = edge(scaled(t.low), line.value);
    line.high = edge(scaled(t.high), line.value);
    line.method = method_words(t);
    line.tested_on = tested_on(facts, t);
    line.outside_laboratory =
        std::any_of(t.methods.begin(), t.methods.end(), [&](const works::MethodValue& m) {
            return std::find(facts.outside.begin(), facts.outside.end(), m.method) !=
                   facts.outside.end();
        });
    line.note = fmt::format("{}", fmt::join(t.notes, "; "));
    return line;
}

std::vector<std::string> method_note(const CertificateFacts& facts) {
    const BatchReading& r = facts.view.reading;
    std::vector<std::string> out = {
        fmt::format("Amounts are per kg of water made with {} g of salt per kg of purified water. "
                    "Of that water "
                    "{}.",
                    base::format_significant(r.wanted.strength.g_per_kg_water, kDigits),
                    works::shown_words(r.wanted.strength))};
    for (const works::TestPortion& p : r.file.portions) {
        if (std::none_of(r.file.results.begin(), r.file.results.end(), [&](const auto& result) {
                return result.is.portion == p.id() &&
                       result.is.state == works::ResultState::Counted;
            })) {
            continue;  // the paper names what its results come from
        }
        const works::Strength strength = works::strength_of(p, r.wanted.strength);
        out.push_back(
            fmt::format("Test portion {}: {} in {} of water; strength by {}{}, {} of the "
                        "wanted.",
                        p.id(), p.salt, p.water, name(p.strength_by),
                        p.salinity.empty() ? "" : ", practical salinity " + p.salinity,
                        base::format_places(strength.ratio, kDigits)));
    }
    out.push_back(set_aside_words(r.file));
    out.push_back(
        fmt::format("Relative standard uncertainty of the strength, shared by all "
                    "results: {} %.",
                    base::format_significant(r.file.assessment.u_strength * unit::kPercent, 2)));
    return out;
}

std::vector<report::SignatureBlock> signatures(const CertificateFacts& facts) {
    std::vector<report::SignatureBlock> out;
    std::vector<works::Signature> all = facts.runs;
    if (facts.view.decision) {
        all.push_back(facts.view.decision->is.approved);
    }
    // One who signed several runs stands once, with the last instant.
    for (std::size_t i = 0; i < all.size(); ++i) {
        const works::Signature& s = all[i];
        const auto same = [&](const works::Signature& other) {
            return other.person == s.person && other.meaning == s.meaning;
        };
        if (std::any_of(all.begin() + static_cast<std::ptrdiff_t>(i) + 1, all.end(), same)) {
            continue;
        }
        const auto times = std::count_if(all.begin(), all.end(), same);
        out.push_back({s.name, s.duty,
                       times > 1 ? fmt::format("{} ({} runs)", s.meaning, times) : s.meaning,
                       printed_instant(s.at)});
    }
    return out;
}

std::vector<report::CertificateLot> lots(const CertificateFacts& facts) {
    std::vector<report::CertificateLot> out;
    const std::vector<works::Weighing>& weighings = facts.view.reading.file.weighings;
    double total = 0;
    for (const works::Weighing& w : weighings) {
        total += w.net_kg;
    }
    for (const works::Lot& lot : facts.view.reading.lots) {
        double kg = 0;
        for (const works::Weighing& w : weighings) {
            kg += w.lot == lot.number ? w.net_kg : 0;
        }
        out.push_back({lot.material, lot.number, lot.supplier,
                       base::format_significant(kg / total * unit::kPercent, kDigits) + " %"});
    }
    return out;
}

void say_item(const CertificateFacts& facts, report::Certificate& out) {
    const works::BatchFile& file = facts.view.reading.file;
    out.product = file.batch.product;
    out.batch = file.batch.number;
    out.recipe_version = file.batch.recipe;
    out.made_on = file.batch.made_on;
    out.use_by = facts.order.use_by;
    out.sample_condition = facts.order.condition;
    out.received_on = facts.order.received;
    out.customer = facts.order.customer;
    if (file.batch.yield) {
        out.pack_sizes = {fmt::format("{} packs, {} kg in all", file.batch.yield->packs,
                                      base::format_short(file.batch.yield->packed_kg, kDigits))};
    }
    std::vector<std::string> samples, taken, plans;
    for (const works::Sample& s : file.samples) {
        if (std::none_of(file.results.begin(), file.results.end(), [&](const auto& r) {
                return r.is.sample == s.number && r.is.state == works::ResultState::Counted;
            })) {
            continue;  // the paper names what its results come from
        }
        samples.push_back(fmt::format("{} ({}, {} increments)", s.number, s.mass, s.increments));
        taken.push_back(s.taken_at.substr(0, kDay));
        std::string plan =
            fmt::format("{} increments of {} g; {}", s.plan.increments,
                        base::format_short(s.plan.increment_g, kDigits), s.plan.basis);
        if (std::find(plans.begin(), plans.end(), plan) == plans.end()) {
            plans.push_back(std::move(plan));
        }
    }
    out.sample = fmt::format("{}", fmt::join(samples, ", "));
    if (!samples.empty()) {
        out.sampled_on = *std::max_element(taken.begin(), taken.end());
        out.sampling_plan = fmt::format("{}", fmt::join(plans, "; and "));
    }
    for (const works::Departure& d : file.departures) {
        out.departures.push_back(fmt::format("{}{} ({}): {} Answer: {}", d.number, about_words(d),
                                             name(d.state), stopped(d.what), stopped(d.answer)));
    }
}

void say_rule(const CertificateFacts& facts, report::Certificate& out) {
    const works::Evidence& evidence = facts.view.evidence;
    out.decision_rule = {
        evidence.rule,
        fmt::format("The verdicts cover every result above beside its limits (limits {} of {}).",
                    evidence.limits_number, evidence.product),
        fmt::format("All of them conform at once with a probability {} %.",
                    evidence.assessment.probability > kNearlySure
                        ? "above 99.9"
                        : "of " + base::format_significant(
                                      evidence.assessment.probability * unit::kPercent, kDigits))};
}

}  // namespace

std::string printed_instant(const std::string& at) {
    constexpr std::size_t kTime = 11;
    constexpr std::size_t kMinutes = 5;
    return at.size() < kTime + kMinutes
               ? at
               : at.substr(0, kDay) + " " + at.substr(kTime, kMinutes) + " UTC";
}

report::Certificate certificate_paper(const CertificateFacts& facts) {
    constexpr std::size_t kSeconds = 19;
    const works::Certificate& c = facts.certificate;
    report::Certificate out;
    out.mark = {c.number,     c.issued_at.substr(0, kSeconds) + "Z",
                c.trail_mark, c.release_mark.substr(0, kShortMark),
                c.code,       facts.site.invented || facts.view.reading.file.batch.invented};
    out.maker = {facts.site.name, {facts.site.address}, ""};
    out.laboratory = facts.site.laboratory;
    out.issue = std::to_string(c.issue);
    out.issued_on = c.issued_at.substr(0, kDay);
    out.replaces = c.replaces;
    say_item(facts, out);
    out.decision = "Released";
    out.decision_status = report::Status::Within;
    out.method_note = method_note(facts);
    const std::string& sampling = facts.view.reading.file.assessment.sampling;
    if (!sampling.empty()) {  // evidence of an older program does not say
        out.method_note.push_back(capital(sampling) + ".");
    }
    out.methods = facts.methods;
    for (const works::SampleSpread& spread : facts.view.reading.file.assessment.spreads) {
        out.homogeneity.push_back(homogeneity_of(spread));
    }
    for (const works::Tested& t : facts.view.reading.file.assessment.elements) {
        out.results.push_back(result_line(facts, t));
    }
    std::set<std::string> factors;
    for (const report::CertificateResult& each : out.results) {
        if (!each.k.empty()) {
            factors.insert(each.k);
        }
    }
    out.coverage = factors.size() > 1 ? "k as stated, about 95 %"
                                      : fmt::format("k = {}, about 95 %",
                                                    factors.empty() ? "2" : *factors.begin());
    say_rule(facts, out);
    if (facts.order.with_lots) {
        out.lots = lots(facts);
    }
    out.signatures = signatures(facts);
    return out;
}

}  // namespace bw::service
