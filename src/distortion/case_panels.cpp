#include "distortion/case_panels.h"

#include "text/names.h"

#include <Eigen/Geometry>

#include <algorithm>
#include <array>
#include <cmath>

namespace holdtrue::distortion {
namespace {

using Eigen::Vector3d;

constexpr int most_elements = 100000;

// The mapped quadrilateral has area everywhere.
bool has_area(const Corners& c) {
    const Vector3d normal = (c[2] - c[0]).cross(c[3] - c[1]);
    if (!(normal.norm() > 0))
        return false;
    for (std::size_t k = 0; k < 4; ++k) {
        const Vector3d here = (c[(k + 1) % 4] - c[k]).cross(c[(k + 3) % 4] - c[k]);
        if (here.dot(normal) < -1e-9 * normal.squaredNorm())
            return false;
    }
    return true;
}

} // namespace

std::vector<int> CasePanel::edge(CaseSide side) const {
    std::vector<int> nodes;
    if (side == CaseSide::a || side == CaseSide::b)
        for (int i = 0; i <= along; ++i)
            nodes.push_back(at(i, side == CaseSide::a ? 0 : across));
    else
        for (int j = 0; j <= across; ++j)
            nodes.push_back(at(side == CaseSide::start ? 0 : along, j));
    return nodes;
}

std::vector<int> CasePanel::edge_elements(CaseSide side) const {
    std::vector<int> elements;
    if (side == CaseSide::a || side == CaseSide::b)
        for (int i = 0; i < along; ++i)
            elements.push_back(first_element + (side == CaseSide::a ? 0 : across - 1) * along + i);
    else
        for (int j = 0; j < across; ++j)
            elements.push_back(first_element + j * along + (side == CaseSide::start ? 0 : along - 1));
    return elements;
}

int CasePanels::node_at(const Vector3d& place) {
    const auto cell = [&](double x) { return std::llround(x / same_place_m_); };
    for (int dx = -1; dx <= 1; ++dx)
        for (int dy = -1; dy <= 1; ++dy)
            for (int dz = -1; dz <= 1; ++dz)
                if (const auto found = known_.find({cell(place.x()) + dx, cell(place.y()) + dy, cell(place.z()) + dz});
                    found != known_.end() &&
                    (mesh_.node_m[static_cast<std::size_t>(found->second)] - place).norm() < same_place_m_)
                    return found->second;
    const int node = static_cast<int>(mesh_.node_m.size());
    known_[{cell(place.x()), cell(place.y()), cell(place.z())}] = node;
    mesh_.node_m.push_back(place);
    return node;
}

void CasePanels::read(text::Table table) {
    CasePanel panel{table, text::read_name(table, text::worded("panel"), names()), 1, 1, 0, {}};
    const bool closed = table.flag("closed", false);
    const std::vector<Vector3d> a = table.points("profile_a", closed ? 3 : 2);
    const std::vector<Vector3d> b = table.points("profile_b", closed ? 3 : 2);
    const double thickness_m = table.quantity("thickness", units::length, {1e-9, 1e3});
    const std::vector<double> counts = table.numbers("elements", {1, 10000}, 2);
    if (a.size() != b.size()) {
        table.problem("profile_b", text::in_english("the profiles have different numbers of points"),
                      text::in_english("give both as many"));
        return;
    }
    const int segments = static_cast<int>(a.size()) - (closed ? 0 : 1);
    if (counts.size() != 2 || segments < 1)
        return;
    panel.along = static_cast<int>(counts[0]);
    panel.across = static_cast<int>(counts[1]);
    if (panel.along != counts[0] || panel.across != counts[1] || panel.along % segments != 0) {
        table.problem("elements", text::in_english("the elements along the profile do not divide its segments evenly"),
                      text::in_english("give whole numbers, the first a multiple of " + std::to_string(segments)));
        return;
    }
    if (panel.element_count() + static_cast<int>(mesh_.quad.size()) > most_elements) {
        table.problem("elements", text::in_english("the case has more than 100000 elements"),
                      text::in_english("use fewer"));
        return;
    }
    if (same_place_m_ == 0) {
        double size_m = 0;
        for (const Vector3d& point : b)
            size_m = std::max(size_m, (point - a[0]).norm());
        same_place_m_ = std::max(1e-12, 1e-6 * size_m);
    }
    for (int j = 0; j <= panel.across; ++j)
        for (int i = 0; i <= panel.along; ++i) {
            const double s = static_cast<double>(i) * segments / panel.along;
            const int segment = std::min(static_cast<int>(s), segments - 1);
            const auto k = static_cast<std::size_t>(segment), next = (k + 1) % a.size();
            const double share = s - segment, r = static_cast<double>(j) / panel.across;
            panel.node.push_back(
                node_at((1 - r) * ((1 - share) * a[k] + share * a[next]) + r * ((1 - share) * b[k] + share * b[next])));
        }
    panel.first_element = static_cast<int>(mesh_.quad.size());
    for (int j = 0; j < panel.across; ++j)
        for (int i = 0; i < panel.along; ++i) {
            const std::array<int, 4> quad{panel.at(i, j), panel.at(i + 1, j), panel.at(i + 1, j + 1),
                                          panel.at(i, j + 1)};
            Corners corners;
            for (std::size_t k = 0; k < 4; ++k)
                corners[k] = mesh_.node_m[static_cast<std::size_t>(quad[k])];
            if (!has_area(corners)) {
                table.problem(
                    "", text::in_english("panel " + panel.name + " has an element without area, or folded over"),
                    text::in_english("let both profiles run the same way, with no segment of no length in both"));
                return;
            }
            mesh_.quad.push_back(quad);
            mesh_.thickness_m.push_back(thickness_m);
        }
    panels_.push_back(std::move(panel));
}

const CasePanel& CasePanels::of_element(int element) const {
    const auto after =
        std::ranges::upper_bound(panels_, element, {}, [](const CasePanel& panel) { return panel.first_element; });
    return *std::prev(after);
}

std::vector<std::string> CasePanels::names() const {
    std::vector<std::string> names;
    for (const CasePanel& panel : panels_)
        names.push_back(panel.name);
    return names;
}

} // namespace holdtrue::distortion
