// What is written over the picture of the part: pass numbers with arrows, gauges, torch, legend, axes.
#pragma once

#include "app/ui/part_view.h"
#include "app/ui/scales.h"

namespace holdtrue::app {

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
void draw_pass_numbers(const Overlay& overlay, const scene::PassLines& passes, const std::vector<bool>& hidden,
                       int hovered_pass);
// `place`: node_count, where the nodes are drawn. `strong`: the gauge that stands out, or -1. Returns the gauge under
// `pointer`, or -1.
int draw_gauges(const Overlay& overlay, const scene::Anchors& anchors, const part::Mesh& mesh,
                const std::vector<part::Point>& place, int strong, ImVec2 pointer);
void draw_torch(const Overlay& overlay);
void draw_probe(const Overlay& overlay, const part::Point& place);
void draw_axes(const Overlay& overlay);
void draw_legend(const Overlay& overlay, const ShownScale& scale);
float draw_view_buttons(const Overlay& overlay, Actions& out); // returns their left end
// Left of `room_until`, or below the buttons where there is no room. `exaggeration` 0: the shape is as drawn.
void draw_caption(const Overlay& overlay, double exaggeration, float room_until);
void draw_hover_tip(const Overlay& overlay, const PartViewState& state);

// Text on a patch of sheet, so that it reads on any picture. `anchor`: share of its size left of and above `at`.
// With `taken`, it steps down until it covers none of those rectangles, and adds its own.
void label(const Overlay& overlay, ImVec2 at, const std::string& text, Colour colour, ImVec2 anchor = {0, 0},
           std::vector<ImVec4>* taken = nullptr);

} // namespace holdtrue::app
