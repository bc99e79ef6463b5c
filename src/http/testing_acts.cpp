// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <array>

#include <fmt/format.h>

#include "http/acts.hpp"
#include "http/import_order.hpp"
#include "http/words.hpp"
#include "service/certificates.hpp"
#include "service/import_map.hpp"
#include "service/methods_limits.hpp"
#include "service/mixing_sheets.hpp"
#include "service/people.hpp"
#include "service/releases.hpp"
#include "service/shelves.hpp"
#include "service/test_files.hpp"
#include "service/tests.hpp"

namespace bw::http {
namespace {

using Done = Result<store::Receipt>;

/// A file that real books refuse where it is marked as invented.
Result<io::Document> document_of(Order& order, const ActContext& c) {
    BW_TRY(document, document_of(order));
    BW_CHECK(service::refuse_invented(*c.desk.books, document));
    return std::move(document);
}

Done keep_method(Order& order, const ActContext& c) {
    BW_TRY(document, document_of(order, c));
    BW_TRY(method, service::read_method(document));
    return service::keep_method(c.desk, method, c.intent);
}

Done keep_limits(Order& order, const ActContext& c) {
    BW_TRY(document, document_of(order, c));
    BW_TRY(limits, service::read_limits(document));
    return service::keep_limits(c.desk, limits, c.signing(), c.intent);
}

Done keep_portion(Order& order, const ActContext& c) {
    service::PortionEntry entry;
    entry.sample = order.text("sample");
    entry.salt = order.text("salt");
    entry.water = order.text("water");
    entry.salinity = order.text_or("salinity");
    entry.salinity_u = order.text_or("salinity_u");
    entry.temperature = order.text_or("temperature");
    entry.density = order.text_or("density");
    const std::string by =
        order.text_or("by", entry.salinity.empty() ? "dry mass" : "conductivity");
    BW_CHECK(order.end());
    BW_TRY(known, word_of<works::StrengthBy>(by, "by"));
    entry.strength_by = known;
    return service::keep_portion(c.desk, entry, c.intent);
}

Done set_portion_aside(Order& order, const ActContext& c) {
    const std::string portion = order.text("portion");
    BW_CHECK(order.end());
    return service::set_portion_aside(c.desk, portion, c.intent);
}

Done enter_results(Order& order, const ActContext& c) {
    const std::vector<service::ResultEntry> entries = result_entries(order);
    BW_CHECK(order.end());
    return service::enter_results(c.desk, entries, std::nullopt, c.intent);
}

Done import_results(Order& order, const ActContext& c) {
    BW_TRY(import, import_order(order));
    return service::import_results(c.desk, import, c.intent);
}

Done keep_map(Order& order, const ActContext& c) {
    const std::string name = order.text("name");
    const std::string map = order.text("map");
    const std::string head = order.text("head");
    BW_CHECK(order.end());
    return service::keep_map(c.desk, name, map, head, c.intent);
}

Done check_run(Order& order, const ActContext& c) {
    const std::string run = order.text("run");
    const std::vector<std::int64_t> lines = order.wholes("lines");
    BW_CHECK(order.end());
    return service::check_run(c.desk, run, lines, c.intent);
}

Done count_run(Order& order, const ActContext& c) {
    const std::string run = order.text("run");
    const std::string shown = order.text_or("shown");
    BW_CHECK(order.end());
    return service::count_run(c.desk, run, c.signing(shown), c.intent);
}

Done set_results_aside(Order& order, const ActContext& c) {
    const std::string run = order.text("run");
    const std::vector<std::int64_t> lines = order.wholes("lines");
    BW_CHECK(order.end());
    return service::set_results_aside(c.desk, run, lines, c.intent);
}

Done correct_check(Order& order, const ActContext& c) {
    service::CheckCorrection correction;
    correction.run = order.text("run");
    correction.check_sample = order.text("check_sample");
    correction.analyte = order.text("analyte");
    correction.method = order.text_or("method");
    correction.digits = order.text_or("digits");
    correction.unit = order.text_or("unit");
    correction.dilution = order.text_or("dilution");
    BW_CHECK(order.end());
    return service::correct_check(c.desk, correction, c.intent);
}

Done correct_result(Order& order, const ActContext& c) {
    service::ResultCorrection correction;
    correction.run = order.text("run");
    correction.line = order.whole("line");
    correction.digits = order.text_or("digits");
    correction.unit = order.text_or("unit");
    correction.dilution = order.text_or("dilution");
    correction.portion = order.text_or("portion");
    BW_CHECK(order.end());
    return service::correct_result(c.desk, correction, c.intent);
}

Done decide_release(Order& order, const ActContext& c) {
    service::ReleaseOrder release;
    release.batch = order.text("batch");
    const std::string decision = order.text("decision");
    release.shown = order.text("shown");
    BW_CHECK(order.end());
    BW_TRY(known, word_of<works::Decision>(decision, "decision"));
    release.decision = known;
    return service::decide_release(c.desk, release, c.signing(), c.intent);
}

Done issue_certificate(Order& order, const ActContext& c) {
    service::CertificateOrder certificate;
    certificate.batch = order.text("batch");
    certificate.customer = order.text_or("customer");
    certificate.use_by = order.text_or("use_by");
    certificate.condition = order.text_or("condition");
    certificate.received = order.text_or("received");
    certificate.with_lots = order.flag("with_lots");
    certificate.shown = order.text("shown");
    BW_CHECK(order.end());
    return service::issue_certificate(c.desk, certificate, c.key, c.intent);
}

Done withdraw_certificate(Order& order, const ActContext& c) {
    const std::string certificate = order.text("certificate");
    BW_CHECK(order.end());
    return service::withdraw_certificate(c.desk, certificate, c.intent);
}

Done sign_mixing_sheet(Order& order, const ActContext& c) {
    service::MixingOrder sheet;
    sheet.batch = order.text("batch");
    sheet.use_by = order.text("use_by");
    sheet.shown = order.text("shown");
    BW_CHECK(order.end());
    return service::sign_mixing_sheet(c.desk, sheet, c.signing(), c.intent);
}

Done set_person(Order& order, const ActContext& c) {
    works::Person person;
    person.id = order.text("id");
    person.name = order.text("name");
    const std::string password = order.text_or("password");
    const std::vector<std::string> duties = order.texts("duties");
    BW_CHECK(order.end());
    for (const std::string& duty : duties) {
        BW_TRY(known, word_of<works::Duty>(duty, "duties"));
        person.duties.push_back(known);
    }
    return service::set_person(c.desk, person, password, c.intent);
}

Done stop_person(Order& order, const ActContext& c) {
    const std::string person = order.text("person");
    BW_CHECK(order.end());
    return service::stop_person(c.desk, person, c.intent);
}

Done change_password(Order& order, const ActContext& c) {
    service::PasswordChange to;
    to.current = c.password;
    to.next = order.text("new_password");
    to.session = c.session;
    BW_CHECK(order.end());
    return service::change_password(c.desk, to, c.intent);
}

}  // namespace

std::span<const NamedAct> testing_acts() {
    static constexpr std::array kActs = {
        NamedAct{"method/keep", false, keep_method},
        NamedAct{"limits/keep", true, keep_limits},
        NamedAct{"sample/portion", false, keep_portion},
        NamedAct{"sample/set-portion-aside", false, set_portion_aside},
        NamedAct{"results/enter", false, enter_results},
        NamedAct{"results/import", false, import_results},
        NamedAct{"results/keep-map", false, keep_map},
        NamedAct{"results/check", false, check_run},
        NamedAct{"results/count", true, count_run},
        NamedAct{"results/set-aside", false, set_results_aside},
        NamedAct{"results/correct-check", false, correct_check},
        NamedAct{"results/correct", false, correct_result},
        NamedAct{"release/decide", true, decide_release},
        NamedAct{"certificate/issue", false, issue_certificate},
        NamedAct{"certificate/withdraw", false, withdraw_certificate},
        NamedAct{"mixing-sheet/sign", true, sign_mixing_sheet},
        NamedAct{"person/add", false, set_person},
        NamedAct{"person/stop", false, stop_person},
        NamedAct{"person/password", true, change_password},
    };
    return kActs;
}

}  // namespace bw::http
