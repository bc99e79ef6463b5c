// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <memory>
#include <optional>

#include "cli/command_line.hpp"
#include "cli/commands.hpp"

namespace bw::cli {

/// curve read, chart trend, sample homogeneity.
class LaboratoryCommands {
public:
    explicit LaboratoryCommands(Command app);
    ~LaboratoryCommands();
    LaboratoryCommands(const LaboratoryCommands&) = delete;
    LaboratoryCommands& operator=(const LaboratoryCommands&) = delete;
    /// The exit code, or nothing when another command was called.
    [[nodiscard]] std::optional<int> carry_out(const Streams& streams) const;

private:
    struct Impl;
    std::unique_ptr<Impl> impl_;
};

}  // namespace bw::cli
