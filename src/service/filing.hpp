// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "service/record_kinds.hpp"
#include "store/record.hpp"

namespace bw::service {

/// The kind under which the books keep an entity.
template <class T>
inline constexpr const char* kKind = nullptr;
template <>
inline constexpr const char* kKind<works::Person> = "person";
template <>
inline constexpr const char* kKind<works::Material> = "material";
template <>
inline constexpr const char* kKind<works::Supplier> = "supplier";
template <>
inline constexpr const char* kKind<works::Lot> = "lot";
template <>
inline constexpr const char* kKind<works::Stock> = "stock";
template <>
inline constexpr const char* kKind<works::Scale> = "scale";
template <>
inline constexpr const char* kKind<works::RecipeVersion> = "recipe";
template <>
inline constexpr const char* kKind<works::Batch> = "batch";
template <>
inline constexpr const char* kKind<works::Weighing> = "weighing";
template <>
inline constexpr const char* kKind<works::Departure> = "departure";
template <>
inline constexpr const char* kKind<works::Sample> = "sample";
template <>
inline constexpr const char* kKind<works::Method> = "method";
template <>
inline constexpr const char* kKind<works::Limits> = "limits";
template <>
inline constexpr const char* kKind<works::TestPortion> = "test_portion";
template <>
inline constexpr const char* kKind<works::Run> = "run";
template <>
inline constexpr const char* kKind<works::Release> = "release";
template <>
inline constexpr const char* kKind<works::Certificate> = "certificate";
template <>
inline constexpr const char* kKind<works::MixingSheet> = "mixing_sheet";
template <>
inline constexpr const char* kKind<works::KeptMap> = "column_map";
template <>
inline constexpr const char* kKind<works::Series> = "series";
template <>
inline constexpr const char* kKind<works::Site> = "site";

/// How an entity is filed: id, state, one line for lists, to what it points, what else it is found
/// by. Kind, version and body are left to write_of.
[[nodiscard]] store::Write filing_of(const works::Person& person);
[[nodiscard]] store::Write filing_of(const works::Material& material);
[[nodiscard]] store::Write filing_of(const works::Supplier& supplier);
[[nodiscard]] store::Write filing_of(const works::Lot& lot);
[[nodiscard]] store::Write filing_of(const works::Stock& stock);
[[nodiscard]] store::Write filing_of(const works::Scale& scale);
[[nodiscard]] store::Write filing_of(const works::RecipeVersion& version);
[[nodiscard]] store::Write filing_of(const works::Batch& batch);
[[nodiscard]] store::Write filing_of(const works::Weighing& weighing);
[[nodiscard]] store::Write filing_of(const works::Departure& departure);
[[nodiscard]] store::Write filing_of(const works::Sample& sample);
[[nodiscard]] store::Write filing_of(const works::Method& method);
[[nodiscard]] store::Write filing_of(const works::Limits& limits);
[[nodiscard]] store::Write filing_of(const works::TestPortion& portion);
[[nodiscard]] store::Write filing_of(const works::Run& run);
[[nodiscard]] store::Write filing_of(const works::Release& release);
[[nodiscard]] store::Write filing_of(const works::Certificate& certificate);
[[nodiscard]] store::Write filing_of(const works::MixingSheet& sheet);
[[nodiscard]] store::Write filing_of(const works::KeptMap& map);
[[nodiscard]] store::Write filing_of(const works::Series& series);
[[nodiscard]] store::Write filing_of(const works::Site& site);

/// The one record of the site.
inline constexpr const char* kSiteId = "works";

}  // namespace bw::service
