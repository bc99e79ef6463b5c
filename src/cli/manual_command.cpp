// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// manual: what the commands say of themselves, as a manual page and as completions of shells.
#include "cli/manual_command.hpp"

#include <fmt/format.h>

#include "base/program.hpp"
#include "cli/answer.hpp"

namespace bw::cli {
namespace {

/// Text of a manual page: no dash breaks, no line begins a request.
std::string roff(std::string_view text) {
    std::string out;
    bool begins = true;
    for (const char c : text) {
        if (begins && (c == '.' || c == '\'')) {
            out += "\\&";
        }
        begins = c == '\n';
        out += c == '\\' ? "\\e" : c == '-' ? "\\-" : std::string(1, c);
    }
    return out;
}

std::string names_of(const Command::Offered& offered) {
    std::string out;
    for (const std::string& name : offered.names) {
        out += (out.empty() ? "\\fB" : ", \\fB") + roff(name) + "\\fR";
    }
    return out + (!offered.alone && offered.takes_words ? " \\fIVALUE\\fR" : "");
}

/// Commands that are carried out, with the words that call them.
template <class Visit>
void for_each_command(const Command& at, const std::string& words, Visit&& visit) {
    const std::vector<Command> below = at.subcommands();
    for (const Command& command : below) {
        for_each_command(command, words.empty() ? command.name() : words + " " + command.name(),
                         visit);
    }
    if (below.empty()) {
        visit(at, words);
    }
}

std::string section_of(const Command& command, const std::string& words) {
    std::string out = fmt::format(".SS {}\n{}.\n", roff(words), roff(command.description()));
    for (const Command::Offered& offered : command.offered()) {
        out += fmt::format(".TP\n{}\n{}{}\n", names_of(offered),
                           offered.what.empty() ? "\\&" : roff(offered.what),
                           offered.required ? " (needed)" : "");
    }
    if (!command.footer().empty()) {
        out += ".PP\n.nf\n" + roff(command.footer()) + "\n.fi\n";
    }
    return out;
}

constexpr std::string_view kAround =
    ".SH ENVIRONMENT\n.TP\n.B BRINEWRIGHT_BOOKS\nwhere the books are, unless \\-\\-books names "
    "them\n.TP\n.B BRINEWRIGHT_SESSION\nfile of a session, unless \\-\\-session names "
    "it\n.SH FILES\n.TP\n.I /etc/default/brinewright\nsettings of the service, which serves the "
    "books: BRINEWRIGHT_SERVE holds the options of \\fIserve\\fR, unless they are "
    "\\-\\-port 8417\n.TP\n.I /var/lib/brinewright/books\nthe books that the service serves\n";

std::string page_of(const Command& app) {
    std::string out = fmt::format(
        ".TH BRINEWRIGHT 1 \"\" \"brinewright {}\"\n.SH NAME\nbrinewright \\- from target water to "
        "released batch of synthetic sea salt\n.SH SYNOPSIS\n.B brinewright\n\\fINOUN\\fR "
        "\\fIVERB\\fR [\\fIWORD\\fR ...] [\\fB\\-\\-option\\fR \\fIVALUE\\fR ...]\n",
        base::kProgramVersion);
    out +=
        ".SH DESCRIPTION\nAnswers go to standard output, complaints to standard error: one "
        "sentence each, with the file and line or the option at fault.\n.SH COMMANDS\n";
    for_each_command(app, "", [&](const Command& command, const std::string& words) {
        out += section_of(command, words);
    });
    return out.append(kAround) +
           ".SH EXIT STATUS\n.TP\n0\ndone\n.TP\n1\ndone, and the answer is no\n.TP\n2\nbad "
           "input\n.TP\n3\na file could not be read or written\n.TP\n4\nrefused by a rule of the "
           "books\n";
}

/// "recipe solve" with all that may follow it.
struct Follows {
    std::string words, next;
};

std::vector<Follows> follows_of(const Command& at, const std::string& words) {
    std::string next;
    std::vector<Follows> out;
    for (const Command& command : at.subcommands()) {
        next += (next.empty() ? "" : " ") + command.name();
        const auto below =
            follows_of(command, words.empty() ? command.name() : words + " " + command.name());
        out.insert(out.end(), below.begin(), below.end());
    }
    for (const Command::Offered& offered : at.offered()) {
        if (!offered.alone) {
            next += (next.empty() ? "" : " ") + offered.names.back();
        }
    }
    out.insert(out.begin(), {words, next});
    return out;
}

std::string bash_of(const Command& app) {
    std::string out =
        "# Completions of brinewright for bash.\n_brinewright() {\n  local "
        "now=${COMP_WORDS[COMP_CWORD]} "
        "words=\"\" word next\n  for word in \"${COMP_WORDS[@]:1:COMP_CWORD-1}\"; do\n"
        "    case $word in -*) break ;; esac\n    [ \"${words// /}\" = \"$words\" ] || break\n"
        "    words=\"$words${words:+ }$word\"\n  done\n  next=\"\"\n  while :; do\n    case "
        "$words in\n";
    for (const Follows& f : follows_of(app, "")) {
        out += fmt::format("      '{}') next='{}' ;;\n", f.words, f.next);
    }
    return out +
           "    esac\n    [ -n \"$next\" ] || [ -z \"$words\" ] && break\n"
           "    case $words in *\\ *) words=${words% *} ;; *) break ;; esac\n  done\n"
           "  [[ $now == -* ]] || next=$(tr ' ' '\\n' <<<\"$next\" | grep -v '^-' | tr '\\n' ' ')\n"
           "  mapfile -t COMPREPLY < <(compgen -W \"$next\" -- \"$now\")\n}\n"
           "complete -o default -F _brinewright brinewright\n";
}

std::string zsh_of(const Command& app) {
    std::string out =
        "#compdef brinewright\n# Completions of brinewright for zsh.\n"
        "_brinewright() {\n  local key next\n  for key in \"${words[2]} ${words[3]}\" "
        "\"${words[2]}\" \"\"; do\n    next=\"\"\n    case $key in\n";
    for (const Follows& f : follows_of(app, "")) {
        out += fmt::format("      '{}') next='{}' ;;\n", f.words, f.next);
    }
    return out +
           "    esac\n    if [[ -n $next ]]; then\n      compadd -- ${=next}\n      _files\n"
           "      return\n    fi\n  done\n}\n_brinewright \"$@\"\n";
}

}  // namespace

Command add_manual(Command app, ManualArguments& a) {
    const Command command =
        app.add_subcommand("manual", "The manual page of all commands, or completions for a shell");
    command
        .add_option("--completions", a.completions,
                    "Instead: completions for this shell, bash or zsh")
        .check_one_of({"bash", "zsh"});
    command.footer(
        "Example:\n  brinewright manual | man -l -\n"
        "  brinewright manual --completions bash > "
        "~/.local/share/bash-completion/completions/brinewright");
    return command;
}

int manual(Command app, const ManualArguments& a, const Streams& streams) {
    put(a.completions == "bash"  ? bash_of(app)
        : a.completions == "zsh" ? zsh_of(app)
                                 : page_of(app),
        streams);
    return 0;
}

}  // namespace bw::cli
