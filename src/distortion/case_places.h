// What a table of a shell case points at: panels, edges, nodes and elements.
//
//   panel = "NAME" or a list of names; side = "a", "b", "start" or "end"; at_mm: a place; plane_mm with normal: a plane
// A place names the node that lies there; one between nodes is refused, with the nearest node in the message.
#pragma once

#include "distortion/case_panels.h"

#include <Eigen/Core>

#include <vector>

namespace holdtrue::distortion {

// Reads mesh and panels as they are; both outlive it.
class CasePlaces {
public:
    CasePlaces(const ShellMesh& mesh, const CasePanels& panels);

    const Eigen::Vector3d& node_m(int node) const { return mesh_.node_m[static_cast<std::size_t>(node)]; }
    Corners corners_of(int element) const;

    // Where `panel` may be left out, that means all panels.
    std::vector<const CasePanel*> panels_of(text::Table& table, bool needed) const;
    CaseSide side_of(text::Table& table) const;
    int node_at(text::Table& table) const; // at_mm
    // at_mm, or plane_mm and normal, or panel and side, or panel: all of it.
    std::vector<int> nodes_of(text::Table& table) const;
    // at_mm, on `panel` if that is given: the element there, or -1 with a problem.
    int element_at(text::Table& table) const;
    // The element and those of its panel that share a node with it.
    std::vector<int> neighbours_of(int element) const;

private:
    const ShellMesh& mesh_;
    const CasePanels& panels_;
    std::vector<double> spacing_m_; // the shortest side of the elements at each node
};

} // namespace holdtrue::distortion
