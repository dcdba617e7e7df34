// A box of pixels of a picture or a window, from its upper left corner.
#pragma once

#include <algorithm>

namespace holdtrue::app {

struct PixelBox {
    int left = 0, top = 0, right = 0, bottom = 0; // `right` and `bottom` are the first ones outside
    bool empty() const { return left >= right || top >= bottom; }
    bool operator==(const PixelBox&) const = default;
};

inline PixelBox common(const PixelBox& a, const PixelBox& b) {
    return {std::max(a.left, b.left), std::max(a.top, b.top), std::min(a.right, b.right), std::min(a.bottom, b.bottom)};
}

// The smallest box that holds both.
inline PixelBox joined(const PixelBox& a, const PixelBox& b) {
    if (a.empty() || b.empty())
        return a.empty() ? b : a;
    return {std::min(a.left, b.left), std::min(a.top, b.top), std::max(a.right, b.right), std::max(a.bottom, b.bottom)};
}

inline PixelBox moved(const PixelBox& box, int right_px, int down_px) {
    return {box.left + right_px, box.top + down_px, box.right + right_px, box.bottom + down_px};
}

} // namespace holdtrue::app
