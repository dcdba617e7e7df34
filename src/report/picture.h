// The picture of an outcome: heat map with legend, pass numbers and directions, the shape that the part took, and its
// gauges. Parts of it are drawn on printed sheets too.
#pragma once

#include "grading/mark.h"
#include "report/part_drawing.h"
#include "report/pass_marks.h"
#include "units/quantity_text.h"
#include "weld/outcome.h"

#include <optional>

namespace holdtrue::report {

// Limits of the heat scale, the same in every picture so that pictures compare.
inline constexpr double heat_low_k = 293.15, heat_high_k = 1773.15;

struct PictureOptions {
    std::optional<double> time_s; // temperature at a time of the job; not set: the peak that every place reached
    units::System system = units::System::metric;
    double width = 1600, height = 1040;
};

// Values to colour by, and how to call them.
struct HeatField {
    std::vector<float> temperature_k; // node_count
    std::string title;                // "Peak temperature"
};
HeatField heat_field(const weld::Outcome& outcome, std::optional<double> time_s);

void draw_heat_legend(Canvas& canvas, const Box& box, units::System system, double font_size);
// Heat map, edges, passes with numbers and arrows.
void draw_heat_view(Canvas& canvas, const Box& box, const weld::Outcome& outcome, const View& view,
                    const HeatField& field, double badge_size);
// The finished part, exaggerated, in front of its nominal outline, with the factor written below.
void draw_shape_view(Canvas& canvas, const Box& box, const weld::Outcome& outcome, const View& view,
                     units::System system, double font_size);
// One row for each gauge: where its reading lies between the limits, with the model's own band.
// Returns the height used.
double draw_gauge_rows(Canvas& canvas, const Box& box, const weld::Outcome& outcome, units::System system,
                       double font_size);

void save_outcome_picture(const std::filesystem::path& path, const std::string& title, const weld::Outcome& outcome,
                          const grading::Mark& mark, const PictureOptions& options = {});

} // namespace holdtrue::report
