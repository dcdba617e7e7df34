#include "app/gl/canvas.h"

#include <glad/gl.h>

namespace holdtrue::app::gl {

Canvas::Canvas(bool in_window) {
    if (in_window)
        return;
    glGenFramebuffers(1, &framebuffer_);
    glGenRenderbuffers(1, &colour_);
    glGenRenderbuffers(1, &depth_);
}

Canvas::~Canvas() {
    glDeleteFramebuffers(1, &framebuffer_);
    glDeleteRenderbuffers(1, &colour_);
    glDeleteRenderbuffers(1, &depth_);
}

bool Canvas::resize(int width_px, int height_px) {
    if (width_px == width_px_ && height_px == height_px_)
        return false;
    width_px_ = width_px;
    height_px_ = height_px;
    if (framebuffer_ == 0)
        return true;
    glBindRenderbuffer(GL_RENDERBUFFER, colour_);
    glRenderbufferStorage(GL_RENDERBUFFER, GL_RGBA8, width_px, height_px);
    glBindRenderbuffer(GL_RENDERBUFFER, depth_);
    glRenderbufferStorage(GL_RENDERBUFFER, GL_DEPTH_COMPONENT24, width_px, height_px);
    glBindFramebuffer(GL_FRAMEBUFFER, framebuffer_);
    glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_RENDERBUFFER, colour_);
    glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_DEPTH_ATTACHMENT, GL_RENDERBUFFER, depth_);
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

void Canvas::finish() {
    if (framebuffer_ == 0)
        return;
    glBindFramebuffer(GL_READ_FRAMEBUFFER, framebuffer_);
    glBindFramebuffer(GL_DRAW_FRAMEBUFFER, 0);
    glDisable(GL_SCISSOR_TEST);
    glBlitFramebuffer(0, 0, width_px_, height_px_, 0, 0, width_px_, height_px_, GL_COLOR_BUFFER_BIT, GL_NEAREST);
    glBindFramebuffer(GL_FRAMEBUFFER, 0);
}

} // namespace holdtrue::app::gl
