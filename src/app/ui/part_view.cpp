#include "app/ui/part_view.h"

#include "app/scene/fit.h"
#include "app/session/pass_choice.h"
#include "app/ui/overlay.h"
#include "app/ui/picture_cache.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::app {

namespace {

using Index = std::size_t;

Eigen::Vector3f rgb(Colour colour) {
    return {static_cast<float>(colour & 0xff) / 255.0f, static_cast<float>(colour >> 8 & 0xff) / 255.0f,
            static_cast<float>(colour >> 16 & 0xff) / 255.0f};
}

using Cache = PartViewState::Cache;

gl::Look look_of(const Ui& ui, const Session& session, const Cache& cache, const PartViewWish& wish) {
    gl::Look look;
    look.background = rgb(ui.theme.ground);
    look.metal = rgb(ui.theme.metal);
    look.show_field = wish.outcome && wish.field != Field::none;
    look.low = static_cast<float>(cache.scale.low_k);
    look.high = static_cast<float>(cache.scale.high_k);
    if (session.view().isotherms && wish.field != Field::temper_colours)
        for (const double kelvin : cache.scale.isotherms_k)
            look.isolines.push_back(static_cast<float>(kelvin));
    look.isoline_colour = {0.05f, 0.05f, 0.07f};
    return look;
}

// The numbers of passes stand beside the metal: there is room for them too.
scene::Frame frame_beside(const Ui& ui, const Surround& surround) {
    scene::Frame frame{double(surround.size.x), double(surround.size.y), {}};
    const float beside = ui.px(16);
    for (const ImVec4& box : surround.boxes())
        frame.covered.push_back({double(box.x - surround.origin.x - beside), double(box.y - surround.origin.y - beside),
                                 double(box.z - surround.origin.x + beside),
                                 double(box.w - surround.origin.y + beside)});
    return frame;
}

// By the mouse; of two views side by side the keys are for the first, which the second follows.
void move_camera(const Session& session, Actions& out, const Cache& cache, const scene::Projection& projection,
                 scene::Camera camera, ImVec2 origin, ImVec2 size, bool first) {
    const ImGuiIO& io = ImGui::GetIO();
    const Eigen::Matrix3d to_room = scene::standing(session.part().poses[Index(session.shown_pose())].up);
    const scene::Camera before = camera;
    const bool panning = ImGui::IsMouseDragging(ImGuiMouseButton_Middle, 0) ||
                         (ImGui::IsMouseDragging(ImGuiMouseButton_Left, 3) && io.KeyShift);
    const bool orbiting = !panning && (ImGui::IsMouseDragging(ImGuiMouseButton_Left, 3) ||
                                       ImGui::IsMouseDragging(ImGuiMouseButton_Right, 3));
    if (ImGui::IsItemActive() && panning)
        scene::pan(camera, double(io.MouseDelta.x), double(io.MouseDelta.y), double(size.y));
    else if (ImGui::IsItemActive() && orbiting)
        scene::orbit(camera, double(io.MouseDelta.x), double(io.MouseDelta.y));
    if (ImGui::IsItemHovered() && io.MouseWheel != 0) {
        std::optional<Eigen::Vector3d> about;
        if (const auto hit = cache.cells->first_hit(
                projection.ray(double(io.MousePos.x - origin.x), double(io.MousePos.y - origin.y))))
            about = to_room * hit->place.position;
        scene::zoom(camera, std::pow(0.88, double(io.MouseWheel)), about);
    }
    if (first)
        scene::pan(camera, session.view().shift_right, -session.view().shift_up, 1);
    if (first && session.view().nearer != 1) {
        std::optional<Eigen::Vector3d> about;
        if (session.view().pass >= 0)
            about =
                to_room * part::at(middle_of_pass(session.part(), *session.mesh(), session.view().pass), cache.place);
        scene::zoom(camera, 1 / session.view().nearer, about);
    }
    if (camera != before)
        out.push_back(act::SetCamera{camera});
}

// Passes are to be clicked like controls: a place on each where no tack lies on it.
void note_passes(Ui& ui, const part::Part& part, const Cache& cache, const scene::Projection& projection,
                 ImVec2 origin) {
    for (Index p = 0; p < part.passes.size(); ++p) {
        const double share = part.passes[p].kind == part::PassKind::run ? 0.3 : 0.5;
        const auto seen = projection.to_screen(scene::along_line(cache.passes.line[p], share));
        const ImVec2 at{origin.x + static_cast<float>(seen.x_px), origin.y + static_cast<float>(seen.y_px)};
        ui.placed.push_back({"pass " + part.passes[p].name, at, at, true, seen.depth_m > 0 && !cache.hidden[p]});
    }
}

} // namespace

PartViewEvents draw_part_view(Ui& ui, const Session& session, PartViewState& state, const PartViewWish& wish,
                              ImVec2 size, Actions& out) {
    PartViewEvents events;
    const ImVec2 rest = ImGui::GetContentRegionAvail();
    if (size.x <= 0)
        size.x = rest.x;
    if (size.y <= 0)
        size.y = rest.y;
    size = {std::floor(std::max(size.x, 32.0f)), std::floor(std::max(size.y, 32.0f))};
    if (!state.cache)
        state.cache = std::make_shared<Cache>();
    Cache& cache = *state.cache;

    const scene::Moment moment = wish.outcome ? scene::moment_at(*wish.outcome, wish.time_s) : scene::Moment{};
    cache.update(ui, session, state, wish, moment);

    // The picture, beside what stands over it.
    const ImVec2 corner = ImGui::GetCursorScreenPos(), origin{std::floor(corner.x), std::floor(corner.y)};
    const Surround surround =
        lay_surround(ui, wish, cache.scale, cache.shape_key.outcome ? wish.exaggeration : 0, origin, size);
    scene::Camera camera = session.view().camera;
    if (session.view().fitted)
        scene::fit(camera, session.room_box(), frame_beside(ui, surround));
    const scene::Projection projection(camera, scene::standing(session.part().poses[Index(session.shown_pose())].up),
                                       double(size.x), double(size.y));
    if (!ui.part_seen)
        ui.part_seen = {projection, origin};
    ImGui::BeginGroup(); // with the buttons over it one thing, which others can be put beside
    ImGui::PushID(wish.slot);
    ImGui::InvisibleButton("part", size,
                           ImGuiButtonFlags_MouseButtonLeft | ImGuiButtonFlags_MouseButtonRight |
                               ImGuiButtonFlags_MouseButtonMiddle);
    ImGui::SetItemAllowOverlap();
    ImGui::PopID();
    note(ui, "part view");
    pass_by(ui);
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    const ImVec2 end{origin.x + size.x, origin.y + size.y};
    if (ui.painter) {
        const bool moving = session.playing() || ImGui::IsItemActive();
        const gl::Quality quality = moving ? gl::Quality::moving : gl::Quality::still;
        const PictureContent content{
            &cache.surface,     wish.outcome && wish.field != Field::none ? &cache.values : nullptr,
            &cache.lines,       &cache.scale.rgb,
            cache.shape_number, cache.values_number,
            cache.lines_number, cache.scale_number};
        ui.painter->paint(draw, wish.slot, content, projection, look_of(ui, session, cache, wish), quality, origin,
                          end);
    } else
        draw.AddRectFilled(origin, end, ui.theme.ground);

    // What lies under the pointer.
    const bool hovered = ImGui::IsItemHovered();
    const ImGuiIO& io = ImGui::GetIO();
    const double x = double(io.MousePos.x - origin.x), y = double(io.MousePos.y - origin.y);
    state.hovered_pass = -1;
    state.hovered_place.reset();
    state.hovered_k.reset();
    if (hovered && !ImGui::IsMouseDragging(ImGuiMouseButton_Left, 3)) {
        if (const auto hit = cache.cells->first_hit(projection.ray(x, y))) {
            state.hovered_place = hit->place;
            if (wish.outcome && wish.field != Field::none)
                state.hovered_k = scene::value_at(hit->place, cache.values);
        }
        if (wish.passes)
            if (const auto pass = scene::pick_pass(cache.passes, projection, *cache.cells, x, y, double(ui.px(9))))
                state.hovered_pass = *pass;
        if (ImGui::IsMouseReleased(ImGuiMouseButton_Left)) {
            // A pass goes before a gauge that is drawn over it.
            if (wish.gauges && state.hovered_pass < 0 && state.hovered_gauge >= 0)
                events.clicked_gauge = state.hovered_gauge == session.view().gauge ? -1 : state.hovered_gauge;
            events.clicked_pass = state.hovered_pass;
            events.clicked_place = state.hovered_place;
        }
    }
    move_camera(session, out, cache, projection, camera, origin, size, wish.slot == 0);

    // What is written over it.
    draw.PushClipRect(origin, end, true);
    cache.look_from(projection, session.part(), wish.gauges);
    if (wish.passes && !wish.laid_only)
        note_passes(ui, session.part(), cache, projection, origin);
    const Overlay overlay{ui, session, wish, moment, projection, origin, size, draw};
    draw_axes(ui, draw, surround, projection);
    if (wish.legend && surround.legend)
        draw_legend(ui, draw, *surround.legend, cache.scale);
    // Labels of gauges keep off the numbers, which are placed first; their lines pass below them.
    draw.ChannelsSplit(2);
    draw.ChannelsSetCurrent(1);
    Boxes taken = surround.boxes();
    if (wish.passes && wish.numbers && session.view().numbers)
        taken = draw_pass_numbers(overlay, cache.passes, cache.hidden, state.hovered_pass, std::move(taken));
    draw.ChannelsSetCurrent(0);
    if (session.view().probe && wish.outcome)
        draw_probe(overlay, part::at(*session.view().probe, cache.place));
    if (wish.gauges) {
        const int strong = wish.strong_gauge >= 0   ? wish.strong_gauge
                           : state.hovered_pass < 0 ? state.hovered_gauge
                                                    : -1;
        state.hovered_gauge =
            draw_gauges(overlay, cache.gauge_points, cache.gauges_behind, cache.place, strong, io.MousePos, taken);
        if (!hovered)
            state.hovered_gauge = -1;
    }
    draw.ChannelsMerge();
    if (wish.torch && cache.torch)
        draw_torch(overlay, cache.torch->at,
                   scene::covered(cache.torch->at, cache.torch->to_face, projection, *cache.cells));
    draw.PopClipRect();
    draw_caption(ui, draw, surround);
    draw_view_buttons(ui, session, wish, surround, out);
    if (hovered)
        draw_hover_tip(overlay, state);
    ImGui::EndGroup();
    return events;
}

} // namespace holdtrue::app
