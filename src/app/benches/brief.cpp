#include "app/benches/benches.h"
#include "app/benches/common.h"
#include "grading/grade.h"
#include "material/gas_words.h"
#include "part/gauge.h"
#include "part/gauge_text.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace holdtrue::app {

namespace {

using Index = std::size_t;

void bullet(Ui& ui, const std::string& text) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float line = ImGui::GetTextLineHeight();
    ImGui::GetWindowDrawList()->AddCircleFilled({at.x + ui.px(4), at.y + line / 2}, ui.px(2.5f), ui.theme.quiet);
    ImGui::Indent(ui.px(16));
    wrapped(ui, text);
    ImGui::Unindent(ui.px(16));
}

void draw_gauge_table(Ui& ui, const Session& session, Actions& out) {
    heading(ui, worded("What is measured at the end"));
    const part::Part& part = session.part();
    if (!ImGui::BeginTable("gauges", 3, ImGuiTableFlags_BordersInnerH))
        return;
    ImGui::TableSetupColumn("name", ImGuiTableColumnFlags_WidthStretch);
    ImGui::TableSetupColumn("drawn", ImGuiTableColumnFlags_WidthFixed);
    ImGui::TableSetupColumn("limit", ImGuiTableColumnFlags_WidthFixed);
    for (Index g = 0; g < part.gauges.size(); ++g) {
        const part::Gauge& gauge = part.gauges[g];
        ImGui::TableNextRow();
        ImGui::TableNextColumn();
        ImGui::PushID(static_cast<int>(g));
        const bool chosen = session.view().gauge == static_cast<int>(g);
        if (wrapped_row(ui, ui.tr(gauge.title), chosen, ImGuiSelectableFlags_SpanAllColumns))
            out.push_back(act::ChooseGauge{chosen ? -1 : static_cast<int>(g)});
        note_row(ui, gauge.name.c_str());
        tip(ui, ui.words(gauge.tolerance_source));
        ImGui::PopID();
        ImGui::TableNextColumn();
        ImGui::TextUnformatted(part::gauge_text(gauge, part::nominal(gauge), ui.units).c_str());
        ImGui::TableNextColumn();
        ImGui::PushFont(ui.fonts.bold);
        ImGui::TextUnformatted(("±" + part::gauge_text(gauge, gauge.tolerance, ui.units)).c_str());
        ImGui::PopFont();
    }
    ImGui::EndTable();
}

void draw_shop(Ui& ui, const Session& session) {
    const arc::Shop& shop = session.shop();
    heading(ui, worded("What is on hand"));
    for (const arc::PowerSource& source : shop.sources)
        bullet(ui, ui.words({worded("{0}: {1} to {2} V, {3} to {4}, {5} A at {6} % duty"),
                             {Sentence::of_file(source.name), units::number_text(source.volts_low_v, 0),
                              units::number_text(source.volts_high_v, 0),
                              units::wire_feed_text(source.feed_low_m_per_s, ui.units),
                              units::wire_feed_text(source.feed_high_m_per_s, ui.units),
                              units::number_text(source.rated_current_a, 0),
                              units::number_text(100 * source.rated_duty, 0)}}));
    for (const arc::Wire& wire : shop.wires)
        bullet(ui, ui.words({worded("wire: {0}"), {wire_words(ui, wire)}}));
    for (const arc::Gas& gas : shop.gases)
        bullet(ui, ui.words({worded("gas: {0}"), {material::with_group(gas)}}));
}

// An item of must_pass: two conditions of their own, a gauge, or a rule by its name.
Sentence must_pass_words(const grading::Exercise& exercise, const std::string& item) {
    if (item == grading::must_be_tacked)
        return worded("every joint tacked before its first run");
    if (item == grading::must_stay_cool)
        return worded("every start within the interpass limit");
    const auto gauge = std::ranges::find(exercise.part->gauges, item, &part::Gauge::name);
    if (gauge != exercise.part->gauges.end())
        return Sentence(worded("'{0}' within its limit"), {Sentence::of_file(gauge->title)});
    return grading::rule_words(exercise, item);
}

void draw_marking(Ui& ui, const Session& session) {
    const grading::Exercise& exercise = session.exercise();
    const grading::Weights& weights = exercise.weights;
    heading(ui, worded("How it is marked"));
    const std::array shares{weights.settings, weights.order_and_heat, weights.gauges, weights.prediction,
                            weights.time_and_handling};
    for (Index k = 0; k < shares.size(); ++k)
        if (shares[k] > 0)
            label_value(ui, grading::title_of(static_cast<grading::Aspect>(k)), units::number_text(shares[k], 0));
    quiet_text(ui, ui.words({worded("Passed from {0} of 100."), {units::number_text(exercise.pass_mark, 0)}}));
    for (const std::string& item : exercise.must_pass)
        bullet(ui, ui.words({worded("Not passed without: {0}"), {must_pass_words(exercise, item)}}));
    label_value(ui, worded("Interpass at most"), units::temperature_text(exercise.heat.interpass_max_k, ui.units));
    if (exercise.time.good_s > 0)
        label_value(ui, worded("Good time"), units::duration_text(exercise.time.good_s));
    if (exercise.time.turns_many > 0)
        label_value(ui, worded("Turns without loss of points"), std::to_string(exercise.time.turns_good));
}

void draw_cautions(Ui& ui, const Session& session) {
    ImGui::PushStyleColor(ImGuiCol_Text, ImGui::ColorConvertU32ToFloat4(ui.theme.caution));
    verdict_sign(ui, grading::Verdict::caution);
    ImGui::SameLine(0, ui.px(6));
    heading(ui, worded("Cautions for this job"));
    ImGui::PopStyleColor();
    for (const std::string& caution : session.exercise().cautions)
        bullet(ui, ui.tr(caution));
    quiet_text(ui, ui.tr("Practice on screen does not replace instruction. On real steel local codes and a licensed "
                         "practitioner come first."));
}

} // namespace

void draw_brief(Ui& ui, const Session& session, BriefState& state, Actions& out) {
    if (!session.has_exercise())
        return nothing_open(ui, session, out);
    const grading::Exercise& exercise = session.exercise();
    const float height = ImGui::GetContentRegionAvail().y;
    begin_sheet(ui, "brief", {ui.px(400), height}, false);
    begin_above_footer("text");
    const std::string shown = exercise.file.string() + "#" + std::to_string(exercise.variant);
    if (std::exchange(state.read_for, shown) != shown)
        ImGui::SetScrollY(0);
    title(ui, ui.tr(exercise.title));
    for (const Sentence& paragraph : exercise.brief) {
        wrapped(ui, ui.words(paragraph));
        ImGui::Dummy({0, ui.px(2)});
    }
    draw_gauge_table(ui, session, out);
    ImGui::Dummy({0, ui.px(4)});
    draw_cautions(ui, session);
    ImGui::Dummy({0, ui.px(4)});
    draw_shop(ui, session);
    ImGui::Dummy({0, ui.px(4)});
    draw_marking(ui, session);
    ImGui::Dummy({0, ui.px(10)});
    heading(ui, worded("Other exercises"));
    exercise_list(ui, session, out);
    end_sheet();
    if (button(ui, worded("On to the setup"), Weight::main, {}, "2"))
        out.push_back(act::ShowBench{Bench::setup});
    end_sheet();
    ImGui::SameLine(0, ui.px(10));
    PartViewWish wish;
    wish.gauges = true;
    wish.numbers = false; // the order has a bench of its own
    wish.caption = ui.tr(exercise.part->title);
    ImGui::BeginChild("drawing", {0, height}, false, ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse);
    const PartViewEvents events = draw_part_view(ui, session, state.view, wish, {0, 0}, out);
    if (events.clicked_gauge)
        out.push_back(act::ChooseGauge{*events.clicked_gauge});
    ImGui::EndChild();
}

} // namespace holdtrue::app
