// What stands over the picture of the part wherever the camera is: the buttons along the top, the caption, the legend
// of the colours and the axes. It is laid out before the picture is drawn, so that the part is fitted beside it.
#pragma once

#include "app/ui/part_view.h"
#include "app/ui/scales.h"

#include <optional>
#include <string>
#include <vector>

namespace holdtrue::app {

using Boxes = std::vector<ImVec4>; // left, top, right, bottom, on the screen

struct Legend {
    std::string title;
    bool temper; // colours, evenly spread over the temperature
    std::vector<double> ticks_k;
    ImVec4 box, bar;
};

struct Surround {
    ImVec2 origin, size; // of the view
    ImVec4 buttons, axes;
    bool folded; // the buttons are in the list behind the last one, for want of room
    std::string caption;
    ImVec4 caption_box;           // left of the buttons, or below them where there is no room
    std::optional<Legend> legend; // where a field is shown: its room is kept also where another view draws it
    Boxes boxes() const;
};

// `exaggeration` 0: the shape is as drawn.
Surround lay_surround(const Ui& ui, const PartViewWish& wish, const ShownScale& scale, double exaggeration,
                      ImVec2 origin, ImVec2 size);

void draw_axes(const Ui& ui, ImDrawList& draw, const Surround& surround, const scene::Projection& projection);
void draw_legend(const Ui& ui, ImDrawList& draw, const Legend& legend, const ShownScale& scale);
void draw_caption(const Ui& ui, ImDrawList& draw, const Surround& surround);

struct ViewButtons {
    float width;
    bool folded;
};
ViewButtons lay_view_buttons(const Ui& ui, float room);
void draw_view_buttons(Ui& ui, const Session& session, const PartViewWish& wish, const Surround& surround,
                       Actions& out);

// A patch of sheet with a text on it, so that it reads on any picture: its size, and the patch drawn.
ImVec2 patch_size(const Ui& ui, const std::string& text);
void write_on_patch(const Ui& ui, ImDrawList& draw, const ImVec4& box, const std::string& text, Colour colour);

} // namespace holdtrue::app
