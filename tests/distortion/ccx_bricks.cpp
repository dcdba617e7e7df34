#include "ccx_bricks.h"

#include <Eigen/Geometry>

#include <algorithm>
#include <cmath>
#include <map>

namespace holdtrue::distortion::testing {

namespace {

// Of a cell that is drawn as a C3D8I: how far its Jacobian may stray, and its distance from welds in half diagonals.
constexpr double most_skew = 0.02, near_weld = 2;

} // namespace

CcxBricks::CcxBricks(const PartModel& model, CcxKind kind) : model_(&model) {
    make_pairs();
    if (kind == CcxKind::with_sheet_bricks)
        choose_sheet_bricks();
    make_map();
}

void CcxBricks::make_pairs() {
    const ShellModel& shell = model_->shell();
    const double flat = std::cos(3.0 * 3.14159265 / 180); // sheets that turn less are one
    pairs_of_node_.resize(static_cast<std::size_t>(model_->node_count()));
    for (int e = 0; e < shell.element_count(); ++e) {
        const Eigen::Vector3d d = 0.5 * shell.element(e).thickness_m() * shell.element(e).axes().row(2).transpose();
        std::array<int, 4>& own = pairs_of_element_.emplace_back();
        for (std::size_t k = 0; k < 4; ++k) {
            const int node = shell.nodes_of(e)[k];
            std::vector<int>& at = pairs_of_node_[static_cast<std::size_t>(node)];
            const auto same = std::ranges::find_if(at, [&](int pair) {
                const Eigen::Vector3d& other = pairs_[static_cast<std::size_t>(pair)].half_thickness_m;
                return other.dot(d) > flat * other.norm() * d.norm();
            });
            if (same == at.end()) {
                own[k] = pair_count();
                at.push_back(own[k]);
                pairs_.push_back({node, d});
            } else
                own[k] = *same;
        }
    }
}

void CcxBricks::choose_sheet_bricks() {
    for (std::size_t e = 0; e < pairs_of_element_.size(); ++e) {
        const CcxSheetBrick::Places places = places_of_element(e);
        const Eigen::RowVector3d middle = places.colwise().mean();
        const double near_m = near_weld * (places.rowwise() - middle).rowwise().norm().maxCoeff();
        const bool beside_weld = std::ranges::any_of(model_->groups(), [&](const WeldGroup& group) {
            return std::ranges::any_of(
                group.points, [&](const WeldPoint& at) { return (at.place.transpose() - middle).norm() < near_m; });
        });
        if (beside_weld || CcxSheetBrick::skew(places) > most_skew)
            sheet_bricks_.push_back(e);
    }
}

bool CcxBricks::renumber() {
    const std::ptrdiff_t third = std::ssize(sheet_bricks_) / 3;
    std::ranges::rotate(sheet_bricks_, sheet_bricks_.begin() + third);
    return third > 0;
}

std::array<int, 8> CcxBricks::nodes_of_element(std::size_t element) const {
    std::array<int, 8> nodes;
    for (std::size_t k = 0; k < 4; ++k) {
        nodes[k] = 2 * pairs_of_element_[element][k] + 1;
        nodes[4 + k] = nodes[k] + 1;
    }
    return nodes;
}

Eigen::Vector3d CcxBricks::place_of_node(int node) const {
    const Pair& pair = pairs_[static_cast<std::size_t>((node - 1) / 2)];
    return place_of(pair.mesh_node) + (node % 2 == 1 ? -1 : 1) * pair.half_thickness_m;
}

CcxSheetBrick::Places CcxBricks::places_of_element(std::size_t element) const {
    CcxSheetBrick::Places places;
    const std::array<int, 8> nodes = nodes_of_element(element);
    for (std::size_t k = 0; k < 8; ++k)
        places.row(static_cast<Eigen::Index>(k)) = place_of_node(nodes[k]).transpose();
    return places;
}

// Of each mesh node: those at the other ends of its edges; of a node on the rim of its sheet, of edges along the rim.
std::vector<std::vector<int>> CcxBricks::neighbours() const {
    std::map<std::pair<int, int>, int> cells_of_edge;
    for (int e = 0; e < model_->shell().element_count(); ++e)
        for (std::size_t k = 0; k < 4; ++k) {
            const auto& nodes = model_->shell().nodes_of(e);
            ++cells_of_edge[std::minmax(nodes[k], nodes[(k + 1) % 4])];
        }
    std::vector<std::vector<int>> rim(pairs_of_node_.size()), all(pairs_of_node_.size());
    for (const auto& [edge, cells] : cells_of_edge)
        for (const auto& [from, to] : {edge, std::pair(edge.second, edge.first)}) {
            all[static_cast<std::size_t>(from)].push_back(to);
            if (cells == 1)
                rim[static_cast<std::size_t>(from)].push_back(to);
        }
    for (std::size_t n = 0; n < all.size(); ++n)
        if (!rim[n].empty())
            all[n] = rim[n];
    return all;
}

void CcxBricks::make_map() {
    MapEntries entries;
    const std::vector<std::vector<int>> about = neighbours();
    for (int p = 0; p < pair_count(); ++p)
        add_share(entries, p, about[static_cast<std::size_t>(mesh_node(p))]);
    to_unknowns_.resize(6 * model_->mesh().node_count(), 3 * node_count());
    to_unknowns_.setFromTriplets(entries.begin(), entries.end());
    to_unknowns_.prune(1.0, 1e-12);
}

// What a pair contributes to the mean over its node's pairs; `about`: the node's neighbours.
void CcxBricks::add_share(MapEntries& entries, int pair, const std::vector<int>& about) const {
    const part::Mesh& mesh = model_->mesh();
    const auto& [n, d] = pairs_[static_cast<std::size_t>(pair)];
    const double share = 1.0 / static_cast<double>(pairs_of_node_[static_cast<std::size_t>(n)].size());
    const int own = first_unknown(pair);
    const auto add = [&](int unknown, int at, double coefficient) {
        entries.emplace_back(6 * n + unknown, at, share * coefficient);
    };
    // A row of the rotation reads the middle of a pair.
    const auto add_to_rotation = [&](int axis, int at, double coefficient) {
        add(3 + axis, at, 0.5 * coefficient);
        add(3 + axis, at + 3, 0.5 * coefficient);
    };
    for (int k = 0; k < 3; ++k) {
        add(k, own + k, 0.5);
        add(k, own + 3 + k, 0.5);
        const Eigen::Vector3d turn = d.cross(Eigen::Vector3d::Unit(k)) / (2 * d.squaredNorm());
        for (int i = 0; i < 3; ++i) {
            add(3 + i, own + 3 + k, turn[i]);
            add(3 + i, own + k, -turn[i]);
        }
    }
    const Eigen::Vector3d axis = d.normalized();
    std::vector<Eigen::Vector3d> apart;
    double square = 0;
    for (const int other : about) {
        apart.push_back(mesh.position_m[static_cast<std::size_t>(other)] -
                        mesh.position_m[static_cast<std::size_t>(n)]);
        square += axis.cross(apart.back()).squaredNorm();
    }
    // Sum of (axis x apart) . (u_other - u_own - tilt x apart) / square, the tilt being that square to d.
    Eigen::Vector3d of_tilt = Eigen::Vector3d::Zero();
    for (std::size_t m = 0; m < apart.size(); ++m) {
        const Eigen::Vector3d weight = axis.cross(apart[m]) / square;
        of_tilt += apart[m].cross(weight);
        // The middles of a node's pairs are one.
        const int other = first_unknown(pairs_of_node_[static_cast<std::size_t>(about[m])].front());
        for (int i = 0; i < 3; ++i)
            for (int k = 0; k < 3; ++k) {
                add_to_rotation(i, other + k, axis[i] * weight[k]);
                add_to_rotation(i, own + k, -axis[i] * weight[k]);
            }
    }
    for (int k = 0; k < 3; ++k) {
        const double turn = of_tilt.dot(d.cross(Eigen::Vector3d::Unit(k))) / (2 * d.squaredNorm());
        for (int i = 0; i < 3; ++i) {
            add(3 + i, own + 3 + k, -axis[i] * turn);
            add(3 + i, own + k, axis[i] * turn);
        }
    }
}

} // namespace holdtrue::distortion::testing
