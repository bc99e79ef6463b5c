// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "report/strip.hpp"

#include <algorithm>
#include <iterator>

#include <fmt/format.h>

namespace bw::report {
namespace {

constexpr double kRounding = 0.01;  // points: rounding of sums

/// Pages while they are filled.
struct Filling {
    const PageForm& form;
    std::vector<Drawing> done{1};
    double y = 0;           ///< from the top of the text area
    bool fresh = true;      ///< nothing on the page yet
    std::size_t under = 0;  ///< where in the page the open frame's box goes
    double frame_top = 0;
    std::shared_ptr<const Frame> frame{};
    std::string tag{};
    int part = 0;

    Drawing& page() { return done.back(); }

    void close_tag() {
        if (!tag.empty()) {
            page().emplace_back(TagItem{tag, false});
            tag.clear();
        }
    }

    void close_frame(bool broken) {
        if (!frame) {
            return;
        }
        close_tag();
        // Where the box goes on overleaf its edge stands in the margin.
        constexpr double kIntoMargin = 3;
        const double low = y + (broken ? std::min(frame->pad, kIntoMargin) : frame->pad);
        const double x = form.left + frame->x, top = form.top + frame_top;
        PathItem box = rectangle(x, top, frame->width, low - frame_top);
        box.fill = frame->fill;
        box.stroke = frame->stroke;
        Drawing behind{box};
        if (frame->edge) {
            behind.emplace_back(
                filled(rectangle(x, top, frame->edge_width, low - frame_top), *frame->edge));
        }
        page().insert(page().begin() + static_cast<std::ptrdiff_t>(under), behind.begin(),
                      behind.end());
        y = low;
        frame.reset();
    }

    void open_frame(const std::shared_ptr<const Frame>& next) {
        if (!next) {
            return;
        }
        close_tag();
        frame = next;
        frame_top = y;
        under = page().size();
        y += frame->pad;
    }

    void turn() {
        close_frame(true);
        close_tag();
        done.emplace_back();
        y = 0;
        fresh = true;
    }

    void put(const Strip& strip) {
        if (strip.tag != tag || strip.part != part) {
            close_tag();
            tag = strip.tag;
            part = strip.part;
            if (!tag.empty()) {
                page().emplace_back(TagItem{tag, true});
            }
        }
        Drawing items = strip.items;
        shift(items, form.left, form.top + y);
        append(page(), std::move(items));
        y += strip.height;
        fresh = false;
    }

    void place(const Strip& strip) {
        if (strip.frame != frame) {
            close_frame(false);
            y += fresh ? 0 : strip.before;
            open_frame(strip.frame);
        } else {
            y += fresh ? 0 : strip.before;
        }
        if (fresh && strip.head) {
            put(*strip.head);
        }
        put(strip);
    }
};

/// Height from the first to the last strip of the run that starts at `first`, with spaces.
double run_height(const Strips& strips, std::size_t first, std::size_t end, bool at_top) {
    double out = 0;
    for (std::size_t i = first; i < end; ++i) {
        out += strips[i].height + (i == first && at_top ? 0 : strips[i].before);
        const bool opens =
            strips[i].frame && (i == first || strips[i].frame != strips[i - 1].frame);
        const bool closes =
            strips[i].frame && (i + 1 == strips.size() || strips[i].frame != strips[i + 1].frame);
        out += (opens ? strips[i].frame->pad : 0) + (closes ? strips[i].frame->pad : 0);
    }
    if (at_top && strips[first].head) {
        out += strips[first].head->height;
    }
    return out;
}

}  // namespace

void append(Strips& to, Strips from) {
    to.insert(to.end(), std::make_move_iterator(from.begin()), std::make_move_iterator(from.end()));
}

Strip space(double height) {
    Strip out;
    out.before = height;
    return out;
}

void keep_together(Strips& strips) {
    for (std::size_t i = 0; i + 1 < strips.size(); ++i) {
        strips[i].with_next = true;
    }
}

Strip joined(const Strips& strips) {
    Strip out;
    for (const Strip& strip : strips) {
        out.height += &strip == &strips.front() ? 0 : strip.before;
        Drawing items = strip.tag.empty() ? strip.items : tagged(strip.tag, strip.items);
        shift(items, 0, out.height);
        append(out.items, std::move(items));
        out.height += strip.height;
    }
    return out;
}

Strip beside(const std::vector<Beside>& columns) {
    Strip out;
    for (const Beside& column : columns) {
        Strip one = joined(column.strips);
        shift(one.items, column.x, 0);
        append(out.items, std::move(one.items));
        out.height = std::max(out.height, one.height);
    }
    return out;
}

Strips framed(Strips strips, const Frame& frame) {
    const auto shared = std::make_shared<const Frame>(frame);
    for (Strip& strip : strips) {
        strip.frame = shared;
    }
    return strips;
}

Result<std::vector<Drawing>> pages(const Strips& strips, const PageForm& form,
                                   const Margins& margins) {
    constexpr std::size_t kMostPages = 500;
    const double room = form.text_height();
    Filling filling{form};
    for (std::size_t i = 0; i < strips.size(); ++i) {
        const Strip& strip = strips[i];
        if (run_height(strips, i, i + 1, true) > room + kRounding) {
            return fail(ProblemCode::TooLarge,
                        "a row or a box of the paper is higher than a page: shorten its texts");
        }
        // A run is looked at once, where it starts.
        std::size_t end = i + 1;
        if (i == 0 || !strips[i - 1].with_next) {
            while (end < strips.size() && strips[end - 1].with_next) {
                ++end;
            }
            if (run_height(strips, i, end, true) > room) {
                end = i + 1;
            }
        }
        const bool full = filling.y + run_height(strips, i, end, filling.fresh) > room + kRounding;
        if (!filling.fresh && (full || strip.new_page)) {
            filling.turn();
        }
        filling.place(strip);
        if (filling.done.size() > kMostPages) {
            return fail(ProblemCode::TooLarge,
                        fmt::format("the paper has more than {} pages", kMostPages));
        }
    }
    filling.close_frame(false);
    filling.close_tag();
    for (std::size_t page = 0; page < filling.done.size(); ++page) {
        append(filling.done[page], margins(page + 1, filling.done.size()));
    }
    return std::move(filling.done);
}

}  // namespace bw::report
