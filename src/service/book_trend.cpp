// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/book_trend.hpp"

#include <algorithm>
#include <iterator>
#include <map>
#include <set>
#include <span>
#include <tuple>

#include <fmt/format.h>

#include "base/text.hpp"
#include "io/material_file.hpp"
#include "matter/constituent.hpp"
#include "service/desk.hpp"
#include "service/people.hpp"
#include "service/trend_parts.hpp"
#include "works/batch.hpp"
#include "works/method.hpp"

namespace bw::service {
namespace {

constexpr std::int64_t kMostResults = 1'000'000;  // of one answer of the store
constexpr std::int64_t kMostVersions = 10000;     // of a recipe

Result<void> check(const BookTrendQuery& q) {
    if (q.analyte.empty()) {
        return fail(ProblemCode::BadInput, "a chart of the books is of one constituent: name it",
                    {"", 0, "--analyte"});
    }
    for (const auto& [option, day] : {std::pair{"--since", &q.since}, {"--until", &q.until}}) {
        if (!day->empty() && !io::is_day(*day)) {
            return fail(ProblemCode::BadInput,
                        fmt::format("{} is no day: write it as \"2026-11-26\"", base::quoted(*day)),
                        {"", 0, option});
        }
    }
    if (q.last < 0 || q.last > kMostLast) {
        return fail(
            ProblemCode::BadInput,
            fmt::format("a chart is of the newest 1 to {} results, not of {}", kMostLast, q.last),
            {"", 0, "--last"});
    }
    if (!q.check_sample.empty() && (!q.recipe.empty() || !q.material.empty() || q.batch_means)) {
        return fail(ProblemCode::BadInput,
                    "a check sample is of no batch: it has no recipe, no material and no means of "
                    "batches",
                    {"", 0, "--check-sample"});
    }
    return {};
}

std::string asked_for(const BookTrendQuery& q) {
    std::string out = q.analyte;
    out += q.check_sample.empty() ? (q.batch_means ? ", means of batches" : " of batches")
                                  : " of " + q.check_sample;
    out += q.recipe.empty() ? "" : " by " + q.recipe;
    out += q.material.empty() ? "" : " with " + q.material;
    return out + (q.method.empty() ? "" : ", method " + q.method);
}

/// What the results of a chart point to, read at once.
class Origins {
public:
    static Result<Origins> of(const store::Books& books,
                              std::span<const store::MeasurementRow> rows) {
        std::set<std::string> batches, runs;
        for (const store::MeasurementRow& row : rows) {
            batches.insert(row.is.batch);
            runs.insert(row.is.run);
        }
        const auto links = [&](const char* kind, const std::set<std::string>& ids) {
            return books.links_from(kind, std::vector<std::string>(ids.begin(), ids.end()));
        };
        Origins out(books);
        BW_TRY(of_batches, links(kKind<works::Batch>, batches));
        for (const store::LinkRow& link : of_batches) {
            if (link.to.kind == kKind<works::RecipeVersion>) {
                out.versions_[link.from_id] = link.to.id;
            }
        }
        BW_TRY(of_runs, links(kKind<works::Run>, runs));
        for (const store::LinkRow& link : of_runs) {
            if (link.to.kind == kKind<works::Method>) {
                out.methods_[link.from_id].push_back(link.to.id);
            }
        }
        return out;
    }
    [[nodiscard]] std::string version(const std::string& batch) const {
        const auto found = versions_.find(batch);
        return found == versions_.end() ? std::string() : found->second;
    }
    /// The method of one result; a run by several is read for it.
    Result<std::string> method(const store::Measurement& m) {
        const auto found = methods_.find(m.run);
        if (found != methods_.end() && found->second.size() == 1) {
            return found->second.front();
        }
        auto run = runs_.find(m.run);
        if (run == runs_.end()) {
            BW_TRY(record, kept<works::Run>(books_, m.run));
            run = runs_.emplace(m.run, std::move(record.is)).first;
        }
        BW_TRY(line, works::line_of(run->second, m.line));
        return line->method;
    }

private:
    explicit Origins(const store::Books& books) : books_(books) {}
    const store::Books& books_;
    std::map<std::string, std::string> versions_;              // of batches
    std::map<std::string, std::vector<std::string>> methods_;  // of runs
    std::map<std::string, works::Run> runs_;
};

void add(const store::Measurement& m, const std::string& method, Met& met, BookTrend& out) {
    if (m.state == name(works::ResultState::SetAside)) {
        ++met.aside;
    } else if (m.state != name(works::ResultState::Counted)) {
        ++met.waiting;
    } else if (!m.value) {
        ++met.below;
    } else {
        met.methods.insert(method);
        out.values.push_back(*m.value);
        out.labels.push_back(fmt::format("{} {}/{}", m.batch, m.run, m.line));
        out.groups.push_back(m.batch);
        out.unit = m.unit;
    }
}

/// Leaves only batches of the recipe, or of its versions, and with the material.
///
/// Errors   NotFound where the books have none of the name.
Result<void> choose_batches(const store::Books& books, const BookTrendQuery& q,
                            store::MeasurementQuery& out) {
    if (!q.recipe.empty()) {
        store::PointingTo by{"by", kKind<works::RecipeVersion>, {}};
        if (q.recipe.find('/') != std::string::npos) {
            by.ids = {q.recipe};
        } else {
            store::ListQuery versions;
            versions.kind = by.kind;
            versions.id_prefix = q.recipe + "/";
            versions.limit = kMostVersions;
            BW_TRY(rows, books.list(versions));
            for (const store::Listed& row : rows) {
                by.ids.push_back(row.id);
            }
        }
        if (by.ids.empty()) {
            return fail(ProblemCode::NotFound,
                        fmt::format("the books have no recipe {}", base::quoted(q.recipe)),
                        {"", 0, "--recipe"});
        }
        out.batches.push_back(std::move(by));
    }
    if (!q.material.empty()) {
        store::PointingTo made{"made of", kKind<works::Lot>, {q.material}};
        BW_TRY(lots, books.links_to(kKind<works::Material>, q.material, "of"));
        for (store::LinkRow& lot : lots) {
            made.ids.push_back(std::move(lot.from_id));
        }
        out.batches.push_back(std::move(made));
    }
    return {};
}

/// Results that a chart may be of, the newest only where older ones are to be left out.
Result<std::vector<store::MeasurementRow>> rows_of(const store::Books& books,
                                                   const BookTrendQuery& q, BookTrend& out) {
    constexpr std::int64_t kLookedBack = 200;  // results before the first, for batches begun there
    store::MeasurementQuery query;
    query.analyte = q.analyte;
    query.from = q.since;
    query.before = q.until.empty() ? "" : q.until + kEndOfDay;
    query.limit = kMostResults;
    BW_CHECK(choose_batches(books, q, query));
    if (!q.method.empty()) {
        query.stated_by = store::PointingTo{"by", kKind<works::Method>, {q.method}};
    }
    const std::int64_t most = q.last > 0 ? q.last : q.since.empty() ? kNewestResults : 0;
    query.last = most > 0 ? most + kLookedBack : 0;
    BW_TRY(rows, books.measurements(query));
    if (most == 0 || rows.size() <= static_cast<std::size_t>(most)) {
        return std::move(rows);
    }
    const auto first = rows.end() - most;
    std::set<std::string> begun;
    if (q.batch_means || q.by_batch) {
        std::for_each(rows.begin(), first, [&](const auto& row) { begun.insert(row.is.batch); });
    }
    std::vector<store::MeasurementRow> newest;
    std::copy_if(first, rows.end(), std::back_inserter(newest),
                 [&](const auto& row) { return !begun.contains(row.is.batch); });
    out.notices.push_back(
        {"older_left_out", fmt::format("Of the newest {} results; there are older ones: ask for "
                                       "more of them, or for those since an earlier day.",
                                       most)});
    return newest;
}

Result<void> add_batches(const store::Books& books, const BookTrendQuery& q, BookTrend& out) {
    BW_TRY(rows, rows_of(books, q, out));
    BW_TRY(origins, Origins::of(books, rows));
    Met met;
    std::set<std::string> versions;
    for (const store::MeasurementRow& row : rows) {
        BW_TRY(method, origins.method(row.is));
        if (!q.method.empty() && method != q.method) {
            continue;
        }
        const std::string version = origins.version(row.is.batch);
        versions.insert(version);
        met.products.insert(version.substr(0, version.rfind('/')));
        add(row.is, method, met, out);
    }
    if (met.products.size() > 1) {
        return fail(
            ProblemCode::BadInput,
            fmt::format("these batches are of {}, each with a target of its own: choose one",
                        listed(met.products)),
            {"", 0, "--recipe"});
    }
    BW_CHECK(expect_one_method(met));
    tell(met, out);
    if (q.with_limits && !out.values.empty()) {
        BW_TRY(allowed,
               allowed_band(books, *met.products.begin(), versions, q.analyte, out.notices));
        out.allowed = allowed;
    }
    return {};
}

/// One value for each batch, at the place of its first result.
void take_means(BookTrend& out) {
    std::vector<std::string> order;
    std::map<std::string, std::pair<double, double>> sums;
    for (std::size_t i = 0; i < out.values.size(); ++i) {
        auto& [sum, count] = sums[out.groups[i]];
        if (count == 0) {
            order.push_back(out.groups[i]);
        }
        sum += out.values[i];
        count += 1;
    }
    out.values.clear();
    for (const std::string& batch : order) {
        out.values.push_back(sums[batch].first / sums[batch].second);
    }
    out.labels = order;
    out.groups = order;
}

}  // namespace

Result<BookTrend> results_in_time(const store::Books& books, const BookTrendQuery& query) {
    BW_CHECK(check(query));
    BW_CHECK(matter::require_constituent(query.analyte));
    if (!query.method.empty()) {
        BW_CHECK(kept<works::Method>(books, query.method));
    }
    BW_TRY(site, site_of(books));
    BookTrend out;
    out.name = asked_for(query);
    out.invented = site.invented;
    BW_CHECK(query.check_sample.empty() ? add_batches(books, query, out)
                                        : add_check_sample(books, query, out));
    if (out.values.empty()) {
        return fail(ProblemCode::NotFound,
                    fmt::format("the books hold no value to chart: {}{}{}{}", out.name,
                                query.since.empty() ? "" : ", since " + query.since,
                                query.until.empty() ? "" : ", until " + query.until,
                                out.notices.empty() ? "" : ". " + out.notices.front().text));
    }
    if (query.batch_means) {
        take_means(out);
    }
    return out;
}

}  // namespace bw::service
