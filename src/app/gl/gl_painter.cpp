#include "app/gl/gl_painter.h"

#include <glad/gl.h>

#include <cstdint>

namespace holdtrue::app::gl {

namespace {

// A still picture covers what is below it; to mix it in would cost software OpenGL as much as the rest of the window.
void cover(const ImDrawList*, const ImDrawCmd*) { glDisable(GL_BLEND); }

} // namespace

struct GlPainter::Slot {
    Picture picture;
    PictureContent shown;
    Eigen::Matrix4f view = Eigen::Matrix4f::Zero(), clip = Eigen::Matrix4f::Zero();
    Look look;
    int width_px = 0, height_px = 0;
    bool texture_is_current = false;
    // Where a moving picture is drawn when the window's own drawing comes to it.
    int left_px = 0, bottom_px = 0;

    bool upload(const PictureContent& content);
};

GlPainter::GlPainter() = default;
GlPainter::~GlPainter() = default;

// What has changed since the last picture; whether anything has.
bool GlPainter::Slot::upload(const PictureContent& content) {
    // A different view state has numbers of its own, so what is pointed to counts as well.
    const bool surface = content.surface != shown.surface || content.surface_number != shown.surface_number;
    const bool values =
        content.values && (surface || content.values != shown.values || content.values_number != shown.values_number);
    const bool lines = content.lines != shown.lines || content.lines_number != shown.lines_number;
    const bool scale = content.scale_rgb != shown.scale_rgb || content.scale_number != shown.scale_number;
    if (surface)
        picture.upload_surface(*content.surface);
    if (values)
        picture.upload_values(*content.values);
    if (lines)
        picture.upload_lines(*content.lines);
    if (scale && !content.scale_rgb->empty())
        picture.upload_scale(*content.scale_rgb);
    const bool changed =
        surface || values || lines || scale || (content.values == nullptr) != (shown.values == nullptr);
    shown = content;
    return changed;
}

void GlPainter::paint(ImDrawList& list, int number, const PictureContent& content, const scene::Projection& projection,
                      const Look& look, Quality quality, ImVec2 low, ImVec2 high) {
    auto& slot = slots_[static_cast<std::size_t>(number)];
    if (!slot)
        slot = std::make_unique<Slot>();
    const int width_px = static_cast<int>(high.x - low.x), height_px = static_cast<int>(high.y - low.y);
    const bool same = !slot->upload(content) && slot->view == projection.view_from_part &&
                      slot->clip == projection.clip_from_view && slot->look == look && slot->width_px == width_px &&
                      slot->height_px == height_px;
    slot->view = projection.view_from_part;
    slot->clip = projection.clip_from_view;
    slot->look = look;
    slot->width_px = width_px;
    slot->height_px = height_px;
    slot->texture_is_current = slot->texture_is_current && same;
    if (quality == Quality::moving && !slot->texture_is_current) {
        slot->left_px = static_cast<int>(low.x);
        slot->bottom_px = static_cast<int>(ImGui::GetIO().DisplaySize.y - high.y);
        const Eigen::Vector4f seen = slot->picture.bounds_px(slot->view, slot->clip, width_px, height_px);
        list.PushClipRect({low.x + seen[0], low.y + seen[1]}, {low.x + seen[2], low.y + seen[3]}, true);
        list.AddCallback(
            [](const ImDrawList*, const ImDrawCmd* command) {
                const Slot& drawn = *static_cast<const Slot*>(command->UserCallbackData);
                const ImVec4& clip = command->ClipRect;
                glScissor(static_cast<int>(clip.x), static_cast<int>(ImGui::GetIO().DisplaySize.y - clip.w),
                          static_cast<int>(clip.z - clip.x), static_cast<int>(clip.w - clip.y));
                drawn.picture.draw_into_window(drawn.view, drawn.clip, drawn.look, drawn.left_px, drawn.bottom_px,
                                               drawn.width_px, drawn.height_px);
            },
            slot.get());
        list.PopClipRect();
        list.AddCallback(ImDrawCallback_ResetRenderState, nullptr);
        return;
    }
    const auto texture = reinterpret_cast<ImTextureID>(static_cast<std::intptr_t>(slot->picture.texture()));
    if (!slot->texture_is_current) {
        slot->picture.draw_into_texture(slot->view, slot->clip, look, width_px, height_px);
        slot->texture_is_current = true;
        repainted_.push_back(texture);
    }
    list.AddCallback(cover, nullptr);
    list.AddImage(texture, low, high, {0, 1}, {1, 0});
    list.AddCallback(ImDrawCallback_ResetRenderState, nullptr);
}

} // namespace holdtrue::app::gl
