// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "cli/books_options.hpp"
#include "cli/command_line.hpp"
#include "cli/commands.hpp"

namespace bw::cli {

/// The command `serve`: its face is given by whoever wires the program, for it is no part of this
/// folder.
void add_serve_command(Command app, BookCommands& commands, const Faces& faces);

}  // namespace bw::cli
