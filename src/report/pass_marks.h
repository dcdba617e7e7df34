// The passes of a plan as a picture shows them: number, direction, and a badge placed where it hides little.
#pragma once

#include "report/depth_image.h"
#include "weld/plan.h"

#include <optional>
#include <string>
#include <vector>

namespace holdtrue::report {

struct PassMark {
    int pass = 0; // index into Part::passes
    int move = 0; // index into Plan::moves
    bool reversed = false;
    std::string label; // the move's number in the plan, from 1; tacks of a joint laid in one go share "3-8"
};
std::vector<PassMark> pass_marks(const part::Part& part, const weld::Plan& plan);

struct MarkStyle {
    double badge_size = 11; // font size
    Ink line = ink::text;
    std::optional<int> only_joint; // marks of other joints are left out
};
// Draws the passes that the view shows strong, with arrow and badge, and those that it hides faint and without.
// `surface` is what has been drawn with the same projection. Badges stay within `box` and off each other.
void draw_pass_marks(Canvas& canvas, const Box& box, const part::Part& part, const std::vector<PassMark>& marks,
                     const Projection& projection, const DepthImage& surface, const MarkStyle& style = {});

} // namespace holdtrue::report
