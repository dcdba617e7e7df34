// The 3D picture of the part: what scene/ made, uploaded once, and drawn into a texture with four samples
// per pixel or straight into the window.
// Needs a current OpenGL 3.3 context from construction to destruction, on one thread.
#pragma once

#include "app/gl/look.h"
#include "app/gl/shader.h"
#include "app/scene/camera.h"
#include "app/scene/lines.h"
#include "app/scene/triangle_runs.h"

#include <Eigen/Geometry>

#include <cstdint>
#include <span>
#include <vector>

namespace holdtrue::app::gl {

class Picture {
public:
    Picture();
    ~Picture();
    Picture(const Picture&) = delete;
    Picture& operator=(const Picture&) = delete;

    void upload_surface(const scene::Surface& surface);
    // One value per mesh node, spread to the vertices of the surface uploaded last.
    void upload_values(std::span<const float> per_node);
    void upload_lines(std::span<const scene::Segment> lines);
    void upload_scale(std::span<const std::uint8_t> rgb); // any number of entries, evenly from Look::low to high

    void draw_into_texture(const Eigen::Matrix4f& view_from_part, const Eigen::Matrix4f& clip_from_view,
                           const Look& look, int width_px, int height_px);
    // Where its picture lies in a view of that size: left, top, right, bottom from the upper left corner, whole pixels.
    Eigen::Vector4f bounds_px(const Eigen::Matrix4f& view_from_part, const Eigen::Matrix4f& clip_from_view,
                              int width_px, int height_px) const;
    // Into a rectangle of the framebuffer that is bound, cleared before in colour, as far as the scissor lets it.
    // Clears all depths, which software OpenGL does in less time than a part of them; leaves the viewport on the
    // rectangle.
    void draw_into_window(const Eigen::Matrix4f& view_from_part, const Eigen::Matrix4f& clip_from_view,
                          const Look& look, int left_px, int bottom_px, int width_px, int height_px) const;
    unsigned texture() const { return resolved_texture_; }

private:
    void draw_surface(const Eigen::Matrix4f& view_from_part, const Eigen::Matrix4f& clip_from_view,
                      const Look& look) const;
    void resize(int width_px, int height_px);
    void draw(const Eigen::Matrix4f& view_from_part, const Eigen::Matrix4f& clip_from_view, const Look& look,
              int width_px, int height_px) const;

    Shader metal_shader_, field_shader_, isoline_shader_, line_shader_;
    unsigned surface_array_ = 0, position_buffer_ = 0, value_buffer_ = 0, index_buffer_ = 0;
    unsigned line_array_ = 0, line_buffer_ = 0, line_index_buffer_ = 0, scale_texture_ = 0;
    unsigned drawn_ = 0, drawn_colour_ = 0, drawn_depth_ = 0, resolved_ = 0, resolved_texture_ = 0;
    int width_px_ = 0, height_px_ = 0;
    int scale_entries_ = 1;
    int line_count_ = 0;
    float widest_line_px_ = 0;
    Eigen::AlignedBox3f surface_box_, line_box_; // of the part
    std::vector<scene::TriangleRun> runs_;       // of the surface
    std::vector<std::uint32_t> triangle_;
    std::vector<int> node_of_vertex_;
    std::vector<float> vertex_values_;
};

} // namespace holdtrue::app::gl
