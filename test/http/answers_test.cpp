// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "http/answers.hpp"

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

namespace bw::http {
namespace {

nlohmann::json answered(ProblemCode code) {
    return nlohmann::json::parse(
        problem_answer({code, "a sentence", {"postgresql://ines@plant:5432/works", 3, "net"}})
            .body);
}

// Somebody who has not signed in may ask for an answer that the books cannot give.
TEST(Answers, WhereTheBooksLieIsNotTold) {
    for (const ProblemCode code :
         {ProblemCode::Disk, ProblemCode::BrokenBooks, ProblemCode::Internal}) {
        const nlohmann::json problem = answered(code);
        EXPECT_EQ(problem.at("title"), "a sentence");
        EXPECT_FALSE(problem.contains("file")) << problem;
    }
}

TEST(Answers, WhereAFileThatWasSentIsAtFaultIsTold) {
    const nlohmann::json problem = answered(ProblemCode::BadInput);
    EXPECT_EQ(problem.at("file"), "postgresql://ines@plant:5432/works");
    EXPECT_EQ(problem.at("line"), 3);
    EXPECT_EQ(problem.at("field"), "net");
}

}  // namespace
}  // namespace bw::http
