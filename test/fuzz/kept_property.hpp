// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <string_view>

#include "fuzz/one_line.hpp"
#include "service/certificate_paper.hpp"
#include "service/certificates.hpp"
#include "service/mixing_sheets.hpp"
#include "service/record_kinds.hpp"
#include "service/record_text.hpp"
#include "store/canonical_json.hpp"
#include "store/trail.hpp"

namespace bw::fuzz {

/// A record that is read is written to a text that reads back to itself.
template <class T>
Fault fault_of_record(const std::string& text) {
    const auto record = service::read_record<T>(text);
    if (!record) {
        return fault_of_complaint(record.error());
    }
    const std::string written = service::record_text(*record);
    const auto again = service::read_record<T>(written);
    return again && service::record_text(*again) == written
               ? Fault()
               : Fault("a record does not read back to itself");
}

/// What the books and the papers hold, as somebody who can write there may leave it: read to a
/// value, or a complaint.
inline Fault fault_of_kept(std::string_view bytes) {
    const std::string text(bytes);
    using Check = Fault (*)(const std::string&);
#define BW_CHECK_OF(type) fault_of_record<type>,
    constexpr Check kRecords[] = {BW_EVERY_RECORD(BW_CHECK_OF)};
#undef BW_CHECK_OF
    for (const Check check : kRecords) {
        if (const Fault fault = check(text)) {
            return fault;
        }
    }
    if (const auto entry = store::read_entry(text);
        entry ? store::entry_body(*entry) != text : fault_of_complaint(entry.error()).has_value()) {
        return "an entry of the trail that is not written so";
    }
    if (const auto canonical = store::canonical_json(text);
        canonical && store::canonical_json(*canonical).value_or("") != *canonical) {
        return "a canonical text that is not canonical";
    }
    if (const auto paper = service::certificate_of_json(text)) {
        if (!service::certificate_json(*paper)) {
            return "a certificate that is read and not written";
        }
    }
    if (const auto sheet = service::mixing_sheet_of_json(text)) {
        static_cast<void>(service::mixing_sheet_json(*sheet));
    }
    const auto check = service::verify_paper("the paper", text, "");
    return check ? Fault() : fault_of_complaint(check.error());
}

}  // namespace bw::fuzz
