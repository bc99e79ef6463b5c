// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <filesystem>
#include <fstream>
#include <memory>

#include <fmt/format.h>
#include <sys/stat.h>

#include "base/text.hpp"
#include "cli/books_options.hpp"
#include "cli/json_values.inl"
#include "io/outputs.hpp"
#include "service/people.hpp"
#include "store/signing_key.hpp"

namespace bw::cli {
namespace {

constexpr const char* kPeople = "People: add, stop, sign-in, list";
constexpr const char* kStore =
    "The books: init, check, copy, rehearse, restore, upgrade, export, make-key";

struct InitArguments {
    BooksOptions books;
    works::Site site;
    works::Person first{{}, {}, {works::Duty::Administrator}, works::PersonState::Active};
};

Result<std::vector<works::Duty>> duties_of(const std::vector<std::string>& words) {
    std::vector<works::Duty> out;
    for (const std::string& word : words) {
        const auto duty = works::from_word<works::Duty>(word);
        if (!duty) {
            return fail(ProblemCode::UnknownName,
                        fmt::format("{} is no duty: write {}", base::quoted(word),
                                    works::all_words<works::Duty>()),
                        {"", 0, "--duty"});
        }
        out.push_back(*duty);
    }
    return out;
}

/// Writes a file that its owner alone may read.
Result<void> write_secret(const std::string& path, const std::string& text) {
    const mode_t before = umask(S_IRWXG | S_IRWXO);
    std::ofstream out(path, std::ios::binary | std::ios::trunc);
    umask(before);
    out << text << "\n";
    out.close();
    if (!out || chmod(path.c_str(), S_IRUSR | S_IWUSR) != 0) {
        return fail(ProblemCode::Disk, fmt::format("{} cannot be written", base::quoted(path)),
                    {"", 0, "--session"});
    }
    return {};
}

void add_init(Command store, BookCommands& commands) {
    auto a = std::make_shared<InitArguments>();
    const Command command =
        add_command(store, "init", "Makes new, empty books with their first administrator",
                    "store init --books books --name \"Tarnlea Quay works\" --person admin "
                    "--person-name \"A. Invented\" --password-file password");
    add_reading_options(command, a->books);
    command.add_option("--name", a->site.name, "Name of the works, as papers print it").required();
    command.add_option("--laboratory", a->site.laboratory, "Name of its laboratory");
    command.add_option("--address", a->site.address, "Address of the works");
    command.add_flag("--invented", a->site.invented,
                     "Books to learn with: papers say so, and acts may be given an instant");
    command.add_option("--person", a->first.id, "First administrator, as typed at sign-in")
        .required();
    command.add_option("--person-name", a->first.name, "Their name, as printed").required();
    command.add_option("--password-file", a->books.password_file, "File with their password")
        .required();
    command.add_option("--at", a->books.at, "An instant of its own: with --invented only");
    commands.add(command, [a](const Streams& streams) -> Result<int> {
        BW_TRY(password, secret_from("--password-file", a->books.password_file));
        BW_TRY(where, books_place(a->books));
        BW_CHECK(works::check(a->first));
        BW_CHECK(store::Books::check_password(password));
        if (!a->site.invented && !a->books.at.empty()) {
            return fail(ProblemCode::BadInput,
                        "only invented books begin at an instant of their own: leave --at out, or "
                        "give --invented as well",
                        {"", 0, "--at"});
        }
        const std::string at = a->books.at.empty() ? instant_now() : a->books.at;
        BW_TRY(books, store::Books::create(where, at));
        BW_TRY(receipt, service::begin_books(books, a->site, a->first, password, at));
        report_receipt(a->books, receipt, fmt::format("The books of {} are open.", a->site.name),
                       streams);
        return 0;
    });
}

void add_check(Command store, BookCommands& commands) {
    auto a = std::make_shared<BooksOptions>();
    const Command command =
        add_command(store, "check", "How many records the books hold, and whether they are sound",
                    "store check --books books");
    add_reading_options(command, *a);
    commands.add(command, [a](const Streams& streams) -> Result<int> {
        BW_TRY(books, open_books(*a, store::Mode::ReadOnly));
        BW_TRY(counts, books.counts());
        BW_TRY(found, books.verify());
        if (a->json) {
            Json kinds = Json::object();
            for (const auto& [kind, count] : counts.kinds) {
                kinds[kind] = count;
            }
            put(json_text({{"version", 1},
                           {"sound", found.sound()},
                           {"faults", found.faults},
                           {"notices", found.notices},
                           {"trail_mark", found.mark},
                           {"entries", counts.entries},
                           {"records", counts.records},
                           {"attachments", counts.attachments},
                           {"kinds", kinds}}),
                streams);
        } else if (!a->quiet) {
            TextTable table({{{"kept"}}, {{"newest"}, Align::Right}});
            for (const auto& [kind, count] : counts.kinds) {
                table.add({kind, std::to_string(count)});
            }
            put(fmt::format("{}\n\n{}\n  {} trail entries, {} versions of records, {} files kept; "
                            "trail mark {}\n",
                            found.sound() ? "The books are sound."
                                          : fmt::format("{} faults.", found.fault_count),
                            table.text(), counts.entries, counts.records, counts.attachments,
                            found.mark),
                streams);
            put(bullets(found.faults) + dashes(found.notices), streams);
        }
        return found.sound() ? 0 : 1;
    });
}

struct FolderArguments {
    BooksOptions books;
    std::string folder;
};

void say_copy(const BooksOptions& options, const store::Copy& copy, const std::string& what,
              const Streams& streams) {
    if (options.json) {
        put(json_text({{"version", 1},
                       {"folder", copy.folder},
                       {"trail_mark", copy.mark},
                       {"entries", copy.counts.entries},
                       {"records", copy.counts.records},
                       {"sha256", copy.sha256}}),
            streams);
    } else if (!options.quiet) {
        put(fmt::format("{}\n  {} entries, {} versions of records; trail mark {}\n  SHA-256 {}\n",
                        what, copy.counts.entries, copy.counts.records, copy.mark, copy.sha256),
            streams);
    }
}

void say(const BooksOptions& options, const std::string& sentence, const Streams& streams) {
    if (options.json) {
        put(json_text({{"version", 1}, {"done", sentence}}), streams);
    } else if (!options.quiet) {
        put(sentence + "\n", streams);
    }
}

void add_copy(Command store, BookCommands& commands) {
    auto a = std::make_shared<FolderArguments>();
    const Command copy = add_command(store, "copy", "Copies the books while others use them",
                                     "store copy copies/2026-11-26 --books books");
    copy.add_option("FOLDER", a->folder, "New folder for the copy").required().check(named);
    add_reading_options(copy, a->books);
    commands.add(copy, [a](const Streams& streams) -> Result<int> {
        BW_TRY(books, open_books(a->books, store::Mode::ReadOnly));
        BW_TRY(made, books.copy(a->folder, instant_now()));
        say_copy(a->books, made, "Copied to " + a->folder + ".", streams);
        return 0;
    });
}

void add_rehearse(Command store, BookCommands& commands) {
    auto a = std::make_shared<FolderArguments>();
    const Command rehearse =
        add_command(store, "rehearse", "Restores a copy in a place of its own and checks it whole",
                    "store rehearse copies/2026-11-26");
    rehearse.add_option("FOLDER", a->folder, "Folder of the copy").required().check(named);
    add_output_flags(rehearse, a->books.json, a->books.quiet);
    commands.add(rehearse, [a](const Streams& streams) -> Result<int> {
        BW_TRY(rehearsed, store::Books::rehearse(a->folder));
        say_copy(a->books, rehearsed, "The copy restores, and is sound.", streams);
        return 0;
    });
}

void add_restore(Command store, BookCommands& commands) {
    auto a = std::make_shared<FolderArguments>();
    const Command restore =
        add_command(store, "restore", "Makes books out of a copy, where none are",
                    "store restore copies/2026-11-26 --books books");
    restore.add_option("FOLDER", a->folder, "Folder of the copy").required().check(named);
    add_reading_options(restore, a->books);
    commands.add(restore, [a](const Streams& streams) -> Result<int> {
        BW_TRY(where, books_place(a->books));
        BW_CHECK(store::Books::restore(a->folder, where));
        say(a->books, fmt::format("Restored to {}. Everyone signs in again.", where), streams);
        return 0;
    });
}

void add_export(Command store, BookCommands& commands) {
    auto a = std::make_shared<FolderArguments>();
    const Command exported = add_command(store, "export", "Everything but passwords in open files",
                                         "store export archive-2026 --books books");
    exported.add_option("FOLDER", a->folder, "New folder").required().check(named);
    add_reading_options(exported, a->books);
    commands.add(exported, [a](const Streams& streams) -> Result<int> {
        BW_TRY(books, open_books(a->books, store::Mode::ReadOnly));
        BW_CHECK(books.export_to(a->folder, instant_now()));
        say(a->books, fmt::format("Exported to {}.", a->folder), streams);
        return 0;
    });
}

void add_make_key(Command store, BookCommands& commands) {
    auto a = std::make_shared<FolderArguments>();
    const Command command = add_command(
        store, "make-key", "Makes the works' key that signs papers, kept outside the books",
        "store make-key works.key");
    command.add_option("FILE", a->folder, "New file; its owner alone may read it")
        .required()
        .check(named);
    add_output_flags(command, a->books.json, a->books.quiet);
    commands.add(command, [a](const Streams& streams) -> Result<int> {
        BW_TRY(key, store::SigningKey::make(a->folder));
        io::Outputs outputs;
        BW_CHECK(outputs.add_text(a->folder + ".pub", key.public_key() + "\n"));
        BW_CHECK(outputs.publish());
        if (a->books.json) {
            put(json_text({{"version", 1}, {"public_key", key.public_key()}}), streams);
        } else if (!a->books.quiet) {
            put(fmt::format("The key is in {}; give {}.pub to whoever checks papers.\n", a->folder,
                            a->folder),
                streams);
        }
        return 0;
    });
}

void add_upgrade(Command store, BookCommands& commands) {
    auto a = std::make_shared<BooksOptions>();
    auto copies = std::make_shared<std::string>();
    const Command command =
        add_command(store, "upgrade", "Brings older books to this program's version",
                    "store upgrade --books books");
    add_reading_options(command, *a);
    command.add_option("--copy", *copies, "Folder for the copy made first (PostgreSQL needs it)");
    commands.add(command, [a, copies](const Streams& streams) -> Result<int> {
        BW_TRY(where, books_place(*a));
        BW_TRY(copy, store::Books::upgrade(where, instant_now(), *copies));
        say(*a,
            copy.empty() ? "The books are of this version already."
                         : "Brought to this version; a copy of before lies in " + copy + ".",
            streams);
        return 0;
    });
}

struct PersonArguments {
    BooksOptions books;
    works::Person person;
    std::vector<std::string> duties;
    std::string password_file;
};

void add_person(Command noun, BookCommands& commands) {
    auto a = std::make_shared<PersonArguments>();
    const Command add = add_command(noun, "add", "Adds a person, or changes name and duties of one",
                                    "person add mira --name \"M. Invented\" --duty analyst "
                                    "--new-password-file mira.password --session admin.session");
    add.add_option("ID", a->person.id, "As typed at sign-in").required();
    add.add_option("--name", a->person.name, "Name, as printed").required();
    add.add_option("--duty", a->duties, "One or several of: " + works::all_words<works::Duty>())
        .required();
    add.add_option("--new-password-file", a->password_file, "File with their password");
    add_writing_options(add, a->books);
    commands.add(add, [a](const Streams& streams) -> Result<int> {
        BW_TRY(duties, duties_of(a->duties));
        a->person.duties = duties;
        std::string password;
        if (!a->password_file.empty()) {
            BW_TRY(read, secret_from("--new-password-file", a->password_file));
            password = read;
        }
        BW_TRY(open, open_desk(a->books));
        auto done = service::set_person(open.desk, a->person, password, open.intent);
        if (!done && done.error().place.field == "password") {
            done.error().place.field = "--new-password-file";
        }
        BW_TRY(receipt, std::move(done));
        report_receipt(a->books, receipt,
                       fmt::format("{} is in the books{}.", a->person.name,
                                   receipt.answer.empty() ? "" : ", " + receipt.answer),
                       streams);
        return 0;
    });
}

void add_stop(Command noun, BookCommands& commands) {
    auto s = std::make_shared<PersonArguments>();
    const Command stop = add_command(noun, "stop", "Stops a person: what they did stays theirs",
                                     "person stop mira --why \"left\" --session admin.session");
    stop.add_option("ID", s->person.id, "Who").required();
    add_writing_options(stop, s->books);
    commands.add(stop, [s](const Streams& streams) -> Result<int> {
        BW_TRY(open, open_desk(s->books));
        BW_TRY(receipt, service::stop_person(open.desk, s->person.id, open.intent));
        report_receipt(s->books, receipt, fmt::format("{} is stopped.", s->person.id), streams);
        return 0;
    });
}

void add_password(Command noun, BookCommands& commands) {
    auto p = std::make_shared<PersonArguments>();
    const Command password = add_command(
        noun, "password", "Changes one's own password; the other sessions of that person end",
        "person password --session mira.session --password-file mira.password "
        "--new-password-file mira.next");
    password
        .add_option("--new-password-file", p->password_file,
                    "File with the new password, 15 characters or more")
        .required();
    add_writing_options(password, p->books);
    commands.add(password, [p](const Streams& streams) -> Result<int> {
        BW_TRY(current, signing_from(p->books));
        BW_TRY(next, secret_from("--new-password-file", p->password_file));
        BW_TRY(open, open_desk(p->books));
        auto done = service::change_password(open.desk, {current.password, next, open.session},
                                             open.intent);
        if (!done && done.error().place.field == "new_password") {
            done.error().place.field = "--new-password-file";
        }
        BW_TRY(receipt, std::move(done));
        report_receipt(p->books, receipt,
                       fmt::format("The password of {} is changed; other sessions are ended.",
                                   open.desk.person.id),
                       streams);
        return 0;
    });
}

void add_sign_in(Command noun, BookCommands& commands) {
    auto i = std::make_shared<PersonArguments>();
    const Command sign_in =
        add_command(noun, "sign-in", "Opens a session and writes its token to a file",
                    "person sign-in mira --password-file mira.password --to mira.session");
    sign_in.add_option("ID", i->books.person, "Who").required();
    sign_in.add_option("--to", i->password_file, "File for the token; its owner alone may read it")
        .required();
    sign_in.add_option("--password-file", i->books.password_file, "File with the password")
        .required();
    sign_in.add_option("--device", i->books.device, "Where: \"tablet 2\"");
    sign_in.add_option("--at", i->books.at, "An instant of its own: invented books only");
    add_reading_options(sign_in, i->books);
    commands.add(sign_in, [i](const Streams& streams) -> Result<int> {
        BW_TRY(open, open_desk(i->books));
        BW_TRY(token,
               open.books->open_session(open.desk.person.id, open.desk.device, open.desk.at));
        BW_CHECK(write_secret(i->password_file, token));
        say(i->books,
            fmt::format("{} is signed in; the session is in {}.", open.desk.person.name,
                        i->password_file),
            streams);
        return 0;
    });
}

void add_list(Command noun, BookCommands& commands) {
    auto l = std::make_shared<BooksOptions>();
    const Command list = add_command(noun, "list", "Everybody in the books with their duties",
                                     "person list --books books");
    add_reading_options(list, *l);
    commands.add(list, [l](const Streams& streams) -> Result<int> {
        BW_TRY(books, open_books(*l, store::Mode::ReadOnly));
        BW_TRY(people, service::kept_list<works::Person>(books, {}));
        Json rows = Json::array();
        TextTable table({{{"id"}}, {{"name"}}, {{"duties"}}, {{"state"}}});
        for (const auto& p : people) {
            std::vector<std::string> duties;
            for (const works::Duty duty : p.is.duties) {
                duties.emplace_back(works::name(duty));
            }
            rows.push_back({{"id", p.is.id},
                            {"name", p.is.name},
                            {"duties", duties},
                            {"state", works::name(p.is.state)}});
            table.add({p.is.id, p.is.name, base::join_words(duties),
                       std::string(works::name(p.is.state))});
        }
        if (l->json || !l->quiet) {
            put(l->json ? json_text({{"version", 1}, {"people", rows}}) : table.text(), streams);
        }
        return 0;
    });
}

}  // namespace

void add_store_commands(Command app, BookCommands& commands) {
    const Command store = noun_of(app, "store", kStore);
    add_init(store, commands);
    add_check(store, commands);
    add_copy(store, commands);
    add_rehearse(store, commands);
    add_restore(store, commands);
    add_export(store, commands);
    add_upgrade(store, commands);
    add_make_key(store, commands);
    const Command person = noun_of(app, "person", kPeople);
    add_person(person, commands);
    add_stop(person, commands);
    add_password(person, commands);
    add_sign_in(person, commands);
    add_list(person, commands);
}

}  // namespace bw::cli
