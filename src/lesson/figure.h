// Evaluates a lesson's live figure: a curve to draw and the values at the point the reader chose. Window and terminal
// draw the same arrays.
#pragma once

#include "lesson/lesson.h"

#include <vector>

namespace holdtrue::lesson {

struct Curve {
    std::vector<double> x, y; // SI, equal lengths
    double x_now = 0, y_now = 0;
    std::vector<double> inputs_now, outputs_now; // of the model, SI
};

// `inputs` holds one value per input of the model (start from Figure::inputs); values outside the model's range are
// brought to its nearest end. The curve has as many points as the model says, evenly spaced along the axis; straight
// lines join them. Most figures take microseconds; those that run the strip model some 0.2 s.
Curve evaluate(const Figure& figure, std::vector<double> inputs);

} // namespace holdtrue::lesson
