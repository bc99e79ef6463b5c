// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// A working day on books whose database or disk fails: each statement of each act, each write, sync
// and read of the disk is made to fail once. Whatever fails, the act is not done or done whole, who
// asked is told in one sentence, and the same request sent again is done once.
#include <gmock/gmock.h>

#include "figure.hpp"
#include "fuzz/one_line.hpp"
#include "service/certificates.hpp"
#include "service/mixing_sheets.hpp"
#include "service/results_import.hpp"
#include "store/fault_disk.hpp"
#include "store/fault_line.hpp"
#include "works_day.hpp"

namespace bw::worksday {
namespace {

using store::Break;
using store::fault_disk::Fault;

/// A way to fail at the n-th point of an act.
struct Way {
    std::function<void(int n)> set;
    std::function<bool()> mend;  ///< whether the point was reached
    bool silent = false;         ///< what fails may be work that the act does not rest on
    bool unsure = false;         ///< the act may have been done, though its answer is an error
    bool anew = false;           ///< the books are opened anew before each trial
};

/// What the books hold; equal where nothing at all was written.
struct Held {
    std::string mark;
    store::Counts counts;
    bool operator==(const Held&) const = default;
};

class FailingDay : public WorksDay {
protected:
    using Act = std::function<Result<void>(const service::Desk&, const service::Intent&)>;

    void SetUp() override {
        WorksDay::SetUp();
        keep_rules();
        reopen();
    }
    void reopen() {
        books_.reset();
        books_.emplace(BW_MUST(
            store::Books::open(place_, {store::Mode::ReadWrite, kWait_ms, line_.between()})));
    }
    Held held() { return {BW_MUST(books_->mark()), BW_MUST(books_->counts())}; }
    void expect_sound(const std::string& after) {
        const store::Verification found = BW_MUST(books_->verify());
        EXPECT_TRUE(found.sound()) << after << ": " << found.faults.front();
    }

    Way statement(Break how) {
        return {[this, how](int n) { line_.break_at(n, how); }, [this] { return line_.mend(); },
                false, how == Break::AnswerLost, false};
    }
    std::vector<Way> statements() {
        if (ground_.dialect() == store::Dialect::Sqlite) {
            return {statement(Break::Refused)};
        }
        return {statement(Break::Refused), statement(Break::Cut), statement(Break::AnswerLost)};
    }

    /// One trial of an act that fails at a point; whether it is done now.
    bool tried(const std::string& what, const service::Desk& desk, const service::Intent& once,
               const Act& act, const Held& before, std::int64_t entries, int n, const Way& way) {
        way.set(n);
        const Result<void> result = act(desk, once);
        const bool met = way.mend();
        failures_ += met ? 1 : 0;
        const std::string at = fmt::format("{}, failure at point {}", what, n);
        if (result) {
            EXPECT_TRUE(!met || way.silent) << at << ": the act does not notice";
            return true;
        }
        EXPECT_TRUE(met) << at << ": " << result.error().text();
        EXPECT_EQ(result.error().code, ProblemCode::Disk) << at << ": " << result.error().text();
        const fuzz::Fault fault = fuzz::fault_of_complaint(result.error());
        EXPECT_FALSE(fault) << at << ": " << fault.value_or("");
        const Held after = held();
        const bool done = way.unsure && after.counts.entries == before.counts.entries + entries;
        EXPECT_TRUE(done || after == before) << at << ": something is written";
        expect_sound(at);
        if (!way.anew) {  // an attempt that was cut off counts as one that failed
            BW_MUST(books_->reset_failures(desk.person.id));
        }
        return done || HasFailure();
    }

    /// Lets an act of so many entries fail at every point in every way; then it is done, once. Its
    /// answer.
    std::string endure(const std::string& what, const std::string& person, const Act& act,
                       std::int64_t entries = 1) {
        const service::Intent once = intent();
        const Held before = held();
        bool done = false;
        for (int n = 1; !done; ++n) {
            for (std::size_t i = 0; !done && i < ways_.size(); ++i) {
                if (ways_[i].anew) {
                    reopen();
                }
                done = tried(what, desk(person), once, act, before, entries, n, ways_[i]);
            }
        }
        reopen();
        BW_MUST(act(desk(person), once));
        const Held after = held();
        EXPECT_EQ(after.counts.entries, before.counts.entries + entries) << what;
        EXPECT_EQ(after.counts.requests, before.counts.requests + entries) << what;
        expect_sound(what);
        const auto receipt = BW_MUST(books_->receipt(once.request));  // of weighings: one for each
        return receipt ? receipt->answer : "";
    }

    /// An act of the service whose receipt is looked for in the books.
    template <class Call>
    static Act act(Call call) {
        return [call](const service::Desk& desk, const service::Intent& once) -> Result<void> {
            BW_CHECK(call(desk, once));
            return {};
        };
    }

    void make() {
        const auto file = BW_MUST(io::parse_document(R"(format = "brinewright/1"
kind = "lots"
[[lot]]
material = "sodium chloride"
number = "A26-0900"
stock = "50 kg"
supplier = "Invented salts"
)",
                                                     "lots.toml"));
        endure("lot receive", "rex", act([&](auto& desk, auto& once) {
                   return service::receive_lots(
                       desk, file, {{"c.pdf", "application/pdf", std::string(20000, 'c')}}, once);
               }));
        batch_ =
            endure("batch plan", "pia", act([](auto& desk, auto& once) {
                       return service::plan_batch(desk, {kProduct, 100, true, false, {}, ""}, once);
                   }));
        std::vector<service::WeighingEntry> entries;
        for (const works::Addition& a :
             BW_MUST(service::kept<works::Batch>(*books_, batch_)).is.additions) {
            entries.push_back({a.step, a.lot, "", fmt::format("{:.4f} kg", a.target_kg), "", true});
        }
        endure("batch weigh", "otto", act([&](auto& desk, auto& once) {
                   return service::weigh(desk, batch_, entries, once);
               }),
               static_cast<std::int64_t>(entries.size()));
        endure("batch blend", "otto", act([&](auto& desk, auto& once) {
                   return service::blend_batch(desk, batch_, once);
               }));
        endure("batch close", "otto", act([&](auto& desk, auto& once) {
                   return service::close_batch(desk, batch_, {98.5, 0.6, 0.5, 4}, once);
               }));
    }

    void test() {
        const std::string sample = endure(
            "sample take", "otto", act([&](auto& desk, auto& once) {
                return service::take_sample(desk, {batch_, 10, "500 g", "", "riffler"}, once);
            }));
        const Act dissolved = act([&](auto& desk, auto& once) {
            return service::keep_portion(
                desk, {sample, "38.50 g", "1000.0 g", works::StrengthBy::DryMass, "", "", "", ""},
                once);
        });
        const std::string one = endure("sample portion", "ana", dissolved);
        const std::string two = endure("sample portion", "ana", dissolved);
        const service::ImportOrder table{
            "run.csv",
            fmt::format("Sample,Ca [mmol/kg],Mg [mmol/kg]\n{0},{2},{3}\n{1},{2},{3}\n", one, two,
                        digits(kCalcium), digits(kMagnesium)),
            kMap,
            batch_,
            "M-07",
            {},
            {}};
        const std::string run = endure("results import", "ana", act([&](auto& desk, auto& once) {
                                           return service::import_results(desk, table, once);
                                       }));
        endure("results check", "ben", act([&](auto& desk, auto& once) {
                   return service::check_run(desk, run, {}, once);
               }));
        endure("results count", "ben", act([&](auto& desk, auto& once) {
                   return service::count_run(desk, run, signing(), once);
               }));
    }

    void release() {
        endure("release decide", "quinn", act([&](auto& desk, auto& once) {
                   return service::decide_release(desk, {batch_, works::Decision::Release, ""},
                                                  signing(), once);
               }));
        endure("certificate issue", "quinn", act([&](auto& desk, auto& once) {
                   return service::issue_certificate(desk, {batch_, "", "2027-12-31", true},
                                                     nullptr, once);
               }));
        endure("person change password", "ana", act([](auto& desk, auto& once) {
                   return service::change_password(
                       desk, {kPassword, "another long invented password"}, once);
               }));
        EXPECT_TRUE(
            BW_MUST(books_->check_password("ana", "another long invented password", at())).right);
        EXPECT_EQ(state(batch_), works::BatchState::Released);
    }

    void day(std::vector<Way> ways) {
        ways_ = std::move(ways);
        make();
        test();
        release();
        EXPECT_GT(failures_, kFewestFailures);
        RecordProperty("failures", failures_);
    }

    static constexpr int kWait_ms = 5000, kFewestFailures = 30;
    static constexpr const char* kMap = R"(format = "brinewright/1"
kind = "column-map"
name = "invented instrument"
decimal_sign = "point"
[[column]]
head = "Sample"
role = "sample"
[[column]]
head = "Ca [mmol/kg]"
role = "analyte"
analyte = "Ca"
unit = "mmol/kg"
[[column]]
head = "Mg [mmol/kg]"
role = "analyte"
analyte = "Mg"
unit = "mmol/kg"
)";

    store::FaultLine line_;
    std::vector<Way> ways_;
    std::string batch_;
    int failures_ = 0;
};

BW_ON_BOTH(FailingDay);

/// What failed in a day of acts, and that none of it was kept by half.
void record_failures(const std::string& each, int failures) {
    test::record(
        {"Books",
         fmt::format("{} of a day's acts made to fail once: the act is kept whole or not at "
                     "all, and the trail is sound",
                     each),
         "every write made to fail once",
         fmt::format("{} failures, nothing kept by half", failures), !testing::Test::HasFailure(),
         true});
}

TEST_P(FailingDay, EveryStatement) {
    day(statements());
    record_failures("each statement on " + store::ground::name_of({GetParam(), 0}), failures_);
}

TEST_P(FailingDay, ASessionIsOpenedWithAllOfItOrNotAtAll) {
    for (const Way& way : statements()) {
        std::string token;
        for (int n = 1; token.empty(); ++n) {
            way.set(n);
            const auto opened = books_->open_session("ana", "desk", at());
            EXPECT_EQ(way.mend(), !opened);
            token = opened.value_or("");
        }
        bool ended = false;
        for (int n = 1; !ended; ++n) {
            const std::string now = at();
            const auto used = books_->session(token, now);
            ASSERT_TRUE(used) << used.error().text();
            EXPECT_EQ(used->person, "ana");
            way.set(n);
            ended = books_->close_session(token).has_value();
            EXPECT_EQ(way.mend(), !ended);
            ended = ended || (way.unsure && !books_->session(token, now));
        }
        EXPECT_EQ(books_->session(token, at()).error().code, ProblemCode::NotFound);
    }
}

/// The disk under SQLite; PostgreSQL keeps its own.
class FailingDisk : public FailingDay {
protected:
    void SetUp() override {
        store::fault_disk::install();
        FailingDay::SetUp();
    }
    static Way disk(Fault fault) {
        const bool syncs = fault == Fault::SyncFails;
        return {[fault](int n) { store::fault_disk::fail_from(n, fault); },
                [] { return store::fault_disk::mend(); }, true, syncs,
                syncs || fault == Fault::ReadFails};
    }
};

INSTANTIATE_TEST_SUITE_P(On, FailingDisk, ::testing::Values(store::Dialect::Sqlite),
                         store::ground::name_of);

TEST_P(FailingDisk, EveryWrite) {
    day({disk(Fault::WriteFails), disk(Fault::Full)});
    record_failures("each write to the disk, by a fault and by want of room", failures_);
}
TEST_P(FailingDisk, EverySync) { day({disk(Fault::SyncFails)}); }
TEST_P(FailingDisk, EveryRead) { day({disk(Fault::ReadFails)}); }

TEST_P(FailingDisk, ALookThroughTheBooksCanBeTakenAgain) {
    bool met = true;
    int n = 1;
    for (; met; ++n) {
        reopen();
        expect_sound("opened");
        BW_MUST(books_->open_session("ana", "desk", at()));  // who reads must read anew
        store::fault_disk::fail_from(n, Fault::ReadFails);
        const auto looked = books_->verify({{}, true, false});
        met = store::fault_disk::mend();
        EXPECT_TRUE(!met || !looked || !looked->sound()) << n;
        expect_sound(fmt::format("read {}", n));
    }
    constexpr int kFewestReads = 10;
    EXPECT_GT(n, kFewestReads);
}

}  // namespace
}  // namespace bw::worksday
