// What a view of the part draws, kept from frame to frame: each piece is made anew only when what it is made from has
// changed, and carries a number by which the painter knows whether to take it over again.
#pragma once

#include "app/scene/behind.h"
#include "app/ui/part_view.h"
#include "app/ui/scales.h"

namespace holdtrue::app {

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

struct PartViewState::Cache {
    // Keys below compare addresses: what they point to is kept, so that no other thing can come to lie there.
    std::shared_ptr<const weld::Outcome> held;
    std::shared_ptr<const part::Mesh> held_mesh;

    ShapeKey shape_key;
    int shape_number = 0;
    double size_m = 0;                  // of the part
    std::vector<Eigen::Vector3f> shape; // displacement that is shown, node_count; empty: the part as drawn
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
    std::vector<std::vector<part::Point>> gauge_points; // gauge_count: where their points are drawn
    scene::PassLines passes;                            // where each pass is drawn
    std::optional<scene::TorchPlace> torch;             // while the arc burns
    Eigen::Matrix4f seen_from = Eigen::Matrix4f::Zero();
    int seen_shape = -1;
    std::vector<bool> hidden;                      // pass_count
    std::vector<scene::GaugeBehind> gauges_behind; // gauge_count; empty while no gauges are drawn

    // Shape, values, scale and lines as `wish` wants them at `moment`.
    void update(const Ui& ui, const Session& session, const PartViewState& state, const PartViewWish& wish,
                const scene::Moment& moment);
    // Which passes metal hides, seen from there, and what of the gauges if they are drawn.
    void look_from(const scene::Projection& projection, const part::Part& part, bool gauges);

private:
    // `moving`: what would move by less than a person sees stays.
    void update_shape(const part::Mesh& mesh, const part::Part& part, const PartViewWish& wish,
                      const scene::Moment& moment, bool moving);
    void update_values(const PartViewWish& wish, const scene::Moment& moment);
    void update_lines(const Ui& ui, const Session& session, const PartViewState& state, const PartViewWish& wish,
                      const scene::Moment& moment);
};

} // namespace holdtrue::app
