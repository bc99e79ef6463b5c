// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Questions that a command of the command line answers: computations, views of the books, papers.
#pragma once
#include <semaphore>
#include <span>
#include <string>
#include <string_view>

#include "http/command_port.hpp"
#include "http/door.hpp"
#include "http/message.hpp"

namespace bw::http {

/// A command with what pages may give to it; all else is refused.
struct AskedCommand {
    std::string_view name;   ///< "recipe/solve"
    std::string_view files;  ///< arguments and options that take files, blanks between
    std::string_view given;  ///< those that take values; "brief?" is true or false, nothing else
};

/// POST /api/v1/compute/NAME: nothing is kept, no books are opened.
[[nodiscard]] std::span<const AskedCommand> computations();
/// GET /api/v1/view/NAME: reads the books.
[[nodiscard]] std::span<const AskedCommand> views();

/// GET /api/v1/paper/NAME: a command that writes a PDF.
struct AskedPaper {
    std::string_view name;       ///< "batch-sheet"
    std::string_view command;    ///< "batch print"
    std::string_view parameter;  ///< "batch": the argument
    std::string_view given;      ///< its other parameters, as those of a view
};
[[nodiscard]] std::span<const AskedPaper> papers();

/// Asks commands: so many at once as there is room for, the others wait for their turn.
class Commands {
public:
    Commands(CommandPort port, std::string books_place)
        : port_(std::move(port)), place_(std::move(books_place)) {}

    [[nodiscard]] Result<Response> compute(const AskedCommand& asked, const Request& request,
                                           const store::Books& books, base::Watch& watch);
    [[nodiscard]] Result<Response> view(const AskedCommand& asked, const Request& request);
    [[nodiscard]] Result<Response> paper(const AskedPaper& asked, const Request& request);

private:
    [[nodiscard]] CommandAnswer ask(const std::vector<std::string>& words,
                                    base::Watch* watch = nullptr);

    static constexpr int kAtOnce = 2;  // a solver fills a core
    CommandPort port_;
    std::string place_;
    std::counting_semaphore<kAtOnce> room_{kAtOnce};
};

}  // namespace bw::http
