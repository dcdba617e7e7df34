#include "report/view.h"

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

} // namespace holdtrue::report
