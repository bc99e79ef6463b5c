// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/trace.hpp"

#include <algorithm>
#include <iterator>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "service/certificate_paper.hpp"
#include "service/make_up_words.hpp"
#include "service/papers.hpp"
#include "service/shown_amount.hpp"
#include "service/signed_batch.hpp"
#include "unit/factors.hpp"

namespace bw::service {
namespace {

constexpr int kDigits = 5;
constexpr int kPlaces = 4;
constexpr double kLeastShare = 5e-4;  // of an element: less is not worth a line

std::string short_mark(const std::string& mark) { return mark.substr(0, kShortMark); }

std::string signature_words(const works::Signature& s) {
    return fmt::format("{} by {} ({}) at {}, content mark {}", s.meaning, s.name, s.duty, s.at,
                       short_mark(s.mark));
}

/// What is traced: a batch as the books stand, or as one decision signed it.
struct Traced {
    const BatchReading& reading;
    const works::Evidence& evidence;
    const works::Release* decision = nullptr;
    std::int64_t entry = 0;                    ///< of the trail, up to which records count; 0: all
    std::vector<works::Pinned> now;            ///< what a decision of today would rest on
    std::optional<report::Certificate> paper;  ///< as issued
};

const works::Pinned* pin_of(const std::vector<works::Pinned>& pins, const TraceLine& line) {
    const auto found = std::find_if(pins.begin(), pins.end(), [&](const works::Pinned& p) {
        return p.kind == line.kind && p.id == line.id;
    });
    return found == pins.end() ? nullptr : &*found;
}

class Tracer {
public:
    Tracer(const store::Books& books, const Traced& of) : books_(books), of_(of) {}

    Result<std::vector<TraceLine>> lines(const std::string& element) {
        BW_CHECK(head());
        bool any = element.empty();
        for (const works::Tested& t : file().assessment.elements) {
            if (element.empty() || t.symbol == element) {
                any = true;
                BW_CHECK(tested(t));
            }
        }
        if (!any) {
            return fail(ProblemCode::BadInput,
                        fmt::format("{} is not among what the limits of {} name",
                                    base::quoted(element), file().batch.product),
                        {"", 0, "element"});
        }
        BW_CHECK(making());
        return std::move(out_);
    }

private:
    [[nodiscard]] const works::BatchFile& file() const { return of_.reading.file; }

    void say(int depth, std::string kind, std::string id, std::string text) {
        out_.push_back({depth, std::move(kind), std::move(id), std::move(text)});
    }

    /// A line about a record that decisions pin.
    Result<void> pinned(int depth, std::string kind, std::string id, std::string text) {
        TraceLine line{depth, std::move(kind), std::move(id), std::move(text)};
        if (const works::Pinned* then = pin_of(of_.evidence.records, line)) {
            const works::Pinned* now = pin_of(of_.now, line);
            line.version = then->version;
            line.changed = now == nullptr || now->content != then->content;
            const bool part = line.kind == "result";
            BW_TRY(newest, books_.newest(part ? kKind<works::Run> : line.kind,
                                         part ? line.id.substr(0, line.id.rfind('/')) : line.id));
            line.version_now = newest.version;
        }
        out_.push_back(std::move(line));
        return {};
    }

    /// A line about a record that decisions do not pin: in the version that stood then. Nothing for
    /// one that is not in the books.
    template <class T, class Words>
    Result<void> standing(int depth, const std::string& id, const Words& words) {
        const auto versions = books_.history(kKind<T>, id);
        if (!versions) {
            return versions.error().code == ProblemCode::NotFound
                       ? Result<void>()
                       : tl::make_unexpected(versions.error());
        }
        for (auto v = versions->rbegin(); v != versions->rend(); ++v) {
            BW_TRY(is, read_record<T>(v->body));
            const std::optional<std::string> text =
                of_.entry == 0 || v->entry <= of_.entry ? words(is) : std::nullopt;
            if (text) {
                out_.push_back({depth, kKind<T>, id, *text, v->version, versions->back().version,
                                v->body != versions->back().body});
                return {};
            }
        }
        return {};
    }

    Result<void> head() {
        const works::Batch& b = file().batch;
        BW_CHECK(pinned(
            0, kKind<works::Batch>, b.number,
            fmt::format("{} of {} kg, {}{}; planned by {} at {}{}", b.product,
                        base::format_short(b.size_kg, kDigits), name(b.state),
                        of_.entry > 0 ? " when it was decided on" : "", b.planned_by, b.planned_at,
                        b.yield ? fmt::format("; made on {}, {} packs, {} kg in all", b.made_on,
                                              b.yield->packs,
                                              base::format_short(b.yield->packed_kg, kDigits))
                                : "")));
        if (of_.decision != nullptr) {
            say(1, kKind<works::Release>, b.number,
                fmt::format("decision {}: {}; {}", of_.decision->number,
                            name(of_.decision->decision), signature_words(of_.decision->approved)));
        }
        say(1, "assessment", b.number, assessed());
        if (file().limits) {
            return pinned(1, kKind<works::Limits>, file().limits->product,
                          fmt::format("version {}; {}{}", file().limits->number,
                                      works::sentence_of_rule(*file().limits),
                                      file().limits->approved
                                          ? "; " + signature_words(*file().limits->approved)
                                          : ""));
        }
        return {};
    }

    /// What is shared by all elements.
    [[nodiscard]] std::string assessed() const {
        const works::Evidence& e = of_.evidence;
        const works::WantedStrength& wanted = of_.reading.wanted.strength;
        return fmt::format(
            "brought to {} g of blend per kg of purified water, where {}; relative "
            "standard uncertainty of the strength, shared by all, {} %; all that were tested "
            "conform at once with probability {} %; {}{}; by version {} on data {}",
            base::format_significant(wanted.g_per_kg_water, kDigits), works::shown_words(wanted),
            base::format_significant(e.assessment.u_strength * unit::kPercent, 2),
            base::format_significant(e.assessment.probability * unit::kPercent, kDigits),
            e.assessment.charges.sentence,
            e.assessment.sampling.empty() ? "" : "; " + e.assessment.sampling, e.program,
            short_mark(e.data_digest));
    }

    /// The line of the paper about an element.
    [[nodiscard]] std::string printed(const std::string& symbol, const std::string& unit) const {
        if (!of_.paper) {
            return {};
        }
        for (const report::CertificateResult& r : of_.paper->results) {
            if ((r.symbol.empty() ? "alkalinity" : r.symbol) == symbol) {
                return r.value.empty()
                           ? "printed: not tested; "
                           : fmt::format(
                                 "printed: {} {}, U {}; ", r.value, unit,
                                 r.expanded.empty()
                                     ? "not stated"
                                     : r.expanded + (r.k.empty() ? "" : " (k = " + r.k + ")"));
            }
        }
        return {};
    }

    Result<void> tested(const works::Tested& t) {
        const ShownUnit shown = shown_unit(t.symbol, t.target.value_or(t.value));
        const auto number = [&](std::optional<double> x) {
            return x ? base::format_significant(*x * shown.per_mol_per_kg, kDigits)
                     : std::string("open");
        };
        const std::string value =
            t.verdict == works::Verdict::NotTested
                ? std::string("not tested")
                : (t.below_limit ? "< " : "") +
                      base::format_with_uncertainty(t.value * shown.per_mol_per_kg,
                                                    t.u * shown.per_mol_per_kg)
                          .text() +
                      " " + shown.unit;
        say(0, "element", t.symbol,
            fmt::format("{}{} (standard uncertainty): {}; target {}, limits {} to {}",
                        printed(t.symbol, shown.unit), value, name(t.verdict), number(t.target),
                        number(t.low), number(t.high)));
        for (const works::MethodValue& m : t.methods) {
            BW_CHECK(method(m, shown));
            BW_CHECK(results(t, m.method));
        }
        for (const works::SampleSpread& s : of_.evidence.assessment.spreads) {
            if (s.symbol == t.symbol) {
                say(1, "spread", t.symbol, s.sentence);
            }
        }
        if (t.below_limit) {
            BW_CHECK(results(t, ""));
        }
        return lots(t.symbol);
    }

    Result<void> method(const works::MethodValue& m, const ShownUnit& shown) {
        return standing<works::Method>(
            1, m.method, [&](const works::Method& is) -> std::optional<std::string> {
                if (is.number != m.method_number) {
                    return std::nullopt;
                }
                return fmt::format(
                    "v{} {}: {}; {} results, {}, value {} {}", m.method_number, is.title, is.source,
                    m.results, m.duplicates,
                    base::format_with_uncertainty(m.mol_per_kg * shown.per_mol_per_kg,
                                                  m.u * shown.per_mol_per_kg)
                        .text(),
                    shown.unit);
            });
    }

    Result<void> results(const works::Tested& t, const std::string& method) {
        for (const works::PlacedResult& r : file().results) {
            if (r.is.analyte != t.symbol || (!method.empty() && r.is.method != method)) {
                continue;
            }
            BW_CHECK(
                pinned(2, "result", r.id(),
                       fmt::format("{} {}{}{}, {}; entered by {}{}{}", r.is.digits, r.is.unit,
                                   r.is.dilution.empty() ? "" : ", dilution " + r.is.dilution,
                                   r.is.blank.empty() ? "" : ", blank " + r.is.blank,
                                   name(r.is.state), r.is.entered_by,
                                   r.is.checked_by.empty() ? "" : ", checked by " + r.is.checked_by,
                                   r.is.reason.empty() ? "" : "; reason: " + r.is.reason)));
            BW_CHECK(source(r.run, t.symbol));
            BW_CHECK(portion(r.is.portion));
        }
        return {};
    }

    Result<void> source(const std::string& run, const std::string& symbol) {
        constexpr int kDepth = 3;
        return standing<works::Run>(kDepth, run, [&](const works::Run& is) {
            std::string checks;
            for (const works::CheckReading& c : is.checks) {
                checks += c.analyte == symbol ? "; " + works::sentence_of(c) : "";
            }
            return std::optional(
                (is.file.empty() ? std::string("typed")
                                 : fmt::format("imported from {}, SHA-256 {}, by the map {}",
                                               is.file_name, is.file, is.column_map)) +
                checks + (is.approved ? "; " + signature_words(*is.approved) : "; not signed"));
        });
    }

    Result<void> portion(const std::string& id) {
        constexpr int kDepth = 3;
        for (const works::TestPortion& p : file().portions) {
            if (p.id() != id) {
                continue;
            }
            const works::Strength strength = works::strength_of(p, of_.reading.wanted.strength);
            BW_CHECK(pinned(
                kDepth, kKind<works::TestPortion>, id,
                fmt::format("{} of salt in {} of water by {} at {}; strength by {}{}: {} of the "
                            "wanted",
                            p.salt, p.water, p.by, p.at, name(p.strength_by),
                            p.salinity.empty() ? "" : ", practical salinity " + p.salinity,
                            base::format_places(strength.ratio, kPlaces))));
            for (const works::Sample& s : file().samples) {
                if (s.number == p.sample) {
                    BW_CHECK(pinned(kDepth + 1, kKind<works::Sample>, s.number,
                                    fmt::format("{}, {} increments, by {} at {}; {}", s.mass,
                                                s.increments, s.taken_by, s.taken_at, s.where)));
                }
            }
        }
        return {};
    }

    Result<void> lots(const std::string& symbol) {
        const works::Batch& b = file().batch;
        const auto share =
            std::find_if(b.shares.begin(), b.shares.end(),
                         [&](const works::ElementShare& s) { return s.symbol == symbol; });
        if (share == b.shares.end()) {
            return {};
        }
        for (std::size_t k = 0; k < b.additions.size(); ++k) {
            if (share->by_step[k] >= kLeastShare) {
                BW_CHECK(addition(b.additions[k],
                                  base::format_significant(share->by_step[k] * unit::kPercent, 3) +
                                      " % of it from "));
            }
        }
        return {};
    }

    Result<void> addition(const works::Addition& a, const std::string& lead) {
        say(1, works::kAddition, fmt::format("{}/{}", file().batch.number, a.step),
            fmt::format("{}{}, target {} kg", lead, a.material,
                        base::format_short(a.target_kg, kDigits)));
        for (const works::Weighing& w : file().weighings) {
            if (w.step == a.step) {
                BW_CHECK(pinned(2, kKind<works::Weighing>, w.id(),
                                fmt::format("{} on {} by {} at {}{}", w.net, w.scale, w.by, w.at,
                                            w.by_hand ? ", by hand" : "")));
            }
        }
        for (const works::Lot& lot : of_.reading.lots) {
            if (lot.number != a.lot) {
                continue;
            }
            BW_TRY(make_up, make_up_words(lot.make_up));
            BW_CHECK(pinned(
                2, kKind<works::Lot>, lot.number,
                fmt::format("{}{}{}; make-up: {}", lot.material,
                            lot.supplier.empty() ? "" : " of " + lot.supplier,
                            lot.certificate.empty() ? ", no supplier certificate kept"
                                                    : ", supplier certificate " + lot.certificate,
                            make_up)));
            BW_CHECK(supplier(lot.supplier));
        }
        return {};
    }

    /// Older lots name suppliers that are not in the books: nothing is said of those.
    Result<void> supplier(const std::string& id) {
        constexpr int kDepth = 3;
        return standing<works::Supplier>(kDepth, id, [](const works::Supplier& s) {
            return std::optional(
                fmt::format("{}{}{}", name(s.state), s.reason.empty() ? "" : ": " + s.reason,
                            s.review_by.empty() ? "" : "; to be reviewed by " + s.review_by));
        });
    }

    Result<void> making() {
        const works::RecipeVersion& r = of_.reading.recipe;
        BW_CHECK(pinned(
            0, kKind<works::RecipeVersion>, r.id(),
            fmt::format("drafted by {} ({}){}; computed by version {} on data {}", r.drafted_by,
                        r.why, r.approved ? "; " + signature_words(*r.approved) : "", r.program,
                        short_mark(r.data_digest))));
        for (const works::Departure& d : file().departures) {
            BW_CHECK(pinned(0, kKind<works::Departure>, d.number,
                            fmt::format("{}{}: {}{}", name(d.state), about_words(d), d.what,
                                        d.answer.empty() ? "" : ". Answer: " + d.answer)));
        }
        return {};
    }

    const store::Books& books_;
    const Traced& of_;
    std::vector<TraceLine> out_;
};

Result<TraceLine> issue_line(const store::Books& books, const works::Certificate& c) {
    BW_TRY(newest, books.newest(kKind<works::Certificate>, c.id()));
    return TraceLine{
        0,
        kKind<works::Certificate>,
        c.id(),
        fmt::format("{}, issued by {} at {}; paper SHA-256 {}; decision {} with "
                    "content mark {}{}",
                    name(c.state), c.issued_by, c.issued_at, c.paper, c.release,
                    short_mark(c.release_mark),
                    c.ended_by.empty() ? ""
                                       : fmt::format("; {} by {} at {}: {}", name(c.state),
                                                     c.ended_by, c.ended_at, c.ended_why)),
        newest.version,
        newest.version,
        false};
}

/// A certificate's figures: as its release was signed.
Result<Trace> trace_of_certificate(const store::Books& books, const works::Certificate& c,
                                   const std::string& element) {
    BW_TRY(then, signed_batch(books, c.batch, c.release_mark));
    BW_TRY(view, show_release(books, c.batch));
    BW_TRY(papers, papers_of(books, c.id()));
    BW_TRY(paper, certificate_of_json(papers.json));
    Trace out{c.batch, c, {}, {}};
    out.changed = works::changed_since(then.evidence.records, view.evidence.records);
    if (view.decision && view.decision->is.number != then.decision.number) {
        out.changed.push_back(fmt::format("the batch was decided on again: decision {}, {}",
                                          view.decision->is.number,
                                          name(view.decision->is.decision)));
    }
    const Traced of{then.reading, then.evidence,         &then.decision,
                    then.entry,   view.evidence.records, std::move(paper)};
    BW_TRY(issue, issue_line(books, c));
    out.lines.push_back(std::move(issue));
    BW_TRY(lines, Tracer(books, of).lines(element));
    std::move(lines.begin(), lines.end(), std::back_inserter(out.lines));
    return out;
}

}  // namespace

Result<Trace> trace_of(const store::Books& books, const std::string& id,
                       const std::string& element) {
    const auto certificate = certificate_of(books, id);
    if (certificate) {
        return trace_of_certificate(books, certificate->is, element);
    }
    if (certificate.error().code != ProblemCode::NotFound) {
        return tl::make_unexpected(certificate.error());
    }
    BW_TRY(view, show_release(books, id));
    const Traced of{
        view.reading,          view.evidence, view.decision ? &view.decision->is : nullptr, 0,
        view.evidence.records, std::nullopt};
    Trace out{id, std::nullopt, {}, view.changed};
    BW_TRY(lines, Tracer(books, of).lines(element));
    out.lines = std::move(lines);
    return out;
}

}  // namespace bw::service
