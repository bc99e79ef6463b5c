// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// The data of a certificate as JSON and as sheets of a workbook; what it says is
// certificate_paper's.
#include <type_traits>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "service/certificate_paper.hpp"

namespace bw::service {
namespace {

using Json = nlohmann::json;

template <class T, class V>
void fields(T& x, V& v);

template <class V, class T>
void result_fields(T& x, V& v) {
    v("quantity", x.quantity);
    v("symbol", x.symbol);
    v("unit", x.unit);
    v("value", x.value);
    v("expanded_uncertainty", x.expanded);
    v("k", x.k);
    v("low", x.low);
    v("high", x.high);
    v("verdict", x.verdict);
    v("method", x.method);
    v("tested_on", x.tested_on);
    v("outside_laboratory", x.outside_laboratory);
    v("note", x.note);
}

template <class V, class T>
void whole_fields(T& x, V& v) {
    v("mark", x.mark);
    v("maker", x.maker);
    v("laboratory", x.laboratory);
    v("place_of_work", x.place_of_work);
    v("issue", x.issue);
    v("issued_on", x.issued_on);
    v("replaces", x.replaces);
    v("product", x.product);
    v("batch", x.batch);
    v("recipe_version", x.recipe_version);
    v("made_on", x.made_on);
    v("use_by", x.use_by);
    v("pack_sizes", x.pack_sizes);
    v("customer", x.customer);
    v("sample", x.sample);
    v("sample_condition", x.sample_condition);
    v("sampled_on", x.sampled_on);
    v("received_on", x.received_on);
    v("sampling_plan", x.sampling_plan);
    v("decision", x.decision);
    v("decision_status", x.decision_status);
    v("method_note", x.method_note);
    v("methods", x.methods);
    v("departures", x.departures);
    v("coverage", x.coverage);
    v("results", x.results);
    v("homogeneity", x.homogeneity);
    v("decision_rule", x.decision_rule);
    v("statements", x.statements);
    v("opinions", x.opinions);
    v("lots", x.lots);
    v("signatures", x.signatures);
    v("how_to_verify", x.how_to_verify);
    v("code_text", x.code_text);
}

template <class T, class V>
void fields(T& x, V& v) {
    using Plain = std::remove_const_t<T>;
    if constexpr (std::is_same_v<Plain, report::PaperMark>) {
        v("number", x.number);
        v("created", x.created);
        v("trail_mark", x.trail_mark);
        v("content_mark", x.content_mark);
        v("verification_code", x.verification_code);
        v("invented", x.invented);
    } else if constexpr (std::is_same_v<Plain, report::Maker>) {
        v("name", x.name);
        v("address", x.address);
        v("contact", x.contact);
    } else if constexpr (std::is_same_v<Plain, report::SignatureBlock>) {
        v("name", x.name);
        v("duty", x.duty);
        v("meaning", x.meaning);
        v("at", x.at);
    } else if constexpr (std::is_same_v<Plain, report::CertificateLot>) {
        v("material", x.material);
        v("lot", x.lot);
        v("supplier", x.supplier);
        v("share", x.share);
    } else if constexpr (std::is_same_v<Plain, report::CertificateResult>) {
        result_fields(x, v);
    } else {
        whole_fields(x, v);
    }
}

struct Writer {
    Json out = Json::object();

    template <class T>
    void operator()(const char* key, const T& x) {
        out[key] = written(x);
    }
    template <class T>
    static Json written(const T& x) {
        if constexpr (std::is_same_v<T, std::string> || std::is_same_v<T, bool>) {
            return x;
        } else if constexpr (std::is_same_v<T, report::Status>) {
            return std::string(report::name(x));
        } else {
            Writer writer;
            fields(x, writer);
            return std::move(writer.out);
        }
    }
    template <class T>
    static Json written(const std::vector<T>& x) {
        Json out = Json::array();
        for (const T& item : x) {
            out.push_back(written(item));
        }
        return out;
    }
};

/// Reads what Writer wrote; anything else leaves `whole` false.
struct Reader {
    const Json& in;
    bool& whole;

    template <class T>
    void operator()(const char* key, T& x) {
        const auto found = in.find(key);
        if (found == in.end()) {
            whole = false;
            return;
        }
        read(*found, x);
    }
    void read(const Json& json, std::string& x) {
        if (!json.is_string()) {
            whole = false;
            return;
        }
        x = json.get<std::string>();
    }
    void read(const Json& json, bool& x) {
        if (!json.is_boolean()) {
            whole = false;
            return;
        }
        x = json.get<bool>();
    }
    void read(const Json& json, report::Status& x) {
        for (const auto status :
             {report::Status::Within, report::Status::TooClose, report::Status::Outside,
              report::Status::OnHold, report::Status::Information, report::Status::NotTested}) {
            if (json.is_string() && json.get_ref<const std::string&>() == report::name(status)) {
                x = status;
                return;
            }
        }
        whole = false;
    }
    template <class T>
    void read(const Json& json, std::vector<T>& x) {
        if (!json.is_array()) {
            whole = false;
            return;
        }
        for (const Json& item : json) {
            read(item, x.emplace_back());
        }
    }
    template <class T>
    void read(const Json& json, T& x) {
        if (!json.is_object()) {
            whole = false;
            return;
        }
        Reader reader{json, whole};
        fields(x, reader);
    }
};

io::Cell number_cell(const std::string& text) {
    const auto number = base::parse_number(text);
    return number ? io::Cell(*number) : text.empty() ? io::Cell() : io::Cell(text);
}

io::Sheet facts_sheet(const report::Certificate& c) {
    io::Sheet out{"certificate", {"what", "value"}, {}};
    const auto put = [&](const char* what, const std::string& value) {
        if (!value.empty()) {
            out.rows.push_back({io::Cell(what), io::Cell(value)});
        }
    };
    put("number", c.mark.number);
    put("issue", c.issue);
    put("issued on", c.issued_on);
    put("replaces", c.replaces);
    put("maker", c.maker.name);
    put("laboratory", c.laboratory);
    put("product", c.product);
    put("batch", c.batch);
    put("recipe version", c.recipe_version);
    put("made on", c.made_on);
    put("use by", c.use_by);
    put("packs", fmt::format("{}", fmt::join(c.pack_sizes, "; ")));
    put("customer", c.customer);
    put("sample", c.sample);
    put("sampled on", c.sampled_on);
    put("sampling plan", c.sampling_plan);
    put("decision", c.decision);
    put("method note", fmt::format("{}", fmt::join(c.method_note, " ")));
    put("decision rule", fmt::format("{}", fmt::join(c.decision_rule, " ")));
    put("departures", fmt::format("{}", fmt::join(c.departures, " ")));
    for (const report::SignatureBlock& s : c.signatures) {
        put("signature", fmt::format("{}, {}: {}, {}", s.name, s.duty, s.meaning, s.at));
    }
    put("content mark", c.mark.content_mark);
    put("trail mark", c.mark.trail_mark);
    put("verification code", c.mark.verification_code);
    if (c.mark.invented) {
        put("invented", "nothing in this certificate is real");
    }
    return out;
}

}  // namespace

Result<std::string> certificate_json(const report::Certificate& paper) {
    Json out = Writer::written(paper);
    out["version"] = 1;
    return out.dump();
}

Result<report::Certificate> certificate_of_json(const std::string& text) {
    const Json json = Json::parse(text, nullptr, false);
    bool whole = !json.is_discarded() && json.is_object();
    report::Certificate out;
    if (whole) {
        Reader reader{json, whole};
        fields(out, reader);
    }
    if (!whole) {
        return fail(ProblemCode::BrokenBooks,
                    "the data of a certificate cannot be read: a newer program wrote it, or it is "
                    "broken");
    }
    return out;
}

std::vector<io::Sheet> certificate_sheets(const report::Certificate& c) {
    std::vector<io::Sheet> out = {facts_sheet(c)};
    io::Sheet results{"results",
                      {"quantity", "symbol", "unit", "value", "U", "k", "low", "high", "verdict",
                       "method", "tested on", "note"},
                      {}};
    for (const report::CertificateResult& r : c.results) {
        results.rows.push_back({io::Cell(r.quantity), io::Cell(r.symbol), io::Cell(r.unit),
                                number_cell(r.value), number_cell(r.expanded), number_cell(r.k),
                                number_cell(r.low), number_cell(r.high),
                                io::Cell(std::string(report::name(r.verdict))), io::Cell(r.method),
                                io::Cell(r.tested_on), io::Cell(r.note)});
    }
    out.push_back(std::move(results));
    if (!c.lots.empty()) {
        io::Sheet lots{"lots", {"material", "lot", "supplier", "share"}, {}};
        for (const report::CertificateLot& l : c.lots) {
            lots.rows.push_back(
                {io::Cell(l.material), io::Cell(l.lot), io::Cell(l.supplier), io::Cell(l.share)});
        }
        out.push_back(std::move(lots));
    }
    return out;
}

}  // namespace bw::service
