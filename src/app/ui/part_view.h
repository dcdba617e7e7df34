// The 3D view of the part as a widget: draws the picture, puts numbers, arrows, gauges and the torch over it, and
// turns the mouse into camera moves and picks.
#pragma once

#include "app/gl/look.h"
#include "app/scene/lines.h"
#include "app/scene/moment.h"
#include "app/scene/pick.h"
#include "app/scene/surface.h"
#include "app/ui/ui.h"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace holdtrue::app {

// What the picture shows; a part of it whose number has not changed need not be uploaded again.
struct PictureContent {
    const scene::Surface* surface = nullptr;
    const std::vector<float>* values = nullptr; // per mesh node; null: plain metal
    const std::vector<scene::Segment>* lines = nullptr;
    const std::vector<std::uint8_t>* scale_rgb = nullptr;
    int surface_number = 0, values_number = 0, lines_number = 0, scale_number = 0;
};

// Paints the picture into a draw list. The window has one with OpenGL; tests do without.
class Painter {
public:
    virtual ~Painter() = default;
    // `slot`: 0, or 1 for the second of two views side by side.
    virtual void paint(ImDrawList& list, int slot, const PictureContent& content, const scene::Projection& projection,
                       const gl::Look& look, gl::Quality quality, ImVec2 low, ImVec2 high) = 0;
};

// What a bench wants to see.
struct PartViewWish {
    std::shared_ptr<const weld::Outcome> outcome; // null: the part as drawn
    double time_s = 0;
    Field field = Field::none;
    bool deformed = false;
    double exaggeration = 1;
    bool passes = true;     // the plan's passes
    bool numbers = true;    // with their numbers and arrows
    bool laid_only = false; // only what is welded by `time_s`
    bool gauges = false;    // with their limits
    int strong_gauge = -1;  // stands out, as if the pointer were on it
    bool torch = false;
    bool legend = true; // of the field
    int slot = 0;
    std::string caption; // at the top of the view
};

// Scratch of one view: caches keyed by what they were made from.
struct PartViewState {
    struct Cache;
    std::shared_ptr<Cache> cache;
    int hovered_pass = -1, hovered_gauge = -1;
    std::optional<part::Attachment> hovered_place;
    std::optional<double> hovered_k;
};

struct PartViewEvents {
    int clicked_pass = -1;
    std::optional<int> clicked_gauge; // -1: the chosen one, which is let go
    std::optional<part::Attachment> clicked_place;
};

// Fills the rest of the current window, or `size`.
PartViewEvents draw_part_view(Ui& ui, const Session& session, PartViewState& state, const PartViewWish& wish,
                              ImVec2 size, Actions& out);

} // namespace holdtrue::app
