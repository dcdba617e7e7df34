#include "ccx_bricks.h"

#include <Eigen/Geometry>

#include <algorithm>
#include <cmath>
#include <map>
#include <sstream>

namespace holdtrue::distortion::testing {

namespace {

using Terms = std::vector<std::pair<int, double>>; // (unknown of the bricks, coefficient)

void write_equation(std::ostringstream& out, const Terms& terms) {
    out << terms.size();
    for (std::size_t k = 0; k < terms.size(); ++k)
        out << (k % 4 == 0 ? "\n" : ", ") << terms[k].first / 3 + 1 << ", " << terms[k].first % 3 + 1 << ", "
            << terms[k].second;
    out << "\n";
}

} // namespace

// Ties pair b to pair a; `about`: the node's neighbours.
void CcxBricks::write_fold(std::ostringstream& out, int a, int b, const std::vector<int>& about) const {
    const Eigen::Vector3d &da = pairs_[static_cast<std::size_t>(a)].half_thickness_m,
                          &db = pairs_[static_cast<std::size_t>(b)].half_thickness_m;
    for (int k = 0; k < 3; ++k)
        write_equation(out, {{first_unknown(b) + 3 + k, 1.0},
                             {first_unknown(b) + k, 1.0},
                             {first_unknown(a) + k, -1.0},
                             {first_unknown(a) + 3 + k, -1.0}});
    // Rotation about the fold e: e . (d x (u+ - u-)) / (2 d^2), with the upper node of b out of the equations above.
    const Eigen::Vector3d fold = da.cross(db).normalized();
    const Eigen::Vector3d of_a = fold.cross(da) / (2 * da.squaredNorm()),
                          of_b = fold.cross(db) / (2 * db.squaredNorm());
    int first = 0;
    of_b.cwiseAbs().maxCoeff(&first);
    Terms terms{{first_unknown(b) + first, -2 * of_b[first]}};
    const auto add = [&](int unknown, double coefficient) {
        if (std::abs(coefficient) > 1e-9 * of_b.norm())
            terms.emplace_back(unknown, coefficient);
    };
    for (int k = 0; k < 3; ++k) {
        if (k != first)
            add(first_unknown(b) + k, -2 * of_b[k]);
        add(first_unknown(a) + k, of_b[k] + of_a[k]);
        add(first_unknown(a) + 3 + k, of_b[k] - of_a[k]);
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
        terms[first_unknown(a) + k] = -fold[k] / (2 * da.norm()) - fold[k] / (2 * db.norm());
        terms[first_unknown(a) + 3 + k] = fold[k] / (2 * da.norm()) - fold[k] / (2 * db.norm());
        terms[first_unknown(b) + k] = fold[k] / db.norm();
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
                terms[first_unknown(pairs_of_node_[static_cast<std::size_t>(about[m])].front()) + side + k] -= half;
                terms[first_unknown(a) + side + k] += half;
            }
    int first = 0;
    fold.cwiseAbs().maxCoeff(&first);
    first += first_unknown(b);
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
    const double across = sheet_bricks_.empty() ? nu : 0; // a sheet thins freely
    out << "*MATERIAL, NAME=STEEL\n*ELASTIC, TYPE=ENGINEERING CONSTANTS\n"
        << e << ", " << e << ", " << e << ", " << nu << ", " << across << ", " << across << ", " << g << ", "
        << 5 * g / 6 << "\n"
        << 5 * g / 6 << ", 0.\n*EXPANSION, ZERO=0\n1.\n";
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

void CcxBricks::write_sheet_bricks(std::ostream& nodes, std::ostringstream& elements,
                                   std::ostringstream& equations) const {
    int first = node_count();
    for (const std::size_t e : sheet_bricks_) {
        const CcxSheetBrick brick(places_of_element(e));
        const std::array<int, 8> corners = nodes_of_element(e);
        const Eigen::Vector3d normal = model_->shell().element(static_cast<int>(e)).axes().row(2).transpose();
        const int modes = first + CcxSheetBrick::node_count, normal_modes = modes + CcxSheetBrick::mode_count;
        elements << e + 1;
        for (int i = 0; i < nodes_of_sheet_brick; ++i) {
            const Eigen::RowVector3d place = brick.place_m.row(i % CcxSheetBrick::node_count); // of modes: anywhere
            nodes << first + i + 1 << ", " << place.x() << ", " << place.y() << ", " << place.z() << "\n";
        }
        for (int i = 0; i < CcxSheetBrick::node_count; ++i) {
            elements << (i == 10 ? ",\n" : ", ") << first + i + 1;
            for (int axis = 0; axis < 3; ++axis) {
                Terms terms{{3 * (first + i) + axis, -1.0}};
                const auto add = [&](int node, int dof, double coefficient) {
                    if (std::abs(coefficient) > 1e-12)
                        terms.emplace_back(3 * node + dof, coefficient);
                };
                for (int k = 0; k < 8; ++k)
                    add(corners[static_cast<std::size_t>(k)] - 1, axis, brick.of_corner(i, k));
                for (int k = 0; k < CcxSheetBrick::mode_count; ++k)
                    add(modes + k, axis, brick.of_mode(i, k));
                for (int k = 0; k < CcxSheetBrick::normal_mode_count; ++k)
                    add(normal_modes, k, normal[axis] * brick.of_normal_mode(i, k));
                write_equation(equations, terms);
            }
        }
        elements << "\n";
        first += nodes_of_sheet_brick;
    }
}

void CcxBricks::write_heat(std::ostream& out, const Eigen::VectorXd& strain_of_node) const {
    const auto strain = [&](int pair) { return strain_of_node.size() > 0 ? strain_of_node[mesh_node(pair)] : 0.0; };
    for (int pair = 0; pair < pair_count(); ++pair)
        out << 2 * pair + 1 << ", " << strain(pair) << "\n" << 2 * pair + 2 << ", " << strain(pair) << "\n";
    int first = node_count();
    for (const std::size_t e : sheet_bricks_) {
        double mean = 0;
        for (const int pair : pairs_of_element_[e])
            mean += 0.25 * strain(pair);
        for (int i = 1; i <= CcxSheetBrick::node_count; ++i)
            out << first + i << ", " << mean << "\n";
        first += nodes_of_sheet_brick;
    }
}

std::string CcxBricks::deck() const {
    std::ostringstream out, of_sheet_bricks, equations;
    for (std::ostringstream* stream : {&out, &equations})
        stream->precision(12);
    out << "*NODE, NSET=ALL\n";
    for (int node = 1; node <= node_count(); ++node) {
        const Eigen::Vector3d place = place_of_node(node);
        out << node << ", " << place.x() << ", " << place.y() << ", " << place.z() << "\n";
    }
    out << "*NODE\n";
    write_sheet_bricks(out, of_sheet_bricks, equations);
    if (sheet_bricks_.size() < pairs_of_element_.size())
        out << "*ELEMENT, TYPE=C3D8I\n";
    for (std::size_t e = 0; e < pairs_of_element_.size(); ++e) {
        if (std::ranges::find(sheet_bricks_, e) != sheet_bricks_.end())
            continue;
        out << e + 1;
        for (const int node : nodes_of_element(e))
            out << ", " << node;
        out << "\n";
    }
    if (!sheet_bricks_.empty())
        out << "*ELEMENT, TYPE=C3D20R\n" << of_sheet_bricks.str();
    const std::vector<std::vector<int>> about = neighbours();
    for (const std::vector<int>& at : pairs_of_node_)
        for (std::size_t k = 1; k < at.size(); ++k)
            write_fold(equations, at[0], at[k], about[static_cast<std::size_t>(mesh_node(at[0]))]);
    out << "*EQUATION\n" << equations.str();
    write_steel(out);
    out << "*INITIAL CONDITIONS, TYPE=TEMPERATURE\n";
    write_heat(out, {});
    return out.str();
}

} // namespace holdtrue::distortion::testing
