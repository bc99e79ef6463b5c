// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "report/pdf.hpp"

#include <algorithm>
#include <array>
#include <memory>
#include <numbers>
#include <type_traits>
#include <utility>

#include <cairo-ft.h>
#include <cairo-pdf.h>
#include <fmt/format.h>
#include <ft2build.h>
#include FT_FREETYPE_H

#include "base/text.hpp"

namespace bw::report {
namespace {

constexpr std::size_t kFaces = 3;

template <class T, auto kRelease>
struct Releaser {
    void operator()(T* owned) const { kRelease(owned); }
};
template <class T, auto kRelease>
using Owned = std::unique_ptr<T, Releaser<T, kRelease>>;

using Library = std::remove_pointer_t<FT_Library>;

/// What a cairo face needs to live; cairo lets go of it when its own cache does.
struct Held {
    std::shared_ptr<Library> library;  // goes last
    FT_Face face = nullptr;

    static void let_go(void* held) {
        const std::unique_ptr<Held> owned(static_cast<Held*>(held));
        FT_Done_Face(owned->face);
    }
};

/// cairo's view of the embedded faces.
struct PaintFaces {
    std::array<Owned<cairo_font_face_t, cairo_font_face_destroy>, kFaces> faces;

    [[nodiscard]] bool open() {
        static const cairo_user_data_key_t kKey{};
        FT_Library opened = nullptr;
        if (FT_Init_FreeType(&opened) != 0) {
            return false;
        }
        const std::shared_ptr<Library> library(opened, FT_Done_FreeType);
        for (std::size_t i = 0; i < kFaces; ++i) {
            const auto bytes = font_bytes(static_cast<Face>(i));
            auto held = std::make_unique<Held>(Held{library, nullptr});
            if (FT_New_Memory_Face(opened, bytes.data(), static_cast<FT_Long>(bytes.size()), 0,
                                   &held->face) != 0) {
                return false;
            }
            faces.at(i).reset(
                cairo_ft_font_face_create_for_ft_face(held->face, FT_LOAD_NO_HINTING));
            if (cairo_font_face_set_user_data(faces.at(i).get(), &kKey, held.get(), Held::let_go) !=
                CAIRO_STATUS_SUCCESS) {
                return false;
            }
            static_cast<void>(held.release());  // cairo's now
        }
        return true;
    }
};

cairo_status_t write_to_string(void* closure, const unsigned char* data, unsigned length) {
    static_cast<std::string*>(closure)->append(reinterpret_cast<const char*>(data),
                                               length);  // NOLINT(*-reinterpret-cast)
    return CAIRO_STATUS_SUCCESS;
}

/// Paints drawings on one surface.
struct Painter {
    cairo_t* cr;
    const PaintFaces& faces;
    const Typeface& typeface;

    void ink(const Colour& c) const { cairo_set_source_rgb(cr, c.red, c.green, c.blue); }

    void paint(const TextItem& item) const {
        const std::vector<Glyph> shaped = typeface.shape(item.text, item.style);
        if (shaped.empty()) {
            return;
        }
        cairo_save(cr);
        cairo_translate(cr, item.x, item.baseline);
        if (item.upwards) {
            cairo_rotate(cr, -std::numbers::pi / 2);
        }
        double x = 0;
        for (const Glyph& glyph : shaped) {
            x -= item.anchor == Anchor::Start    ? 0
                 : item.anchor == Anchor::Middle ? glyph.advance / 2
                                                 : glyph.advance;
        }
        std::vector<cairo_glyph_t> glyphs;
        std::vector<cairo_text_cluster_t> clusters;
        for (std::size_t i = 0; i < shaped.size(); ++i) {
            glyphs.push_back({shaped[i].index, x + shaped[i].dx, -shaped[i].dy});
            x += shaped[i].advance;
            if (i > 0 && shaped[i].byte == shaped[i - 1].byte) {
                ++clusters.back().num_glyphs;
                continue;
            }
            std::size_t next = i;
            while (next < shaped.size() && shaped[next].byte == shaped[i].byte) {
                ++next;
            }
            const std::size_t end = next < shaped.size() ? shaped[next].byte : item.text.size();
            clusters.push_back({static_cast<int>(end - shaped[i].byte), 1});
        }
        cairo_set_font_face(cr, faces.faces.at(static_cast<std::size_t>(item.style.face)).get());
        cairo_set_font_size(cr, item.style.size);
        ink(item.style.colour);
        cairo_show_text_glyphs(cr, item.text.data(), static_cast<int>(item.text.size()),
                               glyphs.data(), static_cast<int>(glyphs.size()), clusters.data(),
                               static_cast<int>(clusters.size()), {});
        cairo_restore(cr);
    }

    void paint(const PathItem& item) const {
        cairo_new_path(cr);
        for (const PathStep& step : item.steps) {
            switch (step.kind) {
                case PathStep::Kind::Move:
                    cairo_move_to(cr, step.x, step.y);
                    break;
                case PathStep::Kind::Line:
                    cairo_line_to(cr, step.x, step.y);
                    break;
                case PathStep::Kind::Curve:
                    cairo_curve_to(cr, step.x1, step.y1, step.x2, step.y2, step.x, step.y);
                    break;
                case PathStep::Kind::Close:
                    cairo_close_path(cr);
                    break;
            }
        }
        if (item.fill) {
            ink(*item.fill);
            cairo_fill_preserve(cr);
        }
        if (item.stroke) {
            ink(item.stroke->colour);
            cairo_set_line_width(cr, item.stroke->width);
            cairo_set_dash(cr, item.stroke->dash.data(), static_cast<int>(item.stroke->dash.size()),
                           0);
            cairo_stroke_preserve(cr);
        }
        cairo_new_path(cr);
    }

    void paint(const TagItem& item) const {
        if (item.begin) {
            cairo_tag_begin(cr, item.name.c_str(), nullptr);
        } else {
            cairo_tag_end(cr, item.name.c_str());
        }
    }
};

void state_facts(cairo_surface_t* surface, const FileFacts& facts) {
    const auto set = [&](cairo_pdf_metadata_t which, const std::string& text) {
        if (!text.empty()) {
            cairo_pdf_surface_set_metadata(surface, which, text.c_str());
        }
    };
    set(CAIRO_PDF_METADATA_TITLE, facts.title);
    set(CAIRO_PDF_METADATA_AUTHOR, facts.author);
    set(CAIRO_PDF_METADATA_SUBJECT, facts.subject);
    set(CAIRO_PDF_METADATA_KEYWORDS, facts.keywords);
    set(CAIRO_PDF_METADATA_CREATOR, "brinewright");
    set(CAIRO_PDF_METADATA_CREATE_DATE, facts.created);
    set(CAIRO_PDF_METADATA_MOD_DATE, facts.created);
}

}  // namespace

Result<void> check_created(const std::string& created) {
    constexpr std::string_view kForm = "dddd-dd-ddTdd:dd:ddZ";
    const bool fits = created.size() == kForm.size() &&
                      std::equal(created.begin(), created.end(), kForm.begin(), [](char c, char f) {
                          return f == 'd' ? base::is_digit(c) : c == f;
                      });
    const auto part = [&](std::size_t at, int low, int high) {
        const int value = (created[at] - '0') * 10 + (created[at + 1] - '0');
        return value >= low && value <= high;
    };
    constexpr std::size_t kMonth = 5, kDay = 8, kHour = 11, kMinute = 14, kSecond = 17;
    constexpr int kMonths = 12, kDays = 31, kHours = 23, kSixty = 59;
    if (fits && part(kMonth, 1, kMonths) && part(kDay, 1, kDays) && part(kHour, 0, kHours) &&
        part(kMinute, 0, kSixty) && part(kSecond, 0, kSixty)) {
        return {};
    }
    return fail(
        ProblemCode::BadInput,
        fmt::format("{} is not a UTC time of the form 2026-03-09T14:05:00Z; a paper carries "
                    "the time of its record",
                    base::quoted(created)),
        {{}, 0, "created"});
}

Result<void> looked_over(const Drawing& page, PageSize size, const Typeface& typeface) {
    constexpr double kRounding = 0.01;  // of a point: rounding of sums
    for (const Item& item : page) {
        const auto* text = std::get_if<TextItem>(&item);
        if (text == nullptr) {
            continue;
        }
        BW_CHECK(typeface.printable(text->text, text->style.face));
        const double width = typeface.width(text->text, text->style);
        const double start = text->anchor == Anchor::Start    ? 0
                             : text->anchor == Anchor::Middle ? -width / 2
                                                              : -width;
        const double up = typeface.ascent(text->style), down = typeface.descent(text->style);
        const double left = text->upwards ? text->x - up : text->x + start;
        const double right = text->upwards ? text->x + down : left + width;
        const double top = text->upwards ? text->baseline - start - width : text->baseline - up;
        const double low = text->upwards ? text->baseline - start : text->baseline + down;
        if (left < -kRounding || right > size.width + kRounding || top < -kRounding ||
            low > size.height + kRounding) {
            return fail(ProblemCode::Internal,
                        fmt::format("the text {} does not lie on the page of {:.0f} by {:.0f} "
                                    "points: it runs from ({:.1f}, {:.1f}) to ({:.1f}, {:.1f})",
                                    base::quoted(text->text), size.width, size.height, left, top,
                                    right, low));
        }
    }
    return {};
}

Result<std::string> pdf_bytes(std::span<const Drawing> pages, PageSize size, const FileFacts& facts,
                              const Typeface& typeface) {
    BW_CHECK(check_created(facts.created));
    for (const std::string* text : {&facts.title, &facts.author, &facts.subject, &facts.keywords}) {
        BW_CHECK(typeface.printable(*text, Face::Regular));
    }
    for (const Drawing& page : pages) {
        BW_CHECK(looked_over(page, size, typeface));
    }
    std::string out;
    PaintFaces faces;
    if (!faces.open()) {
        return fail(ProblemCode::Internal, "the papers' typeface in the program cannot be read");
    }
    const Owned<cairo_surface_t, cairo_surface_destroy> surface(
        cairo_pdf_surface_create_for_stream(write_to_string, &out, size.width, size.height));
    constexpr auto kVersion = CAIRO_PDF_VERSION_1_5;
    cairo_pdf_surface_restrict_to_version(surface.get(), kVersion);
    state_facts(surface.get(), facts);
    cairo_status_t status = CAIRO_STATUS_SUCCESS;
    {
        const Owned<cairo_t, cairo_destroy> cr(cairo_create(surface.get()));
        const Owned<cairo_font_options_t, cairo_font_options_destroy> options(
            cairo_font_options_create());
        cairo_font_options_set_hint_metrics(options.get(), CAIRO_HINT_METRICS_OFF);
        cairo_font_options_set_hint_style(options.get(), CAIRO_HINT_STYLE_NONE);
        cairo_set_font_options(cr.get(), options.get());
        const Painter painter{cr.get(), faces, typeface};
        // cairo calls a file tagged whose structure has the one root "Document".
        cairo_tag_begin(cr.get(), "Document", nullptr);
        for (const Drawing& page : pages) {
            if (&page != &pages.front()) {
                cairo_show_page(cr.get());
            }
            for (const Item& item : page) {
                std::visit([&](const auto& one) { painter.paint(one); }, item);
            }
        }
        cairo_tag_end(cr.get(), "Document");
        status = cairo_status(cr.get());
    }
    cairo_surface_finish(surface.get());
    if (status == CAIRO_STATUS_SUCCESS) {
        status = cairo_surface_status(surface.get());
    }
    if (status != CAIRO_STATUS_SUCCESS) {
        return fail(ProblemCode::Internal,
                    fmt::format("the PDF cannot be written: {}", cairo_status_to_string(status)));
    }
    return out;
}

}  // namespace bw::report
