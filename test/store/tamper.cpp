// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "store/tamper.hpp"

#include <stdexcept>

#include <fmt/format.h>

#include "store/digest.hpp"
#include "store/ground.hpp"
#include "store/trail.hpp"

namespace bw::store::tamper {
namespace {

using ground::must;

/// One row of a protected table, and how to name it.
struct Target {
    std::string table, where;
};

void flip_text(Connection& c, const Target& target, const std::string& column, double place) {
    const Rows rows = must(
        c.query(fmt::format("SELECT {} FROM {} WHERE {}", column, target.table, target.where)));
    std::string value = rows.at(0).text(0);
    const auto at = static_cast<std::size_t>(place * static_cast<double>(value.size() - 1));
    value[at] = value[at] == 'e' ? 'a' : 'e';
    must(c.run(fmt::format("UPDATE {} SET {} = $1 WHERE {}", target.table, column, target.where),
               {value}));
}

void flip_bytes(Connection& c, double place) {
    const Rows rows = must(c.query("SELECT sha256, bytes FROM attachment ORDER BY sha256 LIMIT 1"));
    std::string bytes = rows.at(0).bytes(1);
    const auto at = static_cast<std::size_t>(place * static_cast<double>(bytes.size() - 1));
    bytes[at] = static_cast<char>(bytes[at] ^ 1);
    must(c.run("UPDATE attachment SET bytes = $1 WHERE sha256 = $2",
               {Blob{bytes}, rows[0].text(0)}));
}

std::function<void(Connection&)> sql(const std::string& text) {
    return [text](Connection& c) { must(c.script(text)); };
}

/// Writes the entries after `from` anew, so that the chain holds in itself.
void rechain(Connection& c, std::int64_t from) {
    std::string hash = must(c.query("SELECT hash FROM entry WHERE seq = $1", {from})).at(0).text(0);
    for (const Row& row :
         must(c.query("SELECT seq, body FROM entry WHERE seq > $1 ORDER BY seq", {from}))) {
        hash = chained(hash, row.text(1));
        must(c.run("UPDATE entry SET hash = $1 WHERE seq = $2", {hash, row.integer(0)}));
    }
}

/// A careful forger: body, digests in the entry and the chain after it all fit.
void rewrite_history(Connection& c) {
    Rows rows = must(c.query("SELECT seq, body FROM entry WHERE seq = 3"));
    std::string body = rows.at(0).text(1);
    const std::size_t at = body.find("\"person\":\"ines\"");
    body.replace(at, 15, "\"person\":\"otto\"");
    must(c.run("UPDATE entry SET body = $1, person = 'otto' WHERE seq = 3", {body}));
    rechain(c, 2);
}

void cut_tail(Connection& c, int entries) {
    const std::string last = fmt::format("(SELECT max(seq) - {} FROM entry)", entries);
    for (const std::string table : {"record", "attachment", "request"}) {
        must(c.script(fmt::format("DELETE FROM {} WHERE entry > {}", table, last)));
    }
    must(c.script(fmt::format("DELETE FROM entry WHERE seq > {}", last)));
    must(
        c.script("DELETE FROM current; DELETE FROM link; DELETE FROM search_key; "
                 "DELETE FROM measurement;"));
}

void columns(std::vector<Tampering>& list) {
    struct Column {
        Target target;
        std::string column;
        std::vector<double> places;
    };
    const Target first{"entry", "seq = 1"}, middle{"entry", "seq = 5"},
        last{"entry", "seq = (SELECT max(seq) FROM entry)"};
    const std::vector<double> ends{0.02, 0.98},
        many{0, 0.03, 0.1, 0.25, 0.4, 0.5, 0.6, 0.75, 0.9, 1};
    const Target record{"record", "kind = 'batch' AND id = 'B25-0002-K' AND version = 2"},
        old{"record", "kind = 'batch' AND id = 'B25-0001-K' AND version = 1"},
        run{"record", "kind = 'run' AND id = 'R-B25-0002-K'"},
        request{"request", "request = 'fill-B25-0002-K'"},
        attachment{"attachment", "sha256 = (SELECT min(sha256) FROM attachment)"},
        books{"books", "one = 1"};
    for (const Column& c :
         {Column{first, "body", ends},         Column{middle, "body", many},
          Column{last, "body", many},          Column{first, "hash", ends},
          Column{middle, "hash", ends},        Column{last, "hash", ends},
          Column{middle, "person", {0}},       Column{middle, "subject_kind", {0}},
          Column{middle, "subject_id", {0}},   Column{record, "body", many},
          Column{old, "body", ends},           Column{record, "state", {0}},
          Column{record, "title", {0, 1}},     Column{run, "facts", many},
          Column{record, "kind", {0}},         Column{record, "id", {0, 1}},
          Column{request, "answer", {0, 1}},   Column{request, "request", {0, 1}},
          Column{attachment, "name", {0, 1}},  Column{attachment, "media_type", {0}},
          Column{attachment, "sha256", {0.5}}, Column{books, "identity", ends},
          Column{books, "made", {0.5}},        Column{books, "genesis", ends}}) {
        for (const double place : c.places) {
            list.push_back(
                {fmt::format("flip {}.{} ({}) at {}", c.target.table, c.column, c.target.where,
                             place),
                 [c, place](Connection& db) { flip_text(db, c.target, c.column, place); }});
        }
    }
    for (const double place : {0.0, 0.3, 0.6, 1.0}) {
        list.push_back({fmt::format("flip attachment.bytes at {}", place),
                        [place](Connection& db) { flip_bytes(db, place); }});
    }
}

void rows(std::vector<Tampering>& list) {
    const auto add = [&](const std::string& name, const std::string& text) {
        list.push_back({name, sql(text)});
    };
    add("drop the first entry", "DELETE FROM entry WHERE seq = 1");
    add("drop an entry", "DELETE FROM entry WHERE seq = 4");
    add("drop three entries", "DELETE FROM entry WHERE seq BETWEEN 4 AND 6");
    add("drop an entry with all it wrote",
        "DELETE FROM record WHERE entry = 4; DELETE FROM attachment WHERE entry = 4; "
        "DELETE FROM request WHERE entry = 4; DELETE FROM entry WHERE seq = 4");
    add("drop the last entry only", "DELETE FROM entry WHERE seq = (SELECT max(seq) FROM entry)");
    add("drop a record's old version",
        "DELETE FROM record WHERE kind = 'batch' AND id = 'B25-0001-K' AND version = 1");
    add("drop a record's newest version",
        "DELETE FROM record WHERE kind = 'batch' AND id = 'B25-0001-K' AND version = 2");
    add("drop a record", "DELETE FROM record WHERE kind = 'lot'");
    add("drop an attachment",
        "DELETE FROM attachment WHERE sha256 = (SELECT min(sha256) FROM attachment)");
    add("drop a request", "DELETE FROM request WHERE request = 'fill-lot'");
    add("swap two entries",
        "UPDATE entry SET seq = 1000000 WHERE seq = 3; UPDATE entry SET seq = 3 "
        "WHERE seq = 4; UPDATE entry SET seq = 4 WHERE seq = 1000000");
    add("move an entry away", "UPDATE entry SET seq = 1000000 WHERE seq = 5");
    add("swap the bodies of two versions",
        "UPDATE record SET version = 9 WHERE id = 'B25-0001-K' AND version = 1; "
        "UPDATE record SET version = 1 WHERE id = 'B25-0001-K' AND version = 2; "
        "UPDATE record SET version = 2 WHERE id = 'B25-0001-K' AND version = 9");
    add("swap two records",
        "UPDATE record SET id = 'x' WHERE id = 'B25-0001-K'; UPDATE record SET id = 'B25-0001-K' "
        "WHERE id = 'B25-0002-K'; UPDATE record SET id = 'B25-0002-K' WHERE id = 'x'");
    add("give a record to another entry", "UPDATE record SET entry = 2 WHERE entry = 3");
    add("give a request to another entry", "UPDATE request SET entry = 2 WHERE entry = 3");
    add("give an attachment to another entry",
        "UPDATE attachment SET entry = 1 WHERE sha256 = (SELECT min(sha256) FROM attachment)");
    add("say another size",
        "UPDATE attachment SET size = size + 1 WHERE sha256 = (SELECT min(sha256) FROM "
        "attachment)");
    add("add a version",
        "INSERT INTO record (kind, id, version, entry, state, title, body, facts) "
        "SELECT kind, id, 3, 8, state, title, '{}', facts FROM record WHERE id = "
        "'B25-0002-K' AND version = 2");
    add("add a record",
        "INSERT INTO record (kind, id, version, entry, state, title, body, facts) "
        "SELECT kind, 'forged', 1, 8, state, title, body, facts FROM record WHERE "
        "id = 'B25-0002-K' AND version = 2");
    add("add an attachment",
        "INSERT INTO attachment (sha256, entry, name, media_type, size, bytes) SELECT "
        "'5891b5b522d5df086d0ff0b110fbd9d21bb4fc7163af34d08286a2e846f6be03', 2, name, media_type, "
        "size, bytes FROM attachment WHERE entry = 2");
    add("add a request", "INSERT INTO request (request, entry, answer) VALUES ('forged', 2, '')");
    add("add an entry",
        "INSERT INTO entry (seq, person, subject_kind, subject_id, body, hash) SELECT "
        "seq + 1, person, subject_kind, subject_id, body, hash FROM entry WHERE "
        "seq = (SELECT max(seq) FROM entry)");
    add("no first page", "DELETE FROM books");
}

void projections(std::vector<Tampering>& list) {
    const auto add = [&](const std::string& name, const std::string& text) {
        list.push_back({name, sql(text)});
    };
    add("list another state", "UPDATE current SET state = 'released' WHERE id = 'B25-0002-K'");
    add("list another title", "UPDATE current SET title = 'x' WHERE id = 'B25-0002-K'");
    add("list another version", "UPDATE current SET version = 1 WHERE id = 'B25-0002-K'");
    add("unlist a record", "DELETE FROM current WHERE id = 'B25-0002-K'");
    add("list a record that is not there",
        "INSERT INTO current (kind, id, version, state, title, entry) VALUES ('zz', 'z', 1, '', "
        "'', 1)");
    add("another value", "UPDATE measurement SET value = 1 WHERE ordinal = 3");
    add("another value by a hair",
        "UPDATE measurement SET value = value + 1e-12 WHERE ordinal = 3");
    add("other digits", "UPDATE measurement SET digits = '400' WHERE ordinal = 3");
    add("a measurement set aside", "UPDATE measurement SET state = 'set aside' WHERE ordinal = 3");
    add("a measurement gone", "DELETE FROM measurement WHERE ordinal = 3");
    add("a link turned", "UPDATE link SET to_id = 'L9' WHERE from_id = 'B25-0002-K'");
    add("a link gone", "DELETE FROM link WHERE from_id = 'B25-0002-K'");
    add("a key added",
        "INSERT INTO search_key (key, kind, id) VALUES ('x', 'batch', 'B25-0002-K')");
    add("a key of nothing", "INSERT INTO search_key (key, kind, id) VALUES ('x', 'zz', 'z')");
    add("a measurement of nothing", "UPDATE measurement SET kind = 'zz' WHERE ordinal = 3");
    add("another step of the tables", "UPDATE migration SET checksum = 'x' WHERE number = 1");
    add("a step of the tables gone", "DELETE FROM migration WHERE number = 2");
}

void tails(std::vector<Tampering>& list) {
    for (const int entries : {1, 2, 5}) {
        list.push_back({fmt::format("cut {} entries off with all they wrote", entries),
                        [entries](Connection& c) { cut_tail(c, entries); }, true});
    }
    list.push_back({"write history anew from entry 3 on", rewrite_history, true});
}

void protections(std::vector<Tampering>& list, Dialect dialect) {
    const auto add = [&](const std::string& name, const std::string& text) {
        list.push_back({name, sql(text), false, true});
    };
    if (dialect == Dialect::Sqlite) {
        add("a trigger gone", "DROP TRIGGER record_stays");
        add("a trigger that does nothing",
            "DROP TRIGGER entry_lasts; CREATE TRIGGER entry_lasts "
            "BEFORE DELETE ON entry BEGIN SELECT 1; END");
        add("a table more", "CREATE TABLE other (a TEXT) STRICT");
        return;
    }
    add("a trigger gone", "DROP TRIGGER record_stays ON record");
    add("a trigger switched off", "ALTER TABLE entry DISABLE TRIGGER entry_stays");
    add("triggers that do nothing",
        "CREATE OR REPLACE FUNCTION refuse_change() RETURNS trigger "
        "LANGUAGE plpgsql AS $$ BEGIN RETURN NEW; END $$");
}

std::vector<std::string> triggers(Connection& c) {
    std::vector<std::string> made;
    for (const Row& row : must(c.query("SELECT sql FROM sqlite_schema WHERE type = 'trigger'"))) {
        made.push_back(row.text(0));
    }
    return made;
}

}  // namespace

void past_the_triggers(Connection& c, const std::function<void(Connection&)>& act) {
    if (c.dialect() == Dialect::Postgres) {
        must(c.script("SET session_replication_role = replica"));
        act(c);
        return;
    }
    const std::vector<std::string> made = triggers(c);
    for (const Row& row : must(c.query("SELECT name FROM sqlite_schema WHERE type = 'trigger'"))) {
        must(c.script("DROP TRIGGER " + row.text(0)));
    }
    must(c.script("PRAGMA foreign_keys = OFF"));
    act(c);
    for (const std::string& text : made) {
        must(c.script(text));
    }
}

std::vector<Tampering> all(Dialect dialect) {
    std::vector<Tampering> list;
    columns(list);
    rows(list);
    projections(list);
    tails(list);
    protections(list, dialect);
    return list;
}

}  // namespace bw::store::tamper
