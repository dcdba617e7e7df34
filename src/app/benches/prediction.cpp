#include "app/benches/prediction.h"

#include "app/ui/keyboard_frame.h"

#include <algorithm>

namespace holdtrue::app {

namespace {

using Index = std::size_t;

// What it means that a gauge grows.
const char* growing(part::GaugeKind kind) {
    switch (kind) {
    case part::GaugeKind::distance:
        return worded("grows: the points move apart");
    case part::GaugeKind::bow:
        return worded("grows: it bends the way of the arrow");
    case part::GaugeKind::twist:
        return worded("grows: it turns like a screw that goes the way of the arrow");
    case part::GaugeKind::squareness:
        return worded("grows: the first diagonal becomes the longer one");
    case part::GaugeKind::flatness:
        return worded("grows: it becomes less flat");
    case part::GaugeKind::angle:
        return worded("grows: the angle opens");
    case part::GaugeKind::tilt:
        return worded("grows: the axis leans away from where it was drawn");
    }
    return "";
}

} // namespace

void draw_prediction(Ui& ui, const Session& session, int& pointed_gauge, Actions& out) {
    const part::Part& part = session.part();
    const weld::Plan& plan = session.plan();
    heading(ui, worded("Before you weld: which way will each gauge go?"));
    if (const auto closed = session.why_not(act::Predict{0, weld::Sense::stays}))
        ImGui::TextWrapped("%s", ui.words(*closed).c_str());
    else
        quiet_text(ui,
                   ui.tr("Say what you expect; the part then shows whether you were right. Point at a gauge to see it "
                         "on the part. It stays when it moves by less than a quarter of its limit."));
    ImGui::Dummy({0, ui.px(4)});
    for (Index g = 0; g < part.gauges.size(); ++g) {
        const part::Gauge& gauge = part.gauges[g];
        const auto said = std::ranges::find(plan.predictions, static_cast<int>(g), &weld::Prediction::gauge);
        // What is drawn as none at all cannot become less.
        const bool from_none = gauge.kind == part::GaugeKind::tilt || gauge.kind == part::GaugeKind::flatness;
        const int first = from_none ? static_cast<int>(weld::Sense::stays) : 0;
        std::vector<const char*> senses{worded("shrinks"), worded("stays"), worded("grows")};
        senses.erase(senses.begin(), senses.begin() + first);
        const int chosen = said == plan.predictions.end() ? -1 : static_cast<int>(said->sense) - first;
        // The gauge of the row under the pointer, or in the keyboard's frame, is the one that stands out in the view.
        const std::size_t first_of_row = ui.placed.size();
        ImGui::BeginGroup();
        ImGui::TextUnformatted(ui.tr(gauge.title));
        ImGui::PushID(static_cast<int>(g));
        if (const auto answer = choice(ui, "sense", senses, chosen))
            out.push_back(act::Predict{static_cast<int>(g), static_cast<weld::Sense>(*answer + first)});
        ImGui::PopID();
        ImGui::PushFont(ui.fonts.small);
        quiet_text(ui, ui.tr(growing(gauge.kind)));
        ImGui::PopFont();
        ImGui::EndGroup();
        if (ImGui::IsItemHovered() ||
            std::any_of(ui.placed.begin() + std::ptrdiff_t(first_of_row), ui.placed.end(), has_frame))
            pointed_gauge = static_cast<int>(g);
        ImGui::Dummy({0, ui.px(2)});
    }
}

} // namespace holdtrue::app
