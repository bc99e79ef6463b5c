// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "report/certificate.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "report/invented.hpp"
#include "report/readers.hpp"

namespace bw::report {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

std::string made(const Certificate& certificate) {
    const auto out = certificate_pdf(certificate);
    EXPECT_TRUE(out) << out.error().text();
    return out ? *out : std::string{};
}

TEST(Certificate, SameInputSameBytes) {
    const std::string first = made(test::invented_certificate());
    EXPECT_EQ(first, made(test::invented_certificate()));
    // Papers made in between leave nothing behind.
    Certificate other = test::invented_certificate();
    other.product = "Ωther";
    EXPECT_NE(first, made(other));
    EXPECT_EQ(first, made(test::invented_certificate()));
}

TEST(Certificate, HoldsEveryFigureWithUnitAndUncertainty) {
    const std::string text = test::text_in_drawn_order(made(test::invented_certificate()));
    // pdftotext gives the narrow space between groups as a plain one.
    for (const char* wanted :
         {"Chloride (Cl) mg/kg 19 350 ± 120 19 000 to 19 700 Within limits M-11 v1",
          "Within limits M-11 v1 2026-03-05",
          "Magnesium (Mg) mg/kg 1290 ± 14 1260 to 1340 Within limits M-07 v3",
          "Calcium (Ca) mg/kg 412.3 ± 2.5 400 to 440 Within limits",
          "Potassium (K) mg/kg 399.1 ± 4.2 385 to 400 Too close to call",
          "Strontium (Sr) mg/kg 8.31 ± 0.12 7.0 to 8.2 Outside limits",
          "Alkalinity mmol/kg 2.843 ± 0.015 2.60 to 3.00 Within limits M-02 v5",
          "Iron (Fe)† µg/kg < 0.5 ≤ 2 Within limits",
          "Manganese (Mn) µg/kg 1.87 ± 0.10 none For information",
          "Iodine (I) mg/kg not tested 0.04 to 0.10 Not tested M-12 v1",
          "µg/kg −0.40 ± 0.62 ≤ 5 Within limits", "Result ± U (k = 2)"}) {
        EXPECT_THAT(text, HasSubstr(wanted));
    }
}

TEST(Certificate, HoldsTheBlocksOfTheStandard) {
    const std::string text = test::text_of(made(test::invented_certificate()));
    // ISO/IEC 17025:2017, 7.8.2.1 a to p, 7.8.6 and 7.8.8.
    for (const char* wanted : {"Certificate of analysis",
                               "Invented Salt Works",
                               "1 Example Quay",
                               "Tested by the works' laboratory",
                               "C26-0142-K",
                               "Issue 2",
                               "Issued on 2026-03-09",
                               "Page 1 of 2",
                               "Page 2 of 2",
                               "Reef salt R",
                               "B26-0142-K",
                               "Made on 2026-02-26",
                               "Use by 2028-02-29",
                               "4 kg and 20 kg",
                               "S26-0311-H, mixed of 10 increments",
                               "dry, free-flowing",
                               "Sampled on 2026-02-26",
                               "Received on 2026-02-27",
                               "SP-2 version 3",
                               "39.66 g per kg of purified water at 25 °C",
                               "D26-0031",
                               "guard band of U (k = 2)",
                               "relate only to the items tested",
                               "only in full",
                               "Opinions, apart from the results",
                               "B. Example",
                               "quality manager",
                               "released",
                               "2026-03-09 15:05 +01:00 (Europe/Berlin)",
                               "Content mark 89abcdef01234567",
                               "Trail mark 1834-0123456789abcdef",
                               "Verification code 7K4M-Q2XR-9D",
                               "Replaces issue 1 of 2026-03-07",
                               "End of certificate",
                               "INVENTED EXAMPLE",
                               "L26-0088-P",
                               "tested by an outside laboratory",
                               "from sulfur, as SO₄"}) {
        EXPECT_THAT(text, HasSubstr(wanted));
    }
}

TEST(Certificate, FileSaysWhatItIs) {
    const std::string facts = test::facts_of(made(test::invented_certificate()));
    EXPECT_THAT(facts, HasSubstr("Title: Certificate of analysis C26-0142-K"));
    EXPECT_THAT(facts, HasSubstr("CreationDate: Mon Mar 9 14:05:00 2026 UTC"));
    EXPECT_THAT(facts, HasSubstr("ModDate: Mon Mar 9 14:05:00 2026 UTC"));
    EXPECT_THAT(facts, HasSubstr("Tagged: yes"));
    EXPECT_THAT(facts, HasSubstr("Pages: 2"));
    EXPECT_THAT(facts, HasSubstr("(A4)"));
}

TEST(Certificate, ADraftSaysSoOnEachPage) {
    Certificate draft = test::invented_certificate();
    const std::string banner = "DRAFT: not issued, and no certificate";
    EXPECT_THAT(test::text_of(made(draft)), Not(HasSubstr(banner)));
    draft.mark.draft = true;
    const std::string text = test::text_of(made(draft));
    std::size_t banners = 0;
    std::size_t pages = 0;
    for (std::size_t at = 0; (at = text.find(banner, at)) != std::string::npos; ++at) {
        ++banners;
    }
    for (std::size_t at = 0; (at = text.find("Page ", at)) != std::string::npos; ++at) {
        ++pages;
    }
    EXPECT_GT(pages, 0U);
    EXPECT_EQ(banners, pages);
    EXPECT_THAT(text, HasSubstr("INVENTED EXAMPLE"));
}

TEST(Certificate, SquareCodeIsPlainText) {
    EXPECT_THAT(test::codes_of(made(test::invented_certificate())),
                HasSubstr("QR-Code:Certificate C26-0142-K issue 2\nBatch B26-0142-K\nVerification "
                          "code 7K4M-Q2XR-9D\nContent mark 89abcdef01234567\nTrail mark "
                          "1834-0123456789abcdef"));
}

TEST(Certificate, SixtyElementsBreakWithTheHeadOnEachPage) {
    Certificate long_one = test::invented_certificate();
    const std::vector<CertificateResult> some = long_one.results;
    long_one.results.clear();
    for (std::size_t i = 0; i < 60; ++i) {
        CertificateResult each = some[i % some.size()];
        each.quantity = "Element " + std::to_string(i + 1) + " of sixty";
        long_one.results.push_back(each);
    }
    const auto pages = test::page_texts(made(long_one));
    ASSERT_GE(pages.size(), 3U);
    std::size_t rows = 0, heads = 0, with_rows = 0;
    for (const std::string& page : pages) {
        rows += test::times(page, "of sixty (");
        heads +=
            test::times(page, "Quantity Unit Result ± U (k = 2) Limits Verdict Method Tested on");
        // Notes below the table name their lines as well, but without the symbol.
        with_rows += page.find("of sixty (") != std::string::npos ? 1U : 0U;
    }
    EXPECT_EQ(heads, with_rows);
    EXPECT_GE(with_rows, 2U);
    EXPECT_THAT(test::text_of(made(long_one)), HasSubstr("Element 60 of sixty"));
    EXPECT_GE(rows, 50U);  // lines without a symbol have none in brackets
}

TEST(Certificate, VeryLongNamesAreBrokenAndStayOnThePage) {
    Certificate odd = test::invented_certificate();
    odd.product = std::string(300, 'W');
    odd.results[0].quantity = std::string(120, 'W');
    odd.results[1].quantity =
        "A name of a constituent that is far longer than any column could take on one line";
    odd.results[2].method = std::string(60U, 'M');
    odd.results[3].unit = "mg/kg of the water made up at the stated rate";
    odd.maker.name = std::string(200, 'N');
    odd.signatures[0].name = std::string(150, 'S');
    odd.mark.number = std::string(150, '7');
    odd.code_text = "short";
    const auto out = certificate_pdf(odd);
    ASSERT_TRUE(out) << out.error().text();
    EXPECT_THAT(test::text_of(*out), HasSubstr("End of certificate"));
}

TEST(Certificate, MissingOptionalFieldsAreSaidOrLeftOut) {
    Certificate bare;
    bare.mark.number = "C1";
    bare.mark.created = "2026-03-09T14:05:00Z";
    bare.maker.name = "Works";
    bare.issue = "1";
    bare.product = "Salt";
    bare.batch = "B1";
    bare.results.resize(1);
    bare.results[0].quantity = "Calcium";
    const std::string text = test::text_of(made(bare));
    EXPECT_THAT(text, HasSubstr("Made on not stated"));
    EXPECT_THAT(text, HasSubstr("not tested none Not tested"));
    EXPECT_THAT(text, HasSubstr("this is a draft and no certificate"));
    EXPECT_THAT(text, Not(HasSubstr("Customer")));
    EXPECT_THAT(text, Not(HasSubstr("INVENTED")));
    EXPECT_THAT(text, Not(HasSubstr("Trail mark")));
    EXPECT_THAT(text, HasSubstr("Departures while it was made and tested: none."));
}

TEST(Certificate, ResultWithoutUncertaintySaysSo) {
    Certificate one = test::invented_certificate();
    one.results[0].expanded.clear();
    EXPECT_THAT(test::text_of(made(one)), HasSubstr("its uncertainty is not stated"));
}

TEST(Certificate, FactorsThatDifferGetAColumn) {
    Certificate one = test::invented_certificate();
    one.coverage.clear();
    one.results[1].k = "2.18";
    const std::string text = test::text_of(made(one));
    EXPECT_THAT(text, HasSubstr("Result ± U k Limits"));
    EXPECT_THAT(text, HasSubstr("10 781 ± 86 2.18 10 500 to 11 000"));
}

struct Refused {
    const char* name;
    void (*spoil)(Certificate&);
    ProblemCode code;
    const char* says;
};

class CertificateRefuses : public ::testing::TestWithParam<Refused> {};

TEST_P(CertificateRefuses, WithAClearSentence) {
    Certificate bad = test::invented_certificate();
    GetParam().spoil(bad);
    const auto out = certificate_pdf(bad);
    ASSERT_FALSE(out);
    EXPECT_EQ(out.error().code, GetParam().code);
    EXPECT_THAT(out.error().text(), HasSubstr(GetParam().says));
}

INSTANTIATE_TEST_SUITE_P(
    Inputs, CertificateRefuses,
    ::testing::Values(
        Refused{"chinese", [](Certificate& c) { c.product = "海盐"; }, ProblemCode::BadInput,
                "U+6D77, which the papers' typeface lacks"},
        Refused{"line_end", [](Certificate& c) { c.results[0].note = "a\nb"; },
                ProblemCode::BadInput, "control or unseen character U+000A"},
        Refused{"escape", [](Certificate& c) { c.signatures[0].name = "a\x1b[1m"; },
                ProblemCode::BadInput, "U+001B"},
        Refused{"turned", [](Certificate& c) { c.batch = "B\u202E1"; }, ProblemCode::BadInput,
                "U+202E"},
        Refused{"not_utf8", [](Certificate& c) { c.opinions = {"\xff"}; }, ProblemCode::BadInput,
                "not UTF-8"},
        Refused{"hebrew", [](Certificate& c) { c.maker.name = "מלח"; }, ProblemCode::BadInput,
                "U+05DE"},
        Refused{"no_batch", [](Certificate& c) { c.batch.clear(); }, ProblemCode::BadInput,
                "batch is missing"},
        Refused{"no_results", [](Certificate& c) { c.results.clear(); }, ProblemCode::BadInput,
                "a result at least"},
        Refused{"many_results", [](Certificate& c) { c.results.resize(401, c.results[0]); },
                ProblemCode::TooLarge, "at most 400"},
        Refused{"bad_time", [](Certificate& c) { c.mark.created = "2026-13-09T14:05:00Z"; },
                ProblemCode::BadInput, "not a UTC time"},
        Refused{"no_time", [](Certificate& c) { c.mark.created.clear(); }, ProblemCode::BadInput,
                "not a UTC time"},
        Refused{"long_code", [](Certificate& c) { c.code_text = std::string(401, 'x'); },
                ProblemCode::TooLarge, "1 to 400 bytes"}),
    [](const auto& of) { return std::string(of.param.name); });

}  // namespace
}  // namespace bw::report
