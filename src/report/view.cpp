#include "report/view.h"

#include "report/depth_image.h"

#include <Eigen/Geometry>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>

namespace holdtrue::report {
namespace {

part::Point cell_normal(const part::Mesh& mesh, const std::vector<part::Point>& position_m, int cell) {
    const auto& n = mesh.cell_nodes[static_cast<std::size_t>(cell)];
    const auto at = [&](std::size_t k) { return position_m[static_cast<std::size_t>(n[k])]; };
    return (at(2) - at(0)).cross(at(3) - at(1)).normalized();
}

// Calls visit(node, node, cells beside the edge that are alive) for every edge of a panel's grid.
template <class Visit>
void for_each_edge(const part::Mesh& mesh, Visit visit) {
    for (const part::PanelGrid& grid : mesh.panels) {
        const auto alive = [&](int i, int j) {
            if (grid.closed)
                i = (i + grid.cells_u()) % grid.cells_u();
            const bool inside = i >= 0 && i < grid.cells_u() && j >= 0 && j < grid.cells_v();
            return inside && mesh.cell_alive[static_cast<std::size_t>(grid.cell(i, j))] ? grid.cell(i, j) : -1;
        };
        for (int j = 0; j < grid.nv; ++j)
            for (int i = 0; i < grid.cells_u(); ++i)
                visit(grid.node(i, j), grid.node(i + 1, j), alive(i, j - 1), alive(i, j));
        for (int j = 0; j < grid.cells_v(); ++j)
            for (int i = 0; i < grid.nu; ++i)
                visit(grid.node(i, j), grid.node(i, j + 1), alive(i - 1, j), alive(i, j));
    }
}

// A point to look at on a pass: its middle, or the centre of a plug.
part::Point middle_of(const part::Joint& joint, const part::Pass& pass) {
    return pass.kind == part::PassKind::plug ? joint.path[static_cast<std::size_t>(std::lround(pass.from_m))]
                                             : part::path_point(joint, 0.5 * (pass.from_m + pass.to_m));
}

std::string title_of(double azimuth_deg, double elevation_deg) {
    const double a = std::fmod(azimuth_deg + 360, 360);
    const char* side = a < 90 ? "+x +y" : a < 180 ? "-x +y" : a < 270 ? "-x -y" : "+x -y";
    return std::string("from ") + (elevation_deg > 0 ? "above, " : "below, ") + side + " side";
}

} // namespace

View view_from(double azimuth_deg, double elevation_deg) {
    const double a = azimuth_deg * std::numbers::pi / 180, e = elevation_deg * std::numbers::pi / 180;
    View view;
    view.toward = {std::cos(e) * std::cos(a), std::cos(e) * std::sin(a), std::sin(e)};
    view.right = {-std::sin(a), std::cos(a), 0};
    view.up = view.toward.cross(view.right);
    view.title = title_of(azimuth_deg, elevation_deg);
    return view;
}

Projection::Projection(const View& view, const std::vector<part::Point>& points, const Box& box) : view_(view) {
    Place low = Place::Constant(std::numeric_limits<double>::max()), high = -low;
    for (const part::Point& point : points) {
        const Place flat{view.right.dot(point), -view.up.dot(point)};
        low = low.cwiseMin(flat);
        high = high.cwiseMax(flat);
    }
    const Place size = (high - low).cwiseMax(1e-9);
    scale_ = std::min(box.width / size.x(), box.height / size.y());
    shift_ = box.middle() - scale_ * 0.5 * (low + high);
}

Place Projection::place(const part::Point& point) const {
    return shift_ + scale_ * Place{view_.right.dot(point), -view_.up.dot(point)};
}

std::vector<std::array<int, 2>> shape_edges(const part::Mesh& mesh) {
    const double cos_fold = std::cos(30 * std::numbers::pi / 180);
    std::vector<std::array<int, 2>> edges;
    for_each_edge(mesh, [&](int a, int b, int left, int right) {
        const bool rim = (left < 0) != (right < 0);
        const bool fold =
            left >= 0 && right >= 0 &&
            cell_normal(mesh, mesh.position_m, left).dot(cell_normal(mesh, mesh.position_m, right)) < cos_fold;
        if (rim || fold)
            edges.push_back({a, b});
    });
    return edges;
}

std::vector<std::array<int, 2>> silhouette_edges(const part::Mesh& mesh, const std::vector<part::Point>& position_m,
                                                 const View& view) {
    std::vector<std::array<int, 2>> edges;
    for_each_edge(mesh, [&](int a, int b, int left, int right) {
        if (left < 0 || right < 0)
            return;
        const double p = cell_normal(mesh, position_m, left).dot(view.toward);
        const double q = cell_normal(mesh, position_m, right).dot(view.toward);
        if ((p > 0) != (q > 0))
            edges.push_back({a, b});
    });
    return edges;
}

std::vector<View> choose_views(const part::Part& part, const part::Mesh& mesh) {
    // What each of a dozen usual views shows: passes in sight, and how much of the picture the part fills.
    struct Candidate {
        View view;
        std::vector<char> sees; // pass_count
        double seen_share = 0, filled = 0;
    };
    const Box box{0, 0, 320, 200};
    std::vector<Candidate> candidates;
    for (const double elevation : {32.0, -32.0, 58.0, -58.0})
        for (const double azimuth : {-62.0, -118.0, 62.0, 118.0, -28.0, -152.0, 28.0, 152.0}) {
            Candidate candidate{view_from(azimuth, elevation), {}, 0, 0};
            const Projection projection(candidate.view, mesh.position_m, box);
            DepthImage image(box, 1);
            image.draw(mesh, mesh.position_m, projection, {}, [](double) { return Colour{}; });
            for (const part::Pass& pass : part.passes) {
                const part::Joint& joint = part.joints[static_cast<std::size_t>(pass.joint)];
                const double thick = std::max(part.panels[static_cast<std::size_t>(joint.panel_a)].thickness_m,
                                              part.panels[static_cast<std::size_t>(joint.panel_b)].thickness_m);
                const part::Point point = middle_of(joint, pass);
                candidate.sees.push_back(image.visible(projection.place(point), projection.depth_m(point),
                                                       0.25 * thick + 1 / projection.scale()));
                candidate.seen_share += candidate.sees.back() ? 1.0 / static_cast<double>(part.passes.size()) : 0;
            }
            candidate.filled = static_cast<double>(std::ranges::count_if(
                                   image.pixels(), [](std::uint32_t pixel) { return pixel != 0; })) /
                               static_cast<double>(image.pixels().size());
            candidates.push_back(std::move(candidate));
        }

    // A part that fills the picture can be read; one seen from below is stranger than one seen from above.
    const auto comfort = [](const Candidate& candidate) {
        return candidate.filled + (candidate.view.toward.z() > 0 ? 0.05 : 0);
    };
    const auto best = std::ranges::max_element(
        candidates, {}, [&](const Candidate& candidate) { return candidate.seen_share + comfort(candidate); });
    std::vector<View> views{best->view};
    const double hidden = static_cast<double>(std::ranges::count(best->sees, 0));
    const auto fresh = [&](const Candidate& candidate) {
        double count = 0;
        for (std::size_t k = 0; k < candidate.sees.size(); ++k)
            count += candidate.sees[k] && !best->sees[k];
        return hidden > 0 ? count / hidden : 0;
    };
    const auto second = std::ranges::max_element(
        candidates, {}, [&](const Candidate& candidate) { return fresh(candidate) + comfort(candidate); });
    if (fresh(*second) > 0)
        views.push_back(second->view);
    return views;
}

} // namespace holdtrue::report
