#include "app/ui/surround.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::app {

namespace {

using Index = std::size_t;

std::string caption_text(const Ui& ui, const PartViewWish& wish, double exaggeration) {
    std::string text = wish.caption;
    if (exaggeration > 0) {
        const std::string factor =
            "×" +
            units::number_text(exaggeration, exaggeration < 10 && exaggeration != std::floor(exaggeration) ? 1 : 0);
        text += (text.empty() ? "" : "   ") + ui.words({worded("Distortion drawn {0}"), {factor}});
    }
    return text;
}

Legend lay_legend(const Ui& ui, Field field, const ShownScale& scale, ImVec2 origin, ImVec2 size) {
    const bool temper = field == Field::temper_colours;
    Legend legend;
    legend.temper = temper;
    legend.title = temper                 ? ui.tr("Temper colours (rough guide)")
                   : field == Field::peak ? ui.tr("Highest temperature")
                                          : ui.tr("Temperature");
    legend.ticks_k.push_back(scale.low_k);
    if (temper)
        for (const double celsius : {220.0, 255.0, 300.0, 350.0})
            legend.ticks_k.push_back(units::celsius(celsius));
    else
        legend.ticks_k.insert(legend.ticks_k.end(), scale.isotherms_k.begin(), scale.isotherms_k.end());
    legend.ticks_k.push_back(scale.high_k);

    ImGui::PushFont(ui.fonts.small);
    const float line = ImGui::GetTextLineHeight();
    const float bar_width = ui.px(16), bar_height = std::min(ui.px(190), size.y * 0.42f), margin = ui.px(10);
    float text_width = 0;
    for (const double kelvin : legend.ticks_k)
        text_width = std::max(text_width, ImGui::CalcTextSize(units::temperature_text(kelvin, ui.units).c_str()).x);
    const float inner = std::max(ImGui::CalcTextSize(legend.title.c_str()).x, bar_width + ui.px(10) + text_width);
    ImGui::PopFont();
    const float left = origin.x + ui.px(12), bottom = origin.y + size.y - ui.px(12);
    const float top = bottom - bar_height - line * 2 - 3 * margin;
    legend.box = {left, top, left + inner + 2 * margin, bottom};
    legend.bar = {left + margin, top + 2 * margin + line * 1.3f, left + margin + bar_width, 0};
    legend.bar.w = legend.bar.y + bar_height;
    return legend;
}

} // namespace

Boxes Surround::boxes() const {
    Boxes result{buttons, axes};
    if (!caption.empty())
        result.push_back(caption_box);
    if (legend)
        result.push_back(legend->box);
    return result;
}

Surround lay_surround(const Ui& ui, const PartViewWish& wish, const ShownScale& scale, double exaggeration,
                      ImVec2 origin, ImVec2 size) {
    const ImVec2 end{origin.x + size.x, origin.y + size.y};
    const ViewButtons buttons = lay_view_buttons(ui, size.x - ui.px(16));
    Surround result{origin, size, {}, {}, buttons.folded, caption_text(ui, wish, exaggeration), {}, {}};
    result.buttons = {end.x - buttons.width - ui.px(8), origin.y + ui.px(10), end.x, origin.y + ui.px(36)};
    const ImVec2 patch = patch_size(ui, result.caption), at{origin.x + ui.px(12), origin.y + ui.px(12)};
    const float low = at.x + patch.x + ui.px(8) < result.buttons.x ? at.y : result.buttons.w + ui.px(6);
    result.caption_box = {at.x, low, std::min(at.x + patch.x, end.x), low + patch.y};
    const ImVec2 base{end.x - ui.px(46), end.y - ui.px(44)};
    result.axes = {base.x - ui.px(38), base.y - ui.px(38), base.x + ui.px(38), base.y + ui.px(38)};
    if (wish.outcome && wish.field != Field::none)
        result.legend = lay_legend(ui, wish.field, scale, origin, size);
    return result;
}

void draw_axes(const Ui& ui, ImDrawList& draw, const Surround& surround, const scene::Projection& projection) {
    const ImVec2 base{(surround.axes.x + surround.axes.z) / 2, (surround.axes.y + surround.axes.w) / 2};
    ImGui::PushFont(ui.fonts.small);
    const char* names[]{"x", "y", "z"};
    for (int axis = 0; axis < 3; ++axis) {
        const Eigen::Vector3f seen = projection.view_from_part.col(axis).head<3>();
        const ImVec2 end{base.x + seen.x() * ui.px(26), base.y - seen.y() * ui.px(26)};
        draw.AddLine(base, end, ui.theme.quiet, ui.px(2));
        draw.AddText({end.x + (seen.x() >= 0 ? ui.px(2) : -ui.px(9)), end.y - ui.px(8)}, ui.theme.ink, names[axis]);
    }
    ImGui::PopFont();
}

void draw_legend(const Ui& ui, ImDrawList& draw, const Legend& legend, const ShownScale& scale) {
    const ImVec4 &box = legend.box, &bar = legend.bar;
    const float bar_height = bar.w - bar.y, margin = bar.x - box.x;
    ImGui::PushFont(ui.fonts.small);
    const float line = ImGui::GetTextLineHeight();
    draw.AddRectFilled({box.x, box.y}, {box.z, box.w}, faded(ui.theme.sheet, 0.92), ui.px(6));
    draw.AddText({box.x + margin, box.y + margin}, ui.theme.ink, legend.title.c_str());

    // The bar is evenly spread in colour, so that its cold part is not a sliver: rows by share of the way in colour.
    const auto height_of = [&](double kelvin) {
        const double share = (kelvin - scale.low_k) / (scale.high_k - scale.low_k);
        return static_cast<float>(legend.temper ? share : std::pow(std::clamp(share, 0.0, 1.0), 0.6)) * bar_height;
    };
    const auto entries = scale.rgb.size() / 3;
    constexpr int rows = 96;
    for (int row = 0; row < rows; ++row) {
        const double share = (row + 0.5) / rows;
        const double place = legend.temper ? share : std::pow(share, 1 / 0.6);
        const auto entry = std::min(static_cast<Index>(place * static_cast<double>(entries)), entries - 1) * 3;
        const Colour colour = IM_COL32(scale.rgb[entry], scale.rgb[entry + 1], scale.rgb[entry + 2], 255);
        const float bottom = bar.y + bar_height * (1 - static_cast<float>(row) / rows);
        const float top = bar.y + bar_height * (1 - static_cast<float>(row + 1) / rows);
        draw.AddRectFilled({bar.x, top}, {bar.z, bottom + 0.5f}, colour);
    }
    draw.AddRect({bar.x, bar.y}, {bar.z, bar.w}, ui.theme.quiet);
    float last_y = 1e9f;
    for (const double kelvin : legend.ticks_k) {
        const float y = bar.w - height_of(kelvin);
        draw.AddLine({bar.z, y}, {bar.z + ui.px(5), y}, ui.theme.ink, ui.px(1));
        if (last_y - y < line * 0.9f)
            continue;
        last_y = y;
        draw.AddText({bar.z + ui.px(9), y - line / 2}, ui.theme.ink, units::temperature_text(kelvin, ui.units).c_str());
    }
    ImGui::PopFont();
}

void draw_caption(const Ui& ui, ImDrawList& draw, const Surround& surround) {
    if (!surround.caption.empty())
        write_on_patch(ui, draw, surround.caption_box, surround.caption, ui.theme.ink);
}

ImVec2 patch_size(const Ui& ui, const std::string& text) {
    const ImVec2 text_size = ImGui::CalcTextSize(text.c_str());
    return {text_size.x + 2 * ui.px(6), text_size.y + 2 * ui.px(3)};
}

void write_on_patch(const Ui& ui, ImDrawList& draw, const ImVec4& box, const std::string& text, Colour colour) {
    draw.AddRectFilled({box.x, box.y}, {box.z, box.w}, faded(ui.theme.sheet, 0.92), ui.px(4));
    draw.AddText({box.x + ui.px(6), box.y + ui.px(3)}, colour, text.c_str());
}

} // namespace holdtrue::app
