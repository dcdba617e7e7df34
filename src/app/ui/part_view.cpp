#include "app/ui/part_view.h"

#include "app/ui/overlay.h"
#include "app/ui/scales.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::app {

namespace {

using Index = std::size_t;

Eigen::Vector3f rgb(Colour colour) {
    return {static_cast<float>(colour & 0xff) / 255.0f, static_cast<float>(colour >> 8 & 0xff) / 255.0f,
            static_cast<float>(colour >> 16 & 0xff) / 255.0f};
}

// Shares of a move are rounded, so that a shape between two moves is not rebuilt for every frame.
constexpr double shape_steps = 24;

struct ShapeKey {
    const void* mesh = nullptr;
    const void* outcome = nullptr;
    int move = -1;
    int share = -1;
    double exaggeration = 0;
    bool operator==(const ShapeKey&) const = default;
};
struct ValuesKey {
    const void* outcome = nullptr;
    Field field = Field::none;
    double time_s = -1;
    bool operator==(const ValuesKey&) const = default;
};
struct LinesKey {
    int shape = 0, revision = -1, chosen = -1, hovered = -1, laid = -1;
    Colour bead = 0;
    bool passes = false;
    bool operator==(const LinesKey&) const = default;
};

} // namespace

struct PartViewState::Cache {
    // Keys below compare addresses: what they point to is kept, so that no other thing can come to lie there.
    std::shared_ptr<const weld::Outcome> held;
    std::shared_ptr<const part::Mesh> held_mesh;

    ShapeKey shape_key;
    int shape_number = 0;
    scene::Surface surface;
    std::unique_ptr<scene::CellFinder> cells;
    std::vector<part::Point> place;

    ValuesKey values_key;
    int values_number = 0;
    std::vector<float> values;

    LinesKey lines_key;
    int lines_number = 0;
    std::vector<scene::Segment> lines;

    Field scale_field = Field::none;
    const void* scale_of = nullptr;
    ShownScale scale;
    int scale_number = 0;

    const void* anchored_mesh = nullptr;
    scene::Anchors pass_anchors, gauge_anchors;
    scene::PassLines passes; // where each pass is drawn
    Eigen::Matrix4f seen_from = Eigen::Matrix4f::Zero();
    int seen_shape = -1;
    std::vector<bool> hidden; // pass_count
};

namespace {

using Cache = PartViewState::Cache;

void update_shape(Cache& cache, const part::Mesh& mesh, const part::Part& part, const PartViewWish& wish,
                  const scene::Moment& moment) {
    ShapeKey key{&mesh, nullptr, -1, -1, 1};
    if (wish.outcome && wish.deformed)
        key = {&mesh, wish.outcome.get(), moment.move, static_cast<int>(moment.move_share * shape_steps), wish.exaggeration};
    if (key == cache.shape_key && cache.shape_number > 0)
        return;
    cache.shape_key = key;
    ++cache.shape_number;
    std::vector<Eigen::Vector3f> shape;
    if (key.outcome) {
        scene::Moment rounded = moment;
        rounded.move_share = key.share / shape_steps;
        shape = scene::displacement_m(*wish.outcome, rounded);
    }
    cache.surface = scene::build_surface(mesh, shape, wish.exaggeration);
    cache.place = scene::displaced(mesh, shape, wish.exaggeration);
    cache.cells = std::make_unique<scene::CellFinder>(mesh, cache.place);
    if (cache.anchored_mesh != &mesh) {
        cache.anchored_mesh = &mesh;
        cache.pass_anchors = scene::anchor_passes(part, mesh);
        cache.gauge_anchors = scene::anchor_gauges(part, mesh);
    }
    cache.passes = scene::lay_passes(part, mesh, cache.pass_anchors, cache.place);
}

void update_values(Cache& cache, const PartViewWish& wish, const scene::Moment& moment) {
    if (!wish.outcome || wish.field == Field::none)
        return;
    const bool peak = wish.field == Field::peak || wish.field == Field::temper_colours;
    const ValuesKey key{wish.outcome.get(), wish.field, peak ? 0 : wish.time_s};
    if (key == cache.values_key)
        return;
    cache.values_key = key;
    ++cache.values_number;
    cache.values = peak ? wish.outcome->peak_k : scene::temperature_k(*wish.outcome, moment);
}

void update_lines(const Ui& ui, const Session& session, Cache& cache, const PartViewState& state,
                  const PartViewWish& wish, const scene::Moment& moment) {
    const LinesKey key{cache.shape_number, session.revision(),
                       session.view().pass, state.hovered_pass,
                       wish.laid_only ? moment.move * 64 + static_cast<int>(moment.move_share * 60) : -1,
                       ui.theme.bead, wish.passes};
    if (key == cache.lines_key)
        return;
    cache.lines_key = key;
    ++cache.lines_number;
    cache.lines.clear();
    scene::add_outline(cache.lines, cache.surface.outline, faded(ui.theme.outline, 0.75), ui.px(1.1f));
    if (!wish.passes)
        return;
    const part::Part& part = session.part();
    const weld::Plan& plan = wish.outcome ? wish.outcome->plan : session.plan();
    for (Index p = 0; p < part.passes.size(); ++p) {
        const int index = static_cast<int>(p);
        // The pass under the pointer, and fainter the rest of its joint.
        const bool of_joint = state.hovered_pass >= 0 &&
                              part.passes[p].joint == part.passes[Index(state.hovered_pass)].joint;
        const bool strong = index == session.view().pass || index == state.hovered_pass;
        const std::vector<part::Point>& line = cache.passes.line[p];
        double share = 1;
        bool in_plan = move_of_pass(plan, index) >= 0, reversed = false;
        if (wish.laid_only) {
            const int move = move_of_pass(plan, index);
            in_plan = move >= 0 && move <= moment.move;
            if (in_plan && move == moment.move) {
                const weld::MoveOutcome& found = wish.outcome->moves[Index(move)];
                const double arc_s = found.end_s - found.start_s;
                share = arc_s > 0 ? moment.move_share : 1;
                reversed = std::get<weld::WeldPass>(plan.moves[Index(move)].what).reversed;
            }
        }
        const Colour colour = strong ? ui.theme.caution : in_plan ? ui.theme.bead : ui.theme.chalk;
        // Tacks are short and lie on the runs: they are drawn wider, or nobody would find them.
        const float width = ui.px((strong ? 7.0f : in_plan ? 5.0f : 3.0f) + (of_joint ? 2 : 0) +
                                  (part.passes[p].kind == part::PassKind::tack ? 3 : 0));
        constexpr float lift = 0.006f, above = 0.0066f;
        scene::add_polyline(cache.lines, line, ui.theme.chalk_edge, width + ui.px(2), lift);
        if (share >= 1 || !in_plan)
            scene::add_polyline(cache.lines, line, colour, width, above);
        else
            scene::add_polyline(cache.lines, scene::first_part(line, share, reversed), colour, width, above);
    }
}

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

void move_camera(const Session& session, Actions& out, const Cache& cache, const scene::Projection& projection,
                 scene::Camera camera, ImVec2 origin, ImVec2 size) {
    const ImGuiIO& io = ImGui::GetIO();
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
            about = scene::standing(session.part().poses[Index(session.shown_pose())].up) * hit->place.position;
        scene::zoom(camera, std::pow(0.88, double(io.MouseWheel)), about);
    }
    if (camera != before)
        out.push_back(act::SetCamera{camera});
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

    // What is to be seen.
    const std::shared_ptr<const part::Mesh> shown_mesh = wish.outcome ? wish.outcome->mesh : session.mesh();
    const part::Mesh& mesh = *shown_mesh;
    const scene::Moment moment = wish.outcome ? scene::moment_at(*wish.outcome, wish.time_s) : scene::Moment{};
    update_shape(cache, mesh, session.part(), wish, moment);
    update_values(cache, wish, moment);
    update_lines(ui, session, cache, state, wish, moment);
    if (cache.scale_field != wish.field || cache.scale_of != wish.outcome.get()) {
        cache.scale_field = wish.field;
        cache.scale_of = wish.outcome.get();
        cache.scale = scale_for(wish.outcome.get(), wish.field);
        ++cache.scale_number;
    }

    cache.held = wish.outcome;
    cache.held_mesh = shown_mesh;

    // The picture.
    scene::Camera camera = session.view().camera;
    if (session.view().fitted)
        scene::fit(camera, session.room_box(), double(size.x) / double(size.y));
    const scene::Projection projection(camera, scene::standing(session.part().poses[Index(session.shown_pose())].up), double(size.x),
                                       double(size.y));
    const ImVec2 corner = ImGui::GetCursorScreenPos(), origin{std::floor(corner.x), std::floor(corner.y)};
    ImGui::PushID(wish.slot);
    ImGui::InvisibleButton("part", size,
                           ImGuiButtonFlags_MouseButtonLeft | ImGuiButtonFlags_MouseButtonRight |
                               ImGuiButtonFlags_MouseButtonMiddle);
    ImGui::SetItemAllowOverlap();
    ImGui::PopID();
    note(ui, "part view");
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    const ImVec2 end{origin.x + size.x, origin.y + size.y};
    if (ui.painter) {
        const bool moving = session.playing() || ImGui::IsItemActive();
        const gl::Quality quality = moving ? gl::Quality::moving : gl::Quality::still;
        const PictureContent content{&cache.surface,      wish.outcome && wish.field != Field::none ? &cache.values : nullptr,
                                     &cache.lines,        &cache.scale.rgb,
                                     cache.shape_number,  cache.values_number,
                                     cache.lines_number,  cache.scale_number};
        ui.painter->paint(draw, wish.slot, content, projection, look_of(ui, session, cache, wish), quality, origin, end);
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
                state.hovered_pass = pass->pass;
        if (ImGui::IsMouseReleased(ImGuiMouseButton_Left)) {
            // A pass goes before a gauge that is drawn over it.
            if (wish.gauges && state.hovered_pass < 0 && state.hovered_gauge >= 0)
                events.clicked_gauge = state.hovered_gauge == session.view().gauge ? -1 : state.hovered_gauge;
            events.clicked_pass = state.hovered_pass;
            events.clicked_place = state.hovered_place;
        }
    }
    move_camera(session, out, cache, projection, camera, origin, size);

    // What is written over it.
    draw.PushClipRect(origin, end, true);
    if (cache.seen_from != projection.view_from_part || cache.seen_shape != cache.shape_number) {
        cache.seen_from = projection.view_from_part;
        cache.seen_shape = cache.shape_number;
        cache.hidden = scene::hidden_passes(cache.passes, projection, *cache.cells);
    }
    const Overlay overlay{ui, session, wish, moment, projection, origin, size, draw};
    if (wish.passes && wish.numbers && session.view().numbers)
        draw_pass_numbers(overlay, cache.passes, cache.hidden, state.hovered_pass);
    if (wish.gauges) {
        const int strong = wish.strong_gauge >= 0 ? wish.strong_gauge : state.hovered_pass < 0 ? state.hovered_gauge : -1;
        state.hovered_gauge = draw_gauges(overlay, cache.gauge_anchors, mesh, cache.place, strong, io.MousePos);
        if (!hovered)
            state.hovered_gauge = -1;
    }
    if (wish.torch && moment.arc_on)
        draw_torch(overlay);
    if (session.view().probe && wish.outcome)
        draw_probe(overlay, part::at(*session.view().probe, cache.place));
    draw_axes(overlay);
    if (wish.outcome && wish.field != Field::none)
        draw_legend(overlay, cache.scale);
    draw_caption(overlay, cache.shape_key.outcome ? wish.exaggeration : 0);
    draw.PopClipRect();
    draw_view_buttons(overlay, out);
    if (hovered)
        draw_hover_tip(overlay, state);
    return events;
}

} // namespace holdtrue::app
