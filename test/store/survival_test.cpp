// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <chrono>
#include <csignal>
#include <filesystem>
#include <fstream>
#include <random>
#include <thread>

#include <fmt/format.h>
#include <sys/mount.h>
#include <sys/resource.h>
#include <unistd.h>

#include "figure.hpp"
#include "store/child.hpp"
#include "store/fault_disk.hpp"
#include "store/ground.hpp"

namespace bw::store {
namespace {

namespace fs = std::filesystem;
using ground::change;
using ground::kMorning;
using ground::must;

class Kill : public ground::OnBoth {};
BW_ON_BOTH(Kill);

/// Every acknowledged act has its receipt, its record and its attachment, whole.
void expect_kept(const Books& books, const std::vector<std::string>& names) {
    for (const std::string& name : names) {
        const std::optional<Receipt> receipt = must(books.receipt(name));
        ASSERT_TRUE(receipt.has_value()) << name << " was acknowledged and is lost";
        EXPECT_EQ(receipt->answer, "done " + name);
        EXPECT_NE(must(books.newest("weighing", name)).body.find(name), std::string::npos);
        EXPECT_EQ(must(books.attachment(receipt->attachments.at(0))).bytes, name);
    }
}

// kill -9 at random moments after the first acknowledgement: people-and-promises 4.4 and 4.5, 1.
TEST_P(Kill, NoAcknowledgedActIsLostAndNoneIsHalf) {
    constexpr int kRounds = 200;
    const std::string place = ground_.place();
    must(Books::create(place, kMorning));
    std::mt19937 random(20261126);
    std::uniform_int_distribution<int> pause_us(0, 15000);
    std::size_t acknowledged = 0;
    for (int round = 0; round < kRounds; ++round) {
        Committer child(place, fmt::format("r{}", round), 100000);
        child.until_first();
        std::this_thread::sleep_for(std::chrono::microseconds(pause_us(random)));
        child.kill_now();
        ASSERT_EQ(child.wait(), -SIGKILL) << child.complaint();
        const std::vector<std::string> names = child.acknowledged();
        ASSERT_FALSE(names.empty());
        acknowledged += names.size();
        const Books books = must(Books::open(place));
        expect_kept(books, names);
        const Counts counts = must(books.counts());
        EXPECT_EQ(counts.entries, counts.records);
        EXPECT_EQ(counts.entries, counts.requests);
        EXPECT_EQ(counts.entries, counts.attachments);
        EXPECT_EQ(counts.measurements, 20 * counts.entries);
        EXPECT_GE(counts.entries, static_cast<std::int64_t>(acknowledged));
        if (round % 20 == 19) {
            const Verification report = must(books.verify());
            ASSERT_TRUE(report.sound()) << report.faults.front();
        }
    }
    test::record(
        {"Books",
         fmt::format("kill -9 at random moments while acts are written, {}: every acknowledged act "
                     "kept, none half written, the trail whole",
                     ground_.dialect() == Dialect::Sqlite ? "SQLite" : "PostgreSQL"),
         "200 kills", fmt::format("{} kills, nothing lost", kRounds), !HasFailure()});
}

class Disk : public ::testing::Test {
protected:
    ground::Folder folder_;
};

// Each file of the process may grow to so many bytes and no further, as on a full disk.
TEST_F(Disk, AFullDiskIsSaidAndTheBooksStaySound) {
    const std::string place = folder_ / "books";
    Books books = must(Books::create(place, kMorning));
    ground::fill(books, 2);
    const Counts before = must(books.counts());
    rlimit old{};
    ASSERT_EQ(::getrlimit(RLIMIT_FSIZE, &old), 0);
    std::signal(SIGXFSZ, SIG_IGN);
    rlimit small = old;
    small.rlim_cur = fs::file_size(place + "/books.db-wal") + 20000;
    ASSERT_EQ(::setrlimit(RLIMIT_FSIZE, &small), 0);
    Change big = change("big", "certificate", "C1", 0, "{}");
    big.attachments = {{"big.pdf", "application/pdf", std::string(1000000, 'x')}};
    const auto refused = books.commit(big);
    ASSERT_EQ(::setrlimit(RLIMIT_FSIZE, &old), 0);
    ASSERT_FALSE(refused.has_value());
    EXPECT_EQ(refused.error().code, ProblemCode::Disk) << refused.error().text();
    EXPECT_EQ(must(books.counts()), before);
    EXPECT_TRUE(must(books.verify()).sound());
    must(books.commit(big));  // there is room again: the same act goes through, once
    EXPECT_TRUE(must(books.verify()).sound());
}

TEST_F(Disk, AFullFileSystemIsSaidAndTheBooksStaySound) {
    const std::string small = folder_ / "small";
    fs::create_directory(small);
    if (::geteuid() != 0 || ::mount("tmpfs", small.c_str(), "tmpfs", 0, "size=1m") != 0) {
        std::printf("no right to mount a small disk: the limit on file sizes stands in for it\n");
        return;
    }
    {
        Books books = must(Books::create(small + "/books", kMorning));
        int done = 0;
        std::string said;
        for (; done < 1000 && said.empty(); ++done) {
            Change act =
                change(fmt::format("q{}", done), "certificate", fmt::format("C{}", done), 0, "{}");
            act.attachments = {
                {"a.pdf", "application/pdf", std::string(20000, static_cast<char>(done))}};
            const auto kept = books.commit(act);
            if (!kept) {
                EXPECT_EQ(kept.error().code, ProblemCode::Disk);
                said = kept.error().message;
            }
        }
        EXPECT_EQ(said, "the disk is full, so nothing was written: make room and try again");
        EXPECT_EQ(must(books.counts()).entries, done - 1);
        EXPECT_TRUE(must(books.verify()).sound());
    }
    EXPECT_TRUE(must(must(Books::open(small + "/books", {Mode::ReadOnly, 0})).verify()).sound());
    EXPECT_EQ(::umount2(small.c_str(), MNT_DETACH), 0);
}

TEST_F(Disk, AFolderThatCannotBeWrittenIsReadAndSaid) {
    const std::string place = folder_ / "books";
    {
        Books books = must(Books::create(place, kMorning));
        ground::fill(books, 2);
    }
    fs::permissions(folder_.name(), fs::perms::owner_all | fs::perms::others_exec);
    const bool root = ::geteuid() == 0;
    if (root) {  // permissions do not bind root: the same folder, mounted for reading only
        if (::mount(place.c_str(), place.c_str(), nullptr, MS_BIND, nullptr) != 0) {
            std::printf("no right to mount: nothing binds root here, so there is nothing to see\n");
            return;
        }
        ASSERT_EQ(
            ::mount(nullptr, place.c_str(), nullptr, MS_BIND | MS_REMOUNT | MS_RDONLY, nullptr), 0);
    } else {
        fs::permissions(place, fs::perms::owner_read | fs::perms::owner_exec);
    }
    EXPECT_PROBLEM(Books::open(place), ProblemCode::Disk);
    {
        Books books = must(Books::open(place, {Mode::ReadOnly, 0}));
        EXPECT_TRUE(must(books.verify()).sound());
        EXPECT_EQ(must(books.newest("batch", "B25-0002-K")).version, 2);
    }
    EXPECT_PROBLEM(Books::create(place + "/more", kMorning), ProblemCode::Disk);
    if (root) {
        EXPECT_EQ(::umount2(place.c_str(), MNT_DETACH), 0);
    } else {
        fs::permissions(place, fs::perms::owner_all);
    }
}

TEST_F(Disk, AFailedSyncStopsWriting) {
    fault_disk::install();
    const std::string place = folder_ / "books";
    {
        Books books = must(Books::create(place, kMorning));
        must(books.commit(change("q1", "batch", "B1", 0, "{}")));
        fault_disk::fail_from(1, fault_disk::Fault::SyncFails);
        const auto unsure = books.commit(change("q2", "batch", "B2", 0, "{}"));
        EXPECT_TRUE(fault_disk::mend());
        ASSERT_FALSE(unsure.has_value());
        EXPECT_EQ(unsure.error().code, ProblemCode::Disk);
        EXPECT_NE(unsure.error().message.find("writing stops"), std::string::npos)
            << unsure.error().message;
        const auto later = books.commit(change("q3", "batch", "B3", 0, "{}"));
        ASSERT_FALSE(later.has_value()) << "a commit after a failed sync was acknowledged";
        EXPECT_NE(later.error().message.find("writing has stopped"), std::string::npos);
        EXPECT_EQ(must(books.newest("batch", "B1")).version, 1);  // reading goes on
    }
    Books books = must(Books::open(place));
    must(books.commit(change("q3", "batch", "B3", 0, "{}")));
    EXPECT_TRUE(must(books.verify()).sound());
}

// The n-th write to the disk fails, for every n until an act goes through: 4.5, 5.
TEST_F(Disk, EveryFailingWriteLeavesTheBooksSound) {
    fault_disk::install();
    const std::string place = folder_ / "books";
    {
        Books books = must(Books::create(place, kMorning));
        ground::fill(books, 1);
    }
    int n = 1, acts = 0;
    for (bool through = false; !through && n < 500; ++n) {
        Books books = must(Books::open(place));
        const Counts before = must(books.counts());
        fault_disk::fail_from(n, fault_disk::Fault::WriteFails);
        Change act = change(fmt::format("n{}", n), "batch", fmt::format("N{}", n), 0, "{}");
        act.attachments = {
            {"a.bin", "application/octet-stream", std::string(30000, static_cast<char>(n))}};
        const auto done = books.commit(act);
        through = !fault_disk::mend();
        if (done) {
            ++acts;
            EXPECT_EQ(must(books.counts()).entries, before.entries + 1);
        } else {
            EXPECT_EQ(done.error().code, ProblemCode::Disk) << done.error().text();
        }
        const Verification report = must(books.verify());
        ASSERT_TRUE(report.sound()) << "write " << n << ": " << report.faults.front();
    }
    EXPECT_GT(n, 5);
    EXPECT_GE(acts, 1);
}

}  // namespace
}  // namespace bw::store
