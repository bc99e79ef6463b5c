// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
/// Commits one act after another and acknowledges each on standard output, until it is killed or
/// has done enough: committer PLACE PREFIX COUNT [open-each-time]
#include <cstdio>
#include <cstdlib>
#include <string>

#include <fmt/format.h>

#include "store/books.hpp"

namespace {

using namespace bw::store;

Change act(const std::string& name, int number) {
    Change change;
    change.act = {name,
                  "ines",
                  "operator",
                  "scale 1",
                  "batch weigh",
                  "batch",
                  name,
                  "",
                  fmt::format("2026-11-26T09:30:00.{:03}Z", number % 1000)};
    Write write;
    write.kind = "weighing";
    write.id = name;
    write.body = fmt::format(R"({{"name":"{}","number":{}}})", name, number);
    write.keys = {"key " + name};
    write.links = {{"of", "batch", "B1"}};
    Measurement mass;
    mass.analyte = "mass";
    mass.at = change.act.at;
    mass.digits = fmt::format("{}.480", number);
    mass.value = number + 0.48;
    write.measurements.assign(20, mass);
    change.writes = {write};
    change.attachments = {{name, "text/plain", name}};
    change.answer = "done " + name;
    return change;
}

int failed(const bw::Problem& problem) {
    std::fprintf(stderr, "%s\n", problem.text().c_str());
    return bw::base::exit_code(problem.code);
}

}  // namespace

int main(int argc, char** argv) {
    if (argc < 4) {
        return 2;
    }
    const std::string place = argv[1], prefix = argv[2];
    const int count = std::atoi(argv[3]);
    const bool each_time = argc > 4;
    const OpenOptions patient{Mode::ReadWrite, 20000};
    auto books = Books::open(place, patient);
    for (int i = 0; i < count; ++i) {
        if (!books) {
            return failed(books.error());
        }
        const std::string name = fmt::format("{}-{}", prefix, i);
        const auto receipt = books->commit(act(name, i));
        if (!receipt) {
            return failed(receipt.error());
        }
        std::printf("%s %s\n", name.c_str(), receipt->mark.c_str());
        std::fflush(stdout);
        if (each_time) {
            books = bw::fail(bw::ProblemCode::Internal, "closed");
            books = Books::open(place, patient);
        }
    }
    return 0;
}
