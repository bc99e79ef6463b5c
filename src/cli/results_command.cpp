// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/results_command.hpp"

#include "cli/answer.hpp"
#include "cli/json_values.inl"
#include "io/suggested_map.hpp"
#include "io/table_file.hpp"

namespace bw::cli {
namespace {

constexpr int kRefused = 2;  // what base::exit_code gives for bad input

Command add_results_preview(Command results, ResultsPreviewArguments& a) {
    const Command preview = results.add_subcommand(
        "preview", "What a table of laboratory results says, before anything is kept");
    preview.add_option("FILE", a.file, "The table: comma-separated text or .xlsx")
        .check(named)
        .required();
    preview.add_option("--map", a.map, "File of kind \"column-map\"").check(named).required();
    constexpr int kMostRows = 1000;
    preview.add_option("--rows", a.rows, "Rows to show")
        .check_range(1, kMostRows)
        .capture_default_str();
    add_output_flags(preview, a.json, a.quiet);
    preview.footer(
        "Example:\n  brinewright results preview examples/laboratory/icp_wide.csv --map "
        "examples/laboratory/icp_map.toml\n\n"
        "Exit codes: 0 the table could be imported; 2 a cell is refused, or bad input.");
    return preview;
}

Command add_results_map(Command results, ResultsMapArguments& a) {
    const Command map =
        results.add_subcommand("map", "A column map that may fit a table, to look through");
    map.add_option("FILE", a.file, "The table: comma-separated text or .xlsx")
        .check(named)
        .required();
    add_output_flags(map, a.json, a.quiet);
    map.footer(
        "Example:\n  brinewright results map examples/laboratory/icp_wide.csv\n\n"
        "Exit codes: 0 done; 2 bad input, or no head was found.");
    return map;
}

Result<io::ResultPreview> preview_of_file(const ResultsPreviewArguments& a) {
    BW_TRY(document, io::read_document(a.map));
    BW_TRY(map, io::read_column_map(document));
    BW_TRY(bytes, io::read_table_bytes(a.file));
    BW_TRY(table, io::read_table(bytes, a.file, {map.encoding, map.separator}, map.sheet));
    return io::preview_of(io::import_results(table, map), static_cast<std::size_t>(a.rows));
}

int results_preview(const ResultsPreviewArguments& a, const Streams& streams) {
    const auto preview = preview_of_file(a);
    if (!preview) {
        return complain_of(preview.error(), streams);
    }
    if (a.json) {
        put(preview_json(*preview, a.file), streams);
    } else if (!a.quiet) {
        put(preview_text(*preview, a.file), streams);
    }
    return preview->committable ? 0 : kRefused;
}

int results_map(const ResultsMapArguments& a, const Streams& streams) {
    const auto bytes = io::read_table_bytes(a.file);
    if (!bytes) {
        return complain_of(bytes.error(), streams);
    }
    const auto table = io::read_table(*bytes, a.file);
    if (!table) {
        return complain_of(table.error(), streams);
    }
    auto map = io::suggest_map(*table);
    if (!map) {
        Problem problem = map.error();
        problem.place.file = a.file;
        return complain_of(problem, streams);
    }
    if (a.json) {
        put(json_text({{"version", 1}, {"map", *map}}), streams);
    } else if (!a.quiet) {
        put(*map, streams);
    }
    return 0;
}

}  // namespace

ResultsCommands::ResultsCommands(Command results)
    : preview_(add_results_preview(results, preview_arguments_)),
      map_(add_results_map(results, map_arguments_)) {}

std::optional<int> ResultsCommands::carry_out(const Streams& streams) const {
    return preview_.parsed() ? std::optional(results_preview(preview_arguments_, streams))
           : map_.parsed()   ? std::optional(results_map(map_arguments_, streams))
                             : std::nullopt;
}

}  // namespace bw::cli
