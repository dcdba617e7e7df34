#include "grading/variant.h"
#include "part/gauge_text.h"
#include "report/choose_views.h"
#include "report/page_flow.h"
#include "report/pass_marks.h"
#include "report/picture.h"
#include "report/sheet.h"
#include "report/sheet_parts.h"
#include "weld/choose_card.h"
#include "weld/move_text.h"

#include <cmath>

namespace holdtrue::report {
namespace {

// Line drawing of the part with the numbered passes: it must be read from two metres away, in poor light.
void draw_pass_view(Canvas& canvas, const Box& box, const weld::Outcome& outcome, const View& view, double badge_size) {
    const part::Mesh& mesh = *outcome.mesh;
    const Projection projection(view, mesh.position_m, box.shrunk(2.6 * badge_size));
    Surface surface;
    surface.colour_of = [](double) { return Colour{0.955, 0.96, 0.965}; };
    surface.edge_width = 0.8;
    const DepthImage image = draw_part(canvas, box, mesh, mesh.position_m, projection, surface);
    MarkStyle style;
    style.badge_size = badge_size;
    draw_pass_marks(canvas, box, *outcome.part, pass_marks(*outcome.part, outcome.plan), projection, image, style);
    draw_axes(canvas, {box.x + 26, box.bottom() - 26}, 11, view); // letters and all stay within the box
}

void add_views(PageFlow& page, const weld::Outcome& outcome) {
    const std::vector<View> views = choose_views(*outcome.part, *outcome.mesh);
    const double height = views.size() > 2 ? 190 : views.size() > 1 ? 205 : 260;
    for (const View& view : views) {
        const Box box = page.take(height);
        draw_pass_view(page.canvas(), box, outcome, view, 9.5);
        page.canvas().text({box.right(), box.bottom() - 4}, "seen " + view.title, {8}, ink::faint, Align::right);
    }
}

// Every move with its number, which the views show too, a box to tick, and room for the time or a temperature.
void add_steps(PageFlow& page, const grading::Exercise& exercise, const weld::Outcome& outcome, units::System system) {
    page.heading("Order of work", 80);
    page.paragraph("Strike no arc where the steel is hotter than " +
                       units::temperature_text(exercise.heat.interpass_max_k, system) +
                       "; \"expect\" is what the simulation found at the start of the pass.",
                   {9});
    std::vector<std::vector<Cell>> rows;
    const auto& moves = outcome.plan.moves;
    for (std::size_t k = 0; k < moves.size(); ++k) {
        const auto* weld = std::get_if<weld::WeldPass>(&moves[k].what);
        std::string check;
        if (weld && k < outcome.moves.size())
            check = "expect " + units::temperature_text(outcome.moves[k].interpass_k, system);
        const std::string card = weld ? outcome.plan.cards[static_cast<std::size_t>(weld->card)].name : "";
        if (const arc::SetupChange change = weld::setup_change_before(outcome.plan, k); change.any())
            rows.push_back({{"☐"}, {""}, {arc::text_of(change), ink::text, true}, {card}, {""}, {""}});
        rows.push_back({{"☐"},
                        {std::to_string(k + 1), ink::text, true},
                        {weld::move_text(*outcome.part, outcome.plan.moves[k], system), ink::text, !weld},
                        {card},
                        {check, ink::faint},
                        {""}});
    }
    page.table({{"", 0.35},
                {"move", 0.6, Align::right},
                {"what", 3.4},
                {"card", 1.3},
                {"temperature", 1.8},
                {"done at, by", 1.5}},
               rows, 9);
}

void add_gauges_to_check(PageFlow& page, const weld::Outcome& outcome, units::System system) {
    page.heading("Gauges to check when cold", 50);
    std::vector<std::vector<Cell>> rows;
    for (std::size_t g = 0; g < outcome.part->gauges.size(); ++g) {
        const part::Gauge& gauge = outcome.part->gauges[g];
        const double nominal = g < outcome.gauges.size() ? outcome.gauges[g].nominal : 0;
        rows.push_back({{gauge.title},
                        {part::gauge_text(gauge, nominal, system), ink::text, true},
                        {"±" + part::gauge_text(gauge, gauge.tolerance, system)},
                        {gauge.tolerance_source.english(), ink::faint},
                        {""}});
    }
    page.table({{"gauge", 3},
                {"drawn", 1.2, Align::right},
                {"limit", 1.2, Align::right},
                {"limit from", 2.2},
                {"measured", 1.4}},
               rows, 9);
}

} // namespace

void save_order_sheet(const std::filesystem::path& path, const grading::Exercise& exercise,
                      const weld::Outcome& outcome, const SheetOptions& options) {
    save_sheets(path, options.paper, outcome.part->title, [&](Canvas& canvas, const std::function<void()>& next_page) {
        const std::string title = "Order of work: " + outcome.part->title;
        PageFlow page(canvas, next_page, options.paper, title,
                      "Planned with holdtrue " + outcome.program_version +
                          " on a simulated part. The welding procedure of the job, where there is one, goes before "
                          "this sheet.");
        page.title(title, "Plan: " + outcome.plan.title + ". Fixture: " + outcome.part->fixture.name + ". About " +
                              units::duration_text(outcome.total_s) + " until cold." +
                              (exercise.variant > 0 ? " " + grading::variant_text(exercise).english() + "." : ""));
        add_views(page, outcome);
        page.paragraph(
            "Numbers are those of the moves below; arrows give the direction. Faint lines lie behind the part.", {8},
            ink::faint);
        page.heading("Setting cards", 60);
        add_setting_cards(page, outcome, options.system);
        add_steps(page, exercise, outcome, options.system);
        add_gauges_to_check(page, outcome, options.system);
        add_cautions(page, exercise);
    });
}

} // namespace holdtrue::report
