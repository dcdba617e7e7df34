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

// Of the index buffer that is bound.
struct IndexRanges {
    std::vector<int> count;
    std::vector<const void*> start;
    std::size_t end = 0; // of the last

    bool empty() const { return count.empty(); }
    void add(std::size_t first, std::size_t indices) {
        if (!empty() && first == end) {
            count.back() += static_cast<int>(indices);
            end += indices;
            return;
        }
        end = first + indices;
        start.push_back(reinterpret_cast<const void*>(first * sizeof(std::uint32_t)));
        count.push_back(static_cast<int>(indices));
    }
    void draw() const {
        glMultiDrawElements(GL_TRIANGLES, count.data(), GL_UNSIGNED_INT, start.data(),
                            static_cast<GLsizei>(count.size()));
    }
};

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
    for (std::size_t k = 0; k < vertices.size(); ++k)
        vertices[k] = {surface.position[k], surface.normal[k]};
    glBindVertexArray(0);
    fill<Vertex>(GL_ARRAY_BUFFER, position_buffer_, vertices, GL_DYNAMIC_DRAW);
    fill<std::uint32_t>(GL_ARRAY_BUFFER, index_buffer_, surface.triangle, GL_DYNAMIC_DRAW);
    shown_.set_surface(surface);
    fill<float>(GL_ARRAY_BUFFER, value_buffer_, shown_.values(), GL_STREAM_DRAW);
}

void Picture::upload_values(std::span<const float> per_node, float unseen) {
    shown_.set_values(per_node, unseen);
    fill<float>(GL_ARRAY_BUFFER, value_buffer_, shown_.values(), GL_STREAM_DRAW);
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
    shown_.set_lines(lines);
}

void Picture::upload_scale(std::span<const std::uint8_t> rgb) {
    glBindTexture(GL_TEXTURE_2D, scale_texture_);
    glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
    scale_entries_ = static_cast<int>(rgb.size() / 3);
    glTexImage2D(GL_TEXTURE_2D, 0, GL_RGB8, scale_entries_, 1, 0, GL_RGB, GL_UNSIGNED_BYTE, rgb.data());
}

void Picture::resize_texture() {
    const int width_px = std::max(shown_.view().width_px, 1), height_px = std::max(shown_.view().height_px, 1);
    if (width_px == texture_width_px_ && height_px == texture_height_px_)
        return;
    texture_width_px_ = width_px;
    texture_height_px_ = height_px;
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

void Picture::draw_into_texture(const Look& look) {
    resize_texture();
    glBindFramebuffer(GL_FRAMEBUFFER, drawn_);
    glViewport(0, 0, texture_width_px_, texture_height_px_);
    glDisable(GL_SCISSOR_TEST);
    glDepthMask(GL_TRUE);
    glClearColor(look.background.x(), look.background.y(), look.background.z(), 1);
    glClear(GL_COLOR_BUFFER_BIT | GL_DEPTH_BUFFER_BIT);
    draw(look, shown_.view().whole());
    glBindFramebuffer(GL_READ_FRAMEBUFFER, drawn_);
    glBindFramebuffer(GL_DRAW_FRAMEBUFFER, resolved_);
    glBlitFramebuffer(0, 0, texture_width_px_, texture_height_px_, 0, 0, texture_width_px_, texture_height_px_,
                      GL_COLOR_BUFFER_BIT, GL_NEAREST);
    glBindFramebuffer(GL_FRAMEBUFFER, 0);
}

void Picture::draw_into_window(const Look& look, int left_px, int bottom_px, const PixelBox& box) const {
    glViewport(left_px, bottom_px, shown_.view().width_px, shown_.view().height_px);
    draw(look, box);
}

void Picture::draw(const Look& look, const PixelBox& box) const {
    glEnable(GL_DEPTH_TEST);
    glDepthFunc(GL_LEQUAL);
    glDepthMask(GL_TRUE);
    glDisable(GL_BLEND);
    glActiveTexture(GL_TEXTURE0);
    glBindTexture(GL_TEXTURE_2D, scale_texture_);
    glBindVertexArray(surface_array_);
    glEnable(GL_CULL_FACE); // the skin is closed: what turns its back lies behind something
    draw_surface(look, box);
    glDisable(GL_CULL_FACE);

    glEnable(GL_BLEND);
    glBlendFunc(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA);
    glDepthMask(GL_FALSE); // soft edges of a line hide nothing
    draw_lines(box);
    glBindVertexArray(0);
    glDepthMask(GL_TRUE);
    glDisable(GL_DEPTH_TEST);
}

// What is hidden is mostly found to be so before it is coloured; isolines are looked for only where there may be some.
void Picture::draw_surface(const Look& look, const PixelBox& box) const {
    const scene::View& view = shown_.view();
    const std::span<const float> isolines(look.isolines.data(), std::min<std::size_t>(look.isolines.size(), 8));
    IndexRanges plain, crossed;
    for (const scene::TriangleRun* run : shown_.runs_in(box)) {
        const bool crosses = look.show_field && std::ranges::any_of(isolines, [&](float value) {
                                 return value >= run->low && value <= run->high;
                             });
        (crosses ? crossed : plain).add(run->start, run->count);
    }
    const auto draw_ranges = [&](const Shader& shader, const IndexRanges& ranges) {
        shader.use();
        shader.set("view_from_part", view.view_from_part);
        shader.set("clip_from_view", view.clip_from_view);
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
        ranges.draw();
    };
    draw_ranges(look.show_field ? field_shader_ : metal_shader_, plain);
    if (!crossed.empty())
        draw_ranges(isoline_shader_, crossed);
}

void Picture::draw_lines(const PixelBox& box) const {
    IndexRanges ranges;
    for (const std::size_t line : shown_.lines_in(box))
        ranges.add(6 * line, 6);
    const scene::View& view = shown_.view();
    line_shader_.use();
    line_shader_.set("view_from_part", view.view_from_part);
    line_shader_.set("clip_from_view", view.clip_from_view);
    line_shader_.set("view_px", Eigen::Vector2f(static_cast<float>(view.width_px), static_cast<float>(view.height_px)));
    glBindVertexArray(line_array_);
    ranges.draw();
}

} // namespace holdtrue::app::gl
