// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <array>

#include <fmt/format.h>

#include "http/acts.hpp"
#include "http/words.hpp"
#include "service/batch_plan.hpp"
#include "service/batch_run.hpp"
#include "service/recipe_versions.hpp"
#include "service/shelves.hpp"
#include "service/suppliers.hpp"

namespace bw::http {
namespace {

using Done = Result<store::Receipt>;

Done keep_supplier(Order& order, const ActContext& c) {
    works::Supplier s;
    s.name = order.text("name");
    s.contact = order.text_or("contact");
    s.materials = order.texts("materials");
    s.reason = order.text_or("reason");
    s.review_by = order.text_or("review_by");
    const std::string state = order.text_or("state", "approved");
    BW_CHECK(order.end());
    BW_TRY(known, word_of<works::SupplierState>(state, "state"));
    s.state = known;
    return service::keep_supplier(c.desk, s, c.intent);
}

Done keep_materials(Order& order, const ActContext& c) {
    BW_TRY(document, document_of(order));
    return service::keep_materials(c.desk, document, c.intent);
}

Done keep_scale(Order& order, const ActContext& c) {
    works::Scale s;
    s.id = order.text("id");
    const std::string step = order.text("step");
    const std::string capacity = order.text("capacity");
    const std::string repeatability = order.text_or("repeatability");
    s.checked_until = order.text_or("checked_until");
    const std::string state = order.text_or("state", "in service");
    BW_CHECK(order.end());
    BW_TRY(step_kg, kg_of(step, "step"));
    BW_TRY(capacity_kg, kg_of(capacity, "capacity"));
    s.step_kg = step_kg;
    s.capacity_kg = capacity_kg;
    if (!repeatability.empty()) {
        BW_TRY(sd, kg_of(repeatability, "repeatability"));
        s.repeatability_kg = sd;
    }
    BW_TRY(known, word_of<works::ServiceState>(state, "state"));
    s.state = known;
    BW_CHECK(check_day(s.checked_until, "checked_until"));
    return service::keep_scale(c.desk, s, c.intent);
}

Done receive_lots(Order& order, const ActContext& c) {
    std::vector<store::Attachment> certificates;
    for (Order& one : order.list("certificates")) {
        const std::string name = one.text("name");
        const std::string type = one.text_or("media_type", "application/octet-stream");
        BW_TRY(bytes, bytes_of(one.text("base64"), "certificates"));
        certificates.push_back({name, type, bytes});
    }
    BW_TRY(document, document_of(order));
    return service::receive_lots(c.desk, document, certificates, c.intent);
}

template <works::LotState to>
Done judge_lot(Order& order, const ActContext& c) {
    const std::string lot = order.text("lot");
    BW_CHECK(order.end());
    return service::judge_lot(c.desk, lot, to, c.intent);
}

Done keep_recipe(Order& order, const ActContext& c) {
    const service::RecipeDraft draft{order.text("product"), order.text("target"),
                                     order.text("recipe")};
    BW_CHECK(order.end());
    return service::draft_recipe(c.desk, draft, c.intent);
}

template <works::VersionState to>
Done move_recipe(Order& order, const ActContext& c) {
    const std::string recipe = order.text("recipe");
    BW_CHECK(order.end());
    return service::move_recipe(c.desk, recipe, to, c.intent);
}

Done approve_recipe(Order& order, const ActContext& c) {
    const std::string recipe = order.text("recipe");
    const std::string shown = order.text("shown");
    BW_CHECK(order.end());
    return service::approve_recipe(c.desk, recipe, shown, c.signing(), c.intent);
}

Done plan_batch(Order& order, const ActContext& c) {
    service::BatchOrder plan;
    plan.recipe = order.text("recipe");
    const std::string size = order.text("size");
    plan.as_recipe = order.flag("as_recipe");
    plan.open_packages = order.flag("open_packages");
    plan.rework_of = order.text_or("rework_of");
    for (Order& one : order.list("chosen_lots")) {
        std::string material = one.text("material");
        plan.chosen_lots.emplace_back(std::move(material), one.text("lot"));
    }
    BW_CHECK(order.end());
    BW_TRY(kg, kg_of(size, "size"));
    plan.size_kg = kg;
    return service::plan_batch(c.desk, plan, c.intent);
}

Done approve_adjustment(Order& order, const ActContext& c) {
    const std::string batch = order.text("batch");
    const std::string shown = order.text_or("shown");
    BW_CHECK(order.end());
    return service::approve_adjustment(c.desk, batch, c.signing(shown), c.intent);
}

Done weigh(Order& order, const ActContext& c) {
    const std::string batch = order.text("batch");
    std::vector<service::WeighingEntry> entries;
    for (Order& one : order.list("weighings")) {
        service::WeighingEntry entry;
        entry.step = one.whole("step");
        entry.lot = one.text("lot");
        entry.scale = one.text_or("scale");
        entry.net = one.text("net");
        entry.tare = one.text_or("tare");
        entry.by_hand = !one.has("by_hand") || one.flag("by_hand");
        entry.confirmed = one.flag("confirmed");
        entries.push_back(std::move(entry));
    }
    BW_CHECK(order.end());
    if (entries.empty()) {
        return fail(ProblemCode::BadInput, "no weighing is given", {"", 0, "order.weighings"});
    }
    BW_TRY(outcomes, service::weigh(c.desk, batch, entries, c.intent));
    return outcomes.back().receipt;
}

Done correct_weighing(Order& order, const ActContext& c) {
    const std::string weighing = order.text("weighing");
    const std::string net = order.text("net");
    const bool confirmed = order.flag("confirmed");
    BW_CHECK(order.end());
    return service::correct_weighing(c.desk, weighing, net, confirmed, c.intent);
}

Done blend_batch(Order& order, const ActContext& c) {
    const std::string batch = order.text("batch");
    BW_CHECK(order.end());
    return service::blend_batch(c.desk, batch, c.intent);
}

Done close_batch(Order& order, const ActContext& c) {
    const std::string batch = order.text("batch");
    const std::string packed = order.text("packed");
    const std::string sampled = order.text_or("sampled", "0 kg");
    const std::string swept = order.text_or("swept", "0 kg");
    works::Yield yield;
    yield.packs = order.whole("packs");
    BW_CHECK(order.end());
    BW_TRY(packed_kg, kg_of(packed, "packed"));
    BW_TRY(sampled_kg, kg_of(sampled, "sampled"));
    BW_TRY(swept_kg, kg_of(swept, "swept"));
    yield.packed_kg = packed_kg;
    yield.sampled_kg = sampled_kg;
    yield.swept_kg = swept_kg;
    return service::close_batch(c.desk, batch, yield, c.intent);
}

Done raise_departure(Order& order, const ActContext& c) {
    works::Departure d;
    d.batch = order.text("batch");
    d.what = order.text("what");
    const std::int64_t step = order.whole_or("step", 0);
    const std::string about = order.text_or("about", works::name(works::Concern::Making));
    BW_CHECK(order.end());
    BW_TRY(concern, word_of<works::Concern>(about, "about"));
    if (step > 0 && concern != works::Concern::Making) {
        return fail(ProblemCode::BadInput,
                    "a departure is about a step or about what the tests show, not both",
                    {"", 0, "about"});
    }
    d.about = concern;
    d.subject_kind = step > 0 ? works::kAddition : "batch";
    d.subject = step > 0 ? fmt::format("{}/{}", d.batch, step) : d.batch;
    return service::raise_departure(c.desk, d, c.intent);
}

Done answer_departure(Order& order, const ActContext& c) {
    const std::string departure = order.text("departure");
    const std::string answer = order.text("answer");
    BW_CHECK(order.end());
    return service::answer_departure(c.desk, departure, answer, c.intent);
}

Done close_departure(Order& order, const ActContext& c) {
    const std::string departure = order.text("departure");
    BW_CHECK(order.end());
    return service::close_departure(c.desk, departure, c.intent);
}

Done take_sample(Order& order, const ActContext& c) {
    service::SampleTaking taking;
    taking.batch = order.text("batch");
    taking.increments = order.whole("increments");
    taking.mass = order.text("mass");
    taking.where = order.text_or("where");
    taking.split_by = order.text_or("split_by");
    BW_CHECK(order.end());
    return service::take_sample(c.desk, taking, c.intent);
}

}  // namespace

std::span<const NamedAct> making_acts() {
    using works::LotState;
    using works::VersionState;
    static constexpr std::array kActs = {
        NamedAct{"supplier/keep", false, keep_supplier},
        NamedAct{"material/keep", false, keep_materials},
        NamedAct{"scale/keep", false, keep_scale},
        NamedAct{"lot/receive", false, receive_lots},
        NamedAct{"lot/accept", false, judge_lot<LotState::Accepted>},
        NamedAct{"lot/hold", false, judge_lot<LotState::OnHold>},
        NamedAct{"lot/refuse", false, judge_lot<LotState::Refused>},
        NamedAct{"lot/end", false, judge_lot<LotState::UsedUp>},
        NamedAct{"recipe/keep", false, keep_recipe},
        NamedAct{"recipe/offer", false, move_recipe<VersionState::Offered>},
        NamedAct{"recipe/take-back", false, move_recipe<VersionState::Draft>},
        NamedAct{"recipe/retire", false, move_recipe<VersionState::Retired>},
        NamedAct{"recipe/approve", true, approve_recipe},
        NamedAct{"batch/plan", false, plan_batch},
        NamedAct{"batch/approve", true, approve_adjustment},
        NamedAct{"batch/weigh", false, weigh},
        NamedAct{"batch/correct", false, correct_weighing},
        NamedAct{"batch/blend", false, blend_batch},
        NamedAct{"batch/close", false, close_batch},
        NamedAct{"departure/raise", false, raise_departure},
        NamedAct{"departure/answer", false, answer_departure},
        NamedAct{"departure/close", false, close_departure},
        NamedAct{"sample/take", false, take_sample},
    };
    return kActs;
}

}  // namespace bw::http
