#include "report/part_drawing.h"

#include <Eigen/Geometry>
#include <Eigen/LU>

#include <algorithm>
#include <cmath>

namespace holdtrue::report {
namespace {

Eigen::Matrix3d cross_matrix(const part::Point& v) {
    Eigen::Matrix3d m;
    m << 0, -v.z(), v.y(), v.z(), 0, -v.x(), -v.y(), v.x(), 0;
    return m;
}

double diagonal_m(const part::Mesh& mesh) {
    part::Point low = mesh.position_m.front(), high = low;
    for (const part::Point& point : mesh.position_m) {
        low = low.cwiseMin(point);
        high = high.cwiseMax(point);
    }
    return (high - low).norm();
}

std::vector<std::array<int, 2>> all_edges(const part::Mesh& mesh, const std::vector<part::Point>& position_m,
                                          const View& view) {
    std::vector<std::array<int, 2>> edges = shape_edges(mesh);
    const std::vector<std::array<int, 2>> turning = silhouette_edges(mesh, position_m, view);
    edges.insert(edges.end(), turning.begin(), turning.end());
    return edges;
}

} // namespace

std::vector<part::Point> shape_change(const part::Mesh& mesh, const std::vector<Eigen::Vector3f>& displacement_m) {
    // u = u0 + w x (p - c): normal equations of the six unknowns decouple about the centroid.
    part::Point centre = part::Point::Zero(), mean = part::Point::Zero();
    double count = 0;
    for (std::size_t n = 0; n < displacement_m.size(); ++n)
        if (mesh.node_alive[n]) {
            centre += mesh.position_m[n];
            mean += displacement_m[n].cast<double>();
            count += 1;
        }
    centre /= count;
    mean /= count;
    Eigen::Matrix3d inertia = Eigen::Matrix3d::Zero();
    part::Point moment = part::Point::Zero();
    for (std::size_t n = 0; n < displacement_m.size(); ++n)
        if (mesh.node_alive[n]) {
            const Eigen::Matrix3d arm = cross_matrix(mesh.position_m[n] - centre);
            inertia += arm.transpose() * arm;
            moment += arm * (displacement_m[n].cast<double>() - mean);
        }
    const part::Point turn = inertia.fullPivLu().solve(moment);
    std::vector<part::Point> change;
    for (std::size_t n = 0; n < displacement_m.size(); ++n)
        change.push_back(displacement_m[n].cast<double>() - mean - turn.cross(mesh.position_m[n] - centre));
    return change;
}

double exaggeration_for(const part::Mesh& mesh, const std::vector<part::Point>& change_m) {
    double most_m = 0;
    for (const part::Point& change : change_m)
        most_m = std::max(most_m, change.norm());
    const double wanted = most_m > 0 ? 0.05 * diagonal_m(mesh) / most_m : 1;
    if (wanted <= 1)
        return 1;
    const double ten = std::pow(10, std::floor(std::log10(wanted)));
    return ten * (wanted >= 5 * ten ? 5 : wanted >= 2 * ten ? 2 : 1);
}

DepthImage draw_part(Canvas& canvas, const Box& box, const part::Mesh& mesh, const std::vector<part::Point>& position_m,
                     const Projection& projection, const Surface& surface) {
    DepthImage image(box, surface.pixels_per_unit);
    image.draw(mesh, position_m, projection, surface.value_of_node, surface.colour_of);
    canvas.image(image.box(), image.pixels(), image.width(), image.height());

    // Edges in front of the surface strong, those behind it faint; each edge is short and is one or the other.
    const double slack_m = 2.5 / projection.scale();
    const Ink strong{{0.10, 0.11, 0.14}, 0.9}, faint{{0.10, 0.11, 0.14}, 0.16};
    for (const auto& [a, b] : all_edges(mesh, position_m, projection.view())) {
        const part::Point &p = position_m[static_cast<std::size_t>(a)], &q = position_m[static_cast<std::size_t>(b)];
        const part::Point middle = 0.5 * (p + q);
        const bool seen = image.visible(projection.place(middle), projection.depth_m(middle), slack_m);
        if (seen)
            canvas.line(projection.place(p), projection.place(q), surface.edge_width, strong);
        else if (surface.hidden_edges)
            canvas.line(projection.place(p), projection.place(q), 0.6 * surface.edge_width, faint);
    }
    return image;
}

void draw_outline(Canvas& canvas, const part::Mesh& mesh, const std::vector<part::Point>& position_m,
                  const Projection& projection, double width, const Ink& ink) {
    for (const auto& [a, b] : all_edges(mesh, position_m, projection.view()))
        canvas.line(projection.place(position_m[static_cast<std::size_t>(a)]),
                    projection.place(position_m[static_cast<std::size_t>(b)]), width, ink);
}

void draw_axes(Canvas& canvas, const Place& origin, double length, const View& view) {
    const char* names[] = {"x", "y", "z"};
    for (int k = 0; k < 3; ++k) {
        const part::Point axis = part::Point::Unit(k);
        const Place along{view.right.dot(axis), -view.up.dot(axis)};
        const Place tip = origin + length * along;
        canvas.line(origin, tip, 1.2, ink::faint);
        const Place label = origin + (length + 7) * along;
        canvas.text({label.x(), label.y() + 3.5}, names[k], {10, false}, ink::faint, Align::centre);
    }
}

} // namespace holdtrue::report
