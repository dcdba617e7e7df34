#include "app/ui/picture_cache.h"

#include <algorithm>
#include <span>

namespace holdtrue::app {

namespace {

using Index = std::size_t;

// Shares of a move are rounded, so that a shape between two moves is not rebuilt for every frame.
constexpr double shape_steps = 24;

// Of the part's size: where a part fills a window, that is a third of a pixel.
constexpr double unseen_share = 0.0004;

bool all_within(double distance, std::span<const Eigen::Vector3f> a, std::span<const Eigen::Vector3f> b) {
    const auto square = static_cast<float>(distance * distance);
    return std::ranges::equal(a, b, [&](const auto& p, const auto& q) { return (p - q).squaredNorm() <= square; });
}

} // namespace

void PartViewState::Cache::update(const Ui& ui, const Session& session, const PartViewState& state,
                                  const PartViewWish& wish, const scene::Moment& moment) {
    const std::shared_ptr<const part::Mesh> mesh = wish.outcome ? wish.outcome->mesh : session.mesh();
    update_shape(*mesh, session.part(), wish, moment, session.playing());
    update_values(wish, moment);
    torch = wish.outcome ? scene::torch_place(pass_anchors, passes, *wish.outcome, moment) : std::nullopt;
    update_lines(ui, session, state, wish, moment);
    if (scale_field != wish.field || scale_of != wish.outcome.get()) {
        scale_field = wish.field;
        scale_of = wish.outcome.get();
        scale = scale_for(wish.outcome.get(), wish.field);
        ++scale_number;
    }
    held = wish.outcome;
    held_mesh = mesh;
}

void PartViewState::Cache::look_from(const scene::Projection& projection, const part::Part& part, bool gauges) {
    if (seen_from != projection.view_from_part || seen_shape != shape_number) {
        seen_from = projection.view_from_part;
        seen_shape = shape_number;
        hidden = scene::hidden_passes(passes, projection, *cells);
        gauges_behind.clear();
    }
    if (gauges && gauges_behind.empty())
        gauges_behind = scene::gauges_behind(part, gauge_points, projection, *cells);
}

void PartViewState::Cache::update_shape(const part::Mesh& mesh, const part::Part& part, const PartViewWish& wish,
                                        const scene::Moment& moment, bool moving) {
    ShapeKey key{&mesh, nullptr, -1, -1, 1};
    if (wish.outcome && wish.deformed)
        key = {&mesh, wish.outcome.get(), moment.move, static_cast<int>(moment.move_share * shape_steps),
               wish.exaggeration};
    if (key == shape_key && shape_number > 0)
        return;
    std::vector<Eigen::Vector3f> wanted;
    if (key.outcome) {
        scene::Moment rounded = moment;
        rounded.move_share = key.share / shape_steps;
        wanted = scene::displacement_m(*wish.outcome, rounded);
        const bool same_but_moment = key.mesh == shape_key.mesh && key.outcome == shape_key.outcome &&
                                     key.exaggeration == shape_key.exaggeration;
        if (moving && same_but_moment && all_within(unseen_share * size_m / wish.exaggeration, wanted, shape))
            return;
    }
    if (key.mesh != shape_key.mesh) {
        const scene::Box box = scene::bounds(mesh);
        size_m = (box.high - box.low).norm();
    }
    shape_key = key;
    ++shape_number;
    shape = std::move(wanted);
    surface = scene::build_surface(mesh, shape, wish.exaggeration);
    place = scene::displaced(mesh, shape, wish.exaggeration);
    cells = std::make_unique<scene::CellFinder>(mesh, place);
    if (anchored_mesh != &mesh) {
        anchored_mesh = &mesh;
        pass_anchors = scene::anchor_passes(part, mesh);
        gauge_anchors = scene::anchor_gauges(part, mesh);
    }
    passes = scene::lay_passes(part, mesh, pass_anchors, place);
    gauge_points.clear();
    for (const auto& anchors : gauge_anchors) {
        auto& points = gauge_points.emplace_back();
        for (const scene::Anchor& anchor : anchors)
            points.push_back(scene::ride(anchor, mesh, place));
    }
}

void PartViewState::Cache::update_values(const PartViewWish& wish, const scene::Moment& moment) {
    if (!wish.outcome || wish.field == Field::none)
        return;
    const bool peak = wish.field == Field::peak || wish.field == Field::temper_colours;
    const ValuesKey key{wish.outcome.get(), wish.field, peak ? 0 : wish.time_s};
    if (key == values_key)
        return;
    values_key = key;
    ++values_number;
    values = peak ? wish.outcome->peak_k : scene::temperature_k(*wish.outcome, moment);
}

void PartViewState::Cache::update_lines(const Ui& ui, const Session& session, const PartViewState& state,
                                        const PartViewWish& wish, const scene::Moment& moment) {
    const double laid = torch ? torch->share : 0; // of the pass that is welded at that moment
    const LinesKey key{shape_number,
                       session.revision(),
                       session.view().pass,
                       state.hovered_pass,
                       wish.laid_only ? moment.move * 64 + static_cast<int>(laid * 60) : -1,
                       ui.theme.bead,
                       wish.passes};
    if (key == lines_key)
        return;
    lines_key = key;
    ++lines_number;
    lines.clear();
    for (const std::vector<Eigen::Vector3d>& line : surface.outline)
        scene::add_polyline(lines, line, faded(ui.theme.outline, 0.75), ui.px(1.1f), 0.0008f);
    if (!wish.passes)
        return;
    const part::Part& part = session.part();
    const weld::Plan& plan = wish.outcome ? wish.outcome->plan : session.plan();
    for (Index p = 0; p < part.passes.size(); ++p) {
        const int index = static_cast<int>(p);
        // The pass under the pointer, and fainter the rest of its joint.
        const bool of_joint =
            state.hovered_pass >= 0 && part.passes[p].joint == part.passes[Index(state.hovered_pass)].joint;
        const bool strong = index == session.view().pass || index == state.hovered_pass;
        std::vector<part::Point> line = passes.line[p];
        double share = 1;
        bool in_plan = move_of_pass(plan, index) >= 0, reversed = false;
        if (wish.laid_only) {
            const int move = move_of_pass(plan, index);
            in_plan = move >= 0 && move <= moment.move;
            if (in_plan && move == moment.move) {
                share = laid;
                reversed = std::get<weld::WeldPass>(plan.moves[Index(move)].what).reversed;
            }
        }
        const Colour colour = strong ? ui.theme.caution : in_plan ? ui.theme.bead : ui.theme.chalk;
        // Tacks are short and lie on the runs: they are drawn wider, or nobody would find them.
        const float width = ui.px((strong    ? 7.0f
                                   : in_plan ? 5.0f
                                             : 3.0f) +
                                  (of_joint ? 2 : 0) + (part.passes[p].kind == part::PassKind::tack ? 3 : 0));
        // What lies on a face needs less to stay out of the sheet, and must not come through a thin one.
        const bool on_face = !passes.to_face[p].back().isZero();
        for (Index k = 0; k < line.size(); ++k)
            line[k] += passes.to_face[p][k];
        const float lift = on_face ? 0.0015f : 0.006f, above = lift * 1.1f;
        scene::add_polyline(lines, line, ui.theme.chalk_edge, width + ui.px(2), lift);
        if (share >= 1 || !in_plan)
            scene::add_polyline(lines, line, colour, width, above);
        else
            scene::add_polyline(lines, scene::first_part(line, share, reversed), colour, width, above);
    }
}

} // namespace holdtrue::app
