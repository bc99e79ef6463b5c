// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/trace.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "service/shown_amount.hpp"
#include "unit/factors.hpp"

namespace bw::service {
namespace {

constexpr int kDigits = 5;
constexpr std::size_t kShortMark = 16;
constexpr double kLeastShare = 5e-4;  // of an element: less is not worth a line

std::string short_mark(const std::string& mark) { return mark.substr(0, kShortMark); }

std::string signature_words(const works::Signature& s) {
    return fmt::format("{} by {} ({}) at {}, content mark {}", s.meaning, s.name, s.duty, s.at,
                       short_mark(s.mark));
}

class Tracer {
public:
    Tracer(const store::Books& books, const ReleaseView& view) : books_(books), view_(view) {}

    Result<std::vector<TraceLine>> lines(const std::string& element) {
        head();
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
        making();
        return std::move(out_);
    }

private:
    [[nodiscard]] const works::BatchFile& file() const { return view_.reading.file; }

    void add(int depth, std::string kind, std::string id, std::string text) {
        std::int64_t version = 0;
        for (const works::Pinned& p : view_.evidence.records) {
            if (p.kind == kind && p.id == id) {
                version = p.version;
            }
        }
        out_.push_back({depth, std::move(kind), std::move(id), std::move(text), version});
    }

    void head() {
        const works::Batch& b = file().batch;
        add(0, "batch", b.number,
            fmt::format("{} of {} kg, {}; planned by {} at {}", b.product,
                        base::format_short(b.size_kg, kDigits), name(b.state), b.planned_by,
                        b.planned_at));
        if (view_.decision) {
            add(1, "release", b.number,
                fmt::format("decision {}: {}; {}", view_.decision->is.number,
                            name(view_.decision->is.decision),
                            signature_words(view_.decision->is.approved)));
        }
        if (file().limits) {
            add(1, "limits", file().limits->product,
                fmt::format("version {}; {}{}", file().limits->number,
                            works::sentence_of_rule(*file().limits),
                            file().limits->approved
                                ? "; " + signature_words(*file().limits->approved)
                                : ""));
        }
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
        add(0, "element", t.symbol,
            fmt::format("{} (standard uncertainty): {}; target {}, limits {} to {}", value,
                        name(t.verdict), number(t.target), number(t.low), number(t.high)));
        for (const works::MethodValue& m : t.methods) {
            BW_CHECK(method(m, shown));
            results(t, m.method);
        }
        if (t.below_limit) {
            results(t, "");
        }
        lots(t.symbol);
        return {};
    }

    Result<void> method(const works::MethodValue& m, const ShownUnit& shown) {
        BW_TRY(versions, books_.history(kKind<works::Method>, m.method));
        for (const store::Record& record : versions) {
            BW_TRY(is, read_record<works::Method>(record.body));
            if (is.number == m.method_number) {
                add(1, "method", m.method,
                    fmt::format("v{} {}: {}; {} results, {}, value {} {}", m.method_number,
                                is.title, is.source, m.results, m.duplicates,
                                base::format_with_uncertainty(m.mol_per_kg * shown.per_mol_per_kg,
                                                              m.u * shown.per_mol_per_kg)
                                    .text(),
                                shown.unit));
            }
        }
        return {};
    }

    void results(const works::Tested& t, const std::string& method) {
        for (const works::PlacedResult& r : file().results) {
            if (r.is.analyte != t.symbol || (!method.empty() && r.is.method != method)) {
                continue;
            }
            add(2, "result", r.id(),
                fmt::format("{} {}{}, {}; entered by {}{}{}", r.is.digits, r.is.unit,
                            r.is.dilution.empty() ? "" : ", dilution " + r.is.dilution,
                            name(r.is.state), r.is.entered_by,
                            r.is.checked_by.empty() ? "" : ", checked by " + r.is.checked_by,
                            r.is.reason.empty() ? "" : "; reason: " + r.is.reason));
            source(r.run);
            portion(r.is.portion);
        }
    }

    void source(const std::string& run) {
        const auto is = kept<works::Run>(books_, run);
        constexpr int kDepth = 3;
        if (is) {
            add(kDepth, "run", run,
                (is->is.file.empty()
                     ? std::string("typed")
                     : fmt::format("imported from {}, SHA-256 {}, by the map {}", is->is.file_name,
                                   is->is.file, is->is.column_map)) +
                    (is->is.approved ? "; " + signature_words(*is->is.approved) : "; not signed"));
        }
    }

    void portion(const std::string& id) {
        constexpr int kDepth = 3;
        for (const works::TestPortion& p : file().portions) {
            if (p.id() != id) {
                continue;
            }
            const works::Strength strength = works::strength_of(
                p, view_.reading.wanted.practical_salinity, view_.reading.wanted.g_per_kg_water);
            add(kDepth, "test_portion", id,
                fmt::format("{} in {} of water by {} at {}; strength by {}{}: {}", p.salt, p.water,
                            p.by, p.at, name(p.strength_by),
                            p.salinity.empty() ? "" : ", salinity " + p.salinity,
                            base::format_significant(strength.ratio, kDigits)));
            for (const works::Sample& s : file().samples) {
                if (s.number == p.sample) {
                    add(kDepth + 1, "sample", s.number,
                        fmt::format("{}, {} increments, by {} at {}; {}", s.mass, s.increments,
                                    s.taken_by, s.taken_at, s.where));
                }
            }
        }
    }

    void lots(const std::string& symbol) {
        const works::Batch& b = file().batch;
        const auto share =
            std::find_if(b.shares.begin(), b.shares.end(),
                         [&](const works::ElementShare& s) { return s.symbol == symbol; });
        if (share == b.shares.end()) {
            return;
        }
        for (std::size_t k = 0; k < b.additions.size(); ++k) {
            if (share->by_step[k] >= kLeastShare) {
                addition(b.additions[k],
                         base::format_significant(share->by_step[k] * unit::kPercent, 3) +
                             " % of it from ");
            }
        }
    }

    void addition(const works::Addition& a, const std::string& lead) {
        add(1, works::kAddition, fmt::format("{}/{}", file().batch.number, a.step),
            fmt::format("{}{}, target {} kg", lead, a.material,
                        base::format_short(a.target_kg, kDigits)));
        for (const works::Weighing& w : file().weighings) {
            if (w.step == a.step) {
                add(2, "weighing", w.id(),
                    fmt::format("{} on {} by {} at {}{}", w.net, w.scale, w.by, w.at,
                                w.by_hand ? ", by hand" : ""));
            }
        }
        for (const works::Lot& lot : view_.reading.lots) {
            if (lot.number == a.lot) {
                add(2, "lot", lot.number,
                    fmt::format("{}{}{}; make-up {}", lot.material,
                                lot.supplier.empty() ? "" : " of " + lot.supplier,
                                lot.certificate.empty()
                                    ? ", no supplier certificate kept"
                                    : ", supplier certificate " + lot.certificate,
                                lot.make_up));
                supplier(lot.supplier);
            }
        }
    }

    /// Older lots name suppliers that are not in the books: nothing is said of those.
    void supplier(const std::string& id) {
        constexpr int kDepth = 3;
        const auto is = kept<works::Supplier>(books_, id);
        if (is) {
            const works::Supplier& s = is->is;
            add(kDepth, "supplier", s.name,
                fmt::format("{}{}{}", name(s.state), s.reason.empty() ? "" : ": " + s.reason,
                            s.review_by.empty() ? "" : "; to be reviewed by " + s.review_by));
        }
    }

    void making() {
        const works::RecipeVersion& r = view_.reading.recipe;
        add(0, "recipe", r.id(),
            fmt::format("drafted by {} ({}){}; computed by version {} on data {}", r.drafted_by,
                        r.why, r.approved ? "; " + signature_words(*r.approved) : "", r.program,
                        short_mark(r.data_digest)));
        for (const works::Departure& d : file().departures) {
            add(0, "departure", d.number,
                fmt::format("{}: {} {}", name(d.state), d.what, d.answer));
        }
    }

    const store::Books& books_;
    const ReleaseView& view_;
    std::vector<TraceLine> out_;
};

}  // namespace

Result<Trace> trace_of(const store::Books& books, const std::string& id,
                       const std::string& element) {
    Trace out;
    out.batch = id;
    const auto certificate = certificate_of(books, id);
    if (certificate) {
        out.certificate = certificate->is;
        out.batch = certificate->is.batch;
    } else if (certificate.error().code != ProblemCode::NotFound) {
        return tl::make_unexpected(certificate.error());
    }
    BW_TRY(view, show_release(books, out.batch));
    out.changed = view.changed;
    BW_TRY(lines, Tracer(books, view).lines(element));
    if (out.certificate) {
        const works::Certificate& c = *out.certificate;
        out.lines.push_back({0, "certificate", c.id(),
                             fmt::format("{}, issued by {} at {}; paper SHA-256 {}; decision {} "
                                         "with content mark {}",
                                         name(c.state), c.issued_by, c.issued_at, c.paper,
                                         c.release, short_mark(c.release_mark)),
                             0});
    }
    for (TraceLine& line : lines) {
        out.lines.push_back(std::move(line));
    }
    return out;
}

}  // namespace bw::service
