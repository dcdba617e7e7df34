// What of a gauge's lines and of the torch lies behind metal, so that it can be drawn as seen through it.
#pragma once

#include "app/scene/moment.h"
#include "app/scene/pick.h"

#include <optional>
#include <utility>
#include <vector>

namespace holdtrue::app::scene {

// Pairs of a gauge's points that are joined by a line.
std::vector<std::pair<std::size_t, std::size_t>> strokes(const part::Gauge& gauge);

// Whether metal lies before each point of a gauge, and before each of the equal pieces of its strokes.
struct GaugeBehind {
    std::vector<bool> point;
    std::vector<std::vector<bool>> stroke;
};
// `points`: gauge_count, where the gauges' points are drawn.
std::vector<GaugeBehind> gauges_behind(const part::Part& part, const std::vector<std::vector<part::Point>>& points,
                                       const Projection& projection, const CellFinder& cells);

// Where the arc burns, on the pass as it is drawn; none while it does not, as before it strikes in its move.
struct TorchPlace {
    part::Point at, to_face; // as of a pass's points
    double share = 0;        // of the pass that is laid; a plug's ring stands for all of it
};
std::optional<TorchPlace> torch_place(const Anchors& pass_anchors, const PassLines& passes,
                                      const weld::Outcome& outcome, const Moment& moment);

} // namespace holdtrue::app::scene
