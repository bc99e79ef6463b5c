// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/workbook_table.hpp"

#include <cstdlib>
#include <map>
#include <vector>

#include <fmt/format.h>
#include <pugixml.hpp>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "io/workbook_parts.hpp"

namespace bw::io {
namespace {

/// A name without its namespace's prefix.
std::string_view local(std::string_view name) {
    const auto colon = name.find(':');
    return colon == std::string_view::npos ? name : name.substr(colon + 1);
}

pugi::xml_node child(const pugi::xml_node& node, std::string_view name) {
    for (const pugi::xml_node& c : node.children()) {
        if (local(c.name()) == name) {
            return c;
        }
    }
    return {};
}

std::string attribute(const pugi::xml_node& node, std::string_view name) {
    for (const pugi::xml_attribute& a : node.attributes()) {
        if (local(a.name()) == name) {
            return a.value();
        }
    }
    return {};
}

Result<void> parse_part(const WorkbookParts& parts, const std::string& name,
                        pugi::xml_document& out) {
    BW_TRY(text, parts.read(name));
    const auto bad = [&](std::string_view why) {
        return fail(ProblemCode::BadInput,
                    fmt::format("{} in the workbook {}", base::quoted(name), why));
    };
    const auto parsed =
        out.load_buffer(text.data(), text.size(),
                        (pugi::parse_default | pugi::parse_doctype | pugi::parse_ws_pcdata_single));
    for (const pugi::xml_node& node : out.children()) {
        if (node.type() == pugi::node_doctype) {
            return bad("has a document type, which no workbook needs: it is refused");
        }
    }
    if (!parsed) {
        return bad("is not valid XML: save the workbook again");
    }
    return {};
}

/// The text of <si> or <is>: <t>, or those of its <r>.
std::string text_of(const pugi::xml_node& item) {
    std::string out;
    for (const pugi::xml_node& c : item.children()) {
        if (local(c.name()) == "t") {
            out += c.child_value();
        } else if (local(c.name()) == "r") {
            out += child(c, "t").child_value();
        }
    }
    return out;
}

class WorkbookReader {
public:
    explicit WorkbookReader(const WorkbookParts& parts) : parts_(&parts) {}

    Result<SourceTable> read(const std::string& sheet) {
        BW_TRY(path, path_of_sheet(sheet));
        BW_CHECK(read_shared_texts());
        BW_CHECK(read_forms());
        pugi::xml_document page;
        BW_CHECK(parse_part(*parts_, path, page));
        out_.encoding = Encoding::Workbook;
        for (const pugi::xml_node& row : child(page.document_element(), "sheetData").children()) {
            if (local(row.name()) == "row") {
                BW_CHECK(read_row(row));
            }
        }
        if (out_.cells.rows() == 0) {
            return bad("the sheet is empty: it needs a head and at least one row");
        }
        return std::move(out_);
    }

private:
    static tl::unexpected<Problem> bad(std::string why) {
        return fail(ProblemCode::BadInput, std::move(why));
    }

    Result<std::string> path_of_sheet(const std::string& wanted) {
        pugi::xml_document book;
        BW_CHECK(parse_part(*parts_, "xl/workbook.xml", book));
        const std::string calendar =
            attribute(child(book.document_element(), "workbookPr"), "date1904");
        from_1904_ = calendar == "1" || calendar == "true";
        std::vector<std::string> names;
        std::string id;
        for (const pugi::xml_node& sheet : child(book.document_element(), "sheets").children()) {
            const std::string name = attribute(sheet, "name");
            if (id.empty() && (wanted.empty() || name == wanted)) {
                id = attribute(sheet, "id");
            }
            names.push_back(base::quoted(name));
        }
        if (id.empty()) {
            return bad(names.empty() ? std::string("the workbook has no sheet")
                                     : fmt::format("the workbook has no sheet {}: it has {}",
                                                   base::quoted(wanted), base::join_words(names)));
        }
        if (names.size() > 1 && wanted.empty()) {
            out_.notices.push_back(
                {"first_sheet", fmt::format("The workbook has {} sheets; the first, {}, was "
                                            "read.",
                                            names.size(), names.front())});
        }
        pugi::xml_document links;
        BW_CHECK(parse_part(*parts_, "xl/_rels/workbook.xml.rels", links));
        for (const pugi::xml_node& link : links.document_element().children()) {
            if (attribute(link, "Id") == id) {
                const std::string target = attribute(link, "Target");
                return target.starts_with('/') ? target.substr(1) : "xl/" + target;
            }
        }
        return bad("the workbook does not say where its sheet is: save it again");
    }

    Result<void> read_shared_texts() {
        constexpr const char* kPart = "xl/sharedStrings.xml";
        if (!parts_->has(kPart)) {
            return {};
        }
        pugi::xml_document texts;
        BW_CHECK(parse_part(*parts_, kPart, texts));
        for (const pugi::xml_node& item : texts.document_element().children()) {
            if (local(item.name()) == "si") {
                shared_.push_back(text_of(item));
            }
        }
        return {};
    }

    /// Which forms of cells show dates.
    Result<void> read_forms() {
        constexpr const char* kPart = "xl/styles.xml";
        if (!parts_->has(kPart)) {
            return {};
        }
        pugi::xml_document styles;
        BW_CHECK(parse_part(*parts_, kPart, styles));
        std::map<std::string, bool> own;
        for (const pugi::xml_node& form : child(styles.document_element(), "numFmts").children()) {
            own[attribute(form, "numFmtId")] = is_date_form(attribute(form, "formatCode"));
        }
        for (const pugi::xml_node& form : child(styles.document_element(), "cellXfs").children()) {
            const std::string number = attribute(form, "numFmtId");
            const auto found = own.find(number);
            date_forms_.push_back(found != own.end() ? found->second
                                                     : is_date_form(std::atoi(number.c_str())));
        }
        return {};
    }

    /// Reads the whole number of an attribute, or gives `otherwise`.
    static std::size_t number_or(const std::string& text, std::size_t otherwise) {
        constexpr std::size_t kMostDigits = 9;
        const bool digits = !text.empty() && text.size() <= kMostDigits &&
                            text.find_first_not_of("0123456789") == std::string::npos;
        return digits ? static_cast<std::size_t>(std::strtoul(text.c_str(), nullptr, 10))
                      : otherwise;
    }

    Result<void> read_row(const pugi::xml_node& row) {
        const std::size_t number = number_or(attribute(row, "r"), out_.cells.rows() + 1);
        if (number < out_.cells.rows() + 1) {
            return bad("the rows of the sheet are not in order: save the workbook again");
        }
        while (out_.cells.rows() + 1 < number) {
            BW_CHECK(out_.cells.end_row());
        }
        for (const pugi::xml_node& cell : row.children()) {
            if (local(cell.name()) == "c") {
                BW_CHECK(read_cell(cell));
            }
        }
        return out_.cells.end_row();
    }

    Result<void> read_cell(const pugi::xml_node& cell) {
        const std::string name = attribute(cell, "r");
        const std::size_t letters = std::min(name.find_first_of("0123456789"), name.size());
        if (!name.empty()) {
            BW_TRY(column, column_of_letters(std::string_view(name).substr(0, letters)));
            if (column < out_.cells.open_width()) {
                return bad("the cells of a row are not in order: save the workbook again");
            }
            while (out_.cells.open_width() < column) {
                BW_CHECK(out_.cells.add(""));
            }
        }
        if (const pugi::xml_node formula = child(cell, "f")) {
            return out_.cells.add(std::string("=") + formula.child_value(), CellKind::Formula);
        }
        const std::string type = attribute(cell, "t");
        if (type == "inlineStr") {
            return out_.cells.add(text_of(child(cell, "is")));
        }
        const std::string value = child(cell, "v").child_value();
        if (value.empty() || type == "str") {
            return out_.cells.add(value);
        }
        if (type == "s") {
            const std::size_t index = number_or(value, shared_.size());
            return index < shared_.size()
                       ? out_.cells.add(shared_[index])
                       : Result<void>(bad("a cell's text is missing: save the workbook again"));
        }
        if (type == "b") {
            return out_.cells.add(value == "1" ? "TRUE" : "FALSE", CellKind::Flag);
        }
        if (type == "e") {
            return out_.cells.add(value, CellKind::Error);
        }
        return type == "d" ? out_.cells.add(value, CellKind::Date) : add_number(cell, value);
    }

    Result<void> add_number(const pugi::xml_node& cell, const std::string& text) {
        const auto number = base::parse_number(base::trim(text));
        if (!number) {
            return bad(fmt::format("{} in cell {} is no number: save the workbook again",
                                   base::quoted(text), base::quoted(attribute(cell, "r"))));
        }
        const std::size_t form = number_or(attribute(cell, "s"), 0);
        if (form < date_forms_.size() && date_forms_[form]) {
            const auto date = date_of_serial(*number, from_1904_);
            return out_.cells.add(date ? *date : text, CellKind::Date);
        }
        return out_.cells.add(base::format_exact(*number), CellKind::Number);
    }

    const WorkbookParts* parts_;
    SourceTable out_;
    bool from_1904_ = false;
    std::vector<std::string> shared_;
    std::vector<bool> date_forms_;
};

}  // namespace

Result<SourceTable> read_workbook(std::string_view bytes, const std::string& sheet) {
    if (bytes.size() > kMostTableBytes) {
        return fail(ProblemCode::TooLarge, fmt::format("the file has {} bytes: at most {} are read",
                                                       bytes.size(), kMostTableBytes));
    }
    BW_TRY(parts, WorkbookParts::open(bytes));
    return WorkbookReader(parts).read(sheet);
}

}  // namespace bw::io
