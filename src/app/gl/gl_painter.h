// Paints the part views of the window with OpenGL. A still picture has four samples per pixel and is kept in a texture
// until what it shows changes; one that the next frame replaces goes straight into the window with one sample per
// pixel, for software OpenGL pays for every sample and every copy.
#pragma once

#include "app/gl/picture.h"
#include "app/ui/damage.h"
#include "app/ui/part_view.h"

#include <array>
#include <memory>
#include <utility>

namespace holdtrue::app::gl {

class GlPainter : public Painter {
public:
    GlPainter();
    ~GlPainter() override;
    void paint(ImDrawList& list, int slot, const PictureContent& content, const scene::Projection& projection,
               const Look& look, Quality quality, ImVec2 low, ImVec2 high) override;
    // Of still pictures and moving ones, since the last call.
    Repainted take_repainted() { return std::exchange(repainted_, {}); }

private:
    struct Slot;
    std::array<std::unique_ptr<Slot>, 2> slots_;
    Repainted repainted_;
};

} // namespace holdtrue::app::gl
