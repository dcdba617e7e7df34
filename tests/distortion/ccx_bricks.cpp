#include "ccx_bricks.h"

#include <Eigen/Geometry>

#include <algorithm>
#include <cmath>
#include <map>
#include <sstream>

namespace holdtrue::distortion::testing {

namespace {

using Terms = std::vector<std::pair<int, double>>; // (unknown of the bricks, coefficient)

int lower(int pair) { return 6 * pair; } // first unknown of the lower node; the upper's are the next three

void write_equation(std::ostringstream& out, const Terms& terms) {
    out << terms.size();
    for (std::size_t k = 0; k < terms.size(); ++k)
        out << (k % 4 == 0 ? "\n" : ", ") << terms[k].first / 3 + 1 << ", " << terms[k].first % 3 + 1 << ", "
            << terms[k].second;
    out << "\n";
}

} // namespace

CcxBricks::CcxBricks(const PartModel& model) : model_(&model) {
    make_pairs();
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
    const int own = lower(pair);
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
        const int other = lower(pairs_of_node_[static_cast<std::size_t>(about[m])].front());
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

// Ties pair b to pair a; `about`: the node's neighbours.
void CcxBricks::write_fold(std::ostringstream& out, int a, int b, const std::vector<int>& about) const {
    const Eigen::Vector3d &da = pairs_[static_cast<std::size_t>(a)].half_thickness_m,
                          &db = pairs_[static_cast<std::size_t>(b)].half_thickness_m;
    for (int k = 0; k < 3; ++k)
        write_equation(out,
                       {{lower(b) + 3 + k, 1.0}, {lower(b) + k, 1.0}, {lower(a) + k, -1.0}, {lower(a) + 3 + k, -1.0}});
    // Rotation about the fold e: e . (d x (u+ - u-)) / (2 d^2), with the upper node of b out of the equations above.
    const Eigen::Vector3d fold = da.cross(db).normalized();
    const Eigen::Vector3d of_a = fold.cross(da) / (2 * da.squaredNorm()),
                          of_b = fold.cross(db) / (2 * db.squaredNorm());
    int first = 0;
    of_b.cwiseAbs().maxCoeff(&first);
    Terms terms{{lower(b) + first, -2 * of_b[first]}};
    const auto add = [&](int unknown, double coefficient) {
        if (std::abs(coefficient) > 1e-9 * of_b.norm())
            terms.emplace_back(unknown, coefficient);
    };
    for (int k = 0; k < 3; ++k) {
        if (k != first)
            add(lower(b) + k, -2 * of_b[k]);
        add(lower(a) + k, of_b[k] + of_a[k]);
        add(lower(a) + 3 + k, of_b[k] - of_a[k]);
    }
    write_equation(out, terms);
    constexpr double blunt = 0.7; // cosine of the turn from sheet to sheet
    if (da.dot(db) > blunt * da.norm() * db.norm())
        write_twist(out, a, b, about);
}

// Sheets that meet at a blunt angle hand on what twists them. A sheet leans along the fold e as it turns about n x e;
// of two sheets the leans differ by the turn about (n_a - n_b) x e, nearly the sheets' normal, which is that of the
// node's neighbours.
void CcxBricks::write_twist(std::ostringstream& out, int a, int b, const std::vector<int>& about) const {
    const Eigen::Vector3d &da = pairs_[static_cast<std::size_t>(a)].half_thickness_m,
                          &db = pairs_[static_cast<std::size_t>(b)].half_thickness_m;
    const Eigen::Vector3d fold = da.cross(db).normalized(), axis = (da.normalized() - db.normalized()).cross(fold);
    std::map<int, double> terms; // by unknown, with the upper node of b out of the equations of write_fold()
    for (int k = 0; k < 3; ++k) {
        terms[lower(a) + k] = -fold[k] / (2 * da.norm()) - fold[k] / (2 * db.norm());
        terms[lower(a) + 3 + k] = fold[k] / (2 * da.norm()) - fold[k] / (2 * db.norm());
        terms[lower(b) + k] = fold[k] / db.norm();
    }
    std::vector<Eigen::Vector3d> weights;
    double square = 0;
    for (const int other : about) {
        weights.push_back(axis.cross(place_of(other) - place_of(mesh_node(a))));
        square += weights.back().squaredNorm() / axis.squaredNorm();
    }
    for (std::size_t m = 0; m < about.size(); ++m)
        for (int k = 0; k < 3; ++k)
            for (const int side : {0, 3}) {
                const double half = 0.5 * weights[m][k] / square;
                terms[lower(pairs_of_node_[static_cast<std::size_t>(about[m])].front()) + side + k] -= half;
                terms[lower(a) + side + k] += half;
            }
    int first = 0;
    fold.cwiseAbs().maxCoeff(&first);
    first += lower(b);
    Terms list{{first, terms[first]}};
    for (const auto& [unknown, coefficient] : terms)
        if (unknown != first && std::abs(coefficient) > 1e-9 / db.norm())
            list.emplace_back(unknown, coefficient);
    write_equation(out, list);
}

// Steel, and the elements by the way they face, for it is weaker across the sheet.
void CcxBricks::write_steel(std::ostream& out) const {
    const Elastic& elastic = model_->shell().elastic();
    const double e = elastic.young_pa, nu = elastic.poisson, g = e / (2 * (1 + nu));
    out << "*MATERIAL, NAME=STEEL\n*ELASTIC, TYPE=ENGINEERING CONSTANTS\n"
        << e << ", " << e << ", " << e << ", " << nu << ", " << nu << ", " << nu << ", " << g << ", " << 5 * g / 6
        << "\n"
        << 5 * g / 6 << ", 0.\n*EXPANSION, ZERO=0\n1.\n*INITIAL CONDITIONS, TYPE=TEMPERATURE\nALL, 0\n";
    std::map<std::array<long, 3>, std::vector<int>> by_normal; // to some 0.5 degrees
    for (int k = 0; k < model_->shell().element_count(); ++k) {
        const Eigen::Matrix3d& axes = model_->shell().element(k).axes();
        by_normal[{std::lround(100 * axes(2, 0)), std::lround(100 * axes(2, 1)), std::lround(100 * axes(2, 2))}]
            .push_back(k);
    }
    int set = 0;
    for (const auto& [normal, elements] : by_normal) {
        const Eigen::Matrix3d& axes = model_->shell().element(elements.front()).axes();
        out << "*ORIENTATION, NAME=O" << set << ", SYSTEM=RECTANGULAR\n"
            << axes(0, 0) << ", " << axes(0, 1) << ", " << axes(0, 2) << ", " << axes(1, 0) << ", " << axes(1, 1)
            << ", " << axes(1, 2) << "\n*ELSET, ELSET=E" << set << "\n";
        for (const int k : elements)
            out << k + 1 << ",\n";
        out << "*SOLID SECTION, ELSET=E" << set << ", MATERIAL=STEEL, ORIENTATION=O" << set << "\n";
        ++set;
    }
}

std::string CcxBricks::deck() const {
    std::ostringstream out;
    out.precision(12);
    out << "*NODE, NSET=ALL\n";
    for (int p = 0; p < pair_count(); ++p)
        for (const int side : {-1, 1}) {
            const Pair& pair = pairs_[static_cast<std::size_t>(p)];
            const Eigen::Vector3d place =
                model_->mesh().position_m[static_cast<std::size_t>(pair.mesh_node)] + side * pair.half_thickness_m;
            out << 2 * p + (side < 0 ? 1 : 2) << ", " << place.x() << ", " << place.y() << ", " << place.z() << "\n";
        }
    out << "*ELEMENT, TYPE=C3D8I\n";
    for (std::size_t e = 0; e < pairs_of_element_.size(); ++e) {
        out << e + 1;
        for (const int side : {1, 2})
            for (const int pair : pairs_of_element_[e])
                out << ", " << 2 * pair + side;
        out << "\n";
    }
    const std::vector<std::vector<int>> about = neighbours();
    out << "*EQUATION\n";
    for (const std::vector<int>& at : pairs_of_node_)
        for (std::size_t k = 1; k < at.size(); ++k)
            write_fold(out, at[0], at[k], about[static_cast<std::size_t>(mesh_node(at[0]))]);
    write_steel(out);
    return out.str();
}

} // namespace holdtrue::distortion::testing
