#include "app/gl/canvas.h"

#include "app/gl/shader_sources.h"

#include <glad/gl.h>

namespace holdtrue::app::gl {

Canvas::Canvas() : copy_shader_(copy_vertex, copy_fragment) {
    glGenVertexArrays(1, &copy_array_);
    glGenFramebuffers(1, &framebuffer_);
    glGenTextures(1, &colour_);
    glGenRenderbuffers(1, &depth_);
}

Canvas::~Canvas() {
    glDeleteVertexArrays(1, &copy_array_);
    glDeleteFramebuffers(1, &framebuffer_);
    glDeleteTextures(1, &colour_);
    glDeleteRenderbuffers(1, &depth_);
}

bool Canvas::resize(int width_px, int height_px) {
    if (width_px == width_px_ && height_px == height_px_)
        return false;
    width_px_ = width_px;
    height_px_ = height_px;
    // Blue before red, as windows have it: software OpenGL then copies rows of bytes.
    glBindTexture(GL_TEXTURE_2D, colour_);
    glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA, width_px, height_px, 0, GL_BGRA, GL_UNSIGNED_BYTE, nullptr);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_NEAREST);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_NEAREST);
    glBindRenderbuffer(GL_RENDERBUFFER, depth_);
    glRenderbufferStorage(GL_RENDERBUFFER, GL_DEPTH_COMPONENT24, width_px, height_px);
    glBindFramebuffer(GL_FRAMEBUFFER, framebuffer_);
    glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, colour_, 0);
    glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_DEPTH_ATTACHMENT, GL_RENDERBUFFER, depth_);
    glBindFramebuffer(GL_FRAMEBUFFER, 0);
    return true;
}

void Canvas::clear(std::span<const PixelBox> boxes, const ImVec4& colour) {
    glBindFramebuffer(GL_FRAMEBUFFER, framebuffer_);
    glViewport(0, 0, width_px_, height_px_);
    glClearColor(colour.x, colour.y, colour.z, 1);
    glDepthMask(GL_TRUE);
    glEnable(GL_SCISSOR_TEST);
    for (const PixelBox& box : boxes) {
        glScissor(box.left, height_px_ - box.bottom, box.right - box.left, box.bottom - box.top);
        glClear(GL_COLOR_BUFFER_BIT | GL_DEPTH_BUFFER_BIT);
    }
}

void Canvas::copy_into_window() {
    glBindFramebuffer(GL_FRAMEBUFFER, 0);
    glViewport(0, 0, width_px_, height_px_);
    glDisable(GL_SCISSOR_TEST);
    glDisable(GL_BLEND);
    glDisable(GL_DEPTH_TEST);
    glActiveTexture(GL_TEXTURE0);
    glBindTexture(GL_TEXTURE_2D, colour_);
    copy_shader_.use();
    copy_shader_.set("picture", 0);
    glBindVertexArray(copy_array_);
    glDrawArrays(GL_TRIANGLES, 0, 6);
    glBindVertexArray(0);
}

} // namespace holdtrue::app::gl
