// Where a laid group shrinks: strips of both panels beside the weld, in which stress-free (eigen-) strains act.
// Each strip gives unit loads on the shell model; their sizes come from shrinkage_law.h.
//
//   along    a tendon force of 1 N that pulls along the weld, spread over a strip; two half-widths, between which
//            a force is shared so that the mean half-width is the one wanted
//   across   a shrinkage of 1 m across the weld, in the plane of the panel
//   bend     an angular change of 1 rad about the weld, towards the side that the weld is on; where a panel stands on
//            the sheet, only on that side of its foot that the weld is on
// A plug shrinks alike in all directions of the sheet: `along` is then a force times length of 1 N m per m.
#pragma once

#include "distortion/shell_model.h"
#include "distortion/weld_group.h"

#include <array>

namespace holdtrue::distortion {

inline constexpr double narrow_strip_m = 0.010, wide_strip_m = 0.040; // half-widths

struct UnitLoad {
    std::vector<std::pair<int, double>> force; // (unknown 6 n + k, force); empty: no metal there
};

struct PanelStrip {
    UnitLoad along_narrow, along_wide, across, bend;
    double share = 0; // of the strip's metal that is this panel's; both panels add up to 1
    double side = 0;  // +1: the weld is on the side of the panel's normals; 0: in its plane
};

// `element_of_cell`: element of the model for each mesh cell, -1 for dead cells. Entries: panel a, panel b.
std::array<PanelStrip, 2> shrinkage_strips(const part::Part& part, const part::Mesh& mesh, const ShellModel& model,
                                           const std::vector<int>& element_of_cell, const WeldGroup& group);

} // namespace holdtrue::distortion
