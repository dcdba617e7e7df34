// What lies under the pointer: a place on the sheet, or a pass of the weld.
#pragma once

#include "app/scene/camera.h"
#include "app/scene/pass_lines.h"
#include "part/mesh.h"

#include <optional>
#include <vector>

namespace holdtrue::app::scene {

// Boxes about runs of cells, so that a ray looks at a few cells only. Refers to `mesh`, which must outlive it;
// `place` (node_count) is copied: where the nodes are drawn.
class CellFinder {
public:
    CellFinder(const part::Mesh& mesh, std::vector<part::Point> place);

    struct Hit {
        part::Attachment place; // cell, nodes, weights; position is where it is drawn
        double along_m = 0;     // from the ray's origin
    };
    std::optional<Hit> first_hit(const Projection::Ray& ray) const;
    // Whether metal lies between the eye and the point, more than `slack_m` before it.
    bool hidden(const part::Point& eye, const part::Point& point, double slack_m) const;

private:
    struct Run {
        int first_cell, last_cell;
        Box box;
    };
    // Runs side by side with a box about all of them.
    struct Bunch {
        std::size_t first, last;
        Box box;
    };
    // Calls `look` with every triangle (cell, second and third corner) whose boxes the ray meets before `farthest`,
    // which it may bring nearer; until it returns true.
    template <class Look>
    void visit(const Projection::Ray& ray, const double& farthest, const Look& look) const;

    const part::Mesh& mesh_;
    std::vector<part::Point> place_;
    std::vector<Run> runs_;
    std::vector<Bunch> bunches_;
};

// Whether metal covers a place of a pass, as seen. It is looked at on the bead's face, from which the sheets it lies on
// do not hide it; what has no side (`to_face` zero) sits in its sheet: what covers it by less than a few millimetres
// does not hide it.
bool covered(const part::Point& place, const part::Point& to_face, const Projection& projection,
             const CellFinder& cells);

// The pass whose line comes nearest to the pointer, within reach_px; none that lies behind metal there.
std::optional<int> pick_pass(const PassLines& passes, const Projection& projection, const CellFinder& cells,
                             double x_px, double y_px, double reach_px);

// Whether the middle of each pass is behind metal; pass_count.
std::vector<bool> hidden_passes(const PassLines& passes, const Projection& projection, const CellFinder& cells);

} // namespace holdtrue::app::scene
