// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <memory>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "store/books.hpp"
#include "store/database.hpp"

namespace bw::store::ground {

inline const std::string kMorning = "2026-11-26T09:30:00.000Z";

/// A folder of its own that goes with the test.
class Folder {
public:
    Folder();
    ~Folder();
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    [[nodiscard]] std::string operator/(const std::string& name) const {
        return name_ + "/" + name;
    }
    [[nodiscard]] const std::string& name() const { return name_; }

private:
    std::string name_;
};

/// A PostgreSQL of the test program's own: unix socket only, as an unprivileged user, fsync on. It
/// starts with the first call and ends with the program. Fails the test when it cannot start.
[[nodiscard]] std::string new_postgres_place();

/// Where books may stand, one after another, on either database.
class Ground {
public:
    explicit Ground(Dialect dialect) : dialect_(dialect) {}
    [[nodiscard]] std::string place();
    [[nodiscard]] const Folder& folder() const { return folder_; }
    /// A connection beside the books, as someone with the rights of the machine has it.
    [[nodiscard]] std::unique_ptr<Connection> beside(const std::string& place) const;
    [[nodiscard]] Dialect dialect() const { return dialect_; }

private:
    Dialect dialect_;
    Folder folder_;
    int count_ = 0;
};

/// Tests that run on both databases.
class OnBoth : public ::testing::TestWithParam<Dialect> {
protected:
    Ground ground_{GetParam()};
};

inline std::string name_of(const ::testing::TestParamInfo<Dialect>& info) {
    return info.param == Dialect::Sqlite ? "Sqlite" : "Postgres";
}

#define BW_ON_BOTH(suite)                                                                \
    INSTANTIATE_TEST_SUITE_P(                                                            \
        On, suite,                                                                       \
        ::testing::Values(::bw::store::Dialect::Sqlite, ::bw::store::Dialect::Postgres), \
        ::bw::store::ground::name_of)

/// An act with one record; everything else may be filled in.
[[nodiscard]] Change change(const std::string& request, const std::string& kind,
                            const std::string& id, std::int64_t expected_version,
                            const std::string& body);

/// An act that sets a person's password, or takes it away when it is empty.
[[nodiscard]] Result<void> set_password(Books& books, const std::string& person,
                                        const std::string& password);

[[nodiscard]] Measurement measurement(const std::string& analyte, const std::string& batch,
                                      std::int64_t line, const std::string& digits, double value);

/// Some lots, batches, runs with measurements, attachments, later versions.
void fill(Books& books, int batches);

/// The value of a Result, or a failed test that says what went wrong.
template <class T>
T must(Result<T> result) {
    if (!result) {
        ADD_FAILURE() << result.error().text();
        throw std::runtime_error(result.error().text());
    }
    if constexpr (!std::is_void_v<T>) {
        return std::move(*result);
    }
}

/// The code of the problem that is expected, with its sentence in the log when it is another.

#define EXPECT_PROBLEM(expression, expected)                                   \
    do {                                                                       \
        const auto looked = (expression);                                      \
        if (looked) {                                                          \
            ADD_FAILURE() << "no problem where one was expected";              \
        } else {                                                               \
            EXPECT_EQ(looked.error().code, expected) << looked.error().text(); \
        }                                                                      \
    } while (false)

}  // namespace bw::store::ground
