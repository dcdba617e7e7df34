#include "grading/grade.h"
#include "grading/variant.h"
#include "part/gauge_text.h"
#include "report/choose_views.h"
#include "report/page_flow.h"
#include "report/picture.h"
#include "report/sheet.h"
#include "report/sheet_parts.h"
#include "weld/move_text.h"

#include <cmath>

namespace holdtrue::report {
namespace {

Ink ink_of(grading::Verdict verdict) {
    return verdict == grading::Verdict::pass      ? ink::good
           : verdict == grading::Verdict::caution ? ink::caution
                                                  : ink::bad;
}

// The total in a coloured box, and a bar for every aspect beside it.
void add_mark(PageFlow& page, const grading::Exercise& exercise, const grading::Mark& mark) {
    Canvas& canvas = page.canvas();
    const Box box = page.take(92);
    const Ink verdict = mark.passed ? ink::good : ink::bad;
    const Box score{box.x, box.y, 110, box.height};
    canvas.fill(score, {verdict.colour, 0.10}, 5);
    canvas.outline(score, 1, verdict, 5);
    canvas.text({score.middle().x(), score.y + 42}, units::number_text(mark.total, 0), {34, true}, verdict,
                Align::centre);
    canvas.text({score.middle().x(), score.y + 57}, "of 100, pass mark " + units::number_text(exercise.pass_mark, 0),
                {8}, ink::faint, Align::centre);
    canvas.text({score.middle().x(), score.y + 77}, mark.passed ? "passed" : "not passed", {12, true}, verdict,
                Align::centre);

    const double left = score.right() + 18, label = 96, numbers = 62;
    const double bar = box.right() - left - label - numbers;
    for (std::size_t a = 0; a < grading::aspect_count; ++a) {
        const double y = box.y + 3 + 18 * static_cast<double>(a);
        canvas.text({left, y + 9.5}, std::string(grading::title_of(static_cast<grading::Aspect>(a))), {9.5});
        canvas.fill({left + label, y + 1, bar, 10}, ink::tint, 2);
        const double share = mark.possible[a] > 0 ? mark.reached[a] / mark.possible[a] : 0;
        canvas.fill({left + label, y + 1, share * bar, 10},
                    share > 0.8   ? ink::good
                    : share > 0.5 ? ink::caution
                                  : ink::bad,
                    2);
        canvas.text({box.right(), y + 9.5},
                    units::number_text(mark.reached[a], 1) + " of " + units::number_text(mark.possible[a], 0), {9.5},
                    ink::text, Align::right);
    }
    page.gap(6);
    if (mark.hint_points > 0)
        page.paragraph("Hints taken cost " + units::number_text(mark.hint_points, 1) + " points of the sum.", {9.5});
    if (!mark.passed)
        page.paragraph("Not passed: " + mark.why_not.english() + ".", {9.5, true}, ink::bad);
}

void add_pictures(PageFlow& page, const weld::Outcome& outcome, units::System system) {
    Canvas& canvas = page.canvas();
    const std::vector<View> views = choose_views(*outcome.part, *outcome.mesh);
    const HeatField field = heat_field(outcome, {});
    page.heading("Heat and shape", 230);
    const Box heat = page.take(220);
    draw_heat_view(canvas, {heat.x, heat.y, heat.width - 70, heat.height}, outcome, views.front(), field, 8);
    draw_heat_legend(canvas, {heat.right() - 62, heat.y + 4, 62, heat.height - 8}, system, 7.5);
    page.paragraph(field.title + "; numbers give the order of the welds, arrows their direction.", {8}, ink::faint);
    const Box strip = page.take(150);
    const double half = 0.5 * strip.width;
    if (views.size() > 1) {
        draw_heat_view(canvas, {strip.x, strip.y, half - 8, strip.height - 14}, outcome, views[1], field, 6.5);
        canvas.text({strip.x + 0.5 * half, strip.bottom() - 3}, "the passes that the view above hides", {7.5},
                    ink::faint, Align::centre);
        draw_shape_view(canvas, {strip.x + half, strip.y, half, strip.height}, outcome, views.front(), system, 7.5);
    } else {
        draw_shape_view(canvas, strip, outcome, views.front(), system, 7.5);
    }
}

void add_gauges(PageFlow& page, const weld::Outcome& outcome, units::System system) {
    page.heading("Gauges on the finished part", 60);
    std::vector<std::vector<Cell>> rows;
    for (std::size_t g = 0; g < outcome.gauges.size(); ++g) {
        const part::Gauge& gauge = outcome.part->gauges[g];
        const weld::GaugeOutcome& found = outcome.gauges[g];
        const double error = found.value - found.nominal;
        const bool met = std::abs(error) <= gauge.tolerance;
        rows.push_back({{gauge.title},
                        {part::gauge_text(gauge, found.nominal, system)},
                        {part::gauge_text(gauge, found.value, system)},
                        {part::gauge_error_text(gauge, error, system), met ? ink::good : ink::bad, true},
                        {"±" + part::gauge_text(gauge, gauge.tolerance, system)},
                        {met ? "within" : "outside", met ? ink::good : ink::bad, true},
                        {"±" + part::gauge_text(gauge, found.band, system)},
                        {gauge.tolerance_source.english()}});
    }
    page.table({{"gauge", 2.2},
                {"drawn", 1.1, Align::right},
                {"reading", 1.1, Align::right},
                {"off by", 1.1, Align::right},
                {"limit", 1.1, Align::right},
                {"", 0.9},
                {"model's band", 1.1, Align::right},
                {"limit from", 1.7}},
               rows, 8);
    std::string note = "Distortion by " + outcome.distortion_model.english() + ".";
    if (!outcome.gauges.empty())
        note += " The model's band: " + outcome.gauges.front().band_source.english() + ".";
    page.paragraph(note, {8}, ink::faint);
}

void add_remarks(PageFlow& page, const grading::Mark& mark) {
    page.heading("Remarks", 60);
    std::vector<std::vector<Cell>> rows;
    for (std::size_t k = 0; k < mark.remarks.size(); ++k) {
        const grading::Remark& remark = mark.remarks[k];
        if (remark.verdict == grading::Verdict::pass)
            continue;
        std::string found = remark.measured.english();
        if (!remark.limit.empty())
            found += "; limit: " + remark.limit.english();
        if (!remark.source.empty())
            found += " (" + remark.source.english() + ")";
        std::string what_now = remark.must_be_met ? "Without this it is not passed: " : "";
        what_now += remark.consequence.english();
        what_now.erase(what_now.find_last_not_of(" .") + 1);
        if (!remark.try_this.empty())
            what_now += (what_now.empty() ? "Try: " : ". Try: ") + grading::advice_in_list(mark, k).english();
        rows.push_back({{units::signed_text(-remark.points_lost, 1), ink_of(remark.verdict), true},
                        {remark.chosen.english()},
                        {found},
                        {what_now}});
    }
    if (rows.empty())
        page.paragraph("Nothing to remark: every rule, limit and prediction was met.");
    else
        page.table(
            {{"points", 0.75, Align::right}, {"what", 1.7}, {"found", 2.6}, {"why it matters, what to try", 3.4}}, rows,
            8);
}

void add_moves(PageFlow& page, const weld::Outcome& outcome, units::System system) {
    page.heading("Order as welded", 60);
    std::vector<std::vector<Cell>> rows;
    for (std::size_t k = 0; k < outcome.moves.size(); ++k) {
        const weld::MoveOutcome& move = outcome.moves[k];
        const auto* weld = std::get_if<weld::WeldPass>(&outcome.plan.moves[k].what);
        if (move.setup_change.any())
            rows.push_back({{""},
                            {units::clock_text(move.start_s)},
                            {arc::text_of(move.setup_change) + ", " + units::duration_text(move.setup_change_s)},
                            {""},
                            {""},
                            {""},
                            {""}});
        rows.push_back({{std::to_string(k + 1)},
                        {units::clock_text(move.start_s + move.setup_change_s)},
                        {weld::move_text(*outcome.part, outcome.plan.moves[k], system)},
                        {weld ? outcome.plan.cards[static_cast<std::size_t>(weld->card)].name : ""},
                        {move.welded ? units::temperature_text(move.interpass_k, system) : ""},
                        {move.welded && move.arc.heat_input_j_per_m > 0
                             ? units::heat_input_text(move.arc.heat_input_j_per_m, system)
                             : ""},
                        {move.welded && move.t85_s > 0 ? units::number_text(move.t85_s, 1) + " s" : ""}});
    }
    page.table({{"move", 0.6, Align::right},
                {"clock", 0.8, Align::right},
                {"what", 3.2},
                {"card", 1.3},
                {"at start", 0.9, Align::right},
                {"heat input", 1.1, Align::right},
                {"800 to 500 °C", 1.1, Align::right}},
               rows, 8);
}

} // namespace

void save_attempt_report(const std::filesystem::path& path, const grading::Exercise& exercise,
                         const weld::Outcome& outcome, const grading::Mark& mark, const SheetOptions& options) {
    save_sheets(path, options.paper, exercise.title, [&](Canvas& canvas, const std::function<void()>& next_page) {
        PageFlow page(canvas, next_page, options.paper, exercise.title,
                      "Simulated by holdtrue " + outcome.program_version +
                          "; a practice result, no approval of a real weld.");
        std::string below = "Plan: " + outcome.plan.title;
        if (!outcome.plan.trainee.empty())
            below += ", by " + outcome.plan.trainee;
        below += ". Job of " + units::duration_text(outcome.total_s) + " until cold, arc on for " +
                 units::duration_text(outcome.arc_s) + ".";
        if (exercise.variant > 0)
            below += " " + grading::variant_text(exercise).english() + ".";
        page.title(exercise.title, below);
        add_mark(page, exercise, mark);
        add_gauges(page, outcome, options.system);
        add_pictures(page, outcome, options.system);
        add_remarks(page, mark);
        page.heading("Setting cards", 60);
        add_setting_cards(page, outcome, options.system);
        add_moves(page, outcome, options.system);
        add_cautions(page, exercise);
    });
}

} // namespace holdtrue::report
