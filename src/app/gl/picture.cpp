#include "app/gl/picture.h"

#include "app/gl/shader_sources.h"

#include <glad/gl.h>

#include <algorithm>
#include <cstddef>

namespace holdtrue::app::gl {

namespace {

struct Vertex {
    Eigen::Vector3f position, normal;
};

template <class T>
void fill(GLenum target, unsigned buffer, std::span<const T> data, GLenum usage) {
    glBindBuffer(target, buffer);
    glBufferData(target, static_cast<GLsizeiptr>(data.size_bytes()), data.data(), usage);
}

void attribute(unsigned index, int count, GLenum type, bool normalised, std::size_t stride, std::size_t offset) {
    glEnableVertexAttribArray(index);
    glVertexAttribPointer(index, count, type, normalised ? GL_TRUE : GL_FALSE, static_cast<GLsizei>(stride),
                          reinterpret_cast<const void*>(offset));
}

} // namespace

Picture::Picture()
    : metal_shader_(surface_vertex, metal_fragment), field_shader_(surface_vertex, field_fragment),
      isoline_shader_(surface_vertex, isoline_fragment), line_shader_(line_vertex, line_fragment) {
    for (unsigned* array : {&surface_array_, &line_array_})
        glGenVertexArrays(1, array);
    for (unsigned* buffer : {&position_buffer_, &value_buffer_, &index_buffer_, &line_buffer_, &line_index_buffer_})
        glGenBuffers(1, buffer);

    glBindVertexArray(surface_array_);
    glBindBuffer(GL_ARRAY_BUFFER, position_buffer_);
    attribute(0, 3, GL_FLOAT, false, sizeof(Vertex), offsetof(Vertex, position));
    attribute(1, 3, GL_FLOAT, false, sizeof(Vertex), offsetof(Vertex, normal));
    glBindBuffer(GL_ARRAY_BUFFER, value_buffer_);
    attribute(2, 1, GL_FLOAT, false, sizeof(float), 0);
    glBindBuffer(GL_ELEMENT_ARRAY_BUFFER, index_buffer_);

    glBindVertexArray(line_array_);
    glBindBuffer(GL_ARRAY_BUFFER, line_buffer_);
    using scene::Segment;
    attribute(0, 3, GL_FLOAT, false, sizeof(Segment), offsetof(Segment, a));
    attribute(1, 3, GL_FLOAT, false, sizeof(Segment), offsetof(Segment, b));
    attribute(2, 4, GL_UNSIGNED_BYTE, true, sizeof(Segment), offsetof(Segment, colour));
    attribute(3, 1, GL_FLOAT, false, sizeof(Segment), offsetof(Segment, width_px));
    attribute(4, 1, GL_FLOAT, false, sizeof(Segment), offsetof(Segment, lift));
    glBindBuffer(GL_ELEMENT_ARRAY_BUFFER, line_index_buffer_);
    glBindVertexArray(0);

    glGenTextures(1, &scale_texture_);
    glBindTexture(GL_TEXTURE_2D, scale_texture_);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);

    glGenFramebuffers(1, &drawn_);
    glGenFramebuffers(1, &resolved_);
    glGenRenderbuffers(1, &drawn_colour_);
    glGenRenderbuffers(1, &drawn_depth_);
    glGenTextures(1, &resolved_texture_);
}

Picture::~Picture() {
    for (unsigned* array : {&surface_array_, &line_array_})
        glDeleteVertexArrays(1, array);
    for (unsigned* buffer : {&position_buffer_, &value_buffer_, &index_buffer_, &line_buffer_, &line_index_buffer_})
        glDeleteBuffers(1, buffer);
    glDeleteFramebuffers(1, &drawn_);
    glDeleteFramebuffers(1, &resolved_);
    glDeleteRenderbuffers(1, &drawn_colour_);
    glDeleteRenderbuffers(1, &drawn_depth_);
    glDeleteTextures(1, &resolved_texture_);
    glDeleteTextures(1, &scale_texture_);
}

void Picture::upload_surface(const scene::Surface& surface) {
    std::vector<Vertex> vertices(surface.position.size());
    surface_box_.setEmpty();
    for (std::size_t k = 0; k < vertices.size(); ++k) {
        vertices[k] = {surface.position[k], surface.normal[k]};
        surface_box_.extend(surface.position[k]);
    }
    glBindVertexArray(0);
    fill<Vertex>(GL_ARRAY_BUFFER, position_buffer_, vertices, GL_DYNAMIC_DRAW);
    fill<std::uint32_t>(GL_ARRAY_BUFFER, index_buffer_, surface.triangle, GL_DYNAMIC_DRAW);
    runs_ = scene::triangle_runs(surface);
    triangle_ = surface.triangle;
    node_of_vertex_ = surface.node;
    vertex_values_.assign(node_of_vertex_.size(), 0.0f);
    fill<float>(GL_ARRAY_BUFFER, value_buffer_, vertex_values_, GL_STREAM_DRAW);
}

void Picture::upload_values(std::span<const float> per_node) {
    for (std::size_t k = 0; k < vertex_values_.size(); ++k)
        vertex_values_[k] = per_node[static_cast<std::size_t>(node_of_vertex_[k])];
    fill<float>(GL_ARRAY_BUFFER, value_buffer_, vertex_values_, GL_STREAM_DRAW);
    scene::span_values(runs_, triangle_, vertex_values_);
}

void Picture::upload_lines(std::span<const scene::Segment> lines) {
    std::vector<scene::Segment> corners;
    std::vector<std::uint32_t> triangles;
    corners.reserve(4 * lines.size());
    triangles.reserve(6 * lines.size());
    for (const scene::Segment& line : lines) {
        const auto first = static_cast<std::uint32_t>(corners.size());
        corners.insert(corners.end(), 4, line);
        for (const std::uint32_t corner : {0u, 1u, 2u, 2u, 1u, 3u})
            triangles.push_back(first + corner);
    }
    glBindVertexArray(0);
    fill<scene::Segment>(GL_ARRAY_BUFFER, line_buffer_, corners, GL_DYNAMIC_DRAW);
    fill<std::uint32_t>(GL_ARRAY_BUFFER, line_index_buffer_, triangles, GL_DYNAMIC_DRAW);
    line_count_ = static_cast<int>(lines.size());
    line_box_.setEmpty();
    widest_line_px_ = 0;
    for (const scene::Segment& line : lines) {
        line_box_.extend(line.a);
        line_box_.extend(line.b);
        widest_line_px_ = std::max(widest_line_px_, line.width_px);
    }
}

void Picture::upload_scale(std::span<const std::uint8_t> rgb) {
    glBindTexture(GL_TEXTURE_2D, scale_texture_);
    glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
    scale_entries_ = static_cast<int>(rgb.size() / 3);
    glTexImage2D(GL_TEXTURE_2D, 0, GL_RGB8, scale_entries_, 1, 0, GL_RGB, GL_UNSIGNED_BYTE, rgb.data());
}

void Picture::resize(int width_px, int height_px) {
    if (width_px == width_px_ && height_px == height_px_)
        return;
    width_px_ = width_px;
    height_px_ = height_px;
    constexpr int samples = 4; // that every OpenGL 3.3 has
    glBindRenderbuffer(GL_RENDERBUFFER, drawn_colour_);
    glRenderbufferStorageMultisample(GL_RENDERBUFFER, samples, GL_RGBA8, width_px, height_px);
    glBindRenderbuffer(GL_RENDERBUFFER, drawn_depth_);
    glRenderbufferStorageMultisample(GL_RENDERBUFFER, samples, GL_DEPTH_COMPONENT24, width_px, height_px);
    glBindFramebuffer(GL_FRAMEBUFFER, drawn_);
    glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_RENDERBUFFER, drawn_colour_);
    glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_DEPTH_ATTACHMENT, GL_RENDERBUFFER, drawn_depth_);

    glBindTexture(GL_TEXTURE_2D, resolved_texture_);
    glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA8, width_px, height_px, 0, GL_RGBA, GL_UNSIGNED_BYTE, nullptr);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_NEAREST);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_NEAREST);
    glBindFramebuffer(GL_FRAMEBUFFER, resolved_);
    glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, resolved_texture_, 0);
}

void Picture::draw_into_texture(const Eigen::Matrix4f& view_from_part, const Eigen::Matrix4f& clip_from_view,
                                const Look& look, int width_px, int height_px) {
    resize(std::max(width_px, 1), std::max(height_px, 1));
    glBindFramebuffer(GL_FRAMEBUFFER, drawn_);
    glViewport(0, 0, width_px_, height_px_);
    glDisable(GL_SCISSOR_TEST);
    glDepthMask(GL_TRUE);
    glClearColor(look.background.x(), look.background.y(), look.background.z(), 1);
    glClear(GL_COLOR_BUFFER_BIT | GL_DEPTH_BUFFER_BIT);
    draw(view_from_part, clip_from_view, look, width_px_, height_px_);
    glBindFramebuffer(GL_READ_FRAMEBUFFER, drawn_);
    glBindFramebuffer(GL_DRAW_FRAMEBUFFER, resolved_);
    glBlitFramebuffer(0, 0, width_px_, height_px_, 0, 0, width_px_, height_px_, GL_COLOR_BUFFER_BIT, GL_NEAREST);
    glBindFramebuffer(GL_FRAMEBUFFER, 0);
}

Eigen::Vector4f Picture::bounds_px(const Eigen::Matrix4f& view_from_part, const Eigen::Matrix4f& clip_from_view,
                                   int width_px, int height_px) const {
    const Eigen::Array2f size(static_cast<float>(width_px), static_cast<float>(height_px));
    const Eigen::Matrix4f clip_from_part = clip_from_view * view_from_part;
    const Eigen::AlignedBox3f box = surface_box_.merged(line_box_);
    Eigen::AlignedBox2f seen;
    for (int k = 0; k < 8 && !box.isEmpty(); ++k) {
        const Eigen::Vector3f corner = box.corner(static_cast<Eigen::AlignedBox3f::CornerType>(k));
        const Eigen::Vector4f clip = clip_from_part * corner.homogeneous();
        if (clip.w() <= 1e-6f) // behind the eye
            return {0, 0, size.x(), size.y()};
        seen.extend(Eigen::Vector2f((0.5f + 0.5f * clip.x() / clip.w()) * size.x(),
                                    (0.5f - 0.5f * clip.y() / clip.w()) * size.y()));
    }
    if (seen.isEmpty())
        return Eigen::Vector4f::Zero();
    const float soft = 0.5f * widest_line_px_ + 2; // lines reach so far beyond their ends
    const Eigen::Array2f low = (seen.min().array() - soft).floor().max(0).min(size);
    const Eigen::Array2f high = (seen.max().array() + soft).ceil().max(0).min(size);
    return {low.x(), low.y(), high.x(), high.y()};
}

void Picture::draw_into_window(const Eigen::Matrix4f& view_from_part, const Eigen::Matrix4f& clip_from_view,
                               const Look& look, int left_px, int bottom_px, int width_px, int height_px) const {
    glViewport(left_px, bottom_px, width_px, height_px);
    draw(view_from_part, clip_from_view, look, width_px, height_px);
}

void Picture::draw(const Eigen::Matrix4f& view_from_part, const Eigen::Matrix4f& clip_from_view, const Look& look,
                   int width_px, int height_px) const {
    glEnable(GL_DEPTH_TEST);
    glDepthFunc(GL_LEQUAL);
    glDepthMask(GL_TRUE);
    glDisable(GL_BLEND);
    glActiveTexture(GL_TEXTURE0);
    glBindTexture(GL_TEXTURE_2D, scale_texture_);
    glBindVertexArray(surface_array_);
    glEnable(GL_CULL_FACE); // the skin is closed: what turns its back lies behind something
    draw_surface(view_from_part, clip_from_view, look);
    glDisable(GL_CULL_FACE);

    glEnable(GL_BLEND);
    glBlendFunc(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA);
    glDepthMask(GL_FALSE); // soft edges of a line hide nothing
    line_shader_.use();
    line_shader_.set("view_from_part", view_from_part);
    line_shader_.set("clip_from_view", clip_from_view);
    line_shader_.set("view_px", Eigen::Vector2f(static_cast<float>(width_px), static_cast<float>(height_px)));
    glBindVertexArray(line_array_);
    glDrawElements(GL_TRIANGLES, 6 * line_count_, GL_UNSIGNED_INT, nullptr);
    glBindVertexArray(0);
    glDepthMask(GL_TRUE);
    glDisable(GL_DEPTH_TEST);
}

// What is hidden is mostly found to be so before it is coloured; isolines are looked for only where there may be some.
void Picture::draw_surface(const Eigen::Matrix4f& view_from_part, const Eigen::Matrix4f& clip_from_view,
                           const Look& look) const {
    const std::span<const float> isolines(look.isolines.data(), std::min<std::size_t>(look.isolines.size(), 8));
    struct Ranges {
        std::vector<int> count;
        std::vector<const void*> start;
    } plain, crossed;
    for (const scene::TriangleRun* run : scene::facing_the_eye(runs_, view_from_part)) {
        const bool crosses = look.show_field && std::ranges::any_of(isolines, [&](float value) {
                                 return value >= run->low && value <= run->high;
                             });
        Ranges& ranges = crosses ? crossed : plain;
        ranges.count.push_back(static_cast<int>(run->count));
        ranges.start.push_back(reinterpret_cast<const void*>(run->start * sizeof(std::uint32_t)));
    }
    const auto draw_ranges = [&](const Shader& shader, const Ranges& ranges) {
        shader.use();
        shader.set("view_from_part", view_from_part);
        shader.set("clip_from_view", clip_from_view);
        shader.set("show_field", look.show_field ? 1 : 0);
        shader.set("metal", look.metal);
        shader.set("low", look.low);
        shader.set("high", look.high);
        shader.set("entries", static_cast<float>(scale_entries_));
        shader.set("scale", 0);
        shader.set("isoline_count", static_cast<int>(isolines.size()));
        if (!isolines.empty())
            shader.set("isolines", isolines.data(), static_cast<int>(isolines.size()));
        shader.set("isoline_colour", look.isoline_colour);
        glMultiDrawElements(GL_TRIANGLES, ranges.count.data(), GL_UNSIGNED_INT, ranges.start.data(),
                            static_cast<GLsizei>(ranges.count.size()));
    };
    draw_ranges(look.show_field ? field_shader_ : metal_shader_, plain);
    if (!crossed.count.empty())
        draw_ranges(isoline_shader_, crossed);
}

} // namespace holdtrue::app::gl
