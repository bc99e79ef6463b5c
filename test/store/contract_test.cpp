// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <filesystem>

#include <fmt/format.h>

#include "store/digest.hpp"
#include "store/ground.hpp"

namespace bw::store {
namespace {

using ground::change;
using ground::kMorning;
using ground::must;

class Contract : public ground::OnBoth {};
BW_ON_BOTH(Contract);

TEST_P(Contract, NewBooksAreEmptySoundAndMadeOnce) {
    const std::string place = ground_.place();
    {
        Books books = must(Books::create(place, kMorning));
        const Verification found = must(books.verify());
        EXPECT_TRUE(found.sound()) << found.faults.front();
        EXPECT_EQ(found.entries, 0);
        EXPECT_TRUE(must(books.mark()).starts_with("0-"));
        EXPECT_EQ(must(books.mark()).size(), 18U);
        EXPECT_TRUE(must(books.counts()).kinds.empty());
    }
    EXPECT_PROBLEM(Books::create(place, kMorning), ProblemCode::DuplicateName);
    EXPECT_TRUE(must(must(Books::open(place)).verify()).sound());
    EXPECT_PROBLEM(Books::open(ground_.place()), ProblemCode::NotFound);
    EXPECT_PROBLEM(Books::create(ground_.place(), "yesterday"), ProblemCode::BadInput);
}

TEST_P(Contract, EachVersionStaysAndTheNewestIsCurrent) {
    Books books = must(Books::create(ground_.place(), kMorning));
    Change first = change("q1", "lot", "L25-0317-X", 0, R"({"assay":"99.20","ok":true})");
    first.writes[0].state = "received";
    const Receipt one = must(books.commit(first));
    EXPECT_EQ(one.entry, 1);
    EXPECT_FALSE(one.repeated);
    Change second = change("q2", "lot", "L25-0317-X", 1, R"({"assay":"99.35","ok":true})");
    second.writes[0].state = "accepted";
    second.writes[0].title = "magnesium chloride, µ-fine";
    const Receipt two = must(books.commit(second));
    EXPECT_EQ(must(books.mark()), two.mark);
    const Record newest = must(books.newest("lot", "L25-0317-X"));
    EXPECT_EQ(newest.version, 2);
    EXPECT_EQ(newest.body, R"({"assay":"99.35","ok":true})");
    EXPECT_EQ(newest.state, "accepted");
    EXPECT_EQ(newest.title, "magnesium chloride, µ-fine");
    EXPECT_EQ(newest.entry, two.entry);
    EXPECT_EQ(must(books.at("lot", "L25-0317-X", 1)).body, first.writes[0].body);
    const std::vector<Record> all = must(books.history("lot", "L25-0317-X"));
    ASSERT_EQ(all.size(), 2U);
    EXPECT_EQ(all[0].state, "received");
    EXPECT_PROBLEM(books.at("lot", "L25-0317-X", 3), ProblemCode::NotFound);
    EXPECT_PROBLEM(books.newest("lot", "other"), ProblemCode::NotFound);
    EXPECT_PROBLEM(books.newest("batch", "L25-0317-X"), ProblemCode::NotFound);
    EXPECT_PROBLEM(books.history("lot", "other"), ProblemCode::NotFound);
}

TEST_P(Contract, ARepeatedRequestActsOnce) {
    const std::string place = ground_.place();
    Change act = change("one-request", "batch", "B1", 0, R"({"n":1})");
    act.answer = R"({"number":"B1","text":"grüß"})";
    act.attachments = {{"sheet.pdf", "application/pdf", std::string("%PDF\0\xff", 6)}};
    Receipt first;
    {
        Books books = must(Books::create(place, kMorning));
        first = must(books.commit(act));
        for (int i = 0; i < 5; ++i) {
            const Receipt again = must(books.commit(act));
            EXPECT_TRUE(again.repeated);
            EXPECT_EQ(again.entry, first.entry);
            EXPECT_EQ(again.mark, first.mark);
            EXPECT_EQ(again.answer, act.answer);
            EXPECT_EQ(again.attachments, first.attachments);
        }
        must(books.commit(change("another", "batch", "B2", 0, "{}")));
    }
    Books books = must(Books::open(place));
    act.writes[0].body = R"({"n":2})";  // decided anew by the caller: still the first act
    const Receipt later = must(books.commit(act));
    EXPECT_TRUE(later.repeated);
    EXPECT_EQ(later.mark, first.mark);
    EXPECT_EQ(must(books.counts()).entries, 2);
    EXPECT_EQ(must(books.newest("batch", "B1")).body, R"({"n":1})");
    ASSERT_TRUE(must(books.receipt("one-request")).has_value());
    EXPECT_EQ(must(books.receipt("one-request"))->answer, act.answer);
    EXPECT_FALSE(must(books.receipt("never sent")).has_value());
    act.act.act = "batch close";
    EXPECT_PROBLEM(books.commit(act), ProblemCode::Refused);
}

TEST_P(Contract, ARequestNumberIsForOneOrder) {
    Books books = must(Books::create(ground_.place(), kMorning));
    Change act = change("one-request", "batch", "B1", 0, "{}");
    act.act.asked = std::string(64, 'a');
    must(books.commit(act));
    EXPECT_EQ(must(books.entries({})).front().asked, act.act.asked);
    act.writes[0].body = R"({"n":2})";  // made anew of the same order
    act.act.at = "2026-11-26T09:31:00.000Z";
    EXPECT_TRUE(must(books.commit(act)).repeated);
    act.act.asked = std::string(64, 'b');
    const auto other = books.commit(act);
    ASSERT_FALSE(other.has_value());
    EXPECT_EQ(base::exit_code(other.error().code), 4);
    EXPECT_NE(other.error().message.find("give this order a new number"), std::string::npos);
    act.act.asked.clear();  // a caller that does not state its order is not held to it
    EXPECT_TRUE(must(books.commit(act)).repeated);
    Change wrong = change("other", "batch", "B2", 0, "{}");
    wrong.act.asked = "no digest";
    EXPECT_PROBLEM(books.commit(wrong), ProblemCode::BadInput);
    EXPECT_EQ(must(books.counts()).entries, 1);
    EXPECT_TRUE(must(books.verify()).sound());
}

TEST_P(Contract, AConflictNamesTheRecordAndBothVersions) {
    Books books = must(Books::create(ground_.place(), kMorning));
    must(books.commit(change("q1", "batch", "B1", 0, "{}")));
    must(books.commit(change("q2", "batch", "B1", 1, R"({"a":1})")));
    const auto late = books.commit(change("q3", "batch", "B1", 1, R"({"a":2})"));
    ASSERT_FALSE(late.has_value());
    EXPECT_EQ(late.error().code, ProblemCode::Conflict);
    EXPECT_EQ(base::exit_code(late.error().code), 4);
    EXPECT_EQ(late.error().message,
              "batch/B1 is at version 2 now, and this act was decided on version 1: read it again "
              "and decide anew");
    EXPECT_PROBLEM(books.commit(change("q4", "batch", "B1", 0, "{}")), ProblemCode::Conflict);
    EXPECT_PROBLEM(books.commit(change("q5", "batch", "B9", 3, "{}")), ProblemCode::Conflict);
    Change judged = change("q6", "run", "R1", 0, "{}");
    judged.expects = {{"batch", "B1", 1}};
    EXPECT_PROBLEM(books.commit(judged), ProblemCode::Conflict);
    judged.expects = {{"batch", "B1", 2}, {"batch", "B2", 0}};
    must(books.commit(judged));
    judged = change("q7", "run", "R2", 0, "{}");
    judged.expects = {{"run", "R1", 0}};
    EXPECT_PROBLEM(books.commit(judged), ProblemCode::Conflict);
    EXPECT_EQ(must(books.counts()).entries, 3);
    EXPECT_EQ(must(books.counts()).requests, 3);
    EXPECT_TRUE(must(books.verify()).sound());
}

TEST_P(Contract, SeveralActsAreAllOrNone) {
    Books books = must(Books::create(ground_.place(), kMorning));
    std::vector<Change> acts{change("q1", "batch", "B1", 0, "{}"),
                             change("q2", "batch", "B1", 1, R"({"a":1})"),
                             change("q3", "batch", "B2", 7, "{}")};
    EXPECT_PROBLEM(books.commit_all(acts), ProblemCode::Conflict);
    EXPECT_EQ(must(books.counts()).entries, 0);
    EXPECT_EQ(must(books.counts()).records, 0);
    acts[2].writes[0].expected_version = 0;
    EXPECT_EQ(must(books.commit_all(acts)).back().entry, 3);
    EXPECT_TRUE(must(books.verify()).sound());
}

TEST_P(Contract, ListsPageByKeyAndChoose) {
    Books books = must(Books::create(ground_.place(), kMorning));
    ground::fill(books, 25);
    ListQuery query;
    query.kind = "batch";
    query.limit = 10;
    std::vector<std::string> ids;
    while (true) {
        const std::vector<Listed> page = must(books.list(query));
        for (const Listed& row : page) {
            ids.push_back(row.id);
        }
        if (page.size() < 10) {
            break;
        }
        query.after = page.back().id;
    }
    ASSERT_EQ(ids.size(), 25U);
    EXPECT_TRUE(std::is_sorted(ids.begin(), ids.end()));
    EXPECT_EQ(must(books.count(query)), 25);
    query = {};
    query.kind = "batch";
    query.descending = true;
    query.limit = 2;
    query.with_bodies = true;
    std::vector<Listed> rows = must(books.list(query));
    ASSERT_EQ(rows.size(), 2U);
    EXPECT_EQ(rows[0].id, "B25-0025-K");
    EXPECT_EQ(rows[0].version, 2);
    EXPECT_EQ(rows[0].state, "weighing");
    EXPECT_EQ(rows[0].body, R"({"number":25,"weighed":"12.480"})");
    query.after = rows[1].id;
    EXPECT_EQ(must(books.list(query))[0].id, "B25-0023-K");
    query = {};
    query.kind = "batch";
    query.state = "planned";
    EXPECT_TRUE(must(books.list(query)).empty());
    query.state = "weighing";
    query.id_prefix = "B25-001";
    EXPECT_EQ(must(books.list(query)).size(), 10U);
    query.title_prefix = "batch B25-0012";
    EXPECT_EQ(must(books.list(query)).size(), 1U);
    query = {};
    query.kind = "run";
    query.pointing_to = Link{"of", "batch", "B25-0003-K"};
    ASSERT_EQ(must(books.list(query)).size(), 1U);
    EXPECT_EQ(must(books.list(query))[0].id, "R-B25-0003-K");
    query.pointing_to->role = "made of";
    EXPECT_TRUE(must(books.list(query)).empty());
    query.pointing_to->role = "";
    EXPECT_EQ(must(books.count(query)), 1);
    query.limit = 0;
    EXPECT_PROBLEM(books.list(query), ProblemCode::OutOfRange);
    query.limit = 10001;
    EXPECT_PROBLEM(books.list(query), ProblemCode::OutOfRange);
}

TEST_P(Contract, LinksKeysAndSearchFollowTheNewestVersion) {
    Books books = must(Books::create(ground_.place(), kMorning));
    ground::fill(books, 3);
    EXPECT_EQ(must(books.links_to("lot", "L25-0317-X")).size(), 3U);
    EXPECT_EQ(must(books.links_to("lot", "L25-0317-X", "of")).size(), 0U);
    const std::vector<Link> from = must(books.links_from("run", "R-B25-0002-K"));
    ASSERT_EQ(from.size(), 1U);
    EXPECT_EQ(from[0], (Link{"of", "batch", "B25-0002-K"}));
    EXPECT_EQ(must(books.search("b25-0002")).at(0).id, "B25-0002-K");
    EXPECT_EQ(must(books.search("r-b25")).size(), 3U);
    // The second version of each batch states no keys: they are no longer found by those.
    EXPECT_TRUE(must(books.search("bag 1")).empty());
    Change again = change("new-keys", "batch", "B25-0001-K", 2, "{}");
    again.writes[0].keys = {"Bag 1", "BAG 1", "tonne 7", "B25-0001-K"};
    again.writes[0].links = {{"made of", "lot", "L9"}, {"after", "batch", "B25-0003-K"}};
    must(books.commit(again));
    ASSERT_EQ(must(books.search("bag")).size(), 1U);
    EXPECT_EQ(must(books.search("tonne")).at(0).version, 3);
    EXPECT_EQ(must(books.links_to("lot", "L25-0317-X")).size(), 2U);
    EXPECT_EQ(must(books.links_to("batch", "B25-0003-K", "after")).at(0).from_id, "B25-0001-K");
    EXPECT_TRUE(must(books.search("%")).empty());
    EXPECT_PROBLEM(books.search(""), ProblemCode::BadInput);
    EXPECT_TRUE(must(books.verify()).sound());
}

TEST_P(Contract, MeasurementsAreFoundByBatchSampleAndTime) {
    Books books = must(Books::create(ground_.place(), kMorning));
    Change run = change("q1", "run", "R1", 0, "{}");
    const std::vector<std::string> times{"2026-01-03T00:00:00.000Z", "2026-01-01T00:00:00.000Z",
                                         "2026-01-02T00:00:00.000Z"};
    for (std::size_t i = 0; i < times.size(); ++i) {
        Measurement m = ground::measurement("Ca", "B1", static_cast<int>(i) + 1, "412.30", 412.3);
        m.at = times[i];
        run.writes[0].measurements.push_back(m);
    }
    Measurement censored = ground::measurement("Sr", "B1", 4, "< 0.5", 0);
    censored.value.reset();
    censored.u.reset();
    censored.state = "set aside";
    run.writes[0].measurements.push_back(censored);
    Measurement exact = ground::measurement("Mg", "B1", 5, "0.1", 0.1 + 0.2);
    exact.u = 5e-324;
    run.writes[0].measurements.push_back(exact);
    must(books.commit(run));
    MeasurementQuery query;
    query.analyte = "Ca";
    std::vector<MeasurementRow> rows = must(books.measurements(query));
    ASSERT_EQ(rows.size(), 3U);
    EXPECT_EQ(rows[0].is.at, times[1]);
    EXPECT_EQ(rows[2].is.at, times[0]);
    EXPECT_EQ(rows[0].is.digits, "412.30");
    EXPECT_EQ(rows[0].kind, "run");
    EXPECT_EQ(rows[0].id, "R1");
    query.last = 2;
    rows = must(books.measurements(query));
    ASSERT_EQ(rows.size(), 2U);
    EXPECT_EQ(rows[0].is.at, times[2]);
    query.last = 0;
    query.from = times[2];
    query.before = times[0];
    EXPECT_EQ(must(books.measurements(query)).size(), 1U);
    query = {};
    query.batch = "B1";
    query.state = "set aside";
    rows = must(books.measurements(query));
    ASSERT_EQ(rows.size(), 1U);
    EXPECT_EQ(rows[0].is, censored);
    query = {};
    query.sample = "B1/S1";
    EXPECT_EQ(must(books.measurements(query)).size(), 5U);
    query.analyte = "Mg";
    EXPECT_EQ(must(books.measurements(query)).at(0).is, exact);  // the same doubles, bit for bit
    EXPECT_PROBLEM(books.measurements({}), ProblemCode::BadInput);
    must(books.commit(change("q2", "run", "R1", 1, "{}")));
    query = {};
    query.run = "R-B1";
    EXPECT_TRUE(must(books.measurements(query)).empty());
}

TEST_P(Contract, MeasurementsAreFoundByWhatTheirBatchAndTheirRecordPointTo) {
    Books books = must(Books::create(ground_.place(), kMorning));
    for (int i = 1; i <= 5; ++i) {
        const std::string batch = fmt::format("B{}", i);
        Change made = change("b" + batch, "batch", batch, 0, "{}");
        made.writes[0].links = {{"by", "recipe", i < 4 ? "reef/1" : "reef/2"},
                                {"made of", "lot", i % 2 == 0 ? "L2" : "L1"},
                                {"beside", "lot", "L3"}};
        must(books.commit(made));
        Change run = change("r" + batch, "run", "R-" + batch, 0, "{}");
        run.writes[0].links = {{"by", "method", i == 3 ? "M-08" : "M-07"}};
        for (const char* analyte : {"Ca", "Mg"}) {
            Measurement m = ground::measurement(analyte, batch, 1, "412.30", 412.3);
            m.at = fmt::format("2026-01-{:02}T00:00:00.000Z", 9 - i);  // the first batch comes last
            run.writes[0].measurements.push_back(m);
        }
        must(books.commit(run));
    }
    const auto found = [&](const MeasurementQuery& query) {
        std::string out;
        for (const MeasurementRow& row : must(books.measurements(query))) {
            EXPECT_EQ(row.is.analyte, "Ca");
            out += row.is.batch;
        }
        return out;
    };
    MeasurementQuery query;
    query.analyte = "Ca";
    EXPECT_EQ(found(query), "B5B4B3B2B1");
    query.batches = {{"by", "recipe", {"reef/1"}}};
    EXPECT_EQ(found(query), "B3B2B1");
    query.last = 2;
    EXPECT_EQ(found(query), "B2B1");
    query.batches.push_back({"made of", "lot", {"L1", "L9", "L8"}});
    EXPECT_EQ(found(query), "B3B1");
    for (int i = 0; i < 30; ++i) {  // many are asked for in another way
        query.batches.back().ids.push_back(fmt::format("N{}", i));
    }
    EXPECT_EQ(found(query), "B3B1");
    query.stated_by = PointingTo{"by", "method", {"M-07"}};
    EXPECT_EQ(found(query), "B1");
    query.batches = {{"made of", "lot", {"L1", "L2"}}};
    EXPECT_EQ(found(query), "B2B1");
    query.last = 0;
    query.before = "2026-01-08";
    EXPECT_EQ(found(query), "B5B4B2");
    query.batches = {{"made of", "lot", {"L3"}}};  // in another role
    EXPECT_EQ(found(query), "");
    query.batches = {{"made of", "lot", {}}};
    EXPECT_PROBLEM(books.measurements(query), ProblemCode::BadInput);
    const std::vector<std::string> some = {"R-B3", "R-B1", "R-B9"};
    std::string methods;
    for (const LinkRow& link : must(books.links_from("run", some))) {
        methods += link.from_id + " " + link.to.id + ";";
    }
    EXPECT_EQ(methods, "R-B1 M-07;R-B3 M-08;");
}

// More batches than are asked one by one are gone through by time: the answers are the same.
TEST_P(Contract, MeasurementsOfManyBatchesAreThoseOfFew) {
    Books books = must(Books::create(ground_.place(), kMorning));
    constexpr int kBatches = 3100, kOdd = 50;  // more than store/measurements.cpp calls few
    std::vector<Change> changes;
    for (int i = 0; i < kBatches; ++i) {
        const std::string batch = fmt::format("B{:04}", i);
        Change made = change("b" + batch, "batch", batch, 0, "{}");
        made.writes[0].links = {{"by", "recipe", "reef/1"}};
        if (i < kOdd) {
            made.writes[0].links.push_back({"made of", "lot", "L1"});
        }
        made.writes[0].links.push_back({"made of", "lot", fmt::format("M{}", i % 31)});
        Measurement m = ground::measurement("Ca", batch, 1, "412.30", 412.3);
        m.at = fmt::format("2026-01-01T00:00:{:02}.{:03}Z", i / 1000, i % 1000);
        made.writes[0].measurements = {m};
        changes.push_back(std::move(made));
    }
    must(books.commit_all(changes));
    const auto found = [&](std::vector<PointingTo> batches) {
        MeasurementQuery query;
        query.analyte = "Ca";
        query.last = 60;
        query.batches = std::move(batches);
        std::vector<std::string> out;
        for (const MeasurementRow& row : must(books.measurements(query))) {
            out.push_back(row.is.batch);
        }
        return out;
    };
    const auto many = found({{"by", "recipe", {"reef/1"}}});
    ASSERT_EQ(many.size(), 60U);
    EXPECT_EQ(many.front(), "B3040");
    EXPECT_EQ(many.back(), "B3099");
    // So many lots that they are asked for in another way: all but three of 31.
    PointingTo lots{"made of", "lot", {}};
    for (int i = 0; i < 28; ++i) {
        lots.ids.push_back(fmt::format("M{}", i));
    }
    const auto of_lots = found({lots});
    ASSERT_EQ(of_lots.size(), 60U);
    EXPECT_EQ(of_lots.back(), "B3096");   // 3099, 3098 and 3097 are of M30, M29 and M28
    EXPECT_EQ(of_lots.front(), "B3031");  // without 3068 to 3066 and 3037 to 3035
    const auto few = found({{"by", "recipe", {"reef/1"}}, {"made of", "lot", {"L1"}}});
    ASSERT_EQ(few.size(), 50U);
    EXPECT_EQ(few.front(), "B0000");
    EXPECT_EQ(few.back(), "B0049");
}

TEST_P(Contract, AttachmentsComeBackByteForByte) {
    Books books = must(Books::create(ground_.place(), kMorning));
    std::string every;
    for (int i = 0; i < 70000; ++i) {
        every += static_cast<char>(i * 7 % 256);
    }
    Change act = change("q1", "certificate", "C1", 0, "{}");
    act.attachments = {{"all.bin", "application/octet-stream", every},
                       {"empty.txt", "text/plain", ""},
                       {"again.bin", "application/octet-stream", every}};
    const Receipt receipt = must(books.commit(act));
    ASSERT_EQ(receipt.attachments.size(), 3U);
    EXPECT_EQ(receipt.attachments[0], receipt.attachments[2]);
    EXPECT_EQ(must(books.attachment(receipt.attachments[0])).bytes, every);
    EXPECT_EQ(must(books.attachment(receipt.attachments[0])).name, "all.bin");
    EXPECT_EQ(must(books.attachment(receipt.attachments[1])).bytes, "");
    // FIPS 180-4: SHA-256 of nothing.
    EXPECT_EQ(receipt.attachments[1],
              "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
    EXPECT_EQ(must(books.counts()).attachments, 2);
    EXPECT_PROBLEM(books.attachment(sha256_hex("other")), ProblemCode::NotFound);
    Change big = change("q2", "certificate", "C2", 0, "{}");
    big.attachments = {{"big.bin", "application/octet-stream", std::string(20971521, 'x')}};
    EXPECT_PROBLEM(books.commit(big), ProblemCode::TooLarge);
    EXPECT_TRUE(must(books.verify()).sound());
}

TEST_P(Contract, EntriesTellWhoDidWhatToWhat) {
    Books books = must(Books::create(ground_.place(), kMorning));
    ground::fill(books, 2);
    Change other = change("q-other", "person", "tomas", 0, "{}");
    other.act.person = "ada";
    other.writes.push_back({"batch", "B25-0001-K", 2, "{}", "on hold", "t", {}, {}, {}});
    must(books.commit(other));
    EntryQuery query;
    query.subject_kind = "batch";
    query.subject_id = "B25-0001-K";
    std::vector<Entry> entries = must(books.entries(query));
    ASSERT_EQ(entries.size(), 3U);  // made, weighed, and the act on a person that wrote it as well
    EXPECT_EQ(entries[0].person, "ada");
    EXPECT_EQ(entries[0].records.at(1).version, 3);
    EXPECT_EQ(entries[0].records.at(1).before, sha256_hex(R"({"number":1,"weighed":"12.480"})"));
    EXPECT_EQ(entries[0].records.at(1).after, sha256_hex("{}"));
    EXPECT_EQ(entries[1].why, "first addition\nby hand");
    EXPECT_EQ(entries[2].act, "batch write");
    EXPECT_EQ(entries[2].attachments.at(0).name, "B25-0001-K.csv");
    query = {};
    query.person = "ada";
    EXPECT_EQ(must(books.entries(query)).size(), 1U);
    query = {};
    query.from_seq = 3;
    query.limit = 2;
    entries = must(books.entries(query));
    ASSERT_EQ(entries.size(), 2U);
    EXPECT_EQ(entries[0].seq, 3);
    query = {};
    query.before_seq = 3;
    entries = must(books.entries(query));
    ASSERT_EQ(entries.size(), 2U);
    EXPECT_EQ(entries[0].seq, 2);
    EXPECT_EQ(entries[0].duty, "quality manager");
    EXPECT_EQ(entries[0].request, "fill-B25-0001-K");
}

TEST_P(Contract, WhatIsNotAllowedIsRefusedAndNothingIsWritten) {
    Books books = must(Books::create(ground_.place(), kMorning));
    const auto refused = [&](ProblemCode code, auto spoil) {
        Change act = change("q", "batch", "B1", 0, R"({"a":1})");
        spoil(act);
        EXPECT_PROBLEM(books.commit(act), code);
    };
    refused(ProblemCode::BadInput, [](Change& c) { c.act.request = ""; });
    refused(ProblemCode::BadInput, [](Change& c) { c.act.person = ""; });
    refused(ProblemCode::BadInput, [](Change& c) { c.act.at = "2026-11-26T09:30:00Z"; });
    refused(ProblemCode::BadInput, [](Change& c) { c.act.at = "2026-02-30T09:30:00.000Z"; });
    refused(ProblemCode::BadInput, [](Change& c) { c.act.why = "\xff"; });
    refused(ProblemCode::BadInput, [](Change& c) { c.writes[0].kind = "Batch"; });
    refused(ProblemCode::BadInput, [](Change& c) { c.writes[0].id = "a\nb"; });
    refused(ProblemCode::BadInput, [](Change& c) { c.writes[0].id = std::string("a\0b", 3); });
    refused(ProblemCode::TooLarge, [](Change& c) { c.writes[0].id = std::string(201, 'a'); });
    refused(ProblemCode::BadInput, [](Change& c) { c.writes[0].title = "a\nb"; });
    refused(ProblemCode::BadInput, [](Change& c) { c.writes[0].body = R"({"a": 1})"; });
    refused(ProblemCode::BadInput, [](Change& c) { c.writes[0].body = R"({"a":1.5})"; });
    refused(ProblemCode::BadInput, [](Change& c) { c.writes[0].body = R"({"b":1,"a":1})"; });
    refused(ProblemCode::BadInput, [](Change& c) { c.writes.push_back(c.writes[0]); });
    refused(ProblemCode::BadInput, [](Change& c) {
        c.writes[0].links = {{"r", "k", "i"}, {"r", "k", "i"}};
    });
    refused(ProblemCode::BadInput, [](Change& c) { c.writes[0].keys = {""}; });
    refused(ProblemCode::BadNumber, [](Change& c) {
        c.writes[0].measurements = {ground::measurement("Ca", "B1", 1, "inf", HUGE_VAL)};
    });
    EXPECT_EQ(must(books.counts()).entries, 0);
    EXPECT_EQ(must(books.counts()).requests, 0);
}

TEST_P(Contract, RebuiltProjectionsAreTheSame) {
    const std::string place = ground_.place();
    Books books = must(Books::create(place, kMorning));
    ground::fill(books, 5);
    const Counts before = must(books.counts());
    {
        auto beside = ground_.beside(place);
        must(
            beside->script("DELETE FROM measurement; DELETE FROM link; DELETE FROM search_key; "
                           "UPDATE current SET state = 'released';"));
    }
    const Verification spoilt = must(books.verify());
    EXPECT_GT(spoilt.fault_count, 10);
    must(books.rebuild());
    const Verification mended = must(books.verify());
    EXPECT_TRUE(mended.sound()) << mended.faults.front();
    EXPECT_EQ(must(books.counts()), before);
}

TEST_P(Contract, ProtectedTablesRefuseChanges) {
    const std::string place = ground_.place();
    Books books = must(Books::create(place, kMorning));
    ground::fill(books, 1);
    auto beside = ground_.beside(place);
    for (const std::string table :
         {"books", "migration", "entry", "record", "attachment", "request"}) {
        const auto deleted = beside->script("DELETE FROM " + table);
        ASSERT_FALSE(deleted.has_value()) << table;
        EXPECT_EQ(deleted.error().code, ProblemCode::Refused) << deleted.error().text();
        EXPECT_NE(deleted.error().message.find("protected: " + table), std::string::npos);
    }
    for (const std::string sql :
         {"UPDATE entry SET hash = hash", "UPDATE record SET body = '{}'",
          "UPDATE attachment SET name = 'x'", "UPDATE request SET answer = ''",
          "UPDATE books SET made = ''", "UPDATE migration SET name = 'x'"}) {
        EXPECT_PROBLEM(beside->script(sql), ProblemCode::Refused);
    }
    if (ground_.dialect() == Dialect::Sqlite) {
        EXPECT_PROBLEM(
            beside->script("REPLACE INTO request SELECT request, entry, 'other' FROM request"),
            ProblemCode::Refused);
    } else {
        EXPECT_PROBLEM(beside->script("TRUNCATE request"), ProblemCode::Refused);
    }
    EXPECT_TRUE(must(books.verify()).sound());
}

TEST_P(Contract, ReadOnlyBooksAreNotWritten) {
    const std::string place = ground_.place();
    {
        Books books = must(Books::create(place, kMorning));
        ground::fill(books, 1);
    }
    Books books = must(Books::open(place, {Mode::ReadOnly, 1000}));
    EXPECT_EQ(must(books.newest("batch", "B25-0001-K")).version, 2);
    EXPECT_TRUE(must(books.verify()).sound());
    EXPECT_PROBLEM(books.commit(change("q", "batch", "B9", 0, "{}")), ProblemCode::Refused);
}

}  // namespace
}  // namespace bw::store
