// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "http/answers.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "base/text.hpp"

namespace bw::http {
namespace {

int status_of(ProblemCode code) {
    switch (code) {
        case ProblemCode::NotFound:
            return kNotFound;
        case ProblemCode::TooLarge:
            return kTooLarge;
        case ProblemCode::Refused:
            return kForbidden;
        case ProblemCode::Conflict:
            return kConflict;
        case ProblemCode::Disk:
            return kBusy;
        case ProblemCode::BrokenBooks:
        case ProblemCode::Internal:
            return kFault;
        default:
            return kBadRequest;
    }
}

}  // namespace

std::string json_string(std::string_view text) {
    return nlohmann::json(text).dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
}

Response json_answer(std::string body, int status) {
    return {status, "application/json", std::move(body), {}};
}

Response problem_answer(const Problem& problem) {
    return problem_answer(problem, status_of(problem.code));
}

Response problem_answer(const Problem& problem, int status) {
    std::string body =
        fmt::format(R"({{"title":{},"status":{},"code":{})", json_string(problem.message), status,
                    json_string(base::wire_name(problem.code)));
    if (!problem.place.field.empty()) {
        body += fmt::format(R"(,"field":{})", json_string(problem.place.field));
    }
    // Where the books lie is nobody's business: a file is told where it was sent.
    if (!problem.place.file.empty() && status < kFault) {
        body += fmt::format(R"(,"file":{})", json_string(problem.place.file));
    }
    if (problem.place.line > 0) {
        body += fmt::format(R"(,"line":{})", problem.place.line);
    }
    return {status, "application/problem+json", body + "}", {}};
}

Response download(std::string bytes, std::string type, std::string_view name) {
    std::string plain;
    for (const char c : name) {
        const bool fits = base::is_digit(c) || base::is_lower(c) || base::is_upper(c) || c == '-' ||
                          c == '_' || (c == '.' && !plain.empty());
        plain.push_back(fits ? c : '_');
    }
    return {kOk,
            std::move(type),
            std::move(bytes),
            {{"Content-Disposition",
              fmt::format("attachment; filename=\"{}\"", plain.empty() ? "file" : plain)}}};
}

}  // namespace bw::http
