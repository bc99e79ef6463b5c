// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/book_trend.hpp"

#include <algorithm>
#include <map>
#include <set>

#include <fmt/format.h>

#include "base/text.hpp"
#include "io/column_map.hpp"
#include "io/material_file.hpp"
#include "io/result_table.hpp"
#include "io/table_file.hpp"
#include "service/desk.hpp"
#include "service/people.hpp"
#include "works/batch.hpp"
#include "works/run.hpp"

namespace bw::service {
namespace {

constexpr std::int64_t kMostResults = 1'000'000;  // of one answer of the store
constexpr std::int64_t kPage = 1000;              // runs read at once
// Behind every instant of a day ("2026-11-26T..."), before the next day.
constexpr const char* kEndOfDay = "U";

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

/// Batches and runs of the books, each read once.
class Pages {
public:
    explicit Pages(const store::Books& books) : books_(books) {}
    Result<const works::Batch*> batch(const std::string& number) { return of(batches_, number); }
    Result<const works::Run*> run(const std::string& number) { return of(runs_, number); }

private:
    template <class T>
    Result<const T*> of(std::map<std::string, T>& known, const std::string& number) {
        auto found = known.find(number);
        if (found == known.end()) {
            BW_TRY(record, kept<T>(books_, number));
            found = known.emplace(number, std::move(record.is)).first;
        }
        return &found->second;
    }
    const store::Books& books_;
    std::map<std::string, works::Batch> batches_;
    std::map<std::string, works::Run> runs_;
};

bool chosen(const works::Batch& batch, const BookTrendQuery& q) {
    const bool recipe = q.recipe.empty() || q.recipe == batch.product || q.recipe == batch.recipe;
    const bool material =
        q.material.empty() ||
        std::any_of(batch.additions.begin(), batch.additions.end(), [&](const works::Addition& a) {
            return a.material == q.material || a.lot == q.material;
        });
    return recipe && material;
}

/// What was met on the way, and left out.
struct Met {
    std::set<std::string> products, methods;
    std::size_t waiting = 0, aside = 0, below = 0;
};

std::string listed(const std::set<std::string>& names) {
    return base::join_words(std::vector<std::string>(names.begin(), names.end()));
}

void tell(const Met& met, BookTrend& out) {
    const auto left_out = [&](std::size_t count, const char* code, const char* what) {
        if (count > 0) {
            out.notices.push_back({code, fmt::format("Left out: {} {}.", count, what)});
        }
    };
    left_out(met.waiting, "not_counted", "not checked or not counted yet");
    left_out(met.aside, "set_aside", "set aside");
    left_out(met.below, "below_limit", "below the limit, which are no values");
    if (met.methods.size() > 1) {
        out.notices.push_back(
            {"several_methods",
             fmt::format("The results are by several methods, {}: what differs between them looks "
                         "like a change of the batches. Choose one.",
                         listed(met.methods))});
    }
}

void add(const works::TestResult& result, const store::Measurement& row, Met& met, BookTrend& out) {
    if (result.state == works::ResultState::SetAside) {
        ++met.aside;
    } else if (result.state != works::ResultState::Counted) {
        ++met.waiting;
    } else if (!row.value) {
        ++met.below;
    } else {
        met.methods.insert(result.method);
        out.values.push_back(*row.value);
        out.labels.push_back(result.batch + " " + result.portion);
        out.groups.push_back(result.batch);
        out.unit = row.unit;
    }
}

Result<void> add_batches(const store::Books& books, const BookTrendQuery& q, BookTrend& out) {
    store::MeasurementQuery query;
    query.analyte = q.analyte;
    query.from = q.since;
    query.before = q.until.empty() ? "" : q.until + kEndOfDay;
    query.limit = kMostResults;
    BW_TRY(rows, books.measurements(query));
    Pages pages(books);
    Met met;
    for (const store::MeasurementRow& row : rows) {
        BW_TRY(batch, pages.batch(row.is.batch));
        if (!chosen(*batch, q)) {
            continue;
        }
        BW_TRY(run, pages.run(row.is.run));
        BW_TRY(result, works::line_of(*run, row.is.line));
        if (!q.method.empty() && result->method != q.method) {
            continue;
        }
        met.products.insert(batch->product);
        add(*result, row.is, met, out);
    }
    if (met.products.size() > 1) {
        return fail(
            ProblemCode::BadInput,
            fmt::format("these batches are of {}, each with a target of its own: choose one",
                        listed(met.products)),
            {"", 0, "--recipe"});
    }
    tell(met, out);
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
        if ((!q.since.empty() && at < q.since) || (!q.until.empty() && at >= q.until + kEndOfDay)) {
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

Result<std::vector<CheckReading>> checks_of(const store::Books& books, const BookTrendQuery& q,
                                            BookTrend& out) {
    std::vector<CheckReading> readings;
    Met met;
    std::size_t without_map = 0;
    store::ListQuery page;
    page.limit = kPage;
    for (bool more = true; more;) {
        BW_TRY(runs, kept_list<works::Run>(books, page));
        for (const auto& [run, version] : runs) {
            page.after = run.number;
            if (run.file.empty() || !by_method(run, q)) {
                continue;
            }
            const auto map = books.attachment(run.column_map);
            if (!map && map.error().code != ProblemCode::NotFound) {
                return tl::make_unexpected(map.error());
            }
            if (!map) {
                ++without_map;
                continue;
            }
            BW_TRY(table, books.attachment(run.file));
            BW_CHECK(add_checks(run, table, map->bytes, q, readings, met));
        }
        more = runs.size() == static_cast<std::size_t>(kPage);
    }
    tell(met, out);
    if (without_map > 0) {
        out.notices.push_back(
            {"no_column_map", fmt::format("Left out: {} runs whose column map is not in the "
                                          "books; it is kept with each import from now on.",
                                          without_map)});
    }
    std::stable_sort(readings.begin(), readings.end(),
                     [](const auto& a, const auto& b) { return a.at < b.at; });
    return readings;
}

Result<void> add_check_sample(const store::Books& books, const BookTrendQuery& q, BookTrend& out) {
    BW_TRY(readings, checks_of(books, q, out));
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

}  // namespace

Result<BookTrend> results_in_time(const store::Books& books, const BookTrendQuery& query) {
    BW_CHECK(check(query));
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
