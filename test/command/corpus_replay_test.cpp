// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Every seed and every mended finding of the fuzz targets, in the ordinary build.
#include "command/command_run.hpp"
#include "fuzz/document_property.hpp"
#include "fuzz/formula_property.hpp"
#include "fuzz/quantity_property.hpp"
#include "fuzz/result_table_property.hpp"

namespace {

using namespace bw::command_test;
using bw::fuzz::Fault;

/// Feeds the files of a folder to a property and gives how many there were.
template <class Property>
int replay(const std::string& folder, Property fault_of) {
    int files = 0;
    for (const auto& entry :
         std::filesystem::directory_iterator(std::string(BW_SOURCE_DIR) + folder)) {
        if (!entry.is_regular_file()) {
            continue;
        }
        ++files;
        const Fault fault = fault_of(read_bytes(entry.path()));
        EXPECT_FALSE(fault) << entry.path().filename() << ": " << fault.value_or("");
    }
    return files;
}

TEST(CorpusReplay, Formula) {
    EXPECT_GE(replay("/test/fuzz/corpus/formula", bw::fuzz::fault_of_formula), 20);
}

TEST(CorpusReplay, Quantity) {
    EXPECT_GE(replay("/test/fuzz/corpus/quantity", bw::fuzz::fault_of_quantity_text), 20);
}

TEST(CorpusReplay, Document) {
    EXPECT_GE(replay("/test/fuzz/corpus/document", bw::fuzz::fault_of_document), 20);
}

TEST(CorpusReplay, ResultTable) {
    EXPECT_GE(replay("/test/fuzz/corpus/result_table", bw::fuzz::fault_of_result_table), 4);
}

TEST(CorpusReplay, Examples) {
    EXPECT_GE(replay("/examples/works", bw::fuzz::fault_of_document), 7);
}

}  // namespace
