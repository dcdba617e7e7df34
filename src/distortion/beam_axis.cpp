#include "distortion/beam_axis.h"

#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>

#include <algorithm>
#include <cmath>
#include <limits>

namespace holdtrue::distortion {
namespace {

struct CellPoint {
    part::Point position;
    double area_m2;
};

// Four Gauss points of a cell: exact for second moments of a parallelogram.
std::array<CellPoint, 4> cell_points(const part::Mesh& mesh, int cell) {
    std::array<part::Point, 4> corner;
    for (std::size_t k = 0; k < 4; ++k)
        corner[k] = mesh.position_m[static_cast<std::size_t>(mesh.cell_nodes[static_cast<std::size_t>(cell)][k])];
    const double g = 0.5 / std::sqrt(3.0);
    std::array<CellPoint, 4> points;
    std::size_t at = 0;
    for (const double u : {0.5 - g, 0.5 + g})
        for (const double v : {0.5 - g, 0.5 + g}) {
            const part::Point du = (1 - v) * (corner[1] - corner[0]) + v * (corner[2] - corner[3]);
            const part::Point dv = (1 - u) * (corner[3] - corner[0]) + u * (corner[2] - corner[1]);
            points[at++] = {(1 - u) * (1 - v) * corner[0] + u * (1 - v) * corner[1] + u * v * corner[2] +
                                (1 - u) * v * corner[3],
                            0.25 * du.cross(dv).norm()};
        }
    return points;
}

template <class Visit>
void for_each_live_cell(const part::Mesh& mesh, Visit visit) {
    for (int panel = 0; panel < static_cast<int>(mesh.panels.size()); ++panel) {
        const part::PanelGrid& grid = mesh.panels[static_cast<std::size_t>(panel)];
        const int count = grid.cells_u() * grid.cells_v();
        for (int cell = grid.first_cell; cell < grid.first_cell + count; ++cell)
            if (mesh.cell_alive[static_cast<std::size_t>(cell)])
                visit(panel, grid.thickness_m, cell);
    }
}

} // namespace

int BeamAxis::station(double along_m) const {
    return std::clamp(static_cast<int>(std::floor((along_m - start_m) / station_m)), 0, station_count - 1);
}

BeamAxis find_beam_axis(const part::Mesh& mesh, int station_count) {
    double volume = 0;
    part::Point first = part::Point::Zero();
    Eigen::Matrix3d second = Eigen::Matrix3d::Zero();
    for_each_live_cell(mesh, [&](int, double thickness_m, int cell) {
        for (const CellPoint& point : cell_points(mesh, cell)) {
            const double v = point.area_m2 * thickness_m;
            volume += v;
            first += v * point.position;
            second += v * point.position * point.position.transpose();
        }
    });
    BeamAxis beam;
    beam.origin = first / volume;
    const Eigen::Matrix3d spread = second / volume - beam.origin * beam.origin.transpose();
    const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> solver(spread); // eigenvalues rising
    beam.axis = solver.eigenvectors().col(2);
    beam.side_1 = solver.eigenvectors().col(1);
    beam.side_2 = beam.axis.cross(beam.side_1);

    double low = std::numeric_limits<double>::max(), high = std::numeric_limits<double>::lowest();
    for (std::size_t node = 0; node < mesh.position_m.size(); ++node)
        if (mesh.node_alive[node]) {
            low = std::min(low, beam.along(mesh.position_m[node]));
            high = std::max(high, beam.along(mesh.position_m[node]));
        }
    beam.start_m = low;
    beam.station_count = station_count;
    beam.station_m = (high - low) / station_count;
    return beam;
}

SectionTable::SectionTable(const part::Mesh& mesh, const BeamAxis& axis)
    : panel_count_(static_cast<int>(mesh.panels.size())),
      moments_(static_cast<std::size_t>(axis.station_count) * mesh.panels.size()) {
    for_each_live_cell(mesh, [&](int panel, double thickness_m, int cell) {
        // The cell's metal is spread evenly over the stations that it reaches.
        double low = std::numeric_limits<double>::max(), high = std::numeric_limits<double>::lowest();
        part::Point normal = part::Point::Zero();
        for (const int node : mesh.cell_nodes[static_cast<std::size_t>(cell)]) {
            const double x = axis.along(mesh.position_m[static_cast<std::size_t>(node)]);
            low = std::min(low, x);
            high = std::max(high, x);
            normal += 0.25 * mesh.normal[static_cast<std::size_t>(node)];
        }
        const Eigen::Vector2d n{axis.side_1.dot(normal), axis.side_2.dot(normal)};
        const Eigen::Matrix2d own = thickness_m * thickness_m / 12 * n * n.transpose();
        const int from = axis.station(low), to = axis.station(high);
        for (int k = from; k <= to; ++k) {
            const double station_low = axis.start_m + k * axis.station_m;
            const double overlap = std::min(high, station_low + axis.station_m) - std::max(low, station_low);
            const double share = from == to ? 1.0 : std::max(0.0, overlap) / (high - low);
            Moments& sum = moments_[static_cast<std::size_t>(k * panel_count_ + panel)];
            for (const CellPoint& point : cell_points(mesh, cell)) {
                const double area = share * point.area_m2 * thickness_m / axis.station_m;
                const Eigen::Vector2d y = axis.across(point.position);
                sum.area += area;
                sum.first += area * y;
                sum.second += area * (y * y.transpose() + own);
            }
        }
    });
}

BeamSection SectionTable::section(int station, const std::vector<char>& included) const {
    Moments sum;
    for (int panel = 0; panel < panel_count_; ++panel)
        if (included[static_cast<std::size_t>(panel)]) {
            const Moments& one = moments_[static_cast<std::size_t>(station * panel_count_ + panel)];
            sum.area += one.area;
            sum.first += one.first;
            sum.second += one.second;
        }
    BeamSection section;
    if (sum.area <= 0)
        return section;
    section.area_m2 = sum.area;
    section.centroid_m = sum.first / sum.area;
    section.second_moment_m4 = sum.second - sum.area * section.centroid_m * section.centroid_m.transpose();
    return section;
}

} // namespace holdtrue::distortion
