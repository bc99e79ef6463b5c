// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
/// Twenty years of books, and how long a person waits for a page of them: books_bench PLACE
///
/// PLACE is a new folder or a postgresql:// string. BW_BOOKS_BATCHES sets the number of batches: 73
/// 000 are 20 years of 10 a day; each has 40 analytes in 4 replicates. The books are written
/// through commit_all, some hundred acts to a transaction, so that trail and projections are those
/// of any other books; only the wait for the disk after each single act is left out.
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <functional>
#include <random>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "store/books.hpp"
#include "store/instant.hpp"
#include "store/postgres_connection.hpp"
#include "store/where.hpp"

namespace {

using namespace bw::store;
using Clock = std::chrono::steady_clock;

constexpr int kAnalytes = 40, kReplicates = 4, kBatchesADay = 10;
constexpr std::int64_t kDay_ms = 86400000, kStart_ms = 1136073600000;  // 2006-01-01

template <class T>
T must(bw::Result<T> result) {
    if (!result) {
        std::fprintf(stderr, "%s\n", result.error().text().c_str());
        std::exit(bw::base::exit_code(result.error().code));
    }
    if constexpr (!std::is_void_v<T>) {
        return std::move(*result);
    }
}

double seconds_since(Clock::time_point start) {
    return std::chrono::duration<double>(Clock::now() - start).count();
}

double own_seconds() {
    return static_cast<double>(std::clock()) / static_cast<double>(CLOCKS_PER_SEC);
}

std::string batch_id(int i) { return fmt::format("B{:06}-K", i); }

Change act(const std::string& name, const std::string& kind, const std::string& id, int i) {
    Change change;
    change.act = {name,
                  "ines",
                  "analyst",
                  "desk 1",
                  kind + " write",
                  kind,
                  id,
                  "",
                  instant_of(kStart_ms + kDay_ms / kBatchesADay * i)};
    change.writes.push_back({kind, id, 0, "{}", "released", "batch " + id, {}, {}, {}});
    return change;
}

void add_batch(std::vector<Change>& acts, int i, std::mt19937& random) {
    const std::string id = batch_id(i);
    Change batch = act("make " + id, "batch", id, i);
    batch.writes[0].body = fmt::format(R"({{"notes":"{}","number":{}}})", std::string(900, 'n'), i);
    batch.writes[0].links = {{"made of", "lot", fmt::format("L{}", i / 100)},
                             {"by", "recipe", fmt::format("R{}", i / 3000)}};
    batch.writes[0].keys = {fmt::format("bag {}", i)};
    acts.push_back(std::move(batch));
    Change run = act("test " + id, "run", "run " + id, i);
    run.writes[0].links = {{"of", "batch", id}};
    run.writes[0].body =
        fmt::format(R"({{"instrument":"icp","lines":"{}"}})", std::string(4000, 'r'));
    std::normal_distribution<double> scatter(400, 4);
    for (int line = 0; line < kAnalytes * kReplicates; ++line) {
        Measurement m;
        m.analyte = fmt::format("A{:02}", line % kAnalytes);
        m.sample = fmt::format("{}/S{}", id, line / kAnalytes);
        m.batch = id;
        m.run = "run " + id;
        m.line = line + 1;
        m.at = run.act.at;
        m.value = scatter(random);
        m.digits = fmt::format("{:.3f}", *m.value);
        m.u = 1.25;
        m.unit = "mg/kg";
        m.state = "counted";
        run.writes[0].measurements.push_back(std::move(m));
    }
    acts.push_back(std::move(run));
}

void build(const std::string& place, int batches) {
    const auto start = Clock::now();
    Books books = must(Books::create(place, "2006-01-01T00:00:00.000Z"));
    std::mt19937 random(35);
    constexpr int kAtOnce = 250;  // batches to a transaction
    for (int i = 0; i < batches;) {
        std::vector<Change> acts;
        for (const int end = std::min(batches, i + kAtOnce); i < end; ++i) {
            add_batch(acts, i, random);
        }
        must(books.commit_all(acts));
    }
    std::printf("write %d batches, %d measurements: %.1f s\n", batches,
                batches * kAnalytes * kReplicates, seconds_since(start));
}

void measure(const char* name, int times, const std::function<void(int)>& query) {
    std::vector<double> ms, own_ms;  // by the clock on the wall, and of this process's work alone
    std::mt19937 random(7);
    for (int i = 0; i < times; ++i) {
        const int which = static_cast<int>(random() >> 1U);
        const auto start = Clock::now();
        const double own = own_seconds();
        query(which);
        ms.push_back(1000 * seconds_since(start));
        own_ms.push_back(1000 * (own_seconds() - own));
    }
    const auto at = [](std::vector<double>& sorted, std::size_t percent) {
        std::sort(sorted.begin(), sorted.end());
        return sorted[sorted.size() * percent / 100];
    };
    std::printf("%-34s p50 %8.2f ms  p99 %8.2f ms, of own work p50 %7.2f p99 %7.2f (%d times)\n",
                name, at(ms, 50), at(ms, 99), at(own_ms, 50), at(own_ms, 99), times);
    std::fflush(stdout);
}

double gigabytes(const std::string& place) {
    constexpr double kGiga = 1e9;
    const Where where = must(where_of(place));
    if (!where.postgres) {
        return static_cast<double>(std::filesystem::file_size(where.file())) / kGiga;
    }
    auto server = must(open_postgres(place, where.shown, 1000));
    return static_cast<double>(must(server->query("SELECT pg_database_size(current_database())"))
                                   .at(0)
                                   .integer(0)) /
           kGiga;
}

void ask(Books& books, int batches) {
    const auto id = [&](int which) { return batch_id(which % batches); };
    measure("search a batch number", 500, [&](int which) { must(books.search(id(which))); });
    measure("search by four characters", 200,
            [&](int which) { must(books.search(id(which).substr(0, 4))); });
    measure("batch page: record, links, results", 500, [&](int which) {
        must(books.newest("batch", id(which)));
        must(books.links_from("batch", id(which)));
        must(books.links_to("batch", id(which)));
        MeasurementQuery query;
        query.batch = id(which);
        must(books.measurements(query));
    });
    measure("list of 200 batches", 200, [&](int which) {
        ListQuery query;
        query.kind = "batch";
        query.after = id(which);
        must(books.list(query));
    });
    measure("trend of 250 batches, 4 replicates", 200, [&](int which) {
        MeasurementQuery query;
        query.analyte = fmt::format("A{:02}", which % kAnalytes);
        query.before = instant_of(kStart_ms + kDay_ms / kBatchesADay * (which % batches));
        query.last = 250 * kReplicates;
        must(books.measurements(query));
    });
    measure("trail of one batch", 200, [&](int which) {
        EntryQuery query;
        query.subject_kind = "batch";
        query.subject_id = id(which);
        must(books.entries(query));
    });
    int number = 0;
    measure("one act, on disk", 200, [&](int) {
        must(books.commit(
            act(fmt::format("more {}", ++number), "lot", fmt::format("M{}", number), 1)));
    });
}

}  // namespace

int main(int argc, char** argv) {
    if (argc != 2) {
        std::fprintf(stderr, "books_bench PLACE\n");
        return 2;
    }
    const std::string place = argv[1];
    const char* asked = std::getenv("BW_BOOKS_BATCHES");
    constexpr int kTwentyYears = 73000;
    const int batches = asked != nullptr ? std::atoi(asked) : kTwentyYears;
    build(place, batches);
    auto start = Clock::now();
    Books books = must(Books::open(place));
    std::printf("open: %.3f s, size %.2f GB\n", seconds_since(start), gigabytes(place));
    ask(books, batches);
    start = Clock::now();
    const Verification report = must(books.verify());
    std::printf("verify %lld entries, all projections: %.1f s, %s\n",
                static_cast<long long>(report.entries), seconds_since(start),
                report.sound() ? "sound" : report.faults.front().c_str());
    return report.sound() ? 0 : 1;
}
