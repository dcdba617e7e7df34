#include "app/scene/behind.h"

#include <algorithm>

namespace holdtrue::app::scene {

namespace {

using Index = std::size_t;

// Enough that a rail before a line through a whole frame is not missed.
Index pieces_of_stroke(Index strokes) { return std::clamp<Index>(24 / strokes, 6, 16); }

} // namespace

std::vector<std::pair<Index, Index>> strokes(const part::Gauge& gauge) {
    std::vector<std::pair<Index, Index>> pairs;
    const Index count = gauge.point.size();
    switch (gauge.kind) {
    case part::GaugeKind::squareness:
        if (count >= 4)
            pairs = {{0, 2}, {1, 3}};
        break;
    case part::GaugeKind::twist:
        if (count >= 4)
            pairs = {{0, 1}, {2, 3}};
        break;
    case part::GaugeKind::angle:
        if (count >= 3)
            pairs = {{0, 1}, {0, 2}};
        break;
    case part::GaugeKind::flatness:
        break;
    default:
        for (Index k = 0; k + 1 < count; ++k)
            pairs.emplace_back(k, k + 1);
    }
    return pairs;
}

std::vector<GaugeBehind> gauges_behind(const part::Part& part, const std::vector<std::vector<part::Point>>& points,
                                       const Projection& projection, const CellFinder& cells) {
    const part::Point on_sheet = part::Point::Zero(); // gauges are taken in the middle of sheets
    std::vector<GaugeBehind> behind(points.size());
    for (Index g = 0; g < points.size(); ++g) {
        for (const part::Point& point : points[g])
            behind[g].point.push_back(covered(point, on_sheet, projection, cells));
        const auto lines = strokes(part.gauges[g]);
        for (const auto& [from, to] : lines) {
            auto& stroke = behind[g].stroke.emplace_back();
            const Index pieces = pieces_of_stroke(lines.size());
            for (Index k = 0; k < pieces; ++k) {
                const double share = (static_cast<double>(k) + 0.5) / static_cast<double>(pieces);
                const part::Point middle = points[g][from] + share * (points[g][to] - points[g][from]);
                stroke.push_back(covered(middle, on_sheet, projection, cells));
            }
        }
    }
    return behind;
}

std::optional<TorchPlace> torch_place(const Anchors& pass_anchors, const PassLines& passes,
                                      const weld::Outcome& outcome, const Moment& moment) {
    // The last frame of a pass is taken as its arc goes out, when the next move begins.
    if (!moment.arc_on || outcome.frames[Index(moment.frame_a)].move != moment.move)
        return {};
    const auto* weld = std::get_if<weld::WeldPass>(&outcome.plan.moves[Index(moment.move)].what);
    if (!weld)
        return {};
    const auto pass = static_cast<Index>(weld->pass);
    const std::vector<part::Point>& line = passes.line[pass];
    const std::vector<Anchor>& anchors = pass_anchors[pass];
    TorchPlace place{passes.middle[pass], passes.to_face[pass].back(), 1};
    if (passes.ring[pass])
        return place;
    // The place of the line as it was drawn that is nearest to the arc, and how much of the line lies before it.
    double least_m = 1e30, before_m = 0;
    for (Index k = 0; k + 1 < line.size(); ++k) {
        const part::Point from = anchors[k].drawn, along = anchors[k + 1].drawn - from;
        const double on = std::clamp((moment.torch - from).dot(along) / std::max(along.squaredNorm(), 1e-12), 0.0, 1.0);
        const double away_m = (from + on * along - moment.torch).norm();
        if (away_m < least_m) {
            least_m = away_m;
            place.at = line[k] + on * (line[k + 1] - line[k]);
            place.share = before_m + on * along.norm();
        }
        before_m += along.norm();
    }
    place.share = before_m > 0 ? place.share / before_m : 0;
    if (weld->reversed)
        place.share = 1 - place.share;
    return place;
}

} // namespace holdtrue::app::scene
