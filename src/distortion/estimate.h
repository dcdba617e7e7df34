// A first estimate of how a part moves: one straight beam with the part's cut sections, pulled by each pass.
//   tendon force along a pass   F = 0.2 N per J/m of net heat     White, Leggatt & Dwight, about 1980 (from memory)
//   shrinkage across a pass     S = 0.10 A_w / t                  O. W. Blodgett, Design of Weldments (from memory)
//   angular change of a fillet  0.04 D^1.3 / T^2 [inch]           the same; split over the two sides, a hint only
// F / E along the pass and S t across it are strains integrated over the metal beside one metre of pass. Seen along
// the beam, such a strain m [m^3] at a place p adds m / (A dx) of stretch and I^-1 (p - c) m / dx of curvature to its
// station; A, c and I belong to the panels that are tied together at that moment, so that the order of passes counts.
// Left out: clamps, contact, twist, bending of a cross-section, prior stress. The band says so.
#pragma once

#include "distortion/evaluate.h"

namespace holdtrue::distortion {

// Same question and same answer as evaluate(). Needs no solver: a few milliseconds.
Result estimate(const part::Part& part, const part::Mesh& mesh, const std::vector<Step>& steps,
                std::stop_token stop = {});

} // namespace holdtrue::distortion
