// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/serve_command.hpp"

#include <memory>

#include <CLI/CLI.hpp>

namespace bw::cli {

void add_serve_command(CLI::App& app, BookCommands& commands, const Faces& faces) {
    struct Arguments {
        BooksOptions books;
        ServeOrder order;
    };
    auto a = std::make_shared<Arguments>();
    CLI::App& serve =
        *app.add_subcommand("serve", "The works' books as pages for a browser on this machine");
    constexpr int kMostPort = 65535;
    serve.add_option("--port", a->order.port, "Port to listen on; 0: any that is free")
        ->check(CLI::Range(0, kMostPort))
        ->capture_default_str();
    serve.add_option("--address", a->order.address, "127.0.0.1, or ::1: this machine alone")
        ->capture_default_str();
    serve.add_option("--key", a->order.key,
                     "File of the works' key: certificates issued on the pages are signed by it");
    add_reading_options(serve, a->books);
    serve.footer(
        "Example:\n  brinewright serve --books books\n\n"
        "It says the address on one line and serves until it is stopped (Ctrl-C, SIGTERM).\n"
        "Exit codes: 0 stopped; 2 bad input; 3 the address, the port or the books cannot be had; 4 "
        "refused.");
    commands.add(serve, [a, serve_books = faces.serve](const Streams& streams) -> Result<int> {
        BW_TRY(place, books_place(a->books));
        if (!serve_books) {
            return fail(ProblemCode::Refused, "pages are not served from within the pages");
        }
        a->order.books = place;
        a->order.quiet = a->books.quiet;
        return serve_books(a->order, streams);
    });
}

}  // namespace bw::cli
