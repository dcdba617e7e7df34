// What is drawn over the picture of the part and goes with it: pass numbers with arrows, gauges, torch, probe.
#pragma once

#include "app/scene/behind.h"
#include "app/ui/part_view.h"
#include "app/ui/surround.h"

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

// A number in a disc beside each pass of the plan, and an arrow along its direction; where metal hides it
// only those of the pass under the pointer or the chosen one, and hollow.
// `taken`: where no number may lie. Returns this with where the numbers are.
Boxes draw_pass_numbers(const Overlay& overlay, const scene::PassLines& passes, const std::vector<bool>& hidden,
                        int hovered_pass, Boxes taken);
// `points`: gauge_count, where their points are drawn; what lies behind metal is dashed. `place`: node_count, where the
// nodes are drawn. `strong`: the gauge that stands out, or -1. `taken`: where no label may lie. Returns the gauge under
// `pointer`, or -1.
int draw_gauges(const Overlay& overlay, const std::vector<std::vector<part::Point>>& points,
                const std::vector<scene::GaugeBehind>& behind, const std::vector<part::Point>& place, int strong,
                ImVec2 pointer, const Boxes& taken);
// Behind metal only its outline.
void draw_torch(const Overlay& overlay, const part::Point& place, bool behind);
void draw_probe(const Overlay& overlay, const part::Point& place);
void draw_hover_tip(const Overlay& overlay, const PartViewState& state);

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
