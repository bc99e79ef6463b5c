// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
/// Twenty years of books, and how long a person waits for a page or a chart of them: books_bench
/// PLACE [FIGURES.json]
///
/// PLACE is a new folder or a postgresql:// string; FIGURES.json is what bench/books_report.py
/// reads. BW_BOOKS_BATCHES sets the number of batches: 73 000 are 20 years of 10 a day; each has 40
/// analytes in 4 replicates. The books are written through commit_all, some hundred acts to a
/// transaction, so that trail and projections are those of any other books; only the wait for the
/// disk after each single act is left out.
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <fstream>
#include <functional>
#include <random>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "matter/constituent.hpp"
#include "service/book_trend.hpp"
#include "service/desk.hpp"
#include "service/filing.hpp"
#include "store/books.hpp"
#include "store/instant.hpp"
#include "store/postgres_connection.hpp"
#include "store/where.hpp"

namespace {

using namespace bw::store;
using Clock = std::chrono::steady_clock;

constexpr int kAnalytes = 40, kReplicates = 4, kBatchesADay = 10, kMaterials = 12;
constexpr const char* kProduct = "Invented reef";
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
std::string run_id(int i) { return fmt::format("R{:06}-K", i); }
std::string lot_id(int material, int i) { return fmt::format("L{:02}-{:04}", material, i / 100); }
std::string material_name(int i) { return fmt::format("invented salt {}", i); }
std::string version_id(int i) { return fmt::format("{}/{}", kProduct, 1 + i / 3000); }
/// Calcium first, for which there are limits, then the others of the table.
std::string analyte_name(int i) {
    const auto calcium = static_cast<int>(bw::matter::constituent("Ca").index());
    const int other = i == 0 ? calcium : i <= calcium ? i - 1 : i;
    return std::string(bw::matter::Constituent(static_cast<std::size_t>(other)).symbol());
}
std::string method_name(int i) { return i % 8 == 0 ? "M-02" : "M-01"; }
std::string instant_at(int i) { return instant_of(kStart_ms + kDay_ms / kBatchesADay * i); }

Change act(const std::string& name, const std::string& kind, const std::string& id, int i) {
    Change change;
    change.act = {name, "ines", "analyst", "desk 1", kind + " write", kind, id, "", instant_at(i)};
    return change;
}

/// An act that writes one record as the program files it.
template <class T>
Change filed(const T& record, int i) {
    const Write write = bw::service::write_of(record, 0);
    Change change = act("make " + write.kind + " " + write.id, write.kind, write.id, i);
    change.writes.push_back(write);
    return change;
}

bw::works::RecipeVersion recipe_version(int i) {
    bw::works::RecipeVersion version;
    version.product = kProduct;
    version.number = 1 + i / 3000;
    version.target =
        "format = \"brinewright/1\"\nkind = \"target\"\nname = \"reef\"\n"
        "salinity = \"35\"\ntemperature = \"25 degC\"\n[[constituent]]\n"
        "symbol = \"Ca\"\ntarget = \"10.3 mmol/kg\"\n";
    return version;
}

/// What stands in the books before the first batch.
void add_first(std::vector<Change>& acts) {
    acts.push_back(filed(bw::works::Site{"Invented works", "Invented laboratory", "", true}, 0));
    for (int m = 0; m < kMaterials; ++m) {
        bw::works::Material material;
        material.name = material_name(m);
        acts.push_back(filed(material, 0));
    }
    for (const int m : {0, 1}) {
        bw::works::Method method;
        method.id = method_name(m);
        method.title = "an invented method";
        for (int a = 0; a < kAnalytes; ++a) {
            method.analytes.push_back(analyte_name(a));
        }
        acts.push_back(filed(method, 0));
    }
    bw::works::Limits limits;
    limits.product = kProduct;
    limits.bands = {{"Ca", 5, "", ""}};
    limits.approved =
        bw::works::Signature{"quinn", "Quinn", "quality manager", "", instant_at(0), ""};
    acts.push_back(filed(limits, 0));
}

void add_lots(std::vector<Change>& acts, int i) {
    for (int m = 0; m < kMaterials; ++m) {
        bw::works::Lot lot;
        lot.number = lot_id(m, i);
        lot.material = material_name(m);
        lot.quantity = "1000 kg";
        lot.quantity_kg = 1000;
        lot.received_at = instant_at(i);
        acts.push_back(filed(lot, i));
    }
}

bw::works::Run run_of(int i, std::mt19937& random) {
    constexpr double kCentre = 0.0103, kSpread = 0.0001, kMgPerMol = 40078;
    std::normal_distribution<double> scatter(kCentre, kSpread);
    bw::works::Run run;
    run.number = run_id(i);
    run.state = bw::works::RunState::Signed;
    run.entered_by = "ana";
    run.entered_at = instant_at(i);
    for (int line = 0; line < kAnalytes * kReplicates; ++line) {
        bw::works::TestResult r;
        r.line = line + 1;
        r.batch = batch_id(i);
        r.sample = r.batch + "/S1";
        r.portion = fmt::format("{}/P{}", r.sample, 1 + line / kAnalytes);
        r.analyte = analyte_name(line % kAnalytes);
        r.method = method_name(i);
        r.u_percent = 1;
        r.repeatability_percent = 0.5;
        r.mol_per_kg = scatter(random);
        r.digits = fmt::format("{:.3f}", r.mol_per_kg * kMgPerMol);
        r.unit = "mg/kg";
        r.read_at = run.entered_at;
        r.state = bw::works::ResultState::Counted;
        r.entered_by = "ana";
        r.checked_by = "ben";
        run.results.push_back(std::move(r));
    }
    return run;
}

/// A run as it is filed, but with a short text of its own: the some 60 kB of 160 results, which no
/// page or chart here reads, would take most of the writing.
Change filed_run(const bw::works::Run& run, int i) {
    Change change = act("make run " + run.number, "run", run.number, i);
    Write write = bw::service::filing_of(run);
    write.kind = "run";
    write.body =
        fmt::format(R"({{"lines":"{}","number":"{}"}})", std::string(4000, 'r'), run.number);
    change.writes.push_back(std::move(write));
    return change;
}

void add_batch(std::vector<Change>& acts, int i, std::mt19937& random) {
    if (i % 3000 == 0) {
        acts.push_back(filed(recipe_version(i), i));
    }
    if (i % 100 == 0) {
        add_lots(acts, i);
    }
    bw::works::Batch batch;
    batch.number = batch_id(i);
    batch.product = kProduct;
    batch.recipe = version_id(i);
    batch.size_kg = 500;
    batch.state = bw::works::BatchState::Released;
    batch.planned_at = instant_at(i);
    batch.blend_g_per_kg_purified_water = 38.5;
    batch.invented = true;
    for (int m = 0; m < kMaterials; ++m) {
        batch.additions.push_back(
            {m + 1, material_name(m), lot_id(m, i), 41.25, 0.05, "F1", "blender", {}});
    }
    acts.push_back(filed(batch, i));
    acts.push_back(filed_run(run_of(i, random), i));
}

void build(const std::string& place, int batches, nlohmann::json& out) {
    const auto start = Clock::now();
    Books books = must(Books::create(place, "2006-01-01T00:00:00.000Z"));
    std::mt19937 random(35);
    constexpr int kAtOnce = 250;  // batches to a transaction
    for (int i = 0; i < batches;) {
        std::vector<Change> acts;
        if (i == 0) {
            add_first(acts);
        }
        for (const int end = std::min(batches, i + kAtOnce); i < end; ++i) {
            add_batch(acts, i, random);
        }
        must(books.commit_all(acts));
    }
    out["batches"] = batches;
    out["results"] = batches * kAnalytes * kReplicates;
    out["write_s"] = seconds_since(start);
    std::printf("write %d batches, %d measurements: %.1f s\n", batches,
                batches * kAnalytes * kReplicates, seconds_since(start));
    std::fflush(stdout);
}

/// Asks the same question of different records, and keeps how long each answer took.
class Questions {
public:
    explicit Questions(nlohmann::json& out) : out_(out) {}
    void ask(const char* name, int times, const std::function<void(int)>& query) {
        std::vector<double> ms, own_ms;  // by the clock on the wall, and of this process alone
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
        out_["questions"].push_back({{"name", name},
                                     {"times", times},
                                     {"p50_ms", at(ms, 50)},
                                     {"p99_ms", at(ms, 99)},
                                     {"own_p50_ms", at(own_ms, 50)},
                                     {"own_p99_ms", at(own_ms, 99)}});
        std::printf("%-52s p50 %8.2f ms  p99 %8.2f ms, of own work p50 %7.2f p99 %7.2f (%d)\n",
                    name, at(ms, 50), at(ms, 99), at(own_ms, 50), at(own_ms, 99), times);
        std::fflush(stdout);
    }

private:
    nlohmann::json& out_;
};

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

void ask_pages(Books& books, int batches, Questions& questions) {
    const auto id = [&](int which) { return batch_id(which % batches); };
    questions.ask("a batch number", 500, [&](int which) { must(books.search(id(which))); });
    questions.ask("four characters of one", 200,
                  [&](int which) { must(books.search(id(which).substr(0, 4))); });
    questions.ask("page of a batch: record, links, 160 results", 500, [&](int which) {
        must(books.newest("batch", id(which)));
        must(books.links_from("batch", id(which)));
        must(books.links_to("batch", id(which)));
        MeasurementQuery query;
        query.batch = id(which);
        must(books.measurements(query));
    });
    questions.ask("list of 200 batches", 200, [&](int which) {
        ListQuery query;
        query.kind = "batch";
        query.after = id(which);
        must(books.list(query));
    });
    questions.ask("trail of one batch", 200, [&](int which) {
        EntryQuery query;
        query.subject_kind = "batch";
        query.subject_id = id(which);
        must(books.entries(query));
    });
}

using bw::service::BookTrendQuery;

/// Charts as `chart trend` reads them: the newest 1000 results that a choice leaves.
void ask_charts(Books& books, int batches, Questions& questions) {
    const auto chart = [&](const char* name,
                           const std::function<void(int, BookTrendQuery&)>& choose) {
        questions.ask(name, 200, [&](int which) {
            BookTrendQuery query;
            query.analyte = analyte_name(which % kAnalytes);
            query.method = "M-01";
            query.with_limits = true;
            choose(which, query);
            const auto trend = must(bw::service::results_in_time(books, query));
            if (trend.values.empty() || trend.values.size() > 1000) {
                std::fprintf(stderr, "%s: %zu values\n", name, trend.values.size());
                std::exit(1);
            }
        });
    };
    questions.ask("1000 results of the store up to any day", 200, [&](int which) {
        MeasurementQuery query;
        query.analyte = analyte_name(which % kAnalytes);
        query.before = instant_at(which % batches);
        query.last = 250 * kReplicates;
        must(books.measurements(query));
    });
    chart("chart: the newest 1000 results by a method", [](int, BookTrendQuery&) {});
    chart("chart: by a method of one batch in eight",
          [](int, BookTrendQuery& q) { q.method = "M-02"; });
    chart("chart: up to any day", [&](int which, BookTrendQuery& q) {
        q.until = instant_at(which % batches).substr(0, sizeof("2026-11-26") - 1);
    });
    chart("chart: means of the batches, with the product's limits", [](int, BookTrendQuery& q) {
        q.analyte = "Ca";
        q.batch_means = true;
    });
    chart("chart: of a product", [](int, BookTrendQuery& q) { q.recipe = kProduct; });
    chart("chart: of one recipe version",
          [&](int which, BookTrendQuery& q) { q.recipe = version_id(which % batches); });
    chart("chart: with a material",
          [](int which, BookTrendQuery& q) { q.material = material_name(which % kMaterials); });
    chart("chart: with one lot", [&](int which, BookTrendQuery& q) {
        q.material = lot_id(which % kMaterials, which % batches);
    });
}

void ask(Books& books, int batches, nlohmann::json& out) {
    Questions questions(out);
    ask_pages(books, batches, questions);
    ask_charts(books, batches, questions);
    const std::string mark = must(books.mark());  // so that books asked again get other lots
    int number = 0;
    questions.ask("one act, on the disk", 200, [&](int) {
        bw::works::Lot lot;
        lot.number = fmt::format("M{}/{}", mark, ++number);
        lot.material = material_name(0);
        must(books.commit(filed(lot, 1)));
    });
}

double load() {
    double average = 0;
    return ::getloadavg(&average, 1) == 1 ? average : -1;
}

/// Opens books, however they came to be, and asks them.
Books measured(const std::string& place, int batches, nlohmann::json& out) {
    const auto start = Clock::now();
    Books books = must(Books::open(place));
    out["open_s"] = seconds_since(start);
    out["size_gb"] = gigabytes(place);
    out["load_before"] = load();
    std::printf("open: %.3f s, size %.2f GB\n", seconds_since(start), gigabytes(place));
    ask(books, batches, out);
    out["load_after"] = load();
    return books;
}

bool looked_through(const Books& books, nlohmann::json& out) {
    const auto start = Clock::now();
    const Verification report = must(books.verify());
    out["entries"] = report.entries;
    out["verify_s"] = seconds_since(start);
    std::printf("verify %lld entries, all projections: %.1f s, %s\n",
                static_cast<long long>(report.entries), seconds_since(start),
                report.sound() ? "sound" : report.faults.front().c_str());
    return report.sound();
}

}  // namespace

int main(int argc, char** argv) {
    if (argc != 2 && argc != 3) {
        std::fprintf(stderr, "books_bench PLACE [FIGURES.json]\n");
        return 2;
    }
    const std::string place = argv[1];
    const char* asked = std::getenv("BW_BOOKS_BATCHES");
    constexpr int kTwentyYears = 73000;
    const int batches = asked != nullptr ? std::atoi(asked) : kTwentyYears;
    nlohmann::json out;
    if (std::getenv("BW_BOOKS_ASK") == nullptr) {
        build(place, batches, out);
    } else if (argc == 3) {
        std::ifstream(argv[2]) >> out;
        out.erase("questions");
    }
    if (batches == 0) {
        return 0;
    }
    const Books books = measured(place, batches, out);
    const auto keep = [&] {
        if (argc == 3) {
            std::ofstream(argv[2]) << out.dump(1) << "\n";
        }
    };
    keep();
    if (std::getenv("BW_BOOKS_ASK") != nullptr) {
        return 0;
    }
    const bool sound = looked_through(books, out);
    keep();
    return sound ? 0 : 1;
}
