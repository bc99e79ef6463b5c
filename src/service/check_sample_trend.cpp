// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <tuple>

#include <fmt/format.h>

#include "base/text.hpp"
#include "io/column_map.hpp"
#include "io/result_table.hpp"
#include "io/table_file.hpp"
#include "service/trend_parts.hpp"
#include "works/run.hpp"

namespace bw::service {
namespace {

/// One reading of a check sample with its place in time.
struct CheckReading {
    std::string at, run, cell, unit;
    double value = 0;
};

bool by_method(const works::Run& run, const BookTrendQuery& q) {
    return q.method.empty() ||
           std::any_of(run.results.begin(), run.results.end(), [&](const works::TestResult& r) {
               return r.analyte == q.analyte && r.method == q.method;
           });
}

/// The readings that a run has of its method's check samples, typed or imported, as corrected;
/// whether there are any.
Result<bool> add_kept_checks(const works::Run& run, const BookTrendQuery& q,
                             std::vector<CheckReading>& out) {
    bool any = false;
    for (std::size_t i = 0; i < run.checks.size(); ++i) {
        const works::CheckReading& c = run.checks[i];
        if (c.name != q.check_sample || c.analyte != q.analyte ||
            (!q.method.empty() && c.method != q.method)) {
            continue;
        }
        any = true;
        if (!in_time(c.read_at, q)) {
            continue;
        }
        BW_TRY(read, works::read_of(c));
        out.push_back({c.read_at, run.number, fmt::format("check {}", i + 1), c.unit, read});
    }
    return any;
}

/// The check sample's readings in the table behind a run.
Result<void> add_checks(const works::Run& run, const store::Attachment& table,
                        const std::string& map_text, const BookTrendQuery& q,
                        std::vector<CheckReading>& out, Met& met) {
    BW_TRY(document, io::parse_document(map_text, "column map of " + run.number));
    BW_TRY(map, io::read_column_map(document));
    BW_TRY(cells,
           io::read_table(table.bytes, table.name, {map.encoding, map.separator}, map.sheet));
    const io::ResultImport read = io::import_results(cells, map);
    for (const io::Reading& r : read.checks) {
        if (r.sample != q.check_sample || r.analyte != q.analyte) {
            continue;
        }
        const std::string at = r.measured_at.empty() ? run.entered_at : r.measured_at;
        if (!in_time(at, q)) {
            continue;
        }
        if (!r.value) {
            ++met.below;
            continue;
        }
        const double times = r.dilution && !r.dilution_applied ? r.dilution->value : 1;
        out.push_back(
            {at, run.number, r.cell, r.unit.text(), (*r.value - r.blank.value_or(0)) * times});
    }
    return {};
}

/// What runs, and the tables behind them, hold of the check sample, newest first, until enough of
/// them held it.
class CheckReader {
public:
    CheckReader(const store::Books& books, const BookTrendQuery& q)
        : books_(books), q_(q), most_(q.last > 0 || !q.since.empty() ? q.last : kNewestRuns) {}

    Result<std::vector<CheckReading>> read(BookTrend& out) {
        store::ListQuery page;
        page.limit = kRunsAtOnce;
        page.descending = true;
        if (!q_.method.empty()) {
            page.pointing_to = store::Link{"by", kKind<works::Method>, q_.method};
        }
        for (bool more = true; more && !enough_;) {
            BW_TRY(runs, kept_list<works::Run>(books_, page));
            for (auto run = runs.begin(); run != runs.end() && !enough_; ++run) {
                page.after = run->is.number;
                BW_CHECK(take(run->is));
            }
            more = runs.size() == static_cast<std::size_t>(kRunsAtOnce);
        }
        BW_CHECK(expect_one_method(met_));
        tell(met_, out);
        tell_left_out(out);
        std::stable_sort(readings_.begin(), readings_.end(), [](const auto& a, const auto& b) {
            return std::tie(a.at, a.run) < std::tie(b.at, b.run);
        });
        return std::move(readings_);
    }

private:
    Result<void> take(const works::Run& run) {
        if (!by_method(run, q_)) {
            return {};
        }
        const std::size_t before = readings_.size();
        BW_TRY(kept, add_kept_checks(run, q_, readings_));
        if (!kept && !run.file.empty()) {
            BW_CHECK(take_table(run));
        }
        if (readings_.size() == before) {
            return {};
        }
        if (most_ > 0 && held_ == most_) {
            readings_.resize(before);
            enough_ = true;
            return {};
        }
        ++held_;
        for (const works::TestResult& r : run.results) {
            if (r.analyte == q_.analyte && (q_.method.empty() || r.method == q_.method)) {
                met_.methods.insert(r.method);
            }
        }
        return {};
    }
    Result<void> take_table(const works::Run& run) {
        const auto map = books_.attachment(run.column_map);
        if (!map && map.error().code != ProblemCode::NotFound) {
            return tl::make_unexpected(map.error());
        }
        if (!map) {
            ++without_map_;
            return {};
        }
        BW_TRY(table, books_.attachment(run.file));
        return add_checks(run, table, map->bytes, q_, readings_, met_);
    }
    void tell_left_out(BookTrend& out) const {
        if (enough_) {
            out.notices.push_back(
                {"older_left_out",
                 fmt::format(
                     "Of the newest {} runs that hold it; there are older ones: ask for more "
                     "of them, or for those since an earlier day.",
                     most_)});
        }
        if (without_map_ > 0) {
            out.notices.push_back(
                {"no_column_map", fmt::format("Left out: {} runs whose column map is not in the "
                                              "books; it is kept with each import from now on.",
                                              without_map_)});
        }
    }

    static constexpr std::int64_t kRunsAtOnce = 50;
    const store::Books& books_;
    const BookTrendQuery& q_;
    std::int64_t most_;  // runs; 0: all
    std::int64_t held_ = 0;
    bool enough_ = false;
    std::size_t without_map_ = 0;
    std::vector<CheckReading> readings_;
    Met met_;
};

}  // namespace

Result<void> add_check_sample(const store::Books& books, const BookTrendQuery& q, BookTrend& out) {
    BW_TRY(readings, CheckReader(books, q).read(out));
    for (CheckReading& r : readings) {
        if (!out.values.empty() && r.unit != out.unit) {
            return fail(ProblemCode::BadInput,
                        fmt::format("{} of run {} is in {}, and before it {}: choose a method, or "
                                    "days, of one unit",
                                    r.cell, r.run, r.unit, out.unit));
        }
        out.unit = r.unit;
        out.values.push_back(r.value);
        out.labels.push_back(r.run + " " + r.cell);
        out.groups.push_back(std::move(r.run));
    }
    return {};
}

}  // namespace bw::service
