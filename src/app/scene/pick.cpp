#include "app/scene/pick.h"

#include <Eigen/Geometry>

#include <algorithm>
#include <cmath>

namespace holdtrue::app::scene {

namespace {

using Index = std::size_t;

// Slab test: does the ray pass through the box before `farthest`?
bool meets(const Box& box, const part::Point& origin, const part::Point& inverse, double farthest) {
    double enter = 0, leave = farthest;
    for (int axis = 0; axis < 3; ++axis) {
        double t0 = (box.low[axis] - origin[axis]) * inverse[axis],
               t1 = (box.high[axis] - origin[axis]) * inverse[axis];
        if (t0 > t1)
            std::swap(t0, t1);
        enter = std::max(enter, t0);
        leave = std::min(leave, t1);
    }
    return enter <= leave;
}

struct TriangleHit {
    double along, u, v; // weights of the second and third corner
};
// Moeller and Trumbore 1997, both sides.
std::optional<TriangleHit> meets(const Projection::Ray& ray, const part::Point& a, const part::Point& b,
                                 const part::Point& c) {
    const part::Point e1 = b - a, e2 = c - a, p = ray.direction.cross(e2);
    const double determinant = e1.dot(p);
    if (std::abs(determinant) < 1e-18)
        return {};
    const part::Point s = ray.origin - a, q = s.cross(e1);
    const double u = s.dot(p) / determinant, v = ray.direction.dot(q) / determinant;
    const double along = e2.dot(q) / determinant;
    if (u < 0 || v < 0 || u + v > 1 || along <= 0)
        return {};
    return TriangleHit{along, u, v};
}

double distance_to_segment(double x, double y, const Projection::OnScreen& a, const Projection::OnScreen& b,
                           double& share) {
    const double dx = b.x_px - a.x_px, dy = b.y_px - a.y_px, length2 = dx * dx + dy * dy;
    share = length2 > 0 ? std::clamp(((x - a.x_px) * dx + (y - a.y_px) * dy) / length2, 0.0, 1.0) : 0;
    return std::hypot(x - a.x_px - share * dx, y - a.y_px - share * dy);
}

} // namespace

CellFinder::CellFinder(const part::Mesh& mesh, std::vector<part::Point> place) : mesh_(mesh), place_(std::move(place)) {
    // Cells of a grid row lie side by side, so a short run of cell numbers fills a small box.
    constexpr int run_length = 16;
    for (int first = 0; first < mesh.cell_count(); first += run_length) {
        Run run{first, std::min(first + run_length, mesh.cell_count()), {}};
        for (int cell = run.first_cell; cell < run.last_cell; ++cell)
            if (mesh.cell_alive[Index(cell)])
                for (const int node : mesh.cell_nodes[Index(cell)])
                    run.box.add(place_[Index(node)]);
        if (!run.box.empty())
            runs_.push_back(run);
    }
    constexpr Index runs_of_bunch = 12;
    for (Index first = 0; first < runs_.size(); first += runs_of_bunch) {
        Bunch bunch{first, std::min(first + runs_of_bunch, runs_.size()), {}};
        for (Index k = bunch.first; k < bunch.last; ++k) {
            bunch.box.add(runs_[k].box.low);
            bunch.box.add(runs_[k].box.high);
        }
        bunches_.push_back(bunch);
    }
}

template <class Look>
void CellFinder::visit(const Projection::Ray& ray, const double& farthest, const Look& look) const {
    part::Point inverse;
    for (int axis = 0; axis < 3; ++axis)
        inverse[axis] = 1 / (std::abs(ray.direction[axis]) < 1e-15 ? 1e-15 : ray.direction[axis]);
    for (const Bunch& bunch : bunches_) {
        if (!meets(bunch.box, ray.origin, inverse, farthest))
            continue;
        for (Index k = bunch.first; k < bunch.last; ++k) {
            if (!meets(runs_[k].box, ray.origin, inverse, farthest))
                continue;
            for (int cell = runs_[k].first_cell; cell < runs_[k].last_cell; ++cell)
                if (mesh_.cell_alive[Index(cell)] && (look(cell, 1, 2) || look(cell, 2, 3)))
                    return;
        }
    }
}

std::optional<CellFinder::Hit> CellFinder::first_hit(const Projection::Ray& ray) const {
    std::optional<Hit> found;
    double nearest = 1e30;
    visit(ray, nearest, [&](int cell, Index k1, Index k2) {
        const auto& n = mesh_.cell_nodes[Index(cell)];
        const auto hit = meets(ray, place_[Index(n[0])], place_[Index(n[k1])], place_[Index(n[k2])]);
        if (!hit || hit->along >= nearest)
            return false;
        nearest = hit->along;
        Hit result;
        result.along_m = hit->along;
        result.place.cell = cell;
        result.place.node = n;
        result.place.weight = {1 - hit->u - hit->v, 0, 0, 0};
        result.place.weight[k1] = hit->u;
        result.place.weight[k2] = hit->v;
        result.place.position = ray.origin + hit->along * ray.direction;
        result.place.distance_m = 0;
        found = result;
        return false;
    });
    return found;
}

bool CellFinder::hidden(const part::Point& eye, const part::Point& point, double slack_m) const {
    const double distance_m = (point - eye).norm();
    const Projection::Ray ray{eye, (point - eye) / std::max(distance_m, 1e-9)};
    const double enough_m = distance_m - slack_m;
    bool met = false;
    visit(ray, enough_m, [&](int cell, Index k1, Index k2) {
        const auto& n = mesh_.cell_nodes[Index(cell)];
        const auto hit = meets(ray, place_[Index(n[0])], place_[Index(n[k1])], place_[Index(n[k2])]);
        met = hit && hit->along < enough_m;
        return met;
    });
    return met;
}

bool covered(const part::Point& place, const part::Point& to_face, const Projection& projection,
             const CellFinder& cells) {
    const double pixel_m = projection.metres_per_pixel(projection.to_screen(place).depth_m);
    const double slack_m = to_face.isZero() ? 0.008 + 2 * pixel_m : 0.0005;
    return cells.hidden(projection.eye(), place + to_face, slack_m);
}

std::optional<int> pick_pass(const PassLines& passes, const Projection& projection, const CellFinder& cells,
                             double x_px, double y_px, double reach_px) {
    std::optional<int> best;
    double best_px = reach_px;
    for (Index p = 0; p < passes.line.size(); ++p) {
        const std::vector<part::Point>& line = passes.line[p];
        double distance_px = 1e30;
        part::Point nearest, to_face;
        for (Index k = 0; k + 1 < line.size(); ++k) {
            const auto a = projection.to_screen(line[k]), b = projection.to_screen(line[k + 1]);
            if (a.depth_m <= 0 || b.depth_m <= 0)
                continue;
            double share = 0;
            const double px = distance_to_segment(x_px, y_px, a, b, share);
            if (px < distance_px) {
                distance_px = px;
                nearest = line[k] + share * (line[k + 1] - line[k]);
                to_face = passes.to_face[p][k];
            }
        }
        const bool nearer = best ? distance_px < best_px - 1e-9 : distance_px <= best_px;
        if (nearer && !covered(nearest, to_face, projection, cells)) {
            best = static_cast<int>(p);
            best_px = distance_px;
        }
    }
    return best;
}

std::vector<bool> hidden_passes(const PassLines& passes, const Projection& projection, const CellFinder& cells) {
    std::vector<bool> hidden;
    for (Index p = 0; p < passes.middle.size(); ++p)
        hidden.push_back(projection.to_screen(passes.middle[p]).depth_m <= 0 ||
                         covered(passes.middle[p], passes.to_face[p].back(), projection, cells));
    return hidden;
}

} // namespace holdtrue::app::scene
