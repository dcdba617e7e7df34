#include "report/class_report.h"

#include "grading/grade.h"
#include "part/gauge_text.h"
#include "record/class_summary.h"
#include "report/page_flow.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace holdtrue::report {
namespace {

// Who passed is filled, who did not is hatched, so that a reader who cannot tell the colours apart, or has them printed
// in grey, sees the same.
void fill_passed(Canvas& canvas, const Box& box) { canvas.fill(box, ink::good); }

void hatch_not_passed(Canvas& canvas, const Box& box) {
    canvas.fill(box, {ink::bad.colour, 0.10});
    constexpr double apart = 4;
    for (double at = apart; at < box.width + box.height; at += apart) { // from the left edge up to the right
        const double left = std::max(0.0, at - box.height), right = std::min(box.width, at);
        canvas.line({box.x + left, box.y + at - left}, {box.x + right, box.y + at - right}, 0.6, ink::bad);
    }
    canvas.outline(box, 0.6, ink::bad);
}

void draw_key(Canvas& canvas, Place at) {
    constexpr double side = 8;
    for (const auto& [draw, words] : {std::pair{&fill_passed, "passed"}, {&hatch_not_passed, "not passed"}}) {
        draw(canvas, {at.x(), at.y() - side + 1, side, side});
        canvas.text({at.x() + side + 4, at.y()}, words, {8}, ink::text);
        at.x() += side + 4 + canvas.text_width(words, {8}) + 14;
    }
}

// Bars of ten points each: who passed at the foot, on top of it who did not. A plan may have the points and yet not
// pass.
void draw_histogram(Canvas& canvas, const Box& box, const record::ClassSummary& summary, double pass_mark) {
    draw_key(canvas, {box.x + 26, box.y + 9});
    const Box plot{box.x + 26, box.y + 32, box.width - 32, box.height - 56};
    const double bar = plot.width / 10, plan = plot.height / summary.fullest_ten();
    for (std::size_t k = 0; k < summary.tens.size(); ++k) {
        const record::ClassSummary::Ten& ten = summary.tens[k];
        const double x = plot.x + bar * static_cast<double>(k) + 1.5;
        const double of_passed = plan * ten.passed, of_all = plan * ten.plans();
        if (ten.passed > 0)
            fill_passed(canvas, {x, plot.bottom() - of_passed, bar - 3, of_passed});
        if (ten.not_passed > 0)
            hatch_not_passed(canvas, {x, plot.bottom() - of_all, bar - 3, of_all - of_passed});
        if (ten.plans() > 0)
            canvas.text({x + 0.5 * bar - 1.5, plot.bottom() - of_all - 3}, std::to_string(ten.plans()), {8}, ink::text,
                        Align::centre);
    }
    canvas.line({plot.x, plot.bottom()}, {plot.right(), plot.bottom()}, 0.7, ink::text);
    for (int tick = 0; tick <= 100; tick += 10)
        canvas.text({plot.x + plot.width * tick / 100, plot.bottom() + 11}, std::to_string(tick), {7.5}, ink::faint,
                    Align::centre);
    const double at = plot.x + plot.width * pass_mark / 100;
    canvas.line({at, plot.y - 22}, {at, plot.bottom()}, 1, ink::text);
    canvas.text({at - 3, plot.y - 16}, "pass mark", {7.5}, ink::text, Align::right);
    canvas.text({plot.middle().x(), box.bottom() - 2}, "mark, number of plans", {8}, ink::faint, Align::centre);
}

// Every plan a dot on the gauge's scale; crowded dots are stacked.
void draw_gauge_strip(Canvas& canvas, const Box& box, const part::Gauge& gauge, const std::vector<double>& errors,
                      units::System system) {
    const double worst = std::accumulate(errors.begin(), errors.end(), 0.0,
                                         [](double most, double e) { return std::max(most, std::abs(e)); });
    const double reach = std::max(1.2 * gauge.tolerance, std::min(1.05 * worst, 6 * gauge.tolerance));
    const double middle = box.x + 0.5 * box.width, unit = 0.5 * box.width / reach;
    const double base = box.bottom() - 12;
    canvas.fill({middle - unit * gauge.tolerance, box.y, 2 * unit * gauge.tolerance, base - box.y},
                {ink::good.colour, 0.12});
    canvas.line({box.x, base}, {box.right(), base}, 0.6, ink::faint);
    canvas.line({middle, box.y}, {middle, base}, 0.6, ink::faint);
    std::vector<int> stacked(static_cast<std::size_t>(box.width / 4) + 2, 0);
    for (const double error : errors) {
        const double x = middle + unit * std::clamp(error, -reach, reach);
        int& height = stacked[static_cast<std::size_t>(std::clamp((x - box.x) / 4, 0.0, box.width / 4))];
        const double y = std::max(box.y + 2, base - 3 - 3.4 * height++);
        canvas.disc({x, y}, 1.6, std::abs(error) <= gauge.tolerance ? ink::good : ink::bad, ink::paper, 0.3);
    }
    for (const double tick : {-gauge.tolerance, 0.0, gauge.tolerance})
        canvas.text({middle + unit * tick, box.bottom() - 3}, part::gauge_change_text(gauge, tick, system), {7},
                    ink::faint, Align::centre);
}

void add_summary(PageFlow& page, const grading::Exercise& exercise, const record::ClassMarks& marks) {
    const record::ClassSummary summary = record::summary_of(marks);
    std::string text = std::to_string(summary.plans) + " plans, " + std::to_string(summary.passed) + " passed";
    if (summary.marked > 0)
        text += "; mean mark " + units::number_text(summary.mean, 1) + ", middle " +
                units::number_text(summary.middle, 1) + ", lowest " + units::number_text(summary.lowest, 1) +
                ", highest " + units::number_text(summary.highest, 1);
    if (summary.not_marked > 0)
        text += "; " + std::to_string(summary.not_marked) + " could not be marked";
    page.paragraph(text + ".", {10.5});
    page.gap(4);
    draw_histogram(page.canvas(), page.take(170), summary, exercise.pass_mark);
}

void add_gauges(PageFlow& page, const grading::Exercise& exercise, const record::ClassMarks& marks,
                units::System system) {
    page.heading("Where the gauges came out", 60);
    for (std::size_t g = 0; g < exercise.part->gauges.size(); ++g) {
        const part::Gauge& gauge = exercise.part->gauges[g];
        std::vector<double> errors;
        for (const record::ClassEntry& entry : marks.entries)
            if (entry.mark)
                errors.push_back(entry.gauge_error[g]);
        std::ranges::sort(errors);
        const Box row = page.take(46);
        const auto met = std::ranges::count_if(errors, [&](double e) { return std::abs(e) <= gauge.tolerance; });
        constexpr double label = 140;
        const double used = page.canvas().paragraph({row.x, row.y + 4}, label - 10, gauge.title, {9});
        page.canvas().text({row.x, row.y + 4 + used + 8},
                           std::to_string(met) + " of " + std::to_string(errors.size()) + " within", {8}, ink::faint);
        draw_gauge_strip(page.canvas(), {row.x + label, row.y + 2, row.width - label, row.height - 4}, gauge, errors,
                         system);
    }
}

void add_common_remarks(PageFlow& page, const record::ClassMarks& marks) {
    page.heading("Remarks made most often", 60);
    std::vector<std::vector<Cell>> rows;
    for (const record::CommonRemark& remark : record::common_remarks(marks)) {
        if (rows.size() == 12)
            break;
        rows.push_back({{remark.topic.english(), ink::text, true},
                        {std::to_string(remark.plans)},
                        {units::number_text(remark.points_lost, 1)},
                        {remark.example.english()}});
    }
    if (rows.empty())
        page.paragraph("None.");
    else
        page.table({{"about", 2.5},
                    {"plans", 0.6, Align::right},
                    {"points lost", 0.9, Align::right},
                    {"what one of them was told to try", 5}},
                   rows, 8);
}

void add_entries(PageFlow& page, const record::ClassMarks& marks) {
    page.heading("Every plan", 60);
    if (const text::Sentence copies = record::on_copies(marks); !copies.empty())
        page.paragraph(copies.english());
    std::vector<std::vector<Cell>> rows;
    for (std::size_t k = 0; k < marks.entries.size(); ++k) {
        const record::ClassEntry& entry = marks.entries[k];
        std::vector<Cell> row{
            {entry.file.filename().string() + (entry.variant > 0 ? " (" + std::to_string(entry.variant) + ")" : "")},
            {entry.trainee}};
        if (entry.mark) {
            const Ink verdict = entry.mark->passed ? ink::good : ink::bad;
            row.push_back({units::number_text(entry.mark->total, 1), verdict, true});
            for (const double points : entry.mark->reached)
                row.push_back({units::number_text(points, 0)});
        } else {
            row.resize(8);
        }
        row.push_back({entry.hints > 0 ? std::to_string(entry.hints) : ""});
        row.push_back({record::remark_on(marks, k).english(), entry.problem.empty() ? ink::text : ink::bad});
        rows.push_back(std::move(row));
    }
    page.table({{"file", 2},
                {"trainee", 1.2},
                {"mark", 0.6, Align::right},
                {"sett.", 0.6, Align::right},
                {"order", 0.6, Align::right},
                {"gauges", 0.7, Align::right},
                {"pred.", 0.6, Align::right},
                {"time", 0.6, Align::right},
                {"hints", 0.6, Align::right},
                {"note", 4.5}},
               rows, 7.5);
}

} // namespace

void save_class_report(const std::filesystem::path& path, const grading::Exercise& exercise,
                       const record::ClassMarks& marks, const SheetOptions& options) {
    save_sheets(path, options.paper, exercise.title, [&](Canvas& canvas, const std::function<void()>& next_page) {
        PageFlow page(canvas, next_page, options.paper, "Class: " + exercise.title,
                      "Marks are recomputed from the plans; a practice result, no approval of a real weld.");
        page.title("Class: " + exercise.title, "Pass mark " + units::number_text(exercise.pass_mark, 0) + " of 100.");
        add_summary(page, exercise, marks);
        add_gauges(page, exercise, marks, options.system);
        add_common_remarks(page, marks);
        add_entries(page, marks);
    });
}

} // namespace holdtrue::report
