#include "app/gl/gl_painter.h"

#include <glad/gl.h>

#include <cstdint>

namespace holdtrue::app::gl {

ImTextureID GlPainter::paint(int slot, const PictureContent& content, const scene::Projection& projection,
                             const Look& look, Quality quality, int width_px, int height_px) {
    auto& held = slots_[static_cast<std::size_t>(slot)];
    if (!held)
        held = std::make_unique<Slot>();
    const PictureContent& shown = held->shown;
    // A different view state has numbers of its own, so what is pointed to counts as well.
    const bool surface = content.surface != shown.surface || content.surface_number != shown.surface_number;
    const bool values = content.values && (surface || content.values != shown.values ||
                                           content.values_number != shown.values_number);
    const bool lines = content.lines != shown.lines || content.lines_number != shown.lines_number;
    const bool scale = content.scale_rgb != shown.scale_rgb || content.scale_number != shown.scale_number;
    if (surface)
        held->picture.upload_surface(*content.surface);
    if (values)
        held->picture.upload_values(*content.values);
    if (lines)
        held->picture.upload_lines(*content.lines);
    if (scale && !content.scale_rgb->empty())
        held->picture.upload_scale(*content.scale_rgb);
    const bool same = !surface && !values && !lines && !scale && held->view == projection.view_from_part &&
                      held->clip == projection.clip_from_view && held->look == look &&
                      (held->quality == quality || held->quality == Quality::still) && held->width_px == width_px &&
                      held->height_px == height_px && (content.values == nullptr) == (shown.values == nullptr);
    if (!same) {
        held->picture.draw(projection, look, quality, width_px, height_px);
        held->quality = quality;
        ++pictures_drawn_;
    }
    held->shown = content;
    held->view = projection.view_from_part;
    held->clip = projection.clip_from_view;
    held->look = look;
    held->width_px = width_px;
    held->height_px = height_px;
    return reinterpret_cast<ImTextureID>(static_cast<std::intptr_t>(held->picture.texture()));
}

ImDrawCallback GlPainter::before_picture() const {
    return [](const ImDrawList*, const ImDrawCmd*) { glDisable(GL_BLEND); };
}

ImDrawCallback GlPainter::after_picture() const {
    return [](const ImDrawList*, const ImDrawCmd*) { glEnable(GL_BLEND); };
}

} // namespace holdtrue::app::gl
