// Two small charts: a curve over an axis, and bars about zero. Both fill the rest of the window and answer clicks.
#pragma once

#include "app/ui/axis.h"
#include "app/ui/ui.h"

#include <array>
#include <functional>
#include <optional>
#include <vector>

namespace holdtrue::app {

struct PlotPoint {
    double x, y;
};
struct Plot {
    std::function<std::string(double)> x_text, y_text; // with units
    std::string x_title, y_title;                      // where the units do not say it
    std::optional<double> marker_x;
    std::optional<double> line_y;                              // a limit
    std::string line_title;                                    // what it is
    std::optional<std::pair<double, double>> x_range, y_range; // without: as the points need
    bool x_is_time = false;                                    // seconds: ticks at whole minutes and hours
    bool x_is_count = false;                                   // ticks at whole numbers
    bool dots = false;                                         // the points are seen
};
// Returns the x that was clicked. Points in order of x.
std::optional<double> draw_plot(Ui& ui, const Plot& plot, const std::vector<PlotPoint>& points);

struct Bars {
    std::vector<double> sizes;
    int chosen = -1;
    std::string chosen_title;             // written above it; may be empty
    units::Unit unit;                     // of the axis at the left
    std::string size_title;               // above it, where the unit does not say it
    bool counts = false;                  // sizes are whole numbers
    std::function<std::string(int)> text; // about a bar that is pointed at or framed
    std::string foot_title;               // of the axis along the foot
    double foot_low = 0, foot_high = 1;   // where the first bar begins and the last one ends on that axis
};
// Returns the bar that was clicked, or pressed in the keyboard's frame, which arrows carry from bar to bar.
std::optional<int> draw_bars(Ui& ui, const Bars& bars);

} // namespace holdtrue::app
