#include "app/gl/gl_painter.h"

#include <glad/gl.h>

#include <algorithm>
#include <cstdint>

namespace holdtrue::app::gl {

namespace {

// A still picture covers what is below it; to mix it in would cost software OpenGL as much as the rest of the window.
void cover(const ImDrawList*, const ImDrawCmd*) { glDisable(GL_BLEND); }

} // namespace

struct GlPainter::Slot {
    Picture picture;
    PictureContent shown;
    scene::View view;
    Look look;
    bool texture_is_current = false;
    bool values_are_exact = true;
    // Where a moving picture is drawn when the window's own drawing comes to it.
    int left_px = 0, top_px = 0, bottom_px = 0;

    bool upload(const PictureContent& content, Quality quality);
};

GlPainter::GlPainter() = default;
GlPainter::~GlPainter() = default;

// What has changed since the last picture; whether that takes more than ShownPart::take_changed() tells.
bool GlPainter::Slot::upload(const PictureContent& content, Quality quality) {
    // A different view state has numbers of its own, so what is pointed to counts as well.
    const bool surface = content.surface != shown.surface || content.surface_number != shown.surface_number;
    const bool values =
        content.values && (surface || content.values != shown.values || content.values_number != shown.values_number ||
                           (quality == Quality::still && !values_are_exact));
    const bool lines = content.lines != shown.lines || content.lines_number != shown.lines_number;
    const bool scale = content.scale_rgb != shown.scale_rgb || content.scale_number != shown.scale_number;
    if (surface)
        picture.upload_surface(*content.surface);
    if (values) {
        // A colour of the scale stands for this much; less than half of it is not seen.
        const float step =
            (look.high - look.low) / static_cast<float>(std::max<std::size_t>(content.scale_rgb->size() / 3, 1));
        picture.upload_values(*content.values, quality == Quality::still ? 0 : 0.4f * step);
        values_are_exact = quality == Quality::still;
    }
    if (lines)
        picture.upload_lines(*content.lines);
    if (scale && !content.scale_rgb->empty())
        picture.upload_scale(*content.scale_rgb);
    const bool changed = surface || scale || (content.values == nullptr) != (shown.values == nullptr);
    shown = content;
    return changed;
}

void GlPainter::paint(ImDrawList& list, int number, const PictureContent& content, const scene::Projection& projection,
                      const Look& look, Quality quality, ImVec2 low, ImVec2 high) {
    auto& slot = slots_[static_cast<std::size_t>(number)];
    if (!slot)
        slot = std::make_unique<Slot>();
    const scene::View view{projection.view_from_part, projection.clip_from_view, static_cast<int>(high.x - low.x),
                           static_cast<int>(high.y - low.y)};
    const int left_px = static_cast<int>(low.x), top_px = static_cast<int>(low.y);
    bool same = slot->view == view && slot->look == look && slot->left_px == left_px && slot->top_px == top_px;
    slot->look = look;
    slot->view = view;
    slot->left_px = left_px;
    slot->top_px = top_px;
    slot->bottom_px = static_cast<int>(ImGui::GetIO().DisplaySize.y - high.y);
    same = !slot->upload(content, quality) && same;
    slot->picture.shown().aim(view);
    std::vector<PixelBox> changed = slot->picture.shown().take_changed();
    slot->texture_is_current = slot->texture_is_current && same && changed.empty();
    if (quality == Quality::moving && !slot->texture_is_current) {
        const PixelBox seen = moved(slot->picture.shown().bounds(), left_px, top_px);
        if (!same)
            changed = {slot->picture.shown().bounds()};
        for (const PixelBox& box : changed)
            repainted_.boxes.push_back(moved(box, left_px, top_px));
        list.PushClipRect({static_cast<float>(seen.left), static_cast<float>(seen.top)},
                          {static_cast<float>(seen.right), static_cast<float>(seen.bottom)}, true);
        list.AddCallback(
            [](const ImDrawList*, const ImDrawCmd* command) {
                const Slot& drawn = *static_cast<const Slot*>(command->UserCallbackData);
                const PixelBox clip{static_cast<int>(command->ClipRect.x), static_cast<int>(command->ClipRect.y),
                                    static_cast<int>(command->ClipRect.z), static_cast<int>(command->ClipRect.w)};
                glScissor(clip.left, static_cast<int>(ImGui::GetIO().DisplaySize.y) - clip.bottom,
                          clip.right - clip.left, clip.bottom - clip.top);
                drawn.picture.draw_into_window(drawn.look, drawn.left_px, drawn.bottom_px,
                                               moved(clip, -drawn.left_px, -drawn.top_px));
            },
            slot.get());
        list.PopClipRect();
        list.AddCallback(ImDrawCallback_ResetRenderState, nullptr);
        return;
    }
    const auto texture = reinterpret_cast<ImTextureID>(static_cast<std::intptr_t>(slot->picture.texture()));
    if (!slot->texture_is_current) {
        slot->picture.draw_into_texture(look);
        slot->texture_is_current = true;
        repainted_.textures.push_back(texture);
    }
    list.AddCallback(cover, nullptr);
    list.AddImage(texture, low, high, {0, 1}, {1, 0});
    list.AddCallback(ImDrawCallback_ResetRenderState, nullptr);
}

} // namespace holdtrue::app::gl
