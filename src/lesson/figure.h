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
// brought to its nearest end. The curve has `points` >= 2 samples, evenly spaced along the axis.
Curve evaluate(const Figure& figure, std::vector<double> inputs, int points = 101);

} // namespace holdtrue::lesson
