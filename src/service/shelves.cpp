// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/shelves.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "io/document_text.hpp"
#include "io/material_file.hpp"
#include "service/people.hpp"
#include "store/digest.hpp"

namespace bw::service {
namespace {

bool flag_of(const io::Document& file, std::string_view key) {
    const io::Node* node = file.root.find(key);
    return node != nullptr && node->flag() != nullptr && *node->flag();
}

Result<works::Lot> lot_of(const Desk& desk, const io::PlacedLot& placed) {
    if (!placed.differs.stock_kg || !(*placed.differs.stock_kg > 0)) {
        return fail(
            ProblemCode::BadInput,
            fmt::format("lot {} has no stock above 0: write what was received, stock = \"500 kg\"",
                        base::quoted(placed.differs.lot)),
            placed.place);
    }
    works::Lot lot;
    lot.number = placed.differs.lot;
    lot.material = placed.differs.name;
    lot.supplier = placed.supplier;
    lot.quantity = placed.stock;
    lot.quantity_kg = *placed.differs.stock_kg;
    lot.received_at = desk.at;
    lot.use_by = placed.use_by;
    lot.make_up = io::json_text(
        io::without(*placed.table, {"state", "stock", "supplier", "use_by", "number", "material"}));
    lot.received_by = desk.person.id;
    return lot;
}

/// What the lots of a file are of that come from one supplier.
std::string materials_of(const std::vector<io::PlacedLot>& placed, const std::string& supplier) {
    std::vector<std::string> seen;
    for (const io::PlacedLot& p : placed) {
        const std::string name = base::quoted(p.differs.name);
        if (p.supplier == supplier && std::find(seen.begin(), seen.end(), name) == seen.end()) {
            seen.push_back(name);
        }
    }
    return base::join_words(seen);
}

/// The supplier that a lot names.
Result<Kept<works::Supplier>> supplier_of(const Desk& desk, const io::PlacedLot& lot,
                                          const std::vector<io::PlacedLot>& all) {
    if (lot.supplier.empty()) {
        return fail(ProblemCode::BadInput,
                    fmt::format("lot {} names no supplier: write supplier = \"...\" as "
                                "the list of suppliers has it",
                                base::quoted(lot.differs.lot)),
                    lot.place);
    }
    BW_TRY(supplier, if_kept<works::Supplier>(*desk.books, lot.supplier));
    if (!supplier) {
        return fail(ProblemCode::NotFound,
                    fmt::format("{} is not among the suppliers of the books: first keep this "
                                "supplier, who may supply {}, with a day of review",
                                base::quoted(lot.supplier), materials_of(all, lot.supplier)),
                    lot.supplier_place);
    }
    return *supplier;
}

/// Lets the supplier's state decide how a lot comes in; the change holds only while that state
/// does.
Result<void> admit(const Desk& desk, const io::PlacedLot& placed,
                   const std::vector<io::PlacedLot>& all, works::Lot& lot, store::Change& change) {
    BW_TRY(supplier, supplier_of(desk, placed, all));
    auto admission = works::admitted(supplier.is, lot.number, lot.material, desk.day());
    if (!admission) {
        return fail(admission.error().code, admission.error().message, placed.supplier_place);
    }
    lot.state = admission->state;
    lot.judged_why = admission->notice;
    if (!admission->notice.empty()) {
        change.answer += (change.answer.empty() ? "" : "\n") + admission->notice;
    }
    const store::Expect same = expect_same(supplier);
    if (std::none_of(change.expects.begin(), change.expects.end(), [&](const store::Expect& e) {
            return e.kind == same.kind && e.id == same.id;
        })) {
        change.expects.push_back(same);
    }
    return {};
}

}  // namespace

Result<void> refuse_invented(const store::Books& books, const io::Document& file) {
    if (!flag_of(file, "invented")) {
        return {};
    }
    BW_TRY(site, site_of(books));
    if (site.invented) {
        return {};
    }
    return fail(ProblemCode::Refused,
                "the file is marked invented, and these are a works' real books: put real values "
                "in its place and take the mark out, or try it in books that are made as invented "
                "ones",
                {file.name, file.root.find("invented")->line, "invented"});
}

Result<store::Receipt> keep_materials(const Desk& desk, const io::Document& file,
                                      const Intent& intent) {
    BW_CHECK(works::duty_for(desk.person, works::Deed::ChangeCatalogue));
    BW_TRY(materials, io::read_materials(file));
    const io::Node::Array& tables = *file.root.find("material")->array();
    const bool invented = flag_of(file, "invented");
    BW_CHECK(refuse_invented(*desk.books, file));
    return act(desk,
               {works::Deed::ChangeCatalogue, "material keep", kKind<works::Material>,
                materials.front().material.name},
               intent, [&](store::Change& change) -> Result<void> {
                   for (std::size_t i = 0; i < materials.size(); ++i) {
                       const works::Material next{materials[i].material.name,
                                                  materials[i].material.formula,
                                                  io::json_text(tables[i]), invented};
                       BW_TRY(before, if_kept<works::Material>(*desk.books, next.name));
                       if (before && record_text(before->is) == record_text(next)) {
                           continue;
                       }
                       change.writes.push_back(write_of(next, before ? before->version : 0));
                   }
                   return {};
               });
}

Result<store::Receipt> keep_scale(const Desk& desk, const works::Scale& scale,
                                  const Intent& intent) {
    BW_CHECK(works::duty_for(desk.person, works::Deed::ChangeCatalogue));
    BW_CHECK(works::check(scale));
    return act(desk, {works::Deed::ChangeCatalogue, "scale keep", kKind<works::Scale>, scale.id},
               intent, [&](store::Change& change) -> Result<void> {
                   BW_TRY(before, if_kept<works::Scale>(*desk.books, scale.id));
                   change.writes.push_back(write_of(scale, before ? before->version : 0));
                   return {};
               });
}

Result<store::Receipt> receive_lots(const Desk& desk, const io::Document& file,
                                    const std::vector<store::Attachment>& certificate,
                                    const Intent& intent) {
    BW_CHECK(works::duty_for(desk.person, works::Deed::ReceiveLot));
    BW_TRY(placed, io::read_lots(file));
    BW_CHECK(refuse_invented(*desk.books, file));
    return act(
        desk,
        {works::Deed::ReceiveLot, "lot receive", kKind<works::Lot>, placed.front().differs.lot},
        intent, [&](store::Change& change) -> Result<void> {
            for (const io::PlacedLot& p : placed) {
                BW_TRY(material, if_kept<works::Material>(*desk.books, p.differs.name));
                if (!material) {
                    return fail(ProblemCode::NotFound,
                                fmt::format("{} is not among the materials of the books: "
                                            "keep the material first",
                                            base::quoted(p.differs.name)),
                                p.place);
                }
                BW_TRY(lot, lot_of(desk, p));
                BW_TRY(before, if_kept<works::Lot>(*desk.books, lot.number));
                if (before) {
                    return fail(ProblemCode::DuplicateName,
                                fmt::format("lot {} was received on {} already, of {}",
                                            base::quoted(lot.number), before->is.received_at,
                                            before->is.material),
                                p.place);
                }
                BW_CHECK(admit(desk, p, placed, lot, change));
                if (!certificate.empty()) {
                    lot.certificate = store::sha256_hex(certificate.front().bytes);
                }
                change.writes.push_back(write_of(lot, 0));
                change.writes.push_back(write_of(works::Stock{lot.number, lot.quantity_kg, 0}, 0));
            }
            change.attachments = certificate;
            return {};
        });
}

Result<store::Receipt> judge_lot(const Desk& desk, const std::string& number, works::LotState to,
                                 const Intent& intent) {
    const std::string verb = to == works::LotState::Accepted  ? "lot accept"
                             : to == works::LotState::Refused ? "lot refuse"
                             : to == works::LotState::OnHold  ? "lot hold"
                                                              : "lot end";
    return act(desk, {works::Deed::JudgeLot, verb, kKind<works::Lot>, number}, intent,
               [&](store::Change& change) -> Result<void> {
                   BW_TRY(lot, kept<works::Lot>(*desk.books, number));
                   BW_TRY(next, works::moved(lot.is, to, desk.person.id, intent.why));
                   change.writes.push_back(write_of(next, lot.version));
                   return {};
               });
}

}  // namespace bw::service
