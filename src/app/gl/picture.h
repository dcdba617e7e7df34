// The 3D picture of the part: what scene/ made, uploaded once, and drawn into a texture with four samples
// per pixel or straight into the window.
// Needs a current OpenGL 3.3 context from construction to destruction, on one thread.
#pragma once

#include "app/gl/look.h"
#include "app/gl/shader.h"
#include "app/scene/shown_part.h"

#include <cstdint>
#include <span>

namespace holdtrue::app::gl {

class Picture {
public:
    Picture();
    ~Picture();
    Picture(const Picture&) = delete;
    Picture& operator=(const Picture&) = delete;

    void upload_surface(const scene::Surface& surface);
    void upload_values(std::span<const float> per_node, float unseen); // as ShownPart::set_values()
    void upload_lines(std::span<const scene::Segment> lines);
    void upload_scale(std::span<const std::uint8_t> rgb); // any number of entries, evenly from Look::low to high

    // From where it is drawn, and what of it has changed.
    scene::ShownPart& shown() { return shown_; }

    void draw_into_texture(const Look& look);
    // Into a rectangle of the framebuffer that is bound, cleared before in colour and depth, as far as the scissor lets
    // it; `box` of the view is all that the scissor leaves. Leaves the viewport on the rectangle.
    void draw_into_window(const Look& look, int left_px, int bottom_px, const PixelBox& box) const;
    unsigned texture() const { return resolved_texture_; }

private:
    void draw(const Look& look, const PixelBox& box) const;
    void draw_surface(const Look& look, const PixelBox& box) const;
    void draw_lines(const PixelBox& box) const;
    void resize_texture();

    Shader metal_shader_, field_shader_, isoline_shader_, line_shader_;
    unsigned surface_array_ = 0, position_buffer_ = 0, value_buffer_ = 0, index_buffer_ = 0;
    unsigned line_array_ = 0, line_buffer_ = 0, line_index_buffer_ = 0, scale_texture_ = 0;
    unsigned drawn_ = 0, drawn_colour_ = 0, drawn_depth_ = 0, resolved_ = 0, resolved_texture_ = 0;
    int texture_width_px_ = 0, texture_height_px_ = 0;
    int scale_entries_ = 1;
    scene::ShownPart shown_;
};

} // namespace holdtrue::app::gl
