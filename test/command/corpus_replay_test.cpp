// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Every seed and every mended finding of the fuzz targets, in the ordinary build.
#include "fuzz/document_property.hpp"
#include "fuzz/formula_property.hpp"
#include "fuzz/kept_property.hpp"
#include "fuzz/laboratory_property.hpp"
#include "fuzz/quantity_property.hpp"
#include "fuzz/replay.hpp"
#include "fuzz/result_table_property.hpp"

namespace {

using bw::fuzz::replay;

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

TEST(CorpusReplay, Laboratory) {
    EXPECT_GE(replay("/test/fuzz/corpus/laboratory", bw::fuzz::fault_of_laboratory_file), 8);
    EXPECT_GE(replay("/examples/laboratory", bw::fuzz::fault_of_laboratory_file), 10);
}

TEST(CorpusReplay, Kept) {
    EXPECT_GE(replay("/test/fuzz/corpus/kept", bw::fuzz::fault_of_kept), 8);
}

TEST(CorpusReplay, Examples) {
    EXPECT_GE(replay("/examples/works", bw::fuzz::fault_of_document), 7);
}

}  // namespace
