// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/reading_doubts.hpp"

#include <iterator>
#include <set>

#include "service/tests.hpp"

namespace bw::service {

Result<std::vector<works::ReadingDoubt>> doubts_of_run(const store::Books& books,
                                                       const works::Run& run) {
    std::set<std::string> batches;
    for (const works::TestResult& r : run.results) {
        batches.insert(r.batch);
    }
    std::vector<works::ReadingDoubt> out;
    for (const std::string& number : batches) {
        BW_TRY(batch, kept<works::Batch>(books, number));
        auto doubts = works::doubts_about(batch.is, run.results);
        std::move(doubts.begin(), doubts.end(), std::back_inserter(out));
    }
    return out;
}

Result<std::vector<works::ReadingDoubt>> doubts_of_batch(const store::Books& books,
                                                         const std::string& number) {
    BW_TRY(batch, kept<works::Batch>(books, number));
    BW_TRY(runs, runs_of(books, number));
    std::vector<works::ReadingDoubt> out;
    for (const auto& run : runs) {
        auto doubts = works::doubts_about(batch.is, run.is.results);
        std::move(doubts.begin(), doubts.end(), std::back_inserter(out));
    }
    return out;
}

}  // namespace bw::service
