// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "store/fault_line.hpp"

#include "store/database.hpp"

namespace bw::store {

struct FaultLine::State {
    int left = 0;  // until the failing statement; 0: none is set
    Break how = Break::Refused;
    bool met = false;

    [[nodiscard]] bool due() {
        const bool now = left == 1;
        left -= left > 0 ? 1 : 0;
        met = met || now;
        return now;
    }
};

namespace {

// What libpq gives for a server whose disk is full; the transaction has failed with it.
constexpr const char* kSayFull =
    "DO $$ BEGIN RAISE EXCEPTION 'no space left on an invented disk' USING ERRCODE = '53100'; END "
    "$$";
constexpr const char* kEndMe = "SELECT pg_terminate_backend(pg_backend_pid())";

class Line : public Connection {
public:
    Line(std::unique_ptr<Connection> real, std::shared_ptr<FaultLine::State> state)
        : real_(std::move(real)), state_(std::move(state)) {}

    using Connection::query;
    Result<Rows> query(std::string_view sql, const Values& parameters) override {
        return passed([&] { return real_->query(sql, parameters); });
    }
    Result<void> each(const std::string& sql,
                      const std::function<Result<void>(Row&)>& take) override {
        return passed([&] { return real_->each(sql, take); });
    }
    Result<void> script(const std::string& sql) override {
        return passed([&] { return real_->script(sql); });
    }
    Result<void> begin(Access access) override {
        return passed([&] { return real_->begin(access); });
    }
    Result<void> commit() override {
        return passed([&] { return real_->commit(); });
    }
    void rollback() override { real_->rollback(); }
    [[nodiscard]] Dialect dialect() const override { return real_->dialect(); }
    [[nodiscard]] bool lost() const override { return real_->lost(); }
    [[nodiscard]] bool sync_failed() const override { return real_->sync_failed(); }

private:
    template <class Pass>
    auto passed(Pass pass) -> decltype(pass()) {
        if (!state_->due()) {
            return pass();
        }
        if (state_->how == Break::Refused) {
            return tl::make_unexpected(refusal());
        }
        if (state_->how == Break::AnswerLost) {
            static_cast<void>(pass());
        }
        static_cast<void>(real_->script(kEndMe));
        return tl::make_unexpected(real_->script("SELECT 1").error());
    }
    [[nodiscard]] Problem refusal() {
        return dialect() == Dialect::Sqlite
                   ? Problem{ProblemCode::Disk, "an invented disk failed", {}}
                   : real_->script(kSayFull).error();
    }

    std::unique_ptr<Connection> real_;
    std::shared_ptr<FaultLine::State> state_;
};

}  // namespace

FaultLine::FaultLine() : state_(std::make_shared<State>()) {}

Between FaultLine::between() const {
    return [state = state_](std::unique_ptr<Connection> real) {
        return std::make_unique<Line>(std::move(real), state);
    };
}

void FaultLine::break_at(int n, Break how) { *state_ = {n, how, false}; }

bool FaultLine::mend() {
    state_->left = 0;
    return state_->met;
}

}  // namespace bw::store
