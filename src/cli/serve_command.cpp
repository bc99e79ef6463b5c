// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/serve_command.hpp"

#include <memory>

namespace bw::cli {

void add_serve_command(Command app, BookCommands& commands, const Faces& faces) {
    struct Arguments {
        BooksOptions books;
        ServeOrder order;
    };
    auto a = std::make_shared<Arguments>();
    const Command serve =
        app.add_subcommand("serve", "The works' books as pages for a browser on this machine");
    constexpr int kMostPort = 65535;
    serve.add_option("--port", a->order.port, "Port to listen on; 0: any that is free")
        .check_range(0, kMostPort)
        .capture_default_str();
    serve
        .add_option("--address", a->order.address,
                    "127.0.0.1 or ::1: this machine alone; 0.0.0.0, or one of the machine's own, "
                    "for a plant network: by TLS only")
        .capture_default_str();
    const Option certificate =
        serve.add_option("--certificate", a->order.certificate,
                         "Certificate of the server for TLS, with its chain, PEM");
    const Option key = serve
                           .add_option("--certificate-key", a->order.certificate_key,
                                       "Its private key, PEM, readable by its owner alone")
                           .needs(certificate);
    certificate.needs(key);
    serve.add_option("--host", a->order.hosts,
                     "Name or address under which other machines ask, as the certificate has it; "
                     "once for each");
    serve.add_option("--key", a->order.key,
                     "File of the works' key: certificates issued on the pages are signed by it");
    add_reading_options(serve, a->books);
    serve.footer(
        "Example:\n  brinewright serve --books books\n"
        "  brinewright serve --books books --address 0.0.0.0 --host works.example "
        "--certificate works.pem --certificate-key works-key.pem\n\n"
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
