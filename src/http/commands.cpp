// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "http/commands.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "base/text.hpp"
#include "http/answers.hpp"
#include "http/documents.hpp"
#include "http/order.hpp"
#include "http/records.hpp"
#include "http/workroom.hpp"

namespace bw::http {
namespace {

constexpr int kYes = 0, kNo = 1, kWrongUse = 2, kDiskFailed = 3, kRuleRefused = 4;

std::vector<std::string> words_of(std::string_view text, char between) {
    std::vector<std::string> out;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find(between), text.size());
        if (end > 0) {
            out.emplace_back(text.substr(0, end));
        }
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return out;
}

bool is_positional(std::string_view name) { return base::is_upper(name.front()); }

/// "500 L of 35.2", never "500 L of FILE": values do not name files of the server.
bool names_no_file(std::string_view value) {
    const std::size_t of = value.find(" of ");
    if (of == std::string_view::npos) {
        return true;
    }
    std::string_view rest = value.substr(of + 4);
    if (rest.ends_with(" g/kg")) {
        rest.remove_suffix(5);
    }
    return std::all_of(rest.begin(), rest.end(),
                       [](char c) { return base::is_digit(c) || c == '.' || c == ' '; });
}

/// What a page may give to a command. "with_lots:with-lots?" is the parameter, the option that it
/// is where they differ, and that it is a flag.
struct Givable {
    std::string parameter, option;
    bool is_flag = false;
};

std::vector<Givable> givables(std::string_view text) {
    std::vector<Givable> out;
    for (std::string& entry : words_of(text, ' ')) {
        const bool is_flag = entry.back() == '?';
        if (is_flag) {
            entry.pop_back();
        }
        const std::size_t colon = entry.find(':');
        out.push_back({entry.substr(0, colon),
                       colon == std::string::npos ? entry : entry.substr(colon + 1), is_flag});
    }
    return out;
}

/// The words of a command, built up: options first, then what stands by its place.
struct Words {
    std::vector<std::string> options, places;

    void add(const std::string& name, const std::string& value) {
        if (is_positional(name)) {
            places.push_back(value);
        } else {
            options.push_back(fmt::format("--{}={}", name, value));
        }
    }
    void add(const Givable& one, const std::string& value) {
        if (!one.is_flag) {
            add(one.option, value);
        } else if (value == "true") {
            options.push_back("--" + one.option);
        }
    }
    [[nodiscard]] std::vector<std::string> of(std::string_view command, char between) const {
        std::vector<std::string> out = words_of(command, between);
        out.insert(out.end(), options.begin(), options.end());
        if (!places.empty()) {
            out.emplace_back("--");
            out.insert(out.end(), places.begin(), places.end());
        }
        return out;
    }
};

bool is_of_option(char c) { return base::is_lower(c) || base::is_digit(c) || c == '-'; }

/// A sentence of a command as a page says it: "--purified-at" is its field "purified at". Where it
/// begins with an option, that is the place of the problem.
std::string spoken(std::string text, Place& place) {
    constexpr std::string_view kDashes = "--";
    std::size_t at = 0;
    while ((at = text.find(kDashes, at)) != std::string::npos) {
        std::size_t end = at + kDashes.size();
        const bool begins = at == 0 || !is_of_option(text[at - 1]);
        while (end < text.size() && is_of_option(text[end])) {
            ++end;
        }
        std::string name = text.substr(at + kDashes.size(), end - at - kDashes.size());
        if (!begins || name.empty() || !base::is_lower(name.front())) {
            at = end;
            continue;
        }
        if (at == 0 && text.compare(end, 2, ": ") == 0) {
            place.field = name;
            std::replace(name.begin(), name.end(), '-', ' ');
            text.replace(0, end, name);
            continue;
        }
        std::replace(name.begin(), name.end(), '-', ' ');
        const std::string field = base::quoted(name);
        text.replace(at, end - at, field);
        at += field.size();
    }
    return text;
}

/// "target.toml:12: what is wrong" in its parts.
Problem problem_of(const CommandAnswer& answer, const Workroom* room) {
    constexpr std::string_view kLead = "brinewright: ";
    std::string text = room == nullptr ? answer.err : room->told(answer.err);
    if (text.starts_with(kLead)) {
        text.erase(0, kLead.size());
    }
    text = base::one_line(std::string(base::trim(text)));
    Problem out{answer.code == kRuleRefused  ? ProblemCode::Refused
                : answer.code == kDiskFailed ? ProblemCode::Disk
                : answer.code == kWrongUse   ? ProblemCode::BadInput
                                             : ProblemCode::Internal,
                text,
                {}};
    out.message = spoken(text, out.place);
    const std::size_t colon = text.find(':');
    const std::size_t second = colon == std::string::npos ? colon : text.find(": ", colon + 1);
    if (second != std::string::npos && second > colon + 1 &&
        std::all_of(text.begin() + static_cast<std::ptrdiff_t>(colon) + 1,
                    text.begin() + static_cast<std::ptrdiff_t>(second), base::is_digit) &&
        second - colon < 9) {
        out.place.file = text.substr(0, colon);
        out.place.line = std::stoi(text.substr(colon + 1, second - colon - 1));
    }
    return out;
}

Result<Response> answered(const CommandAnswer& answer, const Workroom* room) {
    if (answer.code != kYes && answer.code != kNo) {
        return tl::make_unexpected(problem_of(answer, room));
    }
    if (answer.out.empty()) {
        return tl::make_unexpected(problem_of({kWrongUse, answer.out, answer.err}, room));
    }
    std::string said;
    for (const std::string& line :
         words_of(room == nullptr ? answer.err : room->told(answer.err), '\n')) {
        said += (said.empty() ? "" : ",") + json_string(line);
    }
    return json_answer(fmt::format(R"({{"version":1,"yes":{},"result":{},"said":[{}]}})",
                                   answer.code == kYes,
                                   room == nullptr ? answer.out : room->told(answer.out), said));
}

/// Puts the files of a computation into a room of their own.
Result<void> put_files(const AskedCommand& asked, Order& body, const store::Books& books,
                       Workroom& room, Words& words) {
    if (!body.has("files")) {
        return {};
    }
    Order files = body.part("files");
    for (const std::string& name : words_of(asked.files, ' ')) {
        for (Order& one : files.list(name)) {
            std::string file = one.text_or("name", "file");
            std::string text = one.text_or("text");
            if (const std::string id = one.text_or("document"); !id.empty()) {
                BW_TRY(document, given_document(books, id));
                file = document.title;
                text = document.text;
            }
            BW_TRY(path, room.put(file, text));
            words.add(name, one.text_or("lead") + path);
        }
    }
    return {};
}

Result<void> put_values(const AskedCommand& asked, Order& body, Words& words) {
    if (!body.has("given")) {
        return {};
    }
    Order given = body.part("given");
    for (const Givable& one : givables(asked.given)) {
        const std::string field = "given." + one.option;
        for (const std::string& value : given.values(one.option)) {
            if (one.is_flag) {
                BW_CHECK(flag_word(value, field));
            }
            if (!names_no_file(value)) {
                return fail(
                    ProblemCode::BadInput,
                    fmt::format("{} names a file: give its text under files", base::quoted(value)),
                    {"", 0, field});
            }
            words.add(one, value);
        }
    }
    return {};
}

/// The parameters of an address as options: an empty one is not given, unless it is a flag.
Result<void> put_parameters(std::string_view givable, const Request& request, Words& words) {
    for (const Givable& one : givables(givable)) {
        const auto value = request.parameter(one.parameter);
        if (value && one.is_flag) {
            BW_CHECK(flag_word(*value, one.parameter));
        }
        if (value && !value->empty()) {
            words.add(one, std::string(*value));
        } else if (is_positional(one.option)) {
            BW_CHECK(needed(request, one.parameter));
        }
    }
    return {};
}

}  // namespace

CommandAnswer Commands::ask(const std::vector<std::string>& words, base::Watch* watch) {
    room_.acquire();
    CommandAnswer out;
    try {
        out = watch != nullptr && watch->called_off
                  ? CommandAnswer{kRuleRefused, "", "called off while it waited for its turn"}
                  : port_(words, watch);
    } catch (...) {
        room_.release();
        throw;
    }
    room_.release();
    return out;
}

Result<Response> Commands::compute(const AskedCommand& asked, const Request& request,
                                   const store::Books& books, base::Watch& watch) {
    BW_TRY(body, Order::of(request.body));
    BW_TRY(room, Workroom::open());
    Words words;
    BW_CHECK(put_files(asked, body, books, room, words));
    BW_CHECK(put_values(asked, body, words));
    BW_CHECK(body.end());
    words.options.emplace_back("--json");
    return answered(ask(words.of(asked.name, '/'), &watch), &room);
}

Result<Response> Commands::view(const AskedCommand& asked, const Request& request) {
    Words words;
    BW_CHECK(put_parameters(asked.given, request, words));
    words.options.push_back("--books=" + place_);
    words.options.emplace_back("--json");
    return answered(ask(words.of(asked.name, '/')), nullptr);
}

Result<Response> Commands::paper(const AskedPaper& asked, const Request& request) {
    BW_TRY(id, needed(request, asked.parameter));
    BW_TRY(room, Workroom::open());
    Words words;
    BW_CHECK(put_parameters(asked.given, request, words));
    const std::string path = room.path_of("paper.pdf");
    for (const std::string& option :
         {"--books=" + place_, "--out=" + path, std::string("--quiet")}) {
        words.options.push_back(option);
    }
    words.places = {id};
    const CommandAnswer answer = ask(words.of(asked.command, ' '));
    if (answer.code != kYes) {
        return tl::make_unexpected(problem_of(answer, &room));
    }
    BW_TRY(bytes, room.read(path));
    Response out{kOk, "application/pdf", std::move(bytes), {}};
    std::string name = id;
    std::replace(name.begin(), name.end(), '/', '-');
    const Response named = download("", "", fmt::format("{}-{}.pdf", asked.name, name));
    std::string disposition = named.headers.front().second;
    disposition.replace(0, std::string_view("attachment").size(), "inline");
    out.headers.emplace_back("Content-Disposition", disposition);
    return out;
}

std::span<const AskedCommand> computations() {
    static constexpr std::array kAsked = {
        AskedCommand{"water/show", "WATER materials", "temperature"},
        AskedCommand{"water/compare", "A B materials", "temperature"},
        AskedCommand{"recipe/solve", "TARGET materials lots standing",
                     "choose split-lots? free-shares? draws seed brief?"},
        AskedCommand{"recipe/compare", "A B", ""},
        AskedCommand{"recipe/trade", "TARGET materials",
                     "calcium-from calcium-to magnesium points"},
        AskedCommand{"path/run", "RECIPE materials",
                     "temperature room drift heat-to heat-from heat-rate add predissolved air "
                     "gas-exchange stone film depth stirring seed particles hours keep volume"},
        AskedCommand{"path/compare", "RECIPE materials",
                     "temperature room drift air gas-exchange stone film depth stirring seed hours "
                     "keep volume step pour tank"},
        AskedCommand{"blend/dry", "RECIPE materials", "temperature humidity bag days wvtr area"},
        AskedCommand{"blend/mixing", "RECIPE materials",
                     "batch sample repeatability results wanted confidence premix-for seen"},
        AskedCommand{"blend/scatter", "RECIPE materials", "portion container batch wanted"},
        AskedCommand{"blend/budget", "RECIPE materials",
                     "batch container portion sample reading premix band analysis mixed? layered "
                     "draws seed"},
        AskedCommand{"reading/convert", "water materials", "READING at salinity salt"},
        AskedCommand{"vat/plan", "water materials",
                     "salinity at volume mass purified anhydrous purified-at purified-solids "
                     "weighing salt"},
        AskedCommand{"vat/correct", "water materials",
                     "volume mass holds wanted evaporated at anhydrous concentrate purified-at "
                     "purified-solids salt"},
        AskedCommand{"vat/mix", "WATER materials water", "WATER at salt"},
        AskedCommand{"calibration-fluid/plan", "water materials",
                     "INSTRUMENT salinity at amount fluid assay moisture weighing salt"},
        AskedCommand{"curve/read", "FILE recipe materials", ""},
        AskedCommand{"sample/homogeneity", "FILE", "goal by-chance"},
        AskedCommand{"method/budget", "FILE", "seed"},
        AskedCommand{"results/preview", "FILE map", "rows"},
    };
    return kAsked;
}

std::span<const AskedCommand> views() {
    static constexpr std::array kAsked = {
        AskedCommand{"batch/show", "", "batch:BATCH"},
        AskedCommand{"batch/sheet", "", "batch:BATCH"},
        AskedCommand{"batch/explain", "", "batch:BATCH"},
        AskedCommand{"release/show", "", "batch:BATCH"},
        AskedCommand{"results/show", "", "run:RUN"},
        AskedCommand{"recipe/show", "", "recipe:RECIPE"},
        AskedCommand{"supplier/show", "", "supplier:NAME"},
        AskedCommand{"trace/show", "", "id:ID element"},
        AskedCommand{"trail/verify", "", "against"},
        AskedCommand{"chart/trend", "",
                     "analyte method recipe material check_sample:check-sample since until last"},
        AskedCommand{"mixing-sheet/draft", "", "batch:BATCH use_by:use-by"},
        AskedCommand{"certificate/draft", "",
                     "batch:BATCH customer use_by:use-by condition received with_lots:with-lots? "
                     "why"},
        AskedCommand{"certificate/verify", "", "certificate:CERTIFICATE code"},
    };
    return kAsked;
}

std::span<const AskedPaper> papers() {
    static constexpr std::array kPapers = {
        AskedPaper{"batch-sheet", "batch print", "batch", ""},
        AskedPaper{"sample-labels", "sample labels", "sample", ""},
        AskedPaper{"certificate", "certificate print", "certificate", ""},
        AskedPaper{"certificate-draft", "certificate draft", "batch",
                   "customer use_by:use-by condition received with_lots:with-lots? why"},
        AskedPaper{"mixing-sheet", "mixing-sheet print", "batch", ""},
    };
    return kPapers;
}

}  // namespace bw::http
