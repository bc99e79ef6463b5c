// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Every seed and every mended finding of the fuzz targets of the server, in the ordinary build.
#include "fuzz/act_property.hpp"
#include "fuzz/order_property.hpp"
#include "fuzz/replay.hpp"
#include "fuzz/request_property.hpp"

namespace {

using bw::fuzz::replay;

TEST(CorpusReplay, Order) {
    EXPECT_GE(replay("/test/fuzz/corpus/order", bw::fuzz::fault_of_order), 8);
}

TEST(CorpusReplay, Act) { EXPECT_GE(replay("/test/fuzz/corpus/act", bw::fuzz::fault_of_act), 40); }

TEST(CorpusReplay, Request) {
    EXPECT_GE(replay("/test/fuzz/corpus/request", bw::fuzz::fault_of_bytes), 15);
}

// As deep as a body may be long; the program once ended with it.
TEST(Order, ABodyOfNothingButBracketsIsRefused) {
    constexpr std::size_t kDeep = 500000;
    for (const auto& [open, close] : {std::pair{"[", "]"}, std::pair{R"({"a":)", "}"}}) {
        std::string body = R"({"order":)";
        for (std::size_t i = 0; i < kDeep; ++i) {
            body += open;
        }
        const std::string cut = body;
        body += "1";
        for (std::size_t i = 0; i < kDeep; ++i) {
            body += close;
        }
        for (const std::string& bytes : {cut, body + "}"}) {
            const auto order = bw::http::Order::of(bytes);
            ASSERT_FALSE(order);
            EXPECT_EQ(order.error().code, bw::ProblemCode::BadInput);
            EXPECT_NE(order.error().message.find("more than 16 deep"), std::string::npos);
        }
    }
}

TEST(Order, AFieldThatStandsTwiceIsRefused) {
    const auto order = bw::http::Order::of(R"({"lot":"A","part":{"lot":"B","lot":"C"}})");
    ASSERT_FALSE(order);
    EXPECT_EQ(order.error().place.field, "lot");
    EXPECT_TRUE(bw::http::Order::of(R"({"lot":"A","part":{"lot":"B"},"more":{"lot":"C"}})"));
}

TEST(Order, AWholeNumberBeyondTheLargestIsNone) {
    auto order =
        bw::http::Order::of(R"({"packs":18446744073709551615,"steps":[1,9223372036854775808]})");
    ASSERT_TRUE(order);
    EXPECT_EQ(order->whole("packs"), 0);
    EXPECT_TRUE(order->wholes("steps").empty());
    EXPECT_EQ(order->end().error().place.field, "packs");
}

}  // namespace
