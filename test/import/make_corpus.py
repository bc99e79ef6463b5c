#!/usr/bin/env python3
# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""Writes the corpus of malformed and odd result tables: test/import/make_corpus.py

test/import/files/NAME holds the bytes, test/import/maps/NAME.toml the maps, and test/import/expected.tsv what each
file must give: NAME, map, then "read N" (N readings of samples), "refused N CELL PART" or "problem PART". PART must
stand in the first refusal or in the problem. Every name, sample and number here is invented.
"""
import io
import pathlib
import shutil
import zipfile

HERE = pathlib.Path(__file__).resolve().parent
FILES, MAPS = HERE / "files", HERE / "maps"
HEAD = 'format = "brinewright/1"\nkind = "column-map"\nname = "corpus"\ninvented = true\n'


def column(head, role, **more):
    return f'\n[[column]]\nhead = "{head}"\nrole = "{role}"\n' + "".join(f'{k} = "{v}"\n' for k, v in more.items())


SAMPLE = column("Sample", "sample")
CA = column("Ca 317.933", "analyte", unit="mg/L")
MG = column("Mg 285.213", "analyte", unit="mg/L")
MAPS_TEXT = {
    "point": HEAD + 'decimal_sign = "point"\nbelow_limit = ["<", "n.d.", "< LOD"]\nover_range = ["OVER"]\n' + SAMPLE + CA + MG,
    "comma": HEAD + 'decimal_sign = "comma"\nbelow_limit = ["<", "n.d.", "< LOD"]\n' + SAMPLE + CA + MG,
    "open": HEAD + SAMPLE + CA + MG,
    "groups_comma": HEAD + 'decimal_sign = "point"\ngroup_mark = "comma"\n' + SAMPLE + CA + MG,
    "groups_point": HEAD + 'decimal_sign = "comma"\ngroup_mark = "point"\n' + SAMPLE + CA + MG,
    "groups_space": HEAD + 'decimal_sign = "point"\ngroup_mark = "space"\n' + SAMPLE + CA + MG,
    "groups_apostrophe": HEAD + 'decimal_sign = "point"\ngroup_mark = "apostrophe"\n' + SAMPLE + CA + MG,
    "units": HEAD + 'decimal_sign = "point"\nunit_row = 2\n' + SAMPLE + column("Ca 317.933", "analyte") + column("Mg 285.213", "analyte"),
    "units_ppm": HEAD + 'decimal_sign = "point"\nunit_row = 2\nppm = "by mass"\n' + SAMPLE + column("Ca 317.933", "analyte") + column("Mg 285.213", "analyte"),
    "lines_mean": HEAD + 'decimal_sign = "point"\nlines = "mean"\n' + SAMPLE + CA + column("Ca 393.366", "analyte", unit="mg/L"),
    "lines_first": HEAD + 'decimal_sign = "point"\nlines = "first"\n' + SAMPLE + CA + column("Ca 393.366", "analyte", unit="mg/L"),
    "lines_both": HEAD + 'decimal_sign = "point"\n' + SAMPLE + CA + column("Ca 393.366", "analyte", unit="mg/L"),
    "footer": HEAD + 'decimal_sign = "point"\nfooter = ["Total", "Mean"]\nrepeated_head = "skip"\nrepeats = "keep"\nshort_rows = "not tested"\nother_columns = "ignore"\n' + SAMPLE + CA + MG,
    "blanks": HEAD + 'decimal_sign = "point"\nblanks = "subtract mean"\nblank_samples = ["Blank*"]\ncheck_samples = ["QC*"]\n' + SAMPLE + CA + MG,
    "dilution": HEAD + 'decimal_sign = "point"\ndilution_applied = false\ndate_form = "DD.MM.YYYY"\n' + SAMPLE + column("Dilution", "dilution") + column("Date", "date") + column("Blank", "blank-flag") + CA,
    "long": HEAD + 'layout = "long"\ndecimal_sign = "point"\n' + SAMPLE + column("Analyte", "analyte-name") + column("Value", "value") + column("Unit", "unit"),
    "exponents": HEAD + 'decimal_sign = "point"\nexponents = "read"\n' + SAMPLE + CA + MG,
    "letters": HEAD + 'head_row = 0\ndecimal_sign = "point"\n' + SAMPLE.replace('head = "Sample"', 'column = "A"') + CA.replace('head = "Ca 317.933"', 'column = "B"\nanalyte = "Ca"'),
}
TOP = "Sample,Ca 317.933,Mg 285.213\n"
CASES = []


def case(name, map_name, expected, data, suffix=".csv"):
    CASES.append((name + suffix, map_name, expected, data.encode() if isinstance(data, str) else data))


def cell(name, text, expected, map_name="point"):
    """One cell Ca of one sample, in quotes where it must be."""
    quoted = '"' + text.replace('"', '""') + '"' if any(c in text for c in ',"\r\n') else text
    case(name, map_name, expected, TOP + f"S1,{quoted},1290\n")


def semicolons(name, text, expected, map_name="comma"):
    case(name, map_name, expected, f"Sample;Ca 317.933;Mg 285.213\nS1;{text};1290\n")


def encodings():
    good = TOP + "S1,412.3,1290.5\nS2,411.9,1288\n"
    case("plain", "point", "read 4", good)
    case("utf8_mark", "point", "read 4", b"\xef\xbb\xbf" + good.encode())
    case("utf16_little", "point", "read 4", b"\xff\xfe" + good.encode("utf-16-le"))
    case("utf16_big", "point", "read 4", b"\xfe\xff" + good.encode("utf-16-be"))
    case("utf16_odd", "point", "problem odd number of bytes", b"\xff\xfe" + good.encode("utf-16-le")[:-1])
    case("utf16_half_letter", "point", "problem half a UTF-16 letter", b"\xff\xfe" + good.encode("utf-16-le") + b"\x3d\xd8")
    case("utf16_low_first", "point", "problem half a UTF-16 letter", b"\xff\xfe\x00\xdc" + good.encode("utf-16-le"))
    case("utf16_astral", "point", "read 2", b"\xff\xfe" + (TOP + "S\U0001F30A,412.3,1290\n").encode("utf-16-le"))
    case("utf16_without_mark", "point", "problem NUL byte", good.encode("utf-16-le"))
    case("utf32", "point", "problem UTF-32", b"\xff\xfe\x00\x00" + good.encode("utf-32-le"))
    case("windows_micro", "units", "read 2", "Sample,Ca 317.933,Mg 285.213\n,\u00b5g/L,mg/L\nS1,412.3,1290\n".encode("cp1252"))
    case("windows_free_byte", "point", "problem neither UTF-8 nor", TOP.encode() + b"S\x81,412.3,1290\n")
    case("mixed_encodings", "point", "problem mixes two encodings", "Sample,Ca 317.933,Mg 285.213\nS\u00e9,1.5,1290\n".encode() + b"S\xe9,1.5,1290\n")
    case("broken_after_mark", "point", "problem not UTF-8, though", b"\xef\xbb\xbf" + TOP.encode() + b"S\xff,1.5,2\n")
    case("nul", "point", "problem NUL byte", TOP.encode() + b"S1,4\x0012.3,1290\n")
    case("nul_in_utf16", "point", "problem NUL byte", b"\xff\xfe" + (TOP + "S1,4\0,1\n").encode("utf-16-le"))
    case("greek_micro", "units", "read 2", "Sample,Ca 317.933,Mg 285.213\n,\u03bcg/L,ug/L\nS1,412.3,1290\n")
    case("control_letter_in_name", "point", "refused 1 A2 a name is one line", TOP + "S\x07 1,412.3,1290\n")
    case("end_of_file_sign", "point", "refused 1 A3 a name is one line", TOP + "S1,412.3,1290\n\x1a,,\n")


def forms():
    case("lone_cr", "point", "read 4", TOP.replace("\n", "\r") + "S1,412.3,1290\rS2,1.5,2.5\r")
    case("crlf", "point", "read 2", TOP.replace("\n", "\r\n") + "S1,412.3,1290\r\n")
    case("mixed_ends", "point", "read 6", TOP + "S1,412.3,1290\r\nS2,1.5,2.5\rS3,1.25,2\n")
    case("no_last_end", "point", "read 2", TOP + "S1,412.3,1290")
    case("blank_lines", "point", "read 4", "Sample,Ca 317.933,Mg 285.213\n\nS1,412.3,1290\n\n\nS2,1.5,2.5\n\n")
    case("semicolons", "point", "read 2", "Sample;Ca 317.933;Mg 285.213\nS1;412.3;1290\n")
    case("tabs", "point", "read 2", "Sample\tCa 317.933\tMg 285.213\nS1\t412.3\t1290\n", ".tsv")
    case("named_separator", "point", "read 2", "sep=;\r\nSample;Ca 317.933;Mg 285.213\r\nS1;412.3;1290\r\n")
    case("named_separator_unknown", "point", "problem names '|' as separator", "sep=|\nSample|Ca 317.933|Mg 285.213\nS1|412.3|1290\n")
    case("bars", "point", "refused 4 row 1 no column has this head", "Sample|Ca 317.933|Mg 285.213\nS1|412.3|1290\n")
    case("row_too_long", "point", "refused 1 D2 beyond the last column", TOP + "S1,412.3,1290,7\n")
    case("row_longer_but_empty", "point", "read 2", TOP + "S1,412.3,1290,,,\n")
    case("row_too_short", "point", "refused 1 C2 the row ends here", TOP + "S1,412.3\n")
    case("row_short_allowed", "footer", "read 1", TOP + "S1,412.3\n")
    case("decimal_commas_without_quotes", "point", "refused 1 D2 beyond the last column", TOP + "S1,412,3,1290\n")
    case("quoted_line_end", "point", "refused 1 A2 a name is one line", TOP + '"S\n1",412.3,1290\n')
    case("quoted_line_end_in_head", "point", "read 2", 'Sample,"Ca\n317.933",Mg 285.213\nS1,412.3,1290\n')
    case("quotes_doubled", "point", "read 2", TOP + '"S ""1""",412.3,1290\n')
    case("quote_unclosed", "point", "problem never closed", TOP + '"S1,412.3,1290\nS2,1,2\n')
    case("quote_within", "point", "problem does not begin with one", TOP + 'S"1",412.3,1290\n')
    case("quote_then_text", "point", "problem follows the closing quote", TOP + '"S1"x,412.3,1290\n')
    case("quote_after_blank", "point", "problem does not begin with one", TOP + 'S1, "412.3",1290\n')
    case("field_too_long", "point", "problem at most 65536 are read", TOP + "S" * 65537 + ",412.3,1290\n")
    case("field_quoted_too_long", "point", "problem closing quote may be missing", TOP + '"' + "S,1\n" * 20000 + "\n")
    case("columns_too_many", "point", "problem more than 2000 columns", TOP + "," * 2001 + "\n")
    case("empty", "point", "problem the file is empty", "")
    case("only_blanks", "point", "problem the file is empty", " \r\n\t\r\n\n")
    case("only_mark", "point", "problem the file is empty", b"\xef\xbb\xbf")
    case("only_head", "point", "refused 1 row 2 the table ends with row 1", TOP)
    case("only_head_and_names", "point", "refused 1 row 2 holds no reading", TOP + "S1,,\nS2,,\n")
    case("no_head", "point", "refused 6 row 1 no column has this head", "S1,412.3,1290\nS2,411.9,1288\n")
    case("notes_above_head", "point", "refused", "Run 7 of 3 February\n" + TOP + "S1,412.3,1290\n")
    case("head_twice", "point", "refused", "Sample,Ca 317.933,Ca 317.933\nS1,412.3,1290\n")
    case("head_misspelt", "point", "refused", "Sample,Ca 317.93,Mg 285.213\nS1,412.3,1290\n")
    case("head_missing", "point", "refused 1 row 1 no column has this head", "Sample,Ca 317.933\nS1,412.3\n")
    case("column_not_in_map", "point", "refused 1 D1 does not name this column", "Sample,Ca 317.933,Mg 285.213,Mn 257.610\nS1,412.3,1290,0.5\n")
    case("column_ignored", "footer", "read 2", "Sample,Ca 317.933,Mg 285.213,Mn 257.610\nS1,412.3,1290,0.5\n")
    case("letters", "letters", "read 2", "S1,412.3\nS2,411.9\n")
    case("letters_too_few", "letters", "refused 1 B only 1 columns", "S1\nS2\n")


def kinds():
    case("pdf", "point", "problem PDF document", b"%PDF-1.4\n% invented\n")
    case("web_page", "point", "problem web page", "<!DOCTYPE html><html><body><table></table></body></html>")
    case("old_workbook", "point", "problem old binary form", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 64)
    case("workbook_named_csv", "point", "problem packed file", workbook([["Sample", "Ca 317.933", "Mg 285.213"], ["S1", 412.3, 1290]]))
    case("csv_named_workbook", "point", "problem this is no workbook", TOP + "S1,412.3,1290\n", ".xlsx")
    case("old_workbook_renamed", "point", "problem old binary form", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 64, ".xlsx")


def numbers():
    for name, text, expected in (
        ("integer", "412", "read 2"), ("plus", "+412.3", "read 2"), ("minus", "-0.4", "read 2"),
        ("minus_sign_unicode", "\u22120.4", "read 2"), ("en_dash", "\u20130.4", "refused 1 B2 not a number"),
        ("exponent_small", "1.2e-3", "read 2"), ("exponent_capital", "1.2345E-03", "read 2"),
        ("exponent_spreadsheet", "1.23E+03", "refused 1 B2 after cutting their digits"),
        ("exponent_cut", "1.2E", "refused 1 B2 stands behind the number"),
        ("too_large", "1e999", "refused 1 B2 too large or too small"),
        ("too_small", "1e-999", "refused 1 B2 too large or too small"),
        ("nan", "nan", "refused 1 B2 not a number"), ("inf", "inf", "refused 1 B2 not a number"),
        ("minus_inf", "-Inf", "refused 1 B2 not a number"), ("hexadecimal", "0x1F", "refused 1 B2 stands behind the number"),
        ("true", "TRUE", "refused 1 B2 not a number"), ("word", "contaminated", "refused 1 B2 not a number"),
        ("lone_point", ".", "refused 1 B2 not a number"), ("lone_minus", "-", "refused 1 B2 not a number"),
        ("point_first", ".5", "read 2"), ("point_last", "412.", "read 2"),
        ("two_points", "1.234.5", "refused 1 B2 two decimal signs"), ("comma_and_point", "1,234.5", "refused 1 B2 two decimal signs"),
        ("comma_declared_point", "412,3", "refused 1 B declares a point"),
        ("blank_within", "1 234.5", "refused 1 B2 a blank stands within"),
        ("no_break_space_within", "1\u00a0234.5", "refused 1 B2 a blank stands within"),
        ("no_break_space_around", "\u00a0412.3\u00a0", "read 2"), ("blanks_around", "  412.3\t", "read 2"),
        ("full_width", "\uff14\uff11\uff12.\uff13", "refused 1 B2 full-width digits"),
        ("full_width_last", "41\uff12", "refused 1 B2 full-width digits"),
        ("arabic_digits", "\u0664\u0661\u0662", "refused 1 B2 not a number"),
        ("percent", "41.2 %", "refused 1 B2 percent sign"), ("unit_behind", "412.3 mg/L", "refused 1 B2 stands behind the number"),
        ("mark_behind", "412.3*", "refused 1 B2 stands behind the number"), ("brackets", "(412.3)", "refused 1 B2 not a number"),
        ("apostrophe", "'412.3", "refused 1 B2 an apostrophe stands in front"),
        ("apostrophe_within", "1'234.5", "refused 1 B2 stands behind the number"),
        ("currency", "\u20ac412.3", "refused 1 B2 not a number"), ("plus_minus", "412.3 \u00b1 0.5", "refused 1 B2 stands behind the number"),
        ("line_end_within", "412\n.3", "refused 1 B2"), ("two_numbers", "412.3;411.9", "refused 1 B2 stands behind the number"),
        ("many_digits", "412." + "3" * 400, "read 2"), ("leading_zeros", "000412.3", "read 2"),
        ("sharps", "####", "refused 1 B2 too narrow"), ("not_available", "#N/A", "refused 1 B2 error of a spreadsheet"),
        ("division", "#DIV/0!", "refused 1 B2 error of a spreadsheet"), ("german_error", "#WERT!", "refused 1 B2 error of a spreadsheet"),
        ("formula", "=A1*2", "refused 1 B2 a formula"), ("formula_at", "@SUM(A1)", "refused 1 B2 a formula"),
        ("formula_plus", "+A1*2", "refused 1 B2 not a number"),
        ("date_german", "03. Dez", "refused 1 B2 looks like a date"), ("date_english", "12-Mar", "refused 1 B2 looks like a date"),
        ("date_month_first", "Mar-12", "refused 1 B2 looks like a date"), ("date_iso", "2025-03-09", "refused 1 B2 looks like a date"),
        ("date_points", "03.12.2025", "refused 1 B2 looks like a date"), ("date_slashes", "3/12", "refused 1 B2 looks like a date"),
        ("date_maerz", "12. M\u00e4r", "refused 1 B2 looks like a date"),
        ("time", "10:30", "refused 1 B2 looks like a date"),
        ("below", "<0.5", "read 2"), ("below_blank", "< 0.5", "read 2"), ("below_spelling", "n.d.", "read 2"),
        ("below_spelling_capital", "N.D.", "read 2"), ("below_lod", "< LOD 0.5", "read 2"), ("below_lod_glued", "<LOD0.5", "refused 1 B2 not a number"),
        ("below_comma", "<0,5", "refused 1 B declares a point"), ("below_zero", "<0", "refused 1 B2 a limit must be above 0"),
        ("below_negative", "<-1", "refused 1 B2 a limit must be above 0"), ("below_word", "<trace", "refused 1 B2 not a number"),
        ("below_unknown", "BDL", "refused 1 B2 not a number"), ("below_or_equal", "\u22640.5", "refused 1 B2 not a number"),
        ("over", "OVER", "read 2"), ("over_number", ">500", "read 2"), ("over_unknown", "sat.", "refused 1 B2 not a number"),
        ("below_nothing", "<", "read 2"), ("two_belows", "<<0.5", "refused 1 B2 not a number"),
        ("empty_is_not_tested", "", "read 1"), ("dash_undeclared", "--", "refused 1 B2 not a number"),
    ):
        cell("cell_" + name, text, expected)
    cell("open_thousand", "1.250", "refused 1 B2 could be 1.250 or 1250", "open")
    cell("open_thousand_comma", "1,250", "refused 1 B2 could be 1.250 or 1250", "open")
    cell("open_zero_first", "0.125", "read 2", "open")
    cell("open_four_before", "1290.125", "read 2", "open")
    cell("open_two_marks", "1,234.5", "refused 1 B2 two decimal signs", "open")
    cell("groups_comma_right", "1,234,567.5", "read 2", "groups_comma")
    cell("groups_comma_wrong", "12,34.5", "refused 1 B2 groups of three", "groups_comma")
    cell("groups_comma_short_last", "1,23", "refused 1 B2 groups of three", "groups_comma")
    cell("groups_comma_long_first", "1234,567", "refused 1 B2 groups of three", "groups_comma")
    cell("groups_after_point", "0.123,456", "refused 1 B2 two decimal signs", "groups_comma")
    cell("groups_space_no_break", "1\u00a0234.5", "read 2", "groups_space")
    cell("groups_space_narrow", "1\u202f234.5", "read 2", "groups_space")
    cell("groups_apostrophe", "1'234.5", "read 2", "groups_apostrophe")
    cell("groups_apostrophe_curved", "1\u2019234.5", "read 2", "groups_apostrophe")
    cell("groups_point_lost_comma", "1.234", "read 2", "groups_point")
    cell("exponent_allowed", "1.23E+03", "read 2", "exponents")
    semicolons("comma_decimal", "412,3", "read 2")
    semicolons("comma_exponent", "1,2E-3", "read 2")
    semicolons("comma_below", "<0,5", "read 2")
    semicolons("comma_lod", "< LOD 0,5", "read 2")
    semicolons("comma_file_with_point", "412.3", "refused 1 B declares a comma")
    semicolons("comma_groups", "1.234,5", "read 2", "groups_point")
    semicolons("comma_groups_undeclared", "1.234,5", "refused 1 B2 two decimal signs")


def tables():
    case("mixed_decimals_in_column", "open", "refused 1 B mixes decimal signs: points in row 2, commas in row 3", 'Sample;Ca 317.933;Mg 285.213\nS1;412.3;1290\nS2;411,9;1288\n')
    case("mixed_decimals_between_columns", "open", "refused 1 C has a comma as decimal sign, and column B", "Sample;Ca 317.933;Mg 285.213\nS1;412.3;1290,5\n")
    case("mixed_decimals_declared", "point", "refused 1 B mixes decimal signs", 'Sample;Ca 317.933;Mg 285.213\nS1;412.3;1290\nS2;411,9;1288\n')
    case("sample_twice", "point", "refused 2 B3 stands in B2 already", TOP + "S1,412.3,1290\nS1,411.9,1288\n")
    case("sample_twice_kept", "footer", "read 4", TOP + "S1,412.3,1290\nS1,411.9,1288\n")
    case("sample_missing", "point", "refused 1 A3 no name of a sample", TOP + "S1,412.3,1290\n,411.9,1288\n")
    case("sample_date", "point", "refused 1 A2 looks like a date", TOP + "12-Mar,412.3,1290\n")
    case("sample_formula", "point", "refused 1 A2 a formula", TOP + "=A1,412.3,1290\n")
    case("sample_sharps", "point", "refused 1 A2 too narrow", TOP + "#####,412.3,1290\n")
    case("sample_long", "point", "refused 1 A2 a name is one line", TOP + "S" * 201 + ",412.3,1290\n")
    case("total_row", "point", "refused 1 A3 not like a sample", TOP + "S1,412.3,1290\nTotal,412.3,1290\n")
    case("mean_row_german", "point", "refused 1 A3 not like a sample", TOP + "S1,412.3,1290\nMittelwert:,412.3,1290\n")
    case("total_row_listed", "footer", "read 2", TOP + "S1,412.3,1290\nTotal,412.3,1290\nMean of 1,412.3,1290\n")
    case("repeated_head", "point", "refused 1 A3 repeats the head", TOP + "S1,412.3,1290\n" + TOP + "S2,1.5,2.5\n")
    case("repeated_head_skipped", "footer", "read 4", TOP + "S1,412.3,1290\n" + TOP + "S2,1.5,2.5\n")
    case("two_lines_both", "lines_both", "read 2", "Sample,Ca 317.933,Ca 393.366\nS1,412.3,413.1\n")
    case("two_lines_first", "lines_first", "read 1", "Sample,Ca 317.933,Ca 393.366\nS1,412.3,413.1\n")
    case("two_lines_mean", "lines_mean", "read 1", "Sample,Ca 317.933,Ca 393.366\nS1,412.3,413.1\n")
    case("two_lines_mean_below", "lines_mean", "refused 1 C2 needs a number of each", "Sample,Ca 317.933,Ca 393.366\nS1,412.3,<0.5\n")
    case("unit_row", "units", "read 2", "Sample,Ca 317.933,Mg 285.213\n,mg/l,mmol/L\nS1,412.3,53\n")
    case("unit_row_brackets", "units", "read 2", "Sample,Ca 317.933,Mg 285.213\n,[mg/L],(mg/kg)\nS1,412.3,53\n")
    case("unit_row_unknown", "units", "refused 1 B2 unknown unit", "Sample,Ca 317.933,Mg 285.213\n,cps,mg/L\nS1,412.3,53\n")
    case("unit_row_of_mass", "units", "refused 1 B2 which no reading has", "Sample,Ca 317.933,Mg 285.213\n,kg,mg/L\nS1,412.3,53\n")
    case("unit_row_empty", "units", "refused 1 B1 the column has no unit", "Sample,Ca 317.933,Mg 285.213\n,,mg/L\nS1,412.3,53\n")
    case("unit_row_missing", "units", "refused 2 B2 unknown unit", "Sample,Ca 317.933,Mg 285.213\nS1,412.3,1290\nS2,411.9,1288\n")
    case("ppm_unsaid", "units", "refused 1 B2 by mass or by volume", "Sample,Ca 317.933,Mg 285.213\n,ppm,mg/L\nS1,412.3,53\n")
    case("ppm_said", "units_ppm", "read 2", "Sample,Ca 317.933,Mg 285.213\n,ppm,ppb\nS1,412.3,53\n")
    case("ppt", "units_ppm", "refused 1 B2 ppt may mean", "Sample,Ca 317.933,Mg 285.213\n,ppt,ppm\nS1,412.3,53\n")
    case("head_unit_differs", "letters", "refused", "S1,412.3,7\n")
    case("mixed_units_long", "long", "read 2", "Sample,Analyte,Value,Unit\nS1,Ca,412.3,mg/L\nS1,Mg,53,mmol/L\n")
    case("long_unknown_analyte", "long", "refused 1 B2 no element or constituent", "Sample,Analyte,Value,Unit\nS1,Xx,412.3,mg/L\n")
    case("long_no_analyte", "long", "refused 1 B2 the row has no analyte", "Sample,Analyte,Value,Unit\nS1,,412.3,mg/L\n")
    case("long_no_unit", "long", "refused 1 D2 unknown unit", "Sample,Analyte,Value,Unit\nS1,Ca,412.3,\n")
    case("long_unit_none", "long", "refused 1 C2 no pure number", "Sample,Analyte,Value,Unit\nS1,Ca,412.3,none\n")
    case("long_with_lines", "long", "read 2", "Sample,Analyte,Value,Unit\nS1,Ca 317.933,412.3,mg/L\nS1,Ca 393.366,413.1,mg/L\n")
    case("long_twice", "long", "refused 1 C3 stands in C2 already", "Sample,Analyte,Value,Unit\nS1,Ca,412.3,mg/L\nS1,Ca,413.1,mg/L\n")
    case("blank_taken_off", "blanks", "read 2", TOP + "Blank 1,0.02,0.01\nBlank 2,0.04,0.01\nS1,412.3,1290\n")
    case("blank_missing", "blanks", "refused 2 B2 no blank of Ca 317.933", TOP + "S1,412.3,1290\n")
    case("blank_below_limit", "blanks", "refused 1 B2 no number cannot be taken off", TOP + "Blank,<0.02,0.01\nS1,412.3,1290\n")
    case("only_blanks_and_checks", "blanks", "refused 1 row 2 holds no reading", TOP + "Blank,0.02,0.01\nQC 1,1.5,2.5\n")
    wide = "Sample,Dilution,Date,Blank,Ca 317.933\n"
    case("dilution", "dilution", "read 1", wide + "S1,50,09.03.2026,no,8.25\nB,1,09.03.2026,yes,0.01\n")
    case("dilution_missing", "dilution", "refused 1 B2 the row has no dilution", wide + "S1,,09.03.2026,no,8.25\n")
    case("dilution_zero", "dilution", "refused 1 B2 not above 0", wide + "S1,0,09.03.2026,no,8.25\n")
    case("dilution_ratio", "dilution", "refused 1 B2 looks like a date", wide + "S1,1:50,09.03.2026,no,8.25\n")
    case("date_of_other_form", "dilution", "refused 1 C2 not a date or time of the form DD.MM.YYYY", wide + "S1,50,2026-03-09,no,8.25\n")
    case("date_that_is_none", "dilution", "refused 1 C2 does not exist", wide + "S1,50,30.02.2026,no,8.25\n")
    case("date_short_year", "dilution", "refused 1 C2 not a date or time", wide + "S1,50,09.03.26,no,8.25\n")
    case("date_serial", "dilution", "refused 1 C2 not a date or time", wide + "S1,50,46090,no,8.25\n")
    case("blank_flag_unknown", "dilution", "refused 1 D2 whether this is a blank", wide + "S1,50,09.03.2026,perhaps,8.25\n")
    case("many_refusals", "point", "refused 500 B2 not a number", TOP + "".join(f"S{i},x,y\n" for i in range(250)))


def sheet_xml(rows, formula=None):
    out = []
    for r, row in enumerate(rows, 1):
        cells = []
        for c, value in enumerate(row):
            name = f"{chr(65 + c)}{r}"
            if isinstance(value, str) and value.startswith("<c"):
                cells.append(value.replace("NAME", name))
            elif isinstance(value, str):
                escaped = value.replace("&", "&amp;").replace("<", "&lt;")
                cells.append(f'<c r="{name}" t="inlineStr"><is><t>{escaped}</t></is></c>')
            elif value is not None:
                cells.append(f'<c r="{name}"><v>{value}</v></c>')
        out.append(f'<row r="{r}">{"".join(cells)}</row>')
    return f'<?xml version="1.0"?><worksheet><sheetData>{"".join(out)}</sheetData></worksheet>'


def workbook(rows, change=None):
    parts = {
        "xl/workbook.xml": '<?xml version="1.0"?><workbook><sheets><sheet name="Run" sheetId="1" id="r1"/></sheets></workbook>',
        "xl/_rels/workbook.xml.rels": '<?xml version="1.0"?><Relationships><Relationship Id="r1" Target="worksheets/sheet1.xml"/></Relationships>',
        "xl/styles.xml": '<?xml version="1.0"?><styleSheet><numFmts><numFmt numFmtId="164" formatCode="dd.mm.yyyy hh:mm"/></numFmts><cellXfs><xf numFmtId="0"/><xf numFmtId="14"/><xf numFmtId="164"/></cellXfs></styleSheet>',
        "xl/worksheets/sheet1.xml": sheet_xml(rows),
    }
    parts.update(change or {})
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, text in parts.items():
            if text is not None:
                packed.writestr(zipfile.ZipInfo(name, (2026, 1, 1, 0, 0, 0)), text, zipfile.ZIP_DEFLATED)
    return out.getvalue()


def workbooks():
    head = ["Sample", "Ca 317.933", "Mg 285.213"]

    def book(name, expected, row, map_name="point", change=None):
        case("book_" + name, map_name, expected, workbook([head, row], change), ".xlsx")
    book("plain", "read 2", ["S1", 412.3, 1290])
    book("seventeen_digits", "read 2", ["S1", "<c r=\"NAME\"><v>412.30000000000001</v></c>", 1290])
    book("text_number", "read 2", ["S1", "412.3", 1290])
    book("comma_text", "refused 1 B declares a point", ["S1", "412,3", 1290])
    book("number_in_comma_map", "read 2", ["S1", 412.3, 1290.125], "comma")
    book("below", "read 2", ["S1", "<0.5", "n.d."])
    book("date", "refused 1 B2 looks like a date", ["S1", "<c r=\"NAME\" s=\"1\"><v>46090</v></c>", 1290])
    book("own_date_form", "refused 1 B2 looks like a date", ["S1", "<c r=\"NAME\" s=\"2\"><v>46090.5</v></c>", 1290])
    book("formula", "refused 1 B2 a formula", ["S1", "<c r=\"NAME\"><f>A1*2</f><v>824.6</v></c>", 1290])
    book("error", "refused 1 B2 error of a spreadsheet", ["S1", "<c r=\"NAME\" t=\"e\"><v>#N/A</v></c>", 1290])
    book("flag", "refused 1 B2 not a number", ["S1", "<c r=\"NAME\" t=\"b\"><v>1</v></c>", 1290])
    book("lost_text", "problem a cell's text is missing", ["S1", "<c r=\"NAME\" t=\"s\"><v>7</v></c>", 1290])
    book("bad_number", "problem is no number", ["S1", "<c r=\"NAME\"><v>4x2</v></c>", 1290])
    book("empty_cell", "read 1", ["S1", None, 1290])
    book("document_type", "problem document type", ["S1", 412.3, 1290], change={"xl/workbook.xml": '<?xml version="1.0"?><!DOCTYPE workbook [<!ENTITY a "b">]><workbook><sheets><sheet name="&a;" id="r1"/></sheets></workbook>'})
    book("broken_xml", "problem not valid XML", ["S1", 412.3, 1290], change={"xl/worksheets/sheet1.xml": "<worksheet><sheetData><row>"})
    book("no_sheet_part", "problem lacks 'xl/worksheets/sheet1.xml'", ["S1", 412.3, 1290], change={"xl/worksheets/sheet1.xml": None})
    book("no_workbook_part", "problem lacks 'xl/workbook.xml'", ["S1", 412.3, 1290], change={"xl/workbook.xml": None})
    book("rows_backwards", "problem not in order", ["S1", 412.3, 1290], change={"xl/worksheets/sheet1.xml": '<worksheet><sheetData><row r="2"/><row r="1"/></sheetData></worksheet>'})
    book("row_far_down", "problem more than 200000 rows", ["S1", 412.3, 1290], change={"xl/worksheets/sheet1.xml": '<worksheet><sheetData><row r="999999"><c r="A999999"><v>1</v></c></row></sheetData></worksheet>'})
    book("column_far_right", "problem is not a column", ["S1", 412.3, 1290], change={"xl/worksheets/sheet1.xml": '<worksheet><sheetData><row r="1"><c r="XFD1"><v>1</v></c></row></sheetData></worksheet>'})
    book("bomb", "problem unpacks to more than", ["S1", 412.3, 1290], change={"xl/media/zeros.bin": "0" * (4 << 20)})
    book("many_entries", "problem at most 1000 are read", ["S1", 412.3, 1290], change={f"xl/media/{i}": "" for i in range(1001)})
    whole = workbook([head, ["S1", 412.3, 1290]])
    case("book_cut", "point", "problem damaged", whole[: len(whole) // 2], ".xlsx")
    at = whole.index(b"xl/worksheets/sheet1.xml") + 40
    case("book_flipped", "point", "problem damaged", whole[:at] + bytes([whole[at] ^ 0x55]) + whole[at + 1:], ".xlsx")


def main():
    for make in (encodings, forms, kinds, numbers, tables, workbooks):
        make()
    for folder in (FILES, MAPS):
        shutil.rmtree(folder, ignore_errors=True)
        folder.mkdir()
    for name, text in MAPS_TEXT.items():
        (MAPS / f"{name}.toml").write_text(text)
    names = [c[0] for c in CASES]
    assert len(set(names)) == len(names), "two cases have one name"
    for name, _, _, data in CASES:
        (FILES / name).write_bytes(data)
    (HERE / "expected.tsv").write_text("".join(f"{n}\t{m}\t{e}\n" for n, m, e, _ in CASES))
    print(f"{len(CASES)} files")


main()
