// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Books that are not marked invented take nothing that is.
#include <optional>

#include <gmock/gmock.h>

#include "works_day.hpp"

namespace bw::worksday {
namespace {

using testing::HasSubstr;

class RealBooks : public store::ground::OnBoth {
protected:
    static constexpr const char* kAt = "2026-03-02T08:00:00.000Z";

    void SetUp() override {
        books_.emplace(BW_MUST(store::Books::create(ground_.place(), kAt)));
        BW_MUST(service::begin_books(*books_, {"A works", "", "", false},
                                     {"ada", "Ada Min", {works::Duty::Administrator}}, kPassword,
                                     kAt));
        BW_MUST(service::set_person(
            desk("ada"), {"fay", "Fay Two", {works::Duty::Formulator, works::Duty::Receiving}},
            kPassword, intent()));
    }
    void TearDown() override { books_.reset(); }

    service::Desk desk(const std::string& person) {
        return {&*books_, BW_MUST(service::kept<works::Person>(*books_, person)).is, "test", kAt};
    }
    static service::Intent intent() { return {store::random_hex(16), "as planned"}; }
    static io::Document file(const std::string& mark, const std::string& kind,
                             const std::string& table) {
        return BW_MUST(io::parse_document(
            "format = \"brinewright/1\"\nkind = \"" + kind + "\"\n" + mark + "[[" + table,
            kind + ".toml"));
    }
    static io::Document materials(const std::string& mark) {
        return file(
            mark, "materials",
            "material]]\nname = \"sodium chloride\"\nformula = \"NaCl\"\nassay = \"99.9 %\"\n");
    }
    static io::Document lots(const std::string& mark) {
        return file(mark, "lots",
                    "lot]]\nmaterial = \"sodium chloride\"\nnumber = \"A26-0107\"\nstock = \"900 "
                    "kg\"\nsupplier = \"Invented salts\"\n");
    }

    std::optional<store::Books> books_;
};

BW_ON_BOTH(RealBooks);

TEST_P(RealBooks, TakeNothingThatIsMarkedInvented) {
    const std::string mark = "invented = true\n";
    const auto material = service::keep_materials(desk("fay"), materials(mark), intent());
    ASSERT_FALSE(material);
    EXPECT_EQ(material.error().code, ProblemCode::Refused);
    EXPECT_THAT(material.error().text(), HasSubstr("materials.toml:3"));
    EXPECT_THAT(material.error().message, HasSubstr("made as invented ones"));
    EXPECT_EQ(books_->newest("material", "sodium chloride").error().code, ProblemCode::NotFound);

    BW_MUST(service::keep_materials(desk("fay"), materials("invented = false\n"), intent()));
    BW_MUST(service::keep_supplier(desk("fay"),
                                   {"Invented salts",
                                    "1 Invented Road",
                                    {"sodium chloride"},
                                    works::SupplierState::Approved,
                                    "",
                                    "2026-12-31"},
                                   intent()));
    const auto lot = service::receive_lots(desk("fay"), lots(mark), {}, intent());
    ASSERT_FALSE(lot);
    EXPECT_EQ(lot.error().code, ProblemCode::Refused);
    BW_MUST(service::receive_lots(desk("fay"), lots(""), {}, intent()));
}

}  // namespace
}  // namespace bw::worksday
