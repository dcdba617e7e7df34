#include "lesson/figure.h"

#include "text/verify.h"

#include <algorithm>

namespace holdtrue::lesson {

Curve evaluate(const Figure& figure, std::vector<double> inputs) {
    const Model& model = *figure.model;
    const int points = model.samples;
    VERIFY(inputs.size() == model.inputs.size() && points >= 2, "one value per input, two points to draw");
    for (std::size_t i = 0; i < inputs.size(); ++i)
        inputs[i] = std::clamp(inputs[i], model.inputs[i].low, model.inputs[i].high);

    Curve curve;
    curve.inputs_now = inputs;
    curve.outputs_now = model.evaluate(inputs);
    curve.x_now = inputs[figure.axis];
    curve.y_now = curve.outputs_now[figure.shown];
    for (int k = 0; k < points; ++k) {
        const double share = static_cast<double>(k) / (points - 1);
        inputs[figure.axis] = figure.axis_low + share * (figure.axis_high - figure.axis_low);
        curve.x.push_back(inputs[figure.axis]);
        curve.y.push_back(model.evaluate(inputs)[figure.shown]);
    }
    return curve;
}

} // namespace holdtrue::lesson
