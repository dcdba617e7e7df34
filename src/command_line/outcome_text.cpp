#include "command_line/outcome_text.h"

#include "command_line/text_table.h"
#include "grading/grade.h"
#include "lesson/terminal_text.h"
#include "part/gauge_text.h"
#include "weld/move_text.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::command_line {
namespace {

constexpr int page_width = 110;

std::string wrapped(const std::string& text, int hang) {
    std::string lines = lesson::wrapped(text, page_width, hang);
    lines.erase(lines.find_last_not_of(" \n") + 1);
    return lines;
}

// With exactly one full stop.
std::string sentence(std::string text) {
    text.erase(text.find_last_not_of(" .") + 1);
    return text + ".";
}

std::string what_is_done(const weld::Outcome& outcome, std::size_t k, units::System system) {
    const weld::Move& move = outcome.plan.moves[k];
    const std::string text = weld::move_text(*outcome.part, move, system);
    const auto* weld = std::get_if<weld::WeldPass>(&move.what);
    return weld ? text + ", '" + outcome.plan.cards[static_cast<std::size_t>(weld->card)].name + "'" : text;
}

// The gravest remark about a move, in a few words.
std::string short_remark(const grading::Mark& mark, int move) {
    const auto found = std::ranges::find_if(mark.remarks, [move](const grading::Remark& remark) {
        return remark.move == move && remark.verdict != grading::Verdict::pass && remark.gauge < 0;
    });
    if (found != mark.remarks.end())
        return (found->rule.empty() ? "" : "rule " + found->rule + ": ") + found->measured.english() + "; " +
               found->limit.english();
    const auto gauge = std::ranges::find_if(mark.remarks, [move](const grading::Remark& remark) {
        return remark.move == move && remark.verdict == grading::Verdict::fail && remark.gauge >= 0 &&
               remark.aspect == grading::Aspect::gauges;
    });
    return gauge != mark.remarks.end() ? "moved " + gauge->chosen.english() + " most" : std::string();
}

} // namespace

std::string moves_text(const grading::Exercise& exercise, const weld::Outcome& outcome, const grading::Mark& mark,
                       units::System system) {
    TextTable table("rrlrrl");
    table.add({"move", "clock", "what", "at start", "heat input", "remark"});
    for (std::size_t k = 0; k < outcome.moves.size(); ++k) {
        const weld::MoveOutcome& move = outcome.moves[k];
        const auto* weld = std::get_if<weld::WeldPass>(&outcome.plan.moves[k].what);
        if (move.setup_change.any())
            table.add({"", units::clock_text(move.start_s),
                       arc::text_of(move.setup_change) + ", " + units::duration_text(move.setup_change_s)});
        const bool plug =
            weld && outcome.part->passes[static_cast<std::size_t>(weld->pass)].kind == part::PassKind::plug;
        std::string heat;
        if (move.welded)
            heat = plug ? units::number_text(move.heat_j * 1e-3, 1) + " kJ"
                        : units::heat_input_text(move.arc.heat_input_j_per_m, system);
        // Each start that is too hot, though one remark speaks of them all.
        std::string remark = short_remark(mark, static_cast<int>(k));
        if (remark.empty() && move.welded && move.interpass_k > exercise.heat.interpass_max_k)
            remark = "too hot a start; at most " + units::temperature_text(exercise.heat.interpass_max_k, system);
        table.add({std::to_string(k + 1), units::clock_text(move.start_s + move.setup_change_s),
                   shortened(what_is_done(outcome, k, system), 44),
                   move.welded ? units::temperature_text(move.interpass_k, system) : "", heat, shortened(remark, 60)});
    }
    std::string text = table.text();
    if (const int changes = outcome.setup_changes(); changes > 0)
        text += "Set anew " + std::to_string(changes) + (changes == 1 ? " time" : " times") + ", in " +
                units::duration_text(outcome.setup_change_s()) + ".\n";
    return text;
}

std::string gauges_text(const weld::Outcome& outcome, units::System system) {
    TextTable table("lrrrlrl");
    table.add({"gauge", "reading", "off by", "limit", "", "model", "limit from"});
    for (std::size_t g = 0; g < outcome.gauges.size(); ++g) {
        const part::Gauge& gauge = outcome.part->gauges[g];
        const weld::GaugeOutcome& found = outcome.gauges[g];
        const double error = found.value - found.nominal;
        table.add({shortened(gauge.title, 40), part::gauge_text(gauge, found.value, system),
                   part::gauge_error_text(gauge, error, system), "±" + part::gauge_text(gauge, gauge.tolerance, system),
                   std::abs(error) <= gauge.tolerance ? "within" : "OUTSIDE",
                   "±" + part::gauge_text(gauge, found.band, system), gauge.tolerance_source.english()});
    }
    std::string note = "Distortion by " + outcome.distortion_model.english() + ".";
    if (!outcome.gauges.empty())
        note += " Band: " + outcome.gauges.front().band_source.english() + ".";
    return table.text() + wrapped(note, 0) + "\n";
}

std::string mark_text(const grading::Exercise& exercise, const grading::Mark& mark) {
    TextTable table("lrr");
    for (std::size_t a = 0; a < grading::aspect_count; ++a)
        table.add({std::string(grading::title_of(static_cast<grading::Aspect>(a))),
                   units::number_text(mark.reached[a], 1), "of " + units::number_text(mark.possible[a], 0)});
    if (mark.hint_points > 0)
        table.add({"Hints taken", units::signed_text(-mark.hint_points, 1), ""});
    table.add({"Mark", units::number_text(mark.total, 1), "of 100"});
    std::string text = table.text();
    text += mark.passed ? "Passed (pass mark " + units::number_text(exercise.pass_mark, 0) + ").\n"
                        : "Not passed: " + mark.why_not.english() + ".\n";
    for (std::size_t k = 0; k < mark.remarks.size(); ++k) {
        const grading::Remark& remark = mark.remarks[k];
        if (remark.verdict == grading::Verdict::pass)
            continue;
        std::string points = units::signed_text(-remark.points_lost, 1);
        points.insert(0, 6 - std::min<std::size_t>(6, points.size()), ' ');
        text += "\n" + points + "  ";
        std::string line = remark.chosen.english() + ": " + remark.measured.english();
        if (!remark.limit.empty())
            line += "; limit: " + remark.limit.english();
        if (!remark.source.empty())
            line += " (" + remark.source.english() + ")";
        text += wrapped(line, 8) + "\n";
        if (remark.must_be_met)
            text += "        Without this it is not passed.\n";
        if (!remark.consequence.empty())
            text += "        " + wrapped("So: " + sentence(remark.consequence.english()), 8) + "\n";
        if (!remark.try_this.empty())
            text += "        " + wrapped("Try: " + sentence(grading::advice_in_list(mark, k).english()), 8) + "\n";
    }
    return text;
}

} // namespace holdtrue::command_line
