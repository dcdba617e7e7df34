// The section across a weld at mid-pass, finer than the mesh of the part.
//
// Each panel is cut along the grid line that runs most nearly square to the weld, up to 100 mm each way or to its rim,
// and conduction is solved along that cut while the arc passes: heat/conduction.h on a strip one cell wide, with the
// faces' losses, the part's own temperatures as the start and the bead as a bridge. Heat that flows along the weld is
// left out (the arc is taken to run faster than heat does): on thin sheet this makes the 500 C zone 3 % and the 1500 C
// zone 20 % wider than Rosenthal's solution at 6 mm/s (test). For a plug the strip is a wedge about its middle.
#pragma once

#include "heat/weld_heat.h"

namespace holdtrue::heat {

struct SectionFigures {
    double t85_s = 0; // on the weld, in the panel that gets hotter; 0 if it never gets above 800 C
    double width_500_m = 0, width_800_m = 0; // that went above 500, 800 C; both panels together
    double element_m = 0;                    // of the cut, at the weld
};

// What the arc will do, from the temperatures of now.
SectionFigures weld_section(const WeldHeat& heat, const Arc& arc);

} // namespace holdtrue::heat
