#include "distortion/case_places.h"

#include "text/names.h"

#include <Eigen/Geometry>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <limits>
#include <optional>

namespace holdtrue::distortion {
namespace {

using Eigen::Vector3d;
using text::Table;
using units::mm;

// How far a place may lie from the node it names, in sizes of the elements there: digits that an author left out.
constexpr double off_node = 1e-3;
// How far a place may lie outside the element it names, likewise: on a curved sheet it lies off the flat elements.
constexpr double off_element = 0.1;

// How far a place lies outside a flat element, in sizes of the element; 0 within it.
double distance_in_sizes(const Corners& c, const Vector3d& place) {
    const Vector3d normal = (c[2] - c[0]).cross(c[3] - c[1]).normalized();
    const double size_m = std::max((c[2] - c[0]).norm(), (c[3] - c[1]).norm());
    double off_m = std::abs((place - 0.25 * (c[0] + c[1] + c[2] + c[3])).dot(normal));
    for (std::size_t k = 0; k < 4; ++k) {
        const Vector3d inward = normal.cross(c[(k + 1) % 4] - c[k]);
        if (inward.norm() > 0)
            off_m = std::max(off_m, -(place - c[k]).dot(inward.normalized()));
    }
    return off_m / size_m;
}

std::string words_of(const Vector3d& place) {
    char words[100];
    std::snprintf(words, sizeof words, "[%.9g, %.9g, %.9g] mm", place.x() / mm, place.y() / mm, place.z() / mm);
    return words;
}

} // namespace

CasePlaces::CasePlaces(const ShellMesh& mesh, const CasePanels& panels)
    : mesh_(mesh), panels_(panels), spacing_m_(mesh.node_m.size(), std::numeric_limits<double>::infinity()) {
    for (const auto& quad : mesh.quad)
        for (std::size_t k = 0; k < 4; ++k) {
            const int here = quad[k], next = quad[(k + 1) % 4];
            if (here == next)
                continue; // a pole
            const double side_m = (node_m(here) - node_m(next)).norm();
            for (const int node : {here, next}) {
                double& spacing_m = spacing_m_[static_cast<std::size_t>(node)];
                spacing_m = std::min(spacing_m, side_m);
            }
        }
}

Corners CasePlaces::corners_of(int element) const {
    Corners corners;
    for (std::size_t k = 0; k < 4; ++k)
        corners[k] = node_m(mesh_.quad[static_cast<std::size_t>(element)][k]);
    return corners;
}

std::vector<const CasePanel*> CasePlaces::panels_of(Table& table, bool needed) const {
    std::vector<const CasePanel*> panels;
    if (needed || table.has("panel"))
        for (const std::string& name : table.one_or_more("panel")) {
            const int index = text::find_named(table, "panel", name, text::worded("panel"), panels_.names());
            panels.push_back(&panels_.all()[static_cast<std::size_t>(index)]);
        }
    else
        for (const CasePanel& panel : panels_.all())
            panels.push_back(&panel);
    return panels;
}

CaseSide CasePlaces::side_of(Table& table) const {
    return table.choice<CaseSide>(
        "side", {{"a", CaseSide::a}, {"b", CaseSide::b}, {"start", CaseSide::start}, {"end", CaseSide::end}});
}

int CasePlaces::node_at(Table& table) const {
    const Vector3d place = table.point("at");
    std::size_t best = 0;
    for (std::size_t n = 1; n < mesh_.node_m.size(); ++n)
        if ((mesh_.node_m[n] - place).norm() < (mesh_.node_m[best] - place).norm())
            best = n;
    const Vector3d& node = mesh_.node_m[best];
    if ((node - place).norm() > off_node * spacing_m_[best])
        table.problem(
            "at", text::in_english("no node lies at this place; the nearest lies at " + words_of(node)),
            text::in_english("give that place, or choose profile points and elements so that a node lies here"));
    return static_cast<int>(best);
}

std::vector<int> CasePlaces::nodes_of(Table& table) const {
    if (table.has_quantity("at", units::length))
        return {node_at(table)};
    if (table.has_quantity("plane", units::length)) {
        const Vector3d point = table.point("plane"), normal = table.direction("normal");
        std::vector<int> nodes;
        for (std::size_t n = 0; n < mesh_.node_m.size(); ++n)
            if (std::abs((mesh_.node_m[n] - point).dot(normal)) < 10 * panels_.same_place_m())
                nodes.push_back(static_cast<int>(n));
        if (nodes.empty())
            table.problem("plane", text::in_english("no node lies in this plane"),
                          text::in_english("move it to where nodes are"));
        return nodes;
    }
    std::optional<CaseSide> side;
    if (table.has("side"))
        side = side_of(table);
    std::vector<int> nodes;
    for (const CasePanel* panel : panels_of(table, true)) {
        const std::vector<int> more = side ? panel->edge(*side) : panel->node;
        nodes.insert(nodes.end(), more.begin(), more.end());
    }
    return nodes;
}

int CasePlaces::element_at(Table& table) const {
    const Vector3d place = table.point("at");
    double least = std::numeric_limits<double>::infinity();
    int element = -1;
    for (const CasePanel* panel : panels_of(table, false))
        for (int e = panel->first_element; e < panel->first_element + panel->element_count(); ++e)
            if (const double off = distance_in_sizes(corners_of(e), place); off < least - 1e-9) {
                least = off;
                element = e;
            }
    if (least < off_element)
        return element;
    table.problem("at", text::in_english("this place does not lie on the panels"),
                  text::in_english("move it onto the middle of a sheet"));
    return -1;
}

std::vector<int> CasePlaces::neighbours_of(int element) const {
    const CasePanel& panel = panels_.of_element(element);
    const int i = (element - panel.first_element) % panel.along, j = (element - panel.first_element) / panel.along;
    std::vector<int> elements;
    for (int v = std::max(0, j - 1); v <= std::min(panel.across - 1, j + 1); ++v)
        for (int u = std::max(0, i - 1); u <= std::min(panel.along - 1, i + 1); ++u)
            elements.push_back(panel.first_element + v * panel.along + u);
    return elements;
}

} // namespace holdtrue::distortion
