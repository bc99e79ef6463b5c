// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>

#include "cli/command_line.hpp"
#include "cli/commands.hpp"
#include "io/result_preview.hpp"

namespace bw::cli {

struct ResultsPreviewArguments {
    std::string file, map;
    int rows = 12;
    bool json = false, quiet = false;
};

struct ResultsMapArguments {
    std::string file;
    bool json = false;
    bool quiet = false;
};

/// results: preview, map. A verb that writes to the books joins them here.
class ResultsCommands {
public:
    explicit ResultsCommands(Command results);
    /// The exit code, or nothing when another command was called.
    [[nodiscard]] std::optional<int> carry_out(const Streams& streams) const;

private:
    ResultsPreviewArguments preview_arguments_;
    ResultsMapArguments map_arguments_;
    Command preview_, map_;
};

[[nodiscard]] std::string preview_text(const io::ResultPreview& preview, const std::string& file);
[[nodiscard]] std::string preview_json(const io::ResultPreview& preview, const std::string& file);

}  // namespace bw::cli
