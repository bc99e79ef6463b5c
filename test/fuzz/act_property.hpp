// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <array>
#include <cstdlib>
#include <filesystem>
#include <numeric>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include <nlohmann/json.hpp>

#include "fuzz/one_line.hpp"
#include "http/acts.hpp"
#include "service/people.hpp"

namespace bw::fuzz {

/// Books of an invented works whose only person has every duty; they go with the program.
class InventedBooks {
public:
    InventedBooks() {
        std::error_code error;
        const bool in_memory = std::filesystem::is_directory("/dev/shm", error);
        folder_ = (in_memory ? "/dev/shm" : std::filesystem::temp_directory_path().string()) +
                  "/acts-XXXXXX";
        base::expect(::mkdtemp(folder_.data()) != nullptr, "there is a folder for the books");
        auto made = store::Books::create(folder_ + "/books", kAt);
        base::expect(made.has_value(), "the books are made");
        books_.emplace(std::move(*made));
        using enum works::Duty;
        person_ = {"ada",
                   "Ada Min",
                   {Administrator, Formulator, Receiving, Operator, Analyst, QualityManager}};
        const auto begun = service::begin_books(
            *books_, {"Invented works", "Invented laboratory", "1 Invented Quay", true}, person_,
            "a long invented password", kAt);
        base::expect(begun.has_value(), "the books are begun");
    }
    InventedBooks(const InventedBooks&) = delete;
    InventedBooks& operator=(const InventedBooks&) = delete;
    ~InventedBooks() {
        books_.reset();
        std::error_code error;
        std::filesystem::remove_all(folder_, error);
    }
    [[nodiscard]] http::Caller caller() { return {{&*books_, person_, "desk", kAt}, "a token"}; }

    static constexpr const char* kAt = "2026-03-02T08:00:00.000Z";

private:
    std::string folder_;
    std::optional<store::Books> books_;
    works::Person person_;
};

/// The act of this name; of no act's name, any of them.
inline const http::NamedAct& act_called(std::string_view name) {
    static const std::vector<http::NamedAct> kAll = [] {
        std::vector<http::NamedAct> all;
        for (const auto acts : {http::making_acts(), http::testing_acts()}) {
            all.insert(all.end(), acts.begin(), acts.end());
        }
        return all;
    }();
    for (const http::NamedAct& act : kAll) {
        if (act.name == name) {
            return act;
        }
    }
    return kAll[std::accumulate(
                    name.begin(), name.end(), std::size_t{0},
                    [](std::size_t sum, char c) { return sum + static_cast<unsigned char>(c); }) %
                kAll.size()];
}

/// A line with an act's name and the body that asks for it: an answer in JSON or a complaint.
inline Fault fault_of_act(std::string_view bytes) {
    static InventedBooks books;
    const std::size_t end = std::min(bytes.find('\n'), bytes.size());
    const http::NamedAct& act = act_called(bytes.substr(0, end));
    http::Request request;
    request.method = "POST";
    request.body = bytes.substr(std::min(end + 1, bytes.size()));
    const auto answer = http::carry_out(act, request, books.caller(), nullptr);
    if (!answer) {
        return fault_of_complaint(answer.error());
    }
    return nlohmann::json::accept(answer->body) ? Fault() : Fault("an answer is not JSON");
}

}  // namespace bw::fuzz
