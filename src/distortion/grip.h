// How a point beside a sheet hangs on it.
//   In the plane of the sheet it moves as the metal under it does: the mean of the nodes of `slide`'s cell, and from
//   there by that cell's gradient. About the sheet's normal n it turns as that metal does, by n . curl u / 2.
//   Square to the sheet, and in turning with its slope, it rides rigidly on `bend`: the same place, or for a weld
//   beside the foot of a panel that stands on this one the middle of the foot (weld_group.h).
// A shell's own unknown for the rotation about its normal is left out: only a penalty holds it, so that the forces at
// a weld's toe would turn it the more the finer the mesh.
#pragma once

#include "part/mesh.h"

namespace holdtrue::distortion {

struct Grip {
    part::Attachment bend, slide;
    part::Point normal;                  // unit, of the cell at `slide`
    std::array<part::Point, 4> gradient; // of the shape functions of `slide`'s cell there, in its plane [1/m]
};

Grip grip(const part::Mesh& mesh, const part::Attachment& bend, const part::Attachment& slide);
Grip grip(const part::Mesh& mesh, int panel, const part::Point& point); // both nearest to the point

} // namespace holdtrue::distortion
