#include "report/picture.h"

#include "part/gauge_text.h"
#include "report/choose_views.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::report {
namespace {

constexpr double tick_c[] = {20, 50, 100, 200, 300, 500, 800, 1100, 1500};
constexpr double tick_f[] = {68, 120, 200, 400, 600, 900, 1500, 2000, 2700};

Colour neutral() { return {0.80, 0.83, 0.86}; }

std::vector<part::Point> moved(const part::Mesh& mesh, const std::vector<part::Point>& change_m, double factor) {
    std::vector<part::Point> places = mesh.position_m;
    for (std::size_t n = 0; n < change_m.size(); ++n)
        places[n] += factor * change_m[n];
    return places;
}

// Which way a gauge's error leans on its row: share of the tolerance, cut off where the row ends.
constexpr double row_reach = 2.0; // tolerances each side

// The remarks that cost most, as many as there is room for.
void draw_remarks(Canvas& canvas, const Box& box, const grading::Mark& mark, double font_size) {
    std::vector<const grading::Remark*> costly;
    for (const grading::Remark& remark : mark.remarks)
        if (remark.verdict != grading::Verdict::pass && remark.points_lost >= 0.5)
            costly.push_back(&remark);
    std::ranges::stable_sort(
        costly, [](const grading::Remark* p, const grading::Remark* q) { return p->points_lost > q->points_lost; });
    if (costly.empty() || box.height < 4 * font_size)
        return;
    canvas.text({box.x, box.y + 1.2 * font_size}, "What cost points", {1.3 * font_size, true});
    double y = box.y + 2.1 * font_size;
    const double indent = 3.2 * font_size;
    for (const grading::Remark* remark : costly) {
        const std::string words = remark->chosen.english() + ": " + remark->measured.english();
        const double height = canvas.paragraph_height(box.width - indent, words, {font_size});
        if (y + height > box.bottom())
            return;
        canvas.text({box.x, y + font_size}, units::signed_text(-remark->points_lost, 1), {font_size, true},
                    remark->verdict == grading::Verdict::fail ? ink::bad : ink::caution);
        y += canvas.paragraph({box.x + indent, y}, box.width - indent, words, {font_size}) + 0.4 * font_size;
    }
}

} // namespace

HeatField heat_field(const weld::Outcome& outcome, std::optional<double> time_s) {
    if (!time_s || outcome.frames.empty())
        return {outcome.peak_k, "Peak temperature of every place"};
    const auto nearest = std::ranges::min_element(
        outcome.frames, {}, [&](const weld::Frame& frame) { return std::abs(frame.time_s - *time_s); });
    return {nearest->temperature_k,
            "Temperature at " + units::clock_text(nearest->time_s) + ", move " + std::to_string(nearest->move + 1)};
}

void draw_heat_legend(Canvas& canvas, const Box& box, units::System system, double font_size) {
    const ColourScale scale = heat_scale();
    const Box bar{box.x, box.y + 0.7 * font_size, 1.5 * font_size, box.height - 1.4 * font_size};
    constexpr int steps = 256;
    for (int k = 0; k < steps; ++k) {
        const double share = (k + 0.5) / steps;
        canvas.fill({bar.x, bar.bottom() - (k + 1.0) / steps * bar.height, bar.width, bar.height / steps + 0.6},
                    {scale.at(share)});
    }
    canvas.outline(bar, 0.8, ink::text);
    const bool metric = system == units::System::metric;
    const auto& temperature = units::detail::temperature[metric ? 0 : 1];
    for (const double tick : metric ? std::span<const double>(tick_c) : std::span<const double>(tick_f)) {
        const double share = heat_share(temperature.to_si(tick), heat_low_k, heat_high_k);
        const double y = bar.bottom() - share * bar.height;
        canvas.line({bar.right(), y}, {bar.right() + 0.4 * font_size, y}, 0.8, ink::text);
        canvas.text({bar.right() + 0.7 * font_size, y + 0.36 * font_size},
                    units::number_text(tick, 0) + " " + std::string(temperature.label), {font_size});
    }
}

void draw_heat_view(Canvas& canvas, const Box& box, const weld::Outcome& outcome, const View& view,
                    const HeatField& field, double badge_size) {
    const part::Mesh& mesh = *outcome.mesh;
    // Room about the part for badges.
    const Projection projection(view, mesh.position_m, box.shrunk(2.6 * badge_size));
    const ColourScale scale = heat_scale();
    Surface surface;
    surface.value_of_node = field.temperature_k;
    surface.colour_of = [&scale](double kelvin) { return scale.at(heat_share(kelvin, heat_low_k, heat_high_k)); };
    surface.edge_width = 0.1 * badge_size;
    const DepthImage image = draw_part(canvas, box, mesh, mesh.position_m, projection, surface);
    MarkStyle style;
    style.badge_size = badge_size;
    draw_pass_marks(canvas, box, *outcome.part, pass_marks(*outcome.part, outcome.plan), projection, image, style);
    draw_axes(canvas, {box.x + 2.4 * badge_size, box.bottom() - 2.4 * badge_size}, 1.6 * badge_size, view);
}

void draw_shape_view(Canvas& canvas, const Box& box, const weld::Outcome& outcome, const View& view,
                     units::System system, double font_size) {
    const part::Mesh& mesh = *outcome.mesh;
    if (outcome.displacement_m.empty()) {
        canvas.paragraph({box.x, box.y}, box.width, "Distortion was not computed.", {font_size}, ink::faint);
        return;
    }
    const std::vector<part::Point> change = shape_change(mesh, outcome.displacement_m.back());
    double most_m = 0;
    for (const part::Point& one : change)
        most_m = std::max(most_m, one.norm());
    const double factor = exaggeration_for(mesh, change);
    const std::vector<part::Point> places = moved(mesh, change, factor);
    std::vector<part::Point> both = places;
    both.insert(both.end(), mesh.position_m.begin(), mesh.position_m.end());

    const std::string caption = "Finished shape, drawn " + units::number_text(factor, 0) +
                                " times too far (largest move " + units::length_text(most_m, system) +
                                "); brown: as drawn";
    const double caption_height = canvas.paragraph_height(box.width, caption, {font_size});
    const Box room{box.x, box.y, box.width, box.height - caption_height};
    const Projection projection(view, both, room.shrunk(font_size));
    Surface surface;
    surface.colour_of = [](double) { return neutral(); };
    surface.hidden_edges = false;
    surface.edge_width = 0.09 * font_size;
    draw_part(canvas, room, mesh, places, projection, surface);
    draw_outline(canvas, mesh, mesh.position_m, projection, 0.11 * font_size, {{0.72, 0.35, 0.10}, 0.85});
    canvas.paragraph({box.x, room.bottom()}, box.width, caption, {font_size}, ink::faint, Align::centre);
}

double draw_gauge_rows(Canvas& canvas, const Box& box, const weld::Outcome& outcome, units::System system,
                       double font_size) {
    const part::Part& part = *outcome.part;
    const Font font{font_size}, strong{font_size, true}, small{0.85 * font_size};
    double y = box.y;
    for (std::size_t g = 0; g < part.gauges.size(); ++g) {
        const part::Gauge& gauge = part.gauges[g];
        const weld::GaugeOutcome& found = outcome.gauges[g];
        const double error = found.value - found.nominal;
        const bool met = std::abs(error) <= gauge.tolerance;
        const Ink verdict = met ? ink::good : ink::bad;
        const std::string reading = part::gauge_error_text(gauge, error, system) + (met ? "  within" : "  outside");
        const double reading_width = canvas.text_width(reading, strong);
        const double name_height =
            canvas.paragraph({box.x, y}, box.width - reading_width - font_size, gauge.title, font);
        canvas.text({box.right(), y + font_size}, reading, strong, verdict, Align::right);
        y += name_height + 0.35 * font_size;

        // The bar spans two tolerances each side; the limits and nominal are marked, the band is the wide stroke.
        const double middle = box.x + 0.5 * box.width, unit = 0.5 * box.width / row_reach;
        const auto x_of = [&](double change) {
            return middle + unit * std::clamp(change / gauge.tolerance, -row_reach, row_reach);
        };
        const double bar = 0.62 * font_size;
        canvas.fill({box.x, y, box.width, bar}, ink::tint);
        canvas.fill({middle - unit, y, 2 * unit, bar}, {ink::good.colour, 0.20});
        const double low = x_of(error - found.band), high = x_of(error + found.band);
        canvas.fill({low, y + 0.3 * bar, std::max(1.0, high - low), 0.4 * bar}, {verdict.colour, 0.45});
        canvas.line({middle, y}, {middle, y + bar}, 0.8, ink::faint);
        canvas.disc({x_of(error), y + 0.5 * bar}, 0.42 * bar, verdict, ink::paper, 1);
        y += bar;
        const std::string limit = "limit ±" + part::gauge_text(gauge, gauge.tolerance, system) + " (" +
                                  gauge.tolerance_source.english() + "), model ±" +
                                  part::gauge_text(gauge, found.band, system);
        y += canvas.paragraph({box.x, y}, box.width, limit, small, ink::faint) + 0.7 * font_size;
    }
    return y - box.y;
}

void save_outcome_picture(const std::filesystem::path& path, const std::string& title, const weld::Outcome& outcome,
                          const grading::Mark& mark, const PictureOptions& options) {
    save_picture(path, options.width, options.height, [&](Canvas& canvas) {
        const double unit = options.width / 1600; // the layout is drawn for 1600 pixels
        const double margin = 36 * unit;
        const HeatField field = heat_field(outcome, options.time_s);
        const std::vector<View> views = choose_views(*outcome.part, *outcome.mesh);

        // Heading: what was welded by which plan on the left, the mark on the right.
        const std::string score = units::number_text(mark.total, 0) + " of 100";
        const Font big{30 * unit, true}, body{15 * unit}, strong{15 * unit, true};
        const double score_width = canvas.text_width(score, big) + margin;
        double y = margin;
        y += canvas.paragraph({margin, y}, options.width - 2 * margin - score_width, title, big);
        std::string plan = outcome.plan.title;
        if (!outcome.plan.trainee.empty())
            plan += ", welded by " + outcome.plan.trainee;
        y += canvas.paragraph({margin, y}, options.width - 2 * margin - score_width, plan + ". " + field.title + ".",
                              body, ink::faint);
        canvas.text({options.width - margin, margin + big.size}, score, big, mark.passed ? ink::good : ink::bad,
                    Align::right);
        canvas.text({options.width - margin, margin + big.size + 1.6 * body.size},
                    mark.passed ? "passed" : "not passed", strong, mark.passed ? ink::good : ink::bad, Align::right);
        y += 10 * unit;
        canvas.line({margin, y}, {options.width - margin, y}, 1, ink::rule);
        y += 12 * unit;

        const double gauges_width = 390 * unit, legend_width = 96 * unit;
        const double left_width = options.width - 3 * margin - gauges_width;
        const double strip = 0.34 * options.height;
        const double bottom = options.height - margin;

        const Box main{margin, y, left_width - legend_width, bottom - strip - y};
        draw_heat_view(canvas, main, outcome, views.front(), field, 14 * unit);
        draw_heat_legend(canvas, {main.right() + 12 * unit, y + 8 * unit, legend_width, main.height - 16 * unit},
                         options.system, 13 * unit);

        const double half = views.size() > 1 ? 0.5 * left_width : left_width;
        if (views.size() > 1) {
            const Box second{margin, bottom - strip, half - 10 * unit, strip - 1.5 * body.size};
            draw_heat_view(canvas, second, outcome, views[1], field, 11 * unit);
            canvas.text({second.middle().x(), bottom}, "The passes that the view above hides, " + views[1].title,
                        {13 * unit}, ink::faint, Align::centre);
        }
        const Box shape{margin + left_width - half, bottom - strip, half, strip + 0.3 * body.size};
        draw_shape_view(canvas, shape, outcome, views.front(), options.system, 13 * unit);

        const double column = options.width - margin - gauges_width;
        canvas.text({column, y + strong.size}, "Gauges on the finished part", {17 * unit, true});
        double row = y + 2.2 * strong.size;
        row += draw_gauge_rows(canvas, {column, row, gauges_width, bottom - row}, outcome, options.system, 14 * unit);
        row += 4 * unit;
        row += canvas.paragraph({column, row}, gauges_width,
                                "Job " + units::duration_text(outcome.total_s) + " until cold, arc on for " +
                                    units::duration_text(outcome.arc_s) +
                                    ". Distortion: " + outcome.distortion_model.english() + ".",
                                {13 * unit}, ink::faint);
        draw_remarks(canvas, {column, row + 14 * unit, gauges_width, bottom - row - 14 * unit}, mark, 13 * unit);
    });
}

} // namespace holdtrue::report
