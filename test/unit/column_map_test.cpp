// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/column_map.hpp"

#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "io/calendar_cell.hpp"

namespace {

using namespace bw::io;
using bw::ProblemCode;
using testing::ElementsAre;
using testing::HasSubstr;

const std::string kHead = "format = \"brinewright/1\"\nkind = \"column-map\"\nname = \"m\"\n";
const std::string kColumns =
    "[[column]]\nhead = \"Sample\"\nrole = \"sample\"\n"
    "[[column]]\nhead = \"Ca  317.933 [mg/L]\"\nrole = \"analyte\"\n";

bw::Result<ColumnMap> read(const std::string& body) {
    auto document = parse_document(kHead + body, "map.toml");
    EXPECT_TRUE(document.has_value()) << (document ? "" : document.error().text());
    return document ? read_column_map(*document) : tl::make_unexpected(document.error());
}

bw::Problem refused(const std::string& body) {
    const auto out = read(body);
    EXPECT_FALSE(out.has_value()) << body;
    return out ? bw::Problem{} : out.error();
}

TEST(ColumnMap, ReadsWhatIsSaidAndFillsTheRest) {
    const auto map = read(
        "head_row = 3\nunit_row = 4\nseparator = \"semicolon\"\nencoding = \"windows-1252\"\n"
        "decimal_sign = \"comma\"\ngroup_mark = \"point\"\nbelow_limit = [\"n.d.\"]\nlines = "
        "\"mean\"\n"
        "blanks = \"already subtracted\"\nblank_samples = [\"BLK*\"]\nother_analytes = [\"pH\"]\n"
        "[names]\nCalcium = \"Ca\"\n" +
        kColumns +
        "[[column]]\ncolumn = \"E\"\nrole = \"analyte\"\nanalyte = \"pH\"\nunit = \"none\"\n");
    ASSERT_TRUE(map.has_value()) << map.error().text();
    EXPECT_EQ(map->head_row, 3U);
    EXPECT_EQ(map->first_row, 5U);
    EXPECT_EQ(map->separator, Separator::Semicolon);
    EXPECT_EQ(map->encoding, Encoding::Windows1252);
    EXPECT_EQ(map->numbers.decimal_sign, DecimalSign::Comma);
    EXPECT_EQ(map->numbers.group_mark, GroupMark::Point);
    EXPECT_EQ(map->lines, LinePolicy::Mean);
    EXPECT_EQ(map->blanks, BlankPolicy::AlreadySubtracted);
    ASSERT_EQ(map->columns.size(), 3U);
    EXPECT_EQ(map->columns[1].head, "Ca 317.933 [mg/L]");
    EXPECT_EQ(map->columns[1].analyte, "Ca");
    EXPECT_EQ(map->columns[1].wavelength, "317.933");
    EXPECT_EQ(map->columns[2].index, 4U);
    EXPECT_EQ(map->columns[2].analyte, "pH");
    EXPECT_EQ(map->columns[2].unit->dimension, std::nullopt);
    EXPECT_EQ(map->analyte("Calcium"), "Ca");
    EXPECT_EQ(map->analyte("SO4"), "SO4");
    EXPECT_EQ(map->analyte("Calcum"), std::nullopt);
}

TEST(ColumnMap, ItsTextReadsBackToTheSame) {
    const auto map = read(
        "invented = true\nlayout = \"wide\"\nhead_row = 2\nunit_row = 3\nfirst_row = 6\nseparator "
        "= \"tab\"\n"
        "encoding = \"utf-16\"\nsheet = \"Run \\\"1\\\"\"\ndecimal_sign = \"point\"\ngroup_mark = "
        "\"space\"\n"
        "below_limit = [\"<\", \"n. d.\"]\nover_range = [\"OVER\"]\nnot_tested = "
        "[\"-\"]\nexponents = \"read\"\n"
        "date_form = \"DD.MM.YYYY\"\ntime_form = \"hh:mm\"\nppm = \"by mass\"\nlines = \"first\"\n"
        "blanks = \"subtract mean\"\nblank_samples = [\"B*\"]\ncheck_samples = "
        "[\"QC\"]\nblank_flags = []\n"
        "footer = [\"Total\"]\ndilution_applied = false\nother_columns = \"ignore\"\nrepeated_head "
        "= \"skip\"\n"
        "repeats = \"keep\"\nshort_rows = \"not tested\"\nother_analytes = [\"pH\"]\n"
        "[names]\n\"Ca lcium\" = \"Ca\"\n" +
        kColumns +
        "[[column]]\ncolumn = \"AB\"\nrole = \"dilution\"\n"
        "[[column]]\nhead = \"m\"\nrole = \"sample-mass\"\nunit = \"g\"\n"
        "[[column]]\nhead = \"Mg\"\nrole = \"analyte\"\nunit = \"ppm\"\nlimit = \"0.5\"\n"
        "[[column]]\nhead = \"S\"\nrole = \"analyte\"\nunit = \"mg/L as SO4\"\nppm = \"by "
        "volume\"\n");
    ASSERT_TRUE(map.has_value()) << map.error().text();
    const std::string text = column_map_toml(*map);
    const auto again = read_column_map(*parse_document(text, "again"));
    ASSERT_TRUE(again.has_value()) << again.error().text() << text;
    EXPECT_EQ(column_map_toml(*again), text);
    EXPECT_EQ(again->columns.size(), 6U);
    EXPECT_EQ(again->columns[4].unit->text(), "mg/kg");
    EXPECT_EQ(again->columns[5].unit->text(), "mg/L as SO4");
    EXPECT_EQ(again->first_row, 6U);
    EXPECT_EQ(again->names, map->names);
    EXPECT_TRUE(again->blank_flags.empty());
    EXPECT_EQ(again->sheet, "Run \"1\"");
}

TEST(ColumnMap, RefusesWhatCannotBeMeant) {
    const auto said = [](const std::string& body) { return refused(body).text(); };
    EXPECT_THAT(said(""), HasSubstr("no column has the role \"sample\""));
    EXPECT_THAT(said("[[column]]\nhead = \"S\"\nrole = \"sample\"\n"),
                HasSubstr("role \"analyte\""));
    EXPECT_THAT(said("decimal_sign = \"dot\"\n" + kColumns),
                HasSubstr("write \"point\" or \"comma\""));
    EXPECT_THAT(said("group_mark = \"comma\"\n" + kColumns), HasSubstr("needs decimal_sign"));
    EXPECT_THAT(said("decimal_sign = \"comma\"\ngroup_mark = \"comma\"\n" + kColumns),
                HasSubstr("cannot be the decimal sign"));
    EXPECT_THAT(said("first_row = 1\n" + kColumns), HasSubstr("must lie below"));
    EXPECT_THAT(said("unit_row = 1\n" + kColumns), HasSubstr("is not the head"));
    EXPECT_THAT(said("footer = [\"\"]\n" + kColumns), HasSubstr("would fit everything"));
    EXPECT_THAT(said("date_form = \"DD.MM.YY\"\n" + kColumns), HasSubstr("years have four digits"));
    EXPECT_THAT(said("colour = \"red\"\n" + kColumns), HasSubstr("is not known here"));
    EXPECT_THAT(said(kColumns + "[[column]]\nhead = \"Ca 317.933 [mg/L]\"\nrole = \"ignored\"\n"),
                HasSubstr("stands twice"));
    EXPECT_THAT(said(kColumns + "[[column]]\nhead = \"x\"\nrole = \"analyte\"\n"),
                HasSubstr("no element or constituent"));
    EXPECT_THAT(said(kColumns +
                     "[[column]]\nhead = \"x\"\nrole = \"analyte\"\nanalyte = \"Ca\"\nwavelength = "
                     "\"317.933\"\n"),
                HasSubstr("give each its wavelength"));
    EXPECT_THAT(said(kColumns + "[[column]]\nhead = \"D\"\nrole = \"dilution\"\n"),
                HasSubstr("dilution_applied"));
    EXPECT_THAT(said(kColumns + "[[column]]\nhead = \"m\"\nrole = \"sample-mass\"\n"),
                HasSubstr("needs its unit"));
    EXPECT_THAT(
        said(kColumns + "[[column]]\nhead = \"V\"\nrole = \"final-volume\"\nunit = \"g\"\n"),
        HasSubstr("is not a volume"));
    EXPECT_THAT(said(kColumns + "[[column]]\nhead = \"V\"\nrole = \"value\"\n"),
                HasSubstr("does not go with"));
    EXPECT_THAT(said(kColumns + "[[column]]\nhead = \"a\"\ncolumn = \"B\"\nrole = \"ignored\"\n"),
                HasSubstr("not by both"));
    const auto ppm =
        refused(kColumns + "[[column]]\nhead = \"Mg\"\nrole = \"analyte\"\nunit = \"ppm\"\n");
    EXPECT_EQ(ppm.code, ProblemCode::BadUnit);
    EXPECT_THAT(ppm.message, HasSubstr("by mass or by volume"));
    EXPECT_EQ(
        refused(kColumns + "[[column]]\nhead = \"Mg\"\nrole = \"analyte\"\nunit = \"kg\"\n").code,
        ProblemCode::BadUnit);
}

TEST(ColumnMap, HeadsTellAnalyteWavelengthAndUnit) {
    const auto parts = [](std::string_view head) {
        const auto found = analyte_head(head);
        return found ? found->analyte + "|" + found->wavelength + "|" + found->unit
                     : std::string("none");
    };
    EXPECT_EQ(parts("Ca 317.933"), "Ca|317.933|");
    EXPECT_EQ(parts("Ca 317.933 nm (mg/L)"), "Ca|317.933|mg/L");
    EXPECT_EQ(parts(" S\u00A0 181.975 [mg/L as SO4] "), "S|181.975|mg/L as SO4");
    EXPECT_EQ(parts("SO4, mg/L"), "SO4||mg/L");
    EXPECT_EQ(parts("alkalinity"), "alkalinity||");
    EXPECT_EQ(parts("Mg"), "Mg||");
    EXPECT_EQ(parts("Ca317.9"), "Ca|317.9|");
    EXPECT_EQ(parts("K766.490nm [mg/L]"), "K|766.490|mg/L");
    EXPECT_EQ(parts("SO4"), "SO4||");
    for (const char* none : {"", "Sample", "S123", "B26-0001", "Xy317.9", "Ca31.7", "Ca 31", "Ca x",
                             "ca 317.933", "Calcium", "317.933", "Ca 317.933 x"}) {
        EXPECT_EQ(parts(none), "none") << none;
    }
}

TEST(ColumnMap, UnitsSayTheirBasis) {
    EXPECT_EQ(reading_unit("mg/l")->text(), "mg/L");
    EXPECT_EQ(reading_unit(" mg/l  as SO4 ")->text(), "mg/L as SO4");
    EXPECT_EQ(reading_unit("\u03BCg/kg")->text(), "ug/kg");
    EXPECT_EQ(reading_unit("PPM", PpmMeaning::ByMass)->text(), "mg/kg");
    EXPECT_EQ(reading_unit("ppb", PpmMeaning::ByVolume)->text(), "ug/L");
    EXPECT_FALSE(reading_unit("ppm").has_value());
    EXPECT_FALSE(reading_unit("ppt", PpmMeaning::ByMass).has_value());
    EXPECT_FALSE(reading_unit("EUR/kg").has_value());
    EXPECT_FALSE(reading_unit("").has_value());
}

TEST(ColumnMap, ReadsDatesByTheirForm) {
    const auto iso = [](std::string_view text, std::string_view form) {
        const auto out = read_calendar_cell(text, form);
        return out ? *out : std::string("refused");
    };
    EXPECT_EQ(iso("2025-03-09", "YYYY-MM-DD"), "2025-03-09");
    EXPECT_EQ(iso("09.03.2025 14:05", "DD.MM.YYYY hh:mm"), "2025-03-09T14:05:00");
    EXPECT_EQ(iso("03/09/2025", "MM/DD/YYYY"), "2025-03-09");
    EXPECT_EQ(iso("14:05:59", "hh:mm:ss"), "14:05:59");
    EXPECT_EQ(iso("29.02.2024", "DD.MM.YYYY"), "2024-02-29");
    for (const char* bad : {"29.02.2025", "00.03.2025", "09.13.2025", "9.3.2025", "09.03.25",
                            "09.03.2025 ", "09.03.1899", "", "09-03-2025"}) {
        EXPECT_EQ(iso(bad, "DD.MM.YYYY"), "refused") << bad;
    }
    EXPECT_EQ(iso("24:00", "hh:mm"), "refused");
    for (const char* bad : {"", "YYYY-MM", "hh", "YYYY-YYYY-MM-DD", "YY-MM-DD", "abc"}) {
        EXPECT_FALSE(check_calendar_form(bad).has_value()) << bad;
    }
    for (const char* good : {"YYYY-MM-DDThh:mm:ss", "DD/MM/YYYY", "hh:mm"}) {
        EXPECT_TRUE(check_calendar_form(good).has_value()) << good;
    }
}

}  // namespace
