// Paints the part views of the window with OpenGL: one picture per slot, uploaded and drawn again only when what it
// shows has changed.
#pragma once

#include "app/gl/picture.h"
#include "app/ui/part_view.h"

#include <array>
#include <memory>

namespace holdtrue::app::gl {

class GlPainter : public Painter {
public:
    ImTextureID paint(int slot, const PictureContent& content, const scene::Projection& projection, const Look& look,
                      Quality quality, int width_px, int height_px) override;
    ImDrawCallback before_picture() const override;
    ImDrawCallback after_picture() const override;
    int pictures_drawn() const { return pictures_drawn_; }

private:
    struct Slot {
        Picture picture;
        PictureContent shown;
        Eigen::Matrix4f view = Eigen::Matrix4f::Zero(), clip = Eigen::Matrix4f::Zero();
        Look look;
        Quality quality = Quality::still;
        int width_px = 0, height_px = 0;
    };
    std::array<std::unique_ptr<Slot>, 2> slots_;
    int pictures_drawn_ = 0;
};

} // namespace holdtrue::app::gl
