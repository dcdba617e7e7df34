// Which parts of the window the widgets draw otherwise than in the frame before, so that only these are painted again:
// software OpenGL pays for every pixel.
// The window is cut into square tiles. Of each tile a number is kept that stands for all that is drawn in it, in its
// order: corners, colours and textures of the triangles whose bounds reach into it, and how they are clipped and mixed
// in. A tile whose number has changed is damaged.
//
// What a draw list calls back counts by its data: with data it paints inside its clip rectangle; without, it only sets
// how the next commands are painted, until ImDrawCallback_ResetRenderState.
// Limits: pixels behind a texture's number, and what is painted when called back, are not looked at, so whoever changes
// them says so; two different contents of a tile have the same number once in some 10^19.
#pragma once

#include "app/scene/pixel_box.h"

#include <imgui.h>

#include <cstdint>
#include <span>
#include <vector>

namespace holdtrue::app {

// What shows other pixels than in the frame before though it is drawn alike.
struct Repainted {
    std::vector<ImTextureID> textures;
    std::vector<PixelBox> boxes; // of the window
};

class Damage {
public:
    static constexpr int tile_px = 32;

    // Boxes that do not overlap and together cover whatever differs from the frame that the last call saw.
    // The whole window where it has another size, and where the screen has more than one pixel per unit of the draw
    // lists.
    std::vector<PixelBox> since_last(const ImDrawData& data, const Repainted& repainted = {});
    void forget(); // the next frame is damaged as a whole

private:
    std::vector<std::uint64_t> tiles_; // row by row; empty: nothing is known of the last frame
    int width_px_ = 0, height_px_ = 0;
};

// Leaves of the draw lists what paints inside the boxes of since_last(): a command that reaches into two of them stands
// there twice.
void restrict_to(std::span<const PixelBox> boxes, ImDrawData& data);

} // namespace holdtrue::app
