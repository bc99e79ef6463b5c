// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "report/certificate.hpp"

#include <gtest/gtest.h>

#include "report/invented.hpp"

namespace bw::report {
namespace {

TEST(Certificate, SameInputSameBytes) {
    const auto first = certificate_pdf(test::invented_certificate());
    ASSERT_TRUE(first) << first.error().text();
    const auto second = certificate_pdf(test::invented_certificate());
    ASSERT_TRUE(second);
    EXPECT_EQ(*first, *second);
}

}  // namespace
}  // namespace bw::report
