// What is written over the picture of the part: pass numbers with arrows, gauges, torch, legend, axes.
#pragma once

#include "app/ui/part_view.h"
#include "app/ui/scales.h"

namespace holdtrue::app {

using Boxes = std::vector<ImVec4>; // left, top, right, bottom

struct Overlay {
    Ui& ui;
    const Session& session;
    const PartViewWish& wish;
    const scene::Moment& moment;
    const scene::Projection& projection;
    ImVec2 origin, size; // of the view
    ImDrawList& draw;

    ImVec2 at(const part::Point& point) const;
    bool in_front(const part::Point& point) const { return projection.to_screen(point).depth_m > 0; }
};

// A number in a disc beside each pass of the plan, and an arrow along its direction; faint where metal hides it.
// Returns where the numbers are.
Boxes draw_pass_numbers(const Overlay& overlay, const scene::PassLines& passes, const std::vector<bool>& hidden,
                        int hovered_pass);
// `place`: node_count, where the nodes are drawn. `strong`: the gauge that stands out, or -1. `taken`: where no label
// may lie. Returns the gauge under `pointer`, or -1.
int draw_gauges(const Overlay& overlay, const scene::Anchors& anchors, const part::Mesh& mesh,
                const std::vector<part::Point>& place, int strong, ImVec2 pointer, const Boxes& taken);
void draw_torch(const Overlay& overlay);
void draw_probe(const Overlay& overlay, const part::Point& place);
ImVec4 draw_axes(const Overlay& overlay); // returns where they are, as the legend does
ImVec4 draw_legend(const Overlay& overlay, const ShownScale& scale);
float draw_view_buttons(const Overlay& overlay, Actions& out); // returns their left end
// Left of `room_until`, or below the buttons where there is no room. `exaggeration` 0: the shape is as drawn.
void draw_caption(const Overlay& overlay, double exaggeration, float room_until);
void draw_hover_tip(const Overlay& overlay, const PartViewState& state);

// Text on a patch of sheet, so that it reads on any picture; inside the view, with its left upper corner at `at` or as
// near to it as that allows.
void label(const Overlay& overlay, ImVec2 at, const std::string& text, Colour colour);
// Labels of things in the picture, beside the metal, each joined to its thing by a line: above or below, where the line
// is shortest and nothing of `taken` is covered.
struct SideLabel {
    std::vector<ImVec2> ends; // where the line may end, the best first
    std::string text;
    Colour colour;
};
// `metal`: points of the part on screen.
void label_beside(const Overlay& overlay, std::vector<SideLabel> labels, const std::vector<ImVec2>& metal, Boxes taken);

} // namespace holdtrue::app
