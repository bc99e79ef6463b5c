// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/duplicates.hpp"

#include <set>

#include "service/tests.hpp"

namespace bw::service {
namespace {

/// Results of a batch in its runs as they are kept, but for one run that is left out.
Result<std::vector<works::PlacedResult>> placed(const store::Books& books, const std::string& batch,
                                                const std::string& without) {
    std::vector<works::PlacedResult> out;
    BW_TRY(runs, runs_of(books, batch));
    for (const auto& run : runs) {
        for (const works::TestResult& r : run.is.results) {
            if (r.batch == batch && run.is.number != without) {
                out.push_back({run.is.number, r});
            }
        }
    }
    return out;
}

}  // namespace

Result<std::vector<works::DuplicateRemark>> duplicates_of_batch(const store::Books& books,
                                                                const std::string& batch) {
    BW_TRY(results, placed(books, batch, ""));
    return works::duplicate_remarks(results);
}

Result<std::vector<works::DuplicateRemark>> duplicates_of_run(const store::Books& books,
                                                              const works::Run& run) {
    std::set<std::string> batches;
    for (const works::TestResult& r : run.results) {
        batches.insert(r.batch);
    }
    std::vector<works::DuplicateRemark> out;
    for (const std::string& batch : batches) {
        BW_TRY(results, placed(books, batch, run.number));
        for (const works::TestResult& r : run.results) {
            if (r.batch == batch) {
                results.push_back({run.number, r});
            }
        }
        BW_TRY(remarks, works::duplicate_remarks(results));
        for (works::DuplicateRemark& remark : works::remarks_on(remarks, run.number)) {
            out.push_back(std::move(remark));
        }
    }
    return out;
}

}  // namespace bw::service
