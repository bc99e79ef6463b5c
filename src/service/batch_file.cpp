// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/batch_file.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "service/batch_run.hpp"
#include "service/explain_batch.hpp"
#include "service/methods_limits.hpp"
#include "service/recipe_versions.hpp"
#include "service/tests.hpp"
#include "store/digest.hpp"

namespace bw::service {
namespace {

constexpr std::int64_t kMostRows = 10000;
constexpr const char* kAfterAll = "9999-12-31T23:59:59.999Z";

/// Collects records with their pins. What may change without touching a decision (states that go
/// on, the use of a lot) is left out of the pinned content.
class Reading {
public:
    explicit Reading(const store::Books& books) : books_(books) {}

    Result<BatchReading> of(const std::string& number, const works::Run* with) {
        BW_CHECK(batch(number));
        BW_CHECK(made_of());
        BW_CHECK(told(number));
        BW_CHECK(sampled(number));
        BW_CHECK(tested(number, with));
        BW_CHECK(judged());
        works::sort_pinned(out_.pinned);
        return std::move(out_);
    }

private:
    template <class T>
    void pin(const std::string& id, const T& record, std::int64_t version) {
        out_.pinned.push_back({kKind<T>, id, version, store::sha256_hex(record_text(record))});
    }
    template <class T>
    void expect(const std::string& id, std::int64_t version) {
        out_.expects.push_back({kKind<T>, id, version});
    }

    Result<void> batch(const std::string& number) {
        BW_TRY(batch, kept<works::Batch>(books_, number));
        out_.file.batch = batch.is;
        works::Batch plain = batch.is;
        plain.state = works::BatchState::Ready;
        plain.state_before_hold.clear();
        pin(number, plain, batch.version);
        return {};
    }

    Result<void> made_of() {
        BW_TRY(recipe, kept<works::RecipeVersion>(books_, out_.file.batch.recipe));
        out_.recipe = recipe.is;
        out_.pinned.push_back({kKind<works::RecipeVersion>, recipe.is.id(), recipe.version,
                               store::sha256_hex(signed_text(recipe.is))});
        for (const works::Addition& a : out_.file.batch.additions) {
            const bool known =
                std::any_of(out_.lots.begin(), out_.lots.end(),
                            [&](const works::Lot& lot) { return lot.number == a.lot; });
            if (a.lot.empty() || known) {
                continue;
            }
            BW_TRY(lot, kept<works::Lot>(books_, a.lot));
            out_.lots.push_back(lot.is);
            works::Lot plain = lot.is;
            if (lot.is.state == works::LotState::OnHold ||
                lot.is.state == works::LotState::Refused) {
                out_.file.held_lots.push_back(
                    fmt::format("lot {} of {} is {}: {}", lot.is.number, lot.is.material,
                                works::name(lot.is.state), lot.is.judged_why));
            } else {
                plain.state = works::LotState::Accepted;
                plain.judged_by.clear();
                plain.judged_why.clear();
            }
            pin(a.lot, plain, lot.version);
        }
        return {};
    }

    /// All records of a kind that a query finds; each is pinned as it is.
    template <class T>
    Result<std::vector<T>> records(store::ListQuery query) {
        query.limit = kMostRows;
        BW_TRY(rows, kept_list<T>(books_, query));
        std::vector<T> out;
        for (auto& row : rows) {
            const std::string id = filing_of(row.is).id;
            pin(id, row.is, row.version);
            expect<T>(id, row.version);
            out.push_back(std::move(row.is));
        }
        return out;
    }

    Result<void> told(const std::string& number) {
        store::ListQuery weighings;
        weighings.id_prefix = number + "/";
        BW_TRY(weighed, records<works::Weighing>(weighings));
        out_.file.weighings = std::move(weighed);
        store::ListQuery departures;
        departures.pointing_to = store::Link{"holds", kKind<works::Batch>, number};
        BW_TRY(raised, records<works::Departure>(departures));
        out_.file.departures = std::move(raised);
        return {};
    }

    Result<void> sampled(const std::string& number) {
        store::ListQuery of_batch;
        of_batch.pointing_to = store::Link{"of", kKind<works::Batch>, number};
        of_batch.limit = kMostRows;
        BW_TRY(samples, kept_list<works::Sample>(books_, of_batch));
        for (auto& sample : samples) {
            out_.file.samples.push_back(sample.is);
            sample.is.state = works::SampleState::UnderTest;
            pin(sample.is.number, sample.is, sample.version);
        }
        BW_TRY(portions, portions_of(books_, number));
        for (auto& portion : portions) {
            out_.file.portions.push_back(portion.is);
            expect<works::TestPortion>(portion.is.id(), portion.version);
            portion.is.set_aside.reset();  // none of its results counts then
            pin(portion.is.id(), portion.is, portion.version);
        }
        return {};
    }

    Result<void> tested(const std::string& number, const works::Run* with) {
        BW_TRY(runs, runs_of(books_, number));
        for (const auto& run : runs) {
            const works::Run& is =
                with != nullptr && with->number == run.is.number ? *with : run.is;
            began_ = std::min(began_, is.entered_at);
            expect<works::Run>(is.number, run.version);
            const bool counts =
                std::any_of(is.results.begin(), is.results.end(), [&](const works::TestResult& r) {
                    return r.batch == number && r.state == works::ResultState::Counted;
                });
            if (counts && is.state != works::RunState::Signed) {
                out_.file.unsigned_runs.push_back(is.number);
            }
            for (const works::TestResult& r : is.results) {
                if (r.batch != number) {
                    continue;
                }
                out_.file.results.push_back({is.number, r});
                out_.pinned.push_back({"result", out_.file.results.back().id(), run.version,
                                       store::sha256_hex(record_text(r))});
            }
        }
        for (const works::TestPortion& p : out_.file.portions) {
            began_ = std::min(began_, p.at);
        }
        return {};
    }

    /// Portions of which a result is not set aside: the others say nothing of the batch.
    [[nodiscard]] std::vector<works::TestPortion> tested_portions() const {
        std::vector<works::TestPortion> out;
        for (const works::TestPortion& p : out_.file.portions) {
            const auto& results = out_.file.results;
            if (std::any_of(results.begin(), results.end(), [&](const works::PlacedResult& r) {
                    return r.is.portion == p.id() && r.is.state != works::ResultState::SetAside;
                })) {
                out.push_back(p);
            }
        }
        return out;
    }

    Result<void> judged() {
        BW_TRY(wanted, wanted_water(out_.file.batch, out_.recipe));
        out_.wanted = wanted;
        BW_TRY(limits, limits_before(books_, out_.file.batch.product, began_));
        if (!limits) {
            return {};
        }
        out_.file.limits = limits->is;
        pin(limits->is.product, limits->is, limits->version);
        const double u = works::shared_u(tested_portions(), wanted.strength);
        BW_TRY(assessment, works::assess(limits->is, wanted.constituents, out_.file.results, u));
        out_.file.assessment = std::move(assessment);
        return {};
    }

    const store::Books& books_;
    BatchReading out_;
    std::string began_ = kAfterAll;
};

}  // namespace

Result<BatchReading> read_batch(const store::Books& books, const std::string& number) {
    BW_TRY(reading, Reading(books).of(number, nullptr));
    const auto explained = explain_batch(reading);
    if (explained && explained->diagnosis.verdict == assay::DiagnosisVerdict::Found) {
        reading.file.fault = explained->sentences.front();
    }
    return std::move(reading);
}

Result<bool> is_tested(const store::Books& books, const std::string& number,
                       const works::Run* with) {
    BW_TRY(reading, Reading(books).of(number, with));
    if (!reading.file.limits) {
        return false;
    }
    const std::vector<works::OpenItem> items = works::open_items(reading.file);
    using enum works::OpenKind;
    return std::none_of(items.begin(), items.end(), [](const works::OpenItem& item) {
        return item.kind == NotChecked || item.kind == NotTested || item.kind == Waits ||
               item.kind == FewPortions || item.kind == NotSigned;
    });
}

}  // namespace bw::service
