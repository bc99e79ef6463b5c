// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/result_table.hpp"

#include <fstream>
#include <iterator>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "io/delimited_table.hpp"
#include "io/result_preview.hpp"
#include "io/suggested_map.hpp"
#include "io/table_file.hpp"
#include "io/workbook_parts.hpp"
#include "io/workbook_table.hpp"

namespace {

using namespace bw::io;
using testing::ElementsAre;
using testing::HasSubstr;

ColumnMap map_of(const std::string& text) {
    const auto document = parse_document(text, "map");
    EXPECT_TRUE(document.has_value()) << (document ? "" : document.error().text());
    auto map = read_column_map(*document);
    EXPECT_TRUE(map.has_value()) << (map ? "" : map.error().text());
    return map ? std::move(*map) : ColumnMap{};
}

const std::string kHead = "format = \"brinewright/1\"\nkind = \"column-map\"\nname = \"m\"\n";
const std::string kColumns =
    "[[column]]\nhead = \"Sample\"\nrole = \"sample\"\n"
    "[[column]]\nhead = \"Ca 317.933\"\nrole = \"analyte\"\nunit = \"mg/L\"\nlimit = \"0.2\"\n"
    "[[column]]\nhead = \"Mg\"\nrole = \"analyte\"\nunit = \"mmol/kg\"\n";

ResultImport import_of(std::string_view table, const std::string& habits,
                       const std::string& columns = kColumns, const ImportRules& rules = {}) {
    auto source = read_delimited(table);
    EXPECT_TRUE(source.has_value()) << (source ? "" : source.error().text());
    return import_results(*source, map_of(kHead + habits + columns), rules);
}

std::string example(const std::string& name) {
    std::ifstream in(std::string(BW_SOURCE_DIR) + "/examples/laboratory/" + name, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

TEST(ResultTable, KeepsTheDigitsAsTyped) {
    const ResultImport import = import_of("Sample,Ca 317.933,Mg\nS1,412.30,53.00\nS2,< 0.50,\n",
                                          "decimal_sign = \"point\"\nbelow_limit = [\"n.d.\"]\n");
    ASSERT_TRUE(import.committable());
    ASSERT_EQ(import.readings.size(), 3U);
    const Reading& ca = import.readings[0];
    EXPECT_EQ(ca.sample, "S1");
    EXPECT_EQ(ca.analyte, "Ca");
    EXPECT_EQ(ca.wavelength, "317.933");
    EXPECT_EQ(ca.typed, "412.30");
    EXPECT_EQ(ca.digits, "412.30");
    EXPECT_DOUBLE_EQ(*ca.value, 412.3);
    EXPECT_EQ(ca.unit.text(), "mg/L");
    EXPECT_EQ(basis_of(ca.unit), ReadingBasis::ByVolume);
    EXPECT_EQ(ca.cell, "B2");
    EXPECT_EQ(ca.row, 2U);
    EXPECT_EQ(basis_of(import.readings[1].unit), ReadingBasis::ByMass);
    EXPECT_EQ(import.readings[1].digits, "53.00");
    const Reading& below = import.readings[2];
    EXPECT_TRUE(below.below_limit);
    EXPECT_EQ(below.value, std::nullopt);
    EXPECT_EQ(below.limit->digits, "0.50");
    EXPECT_DOUBLE_EQ(below.limit->value, 0.5);
    EXPECT_EQ(import.not_tested, 1U);
}

TEST(ResultTable, ANumberIsNeverMadeOfNothing) {
    const ResultImport import = import_of("Sample,Ca 317.933,Mg\nS1,n.d.,<\nS2,,>500\n",
                                          "decimal_sign = \"point\"\nbelow_limit = [\"n.d.\"]\n");
    ASSERT_TRUE(import.committable());
    ASSERT_EQ(import.readings.size(), 3U);
    EXPECT_EQ(import.readings[0].limit->digits, "0.2");  // of the map
    EXPECT_EQ(import.readings[1].limit, std::nullopt);
    EXPECT_TRUE(import.readings[2].over_range);
    for (const Reading& reading : import.readings) {
        EXPECT_EQ(reading.value, std::nullopt) << reading.cell;
    }
    EXPECT_THAT(import.notices.front().text,
                HasSubstr("1 readings are below a limit that neither"));
}

TEST(ResultTable, AllOrNothingAndEveryFaultIsTold) {
    std::string table = "Sample,Ca 317.933,Mg\nGood,412.3,53\n";
    constexpr int kBad = 300;
    for (int i = 0; i < kBad; ++i) {
        table += "S" + std::to_string(i) + ",x,53\n";
    }
    const ResultImport import = import_of(table, "decimal_sign = \"point\"\n");
    EXPECT_FALSE(import.committable());
    EXPECT_EQ(import.refused_count, static_cast<std::size_t>(kBad));
    EXPECT_EQ(import.refused.size(), kMostRefusalsListed);
    EXPECT_EQ(
        import.refused[0].sentence(),
        "B3 (Ca 317.933): 'x': it is not a number; write digits, leave the cell empty, or list the "
        "spelling in the map");
}

TEST(ResultTable, AColumnThatMixesDecimalSignsIsRefusedWhole) {
    const ResultImport import =
        import_of("Sample;Ca 317.933;Mg\nS1;412.3;1\nS2;411,9;2\nS3;410,5;3\n", "");
    ASSERT_EQ(import.refused_count, 1U);
    EXPECT_EQ(import.refused[0].cell, "B");
    EXPECT_EQ(import.refused[0].why,
              "the column mixes decimal signs: points in row 2, commas in rows 3 and 4");
    EXPECT_FALSE(import.committable());
}

TEST(ResultTable, AsksWhereAMarkCouldPartThousands) {
    const ResultImport import =
        import_of("Sample,Ca 317.933,Mg\nS1,1.250,0.125\nS2,12.50,1290.125\n", "");
    ASSERT_EQ(import.refused_count, 1U);
    EXPECT_EQ(import.refused[0].cell, "B2");
    EXPECT_EQ(import.refused[0].why, "it could be 1.250 or 1250");
    EXPECT_EQ(import.refused[0].mend, "declare decimal_sign in the map");
    const ResultImport declared =
        import_of("Sample,Ca 317.933,Mg\nS1,1.250,0.125\n", "decimal_sign = \"point\"\n");
    ASSERT_TRUE(declared.committable());
    EXPECT_DOUBLE_EQ(*declared.readings[0].value, 1.25);
    const ResultImport grouped = import_of("Sample;Ca 317.933;Mg\nS1;1.250;1.234.567,5\n",
                                           "decimal_sign = \"comma\"\ngroup_mark = \"point\"\n");
    ASSERT_TRUE(grouped.committable());
    EXPECT_DOUBLE_EQ(*grouped.readings[0].value, 1250);
    EXPECT_EQ(grouped.readings[1].digits, "1234567.5");
    EXPECT_EQ(grouped.readings[1].typed, "1.234.567,5");
}

TEST(ResultTable, NamesBothCellsOfADuplicate) {
    const ResultImport import =
        import_of("Sample,Ca 317.933,Mg\nS1,412.3,53\nS1,411.9,\n", "decimal_sign = \"point\"\n");
    ASSERT_EQ(import.refused_count, 1U);
    EXPECT_EQ(import.refused[0].cell, "B3");
    EXPECT_EQ(import.refused[0].why, "Ca 317.933 of sample 'S1' stands in B2 already");
    const ResultImport kept = import_of("Sample,Ca 317.933,Mg\nS1,412.3,53\nS1,411.9,\n",
                                        "decimal_sign = \"point\"\nrepeats = \"keep\"\n");
    ASSERT_TRUE(kept.committable());
    EXPECT_EQ(kept.readings[2].repeat, 2);
}

TEST(ResultTable, SeveralWavelengthsAsTheMapSays) {
    const std::string columns =
        "[[column]]\nhead = \"Sample\"\nrole = \"sample\"\n"
        "[[column]]\nhead = \"Ca 317.933\"\nrole = \"analyte\"\nunit = \"mg/L\"\n"
        "[[column]]\nhead = \"Ca 393.366\"\nrole = \"analyte\"\nunit = \"mg/L\"\n";
    const std::string table = "Sample,Ca 317.933,Ca 393.366\nS1,412.5,413.0\n";
    const std::string sign = "decimal_sign = \"point\"\n";
    EXPECT_EQ(import_of(table, sign, columns).readings.size(), 2U);
    const ResultImport first = import_of(table, sign + "lines = \"first\"\n", columns);
    ASSERT_EQ(first.readings.size(), 1U);
    EXPECT_EQ(first.readings[0].digits, "412.5");
    const ResultImport mean = import_of(table, sign + "lines = \"mean\"\n", columns);
    ASSERT_EQ(mean.readings.size(), 1U);
    EXPECT_EQ(mean.readings[0].digits, "412.75");
    EXPECT_DOUBLE_EQ(*mean.readings[0].value, 412.75);
    EXPECT_EQ(mean.readings[0].wavelength, "317.933 and 393.366");
    EXPECT_THAT(mean.readings[0].mean_of, ElementsAre("412.5", "413.0"));
}

TEST(ResultTable, BlanksAreStatedNotTakenOff) {
    const ResultImport import = import_of(
        "Sample,Ca 317.933,Mg\nBlank 1,0.25,0.125\nBlank 2,0.75,0.125\nQC 1,50,6\nS1,412.3,53\n",
        "decimal_sign = \"point\"\nblanks = \"subtract mean\"\nblank_samples = "
        "[\"blank*\"]\ncheck_samples = [\"QC "
        "1\"]\n");
    ASSERT_TRUE(import.committable());
    EXPECT_EQ(import.blanks.size(), 4U);
    EXPECT_EQ(import.checks.size(), 2U);
    ASSERT_EQ(import.readings.size(), 2U);
    EXPECT_DOUBLE_EQ(*import.readings[0].value, 412.3);
    EXPECT_DOUBLE_EQ(*import.readings[0].blank, 0.5);
    EXPECT_DOUBLE_EQ(*import.checks[1].blank, 0.125);
}

TEST(ResultTable, AnotherBatchsFileIsRefused) {
    const ResultImport import =
        import_of("Sample,Ca 317.933,Mg\nB1 a,1.5,1\nB2 a,2.5,1\n", "decimal_sign = \"point\"\n",
                  kColumns, {{"B1 a", "B1 b"}});
    ASSERT_EQ(import.refused_count, 1U);
    EXPECT_EQ(import.refused[0].cell, "A3");
    EXPECT_THAT(import.refused[0].mend, HasSubstr("another batch's file"));
}

TEST(ResultTable, TheWideExample) {
    const auto source = read_delimited(example("icp_wide.csv"));
    ASSERT_TRUE(source.has_value());
    const ResultImport import = import_results(*source, map_of(example("icp_map.toml")));
    ASSERT_TRUE(import.committable()) << import.refused.front().sentence();
    EXPECT_EQ(import.readings.size(), 27U);
    EXPECT_EQ(import.blanks.size(), 7U);
    EXPECT_EQ(import.checks.size(), 14U);
    EXPECT_EQ(import.not_tested, 1U);
    const Reading& copper = import.readings[13];
    EXPECT_EQ(copper.analyte, "Cu");
    EXPECT_EQ(copper.typed, "n.d.");
    EXPECT_EQ(copper.limit->digits, "0.5");
    EXPECT_EQ(copper.dilution->digits, "50");
    EXPECT_FALSE(copper.dilution_applied);
    EXPECT_EQ(copper.measured_at, "2026-02-03T09:22:00");
    EXPECT_EQ(copper.operator_name, "A. Example");
    EXPECT_EQ(copper.unit.text(), "ug/L");
}

TEST(ResultTable, TheLongExample) {
    const auto source = read_delimited(example("icp_long.csv"));
    ASSERT_TRUE(source.has_value());
    const ResultImport import = import_results(*source, map_of(example("icp_long_map.toml")));
    ASSERT_TRUE(import.committable()) << import.refused.front().sentence();
    ASSERT_EQ(import.readings.size(), 6U);
    EXPECT_DOUBLE_EQ(*import.readings[0].value, 414.5);
    EXPECT_THAT(import.readings[0].mean_of, ElementsAre("415.6", "413.4"));
    EXPECT_EQ(import.readings[3].digits, "416.70");
    EXPECT_EQ(preview_of(import).first_rows.size(), 3U);
    EXPECT_THAT(preview_of(import).first_rows[1].values,
                ElementsAre("", "1281.2", "414.50", "7.84"));
    EXPECT_EQ(import.readings[2].analyte, "Sr");
    EXPECT_EQ(import.readings[2].typed, "7,84");
    EXPECT_EQ(import.readings[2].digits, "7.84");
    EXPECT_EQ(import.readings[2].measured_at, "2026-02-03");
    EXPECT_EQ(import.blanks.size(), 2U);
}

TEST(ResultTable, PreviewTellsWhatWouldBeKept) {
    const auto source = read_delimited(example("icp_wide.csv"));
    const ResultPreview preview =
        preview_of(import_results(*source, map_of(example("icp_map.toml"))), 3);
    EXPECT_TRUE(preview.committable);
    EXPECT_EQ(preview.samples, 4U);
    EXPECT_EQ(preview.decimal_sign, "point");
    ASSERT_EQ(preview.lines.size(), 7U);
    EXPECT_EQ(preview.lines[0].analyte, "Na");
    EXPECT_EQ(preview.lines[0].readings, 7U);
    EXPECT_EQ(preview.lines[0].lowest, "213.8");
    EXPECT_EQ(preview.lines[0].highest, "215.0");
    EXPECT_EQ(preview.lines[6].below_limit, 3U);
    ASSERT_EQ(preview.first_rows.size(), 3U);
    EXPECT_EQ(preview.first_rows[0].kind, SampleKind::Blank);
    EXPECT_THAT(preview.first_rows[2].values,
                ElementsAre("214.6", "25.61", "8.31", "8.27", "7.93", "18.02", "< 0.5"));
}

TEST(ResultTable, ASuggestedMapReadsAndFits) {
    for (const char* name : {"icp_wide.csv", "icp_long.csv"}) {
        const auto source = read_delimited(example(name));
        const auto text = suggest_map(*source);
        ASSERT_TRUE(text.has_value()) << text.error().text();
        const ColumnMap map = map_of(*text);
        EXPECT_EQ(map.numbers.decimal_sign,
                  std::string(name) == "icp_wide.csv" ? DecimalSign::Point : DecimalSign::Comma);
        EXPECT_EQ(map.layout,
                  std::string(name) == "icp_wide.csv" ? TableLayout::Wide : TableLayout::Long);
    }
    EXPECT_FALSE(suggest_map(*read_delimited("a,b\n1,2\n")).has_value());
}

TEST(ResultTable, ASuggestedMapKnowsUnitsDaysAndSigns) {
    const auto source =
        read_delimited("Sample;Date;Ca317.9\n;;µg/L\none;27.11.2026;436,1\ntwo;28.11.2026;437,2\n");
    const auto text = suggest_map(*source);
    ASSERT_TRUE(text.has_value()) << text.error().text();
    const ColumnMap map = map_of(*text);
    EXPECT_EQ(map.unit_row, 2U);
    EXPECT_EQ(map.first_row, 3U);
    EXPECT_EQ(map.date_form, "DD.MM.YYYY");
    EXPECT_EQ(map.numbers.decimal_sign, DecimalSign::Comma);
    ASSERT_EQ(map.columns.size(), 3U);
    EXPECT_EQ(map.columns[2].analyte, "Ca");
    EXPECT_EQ(map.columns[2].wavelength, "317.9");
    EXPECT_FALSE(map.columns[2].unit.has_value());
    // A row of readings with a unit in it is no row of units; 03/04 may be March or April.
    const auto other = read_delimited("Sample,Date,Ca [mg/L],x\none,03/04/2026,436.1,mg/L\n");
    const auto doubtful = suggest_map(*other);
    ASSERT_TRUE(doubtful.has_value()) << doubtful.error().text();
    EXPECT_EQ(map_of(*doubtful).unit_row, 0U);
    EXPECT_EQ(map_of(*doubtful).date_form, "YYYY-MM-DD");
    EXPECT_THAT(*doubtful, testing::HasSubstr("several ways or in none: say date_form"));
}

TEST(ResultTable, ATableOfManyCellsIsQuick) {
    std::string table = "Sample,Ca 317.933,Mg\n";
    constexpr int kRows = 60'000;
    for (int i = 0; i < kRows; ++i) {
        table += "S" + std::to_string(i) + ",412.3,53.1\n";
    }
    const ResultImport import = import_of(table, "decimal_sign = \"point\"\n");
    EXPECT_TRUE(import.committable());
    EXPECT_EQ(import.readings.size(), 120'000U);
}

// Dates of the two calendars: ECMA-376-1 18.17.4.1 names 1900-01-01 as 1 and 1904-01-01 as 0, and
// 2008-02-03 as 39481 of the first.
TEST(WorkbookTable, DaysBecomeDates) {
    EXPECT_EQ(date_of_serial(1, false).value(), "1900-01-01");
    EXPECT_EQ(date_of_serial(59, false).value(), "1900-02-28");
    EXPECT_FALSE(date_of_serial(60, false).has_value());
    EXPECT_EQ(date_of_serial(61, false).value(), "1900-03-01");
    EXPECT_EQ(date_of_serial(39481, false).value(), "2008-02-03");
    EXPECT_EQ(date_of_serial(39481.5, false).value(), "2008-02-03T12:00:00");
    EXPECT_EQ(date_of_serial(0, true).value(), "1904-01-01");
    EXPECT_EQ(date_of_serial(39481 - 1462, true).value(), "2008-02-03");
    EXPECT_EQ(date_of_serial(0.25, false).value(), "06:00:00");
    EXPECT_FALSE(date_of_serial(-1, false).has_value());
    EXPECT_FALSE(date_of_serial(1e9, false).has_value());
    EXPECT_TRUE(is_date_form("dd/mm/yyyy"));
    EXPECT_TRUE(is_date_form("[h]:mm:ss"));
    EXPECT_FALSE(is_date_form("0.00"));
    EXPECT_FALSE(is_date_form("[Red]0.0"));
    EXPECT_FALSE(is_date_form("0.0\"days\""));
    EXPECT_FALSE(is_date_form("General"));
    EXPECT_TRUE(is_date_form(14));
    EXPECT_FALSE(is_date_form(2));
}

}  // namespace
