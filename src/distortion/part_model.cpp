#include "distortion/part_model.h"

#include "distortion/mean_motion.h"
#include "text/verify.h"

#include <Eigen/Geometry>
#include <Eigen/LU>

#include <algorithm>
#include <bit>
#include <cmath>
#include <numeric>

namespace holdtrue::distortion {

namespace {

using part::Point;

// A clamp gives this much under load: a stiff fixture, soft against the sheet's own plane.
constexpr double clamp_n_per_m = 1e8;
// What a fixture's stops and the fitter's hand hold a loose panel with.
constexpr double fixture_n_per_m = 1e6;

ShellMesh shell_mesh(const part::Part& part, const part::Mesh& mesh, std::vector<int>& element_of_cell,
                     std::vector<int>& cell_of_element) {
    ShellMesh shell;
    shell.node_m = mesh.position_m;
    element_of_cell.assign(static_cast<std::size_t>(mesh.cell_count()), -1);
    for (std::size_t p = 0; p < mesh.panels.size(); ++p) {
        const part::PanelGrid& grid = mesh.panels[p];
        for (int cell = grid.first_cell; cell < grid.first_cell + grid.cells_u() * grid.cells_v(); ++cell) {
            if (!mesh.cell_alive[static_cast<std::size_t>(cell)])
                continue;
            element_of_cell[static_cast<std::size_t>(cell)] = static_cast<int>(shell.quad.size());
            cell_of_element.push_back(cell);
            shell.quad.push_back(mesh.cell_nodes[static_cast<std::size_t>(cell)]);
            shell.thickness_m.push_back(part.panels[p].thickness_m);
        }
    }
    return shell;
}

// Displacement of a point by the six rigid motions about `origin`: three shifts, three turns.
Eigen::Matrix<double, 3, 6> rigid(const Point& point, const Point& origin) {
    Eigen::Matrix<double, 3, 6> motion;
    motion.leftCols<3>().setIdentity();
    for (int axis = 0; axis < 3; ++axis)
        motion.col(3 + axis) = Point::Unit(axis).cross(point - origin);
    return motion;
}

// Of one panel, or of the whole part (-1): every node with the volume about it.
MeanMotion mean_motion_of(const ShellModel& shell, const part::Mesh& mesh, int panel) {
    std::vector<double> volume_m3(static_cast<std::size_t>(mesh.node_count()), 0);
    for (int e = 0; e < shell.element_count(); ++e) {
        const auto& nodes = shell.nodes_of(e);
        if (panel >= 0 && mesh.panel_of_node[static_cast<std::size_t>(nodes[0])] != panel)
            continue;
        for (std::size_t k = 0; k < 4; ++k)
            volume_m3[static_cast<std::size_t>(nodes[k])] +=
                shell.element(e).nodal_area_m2()[static_cast<int>(k)] * shell.element(e).thickness_m();
    }
    WeightedNodes nodes;
    for (int n = 0; n < mesh.node_count(); ++n)
        if (volume_m3[static_cast<std::size_t>(n)] > 0)
            nodes.emplace_back(n, volume_m3[static_cast<std::size_t>(n)]);
    return mean_motion(mesh, nodes);
}

// The wall of a hollow panel all round a place, each node with the length about it.
WeightedNodes wall_around(const part::Mesh& mesh, int panel, const part::Attachment& place) {
    const part::PanelGrid& grid = mesh.panels[static_cast<std::size_t>(panel)];
    const int row = (place.cell - grid.first_cell) / grid.cells_u();
    const double beyond = place.weight[2] + place.weight[3]; // share of the next row
    WeightedNodes nodes;
    for (const auto& [j, share] : {std::pair(row, 1 - beyond), {row + 1, beyond}})
        for (int i = 0; share > 0 && i < grid.nu; ++i) {
            const auto at = [&](int k) -> const Point& {
                return mesh.position_m[static_cast<std::size_t>(grid.node((k + grid.nu) % grid.nu, j))];
            };
            nodes.emplace_back(grid.node(i, j),
                               share * 0.5 * ((at(i + 1) - at(i)).norm() + (at(i) - at(i - 1)).norm()));
        }
    return nodes;
}

// Displacement of a gauge's point along x, y and z. Inside a hollow panel it is that of a pin in the bore, which the
// wall all round carries.
std::array<LinearRow, 3> gauge_rows_at(const part::Part& part, const part::Mesh& mesh, int panel, const Point& point) {
    std::array<LinearRow, 3> rows;
    const Grip held = grip(mesh, panel, point);
    const bool in_bore = mesh.panels[static_cast<std::size_t>(panel)].closed &&
                         held.bend.distance_m > part.panels[static_cast<std::size_t>(panel)].thickness_m;
    if (in_bore) {
        const MeanMotion wall = mean_motion(mesh, wall_around(mesh, panel, held.bend));
        for (std::size_t axis = 0; axis < 3; ++axis)
            rows[axis] = wall.at(point, static_cast<int>(axis));
    } else
        for (std::size_t axis = 0; axis < 3; ++axis)
            rows[axis].add_displacement(held, point, Point::Unit(static_cast<int>(axis)), 1);
    return rows;
}

int farthest(const part::Mesh& mesh, int first, int count, const auto& measure) {
    int best = -1;
    double most = -1;
    for (int n = first; n < first + count; ++n)
        if (mesh.node_alive[static_cast<std::size_t>(n)])
            if (const double d = measure(mesh.position_m[static_cast<std::size_t>(n)]); d > most) {
                most = d;
                best = n;
            }
    return best;
}

} // namespace

PartModel::PartModel(const part::Part& part, const part::Mesh& mesh, const PartModelSettings& settings)
    : part_(&part), mesh_(&mesh), ground_n_per_m_(settings.ground_n_per_m) {
    shell_ = std::make_unique<ShellModel>(shell_mesh(part, mesh, element_of_cell_, cell_of_element_));
    groups_ = weld_groups(part, mesh, settings.groups);
    groups_of_pass_.resize(part.passes.size());
    for (std::size_t g = 0; g < groups_.size(); ++g)
        if (groups_[g].pass >= 0)
            groups_of_pass_[static_cast<std::size_t>(groups_[g].pass)].push_back(static_cast<int>(g));
    for (const WeldGroup& group : groups_)
        strips_.push_back(shrinkage_strips(part, mesh, *shell_, element_of_cell_, group));
    for (int e = 0; e < shell_->element_count(); ++e) {
        const ShellElement& element = shell_->element(e);
        thermal_forces_.push_back(element.forces_of(
            held_by(shell_->elastic(), element.thickness_m(), {Eigen::Vector3d(1, 1, 0), Eigen::Vector3d::Zero()}), 1));
    }
    add_panels_motions();
    add_rows();
    add_loads();
}

std::array<int, 6> PartModel::panel_rows(int panel) const {
    std::array<int, 6> rows{};
    std::iota(rows.begin(), rows.end(), panel_row(panel));
    return rows;
}

// Holds each panel at three nodes far apart, by those six of their nine displacements that hold it best.
void PartModel::add_panels_motions() {
    const int panels = static_cast<int>(mesh_->panels.size());
    motions_ = Columns::Zero(shell_->unknown_count(), 6 * panels);
    for (int p = 0; p < panels; ++p) {
        const part::PanelGrid& grid = mesh_->panels[static_cast<std::size_t>(p)];
        const int first = grid.first_node, count = grid.nu * grid.nv;
        const auto place = [&](int n) -> const Point& { return mesh_->position_m[static_cast<std::size_t>(n)]; };
        const int start = farthest(*mesh_, first, count, [](const Point&) { return 0.0; });
        VERIFY(start >= 0, "a panel has metal");
        const int a = farthest(*mesh_, first, count, [&](const Point& x) { return (x - place(start)).norm(); });
        const int b = farthest(*mesh_, first, count, [&](const Point& x) { return (x - place(a)).norm(); });
        const Point chord = (place(b) - place(a)).normalized();
        const int c =
            farthest(*mesh_, first, count, [&](const Point& x) { return (x - place(a)).cross(chord).norm(); });

        const Point origin = place(a);
        const double size = (place(b) - place(a)).norm();
        Eigen::Matrix<double, 9, 6> all;
        all << rigid(place(a), origin), rigid(place(b), origin), rigid(place(c), origin);
        all.rightCols<3>() /= size;
        std::array<int, 6> best{};
        double largest = 0;
        for (unsigned mask = 0; mask < 512; ++mask) {
            if (std::popcount(mask) != 6)
                continue;
            std::array<int, 6> pick{};
            for (int i = 0, k = 0; i < 9; ++i)
                if (mask & (1u << i))
                    pick[static_cast<std::size_t>(k++)] = i;
            Eigen::Matrix<double, 6, 6> chosen;
            for (int k = 0; k < 6; ++k)
                chosen.row(k) = all.row(pick[static_cast<std::size_t>(k)]);
            if (const double volume = std::abs(chosen.determinant()); volume > largest * (1 + 1e-9)) {
                largest = volume;
                best = pick;
            }
        }
        Eigen::Matrix<double, 6, 6> chosen;
        const std::array<int, 3> nodes{a, b, c};
        for (int k = 0; k < 6; ++k) {
            const int i = best[static_cast<std::size_t>(k)];
            held_.push_back(6 * nodes[static_cast<std::size_t>(i / 3)] + i % 3);
            chosen.row(k) = rigid(place(nodes[static_cast<std::size_t>(i / 3)]), origin).row(i % 3);
        }
        const Eigen::Matrix<double, 6, 6> unit = chosen.inverse();
        for (int n = first; n < first + count; ++n) {
            motions_.block<3, 6>(6 * n, 6 * p) = rigid(place(n), origin) * unit;
            motions_.block<3, 6>(6 * n + 3, 6 * p) = unit.bottomRows<3>();
        }
    }
}

void PartModel::add_rows() {
    std::vector<LinearRow> rows;
    const auto add = [&](LinearRow row, double spring) {
        rows.push_back(std::move(row));
        springs_.push_back(spring);
        return static_cast<int>(rows.size()) - 1;
    };
    for (WeldGroup& group : groups_) {
        const part::Joint& joint = part_->joints[static_cast<std::size_t>(group.joint)];
        const double thinner = std::min(part_->panels[static_cast<std::size_t>(joint.panel_a)].thickness_m,
                                        part_->panels[static_cast<std::size_t>(joint.panel_b)].thickness_m);
        group.first_tie = static_cast<int>(rows.size());
        for (Tie& tie : ties(group, thinner, shell_->elastic().young_pa))
            add(std::move(tie.row), tie.stiffness);
        group.tie_count = static_cast<int>(rows.size()) - group.first_tie;

        // Strain along the weld, free of the thermal strain there: what is left is stress over modulus.
        LinearRow strain;
        const auto& strips = strips_[static_cast<std::size_t>(&group - groups_.data())];
        for (const WeldPoint& at : group.points)
            for (const std::size_t side : {0u, 1u}) {
                const part::Attachment& place = (side == 0 ? at.on_a : at.on_b).bend;
                const double share = strips[side].share / static_cast<double>(group.points.size());
                const int e = element_of_cell_[static_cast<std::size_t>(place.cell)];
                const ElementVector reads = share * shell_->element(e).strain_row(at.tangent);
                for (int i = 0; i < 24; ++i)
                    strain.unknown.emplace_back(6 * place.node[static_cast<std::size_t>(i / 6)] + i % 6, reads[i]);
                for (const int node : place.node)
                    strain.thermal.emplace_back(node, -0.25 * share);
            }
        group.strain = add(std::move(strain), 0);
    }
    for (const part::Clamp& clamp : part_->clamps) {
        std::vector<int>& own = clamp_rows_.emplace_back();
        const Grip held = grip(*mesh_, clamp.panel, clamp.at);
        for (int axis = 0; axis < 3; ++axis)
            if (clamp.holds[static_cast<std::size_t>(axis)]) {
                LinearRow row;
                row.add_displacement(held, held.bend.position, Point::Unit(axis), 1);
                own.push_back(add(std::move(row), clamp_n_per_m));
            }
    }
    for (const part::Gauge& gauge : part_->gauges) {
        std::vector<int>& own = gauge_rows_.emplace_back();
        for (std::size_t k = 0; k < gauge.point.size(); ++k) {
            std::array<LinearRow, 3> of_point = gauge_rows_at(*part_, *mesh_, gauge.panel[k], gauge.point[k]);
            own.push_back(static_cast<int>(rows.size()));
            for (LinearRow& row : of_point)
                add(std::move(row), 0);
        }
    }
    for (std::size_t p = 0; p < mesh_->panels.size(); ++p) {
        MeanMotion mean = mean_motion_of(*shell_, *mesh_, static_cast<int>(p));
        panel_rows_.push_back(static_cast<int>(rows.size()));
        for (std::size_t k = 0; k < 6; ++k)
            add(std::move(mean.rows[k]), fixture_n_per_m * (k < 3 ? 1 : mean.square_arm_m2));
    }
    MeanMotion mean = mean_motion_of(*shell_, *mesh_, -1);
    middle_ = mean.middle;
    frame_row_ = static_cast<int>(rows.size());
    for (LinearRow& row : mean.rows)
        add(std::move(row), 0);
    rows_ = assemble(rows, node_count());
}

void PartModel::add_loads() {
    std::vector<Eigen::Triplet<double, int>> entries;
    int count = 0;
    const auto add = [&](const UnitLoad& load) {
        for (const auto& [unknown, force] : load.force)
            entries.emplace_back(unknown, count, force);
        return count++;
    };
    for (const std::array<PanelStrip, 2>& strips : strips_) {
        GroupLoads& own = group_loads_.emplace_back();
        for (std::size_t side = 0; side < 2; ++side) {
            own.along_narrow[side] = add(strips[side].along_narrow);
            own.along_wide[side] = add(strips[side].along_wide);
            own.across[side] = add(strips[side].across);
            own.bend[side] = add(strips[side].bend);
        }
    }
    loads_.resize(shell_->unknown_count(), count);
    loads_.setFromTriplets(entries.begin(), entries.end());
}

Eigen::VectorXd PartModel::thermal_load(const Eigen::VectorXd& strain_of_node) const {
    Eigen::VectorXd load = Eigen::VectorXd::Zero(shell_->unknown_count());
    for (int e = 0; e < shell_->element_count(); ++e) {
        double strain = 0;
        for (const int node : shell_->nodes_of(e))
            strain += 0.25 * strain_of_node[node];
        shell_->scatter(e, strain * thermal_force(e), load);
    }
    return load;
}

SparseMatrix PartModel::free_stiffness() const {
    SparseMatrix k = shell_->stiffness();
    for (const int unknown : held_)
        k.coeffRef(unknown, unknown) += ground_n_per_m_;
    return k;
}

SparseMatrix PartModel::held_stiffness() const {
    std::vector<char> fixed(static_cast<std::size_t>(shell_->unknown_count()), 0);
    for (const int unknown : held_)
        fixed[static_cast<std::size_t>(unknown)] = 1;
    return shell_->stiffness(fixed);
}

} // namespace holdtrue::distortion
