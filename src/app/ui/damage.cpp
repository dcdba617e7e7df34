#include "app/ui/damage.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <utility>

namespace holdtrue::app {

namespace {

using Index = std::size_t;
using Number = std::uint64_t;

// The last step of SplitMix64 over both (Steele, Lea, Flood 2014): every bit of either moves about half of the bits.
Number mixed(Number a, Number b) {
    Number z = a * 0x9e3779b97f4a7c15u + b;
    z = (z ^ z >> 30) * 0xbf58476d1ce4e5b9u;
    z = (z ^ z >> 27) * 0x94d049bb133111ebu;
    return z ^ z >> 31;
}

Number pair(float x, float y) {
    return Number{std::bit_cast<std::uint32_t>(x)} << 32 | std::bit_cast<std::uint32_t>(y);
}

template <class Pointer>
Number number_of_address(Pointer pointer) {
    return static_cast<Number>(reinterpret_cast<std::uintptr_t>(pointer));
}

bool paints(const ImDrawCmd& command) {
    return command.UserCallback && command.UserCallback != ImDrawCallback_ResetRenderState && command.UserCallbackData;
}

// As ImGui_ImplOpenGL3_RenderDrawData() rounds it, from the lower edge of the window.
PixelBox clip_box(const ImVec4& clip, int height_px) {
    const int left = static_cast<int>(clip.x), low = static_cast<int>(static_cast<float>(height_px) - clip.w);
    const int width = static_cast<int>(clip.z - clip.x), height = static_cast<int>(clip.w - clip.y);
    return {left, height_px - low - height, left + width, height_px - low};
}

int area(const PixelBox& box) { return (box.right - box.left) * (box.bottom - box.top); }

// The tiles of a window.
struct Tiling {
    int width_px, height_px;
    static int count(int px) { return (px + Damage::tile_px - 1) / Damage::tile_px; }
    int columns() const { return count(width_px); }
    int rows() const { return count(height_px); }

    // In tiles: those that a box of pixels touches.
    PixelBox touched(const PixelBox& box) const {
        const PixelBox inside = common(box, {0, 0, width_px, height_px});
        if (inside.empty())
            return {};
        return {inside.left / Damage::tile_px, inside.top / Damage::tile_px, count(inside.right), count(inside.bottom)};
    }
    PixelBox pixels(const PixelBox& tiles) const {
        return {tiles.left * Damage::tile_px, tiles.top * Damage::tile_px,
                std::min(tiles.right * Damage::tile_px, width_px), std::min(tiles.bottom * Damage::tile_px, height_px)};
    }
};

// Takes in all that is drawn, tile by tile.
struct Tally {
    Tiling tiling;
    std::vector<Number> tiles = std::vector<Number>(static_cast<Index>(tiling.columns() * tiling.rows()));
    std::vector<char> repainted = std::vector<char>(tiles.size()); // shows other pixels, whatever its number

    template <class What>
    void for_tiles(const PixelBox& box, const What& what) {
        const PixelBox touched = tiling.touched(box);
        for (int row = touched.top; row < touched.bottom; ++row)
            for (int column = touched.left; column < touched.right; ++column)
                what(static_cast<Index>(row * tiling.columns() + column));
    }
    void repaint(const PixelBox& box) {
        for_tiles(box, [&](Index tile) { repainted[tile] = 1; });
    }
    void add(const PixelBox& box, Number number) {
        for_tiles(box, [&](Index tile) { tiles[tile] = mixed(tiles[tile], number); });
    }

    void add_triangles(const ImDrawList& list, const ImDrawCmd& command, const PixelBox& clip, Number how,
                       bool shows_other_pixels) {
        for (unsigned k = 0; k + 2 < command.ElemCount; k += 3) {
            Number number = how;
            ImVec2 low{1e9f, 1e9f}, high{-1e9f, -1e9f};
            for (unsigned corner = 0; corner < 3; ++corner) {
                const ImDrawIdx index = list.IdxBuffer[static_cast<int>(command.IdxOffset + k + corner)];
                const ImDrawVert& vertex = list.VtxBuffer[static_cast<int>(command.VtxOffset + index)];
                number = mixed(number, pair(vertex.pos.x, vertex.pos.y));
                number = mixed(number, pair(vertex.uv.x, vertex.uv.y));
                number = mixed(number, vertex.col);
                low = {std::min(low.x, vertex.pos.x), std::min(low.y, vertex.pos.y)};
                high = {std::max(high.x, vertex.pos.x), std::max(high.y, vertex.pos.y)};
            }
            const auto pixel = [](float at) { return static_cast<int>(std::clamp(at, -1e6f, 1e6f)); };
            const PixelBox bounds{pixel(std::floor(low.x)), pixel(std::floor(low.y)), pixel(std::ceil(high.x)),
                                  pixel(std::ceil(high.y))};
            add(common(clip, bounds), number);
            if (shows_other_pixels)
                repaint(common(clip, bounds));
        }
    }
};

// Boxes that lie on one another, or near, become one: each box costs its own run through the commands that reach it.
void join_near(std::vector<PixelBox>& boxes) {
    constexpr int worth_a_run = 40; // tiles painted for nothing
    for (bool found = true; found;) {
        found = false;
        for (Index a = 0; a < boxes.size(); ++a)
            for (Index b = a + 1; b < boxes.size();) {
                const PixelBox both = joined(boxes[a], boxes[b]);
                const bool overlap = !common(boxes[a], boxes[b]).empty();
                if (!overlap && area(both) > area(boxes[a]) + area(boxes[b]) + worth_a_run) {
                    ++b;
                    continue;
                }
                boxes[a] = both;
                boxes[b] = boxes.back();
                boxes.pop_back();
                found = true;
            }
    }
}

} // namespace

void Damage::forget() { tiles_.clear(); }

std::vector<PixelBox> Damage::since_last(const ImDrawData& data, const Repainted& repainted) {
    const Tiling tiling{static_cast<int>(data.DisplaySize.x * data.FramebufferScale.x),
                        static_cast<int>(data.DisplaySize.y * data.FramebufferScale.y)};
    const PixelBox whole{0, 0, tiling.width_px, tiling.height_px};
    if (data.FramebufferScale.x != 1 || data.FramebufferScale.y != 1) {
        forget();
        return {whole};
    }

    Tally tally{tiling};
    for (const PixelBox& box : repainted.boxes)
        tally.repaint(box);
    for (int l = 0; l < data.CmdListsCount; ++l) {
        const ImDrawList& list = *data.CmdLists[l];
        Number how = 0;
        for (const ImDrawCmd& command : list.CmdBuffer) {
            const PixelBox clip = clip_box(command.ClipRect, tiling.height_px);
            if (paints(command))
                tally.add(clip, number_of_address(command.UserCallbackData));
            else if (command.UserCallback == ImDrawCallback_ResetRenderState)
                how = 0;
            else if (command.UserCallback)
                how = mixed(how, number_of_address(command.UserCallback));
            else if (!clip.empty()) {
                Number number = mixed(how, number_of_address(command.GetTexID()));
                number = mixed(number, pair(command.ClipRect.x, command.ClipRect.y));
                number = mixed(number, pair(command.ClipRect.z, command.ClipRect.w));
                tally.add_triangles(list, command, clip, number,
                                    std::ranges::find(repainted.textures, command.GetTexID()) !=
                                        repainted.textures.end());
            }
        }
    }

    const bool known =
        tiles_.size() == tally.tiles.size() && width_px_ == tiling.width_px && height_px_ == tiling.height_px;
    std::swap(tiles_, tally.tiles);
    width_px_ = tiling.width_px;
    height_px_ = tiling.height_px;
    if (!known)
        return {whole};
    std::vector<PixelBox> boxes;
    for (int row = 0; row < tiling.rows(); ++row) {
        const auto differs = [&](int column) {
            const Index tile = static_cast<Index>(row * tiling.columns() + column);
            return tally.repainted[tile] || tiles_[tile] != tally.tiles[tile];
        };
        for (int column = 0; column < tiling.columns(); ++column)
            if (differs(column)) {
                const int first = column;
                while (column < tiling.columns() && differs(column))
                    ++column;
                boxes.push_back({first, row, column, row + 1});
            }
    }
    join_near(boxes);
    for (PixelBox& box : boxes)
        box = tiling.pixels(box);
    return boxes;
}

void restrict_to(std::span<const PixelBox> boxes, ImDrawData& data) {
    if (data.FramebufferScale.x != 1 || data.FramebufferScale.y != 1)
        return;
    const int height_px = static_cast<int>(data.DisplaySize.y);
    for (int l = 0; l < data.CmdListsCount; ++l) {
        ImDrawList& list = *data.CmdLists[l];
        ImVector<ImDrawCmd> left;
        for (const ImDrawCmd& command : list.CmdBuffer) {
            if (command.UserCallback && !paints(command)) {
                left.push_back(command);
                continue;
            }
            for (const PixelBox& box : boxes)
                if (const PixelBox part = common(clip_box(command.ClipRect, height_px), box); !part.empty()) {
                    left.push_back(command);
                    left.back().ClipRect = {static_cast<float>(part.left), static_cast<float>(part.top),
                                            static_cast<float>(part.right), static_cast<float>(part.bottom)};
                }
        }
        list.CmdBuffer.swap(left);
    }
}

} // namespace holdtrue::app
