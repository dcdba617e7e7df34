// The panels of a shell case and their mesh: each a grid of elements ruled between two profiles.
#pragma once

#include "distortion/shell_model.h"
#include "text/toml_reader.h"

#include <map>
#include <string>
#include <vector>

namespace holdtrue::distortion {

// profile_a, profile_b, and the rulings through the first and the last profile point.
enum class CaseSide { a, b, start, end };

struct CasePanel {
    text::Table table;
    std::string name;
    int along = 1, across = 1; // elements
    int first_element = 0;     // element (i, j) is first_element + j * along + i
    std::vector<int> node;     // (along + 1) x (across + 1), by rows; a closed panel repeats i = 0

    int at(int i, int j) const { return node[static_cast<std::size_t>(j * (along + 1) + i)]; }
    int element_count() const { return along * across; }
    std::vector<int> edge(CaseSide side) const;
    // Elements that the nodes of an edge belong to, one for each of its segments.
    std::vector<int> edge_elements(CaseSide side) const;
};

// Reads panels into one mesh, in which nodes at one place are one: closer than a millionth of the first panel's size.
class CasePanels {
public:
    explicit CasePanels(ShellMesh& mesh) : mesh_(mesh) {}

    // A panel with a problem is told and not kept.
    void read(text::Table table);

    const std::vector<CasePanel>& all() const { return panels_; }
    const CasePanel& of_element(int element) const;
    std::vector<std::string> names() const;
    double same_place_m() const { return same_place_m_; }

private:
    int node_at(const Eigen::Vector3d& place);

    ShellMesh& mesh_;
    double same_place_m_ = 0;
    std::vector<CasePanel> panels_;
    std::map<std::array<long long, 3>, int> known_;
};

} // namespace holdtrue::distortion
