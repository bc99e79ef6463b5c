// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/signed_batch.hpp"

#include <fmt/format.h>

namespace bw::service {
namespace {

/// Puts pinned records back where a batch's reading has them.
class Pins {
public:
    Pins(const store::Books& books, BatchReading& out) : books_(books), out_(out) {}

    Result<void> put(const works::Pinned& p) {
        if (p.kind == "result") {
            return result(p);
        }
        works::BatchFile& file = out_.file;
        if (p.kind == kKind<works::Batch>) {
            return one(p, file.batch);
        }
        if (p.kind == kKind<works::RecipeVersion>) {
            return one(p, out_.recipe);
        }
        if (p.kind == kKind<works::Limits>) {
            return one(p, file.limits.emplace());
        }
        if (p.kind == kKind<works::Lot>) {
            return one(p, out_.lots.emplace_back());
        }
        if (p.kind == kKind<works::Weighing>) {
            return one(p, file.weighings.emplace_back());
        }
        if (p.kind == kKind<works::Departure>) {
            return one(p, file.departures.emplace_back());
        }
        if (p.kind == kKind<works::Sample>) {
            return one(p, file.samples.emplace_back());
        }
        if (p.kind == kKind<works::TestPortion>) {
            return one(p, file.portions.emplace_back());
        }
        return fail(ProblemCode::BrokenBooks,
                    fmt::format("a decision pins {} {}: no such kind is known", p.kind, p.id));
    }

private:
    template <class T>
    Result<void> one(const works::Pinned& p, T& place) {
        BW_TRY(record, books_.at(p.kind, p.id, p.version));
        BW_TRY(is, read_record<T>(record.body));
        place = std::move(is);
        return {};
    }

    Result<void> result(const works::Pinned& p) {
        const std::size_t slash = p.id.rfind('/');
        const std::string run = p.id.substr(0, slash);
        BW_TRY(record, books_.at(kKind<works::Run>, run, p.version));
        BW_TRY(is, read_record<works::Run>(record.body));
        for (const works::TestResult& r : is.results) {
            if (p.id == run + "/" + std::to_string(r.line)) {
                out_.file.results.push_back({run, r});
                return {};
            }
        }
        return fail(ProblemCode::BrokenBooks,
                    fmt::format("a decision pins result {}, which version {} of its run has not",
                                p.id, p.version));
    }

    const store::Books& books_;
    BatchReading& out_;
};

}  // namespace

Result<SignedBatch> signed_batch(const store::Books& books, const std::string& batch,
                                 const std::string& mark) {
    BW_TRY(decisions, books.history(kKind<works::Release>, batch));
    SignedBatch out;
    for (const store::Record& record : decisions) {
        BW_TRY(decision, read_record<works::Release>(record.body));
        if (decision.approved.mark == mark) {
            out.decision = std::move(decision);
            out.version = record.version;
            out.entry = record.entry;
        }
    }
    if (out.version == 0) {
        return fail(ProblemCode::NotFound,
                    fmt::format("no decision on batch {} has the content mark {}", batch, mark));
    }
    BW_TRY(evidence, read_record<works::Evidence>(out.decision.evidence));
    Pins pins(books, out.reading);
    for (const works::Pinned& p : evidence.records) {
        BW_CHECK(pins.put(p));
    }
    out.reading.file.assessment = evidence.assessment;
    out.reading.wanted.strength = evidence.wanted.value_or(works::natural_strength(
        evidence.wanted_practical_salinity, evidence.wanted_g_per_kg_water));
    out.reading.pinned = evidence.records;
    out.evidence = std::move(evidence);
    return out;
}

}  // namespace bw::service
